package weather

import (
	"fmt"
	"strings"
	"time"

	"evenstead/day"
)

// FromRecord makes n possible courses of the days from start out of a record. The
// first are real years, newest first: each year of the record that is whole from
// start's date on (the index-sequential method). Calendars are laid date on date;
// 29 February is left out, or taken from the nearest year that has one. When n is
// greater, blocks of real days are put together to further years: see resampler.
// The same seed gives the same bytes.
func FromRecord(r *Record, site Site, start day.Day, days, n int, seed uint64) (*Ensemble, error) {
	return FromRecent(r, site, start, days, n, seed, Recent{})
}

// FromRecent does as FromRecord with years that weigh less the further they lie
// from start. A real year is then taken with a chance of its weight, the nearest
// always, and a block of days is drawn with that weight besides its likeness.
func FromRecent(r *Record, site Site, start day.Day, days, n int, seed uint64, recent Recent) (*Ensemble, error) {
	if err := recent.check(); err != nil {
		return nil, err
	}
	h, err := newHorizon(site, start, days, n)
	if err != nil {
		return nil, err
	}
	src := newSource(r, site)
	src.recent = weights{recent, start.Year()}
	members, left := src.realYears(h)
	members = src.recent.thin(members, source(seed, thinning))
	members = members[:min(n, len(members))]
	e := h.ensemble(n - len(members))
	e.record = r
	e.noteYears(members, left, r)
	e.Notes = append(e.Notes, recent.notes()...)
	if len(members) < n {
		p, err := newResampler(src)
		if err != nil {
			return nil, err
		}
		each(n-len(members), func(i int) {
			p.member(h, source(seed, len(members)+i), &e.Members[i])
			e.Members[i].Label = fmt.Sprintf("mixed %d", i+1)
		})
		e.Notes = append(e.Notes, p.note(n-len(members)))
	}
	e.Members = append(members, e.Members...)
	e.Notes = append(e.Notes, site.note())
	return e, nil
}

// fewYears is the number of real years below which the notes warn.
const fewYears = 10

func (e *Ensemble) noteYears(members []Member, left []int, r *Record) {
	s := fmt.Sprintf("%s of the record, %s to %s, from this date on", count(len(members), "real year"), r.Start, r.End())
	if len(left) > 0 {
		s += "; left out as not whole: " + runs(left)
	}
	e.Notes = append(e.Notes, s+".")
	if len(members)+len(left) > 0 && len(members) < fewYears {
		e.Notes = append(e.Notes, "So few years show little of what the weather can do.")
	}
}

