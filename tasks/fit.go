package tasks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// leastPart is the least part of a task worth beginning, minutes (common practice).
const leastPart = 30

// fit marks what to drop so that a week's work goes into its hours: from the rank
// that costs least to let slip, the longest task first, so that few are dropped;
// short ones that still fit beside the rest are kept, and of work that can be done
// in part as much as fits. What must be done is never dropped; when even that is
// too much, it is said.
func fit(w *Week) {
	w.Asked = 0
	at := make([]*Task, len(w.Tasks))
	for i := range w.Tasks {
		at[i] = &w.Tasks[i]
		w.Asked += at[i].Minutes / 60
	}
	w.Kept = w.Asked
	slices.SortStableFunc(at, func(a, b *Task) int {
		return cmp.Or(cmp.Compare(b.Rank, a.Rank), cmp.Compare(b.Minutes, a.Minutes))
	})
	for _, t := range at {
		if w.Kept > w.Hands && t.Rank != Must && t.Minutes > 0 {
			t.Drop = true
			w.Kept -= t.Minutes / 60
		}
	}
	slices.Reverse(at)
	w.keep(at)
	w.Said = w.say(w.cut(at))
}

// keep takes back what still fits beside the rest, the dearest first.
func (w *Week) keep(at []*Task) {
	for _, t := range at {
		if t.Drop && w.Kept+t.Minutes/60 <= w.Hands {
			t.Drop = false
			w.Kept += t.Minutes / 60
		}
	}
}

// cut fills the hours left with parts of what can be done in part, and names what
// is dropped, the cheapest first.
func (w *Week) cut(at []*Task) (dropped []string) {
	for _, t := range at {
		if room := 60 * (w.Hands - w.Kept); t.Drop && t.Parts && room >= leastPart {
			t.Drop, t.Cut, t.Minutes = false, t.Minutes-room, room
			w.Kept = w.Hands
			dropped = append(dropped, fmt.Sprintf("%.0f of the %.0f h to %s", t.Cut/60, (t.Cut+t.Minutes)/60, lower(t.Title)))
		}
		if t.Drop {
			dropped = append(dropped, lower(t.Title))
		}
	}
	slices.Reverse(dropped)
	return dropped
}

func (w *Week) say(dropped []string) string {
	asked := fmt.Sprintf("The work asks %.0f h and there are %.0f.", w.Asked, w.Hands)
	switch {
	case w.Kept > w.Hands:
		return asked + fmt.Sprintf(" It does not fit: what must be done alone asks %.0f h. Ask for help, or let the exchange work wait by agreement. Everything else is marked (drop).", w.Kept)
	case len(dropped) > 0:
		return asked + fmt.Sprintf(" Drop first: %s. The rest asks %.0f h.", strings.Join(dropped, "; "), w.Kept)
	}
	return asked + fmt.Sprintf(" It fits, with %.0f h to spare for what is not listed.", w.Hands-w.Asked)
}
