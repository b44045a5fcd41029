package web

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/hearth"
)

// The outbox takes in forms that waited on a phone. Each came with an id made
// there; an entry whose id is in the book already is answered as written, so that
// what is sent again and again is written once. A form that can't be taken as it is
// becomes a plain note, for whoever sent it is long gone. docs/phone.md tells the rest.

// outRequest is what a phone sends.
type outRequest struct {
	Now   int64     `json:"now"`  // ms since 1970, by the phone's clock
	Live  bool      `json:"live"` // someone waits at the form: what is wrong is told, not kept as a note
	Items []outItem `json:"items"`
}

// outItem is a form that was filled in.
type outItem struct {
	ID     uuid.UUID  `json:"id"`
	At     int64      `json:"at"`  // when, like Now
	Way    string     `json:"way"` // where its form leads
	Fields url.Values `json:"fields"`
}

// outAnswer tells what became of each, and whether the phone's clock can be right.
type outAnswer struct {
	Clock string    `json:"clock"`
	Items []outTold `json:"items"`
}

// outTold is what became of one form.
type outTold struct {
	ID    uuid.UUID `json:"id"`
	State string    `json:"state"` // written, plain (as a note), mend (nothing was written), refused (it can never be)
	Said  string    `json:"said"`
	Then  string    `json:"then"` // a page that shows it
}

// Bounds of what waited.
const (
	mostItems = 200
	longestAt = 100 * 24 * time.Hour // what is older was made by a clock that was not set
	clockOff  = 5 * time.Minute      // less is not worth a word
)

// outRoutes are the ways in of what waited without signal.
func (s *site) outRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /outbox", s.outbox)
	mux.HandleFunc("GET /outbox/here", s.here)
	mux.HandleFunc("POST /outbox", s.postOutbox)
	mux.HandleFunc("POST /outbox/photo/{id}", s.postPhoto)
	mux.HandleFunc("GET /photo/{sum}", s.photo)
	mux.HandleFunc("GET /sw.js", s.worker)
}

// outboxPage shows what waits on the device that looks.
type outboxPage struct {
	frame
	Lead, Rest string
}

func (s *site) outbox(w http.ResponseWriter, r *http.Request) {
	f := s.bareFrame(s.words.say("outbox.title"), "")
	s.render(w, http.StatusOK, "outbox", outboxPage{f, s.words.say("outbox.lead"), s.words.say("outbox.rest")})
}

// here answers a phone that asks whether home is in reach.
func (s *site) here(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) }

// batch is what one request brought, as far as it has come.
type batch struct {
	*site
	ctx      context.Context
	snap     *Snapshot
	in       *outRequest
	received time.Time
	told     []outTold
	entries  [][]book.Entry // of each item
}

func (s *site) postOutbox(w http.ResponseWriter, r *http.Request) {
	b := &batch{site: s, ctx: context.WithoutCancel(r.Context()), in: &outRequest{}, received: s.desk.clock()}
	if !apiRead(w, r, b.in) {
		return
	}
	if len(b.in.Items) > mostItems {
		apiFail(w, http.StatusRequestEntityTooLarge, fmt.Errorf("%d forms at once: send at most %d", len(b.in.Items), mostItems))
		return
	}
	var err error
	if b.snap, err = s.desk.nearly(r.Context()); err != nil {
		status := http.StatusInternalServerError
		if errors.Is(err, fs.ErrNotExist) {
			status = http.StatusServiceUnavailable // they wait until the stead is described
		}
		apiFail(w, status, err)
		return
	}
	for i := range b.in.Items {
		b.read(&b.in.Items[i])
	}
	if err := b.write(); err != nil {
		apiFail(w, http.StatusInternalServerError, err)
		return
	}
	sendJSON(w, http.StatusOK, outAnswer{b.clock(), b.told})
}

// read makes the entries of a form.
func (b *batch) read(item *outItem) {
	t := outTold{ID: item.ID, State: "written"}
	lines, err := b.lines(item)
	probe := book.Entry{ID: item.ID, Day: b.snap.Today, Kind: book.Noted, Note: "-"}
	if bad := probe.Valid(); bad != nil {
		lines, err = nil, errRefused{bad}
	}
	if refused := (errRefused{}); errors.As(err, &refused) {
		t.State, t.Said = "refused", sentence(err)
		b.told, b.entries = append(b.told, t), append(b.entries, nil)
		return
	}
	if err != nil {
		lines = []outLine{{text: b.spoken(item), err: err}}
	}
	var said []string
	var entries []book.Entry
	for n, l := range lines {
		if l.err != nil && b.in.Live {
			b.told, b.entries = append(b.told, outTold{ID: item.ID, State: "mend", Said: sentence(l.err)}), append(b.entries, nil)
			return
		}
		if l.err != nil {
			t.State = "plain"
			l.entry = b.plain(item, l)
		}
		l.entry.ID = nth(item.ID, n)
		entries, said = append(entries, l.entry), append(said, upperFirst(l.entry.Sentence(b.opt.Units))+".")
	}
	t.Said, t.Then = b.words.say("outbox.wrote", strings.Join(said, " ")), then(item.Way, entries)
	b.told, b.entries = append(b.told, t), append(b.entries, entries)
}

