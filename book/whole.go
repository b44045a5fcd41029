package book

import (
	"cmp"
	"crypto/sha256"
	"maps"
	"slices"
	"sync/atomic"

	"github.com/google/uuid"

	"evenstead/day"
)

// A Whole is a book as far as it was read: every entry once, and those that stand
// (Live). It never changes: With makes another, at the cost of what came. What its
// methods return is shared and must not be changed.
type Whole struct {
	all, live run
	marks     strikes
	sum       [sha256.Size]byte
	fault     error // why it can't be told what stands
}

// NewWhole takes entries as a whole book, in any order; arrivals of a day stay in
// theirs. Where Live fails, Live of the whole fails too.
func NewWhole(entries []Entry) *Whole {
	w := &Whole{}
	var once []Entry
	if once, w.marks, w.fault = gather(entries); w.fault != nil {
		once = entries
	}
	if !slices.IsSortedFunc(once, byDay) {
		once = slices.Clone(once)
		slices.SortStableFunc(once, byDay)
	}
	w.all = newRun(once)
	for i := range once {
		w.add(&once[i])
	}
	if w.fault == nil {
		var live []Entry
		live, w.fault = w.marks.live(once)
		w.live = newRun(live)
	}
	return w
}

func byDay(a, b Entry) int { return cmp.Compare(a.Day, b.Day) }

// add counts an entry into the sum: its id stands for it, since it never changes.
func (w *Whole) add(e *Entry) {
	for i, b := range sha256.Sum256(e.ID[:]) {
		w.sum[i] ^= b
	}
}

// All is every entry, struck ones and strikes too, in order of day and arrival.
func (w *Whole) All() []Entry { return slices.Clip(w.all.list) }

// Live is what stands, as Live has it.
func (w *Whole) Live() ([]Entry, error) { return slices.Clip(w.live.list), w.fault }

// Sum is the same for books of the same entries, whatever their order.
func (w *Whole) Sum() [sha256.Size]byte { return w.sum }

// Stands tells whether an entry of the book counts; a strike by itself does not.
func (w *Whole) Stands(e *Entry) bool { return e.Kind != Struck && w.marks.seen[e.ID] != dead }

// Striker is the entry that strikes an id, of several the last by day and arrival;
// nil when none does.
func (w *Whole) Striker(id uuid.UUID) *Entry {
	by := w.marks.by[id]
	if len(by) == 0 {
		return nil
	}
	last := slices.MaxFunc(by, func(a, b striker) int { return cmp.Compare(a.day, b.day) })
	for _, s := range by { // MaxFunc finds the first of the last day
		if s.day == last.day {
			last = s
		}
	}
	return w.on(last.id, last.day)
}

// on finds an entry of a day by its id; nil when it is not there.
func (w *Whole) on(id uuid.UUID, d day.Day) *Entry {
	at, _ := slices.BinarySearchFunc(w.all.list, d, func(e Entry, d day.Day) int { return cmp.Compare(e.Day, d) })
	for ; at < len(w.all.list) && w.all.list[at].Day == d; at++ {
		if w.all.list[at].ID == id {
			return &w.all.list[at]
		}
	}
	return nil
}

// few is how many entries may come to a book before it is quicker gathered anew.
const few = 64

// With is the book with entries that came after, in order of arrival; the same as
// NewWhole of all of them.
func (w *Whole) With(more []Entry) *Whole {
	switch {
	case len(more) == 0:
		return w
	case len(more) > few || w.fault != nil:
		return NewWhole(slices.Concat(w.all.list, more))
	}
	touched, marks := w.strike(more)
	known := w.known(touched)
	for i := range more {
		if known[more[i].ID] != nil || slices.ContainsFunc(more[:i], func(e Entry) bool { return e.ID == more[i].ID }) {
			return NewWhole(slices.Concat(w.all.list, more)) // sent twice
		}
	}
	next := &Whole{marks: marks, sum: w.sum}
	var come, back, gone []Entry
	come = slices.Clone(more)
	for i := range more {
		next.add(&more[i])
		known[more[i].ID] = &more[i]
	}
	slices.SortStableFunc(come, byDay)
	next.all = w.all.with(come, nil, byDay)
	for id := range touched {
		stands, err := marks.stands(id)
		if err != nil {
			return NewWhole(next.all.list) // says which entry it is
		}
		e := known[id]
		if e == nil || e.Kind == Struck {
			continue
		}
		isNew := slices.ContainsFunc(more, func(m Entry) bool { return m.ID == id })
		stood := !isNew && w.marks.seen[id] != dead
		switch {
		case stands && !stood:
			back = append(back, *e)
		case stood && !stands:
			gone = append(gone, *e)
		}
	}
	slices.SortFunc(back, before)
	slices.SortFunc(gone, before)
	next.live = w.live.with(back, gone, before)
	return next
}

