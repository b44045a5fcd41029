package web

import (
	"html/template"
	"time"

	"evenstead/day"
	"evenstead/paper"
)

// The drawings of paper are black: strokes, and fills that print without asking.

// monthsRuler is the head of the beds' year: the months at their places.
func monthsRuler(y *paper.Year) template.HTML {
	var s svg
	s.open("svg", "class", "pmonths", "width", "100%", "height", 16, "aria-hidden", "true", "focusable", "false")
	s.open("symbol", "id", "pgridlines", "class", "pgridlines")
	for i := range y.Months {
		x := pct(monthAt(y, i))
		s.leaf("line", "class", "pgrid", "x1", x, "x2", x, "y2", bedTall)
	}
	s.end("symbol")
	for i, name := range y.Months {
		s.text("text", name, "class", "plabel", "x", pct(monthAt(y, i)), "y", 12)
	}
	s.end("svg")
	return s.html()
}

// monthAt is the place of the first day of a month, a share of the ruler.
func monthAt(y *paper.Year, month int) float64 {
	year, first, _ := y.From.Date()
	return float64(day.Of(year, first+time.Month(month), 1)-y.From) / float64(y.Days)
}

// Heights of a bed's line: the name stands over its ribbon.
const (
	bedTall   = 26
	bedRibbon = 10
)

// bedLine is a bed's year: outlined while a stand grows, black while it bears,
// dashed while it is only planned; a stroke at today.
func bedLine(y *paper.Year, row *paper.YearRow) template.HTML {
	var s svg
	s.open("svg", "class", "pbedline", "width", "100%", "height", bedTall, "aria-hidden", "true", "focusable", "false")
	s.leaf("use", "href", "#pgridlines")
	at := func(days int) float64 { return clamp(float64(days)/float64(y.Days), 0, 1) }
	for _, sp := range row.Spans {
		grows := "pgrow"
		if sp.Planned {
			grows = "pplan"
		}
		from, bears, to := at(sp.Sown), at(sp.First), at(sp.Last)
		s.leaf("rect", "class", grows, "x", pct(from), "y", bedTall-bedRibbon-1, "width", pct(to-from), "height", bedRibbon)
		if to > bears {
			s.leaf("rect", "class", "pbear", "x", pct(bears), "y", bedTall-bedRibbon-1, "width", pct(to-bears), "height", bedRibbon)
		}
	}
	for _, l := range spanNames(y, row) {
		s.text("text", l.words, "class", "plabel", "x", pct(l.at), "y", 11, "text-anchor", l.anchor)
	}
	x := pct(at(y.Today))
	s.leaf("line", "class", "ptoday", "x1", x, "x2", x, "y2", bedTall)
	s.end("svg")
	return s.html()
}

// spanName is the words over a bed's ribbons, from a place on.
type spanName struct {
	words, anchor string
	at            float64
}

// letterShare is the width of a letter as a share of the narrowest ruler drawn.
const letterShare = 0.012

// spanNames puts the name of each stand over its beginning; names that would run
// into each other stand in one row.
func spanNames(y *paper.Year, row *paper.YearRow) (out []spanName) {
	for _, sp := range row.Spans {
		at := clamp(float64(sp.Sown)/float64(y.Days), 0, 1)
		if n := len(out); n > 0 && at < out[n-1].at+letterShare*float64(len(out[n-1].words)+1) {
			out[n-1].words += ", " + sp.Name
			continue
		}
		out = append(out, spanName{sp.Name, "start", at})
	}
	if n := len(out); n > 0 && out[n-1].at+letterShare*float64(len(out[n-1].words)) > 1 {
		out[n-1].anchor, out[n-1].at = "end", 1
	}
	return out
}

// coverBar is a need's cover on a square-root rule: black while it is sure,
// outlined to the middle year, which has the stroke.
func coverBar(c paper.Cover) template.HTML {
	const tall = 14
	var s svg
	s.open("svg", "class", "pcoverbar", "width", "100%", "height", tall, "aria-hidden", "true", "focusable", "false")
	s.leaf("rect", "class", "pbear", "y", 2, "width", pct(c.SureAt), "height", tall-4)
	if c.MiddleAt > c.SureAt {
		s.leaf("rect", "class", "pgrow", "x", pct(c.SureAt), "y", 4, "width", pct(c.MiddleAt-c.SureAt), "height", tall-8)
	}
	for _, days := range []float64{7, 30, 91, 182, 365} {
		x := pct((coverRule{365}).x(days))
		s.leaf("line", "class", "pgrid", "x1", x, "x2", x, "y1", tall-3, "y2", tall)
	}
	x := pct(min(c.MiddleAt, 0.995))
	s.leaf("line", "class", "ptoday", "x1", x, "x2", x, "y2", tall)
	s.end("svg")
	return s.html()
}
