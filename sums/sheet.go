package sums

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
)

// A sheet is the paper a sum is done on: what was given, then the answer.
type sheet struct {
	sys     unit.System
	tables  *data.Tables
	numbers map[string]float64
	lists   map[string][]float64
	texts   map[string]string
	dates   map[string]day.Day
	faults  Problems
	answer  Answer
}

func newSheet(t *data.Tables, sys unit.System) *sheet {
	return &sheet{sys: sys, tables: t, numbers: map[string]float64{}, lists: map[string][]float64{},
		texts: map[string]string{}, dates: map[string]day.Day{}}
}

// num returns an amount in SI; NaN when it was left out.
func (s *sheet) num(key string) float64 {
	if v, ok := s.numbers[key]; ok {
		return v
	}
	return math.NaN()
}

// has reports whether an amount was given or has a default.
func (s *sheet) has(key string) bool { _, ok := s.numbers[key]; return ok }

func (s *sheet) list(key string) []float64 { return s.lists[key] }
func (s *sheet) text(key string) string    { return s.texts[key] }
func (s *sheet) day(key string) day.Day    { return s.dates[key] }
func (s *sheet) dateGiven(key string) bool { _, ok := s.dates[key]; return ok }
func (s *sheet) twelve(key string) (out [12]float64) {
	copy(out[:], s.lists[key])
	return out
}

// fault notes what is wrong with a key.
func (s *sheet) fault(key, value, mend string) {
	s.faults = append(s.faults, Problem{key, value, mend})
}

// need faults each key that was left out; why says when it is needed.
func (s *sheet) need(why string, keys ...string) bool {
	ok := true
	for _, key := range keys {
		if !s.has(key) {
			s.fault(key, "", "is missing; it is needed "+why)
			ok = false
		}
	}
	return ok
}

// say prints an amount in the sheet's system of units.
func (s *sheet) say(v float64, k unit.Kind) string {
	return spaced(unit.Format(v, k, s.sys))
}

// spaced turns no-break spaces into plain ones, so that what is printed can be searched.
func spaced(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// number prints a plain number.
func (s *sheet) number(v float64) string { return s.say(v, unit.Number) }

// line adds a line with an amount.
func (s *sheet) line(label string, v float64, k unit.Kind) { s.over(label, v, k, "") }

// over adds an amount over a span, such as L "a day".
func (s *sheet) over(label string, v float64, k unit.Kind, span string) {
	s.answer.Lines = append(s.answer.Lines, Line{label, v, k, span, strings.TrimSpace(s.say(v, k) + " " + span)})
}

// count adds a number of things.
func (s *sheet) count(label string, v float64, things string) {
	s.shown(label, v, unit.Number, things, s.things(v, things))
}

// things prints a number of things, such as "1 day" and "2 days".
func (s *sheet) things(v float64, things string) string {
	n := s.number(v)
	if n == "1" {
		things = strings.TrimSuffix(things, "s")
	}
	return strings.TrimSpace(n + " " + things)
}

// shown adds an amount with a text of its own.
func (s *sheet) shown(label string, v float64, k unit.Kind, of, text string) {
	s.answer.Lines = append(s.answer.Lines, Line{label, v, k, of, text})
}

// dated adds a day of the year, 1 to 365 and on into the next.
func (s *sheet) dated(label string, d float64) {
	s.shown(label, d, unit.Number, "day of the year", yearday(int(math.Round(d))))
}

// each prints an amount that is for one kg, m or m2 for the unit people use: a pound or a foot.
func (s *sheet) each(v float64, k, per unit.Kind) string {
	word := map[unit.Kind]string{unit.Mass: "kg", unit.Length: "m", unit.Area: "m2"}[per]
	if s.sys == unit.US {
		word = map[unit.Kind]string{unit.Mass: "lb", unit.Length: "ft", unit.Area: "ft2"}[per]
	}
	one, err := unit.Parse("1 "+word, per)
	if err != nil {
		one = 1
	}
	return s.say(v*one, k) + " a " + word
}

// height prints a height above the sea, never in km or miles.
func (s *sheet) height(m float64) string {
	if s.sys == unit.US {
		return s.number(math.Round(m/0.3048)) + " ft"
	}
	return s.number(math.Round(m)) + " m"
}

// word adds a line in words.
func (s *sheet) word(label, text string) {
	s.answer.Lines = append(s.answer.Lines, Line{Label: label, Amount: math.NaN(), Text: spaced(text)})
}

// step says how the answer was reckoned.
func (s *sheet) step(format string, v ...any) {
	s.answer.Steps = append(s.answer.Steps, sentence(spaced(fmt.Sprintf(format, v...))))
}

// warn adds a caution that belongs to this answer.
func (s *sheet) warn(text string) { s.answer.Cautions = append(s.answer.Cautions, sentence(text)) }

func (s *sheet) warnf(format string, v ...any) { s.warn(fmt.Sprintf(format, v...)) }

// sentence begins a text with a capital.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

const kcal = 0.004184 // MJ, the thermochemical kilocalorie of food tables

// food adds an energy that people eat or spend, told in kilocalories too.
func (s *sheet) food(label string, mj float64, span string) {
	text := s.say(mj, unit.Energy)
	if !math.IsNaN(mj) {
		text += " (" + s.number(mj/kcal) + " kcal)"
	}
	s.shown(label, mj, unit.Energy, span, strings.TrimSpace(text+" "+span))
}