// strike adds the strikes of entries to those of the book. touched are the ids of
// the entries and of all that may stand or fall with them.
func (w *Whole) strike(more []Entry) (touched map[uuid.UUID]bool, s strikes) {
	s = strikes{by: maps.Clone(w.marks.by), of: maps.Clone(w.marks.of), seen: maps.Clone(w.marks.seen)}
	touched = map[uuid.UUID]bool{}
	for i := range more {
		if e := &more[i]; e.Strikes != uuid.Nil {
			s.by[e.Strikes] = append(slices.Clip(s.by[e.Strikes]), striker{e.ID, e.Day})
			s.of[e.ID] = e.Strikes
		}
	}
	for i := range more {
		for id := more[i].ID; id != uuid.Nil && !touched[id]; id = s.of[id] {
			touched[id] = true
			delete(s.seen, id)
		}
	}
	return touched, s
}

// known finds the entries of ids.
func (w *Whole) known(ids map[uuid.UUID]bool) map[uuid.UUID]*Entry {
	out := map[uuid.UUID]*Entry{}
	var ends [256]bool // of the ids, so that few are looked up
	for id := range ids {
		ends[id[15]] = true
	}
	for i := range w.all.list {
		if e := &w.all.list[i]; ends[e.ID[15]] && ids[e.ID] {
			out[e.ID] = e
		}
	}
	return out
}

// A run is entries in an order. Runs that grew from one another at their ends share
// memory: used is how much of it the longest has.
type run struct {
	list []Entry
	used *atomic.Int64
}

func newRun(list []Entry) run {
	r := run{list, new(atomic.Int64)}
	r.used.Store(int64(cap(list))) // whoever made the list may use what lies behind it
	return r
}

// with is the run with some entries more and some less, both in its order.
func (r run) with(more, less []Entry, order func(a, b Entry) int) run {
	n := len(r.list)
	if len(less) == 0 && (n == 0 || len(more) == 0 || order(r.list[n-1], more[0]) <= 0) {
		return r.grown(more)
	}
	out := make([]Entry, 0, n+len(more)+room(n))
	at := 0
	upTo := func(e Entry) int { // the first that comes after e
		k, _ := slices.BinarySearchFunc(r.list[at:], e, func(x, e Entry) int {
			if order(x, e) <= 0 {
				return -1
			}
			return 1
		})
		return at + k
	}
	for len(more)+len(less) > 0 {
		if len(less) == 0 || len(more) > 0 && order(more[0], less[0]) < 0 {
			k := upTo(more[0])
			out = append(append(out, r.list[at:k]...), more[0])
			at, more = k, more[1:]
			continue
		}
		k := upTo(less[0])
		out = append(out, r.list[at:k-1]...)
		at, less = k, less[1:]
	}
	return owned(append(out, r.list[at:]...))
}

// owned is a run of a list that nobody else has.
func owned(list []Entry) run {
	r := run{list, new(atomic.Int64)}
	r.used.Store(int64(len(list)))
	return r
}

// grown appends in place when the memory behind the run is free.
func (r run) grown(more []Entry) run {
	n, m := len(r.list), len(r.list)+len(more)
	if m <= cap(r.list) && r.used.CompareAndSwap(int64(n), int64(m)) {
		return run{append(r.list, more...), r.used}
	}
	return owned(append(append(make([]Entry, 0, m+room(m)), r.list...), more...))
}

// room is how many entries are made room for behind so many.
func room(n int) int { return min(n/16+4, 1024) }
