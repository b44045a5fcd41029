package book

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"github.com/google/uuid"
)

// Live returns the entries that stand, in order of day, time and id: an entry
// sent twice is one, and an entry struck by another that stands is left out. A
// strike that is itself struck has no effect; one of an entry not yet known
// waits for it. Two bodies under one id are ErrConflict; entries that strike
// each other in a ring are an error.
func Live(entries []Entry) ([]Entry, error) {
	b, err := gather(entries)
	if err != nil {
		return nil, err
	}
	var out []Entry
	for _, e := range b.once {
		ok, err := b.stands(e.ID)
		if err != nil {
			return nil, err
		}
		if ok && e.Kind != Struck {
			out = append(out, e)
		}
	}
	slices.SortFunc(out, before)
	return out, nil
}

// strikes is a book with who strikes whom.
type strikes struct {
	once []Entry
	by   map[uuid.UUID][]uuid.UUID // strikers of an id
	seen map[uuid.UUID]verdict
}

type verdict uint8

const (
	asking verdict = iota + 1
	live
	dead
)

func gather(entries []Entry) (*strikes, error) {
	b := &strikes{by: map[uuid.UUID][]uuid.UUID{}, seen: map[uuid.UUID]verdict{}}
	first := make(map[uuid.UUID]int, len(entries))
	for i, e := range entries {
		if j, twice := first[e.ID]; twice {
			if !Same(entries[j], e) {
				return nil, fmt.Errorf("entry %s of %s: %w", e.ID, e.Day, ErrConflict)
			}
			continue
		}
		first[e.ID] = i
		b.once = append(b.once, e)
		if e.Strikes != uuid.Nil {
			b.by[e.Strikes] = append(b.by[e.Strikes], e.ID)
		}
	}
	return b, nil
}

func (b *strikes) stands(id uuid.UUID) (bool, error) {
	by := b.by[id]
	if len(by) == 0 {
		return true, nil
	}
	switch b.seen[id] {
	case asking:
		return false, fmt.Errorf("entry %s strikes itself by way of others: strike one of them by a new entry", id)
	case live, dead:
		return b.seen[id] == live, nil
	}
	b.seen[id] = asking
	found := live
	for _, s := range by {
		ok, err := b.stands(s)
		if err != nil {
			return false, err
		}
		if ok {
			found = dead
		}
	}
	b.seen[id] = found
	return found == live, nil
}

func before(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Time, b.Time), bytes.Compare(a.ID[:], b.ID[:]))
}