// errRefused is of what can never be written.
type errRefused struct{ error }

// Unwrap is what is wrong with it.
func (e errRefused) Unwrap() error { return e.error }

// outLine is an entry of a form, or why there is none.
type outLine struct {
	text  string
	entry book.Entry
	err   error
}

// lines reads a form by the page it is of.
func (b *batch) lines(item *outItem) ([]outLine, error) {
	on, form := b.day(item), clipped(item.Fields)
	switch item.Way {
	case "/note":
		return b.noted(form, on)
	case "/boots":
		if form.Get("do") == inWords {
			return b.noted(form, on)
		}
		e, err := b.bootsEntry(b.snap, form, on)
		return []outLine{{b.spoken(item), e, err}}, nil
	case "/stores/dip", "/stores/count":
		if b.snap.Past == nil {
			return nil, b.snap.Trouble
		}
		st, err := b.standingOf(b.snap)
		if err != nil {
			return nil, err
		}
		e, err := st.finding(strings.TrimPrefix(item.Way, "/stores/"), form, on)
		return []outLine{{b.spoken(item), e, err}}, nil
	case "/week/done":
		return b.ticked(form, on)
	}
	return nil, errRefused{fmt.Errorf("nothing is taken in from %q", shorten(item.Way, 40))}
}

// noted reads a quick note of a day; lines in doubt stand as they are understood.
func (b *batch) noted(form url.Values, on day.Day) (list []outLine, err error) {
	text := form.Get("text")
	if strings.TrimSpace(text) == "" {
		return nil, errRefused{errors.New(b.words.say("note.empty"))}
	}
	c := b.notesOf(b.snap, form.Get("who"))
	c.Today = on
	for _, r := range book.Read(text, c) {
		list = append(list, outLine{r.Text, r.Entry, r.Err})
	}
	return list, nil
}

// ticked makes the entries of a task of the week.
func (b *batch) ticked(form url.Values, on day.Day) ([]outLine, error) {
	if b.snap.Past == nil {
		return nil, b.snap.Trouble
	}
	plan, err := b.work(b.snap, 1)
	if err != nil {
		return nil, err
	}
	form.Del("draft")
	note, whole := b.taskForm(plan, form.Get("task"), form)
	switch {
	case note == nil:
		return nil, errors.New(b.words.say("week.gone"))
	case !whole:
		return nil, errors.New(b.words.say("week.mend"))
	}
	return b.noted(note, on)
}

// spoken is a form in words, for a plain note.
func (b *batch) spoken(item *outItem) string {
	form := clipped(item.Fields)
	var said []string
	for _, name := range []string{"title", "do", "what", "thing." + form.Get("do"), "amount", "amount." + form.Get("do"), "text"} {
		if v := strings.Join(strings.FieldsFunc(form.Get(name), func(r rune) bool { return r == '|' }), " "); v != "" {
			said = append(said, v)
		}
	}
	for k, v := range form {
		if strings.HasPrefix(k, "blank.") {
			said = append(said, v[0])
		}
	}
	return strings.Join(said, " ")
}

// plain is a note that keeps what was sent and why it is no more than that.
func (b *batch) plain(item *outItem, l outLine) book.Entry {
	const most = 3500 // of the 4,000 bytes of a note
	text := b.words.say("outbox.plain", l.text, strings.ReplaceAll(l.err.Error(), "\n", "; "))
	for len(text) > most {
		text = shorten(text, len([]rune(text))*3/4)
	}
	return book.Entry{Day: b.day(item), Who: b.snap.Context.Who, Kind: book.Noted, Note: typedLine(text)}
}

// day is the day a form was filled in, by home's clock: the phone's may be wrong by
// years, but tells how long ago it was. Longer ago than anything waits, or after
// now, it was a clock that has been set since: then today.
func (b *batch) day(item *outItem) day.Day {
	age := time.Duration(0)
	if ms := b.in.Now - item.At; ms > 0 && ms < longestAt.Milliseconds() {
		age = time.Duration(ms) * time.Millisecond
	}
	back := day.Today(b.received) - day.Today(b.received.Add(-age))
	return max(b.snap.Today-back, min(b.snap.Context.From, b.snap.Today))
}

