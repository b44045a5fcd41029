package unit

import (
	"math"
	"strings"
	"unicode"
)

// Parse reads an amount of kind k and returns it in SI. It takes a number with
// a unit ("275 gal", "1 1/2 cups", "2.5 kg a week"), parts in falling units
// ("6 ft 2 in"), or a bare number, which is SI. Errors are of type *Error.
func Parse(text string, k Kind) (float64, error) {
	s := strings.TrimSpace(text)
	if k == Angle {
		return angle(text, s)
	}
	v, rest, ok := number(s)
	if !ok {
		return 0, fault(text, k, "does not start with a number", "write "+example(k))
	}
	rest = trim(rest)
	if rest == "" {
		return v, nil
	}
	if strings.HasPrefix(rest, ",") {
		point := trim(s[:len(s)-len(rest)]) + "." + strings.TrimLeft(rest, ", ")
		return 0, fault(text, k, "has a comma in an odd place", "write a point, as in "+point+", and commas only between thousands")
	}
	if k == Number {
		return 0, fault(text, k, "takes no unit", "write "+trim(s[:len(s)-len(rest)]))
	}
	m, after, ok := matchUnit(rest, k)
	if !ok {
		return 0, unknown(text, k, v, rest)
	}
	total, err := parts(text, k, v*m.factor, m, trim(after))
	if err != nil {
		return 0, err
	}
	if math.IsInf(total, 0) {
		return 0, fault(text, k, "is too large", "write a smaller number")
	}
	return total + m.offset, nil
}

// parts adds what follows a first part, such as the inches after the feet.
func parts(text string, k Kind, total float64, last measure, s string) (float64, error) {
	for s != "" {
		v, rest, ok := number(s)
		m, after, known := matchUnit(trim(rest), k)
		switch {
		case !ok || !known:
			return 0, fault(text, k, "goes on with "+quoteEnd(s), "end after the unit, as in "+example(k))
		case k != Length && k != Mass && k != Volume && k != Time || v < 0 || total < 0 || m.factor >= last.factor:
			return 0, fault(text, k, "has parts that do not add up", "write one amount, or falling units as in 6 ft 2 in")
		}
		total, last, s = total+v*m.factor, m, trim(after)
	}
	return total, nil
}

// Split reads the number at the start of text and the unit after it, of any
// kind. unitWord is "" when the next word is not a unit ("6 eggs"); rest is
// what follows, without leading space. ok is false when text does not start
// with a number. value is as written: use Parse on number and unit for SI.
func Split(text string) (value float64, unitWord string, rest string, ok bool) {
	value, rest, ok = number(trim(text))
	if !ok {
		return 0, "", text, false
	}
	rest = trim(rest)
	best := rest
	for _, k := range Kinds() {
		if m, after, found := matchUnit(rest, k); found && len(after) < len(best) {
			unitWord, best = m.word, after
		}
	}
	return value, unitWord, trim(best), true
}

// KindsOf returns the kinds that a unit word may stand for, none when unknown.
func KindsOf(word string) []Kind {
	var out []Kind
	for _, k := range Kinds() {
		if _, rest, ok := matchUnit(word, k); ok && rest == "" {
			out = append(out, k)
		}
	}
	return out
}

func trim(s string) string { return strings.TrimFunc(s, unicode.IsSpace) }
