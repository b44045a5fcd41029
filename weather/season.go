package weather

import (
	"math"
	"time"

	"evenstead/day"
)

// YearSlots is the length of the calendar on which years are laid over one another:
// 365 days; 29 February shares the place of the 28th.
const YearSlots = 365

// Slot returns the place of a day in a calendar of 365 days, 0 to 364.
func Slot(d day.Day) int {
	y, m, dom := d.Date()
	n := d.YearDay() - 1
	if leap(y) && (m > time.February || m == time.February && dom == 29) {
		n--
	}
	return n
}

// monthOf returns the month, 0 to 11, of each slot.
var monthOf = func() (of [YearSlots]int) {
	slot := 0
	for m, days := range monthDays {
		for range days {
			of[slot] = m
			slot++
		}
	}
	return of
}()

// A Curve is one value for each day of the 365-day calendar.
type Curve [YearSlots]float64

// MonthCurve draws a year through twelve monthly means: straight lines between
// mid-months, their knots moved until the mean over each month is the one given.
func MonthCurve(means [12]float64) Curve {
	knots := means
	for range 60 { // the error at least halves each time
		c := throughKnots(knots)
		got := c.Months()
		for m := range knots {
			knots[m] += means[m] - got[m]
		}
	}
	return throughKnots(knots)
}

func throughKnots(knots [12]float64) (c Curve) {
	for slot := range c {
		m := monthOf[slot]
		at := float64(slot) + 0.5
		if at < middle(m) {
			m--
		}
		from, to := middle(m), middle(m+1)
		a, b := knots[(m+12)%12], knots[(m+1)%12]
		c[slot] = a + (b-a)*(at-from)/(to-from)
	}
	return c
}

// middle is the middle of a month on the 365-day calendar; month -1 is last
// year's December and 12 next year's January.
func middle(m int) float64 {
	switch m {
	case -1:
		return middle(11) - YearSlots
	case 12:
		return middle(0) + YearSlots
	}
	at := 0.0
	for _, days := range monthDays[:m] {
		at += float64(days)
	}
	return at + float64(monthDays[m])/2
}

// Months returns the mean of the curve over each month.
func (c *Curve) Months() (means [12]float64) {
	for slot, v := range c {
		means[monthOf[slot]] += v / float64(monthDays[monthOf[slot]])
	}
	return means
}

// smooth replaces each day with the mean of the 2·half+1 days about it, round the
// year; days that are NaN count for nothing.
func (c *Curve) smooth(half int) (out Curve) {
	for slot := range c {
		sum, n := 0.0, 0
		for k := slot - half; k <= slot+half; k++ {
			if v := c[(k+YearSlots)%YearSlots]; !math.IsNaN(v) {
				sum += v
				n++
			}
		}
		out[slot] = sum / float64(n)
	}
	return out
}

// mean is a running mean that passes over NaN.
type mean struct {
	sum float64
	n   int
}

func (m *mean) add(v float64) {
	if !math.IsNaN(v) {
		m.sum += v
		m.n++
	}
}

func (m mean) value() float64 { return m.sum / float64(m.n) }