// runs writes sorted years as "1960, 1970-1983".
func runs(years []int) string {
	var out []string
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		if j == i {
			out = append(out, fmt.Sprint(years[i]))
		} else {
			out = append(out, fmt.Sprintf("%d-%d", years[i], years[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// A recordSource is a record made ready to be cut into members.
type recordSource struct {
	*Record
	all     Member // the whole record
	slot    []int
	run     []int // whole days from each day on
	first   int   // first year
	newYear []int // index of 1 January of each year from the first on; may lie outside
	recent  weights
}

func newSource(r *Record, site Site) *recordSource {
	n := r.Days()
	s := &recordSource{Record: r, slot: make([]int, n), run: make([]int, n+1), first: r.Start.Year()}
	s.all = Member{Rain: r.Rain, TMin: r.TMin, TMax: r.TMax, ET0: make([]float64, n), Sun: make([]float64, n)}
	fillSun(&s.all, site.lights(r.Start, n), site.KRs())
	for i := n - 1; i >= 0; i-- {
		s.slot[i] = Slot(r.Start + day.Day(i))
		if r.known(i) {
			s.run[i] = s.run[i+1] + 1
		}
	}
	for y := s.first; n > 0 && y <= r.End().Year(); y++ {
		s.newYear = append(s.newYear, int(day.Of(y, time.January, 1)-r.Start))
	}
	return s
}

// index returns where a slot of a year lies; it may lie outside the record.
func (s *recordSource) index(year, slot int) int {
	i := int(day.Of(year, time.January, 1)-s.Start) + slot
	if k := year - s.first; k >= 0 && k < len(s.newYear) {
		i = s.newYear[k] + slot
	}
	if leap(year) && slot > lastOfFebruary {
		i++
	}
	return i
}

const lastOfFebruary = 58 // slot of 28 February

// realYears returns the members that are whole, newest first, and the years left out.
func (s *recordSource) realYears(h *horizon) (members []Member, left []int) {
	if s.Days() == 0 {
		return nil, nil
	}
	for y := s.End().Year(); y >= s.first; y-- {
		at, ok := s.lay(h, y)
		switch {
		case ok:
			m := s.cut(at)
			m.year = y
			m.Label = yearLabel(y, y+(h.start+day.Day(h.days-1)).Year()-h.start.Year())
			members = append(members, m)
		case s.touches(h, y):
			left = append([]int{y}, left...)
		}
	}
	return members, left
}

func yearLabel(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d-%02d", from, to%100)
}

// touches reports whether the record has any whole day of the year that would begin then.
func (s *recordSource) touches(h *horizon, year int) bool {
	from := s.index(year, h.slot[0])
	for i := max(0, from); i < min(s.Days(), from+h.days); i++ {
		if s.run[i] > 0 {
			return true
		}
	}
	return false
}

// lay finds the day of the record that stands for each day ahead when the horizon
// begins in the given year.
func (s *recordSource) lay(h *horizon, year int) ([]int, bool) {
	at := make([]int, h.days)
	from := h.start.Year()
	y, ends := from, day.Of(from+1, time.January, 1)
	for t := range at {
		d := h.start + day.Day(t)
		if d == ends {
			y++
			ends = day.Of(y+1, time.January, 1)
		}
		i := s.index(year+y-from, h.slot[t])
		if h.leapDay(t) {
			i = s.leapDay(year + y - from)
		}
		if i < 0 || i >= s.Days() || s.run[i] == 0 {
			return nil, false
		}
		at[t] = i
	}
	return at, true
}

// leapDay reports whether day t is 29 February.
func (h *horizon) leapDay(t int) bool {
	if h.slot[t] != lastOfFebruary {
		return false
	}
	_, _, dom := (h.start + day.Day(t)).Date()
	return dom == 29
}

// leapDay returns the nearest 29 February of the record, or the year's 28th when
// there is none.
func (s *recordSource) leapDay(year int) int {
	for away := range len(s.newYear) + 4 {
		for _, y := range []int{year - away, year + away} {
			if i := s.index(y, lastOfFebruary) + 1; leap(y) && i >= 0 && i < s.Days() && s.run[i] > 0 {
				return i
			}
		}
	}
	return s.index(year, lastOfFebruary)
}

// cut takes the days as slices of the record where they follow one another, and
// copies them where a 29 February comes between.
func (s *recordSource) cut(at []int) Member {
	from, n := at[0], len(at)
	if at[n-1] == from+n-1 && consecutive(at) {
		to := from + n
		return Member{Rain: s.all.Rain[from:to:to], TMin: s.all.TMin[from:to:to], TMax: s.all.TMax[from:to:to],
			ET0: s.all.ET0[from:to:to], Sun: s.all.Sun[from:to:to]}
	}
	var m Member
	m.take(make([]float64, 5*n), n)
	for t, i := range at {
		m.Rain[t], m.TMin[t], m.TMax[t] = s.all.Rain[i], s.all.TMin[i], s.all.TMax[i]
		m.ET0[t], m.Sun[t] = s.all.ET0[i], s.all.Sun[i]
	}
	return m
}

func consecutive(at []int) bool {
	for t := 1; t < len(at); t++ {
		if at[t] != at[t-1]+1 {
			return false
		}
	}
	return true
}
