package weather

import (
	"bytes"
	"math"
	"strconv"
	"time"

	"evenstead/day"
)

// split parts a line into fields, into the slice given, without quotes and
// surrounding blanks. A quoted field may hold the delimiter.
func split(line []byte, delim byte, into [][]byte) [][]byte {
	into = into[:0]
	for {
		end, quoted := 0, false
		for end < len(line) && (quoted || line[end] != delim) {
			quoted = quoted != (line[end] == '"')
			end++
		}
		into = append(into, bare(line[:end]))
		if end == len(line) {
			return into
		}
		line = line[end+1:]
	}
}

func bare(f []byte) []byte {
	for len(f) > 0 && (f[0] == ' ' || f[0] == '\t') {
		f = f[1:]
	}
	for len(f) > 0 && (f[len(f)-1] == ' ' || f[len(f)-1] == '\t') {
		f = f[:len(f)-1]
	}
	if len(f) >= 2 && f[0] == '"' && f[len(f)-1] == '"' {
		return bytes.TrimSpace(f[1 : len(f)-1])
	}
	return f
}

// delimiter returns the one of comma, semicolon and tab that stands most often in a heading.
func delimiter(head []byte) byte {
	best, most := byte(','), 0
	for _, d := range []byte{',', ';', '\t'} {
		if n := bytes.Count(head, []byte{d}); n > most {
			best, most = d, n
		}
	}
	return best
}

// number reads a decimal number and tells whether it has a point. With comma set
// a decimal comma counts as the point. An empty field and the words for missing
// are NaN; so is anything else, with ok false.
func number(f []byte, comma bool) (v float64, point, ok bool) {
	if absent(f) {
		return math.NaN(), false, true
	}
	mantissa, places, digits := int64(0), -1, 0
	rest := f
	negative := rest[0] == '-'
	if negative || rest[0] == '+' {
		rest = rest[1:]
	}
	for _, c := range rest {
		switch {
		case c >= '0' && c <= '9' && digits < 15:
			mantissa = mantissa*10 + int64(c-'0')
			digits++
			if places >= 0 {
				places++
			}
		case places < 0 && (c == '.' || comma && c == ','):
			places = 0
		default:
			return slowNumber(f)
		}
	}
	if digits == 0 {
		return math.NaN(), false, false
	}
	v = float64(mantissa)
	if places > 0 {
		v /= powers[places]
	}
	if negative {
		v = -v
	}
	return v, places >= 0, true
}

// powers of ten are exact to 1e22, so one division rounds correctly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

func slowNumber(f []byte) (float64, bool, bool) {
	v, err := strconv.ParseFloat(string(f), 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return math.NaN(), false, false
	}
	return v, true, true
}

func absent(f []byte) bool {
	if len(f) > 4 {
		return false
	}
	switch string(bytes.ToLower(f)) {
	case "", "na", "n/a", "nan", "null", "none", "m", "-", "--", ".":
		return true
	}
	return false
}

// order is how a file writes its dates.
type order int

const (
	unknownOrder order = iota
	isoOrder           // 2012-01-31, 2012/1/31, 20120131
	monthFirst         // 1/31/2012
	dayFirst           // 31/1/2012
)

var orderNames = [...]string{"", "year-month-day", "month/day/year", "day/month/year"}

// dateParts reads the three numbers of a date and tells whether the year stands
// first. A time of day behind a blank or a T is left off.
func dateParts(f []byte) (p [3]int, iso, ok bool) {
	if i := bytes.IndexAny(f, " T"); i >= 8 {
		f = f[:i]
	}
	if len(f) == 8 && allDigits(f) {
		return [3]int{atoi(f[:4]), atoi(f[4:6]), atoi(f[6:])}, true, true
	}
	k, digits, first := 0, 0, 0
	for _, c := range f {
		switch {
		case c >= '0' && c <= '9' && digits < 4:
			p[k] = p[k]*10 + int(c-'0')
			digits++
		case (c == '-' || c == '/' || c == '.') && digits > 0 && k < 2:
			if k == 0 {
				first = digits
			}
			k, digits = k+1, 0
		default:
			return p, false, false
		}
	}
	iso = first == 4
	return p, iso, k == 2 && digits > 0 && (iso || digits == 4)
}

// date reads a date in a known order.
func date(f []byte, o order) (day.Day, bool) {
	p, iso, ok := dateParts(f)
	if !ok || iso != (o == isoOrder) {
		return 0, false
	}
	y, m, d := p[0], p[1], p[2]
	switch o {
	case monthFirst:
		y, m, d = p[2], p[0], p[1]
	case dayFirst:
		y, m, d = p[2], p[1], p[0]
	}
	return calendar(y, m, d)
}

// calendar returns a day from 1600 to 2400 that the calendar has.
func calendar(y, m, d int) (day.Day, bool) {
	if y < 1600 || y > 2400 || m < 1 || m > 12 || d < 1 || d > monthLength(y, time.Month(m)) {
		return 0, false
	}
	return day.Of(y, time.Month(m), d), true
}

func leap(y int) bool { return y%4 == 0 && (y%100 != 0 || y%400 == 0) }

func monthLength(y int, m time.Month) int {
	if m == time.February && leap(y) {
		return 29
	}
	return monthDays[m-1]
}

// monthDays are the days of the months of a common year.
var monthDays = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

func allDigits(f []byte) bool {
	for _, c := range f {
		if c < '0' || c > '9' {
			return false
		}
	}
	return len(f) > 0
}

func atoi(f []byte) int {
	n := 0
	for _, c := range f {
		n = n*10 + int(c-'0')
	}
	return n
}
