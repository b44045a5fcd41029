// Package day is the local calendar day: the one clock of the stead, the book
// and the forecast. A day has no hour and no time zone. It leaves out anything
// shorter than a day. Calendar rules are those of the proleptic Gregorian
// calendar (ISO 8601).
package day

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// A Day counts calendar days since 1970-01-01, which is day 0.
type Day int32

// Of returns the day of a date; months and days past their end roll over as in time.Date.
func Of(year int, month time.Month, dom int) Day {
	return Day(time.Date(year, month, dom, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Today returns the local calendar day of t.
func Today(t time.Time) Day {
	y, m, d := t.Date()
	return Of(y, m, d)
}

// Parse reads an ISO 8601 date such as "2026-11-01". Years run from 1600 to 2400.
func Parse(s string) (Day, error) {
	t, err := time.Parse(time.DateOnly, strings.TrimSpace(s))
	if err != nil {
		return 0, fmt.Errorf("%q is not a date: write year-month-day, such as 2026-11-01", s)
	}
	if y := t.Year(); y < 1600 || y > 2400 {
		return 0, fmt.Errorf("year %d is out of range: 1600 to 2400", y)
	}
	return Today(t), nil
}

// Time returns midnight UTC of the day.
func (d Day) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Date returns the year, month and day of the month.
func (d Day) Date() (int, time.Month, int) { return d.Time().Date() }

// Year returns the calendar year.
func (d Day) Year() int { return d.Time().Year() }

// Month returns the calendar month.
func (d Day) Month() time.Month { return d.Time().Month() }

// YearDay returns the day of the year, 1 to 366.
func (d Day) YearDay() int { return d.Time().YearDay() }

// String returns the ISO 8601 date.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

// Short returns the day and month in words, such as "24 May", joined by a no-break space.
func (d Day) Short() string {
	_, m, dom := d.Date()
	return strconv.Itoa(dom) + "\u00a0" + m.String()[:3]
}

// Long returns day, month and year in words, such as "24 May 2027".
func (d Day) Long() string { return d.Short() + "\u00a0" + strconv.Itoa(d.Year()) }

// MarshalText writes the ISO 8601 date.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads an ISO 8601 date.
func (d *Day) UnmarshalText(b []byte) error {
	v, err := Parse(string(b))
	if err == nil {
		*d = v
	}
	return err
}

// A When is a date that may recur: Year 0 means each year. The zero When is unset.
type When struct {
	Year  int
	Month time.Month
	Dom   int
}

// IsZero reports whether the date is unset.
func (w When) IsZero() bool { return w == When{} }

// In returns the day of the date in the given year (or in its own year when it has one).
func (w When) In(year int) Day {
	if w.Year != 0 {
		year = w.Year
	}
	return Of(year, w.Month, w.Dom)
}

// Next returns the first occurrence on or after d; ok is false when the date is past or unset.
func (w When) Next(d Day) (Day, bool) {
	if w.IsZero() {
		return 0, false
	}
	n := w.In(d.Year())
	if w.Year == 0 && n < d {
		n = w.In(d.Year() + 1)
	}
	return n, n >= d
}

// String writes "2026-11-05", or "5 Nov" when it recurs.
func (w When) String() string {
	if w.Year != 0 {
		return w.In(0).String()
	}
	if w.IsZero() {
		return ""
	}
	return strconv.Itoa(w.Dom) + " " + w.Month.String()[:3]
}

// ParseWhen reads "2026-11-05", "5 Nov", "5 November" or "Nov 5".
func ParseWhen(s string) (When, error) {
	if d, err := Parse(s); err == nil {
		y, m, dom := d.Date()
		return When{y, m, dom}, nil
	}
	f := strings.Fields(s)
	if len(f) == 2 {
		if _, err := strconv.Atoi(f[0]); err != nil {
			f[0], f[1] = f[1], f[0]
		}
		dom, err := strconv.Atoi(f[0])
		m := monthNamed(f[1])
		if err == nil && m != 0 && dom >= 1 && dom <= monthDays(m) {
			return When{0, m, dom}, nil
		}
	}
	return When{}, fmt.Errorf("%q is not a date: write 2026-11-05, or 5 Nov for every year", s)
}

func monthNamed(s string) time.Month {
	s = strings.ToLower(strings.TrimSuffix(s, "."))
	for m := time.January; m <= time.December; m++ {
		name := strings.ToLower(m.String())
		if len(s) >= 3 && strings.HasPrefix(name, s) {
			return m
		}
	}
	return 0
}

func monthDays(m time.Month) int { return time.Date(2024, m+1, 0, 0, 0, 0, 0, time.UTC).Day() }
