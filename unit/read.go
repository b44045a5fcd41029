package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

var vulgar = map[rune]float64{
	'½': 1.0 / 2, '⅓': 1.0 / 3, '⅔': 2.0 / 3, '¼': 1.0 / 4, '¾': 3.0 / 4,
	'⅛': 1.0 / 8, '⅜': 3.0 / 8, '⅝': 5.0 / 8, '⅞': 7.0 / 8,
}

// number reads a number at the start of s: "3,000", "0.5", "1/2", "1 1/2",
// "1½", with an optional sign. Commas must part groups of three.
func number(s string) (v float64, rest string, ok bool) {
	sign := 1.0
	for _, m := range []string{"-", "−", "+"} {
		if t, cut := strings.CutPrefix(s, m); cut {
			s = t
			if m != "+" {
				sign = -1
			}
			break
		}
	}
	v, rest, ok = unsigned(s)
	return sign * v, rest, ok && !math.IsInf(v, 0)
}

func unsigned(s string) (float64, string, bool) {
	if f, rest, ok := fraction(s); ok {
		return f, rest, true
	}
	v, rest, ok := decimal(s)
	if !ok {
		return 0, s, false
	}
	if v != math.Trunc(v) {
		return v, rest, true
	}
	if f, after, ok := fraction(strings.TrimLeftFunc(rest, unicode.IsSpace)); ok && f < 1 {
		return v + f, after, true
	}
	return v, rest, true
}

// fraction reads "1/2" or "½".
func fraction(s string) (float64, string, bool) {
	if r, n := utf8.DecodeRuneInString(s); vulgar[r] != 0 {
		return vulgar[r], s[n:], true
	}
	top, rest := digits(s)
	below, ok := strings.CutPrefix(rest, "/")
	if top == "" || !ok {
		return 0, s, false
	}
	bottom, rest := digits(below)
	a, _ := strconv.ParseFloat(top, 64)
	b, _ := strconv.ParseFloat(bottom, 64)
	if b == 0 || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return 0, s, false
	}
	return a / b, rest, true
}

// decimal reads digits, grouped by commas or not, and a decimal part.
func decimal(s string) (float64, string, bool) {
	whole, rest := grouped(s)
	text := whole
	if after, ok := strings.CutPrefix(rest, "."); ok {
		if part, left := digits(after); part != "" {
			text, rest = whole+"."+part, left
		}
	}
	if text == "" {
		return 0, s, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, rest, err == nil
}

// grouped reads digits, dropping commas that stand before exactly three digits. No
// thousands follow a leading nought or more than three digits: "0,125" is a decimal
// comma, which the caller refuses.
func grouped(s string) (string, string) {
	whole, rest := digits(s)
	may := tripled.MatchString(whole)
	for may && len(rest) > 3 && rest[0] == ',' {
		group, after := digits(rest[1:])
		if len(group) != 3 {
			break
		}
		whole, rest = whole+group, after
	}
	return whole, rest
}

func digits(s string) (string, string) {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return s[:n], s[n:]
}

// longest finds the longest unit of list that s begins with as a whole word.
func longest(s string, list []measure) (m measure, rest string, ok bool) {
	for _, c := range list {
		n := len(c.word)
		if n > len(m.word) && n <= len(s) && spelt(s[:n], c.word) && wordEnds(s, n) {
			m, rest, ok = c, s[n:], true
		}
	}
	return m, rest, ok
}

// wordEnds reports whether a unit that ends at n is not the start of a longer word.
func wordEnds(s string, n int) bool {
	last, _ := utf8.DecodeLastRuneInString(s[:n])
	next, _ := utf8.DecodeRuneInString(s[n:])
	if n == len(s) || !unicode.IsLetter(last) && !unicode.IsDigit(last) {
		return true
	}
	return !unicode.IsLetter(next) && !unicode.IsDigit(next) && next != '²' && next != '³'
}

// matchUnit finds the longest unit of kind k at the start of s.
func matchUnit(s string, k Kind) (measure, string, bool) {
	m, rest, ok := longest(s, simple[k])
	r, has := ratios[k]
	if !has {
		return m, rest, ok
	}
	top, after, found := longest(s, r.over)
	under, found2 := cutOver(after)
	if !found || !found2 {
		return m, rest, ok
	}
	bottom, left, found := longest(under, r.under)
	if !found || ok && len(left) >= len(rest) {
		return m, rest, ok
	}
	word := strings.TrimSpace(s[:len(s)-len(left)])
	return measure{word: word, factor: top.factor / bottom.factor * r.scale}, left, true
}

// cutOver cuts "/", "per", "a" or "an" off the front of s.
func cutOver(s string) (string, bool) {
	t := strings.TrimLeftFunc(s, unicode.IsSpace)
	if u, ok := strings.CutPrefix(t, "/"); ok {
		return strings.TrimLeftFunc(u, unicode.IsSpace), true
	}
	for _, w := range []string{"per", "an", "a"} {
		u, ok := strings.CutPrefix(t, w)
		v := strings.TrimLeftFunc(u, unicode.IsSpace)
		if ok && len(v) < len(u) && len(t) < len(s) {
			return v, true
		}
	}
	return s, false
}
