package book

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"evenstead/day"
)

// Live returns the entries that stand, in order of day, time and id: an entry
// sent twice is one, and an entry struck by another that stands is left out. A
// strike that is itself struck has no effect; one of an entry not yet known
// waits for it. Two bodies under one id are ErrConflict; entries that strike
// each other in a ring are an error, unless one of them is struck from outside it.
func Live(entries []Entry) ([]Entry, error) {
	once, s, err := gather(entries)
	if err != nil {
		return nil, err
	}
	return s.live(once)
}

// strikes is who strikes whom.
type strikes struct {
	by   map[uuid.UUID][]striker // strikers of an id, as they arrived
	of   map[uuid.UUID]uuid.UUID // what an id strikes
	seen map[uuid.UUID]verdict   // of ids that are struck
}

// striker is an entry that strikes another, and its day.
type striker struct {
	id  uuid.UUID
	day day.Day
}

type verdict uint8

const (
	asking verdict = iota + 1
	live
	dead
	round // one of a ring that nothing from outside strikes
)

// gather finds who strikes whom. once are the entries, of those sent twice the first.
func gather(entries []Entry) (once []Entry, s strikes, err error) {
	s = strikes{by: map[uuid.UUID][]striker{}, of: map[uuid.UUID]uuid.UUID{}, seen: map[uuid.UUID]verdict{}}
	first := make(map[uuid.UUID]int, len(entries))
	once = entries[:0:0]
	for i := range entries {
		e := &entries[i]
		if j, twice := first[e.ID]; twice {
			if !Same(entries[j], *e) {
				return nil, strikes{}, fmt.Errorf("entry %s of %s: %w", e.ID, e.Day, ErrConflict)
			}
			if len(once) == 0 {
				once = slices.Clone(entries[:i])
			}
			continue
		}
		first[e.ID] = i
		if len(once) > 0 {
			once = append(once, *e)
		}
		if e.Strikes != uuid.Nil {
			s.by[e.Strikes] = append(s.by[e.Strikes], striker{e.ID, e.Day})
			s.of[e.ID] = e.Strikes
		}
	}
	if len(once) == 0 {
		once = entries // none was sent twice
	}
	return once, s, nil
}

// live are the entries of a book that stand, in order. All are asked after, so
// that what is told of each does not hang on the order they came in.
func (s *strikes) live(once []Entry) ([]Entry, error) {
	out := make([]Entry, 0, len(once))
	var fault error
	for i := range once {
		e := &once[i]
		ok, err := s.stands(e.ID)
		if fault == nil {
			fault = err
		}
		if ok && e.Kind != Struck {
			out = append(out, *e)
		}
	}
	if fault != nil {
		return nil, fault
	}
	slices.SortFunc(out, before)
	return out, nil
}

// stands tells whether no entry that itself stands strikes an id. The error is
// that of a ring, none of which is struck from outside it.
func (s *strikes) stands(id uuid.UUID) (bool, error) {
	switch s.ask(id) {
	case live:
		return true, nil
	case dead:
		return false, nil
	}
	for at := id; s.seen[at] != round; at = s.of[at] {
		s.seen[at] = round
	}
	return false, fmt.Errorf("entry %s strikes itself by way of others: strike one of them by a new entry", id)
}

// ask finds an id's verdict from those of its strikers; asking is none yet, since
// the question came back to itself.
func (s *strikes) ask(id uuid.UUID) verdict {
	by := s.by[id]
	if len(by) == 0 {
		return live
	}
	if v := s.seen[id]; v != 0 {
		return v
	}
	s.seen[id] = asking
	found := live
	for _, x := range by {
		switch s.ask(x.id) {
		case live:
			s.seen[id] = dead
			return dead
		case asking, round:
			found = asking
		}
	}
	if found == asking {
		delete(s.seen, id) // whoever asked first may yet be struck by another
		return asking
	}
	s.seen[id] = found
	return found
}

func before(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Time, b.Time), bytes.Compare(a.ID[:], b.ID[:]))
}
