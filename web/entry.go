package web

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"
	"strings"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/hearth"
)

// entryPage shows one entry, with what can be done about it.
type entryPage struct {
	frame
	Lead, Rest string
	ID, Short  string
	Typed      string // the note that would stand in its place
	Why        string
	Error      string // why it was not struck
	Line       *readLine
	Stands     bool
	Back       string // id of the strike that can be taken back; empty for none
	Received   string
	Photos     []string // ways to them
	People     []choice
}

// entryOf finds the entry an address names; it answers itself when there is none.
func (s *site) entryOf(w http.ResponseWriter, r *http.Request, snap *Snapshot) *book.Entry {
	id, err := uuid.Parse(r.PathValue("id"))
	if err == nil {
		for i := range snap.All {
			if snap.All[i].ID == id && snap.All[i].Kind != book.Struck {
				return &snap.All[i]
			}
		}
	}
	s.sayMissing(w, http.StatusNotFound)
	return nil
}

func (s *site) entry(w http.ResponseWriter, r *http.Request) {
	s.withDesk(w, r, func(snap *Snapshot) {
		e := s.entryOf(w, r, snap)
		if e == nil {
			return
		}
		page := entryPage{frame: s.deskFrame(snap, "book"), ID: e.ID.String(), Short: hearth.Short(e.ID), Stands: snap.stands(e)}
		page.Title = s.words.say("entry.title", page.Short)
		page.Lead, page.Rest = upperFirst(e.Sentence(snap.Units))+".", s.entryState(snap, e)
		if by := snap.book.Striker(e.ID); by != nil && !page.Stands && by.Kind == book.Struck {
			page.Back = by.ID.String()
		}
		if !e.Received.IsZero() {
			page.Received = s.words.say("entry.received", e.Received.Local().Format("2006-01-02 15:04"))
			page.Received += " " + s.words.say("entry.made", book.MadeAt(e.ID).Local().Format("2006-01-02 15:04"))
		}
		sums, err := s.desk.home.Photos(r.Context(), e.ID)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		for _, sum := range sums {
			page.Photos = append(page.Photos, fmt.Sprintf("/photo/%x", sum))
		}
		page.People = s.household(snap, e.Who)
		if page.Typed = s.words.asTyped(noteOf(e, snap)); page.Stands {
			s.entryDraft(r, snap, e, &page)
		}
		s.render(w, http.StatusOK, "entry", page)
	})
}

// entryDraft puts back what was typed into the forms, read as far as it can be.
func (s *site) entryDraft(r *http.Request, snap *Snapshot, e *book.Entry, page *entryPage) {
	form := s.drafts.find(r.URL.Query().Get("draft"))
	if form == nil {
		return
	}
	page.Error, page.Why = form.Get("error"), form.Get("why")
	if form.Get("text") == "" {
		return
	}
	page.Typed = form.Get("text")
	back, err := s.understandInstead(r, snap, e, form)
	if err != nil {
		page.Error = err.Error()
		return
	}
	page.Line = &back.lines(s, form)[0]
}

// entryState says whether an entry counts.
func (s *site) entryState(snap *Snapshot, e *book.Entry) string {
	switch {
	case !snap.stands(e):
		return s.words.say("entry.struck", s.whyStruck(snap, e.ID))
	case e.Strikes != uuid.Nil:
		return s.words.say("entry.instead", hearth.Short(e.Strikes))
	}
	return s.words.say("entry.stands")
}

// noteOf is a note that reads back as the entry does.
func noteOf(e *book.Entry, snap *Snapshot) string {
	if e.Kind == book.Noted {
		return "note " + e.Note
	}
	bare := *e
	bare.Note = ""
	text := strings.ReplaceAll(bare.Sentence(snap.Units), nbsp, " ")
	text = strings.ReplaceAll(text, e.Day.Long(), e.Day.String())
	text = strings.ReplaceAll(text, strings.ReplaceAll(e.Day.Long(), nbsp, " "), e.Day.String())
	if e.Note != "" {
		text += " (" + strings.NewReplacer("(", "", ")", "", "\n", " ").Replace(e.Note) + ")"
	}
	return text
}

