package hearth

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
)

// replayMembers are enough to tell the climate that a usual garden is sown by, and
// the horizon is the outlook's; the replay itself runs none.
const replayMembers = 30

// Replay carries the stead to a day, for the state alone: no member is run.
func (h *Home) Replay(ctx context.Context, a Ask) (*engine.Past, error) {
	a.Members, a.Days = replayMembers, 365
	r, err := h.Reckon(ctx, a)
	if err != nil {
		return nil, err
	}
	return r.Past, nil
}

// Knowing is Context with what the reckoning knows besides: the foods that should
// be gone, the days until which drums stay shut and the gates of the ground. Without weather to reckon
// with it is Context alone, and why says so.
func (h *Home) Knowing(ctx context.Context, today day.Day, who string, sys unit.System) (c book.Context, why, err error) {
	if c, err = h.Context(ctx, today, who, sys); err != nil {
		return c, nil, err
	}
	past, why := h.Replay(ctx, Ask{Today: today})
	if why == nil {
		past.Fill(&c)
		c.Bars, why = past.Bars()
	}
	return c, why, nil
}

// Would tells what readings would do, were they written: the flows of each, or
// why it can't be reckoned with. Readings that can't be saved are passed over.
func (h *Home) Would(ctx context.Context, today day.Day, readings []book.Reading) (map[int]engine.Told, error) {
	lines := map[uuid.UUID]int{}
	var also []book.Entry
	for _, r := range readings {
		if r.Err != nil {
			continue
		}
		e := r.Entry
		e.ID = mark(r.Line)
		lines[e.ID] = r.Line
		also = append(also, e)
	}
	past, err := h.Replay(ctx, Ask{Today: today, Also: also, Tell: func(e book.Entry) bool { return lines[e.ID] > 0 }})
	if err != nil {
		return nil, err
	}
	out := map[int]engine.Told{}
	for _, t := range past.Told {
		id, err := uuid.Parse(t.Entry)
		if err != nil {
			return nil, fmt.Errorf("what entry %s does: %w", t.Entry, err)
		}
		out[lines[id]] = t
	}
	return out, nil
}

// mark is an id for an entry that is not written yet; it sorts last among those
// of its day, as the newest does.
func mark(line int) uuid.UUID {
	id := uuid.Max
	id[6], id[8] = 0x7f, 0xbf
	id[14], id[15] = byte(line>>8), byte(line)
	return id
}

// Refuse marks the readings that the reckoning refuses.
func Refuse(readings []book.Reading, told map[int]engine.Told) {
	for i := range readings {
		if t, ok := told[readings[i].Line]; ok && t.Err != nil && readings[i].Err == nil {
			readings[i].Err = t.Err
		}
	}
}
