package web

import (
	"html/template"
	"strconv"

	"evenstead/engine"
)

const (
	staveLine = 86.0 // px of what is there, above the even line
	staveDeep = 30.0 // px of chance below it
	staveTop  = 14.0 // px left free above the greatest level, for the full line's words
	staveBox  = staveLine + staveDeep
	axisTall  = 18.0
	roomMost  = 2.5 // a full line beyond this many times the greatest level would flatten the fan
)

// A stave is one store over the weeks, with the words that belong to it.
type stave struct {
	id     string        // prefix of the ids it needs
	title  string        // what it is
	desc   string        // what it says
	full   string        // words of the full line; empty leaves them out
	weeks  int           // on the page's ruler
	line   float64       // the even line, in the store's unit
	size   float64       // what it holds; 0: no fixed size
	bands  []engine.Band // one a week
	chance []float64     // of the need that hangs below
	trail  trail         // what stands left of today
}

// fan draws a store: two bands and the middle year above the even line, the
// weekly chance of going short below it. What lies under the even line is drawn
// on it, since there the chance speaks.
func (v stave) fan() template.HTML {
	var s svg
	s.open("svg", "class", "fan", "width", "100%", "height", staveBox+axisTall, "role", "img",
		"aria-labelledby", v.id+"t "+v.id+"d")
	s.text("title", v.title, "id", v.id+"t")
	s.text("desc", v.desc, "id", v.id+"d")
	s.leaf("use", "href", "#fan-back")
	s.trail(v)
	s.bands(v)
	s.hang(v.chance, v.weeks, staveLine, staveDeep, v.id+"h")
	s.fullLine(v)
	s.leaf("use", "href", "#fan-line")
	s.end("svg")
	return s.html()
}

func (s *svg) bands(v stave) {
	if len(v.bands) < 2 {
		return
	}
	s.open("svg", "width", "100%", "height", staveLine, "preserveAspectRatio", "none",
		"viewBox", "0 0 "+strconv.Itoa(v.weeks)+" "+num(staveLine, 0))
	s.path("outer", v.between(func(b engine.Band) (float64, float64) { return b.P90, b.P10 }))
	s.path("inner", v.between(func(b engine.Band) (float64, float64) { return b.P75, b.P25 }))
	s.path("mid", v.middle())
	s.end("svg")
}

// between is the closed outline of a band: along its top, back along its bottom.
func (v stave) between(of func(engine.Band) (high, low float64)) string {
	t := track{decimals: 1}
	shown := v.bands[:min(len(v.bands), v.weeks+1)]
	for i, b := range shown {
		high, _ := of(b)
		t.at(float64(i), v.y(high))
	}
	for i := len(shown) - 1; i >= 0; i-- {
		_, low := of(shown[i])
		t.at(float64(i), v.y(low))
	}
	return t.path(true)
}

func (v stave) middle() string {
	t := track{decimals: 1}
	for i, b := range v.bands[:min(len(v.bands), v.weeks+1)] {
		t.at(float64(i), v.y(b.P50))
	}
	return t.path(false)
}

// y is the height of a level in px from the top: the even line below, the
// highest of what may be there or what there is room for above.
func (v stave) y(level float64) float64 {
	room := v.top() - v.line
	if !(room > 0) {
		return staveLine
	}
	return staveLine - (staveLine-staveTop)*clamp((level-v.line)/room, 0, 1)
}

// top is the level at the upper edge.
func (v stave) top() float64 {
	if v.fullShown() {
		return max(v.highest(), v.size)
	}
	return v.highest()
}

func (v stave) highest() float64 {
	high := v.line
	for _, b := range v.bands {
		high = max(high, b.P90)
	}
	return max(high, v.trail.highest())
}

// fullShown tells whether the full line is near enough to be drawn.
func (v stave) fullShown() bool {
	return v.size > v.line && v.size-v.line <= roomMost*(v.highest()-v.line)
}

func (s *svg) fullLine(v stave) {
	if !v.fullShown() {
		return
	}
	y := v.y(v.size)
	s.leaf("line", "class", "brim", "x2", "100%", "y1", y, "y2", y)
	if v.full != "" {
		s.text("text", v.full, "class", "label inset", "x", "99.4%", "y", staveTop-4, "text-anchor", "end")
	}
}