// errOneLine says that an entry has one line.
var errOneLine = errors.New("an entry is one line: write the others as notes of their own")

// understandInstead reads the one line that would stand in an entry's place.
func (s *site) understandInstead(r *http.Request, snap *Snapshot, e *book.Entry, form url.Values) (*readBack, error) {
	text := form.Get("text")
	if len(text) > mostNote || strings.Contains(text, "\n") {
		return nil, errOneLine
	}
	c := s.notesOf(snap, form.Get("who"))
	back := &readBack{readings: book.Read(text, c)}
	if len(back.readings) != 1 {
		return nil, errors.New(s.words.say("note.empty"))
	}
	back.readings[0] = settle(back.readings[0], form, c)
	back.readings[0].Entry.Strikes = e.ID
	return back, s.foresee(r.Context(), snap, back)
}

// strikeEntry takes an entry out of what counts.
func (s *site) strikeEntry(w http.ResponseWriter, r *http.Request) {
	s.withEntryForm(w, r, func(snap *Snapshot, e *book.Entry) {
		why := typedLine(r.PostForm.Get("why"))
		if len(why) > mostWhy {
			s.backToEntry(w, r, e, url.Values{"why": {shorten(why, mostWhy)}, "error": {s.words.say("entry.why.long", count(mostWhy))}})
			return
		}
		_, err := s.desk.home.Strike(r.Context(), e.ID, why)
		s.struck(w, r, e, err, "/book?struck="+e.ID.String())
	})
}

// mostWhy is the most bytes of a reason.
const mostWhy = 400

// unstrikeEntry brings an entry back by striking what struck it.
func (s *site) unstrikeEntry(w http.ResponseWriter, r *http.Request) {
	s.withEntryForm(w, r, func(snap *Snapshot, e *book.Entry) {
		by := snap.book.Striker(e.ID)
		if by == nil || snap.stands(e) || by.Kind != book.Struck {
			s.seeOther(w, r, "/book/"+e.ID.String())
			return
		}
		_, err := s.desk.home.Strike(r.Context(), by.ID, "")
		s.struck(w, r, e, err, "/book?back="+e.ID.String())
	})
}

// replaceEntry strikes an entry and puts a line in its place, once that line has
// been read back as it stands.
func (s *site) replaceEntry(w http.ResponseWriter, r *http.Request) {
	s.withEntryForm(w, r, func(snap *Snapshot, e *book.Entry) {
		form := url.Values{"text": {strings.TrimSpace(typedText(r.PostForm.Get("text")))}, "who": {typedLine(r.PostForm.Get("who"))}}
		form = answered(form, r.PostForm)
		back, err := s.understandInstead(r, snap, e, form)
		if err != nil {
			form.Set("error", err.Error())
			s.backToEntry(w, r, e, form)
			return
		}
		if back.readings[0].Err != nil || r.PostForm.Get("seen") != form.Get("text") {
			s.backToEntry(w, r, e, form)
			return
		}
		_, err = s.desk.home.Replace(r.Context(), e.ID, back.readings[0])
		s.struck(w, r, e, err, "/book?replaced="+e.ID.String())
	})
}

// withEntryForm reads a form about an entry.
func (s *site) withEntryForm(w http.ResponseWriter, r *http.Request, do func(*Snapshot, *book.Entry)) {
	if !s.form(w, r) {
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		if e := s.entryOf(w, r, snap); e != nil {
			do(snap, e)
		}
	})
}

// struck leads on from a strike, or tells why there was none.
func (s *site) struck(w http.ResponseWriter, r *http.Request, e *book.Entry, err error, way string) {
	switch {
	case err == nil:
		s.desk.Changed()
		s.seeOther(w, r, way)
	case errors.Is(err, hearth.ErrStruck), errors.Is(err, fs.ErrNotExist):
		s.backToEntry(w, r, e, url.Values{"error": {err.Error()}})
	default:
		s.sayStopped(w, err)
	}
}

func (s *site) backToEntry(w http.ResponseWriter, r *http.Request, e *book.Entry, form url.Values) {
	s.seeOther(w, r, "/book/"+e.ID.String()+"?draft="+s.drafts.keep(form))
}
