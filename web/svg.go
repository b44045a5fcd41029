package web

import (
	"html/template"
	"math"
	"strconv"
	"strings"
)

// svg writes a drawing. Attributes and text are escaped as they are written, so
// no name can leave its place.
type svg struct{ b strings.Builder }

// open writes a start tag; kv alternates attribute names and values.
func (s *svg) open(tag string, kv ...any) { s.start(tag, kv, ">") }

// leaf writes an element without content.
func (s *svg) leaf(tag string, kv ...any) { s.start(tag, kv, "/>") }

// end closes a tag.
func (s *svg) end(tag string) { s.b.WriteString("</" + tag + ">") }

// text writes an element that holds only words.
func (s *svg) text(tag, words string, kv ...any) {
	s.open(tag, kv...)
	s.b.WriteString(template.HTMLEscapeString(words))
	s.end(tag)
}

// path writes a path of a class; an empty one is left out.
func (s *svg) path(class, d string) {
	if d != "" {
		s.leaf("path", "class", class, "d", d)
	}
}

func (s *svg) start(tag string, kv []any, close string) {
	s.b.WriteString("<" + tag)
	for i := 0; i+1 < len(kv); i += 2 {
		s.b.WriteString(" " + kv[i].(string) + `="` + template.HTMLEscapeString(attr(kv[i+1])) + `"`)
	}
	s.b.WriteString(close)
}

// html hands the finished drawing to a template.
func (s *svg) html() template.HTML { return template.HTML(s.b.String()) } // #nosec G203 -- words go through a writer that escapes

// pct is a share of the width, written as a percentage.
type pct float64

func attr(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case float64:
		return num(v, 1)
	case pct:
		return num(100*float64(v), 2) + "%"
	}
	return ""
}

// num writes a number with at most the given decimals, as short as SVG allows:
// "12", "3.4", "-.5". What is not a number becomes 0.
func num(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	switch {
	case s == "-0" || s == "":
		return "0"
	case strings.HasPrefix(s, "0."):
		return s[1:]
	case strings.HasPrefix(s, "-0."):
		return "-" + s[2:]
	}
	return s
}

// track is a path of absolute points, one decimal of a pixel tall.
type track struct {
	b        strings.Builder
	x, y     float64
	decimals int
}

// at rounds before it takes the difference, so that steps do not drift.
func (t *track) at(x, y float64) {
	x, y = round(x, t.decimals), round(y, t.decimals)
	if t.b.Len() == 0 {
		t.b.WriteString("M" + num(x, t.decimals) + " " + num(y, t.decimals) + "l")
	} else {
		dx, dy := num(x-t.x, t.decimals), num(y-t.y, t.decimals)
		t.b.WriteString(" " + dx)
		if dy[0] != '-' {
			t.b.WriteByte(' ')
		}
		t.b.WriteString(dy)
	}
	t.x, t.y = x, y
}

// String is the path so far; closed joins its ends.
func (t *track) path(closed bool) string {
	s := strings.ReplaceAll(t.b.String(), "l ", "l")
	if closed {
		s += "z"
	}
	return s
}

func round(v float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	if v = math.Round(v*p) / p; math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// clamp holds v within lo and hi; what is not a number becomes lo.
func clamp(v, lo, hi float64) float64 {
	if !(v > lo) {
		return lo
	}
	return math.Min(v, hi)
}
