package web

import (
	"html/template"
	"strconv"

	"evenstead/engine"
)

// groups are the needs' groups in the order they are always shown.
var groups = []string{engine.Water, engine.Food, engine.Heat, engine.Soil, engine.Room, engine.Hours}

// groupRank places a group; one that is not known comes last.
func groupRank(group string) int {
	for i, g := range groups {
		if g == group {
			return i
		}
	}
	return len(groups)
}

// hue is the class that sets a group's hue and hatch; unknown groups are ink.
func hue(group string) string {
	if groupRank(group) == len(groups) {
		return "g-room"
	}
	return "g-" + group
}

// defs draws once what all drawings of a page use: month grid, axis, cover
// ticks, today's mark, glyphs, the gate and the patterns.
func defs(r ruler, c coverRule, w words) template.HTML {
	var s svg
	s.open("svg", "class", "defs", "width", "0", "height", "0", "aria-hidden", "true")
	s.grid(r)
	s.axis(r, w)
	s.coverTicks(c)
	s.shared()
	s.b.WriteString(fixedDefs)
	s.patterns()
	s.end("svg")
	return s.html()
}

func (s *svg) grid(r ruler) {
	s.open("symbol", "id", "months")
	for _, m := range r.months() {
		if m.whole {
			s.leaf("line", "class", "grid", "x1", pct(m.from), "x2", pct(m.from), "y2", "100%")
		}
	}
	s.end("symbol")
}

// axis names the months under a drawing; the style shows initials where it is narrow.
func (s *svg) axis(r ruler, w words) {
	s.open("symbol", "id", "axis")
	s.monthNames(r.months(), w)
	s.end("symbol")
	s.open("symbol", "id", "pastaxis")
	s.monthNames(r.pastMonths(), w)
	s.end("symbol")
}

func (s *svg) monthNames(months []monthSpan, w words) {
	every := (len(months) + 14) / 15
	for i, m := range months {
		if m.whole {
			s.leaf("line", "class", "tick", "x1", pct(m.from), "x2", pct(m.from), "y2", 4)
		}
		if i%every != 0 || m.to-m.from < float64(every)*0.025 && !m.whole || m.to-m.from < 0.02 {
			continue
		}
		mid, n := pct((m.from+m.to)/2), strconv.Itoa(int(m.month))
		s.text("text", w.say("month."+n), "class", "label wide", "x", mid, "y", 14, "text-anchor", "middle")
		s.text("text", w.say("initial."+n), "class", "label narrow", "x", mid, "y", 14, "text-anchor", "middle")
	}
}

// shared draws what is the same in every strip and in every fan.
func (s *svg) shared() {
	s.group("strip-back", func() { s.back(stripBox) })
	s.group("strip-line", func() { s.evenLine(stripLine, stripBox) })
	s.group("fan-back", func() { s.back(staveBox) })
	s.group("fan-line", func() {
		s.evenLine(staveLine, staveBox)
		s.leaf("use", "href", "#mark", "y", staveLine)
		s.leaf("use", "href", "#axis", "y", staveBox, "height", axisTall)
	})
}

func (s *svg) group(id string, draw func()) {
	s.open("g", "id", id)
	draw()
	s.end("g")
}

// coverTicks is the line of the cover rule with its marks, drawn on each ribbon.
func (s *svg) coverTicks(c coverRule) {
	s.open("g", "id", "cover")
	s.leaf("line", "class", "thin", "x2", "100%", "y1", ribbonBox/2, "y2", ribbonBox/2)
	for _, t := range c.ticks() {
		x := pct(c.x(float64(t.days)))
		s.leaf("line", "class", "thin", "x1", x, "x2", x, "y1", ribbonBox/2-3, "y2", ribbonBox/2+3)
	}
	s.end("g")
}

// coverAxis is the rule over the ribbons, with its words and today's mark.
func coverAxis(c coverRule, w words) template.HTML {
	var s svg
	s.open("svg", "class", "ribbon", "width", "100%", "height", 26, "aria-hidden", "true")
	s.leaf("line", "class", "base", "x2", "100%", "y1", 20, "y2", 20)
	for _, t := range c.ticks() {
		x, anchor := c.x(float64(t.days)), "middle"
		if x > 0.97 {
			anchor = "end"
		}
		s.leaf("line", "class", "base", "x1", pct(x), "x2", pct(x), "y1", 16, "y2", 20)
		s.text("text", w.say(t.key), "class", "label", "x", pct(x), "y", 11, "text-anchor", anchor)
	}
	s.leaf("use", "href", "#mark", "y", 20)
	s.end("svg")
	return s.html()
}

func (s *svg) patterns() {
	for _, g := range groups {
		s.open("pattern", "id", "hatch-"+g, "class", hue(g), "width", 5, "height", 5, "patternUnits", "userSpaceOnUse",
			"patternTransform", "rotate(45)")
		s.leaf("line", "class", "hue", "x1", 1, "x2", 1, "y2", 5)
		s.end("pattern")
	}
	s.open("pattern", "id", "dots", "width", 6, "height", 6, "patternUnits", "userSpaceOnUse")
	s.leaf("circle", "class", "dot", "cx", 3, "cy", 3, "r", 0.9)
	s.end("pattern")
}

// fixedDefs are today's mark (a disc on a line, its lower half full), the
// glyphs of the needs and the five-barred gate.
const fixedDefs = `<g id="mark"><circle class="disc" r="5.5"/><path class="ink" d="M-5.5 0a5.5 5.5 0 0 0 11 0z"/></g>` +
	`<symbol id="i-water" viewBox="0 0 16 16"><path d="M1 6q3.5-4 7 0t7 0M1 11.5q3.5-4 7 0t7 0"/></symbol>` +
	`<symbol id="i-food" viewBox="0 0 16 16"><path d="M4.4 4.6h.01M11.6 4.6h.01M8 11.4h.01" class="grain"/></symbol>` +
	`<symbol id="i-heat" viewBox="0 0 16 16"><path d="M1.5 14 8 2.5 14.5 14zM5.5 14 8 9l2.5 5"/></symbol>` +
	`<symbol id="i-soil" viewBox="0 0 16 16"><path d="M1.5 3.5h13M4 8h8M6.5 12.5h3"/></symbol>` +
	`<symbol id="i-room" viewBox="0 0 16 16"><path d="M2 2v12h12V2M2 8h12"/></symbol>` +
	`<symbol id="i-hours" viewBox="0 0 16 16"><path d="M3.5 2h9M3.5 14h9M4.5 2 8 8l-3.5 6M11.5 2 8 8l3.5 6"/></symbol>` +
	`<symbol id="gate" viewBox="0 0 30 24"><path d="M2.5 1v22M27.5 1v22M2.5 4h25M2.5 8h25M2.5 12h25M2.5 16h25M2.5 20h25M4 20 26 4"/></symbol>`
