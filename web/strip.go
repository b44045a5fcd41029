package web

import (
	"html/template"
	"strconv"
	"strings"

	"evenstead/engine"
)

// Chances below the line are drawn in three strengths; less than 1 in 20 is not.
const (
	solidFrom   = 0.5
	hatchedFrom = 0.2
	outlineFrom = 0.05
)

// A strength is how a weekly chance is drawn.
type strength int

const (
	absent strength = iota
	outlined
	hatched
	solid
)

func strengthOf(chance float64) strength {
	switch {
	case chance >= solidFrom:
		return solid
	case chance >= hatchedFrom:
		return hatched
	case chance >= outlineFrom:
		return outlined
	}
	return absent
}

const (
	stripLine = 2.0  // px: where the even line lies
	stripDeep = 26.0 // px: the depth that is certain
	stripBox  = stripLine + stripDeep + 2
)

// strip draws the weeks of a need hanging under an even line: depth is the
// chance of falling short that week. id makes its clip path unique in the page.
// The words beside it hold the worst week, so it is hidden from screen readers.
func strip(n *engine.NeedOutlook, weeks int, id string) template.HTML {
	var s svg
	s.open("svg", "class", "strip", "width", "100%", "height", stripBox, "aria-hidden", "true")
	s.leaf("use", "href", "#strip-back")
	if n.Known {
		s.hang(n.Short, weeks, stripLine, stripDeep, id)
	} else {
		s.leaf("rect", "class", "unknown", "y", stripLine, "width", "100%", "height", stripDeep)
	}
	s.leaf("use", "href", "#strip-line")
	s.end("svg")
	return s.html()
}

// back is the ground of a drawing: the time ahead in mist, cut by months.
func (s *svg) back(tall float64) {
	s.leaf("rect", "class", "mist", "width", "100%", "height", tall)
	s.leaf("use", "href", "#months", "height", tall)
}

// evenLine draws the level at which enough ends, thick where it is past, and today.
func (s *svg) evenLine(y, tall float64) {
	s.leaf("line", "class", "even", "x2", "100%", "y1", y, "y2", y)
	s.leaf("line", "class", "past", "x1", "-25%", "y1", y, "y2", y)
	s.leaf("line", "class", "today", "y1", 0.0, "y2", tall)
}

// hang draws weekly chances downward from y, deep for certain. Bars of one
// strength are one path; hatching is a plain rectangle seen through a clip path
// scaled to its box, so that the lines do not lean with the page's width.
func (s *svg) hang(chance []float64, weeks int, y, deep float64, id string) {
	var full, line, clip strings.Builder
	for i, p := range chance[:min(len(chance), weeks)] {
		p = clamp(p, 0, 1)
		switch strengthOf(p) {
		case solid:
			bar(&full, i, p*deep)
		case hatched:
			bar(&line, i, p*deep)
			bar(&clip, i, p*deep)
		case outlined:
			bar(&line, i, p*deep)
		}
	}
	if clip.Len() > 0 {
		s.open("clipPath", "id", id, "clipPathUnits", "objectBoundingBox")
		s.leaf("path", "transform", "scale("+num(1/float64(weeks), 6)+" "+num(1/deep, 6)+")", "d", clip.String())
		s.end("clipPath")
		s.leaf("rect", "class", "hatch", "y", y, "width", "100%", "height", deep, "clip-path", "url(#"+id+")")
	}
	if full.Len()+line.Len() == 0 {
		return
	}
	s.open("svg", "y", y, "width", "100%", "height", deep+1, "preserveAspectRatio", "none",
		"viewBox", "0 0 "+strconv.Itoa(weeks)+" "+num(deep+1, 1))
	s.path("full", full.String())
	s.path("open", line.String())
	s.end("svg")
}

// bar adds a rectangle that hangs from 0 over four fifths of a week.
func bar(b *strings.Builder, week int, deep float64) {
	b.WriteString("M" + strconv.Itoa(week) + ".1 0h.8v" + num(deep, 1) + "h-.8z")
}
