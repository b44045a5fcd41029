package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/device"
	"evenstead/tasks"
)

// spent remembers what forms were sent, so that a button pressed twice writes once.
type spent struct {
	mu    sync.Mutex
	had   map[string]bool
	order []string // oldest first
}

const mostSpent = 500

// first tells whether a key is new, and remembers it.
func (s *spent) first(key string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.had[key] {
		return false
	}
	if s.had == nil {
		s.had = map[string]bool{}
	}
	s.had[key] = true
	if s.order = append(s.order, key); len(s.order) > mostSpent {
		delete(s.had, s.order[0])
		s.order = s.order[1:]
	}
	return true
}

// weekDone writes the entries that a task makes: those that are sound at once; the
// rest come back at the task, with what stands against them.
func (s *site) weekDone(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	s.withWork(w, r, 1, func(snap *Snapshot, plan *tasks.Plan) {
		id := typedLine(r.PostForm.Get("task"))
		form, whole := s.taskForm(plan, id, r.PostForm)
		switch {
		case form == nil:
			s.seeOther(w, r, "/week?gone=1")
		case !whole:
			s.backToTask(w, r, form, "")
		case !s.spent.first(r.PostForm.Get("once") + "\n" + form.Encode()):
			s.seeOther(w, r, "/week?who="+url.QueryEscape(form.Get("who")))
		default:
			s.writeTask(w, r, snap, form)
		}
	})
}

// taskForm is the note of a task as it is to be written: its blanks filled in, or
// the lines that came back before, with their answers. nil when the week has no
// such task any more; whole is false while nothing of it can be written.
func (s *site) taskForm(plan *tasks.Plan, id string, typed url.Values) (form url.Values, whole bool) {
	who := typedLine(typed.Get("who"))
	if key := typed.Get("draft"); key != "" {
		draft := s.drafts.take(key)
		if draft == nil || draft.Get("task") != id {
			return nil, false
		}
		return answered(draft, typed), true
	}
	for i := range plan.Weeks[0].Tasks {
		t := &plan.Weeks[0].Tasks[i]
		if t.ID != id {
			continue
		}
		form = url.Values{"task": {id}, "who": {who}}
		text := filledIn(s.words.asTyped(t.Note), typed)
		for _, l := range linesOf(t, typed) {
			if l.Value != "" && text == "" {
				form.Set(blankName(l.N), shorten(typedLine(l.Value), longestBlank))
			}
		}
		form.Set("text", text)
		return form, text != ""
	}
	return nil, false
}

// longestBlank is the most bytes of what is typed into a blank.
const longestBlank = 40

// filledIn is what a note is to write: its only line, those of several that were
// chosen, and those with a blank that was filled in; "" when that is nothing. What
// brings its own unit takes the place of the one written.
func filledIn(note string, typed url.Values) string {
	lines := strings.Split(note, "\n")
	var out []string
	for i, line := range lines {
		before, after, blank := strings.Cut(line, tasks.Blank)
		if !blank {
			if len(lines) == 1 || slices.Contains(typed["on"], strconv.Itoa(i)) {
				out = append(out, line)
			}
			continue
		}
		value := typedLine(typed.Get(blankName(i)))
		if value == "" || len(value) > longestBlank {
			continue
		}
		if strings.ContainsFunc(value, func(r rune) bool { return unicode.IsLetter(r) || r == '%' }) {
			_, after, _ = strings.Cut(strings.TrimPrefix(after, " "), " ")
			after = " " + after
		}
		out = append(out, strings.TrimSpace(before+value+after))
	}
	return strings.Join(out, "\n")
}

func (s *site) writeTask(w http.ResponseWriter, r *http.Request, snap *Snapshot, form url.Values) {
	form.Del("error")
	back, err := s.understand(r.Context(), snap, form)
	var got []book.Entry
	if err == nil && len(back.sound()) > 0 {
		if got, err = s.desk.home.Add(r.Context(), back.sound()); err == nil {
			s.desk.Changed()
		}
	}
	if err != nil {
		s.sayStopped(w, err)
		return
	}
	ids := make([]string, len(got))
	for i := range got {
		ids[i] = got[i].ID.String()
	}
	wrote := strings.Join(ids, ",")
	if left := back.left(); left != "" {
		rest := url.Values{"task": form["task"], "who": form["who"], "text": {left}}
		s.backToTask(w, r, rest, wrote)
		return
	}
	s.seeOther(w, r, "/week?"+url.Values{"wrote": {wrote}, "who": {form.Get("who")}}.Encode()+"#wrote")
}

// backToTask leads back to a task whose lines were not all written.
func (s *site) backToTask(w http.ResponseWriter, r *http.Request, form url.Values, wrote string) {
	q := url.Values{"draft": {s.drafts.keep(form)}, "who": {form.Get("who")}}
	if wrote != "" {
		q.Set("wrote", wrote)
	}
	s.seeOther(w, r, "/week?"+q.Encode()+"#t-"+form.Get("task"))
}

// readAgain reads the lines of a task that were not written.
func (k *weekView) readAgain() []readLine {
	back := &readBack{readings: book.Read(k.draft.Get("text"), k.notesOf(k.snap, k.draft.Get("who")))}
	return back.lines(k.site, k.draft)
}

// entry finds an entry that stands by its whole id; nil when there is none.
func (s *Snapshot) entry(id string) *book.Entry {
	want, err := uuid.Parse(id)
	if err != nil {
		return nil
	}
	for i := len(s.Entries) - 1; i >= 0; i-- {
		if s.Entries[i].ID == want {
			return &s.Entries[i]
		}
	}
	return nil
}

// weekUndo strikes what a tap has just written.
func (s *site) weekUndo(w http.ResponseWriter, r *http.Request) {
	if !s.form(w, r) {
		return
	}
	s.withDesk(w, r, func(snap *Snapshot) {
		for _, id := range r.PostForm["entry"] {
			e := snap.entry(id)
			if e == nil || !s.mayUndo(e) {
				continue
			}
			if _, err := s.desk.home.Strike(r.Context(), e.ID, s.words.say("week.undo.why")); err != nil {
				s.desk.Changed()
				s.sayStopped(w, err)
				return
			}
		}
		s.desk.Changed()
		s.seeOther(w, r, "/week?"+url.Values{"undone": {"1"}, "who": {typedLine(r.PostForm.Get("who"))}}.Encode()+"#wrote")
	})
}

// undoFor is how long a helper may undo.
const undoFor = 15 * time.Minute

// mayUndo tells whether an entry may be struck from the week: by a helper only while
// it is new.
func (s *site) mayUndo(e *book.Entry) bool {
	return s.role >= device.Household || s.desk.clock().Sub(e.Received) < undoFor
}
