package crop

import (
	"math"
	"time"

	"evenstead/data"
)

// A Window is a stretch of days on which a crop may be sown (or set out, where
// its days to harvest count from there). Open and Close are days of the year, 1
// to 365, both included; Close before Open runs over the new year. A window open
// all year is 1 to 365.
type Window struct{ Open, Close int }

// Days returns the length of the window.
func (w Window) Days() int { return (w.Close-w.Open+yearDays)%yearDays + 1 }

// Has reports whether a day of the year, 1 to 365, lies in the window.
func (w Window) Has(yearday int) bool {
	return (yearday-w.Open+yearDays)%yearDays < w.Days()
}

const (
	optMargin   = 3  // °C that good growth of tender crops is widened by
	coolLeast   = 7  // °C, least mean at which hardy crops grow on
	slowAutumn  = 14 // days added when it cools by harvest
	headingDays = 20 // days before first harvest that heat can spoil
	wantedSpan  = 14 // days of picking that make a sowing worth while
	shortest    = 7  // days; shorter windows are not given
	bridge      = 7  // days; shorter breaks are closed
)

// soilForClass is the warmth [°C] at which each class of tenderness is sown or
// set out, very hardy first. Source: Colorado State Extension garden note 720
// and Purdue Extension (days of 40, 40-50, 55 and 60 °F).
var soilForClass = [5]float64{4.4, 4.4, 7, 12.8, 15.6}

// Windows returns the days on which a crop may be sown in a climate so that, in
// a share 1 - risk of years, it comes through to harvest: in order of opening.
// A day is good when
//
//   - the ten days before it are warm enough: SoilSow or the class's warmth,
//     whichever is less, by the mean of air temperature;
//   - the mean from sowing to first harvest lies within a tender crop's optimum
//     widened by 3 °C, or from 7 °C to the upper optimum of a hardier one (heat,
//     not cold, closes cool crops); two weeks are added where it cools by harvest;
//   - the mean daily maximum of the last 20 days before first harvest stays at
//     or below HeatLimit;
//   - the chance of a night at the killing limit is at most risk, from sowing to
//     first harvest and two weeks of picking. Tender crops die at KillGrowing,
//     the others, hardened by then, at KillHardened.
//
// Breaks under a week are closed and windows under a week left out. Perennials,
// whose days to harvest are not known, have none. Source: the thresholds are
// common practice and the extension notes named at soilForClass. Against 53
// printed windows of three places, at risk 0.5, about half agree; at the risks of
// a careful plan (0.1 to 0.3) windows are narrower than the charts'.
func Windows(c *data.Crop, clim *Climate, risk float64) []Window {
	if !(c.DaysFirst > 0) || perennial(c) {
		return nil
	}
	var good [yearDays]bool
	for d := range good {
		good[d] = sowable(c, clim, d, risk)
	}
	return runs(&good)
}

func perennial(c *data.Crop) bool { return c.HarvestFrom != time.Month(0) }

func sowable(c *data.Crop, clim *Climate, d int, risk float64) bool {
	first := daysToFirst(c, clim, d)
	end := first + int(math.Min(c.HarvestSpan, wantedSpan))
	return clim.meanOver(d-SoilDays, SoilDays) >= warmthToSow(c) &&
		suits(c, clim.meanOver(d, first)) &&
		!(clim.maxOver(d+first-headingDays, headingDays) > c.HeatLimit) &&
		clim.FrostRisk(killIn(c), d, end) <= risk
}

// warmthToSow is the class's warmth, or the crop's own where that is less: the
// printed charts sow between the two.
func warmthToSow(c *data.Crop) float64 {
	w := soilForClass[min(max(c.Tender, 0), 4)]
	if c.SoilSow > 0 {
		w = math.Min(w, c.SoilSow)
	}
	return w
}

func daysToFirst(c *data.Crop, clim *Climate, d int) int {
	n := int(math.Round(c.DaysFirst))
	if clim.Mean(d+n) < clim.Mean(d) {
		n += slowAutumn
	}
	return n
}

// killIn is the limit that kills: plants that harden meet their hard nights hardened.
func killIn(c *data.Crop) float64 {
	if c.Tender >= 3 {
		return c.KillGrowing
	}
	return KillLimit(c.KillGrowing, c.KillHardened, 1)
}

// suits reports whether a mean temperature lets the crop grow well.
func suits(c *data.Crop, mean float64) bool {
	if c.Tender >= 3 {
		return mean >= c.TOptLo-optMargin && mean <= c.TOptHi+optMargin
	}
	return mean >= coolLeast && mean <= c.TOptHi
}

func (c *Climate) meanOver(from, days int) float64 {
	s := 0.0
	for k := range days {
		s += c.Mean(from + k)
	}
	return s / float64(days)
}

func (c *Climate) maxOver(from, days int) float64 {
	s := 0.0
	for k := range days {
		s += c.TMax[((from+k)%yearDays+yearDays)%yearDays]
	}
	return s / float64(days)
}
