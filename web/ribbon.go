package web

import (
	"html/template"
	"math"

	"evenstead/engine"
)

const (
	ribbonTall  = 22.0   // px: the thickness that is certain
	ribbonBox   = 30.0   // px: the drawing's height
	ribbonWide  = 1000.0 // units across the stretched part
	sureShare   = 0.9    // of the years: solid up to here
	unseen      = 0.004  // a change of share too small to show
	thinnestEnd = 0.005  // a share below which nothing is left to draw
)

// ribbon draws the cover of a need: its thickness is the share of years not yet
// short on a day. It is solid to the day that 9 years in 10 reach, pale with an
// outline beyond, with an ink stroke at the middle year. The row's words hold the
// same figures, so it is hidden from screen readers.
func ribbon(n *engine.NeedOutlook, c coverRule) template.HTML {
	var s svg
	s.open("svg", "class", "ribbon", "width", "100%", "height", ribbonBox, "aria-hidden", "true")
	if n.Known {
		s.cover(n, c)
	} else {
		s.leaf("rect", "class", "unknown", "y", (ribbonBox-ribbonTall)/2, "width", "100%", "height", ribbonTall)
	}
	s.leaf("line", "class", "today", "y1", 1, "y2", ribbonBox-1)
	s.end("svg")
	return s.html()
}

func (s *svg) cover(n *engine.NeedOutlook, c coverRule) {
	sure := float64(n.Sure)
	s.open("svg", "viewBox", "0 0 1000 30", "preserveAspectRatio", "none", "width", "100%", "height", ribbonBox)
	s.path("tail", c.edge(n.Covered, sure, float64(c.days)))
	s.path("solid", c.edge(n.Covered, 0, sure))
	s.end("svg")
	s.leaf("use", "href", "#cover", "y", 0)
	if !n.Open[1] {
		x := pct(c.x(float64(n.Middle)))
		s.leaf("line", "class", "middle", "x1", x, "x2", x, "y1", 1, "y2", ribbonBox-1)
	}
}

// edge is the closed outline of the ribbon between two days: along the top, back
// along the bottom. Between weeks the share runs straight.
func (c coverRule) edge(covered []float64, from, to float64) string {
	days, shares := stretch(covered, from, to)
	if len(days) < 2 || shares[0] < thinnestEnd {
		return ""
	}
	t := track{decimals: 1}
	for i := range days {
		t.at(c.reach(days[i]), ribbonBox/2-ribbonTall/2*shares[i])
	}
	for i := len(days) - 1; i >= 0; i-- {
		t.at(c.reach(days[i]), ribbonBox/2+ribbonTall/2*shares[i])
	}
	return t.path(true)
}

// reach is the place of a day in the stretched part. The last week's end lies
// just outside, where it is cut off: what goes on stays open at the right.
func (c coverRule) reach(days float64) float64 {
	if days > float64(c.days)-7 && days >= float64(c.days/7*7) {
		return ribbonWide + 10
	}
	return ribbonWide * c.x(days)
}

// stretch returns the days and shares of the ribbon's corners from one day to
// another, leaving out points that lie on a level run.
func stretch(covered []float64, from, to float64) (days, shares []float64) {
	end := float64(7 * (len(covered) - 1))
	if to = min(to, end); len(covered) == 0 || from >= to {
		return nil, nil
	}
	add := func(d float64) {
		days, shares = append(days, d), append(shares, shareAt(covered, d))
	}
	add(from)
	for i := 1; i < len(covered)-1; i++ {
		d, last := float64(7*i), shares[len(shares)-1]
		level := math.Abs(covered[i]-last) < unseen && math.Abs(covered[i+1]-last) < unseen
		if d > from && d < to && !level {
			add(d)
		}
	}
	add(to)
	return days, shares
}

// shareAt is the share on a day, straight between the weeks.
func shareAt(covered []float64, d float64) float64 {
	i := min(int(d/7), len(covered)-1)
	v := covered[i]
	if i+1 < len(covered) {
		v += (covered[i+1] - v) * (d/7 - float64(i))
	}
	return clamp(v, 0, 1)
}
