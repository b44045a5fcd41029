package web

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// mostForm is the most bytes of a form that holds no file.
const mostForm = 1 << 20

// withDesk hands a page the stead as it stands; without a description the
// visitor is led to the start.
func (s *site) withDesk(w http.ResponseWriter, r *http.Request, show func(*Snapshot)) {
	snap, err := s.desk.Now(r.Context())
	switch {
	case err == nil:
		show(snap)
	case errors.Is(err, fs.ErrNotExist):
		s.seeOther(w, r, "/start")
	default:
		s.sayStopped(w, err)
	}
}

// seeOther answers a form: what comes next is read at a way in of our own.
func (s *site) seeOther(w http.ResponseWriter, r *http.Request, way string) {
	http.Redirect(w, r, way, http.StatusSeeOther) // #nosec G710 -- every way is written in the program
}

// form reads a posted form of at most so many bytes, and says what is wrong with
// one that can't be read. Files are left to the caller.
func (s *site) form(w http.ResponseWriter, r *http.Request) bool {
	r.Body = http.MaxBytesReader(w, r.Body, mostForm)
	err := r.ParseForm()
	if err == nil {
		return true
	}
	status := http.StatusBadRequest
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		status = http.StatusRequestEntityTooLarge
	}
	s.sayRefused(w, status)
	return false
}

// typedText is a text as it was sent, fit to be shown and kept: sound UTF-8, lines
// ended by a line feed, without control characters.
func typedText(text string) string {
	text = strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' {
			return -1
		}
		return r
	}, text)
}

// typedLine is typedText on one line, blanks drawn together.
func typedLine(text string) string { return strings.Join(strings.Fields(typedText(text)), " ") }

// sayRefused answers a form that can't be read as it was sent.
func (s *site) sayRefused(w http.ResponseWriter, status int) {
	key := "form.broken"
	if status == http.StatusRequestEntityTooLarge {
		key = "form.large"
	}
	f := s.bareFrame(s.words.say("form.title"), "")
	s.render(w, status, "lost", saying{f, s.words.say(key), s.words.say("form.rest"), false})
}

// drafts keep what was typed into forms that are not done with yet, by a key
// that the address carries. They live in memory: what is lost with them was
// never written.
type drafts struct {
	mu    sync.Mutex
	by    map[string]url.Values
	order []string // oldest first
	bytes int
}

// Bounds of what drafts hold together.
const (
	mostDrafts     = 200
	mostDraftBytes = 16 << 20
)

func newDrafts() *drafts { return &drafts{by: map[string]url.Values{}} }

// keep holds a form and returns its key; the oldest make room.
func (d *drafts) keep(form url.Values) string {
	key := rand.Text()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.by[key] = form
	d.order = append(d.order, key)
	d.bytes += weight(form)
	for len(d.order) > 1 && (len(d.order) > mostDrafts || d.bytes > mostDraftBytes) {
		d.bytes -= weight(d.by[d.order[0]])
		delete(d.by, d.order[0])
		d.order = d.order[1:]
	}
	return key
}

// find returns a form kept before; nil when it is gone. It must not be changed.
func (d *drafts) find(key string) url.Values {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.by[key]
}

// take is find for a form that is done with: only one caller gets it, so that
// what is sent twice is written once.
func (d *drafts) take(key string) url.Values {
	d.mu.Lock()
	defer d.mu.Unlock()
	form := d.by[key]
	if form != nil {
		d.bytes -= weight(form)
		delete(d.by, key)
		d.order = slices.DeleteFunc(d.order, func(k string) bool { return k == key })
	}
	return form
}

func weight(form url.Values) (n int) {
	for k, list := range form {
		n += len(k)
		for _, v := range list {
			n += len(v)
		}
	}
	return n
}