// clock says by how much the phone's clock is off; empty when it is right.
func (b *batch) clock() string {
	off := time.Duration(min(max(b.in.Now-b.received.UnixMilli(), -1e15), 1e15)/1000) * time.Second
	key := "outbox.fast"
	if off < 0 {
		key, off = "outbox.slow", -off
	}
	switch days := int(off.Hours() / 24); {
	case off < clockOff:
		return ""
	case days >= 730:
		return b.words.say(key, b.words.say("outbox.years", count(days/365)))
	case days >= 2:
		return b.words.say(key, b.words.say("outbox.days", count(days)))
	case off >= 2*time.Hour:
		return b.words.say(key, b.words.say("outbox.hours", count(int(off.Hours()))))
	}
	return b.words.say(key, b.words.say("outbox.minutes", count(int(off.Minutes()))))
}

// nth is the id of the n-th entry of a form, always the same: the first has the
// form's own.
func nth(id uuid.UUID, n int) uuid.UUID {
	if n == 0 {
		return id
	}
	sum := sha256.Sum256(binary.BigEndian.AppendUint32(id[:], uint32(n)))
	out := id
	copy(out[9:], sum[:7]) // the moment, version and variant stay
	return out
}

// then is the page that shows what a form wrote.
func then(way string, entries []book.Entry) string {
	var ids []string
	for i := range entries {
		ids = append(ids, entries[i].ID.String())
	}
	switch way {
	case "/stores/dip", "/stores/count":
		return "/stores?wrote=" + hearth.Short(entries[0].ID) + "#" + strings.TrimPrefix(way, "/stores/")
	case "/week/done":
		return "/week?wrote=" + strings.Join(ids, ",") + "#wrote"
	}
	return ""
}

// write puts all entries into the book at once. One that is there already with
// other words stands as it came first: then each is written by itself.
func (b *batch) write() error {
	var all []book.Entry
	for _, list := range b.entries {
		all = append(all, list...)
	}
	if len(all) == 0 {
		return nil
	}
	put := b.desk.home.Store().Add
	err := put(b.ctx, all)
	if !errors.Is(err, book.ErrConflict) {
		b.desk.written()
		return err
	}
	for i := range all {
		if err := put(b.ctx, all[i:i+1]); err != nil && !errors.Is(err, book.ErrConflict) {
			return err
		}
	}
	b.desk.written()
	return nil
}

// written says that entries alone were written.
func (d *Desk) written() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.noted++
}

// enough is how old a snapshot may be that forms from phones are read against:
// when hundreds come home at once, the book is not replayed for each.
const enough = 2 * time.Second

// nearly is Now, or a snapshot of a moment ago that lacks nothing but entries. Of
// many that ask at once, one has the book replayed.
func (d *Desk) nearly(ctx context.Context) (*Snapshot, error) {
	if s := d.lately(); s != nil {
		return s, nil
	}
	d.near.Lock()
	defer d.near.Unlock()
	if s := d.lately(); s != nil {
		return s, nil
	}
	return d.Now(ctx)
}

// lately is the snapshot that stands when it is new enough, else nil.
func (d *Desk) lately() *Snapshot {
	today := d.Today()
	d.mu.Lock()
	defer d.mu.Unlock()
	b := d.base
	if b == nil || b.key.today != today || b.key.edition != d.edition || time.Since(b.made) >= enough {
		return nil
	}
	s := b.snap
	return &s
}

// mostPhoto is the most bytes of a photo that is sent: those of the book, and a few
// more so that the book can say what is wrong.
const mostPhoto = 4<<20 + 1

// postPhoto keeps a photo with an entry that came before it.
func (s *site) postPhoto(w http.ResponseWriter, r *http.Request) {
	id, err := uuid.Parse(r.PathValue("id"))
	if err != nil {
		apiFail(w, http.StatusUnprocessableEntity, errors.New("the address names no entry"))
		return
	}
	file, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostPhoto))
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		err = hearth.CheckPhoto(make([]byte, mostPhoto))
	}
	if err == nil {
		err = s.desk.home.AddPhoto(context.WithoutCancel(r.Context()), id, file)
	}
	switch {
	case err == nil:
		w.WriteHeader(http.StatusNoContent)
	case errors.Is(err, fs.ErrInvalid), errors.Is(err, fs.ErrNotExist):
		apiFail(w, http.StatusUnprocessableEntity, err)
	default:
		apiFail(w, http.StatusInternalServerError, err)
	}
}

// photo sends a photo by its sum, which never changes.
func (s *site) photo(w http.ResponseWriter, r *http.Request) {
	var sum [sha256.Size]byte
	if n, err := hex.Decode(sum[:], []byte(r.PathValue("sum")[:min(len(r.PathValue("sum")), 2*len(sum))])); err != nil || n != len(sum) {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	media, file, err := s.desk.home.Photo(r.Context(), sum)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.sayMissing(w, http.StatusNotFound)
	case err != nil:
		s.sayStopped(w, err)
	default:
		w.Header().Set("Content-Type", media)
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
		// A reader that has gone away is no fault of the photo.
		_, _ = w.Write(file)
	}
}
