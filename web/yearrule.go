package web

import (
	"html/template"
	"math"
)

const (
	yearTall = 26.0 // px of rain above the line
	yearBox  = yearTall + axisTall + 2
)

// yearRule draws the year under which everything else lines up: solid bars for
// the rain that fell, thin lines for usual rain, crosses for weeks of usual
// frost. It adds no figure that the page needs, so its words are its title.
func yearRule(r ruler, rain *Rain, title, desc string) template.HTML {
	var s svg
	s.open("svg", "class", "year", "width", "100%", "height", yearBox, "role", "img", "aria-labelledby", "yt yd")
	s.text("title", title, "id", "yt")
	s.text("desc", desc, "id", "yd")
	s.leaf("rect", "class", "mist", "width", "100%", "height", yearTall)
	s.fallen(r, rain)
	s.usual(r, rain)
	s.leaf("line", "class", "even", "x2", "100%", "y1", yearTall, "y2", yearTall)
	s.leaf("line", "class", "past", "x1", "-25%", "y1", yearTall, "y2", yearTall)
	s.leaf("use", "href", "#mark", "y", yearTall)
	s.leaf("use", "href", "#axis", "y", yearTall+1, "height", axisTall)
	s.leaf("use", "href", "#pastaxis", "y", yearTall+1, "height", axisTall)
	s.end("svg")
	return s.html()
}

// tallest is the greatest weekly rain, so that bars and lines share one scale.
func (rain *Rain) tallest() float64 {
	high := 1.0
	for _, v := range append(append([]float64{}, rain.Past...), rain.Usual...) {
		if v > high { // which what is not known is not
			high = v
		}
	}
	return high
}

func (s *svg) fallen(r ruler, rain *Rain) {
	past := rain.Past[max(0, len(rain.Past)-r.past()):]
	week := 1 / float64(r.weeks)
	for i, mm := range past {
		if math.IsNaN(mm) {
			continue
		}
		tall := (yearTall - 2) * clamp(mm/rain.tallest(), 0, 1)
		x := float64(i-len(past)) * week
		s.leaf("rect", "class", "rain", "x", pct(x+0.2*week), "width", pct(0.6*week), "y", yearTall-tall, "height", tall)
	}
}

func (s *svg) usual(r ruler, rain *Rain) {
	for i, mm := range rain.Usual[:min(len(rain.Usual), r.weeks)] {
		x := pct((float64(i) + 0.5) / float64(r.weeks))
		s.leaf("line", "class", "hue", "x1", x, "x2", x, "y1", yearTall, "y2", yearTall-(yearTall-4)*clamp(mm/rain.tallest(), 0, 1))
	}
	for _, week := range rain.Frost {
		if week >= 0 && week < r.weeks {
			s.text("text", "×", "class", "label", "x", pct((float64(week)+0.5)/float64(r.weeks)), "y", 9, "text-anchor", "middle")
		}
	}
}
