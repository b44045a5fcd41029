package weather

import (
	"fmt"
	"math"
	"time"

	"evenstead/day"
)

// Normals are the twelve monthly means of a place, January first, and four
// numbers for how its weather varies.
type Normals struct {
	Rain        [12]float64 // mm a month
	WetDays     [12]float64 // days with rain, a month
	TMin, TMax  [12]float64 // °C, means of the daily extremes
	TMinSD      float64     // °C, of daily values about the month's mean; 0.1 to 15
	TMaxSD      float64
	Persistence float64 // chance of rain after a wet day less that after a dry one; 0 to 0.95
	RainCV      float64 // standard deviation of yearly rain as a share of its mean; 0 to 1
}

func (n *Normals) check() error {
	for m := range 12 {
		name := time.Month(m + 1).String()
		switch {
		case !(n.Rain[m] >= 0 && n.Rain[m] <= 12000):
			return fmt.Errorf("rain of %s is %g mm: give 0 to 12000", name, n.Rain[m])
		case !(n.WetDays[m] >= 0 && n.WetDays[m] <= float64(monthDays[m])):
			return fmt.Errorf("wet days of %s are %g: give 0 to %d", name, n.WetDays[m], monthDays[m])
		case n.Rain[m] > 0 && n.WetDays[m] == 0:
			return fmt.Errorf("%s has %g mm of rain on no wet day: give its wet days", name, n.Rain[m])
		case n.WetDays[m] > 0 && n.Rain[m] == 0:
			return fmt.Errorf("%s has %g wet days without rain: give its rain", name, n.WetDays[m])
		case !(n.TMin[m] >= -60 && n.TMax[m] <= 55 && n.TMin[m] < n.TMax[m]):
			return fmt.Errorf("%s has tmin %g and tmax %g °C: give tmin below tmax, from -60 to 55", name, n.TMin[m], n.TMax[m])
		}
	}
	switch {
	case !(n.TMinSD >= 0.1 && n.TMinSD <= 15 && n.TMaxSD >= 0.1 && n.TMaxSD <= 15):
		return fmt.Errorf("daily spread of temperature is %g and %g °C: give 0.1 to 15", n.TMinSD, n.TMaxSD)
	case !(n.Persistence >= 0 && n.Persistence <= 0.95):
		return fmt.Errorf("persistence of rain is %g: give 0 to 0.95", n.Persistence)
	case !(n.RainCV >= 0 && n.RainCV <= 1):
		return fmt.Errorf("spread of yearly rain is %g: give 0 to 1", n.RainCV)
	}
	return nil
}

const (
	leastMonthDays = 56  // observed days of a calendar month, about two years of it
	leastYears     = 3   // whole years for the spread of yearly rain
	usualRainCV    = 0.2 // common practice, where fewer years are whole
)

// FitNormals reads monthly means and spreads off a record. Each calendar month
// needs two years' days; with fewer than three whole calendar years the yearly
// spread of rain is taken as 0.2 (common practice).
func FitNormals(r *Record) (Normals, error) {
	var n Normals
	s := sortByMonth(r)
	for m := range 12 {
		if min(s.rain[m].n, s.tmin[m].n, s.tmax[m].n) < leastMonthDays {
			return n, fmt.Errorf("the record has too few days in %s for its normals: give a longer record, or monthly normals",
				time.Month(m+1))
		}
		days := float64(monthDays[m])
		n.Rain[m] = s.rain[m].value() * days
		n.WetDays[m] = share(s.wet[m], s.rain[m].n) * days
		n.TMin[m], n.TMax[m] = s.tmin[m].value(), s.tmax[m].value()
	}
	n.TMinSD, n.TMaxSD = s.spread(r.TMin, n.TMin), s.spread(r.TMax, n.TMax)
	n.Persistence = persistence(r)
	n.RainCV = rainCV(r)
	return n, n.check()
}

// monthly sums a record by calendar month.
type monthly struct {
	month            []int // of each day, 0 January
	rain, tmin, tmax [12]mean
	wet              [12]int
}

func sortByMonth(r *Record) *monthly {
	s := &monthly{month: make([]int, r.Days())}
	for i := range s.month {
		m := monthOf[Slot(r.Start+day.Day(i))]
		s.month[i] = m
		s.rain[m].add(r.Rain[i])
		s.tmin[m].add(r.TMin[i])
		s.tmax[m].add(r.TMax[i])
		if r.Rain[i] > 0 {
			s.wet[m]++
		}
	}
	return s
}

// spread returns the standard deviation of daily values about their months' means, divisor n.
func (s *monthly) spread(x []float64, means [12]float64) float64 {
	var v mean
	for i, t := range x {
		d := t - means[s.month[i]]
		v.add(d * d)
	}
	return math.Sqrt(v.value())
}

// persistence is P11 - P01 over the months, weighted by their days; not below 0.
func persistence(r *Record) float64 {
	t := CountTransitions(r)
	sum, weight := 0.0, 0.0
	for m := range 12 {
		n := float64(t.N00[m] + t.N01[m] + t.N10[m] + t.N11[m])
		if t.N10[m]+t.N11[m] == 0 || t.N00[m]+t.N01[m] == 0 {
			continue
		}
		sum += n * (t.P11(m) - t.P01(m))
		weight += n
	}
	if weight == 0 {
		return 0
	}
	return max(0, min(0.95, sum/weight))
}

// rainCV is the sample standard deviation of whole calendar years' rain over its mean.
func rainCV(r *Record) float64 {
	var totals []float64
	for y := r.Start.Year(); y <= r.End().Year(); y++ {
		from, to := r.At(day.Of(y, time.January, 1)), r.At(day.Of(y, time.December, 31))
		if from < 0 || to < 0 || anyNaN(r.Rain[from:to+1]) {
			continue
		}
		totals = append(totals, sum(r.Rain[from:to+1]))
	}
	if len(totals) < leastYears || sum(totals) == 0 {
		return usualRainCV
	}
	m, sd := meanSD(totals)
	return min(1, sd/m)
}
