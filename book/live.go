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
// each other in a ring are an error.
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
				return nil, s, fmt.Errorf("entry %s of %s: %w", e.ID, e.Day, ErrConflict)
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

// live are the entries of a book that stand, in order.
func (s *strikes) live(once []Entry) ([]Entry, error) {
	out := make([]Entry, 0, len(once))
	for i := range once {
		e := &once[i]
		ok, err := s.stands(e.ID)
		if err != nil {
			return nil, err
		}
		if ok && e.Kind != Struck {
			out = append(out, *e)
		}
	}
	slices.SortFunc(out, before)
	return out, nil
}

func (s *strikes) stands(id uuid.UUID) (bool, error) {
	by := s.by[id]
	if len(by) == 0 {
		return true, nil
	}
	switch s.seen[id] {
	case asking:
		return false, fmt.Errorf("entry %s strikes itself by way of others: strike one of them by a new entry", id)
	case live, dead:
		return s.seen[id] == live, nil
	}
	s.seen[id] = asking
	found := live
	for _, x := range by {
		ok, err := s.stands(x.id)
		if err != nil {
			return false, err
		}
		if ok {
			found = dead
		}
	}
	s.seen[id] = found
	return found == live, nil
}

func before(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Time, b.Time), bytes.Compare(a.ID[:], b.ID[:]))
}
