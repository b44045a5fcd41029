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
// in part as much as fits.
// What must be done is never dropped; when even that is too much, it is said.
func fit(w *Week) {
	w.Asked = 0
	for i := range w.Tasks {
		w.Asked += w.Tasks[i].Minutes / 60
	}
	w.Kept = w.Asked
	at := make([]int, len(w.Tasks))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int {
		x, y := &w.Tasks[a], &w.Tasks[b]
		return cmp.Or(cmp.Compare(y.Rank, x.Rank), cmp.Compare(y.Minutes, x.Minutes))
	})
	for _, i := range at {
		if t := &w.Tasks[i]; w.Kept > w.Hands && t.Rank != Must && t.Minutes > 0 {
			t.Drop = true
			w.Kept -= t.Minutes / 60
		}
	}
	slices.Reverse(at)
	for _, i := range at { // what still fits beside, the dearest first
		if t := &w.Tasks[i]; t.Drop && w.Kept+t.Minutes/60 <= w.Hands {
			t.Drop = false
			w.Kept += t.Minutes / 60
		}
	}
	var dropped []string
	for _, i := range at {
		t := &w.Tasks[i]
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
	w.Said = w.say(dropped)
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
