package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// angle reads decimal degrees or degrees, minutes and seconds, with N, S, E or
// W before or after: "40.1 N", "-33.9", "13°44'N", "22° 54' 30\" S".
func angle(text, s string) (float64, error) {
	hemi, body := hemisphere(s)
	v, rest, ok := number(body)
	if !ok {
		return 0, fault(text, Angle, "does not start with a number", "write "+example(Angle))
	}
	if hemi != 0 && strings.HasPrefix(body, "-") {
		return 0, fault(text, Angle, "has both a minus sign and a letter", "keep one of them")
	}
	rest = cutAny(trim(rest), "°", "deg")
	v, ok = minutes(v, trim(rest))
	if !ok {
		return 0, fault(text, Angle, "is not degrees, minutes and seconds", "write "+example(Angle))
	}
	if v > 360 || v < -360 {
		return 0, fault(text, Angle, "is more than a full turn", "write degrees, such as "+example(Angle))
	}
	if hemi == 'S' || hemi == 'W' {
		v = -v
	}
	return v, nil
}

// hemisphere cuts one of N, S, E, W from either end of s; 0 when there is none.
func hemisphere(s string) (rune, string) {
	if s == "" {
		return 0, s
	}
	first, n := utf8.DecodeRuneInString(s)
	if r := unicode.ToUpper(first); strings.ContainsRune("NSEW", r) {
		return r, trim(s[n:])
	}
	last, n := utf8.DecodeLastRuneInString(s)
	if r := unicode.ToUpper(last); strings.ContainsRune("NSEW", r) {
		return r, trim(s[:len(s)-n])
	}
	return 0, s
}

// minutes adds minutes and seconds, each under 60, to whole degrees.
func minutes(deg float64, s string) (float64, bool) {
	part := 0.0
	for i, marks := range [][]string{{"'", "′"}, {`"`, "″"}} {
		if s == "" {
			break
		}
		v, rest, ok := number(s)
		after := cutAny(trim(rest), marks...)
		if !ok || v < 0 || v >= 60 || len(after) == len(trim(rest)) {
			return 0, false
		}
		part += v / []float64{60, 3600}[i]
		s = trim(after)
	}
	if deg < 0 {
		part = -part
	}
	return deg + part, s == ""
}

func cutAny(s string, marks ...string) string {
	for _, m := range marks {
		if t, ok := strings.CutPrefix(s, m); ok {
			return t
		}
	}
	return s
}
