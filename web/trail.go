package web

import (
	"strconv"

	"evenstead/day"
	"evenstead/engine"
)

// A trail is a store over the weeks before today: what the replay had of it, and
// what dips and counts found.
type trail struct {
	weeks int // that stand left of today
	track []trailPoint
	found []finding
}

// trailPoint is a level so many weeks from today; before it they are negative.
type trailPoint struct{ week, level float64 }

// finding is what a look found, and what was reckoned that morning.
type finding struct{ week, reckoned, found float64 }

// rootZone has no trail: how deep the ground is reckoned follows the crops ahead,
// so that its past and its future are not of one measure.
const rootZone = "root-zone"

// trail is what the past shows of a store, within the ruler.
func (v *view) trail(st *engine.StoreOutlook) trail {
	t := trail{weeks: v.ruler.past()}
	if v.past == nil || t.weeks == 0 || st.ID == rootZone {
		return t
	}
	at := func(d day.Day) float64 { return float64(d-v.ruler.today) / 7 }
	for i := range v.past.Tracks {
		if tr := &v.past.Tracks[i]; tr.ID == st.ID {
			for k, d := range tr.Days {
				t.add(trailPoint{at(d), tr.Levels[k]})
			}
		}
	}
	for _, d := range v.past.Drifts {
		if d.Store == st.Name && d.Unit == st.Unit && t.has(at(d.Day)) {
			t.found = append(t.found, finding{at(d.Day), d.Reckoned, d.Found})
		}
	}
	return t
}

func (t *trail) has(week float64) bool { return week >= -float64(t.weeks) && week <= 0 }

func (t *trail) add(p trailPoint) {
	if t.has(p.week) {
		t.track = append(t.track, p)
	}
}

func (t *trail) highest() float64 {
	high := 0.0
	for _, p := range t.track {
		high = max(high, p.level)
	}
	for _, f := range t.found {
		high = max(high, f.reckoned, f.found)
	}
	return high
}

// trail draws the track, and for each look a filled dot at what was found and a
// ring where the reckoning had it, with a stem between them when they differ.
func (s *svg) trail(v stave) {
	t := &v.trail
	if len(t.track) > 1 {
		wide := float64(t.weeks) / float64(v.weeks)
		s.open("svg", "x", pct(-wide), "width", pct(wide), "height", staveLine, "preserveAspectRatio", "none",
			"viewBox", strconv.Itoa(-t.weeks)+" 0 "+strconv.Itoa(t.weeks)+" "+num(staveLine, 0))
		line := track{decimals: 1}
		for _, p := range t.track {
			line.at(p.week, v.y(p.level))
		}
		s.path("track", line.path(false))
		s.end("svg")
	}
	for _, f := range t.found {
		x, ring, dot := pct(f.week/float64(v.weeks)), v.y(f.reckoned), v.y(f.found)
		s.leaf("line", "class", "stem", "x1", x, "x2", x, "y1", ring, "y2", dot)
		s.leaf("circle", "class", "ring", "cx", x, "cy", ring, "r", 3.5)
		s.leaf("circle", "class", "ink", "cx", x, "cy", dot, "r", 3.5)
	}
}
