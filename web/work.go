package web

import (
	"net/http"
	"strings"
	"sync"

	"evenstead/book"
	"evenstead/day"
	"evenstead/tasks"
)

// workOnce keeps what the coming weeks' work is made from, reckoned when it is
// first asked for. What it gives is shared and must not be changed.
type workOnce struct {
	once sync.Once
	ask  tasks.Ask
	done map[string]day.Day
	err  error
	keys sync.Map // a note, to the keys of its lines
}

func (k *workOnce) of(s *Snapshot) (tasks.Ask, error) {
	k.once.Do(func() {
		k.ask, k.err = tasks.Of(s.Past, s.Tables, *s.Usual, tasks.MostWeeks)
		k.done = lastDeeds(s)
	})
	return k.ask, k.err
}

// work is the work of the coming weeks, with the needs that the newest outlook
// sees run short. Snapshots without a Past have none.
func (s *site) work(snap *Snapshot, weeks int) (*tasks.Plan, error) {
	ask, err := snap.work.of(snap)
	if err != nil {
		return nil, err
	}
	ask.Weeks, ask.Units, ask.Outlook = weeks, s.opt.Units, snap.Outlook
	return tasks.Make(ask)
}

// withWork hands a page the work of the coming weeks, or says why there is none.
func (s *site) withWork(w http.ResponseWriter, r *http.Request, weeks int, show func(*Snapshot, *tasks.Plan)) {
	s.withDesk(w, r, func(snap *Snapshot) {
		if snap.Past == nil {
			s.sayStopped(w, snap.Trouble)
			return
		}
		plan, err := s.work(snap, weeks)
		if err != nil {
			s.sayStopped(w, err)
			return
		}
		show(snap, plan)
	})
}

// deedKey tells two entries of the same work, whatever their amounts.
func deedKey(e *book.Entry) string {
	if e.Kind == book.Noted {
		return "note|" + strings.ToLower(e.Note)
	}
	return strings.Join([]string{string(e.Kind), e.Body.What, e.Body.Where, e.Body.Form, e.Body.Extra["for"]}, "|")
}

// workedBack is how many days back entries are looked at for work done: a month
// and the week it is asked in.
const workedBack = 38

// lastDeeds are the last days on which each kind of work was written.
func lastDeeds(s *Snapshot) map[string]day.Day {
	last := map[string]day.Day{}
	for i := len(s.Entries) - 1; i >= 0; i-- {
		e := &s.Entries[i]
		if e.Day < s.Today-workedBack {
			break
		}
		if key := deedKey(e); last[key] == 0 {
			last[key] = e.Day
		}
	}
	return last
}

// noted tells how many of a task's lines the book has, of how many, and the last
// day of them.
func (s *Snapshot) noted(t *tasks.Task) (had, of int, on day.Day) {
	keys := s.work.keysOf(t.Note, s.Context)
	for _, key := range keys {
		if d := s.work.done[key]; d != 0 && d >= t.Since {
			had, on = had+1, max(on, d)
		}
	}
	return had, len(keys), on
}

// keysOf reads a note's lines; one that can't be read has a key that no entry has.
func (k *workOnce) keysOf(note string, c book.Context) []string {
	if had, ok := k.keys.Load(note); ok {
		return had.([]string)
	}
	var keys []string
	for _, r := range book.Read(strings.ReplaceAll(note, tasks.Blank, "5"), c) {
		keys = append(keys, deedKey(&r.Entry))
	}
	k.keys.Store(note, keys)
	return keys
}
