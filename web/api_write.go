package web

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"slices"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
)

// An apiNote is what is to be written: a quick note, or entries as the book
// holds them. Ids are made by the sender, so that sending twice writes once.
type apiNote struct {
	Note    string       `json:"note"`    // one entry a line, as book.Read takes it
	Who     string       `json:"who"`     // taken when the note names nobody
	Day     day.Day      `json:"day"`     // the day the note was written, which its "today" means; absent: today
	IDs     []uuid.UUID  `json:"ids"`     // of the note's entries in order, version 7
	Sure    bool         `json:"sure"`    // write lines in doubt as they are understood
	Entries []book.Entry `json:"entries"` // instead of a note, with their ids
}

// An apiWritten is what stands in the book now.
type apiWritten struct {
	Entries   []book.Entry `json:"entries"`
	Sentences []string     `json:"sentences"` // each entry in words
	Cautions  [][]string   `json:"cautions"`  // of each entry, those that its page shows, with their sources
}

// An apiLine is a line of a note that can't be written as it is.
type apiLine struct {
	Line     int        `json:"line"`
	Text     string     `json:"text"`
	Sentence string     `json:"sentence"` // as far as it was understood
	Error    string     `json:"error"`
	Doubts   []apiDoubt `json:"doubts"`
	Cautions []string   `json:"cautions"` // of what was understood
}

// An apiDoubt is a question about a line.
type apiDoubt struct {
	Field    string   `json:"field"`
	Question string   `json:"question"`
	Choices  []string `json:"choices"`
}

func (s *site) apiAdd(w http.ResponseWriter, r *http.Request) {
	var n apiNote
	if !apiRead(w, r, &n) {
		return
	}
	snap := s.apiNow(w, r)
	if snap == nil {
		return
	}
	entries, status, fault := n.entries(snap)
	if fault.Error != "" {
		sendJSON(w, status, fault)
		return
	}
	s.apiWrite(w, r, snap, entries)
}

// entries are what a note asks to be written; else what is wrong with it.
func (n *apiNote) entries(snap *Snapshot) ([]book.Entry, int, apiError) {
	bad := func(format string, args ...any) ([]book.Entry, int, apiError) {
		return nil, http.StatusUnprocessableEntity, apiError{Error: fmt.Sprintf(format, args...)}
	}
	switch {
	case (n.Note == "") == (len(n.Entries) == 0):
		return bad("give a note or entries, one of the two")
	case len(n.Entries) > 0:
		return n.checked(snap)
	}
	if kept := n.kept(snap); kept != nil {
		return kept, 0, apiError{}
	}
	c := snap.Context
	if n.Who != "" {
		c.Who = n.Who
	}
	if n.Day > c.Today {
		return bad("the note's day, %s, is in the future: today is %s", n.Day, c.Today)
	}
	if n.Day != 0 {
		c.Today = n.Day
	}
	readings := book.Read(n.Note, c)
	var fault apiError
	for _, rd := range readings {
		if rd.Err != nil || len(rd.Doubts) > 0 && !n.Sure {
			fault.Lines = append(fault.Lines, lineOf(rd))
		}
	}
	if len(fault.Lines) > 0 {
		fault.Error = "nothing was written: some lines can't be, as they are; sure = true takes those in doubt as they are understood"
		return nil, http.StatusUnprocessableEntity, fault
	}
	if len(n.IDs) != len(readings) {
		return bad("the note has %d entries and %d ids came with it: make a version 7 id for each, so that sending twice writes once", len(readings), len(n.IDs))
	}
	var out []book.Entry
	for i, rd := range readings {
		rd.Entry.ID = n.IDs[i]
		out = append(out, rd.Entry)
	}
	return n.sound(out)
}

// kept are the entries of a note that came before, when all its ids are in the
// book: what it said then stands, however its words would be read today.
func (n *apiNote) kept(snap *Snapshot) (list []book.Entry) {
	for _, id := range n.IDs {
		e, there := entryOf(snap.All, id)
		if !there {
			return nil
		}
		list = append(list, e)
	}
	return list
}

