package web

import (
	"math"

	"evenstead/day"
	"evenstead/weather"
)

// rainWeeks is how far back the year rule looks, and usualWeeks ahead.
const (
	rainWeeks  = 13
	usualWeeks = 52
)

// rainOf is what the year rule shows of a stead: the rain known of the stay, the
// usual year's ahead and the weeks of usual frost.
func rainOf(s *Snapshot) *Rain {
	r := &Rain{}
	for i := rainWeeks; i > 0; i-- {
		r.Past = append(r.Past, fallen(s.Past.Known, s.Today-day.Day(7*i)))
	}
	south := s.Stead.Place.Latitude < 0
	for i := range usualWeeks {
		from := s.Today + day.Day(7*i)
		mm := 0.0
		for d := range 7 {
			mm += s.Usual.Rain[weather.Slot(from+day.Day(d))]
		}
		r.Usual = append(r.Usual, mm)
		if frosty(s.Usual, from+3, south) {
			r.Frost = append(r.Frost, i)
		}
	}
	return r
}

// fallen is the rain of a week, mm; NaN when none of it is known.
func fallen(known *weather.Record, from day.Day) float64 {
	sum, any := 0.0, false
	for d := range 7 {
		if i := known.At(from + day.Day(d)); i >= 0 && !math.IsNaN(known.Rain[i]) {
			sum, any = sum+known.Rain[i], true
		}
	}
	if !any {
		return math.NaN()
	}
	return sum
}

// frosty tells whether a day lies between the middle dates of the first frost of
// autumn and the last of spring. Where fewer than half the years have frost no
// day does.
func frosty(c *weather.Climate, d day.Day, south bool) bool {
	last, first := c.LastSpring.Later(0.5), c.FirstAutumn.Sooner(0.5)
	slot := float64(weather.Slot(d) + 1)
	if math.IsInf(last, 0) || math.IsInf(first, 0) || math.IsNaN(last) || math.IsNaN(first) {
		return false
	}
	if south { // spring runs on past the year's end
		return slot >= first && slot <= last || slot+weather.YearSlots <= last
	}
	return slot >= first || slot <= last
}

// near is the day of a frost date, a day of the calendar counted from 1 January,
// that lies nearest to another day; ok is false where there is none.
func near(date float64, to day.Day) (d day.Day, ok bool) {
	if math.IsInf(date, 0) || math.IsNaN(date) {
		return 0, false
	}
	best := day.Day(math.MaxInt32)
	for y := to.Year() - 2; y <= to.Year()+1; y++ {
		at := day.Of(y, 1, 1) + day.Day(math.Round(date)) - 1
		if gap(at, to) < gap(best, to) {
			best = at
		}
	}
	return best, true
}

func gap(a, b day.Day) int { return int(max(a-b, b-a)) }
