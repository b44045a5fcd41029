package sense

import (
	"fmt"
	"time"

	"evenstead/book"
)

// watch keeps a freezer's alarm: it rings once the freezer has been too warm for
// an hour, when food must be taken for thawed, every six hours while that lasts,
// and when it is cold again.
func (g *Gauge) watch(now time.Time) []Event {
	if g.Sort != book.Freezer || g.At.IsZero() {
		return nil
	}
	worse := g.warms()
	switch {
	case g.Ringing && g.Value <= coldAgain:
		g.Ringing, g.Rung = false, time.Time{}
		return []Event{{What: Ring, Say: fmt.Sprintf("Freezer %s is cold again: %s. Food that thawed meanwhile does not become safe by freezing.", g.Store, show(g.Value, g.Kind))}}
	case g.Ringing && (worse || now.Sub(g.Rung) >= ringAgain),
		!g.Ringing && !g.Warm.IsZero() && g.At.Sub(g.Warm) >= warmFor:
		g.Ringing, g.Rung = true, now
		return []Event{{What: Ring, Say: g.alarm(g.At)}}
	}
	return nil
}

// warms keeps since when the freezer is too warm, and thawing; it reports whether
// food must be taken for thawed since the last alarm.
func (g *Gauge) warms() (worse bool) {
	switch {
	case g.Value <= coldAgain || !g.Ringing && g.Value <= warm:
		g.Warm = time.Time{}
	case g.Warm.IsZero() && g.Value > warm:
		g.Warm = g.At
	}
	switch {
	case g.Value <= thawed:
		g.Thaw = time.Time{}
	case g.Thaw.IsZero():
		g.Thaw = g.At
	}
	return g.isThawed(g.At) && g.Rung.Before(g.Thaw.Add(thawedFor))
}

func (g *Gauge) isThawed(at time.Time) bool {
	return !g.Thaw.IsZero() && at.Sub(g.Thaw) >= thawedFor
}

// alarm is the sentence of a freezer that is too warm.
func (g *Gauge) alarm(at time.Time) string {
	s := fmt.Sprintf("Freezer %s is at %s and has been warmer than %s for %s.", g.Store, show(g.Value, g.Kind), show(warm, g.Kind), span(at.Sub(g.Warm)))
	if g.isThawed(at) {
		return s + " It was above 4.4 °C for two hours or more: by the published rule thawed meat, fish, eggs, milk and cooked food are thrown away; never taste to find out."
	}
	return s + " Look at its current and its lid, and leave it shut: a full one keeps two days, a half full one a day."
}
