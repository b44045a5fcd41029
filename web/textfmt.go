package web

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"evenstead/day"
	"evenstead/unit"
)

// nbsp holds a number to its unit.
const nbsp = "\u00a0"

// held keeps a chance on one line: "6 years of 10" breaks only before the six.
// In Spanish it is "6 de cada 10 años".
var held = strings.NewReplacer(" years of 10", nbsp+"years"+nbsp+"of"+nbsp+"10", " in 100", nbsp+"in"+nbsp+"100", " de cada 10", nbsp+"de"+nbsp+"cada"+nbsp+"10")

// sampleNumber is a number as count, figure and decimals write it. The phrase
// "number" of a language is its own sample of one, from which its marks and the
// least digits that it groups are read: "12 345,6" leaves four digits together.
const sampleNumber = "1,234.5"

// number writes a number of count, figure or decimals as the language does;
// anything else stays.
func (w words) number(s string) string {
	sample := w["number"]
	if sample == "" || sample == sampleNumber || !plainNumber.MatchString(s) {
		return s
	}
	lead, marks := max(0, strings.IndexFunc(sample, notDigit)), w.marks()
	whole, parts, broken := strings.Cut(s, ".")
	if digits := strings.ReplaceAll(strings.TrimPrefix(whole, "-"), ",", ""); len(digits) < lead+3 {
		whole = strings.ReplaceAll(whole, ",", "")
	}
	whole = strings.ReplaceAll(whole, ",", string(marks.Group))
	if !broken {
		return whole
	}
	return whole + string(marks.Point) + parts
}

var plainNumber = regexp.MustCompile(`^-?[0-9]+(,[0-9]{3})*(\.[0-9]+)?$`)

// marked writes an amount of unit.Format as the language writes its number.
func (w words) marked(amount string) string {
	number, unit, ok := strings.Cut(amount, nbsp)
	if !ok {
		return amount
	}
	return w.number(number) + nbsp + unit
}

func notDigit(r rune) bool { return !unicode.IsDigit(r) }

// numbers writes those of a phrase's arguments that are numbers.
func (w words) numbers(args []any) []any {
	args = slices.Clone(args)
	for i, a := range args {
		if s, ok := a.(string); ok {
			args[i] = w.number(s)
		}
	}
	return args
}

// count, figure and decimals write numbers that stand alone, outside a phrase.
func (w words) count(n int) string               { return w.number(count(n)) }
func (w words) figure(v float64) string          { return w.number(figure(v)) }
func (w words) decimals(v float64, n int) string { return w.number(decimals(v, n)) }

// count writes a whole number with commas: "1,330".
func count(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// figure writes a quantity with as many digits as can be meant: whole from 10,
// one decimal from 1, two below.
func figure(v float64) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "–"
	case a >= 9.95:
		return count(int(math.Round(v)))
	case a >= 0.995:
		return decimals(v, 1)
	}
	return decimals(v, 2)
}

func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// A measure turns an SI unit into the one a page shows.
type measure struct {
	unit string
	per  float64 // shown units in one SI unit
}

// customary are the US units shown for SI ones; package unit knows the factors.
var customary = map[string]struct {
	kind unit.Kind
	word string
}{
	"L": {unit.Volume, "gal"}, "m3": {unit.Volume, "ft³"}, "kg": {unit.Mass, "lb"}, "g": {unit.Mass, "oz"},
	"m2": {unit.Area, "ft²"}, "m": {unit.Length, "ft"}, "mm": {unit.Depth, "in"}, "MJ": {unit.Energy, "kWh"},
	"g/m2": {unit.ArealMass, "oz/ft²"},
}

// aYear ends the unit of a flow.
const aYear = " a year"

// measure finds how a unit is shown; units it does not know stay.
func (o Options) measure(si string) measure {
	if stock, ok := strings.CutSuffix(si, aYear); ok {
		m := o.measure(stock)
		return measure{m.unit + " " + o.words.or("name.unit.year", "a year"), m.per}
	}
	if us, ok := customary[si]; ok && o.Units == unit.US {
		one, err := unit.Parse("1 "+si, us.kind)
		other, err2 := unit.Parse("1 "+us.word, us.kind)
		if err == nil && err2 == nil {
			return measure{us.word, one / other}
		}
	}
	return measure{o.words.or("name.unit."+si, strings.NewReplacer("m2", "m²", "m3", "m³").Replace(si)), 1}
}

// amount writes an SI quantity in the units of the page: "1,330 L", "351 gal".
func (o Options) amount(v float64, unit string) string {
	m := o.measure(unit)
	return strings.TrimRight(o.words.figure(v*m.per)+nbsp+strings.ReplaceAll(m.unit, " ", nbsp), nbsp)
}

// inTen says a chance as years of ten: "6 years of 10". Under 1 in 20 and over
// 19 in 20 it says so; certainty is "every year".
func (w words) inTen(p float64) string {
	switch n := int(math.Round(10 * p)); {
	case !(p > 0):
		return w.say("chance.none")
	case p < 0.05:
		return w.say("chance.rare")
	case p >= 1:
		return w.say("chance.all")
	case n >= 10:
		return w.say("chance.most")
	case n <= 1:
		return w.say("chance.one")
	default:
		return w.say("chance.years", strconv.Itoa(n))
	}
}

// inHundred says a weekly chance: "56 in 100".
func (w words) inHundred(p float64) string {
	return w.say("chance.hundred", inHundred(p))
}

// inHundred is a chance in parts of a hundred.
func inHundred(p float64) string { return strconv.Itoa(int(math.Round(100 * clamp(p, 0, 1)))) }

// days says a span from today: "a year" when it is one, else days.
func (w words) days(n int, open bool) string {
	switch {
	case open && n >= 360 && n <= 371:
		return w.say("span.year")
	case open && n >= 725 && n <= 735:
		return w.say("span.two")
	case n == 1:
		return w.say("span.day")
	case open:
		return w.say("span.open", count(n))
	}
	return w.say("span.days", count(n))
}

// weekday writes a date for the almanac line: "Thu 14 May 2026".
func (w words) weekday(d day.Day) string {
	return w.say("weekday."+strconv.Itoa(int(d.Time().Weekday()))) + nbsp + w.long(d)
}

// lowerFirst writes a name as it stands within a sentence: "vitamin B6". One that
// begins with two capitals stays.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	next, _ := utf8.DecodeRuneInString(s[n:])
	if n == 0 || unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// upperFirst writes a name as a heading begins.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
