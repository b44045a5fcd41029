package crop

import (
	"fmt"
	"math"
	"slices"

	"evenstead/day"
)

// A Climate is a place's mean year and its record of frosts, in a 365-day
// calendar where 29 February counts as the 28th. Indexes are days of the year
// from 0.
type Climate struct {
	Lat        float64      // degrees, south negative
	TMin, TMax [365]float64 // °C, mean daily extremes, smoothed over three weeks
	Years      []FrostYear
	nights     []nights                // daily minima of the frost years kept
	sum, high  [3*yearDays + 1]float64 // daily mean and maximum, summed over three years
	soil       [yearDays]float64       // SoilWarmth of the mean year
}

// A FrostYear runs from the warm season's end to the next: from 1 August in the
// north, from 30 January in the south (182 days apart), and counts its days from
// 0. First[i] and Last[i] are its first and last day with Tmin at or below i +
// FrostLow °C; First is 365 and Last -1 in a year that stays warmer.
type FrostYear struct{ First, Last [FrostSteps]int16 }

// Whole degrees for which frost dates are kept: FrostLow up to FrostLow + FrostSteps - 1.
const (
	FrostLow   = -35
	FrostSteps = 41
)

const (
	northStart = 212 // 1 August, day of year from 0
	yearDays   = 365
	mostGaps   = 10 // missing days that a frost year may have
	smooth     = 10 // days each side
)

// NewClimate builds a climate from daily extremes [°C] that begin on a day; NaN
// is a missing value. Frost years with more than 10 missing days are left out
// (source of the rule: Utah Climate Center). It fails when the series differ in
// length, when the latitude is not one, when a part of the year was never
// observed, and when no frost year is whole.
func NewClimate(lat float64, first day.Day, tmin, tmax []float64) (*Climate, error) {
	if len(tmin) != len(tmax) {
		return nil, fmt.Errorf("climate: %d daily minima but %d maxima: give both for each day", len(tmin), len(tmax))
	}
	if !(lat >= -90 && lat <= 90) {
		return nil, fmt.Errorf("climate: latitude %g is out of range: -90 to 90", lat)
	}
	c := &Climate{Lat: lat}
	var lo, hi mean
	var frosts frostReader
	for i := range tmin {
		doy := dayOfYear(first + day.Day(i))
		lo.add(doy, tmin[i])
		hi.add(doy, tmax[i])
		frosts.add(c.frostDay(doy), tmin[i])
	}
	frosts.close()
	c.Years, c.nights = frosts.years, frosts.nights
	if !lo.smooth(&c.TMin) || !hi.smooth(&c.TMax) {
		return nil, fmt.Errorf("climate: some weeks of the year were never observed in %d days: give at least a whole year", len(tmin))
	}
	c.addUp()
	if len(c.Years) == 0 {
		return nil, fmt.Errorf("climate: no frost year (%s) is whole in %d days: give two years or more", c.span(), len(tmin))
	}
	return c, nil
}

func (c *Climate) addUp() {
	for k := range 3 * yearDays {
		c.sum[k+1] = c.sum[k] + c.Mean(k)
		c.high[k+1] = c.high[k] + c.TMax[k%yearDays]
	}
	for d := range c.soil {
		c.soil[d] = SoilWarmth(c.meanOver(d-SoilDays, SoilDays), Extraterrestrial(c.Lat, (d-SoilDays/2+yearDays)%yearDays+1))
	}
}

// meanOver is the mean temperature [°C] of some days from a day of the year,
// counted round; the days are at most a year.
func (c *Climate) meanOver(from, days int) float64 { return over(&c.sum, from, days) }

// maxOver is the same of the daily maximum.
func (c *Climate) maxOver(from, days int) float64 { return over(&c.high, from, days) }

func over(sum *[3*yearDays + 1]float64, from, days int) float64 {
	from = (from%yearDays + yearDays) % yearDays
	days = max(days, 1)
	return (sum[from+days] - sum[from]) / float64(days)
}

func (c *Climate) span() string {
	if c.Lat < 0 {
		return "30 January to 29 January"
	}
	return "1 August to 31 July"
}

// dayOfYear counts from 0 in a 365-day calendar.
func dayOfYear(d day.Day) int {
	n := d.YearDay() - 1
	if y := d.Year(); n >= 59 && y%4 == 0 && (y%100 != 0 || y%400 == 0) {
		n--
	}
	return n
}

// frostDay returns the day of the frost year of a day of the year.
func (c *Climate) frostDay(doy int) int {
	start := northStart
	if c.Lat < 0 {
		start -= 182
	}
	return (doy - start + yearDays) % yearDays
}

func (c *Climate) yearDay(frostDay int) int {
	return (frostDay + yearDays - c.frostDay(0)) % yearDays
}

// Mean returns the mean temperature [°C] of a day of the year, counted round.
func (c *Climate) Mean(doy int) float64 {
	doy = (doy%yearDays + yearDays) % yearDays
	return (c.TMin[doy] + c.TMax[doy]) / 2
}

// FrostRisk returns the share of years with Tmin at or below a limit [°C] on some
// day from one day of the year through another, at most a year later. The limit
// is rounded up to a whole degree. Within a frost year the risk is that it has
// begun to freeze by the last day and has not ceased before the first; years
// next to each other count as independent.
func (c *Climate) FrostRisk(limit float64, from, days int) float64 {
	a := c.frostDay((from%yearDays + yearDays) % yearDays)
	b := a + min(max(days, 0), yearDays-1)
	i, ok := frostIndex(limit)
	if !ok {
		return 0
	}
	safe := 1 - c.hit(i, a, min(b, yearDays-1))
	if b >= yearDays {
		safe *= 1 - c.hit(i, 0, b-yearDays)
	}
	return 1 - safe
}

func (c *Climate) hit(i, a, b int) float64 {
	n := 0
	for k := range c.Years {
		if y := &c.Years[k]; int(y.First[i]) <= b && int(y.Last[i]) >= a {
			n++
		}
	}
	return share(n, len(c.Years))
}

// frostIndex returns the step of a limit; ok is false below the coldest one kept
// and for NaN.
func frostIndex(limit float64) (int, bool) {
	if !(limit >= FrostLow) {
		return 0, false
	}
	return min(int(math.Ceil(limit-1e-9))-FrostLow, FrostSteps-1), true
}

// LastFrost returns the day of the year (from 0) by which a share p of years has
// seen its last day at or below a limit [°C]; ok is false when that many years
// have none. Source: crop tables of common practice, LSF(p).
func (c *Climate) LastFrost(limit, p float64) (doy int, ok bool) {
	return c.quantile(limit, p, func(y *FrostYear, i int) int16 { return y.Last[i] })
}

// FirstFrost returns the day of the year by which a share p of years has had its
// first day at or below a limit [°C]; ok is false when fewer have one.
func (c *Climate) FirstFrost(limit, p float64) (doy int, ok bool) {
	return c.quantile(limit, p, func(y *FrostYear, i int) int16 { return y.First[i] })
}

func (c *Climate) quantile(limit, p float64, of func(*FrostYear, int) int16) (int, bool) {
	i, ok := frostIndex(limit)
	if !ok || len(c.Years) == 0 {
		return 0, false
	}
	days := make([]int16, len(c.Years))
	for k := range c.Years {
		days[k] = of(&c.Years[k], i)
	}
	slices.Sort(days)
	d := int(days[int(math.Ceil(clamp(p, 0, 1)*float64(len(days)-1)))])
	return c.yearDay(d), d >= 0 && d < yearDays
}

func share(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return float64(part) / float64(whole)
}