// orEmpty is a list that JSON shows as one, though it has nothing in it.
func orEmpty(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

func lineOf(rd book.Reading) apiLine {
	l := apiLine{Line: rd.Line, Text: rd.Text, Sentence: rd.Sentence, Doubts: []apiDoubt{}, Cautions: orEmpty(rd.Cautions)}
	if rd.Err != nil {
		l.Error = rd.Err.Error()
	}
	for _, d := range rd.Doubts {
		l.Doubts = append(l.Doubts, apiDoubt{d.Field, d.Question, d.Choices})
	}
	return l
}

// checked are entries as they came, true of this stead or already in the book.
func (n *apiNote) checked(snap *Snapshot) ([]book.Entry, int, apiError) {
	for _, e := range n.Entries {
		if _, there := entryOf(snap.All, e.ID); there {
			continue
		}
		if err := book.Check(e, snap.Context); err != nil {
			return nil, http.StatusUnprocessableEntity, apiError{Error: fmt.Sprintf("entry %s: %v", e.ID, err)}
		}
	}
	return n.sound(n.Entries)
}

// sound refuses ill-formed entries, two under one id, and moments of receipt,
// which the store sets.
func (n *apiNote) sound(list []book.Entry) ([]book.Entry, int, apiError) {
	seen := map[uuid.UUID]bool{}
	for _, e := range list {
		err := e.Valid()
		switch {
		case err != nil:
		case seen[e.ID]:
			err = errors.New("its id came twice")
		case !e.Received.IsZero():
			err = errors.New("leave out received: the book sets it")
		}
		if err != nil {
			return nil, http.StatusUnprocessableEntity, apiError{Error: fmt.Sprintf("entry %s: %v", e.ID, err)}
		}
		seen[e.ID] = true
	}
	return list, 0, apiError{}
}

func entryOf(all []book.Entry, id uuid.UUID) (book.Entry, bool) {
	i := slices.IndexFunc(all, func(e book.Entry) bool { return e.ID == id })
	if i < 0 {
		return book.Entry{}, false
	}
	return all[i], true
}

// apiWrite writes entries: 201 when any is new, 200 when all were there.
func (s *site) apiWrite(w http.ResponseWriter, r *http.Request, snap *Snapshot, list []book.Entry) {
	status := http.StatusOK
	for _, e := range list {
		if _, there := entryOf(snap.All, e.ID); !there {
			status = http.StatusCreated
		}
	}
	// Written before who asked has gone away is written.
	ctx := context.WithoutCancel(r.Context())
	err := s.desk.Home().Store().Add(ctx, list)
	switch {
	case errors.Is(err, book.ErrConflict):
		apiFail(w, http.StatusConflict, err)
		return
	case err != nil:
		apiFail(w, http.StatusInternalServerError, err)
		return
	}
	s.desk.Changed()
	all, err := s.desk.Home().All(ctx)
	if err != nil {
		apiFail(w, http.StatusInternalServerError, err)
		return
	}
	out := apiWritten{Entries: []book.Entry{}, Sentences: []string{}, Cautions: [][]string{}}
	for _, e := range list {
		kept, _ := entryOf(all, e.ID)
		out.Entries = append(out.Entries, kept)
		out.Sentences = append(out.Sentences, kept.Sentence(s.opt.Units))
		out.Cautions = append(out.Cautions, orEmpty(snap.Context.Cautions(kept)))
	}
	sendJSON(w, status, out)
}

// An apiStrikeOut takes an entry out of the book.
type apiStrikeOut struct {
	ID     uuid.UUID `json:"id"`     // of the strike, version 7, made by the sender
	Reason string    `json:"reason"` // kept with it
}

func (s *site) apiStrike(w http.ResponseWriter, r *http.Request) {
	var in apiStrikeOut
	if !apiRead(w, r, &in) {
		return
	}
	snap := s.apiNow(w, r)
	if snap == nil {
		return
	}
	id, err := uuid.Parse(r.PathValue("id"))
	old, there := entryOf(snap.All, id)
	if err != nil || !there {
		apiFail(w, http.StatusNotFound, fmt.Errorf("no entry has the id %s: %w", r.PathValue("id"), fs.ErrNotExist))
		return
	}
	strike := book.Entry{ID: in.ID, Day: old.Day, Kind: book.Struck, Strikes: id, Note: in.Reason}
	if err := strike.Valid(); err != nil {
		apiFail(w, http.StatusUnprocessableEntity, err)
		return
	}
	if _, sent := entryOf(snap.All, in.ID); !sent && !stands(snap, old) {
		apiFail(w, http.StatusConflict, fmt.Errorf("entry %s of %s %w", hearth.Short(id), old.Day, hearth.ErrStruck))
		return
	}
	s.apiWrite(w, r, snap, []book.Entry{strike})
}

// stands tells whether an entry counts; a strike may always be struck.
func stands(snap *Snapshot, e book.Entry) bool {
	_, ok := entryOf(snap.Entries, e.ID)
	return ok || e.Kind == book.Struck
}
