package weather

import (
	"fmt"
	"math"
	"slices"
)

// Units are those of the values in a file.
type Units int

// The units that daily files come in.
const (
	Auto        Units = iota // found from the values, and refused when they do not tell
	MetricUnits              // mm, °C, m/s
	TenthsUnits              // tenths of mm, of °C and of m/s
	USUnits                  // inches, °F, miles an hour
)

// String names the units as a person would.
func (u Units) String() string {
	return [...]string{"units found from the values", "mm and °C", "tenths of mm and °C", "inches and °F"}[u]
}

var choices = [...]Units{MetricUnits, TenthsUnits, USUnits}

var rainUnits = [...]string{"", "mm", "tenths of mm", "inches"}
var tempUnits = [...]string{"", "°C", "tenths of °C", "°F"}

func (u Units) rain(v float64) float64 { return v * [...]float64{1, 1, 0.1, 25.4}[u] }

func (u Units) wind(v float64) float64 { return v * [...]float64{1, 1, 0.1, 0.44704}[u] }

func (u Units) temp(v float64) float64 {
	switch u {
	case TenthsUnits:
		return v / 10
	case USUnits:
		return (v - 32) / 1.8
	}
	return v
}

// Bounds that no place on earth passes in a day (common practice, a little beyond
// the records), and those of an ordinary place by which units are told apart.
const (
	coldest, hottest = -75.0, 58.0 // °C
	wettest          = 1900.0      // mm in a day
	leastSwing       = 2.5         // °C, middle range of a day
	mostSwing        = 25.0
	coolSummer       = 11.0 // °C, the warmest hundredth of a year's days
	hotSummer        = 52.0
	yearOfDays       = 300
	leastWetDay      = 0.7 // mm, mean of the days with rain
	mostWetDay       = 40.0
)

// evidence is what the written values say of their units.
type evidence struct {
	days                int     // with both temperatures
	high, low, swing    float64 // warmest hundredth of tmax, coldest hundredth of tmin, middle range of a day
	wetDays             int
	wetDay              float64 // mean of the days with rain
	tempPoint, rainPart float64 // share written with a decimal point
}

func (s *sheet) evidence() evidence {
	var e evidence
	var hi, lo, swing []float64
	for i := range s.line {
		a, b, p := s.value[tmin][i], s.value[tmax][i], s.value[rain][i]
		if p > 0 && p != 99.9 {
			e.wetDays++
			e.wetDay += p
		}
		if !math.IsNaN(a+b) && !doubtful(a) && !doubtful(b) {
			lo, hi, swing = append(lo, a), append(hi, b), append(swing, b-a)
		}
	}
	e.days = len(lo)
	e.low, e.high, e.swing = quantile(lo, 0.01), quantile(hi, 0.99), quantile(swing, 0.5)
	e.wetDay /= float64(e.wetDays)
	e.tempPoint = share(s.pointed[tmin]+s.pointed[tmax], s.written[tmin]+s.written[tmax])
	e.rainPart = share(s.pointed[rain], s.written[rain])
	return e
}

// doubtful are numbers that stand for missing in some units and are measured in others.
func doubtful(v float64) bool { return v == 99.9 || v == -99 }

func share(part, whole int) float64 { return float64(part) / float64(max(whole, 1)) }

// quantile sorts x and returns the value below which the share p of it lies; NaN of nothing.
func quantile(x []float64, p float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	return x[int(math.Round(p*float64(len(x)-1)))]
}

// tempFits reports whether the temperatures are those of an ordinary place in u.
func (e evidence) tempFits(u Units) bool {
	swing := math.Abs(u.temp(e.swing) - u.temp(0))
	high, low := u.temp(e.high), u.temp(e.low)
	switch {
	case swing < leastSwing || swing > mostSwing, high > hotSummer, low < coldest:
		return false
	case e.days >= yearOfDays && high < coolSummer:
		return false
	}
	return u != TenthsUnits || e.tempPoint < 0.02
}

// rainFits reports whether the rain is that of an ordinary place in u; no rain tells nothing.
func (e evidence) rainFits(u Units) bool {
	if e.wetDays == 0 {
		return true
	}
	wet := u.rain(e.wetDay)
	return wet >= leastWetDay && wet <= mostWetDay && (u != TenthsUnits || e.rainPart < 0.02)
}

// units finds the units of temperature and of rain, and the words that say why.
func (s *sheet) units(o Options) (temp, wet Units, why string, err error) {
	e := s.evidence()
	s.seen = e
	switch {
	case s.fixed && o.Units != Auto && o.Units != TenthsUnits:
		return 0, 0, "", faultAt(0, "leave the units unset", "a GHCN-Daily file is always in tenths of mm and °C, not in %s", o.Units)
	case s.fixed:
		return TenthsUnits, TenthsUnits, "as this form always is", nil
	case o.Units != Auto:
		return o.Units, o.Units, "as set", nil
	}
	if temp, why, err = s.tempUnits(e); err != nil {
		return
	}
	if wet = headed(s.heading[rain]); wet != Auto {
		return temp, wet, why + "; the heading names the unit of rain", nil
	}
	if e.rainFits(temp) {
		return temp, temp, why + e.rainWords(temp), nil
	}
	return 0, 0, "", faultAt(0, "set the units, or name them in the heading, such as rain_mm or rain_in",
		"the units do not agree: temperatures read as %s, but a mean of %.3g on days with rain is not %s", tempUnits[temp], e.wetDay, rainUnits[temp])
}

func (s *sheet) tempUnits(e evidence) (Units, string, error) {
	a, b := headed(s.heading[tmin]), headed(s.heading[tmax])
	if a != b {
		return 0, "", faultAt(1, "write both in one unit", "the heading names different units for tmin and tmax")
	}
	if a != Auto {
		return a, "the heading names the unit of temperature", nil
	}
	if e.days == 0 {
		return 0, "", faultAt(0, "take a station that measures temperature", "no day has both temperatures")
	}
	var fits []Units
	for _, u := range choices {
		if e.tempFits(u) {
			fits = append(fits, u)
		}
	}
	if len(fits) > 1 {
		fits = slices.DeleteFunc(fits, func(u Units) bool { return e.wetDays == 0 || !e.rainFits(u) })
	}
	if len(fits) == 1 {
		return fits[0], e.tempWords(fits[0]), nil
	}
	return 0, "", faultAt(0, "set the units, or name them in the heading, such as tmax_c or tmax_f",
		"the units cannot be told: %s with both temperatures, warmest %.4g, coldest %.4g, a day's range %.3g",
		count(e.days, "day"), e.high, e.low, e.swing)
}

// headed turns the unit that a heading names into units.
func headed(unit string) Units {
	return map[string]Units{"c": MetricUnits, "mm": MetricUnits, "f": USUnits, "in": USUnits, "tenths": TenthsUnits}[unit]
}

func (e evidence) tempWords(u Units) string {
	return fmt.Sprintf("warmest hundredth of days %.4g, coldest %.4g, middle range of a day %.3g, %.0f %% with a decimal point: "+
		"in %s that is %.1f, %.1f and %.1f °C", e.high, e.low, e.swing, 100*e.tempPoint,
		tempUnits[u], u.temp(e.high), u.temp(e.low), u.temp(e.swing)-u.temp(0))
}

func (e evidence) rainWords(u Units) string {
	if e.wetDays == 0 {
		return "; no day has rain"
	}
	return fmt.Sprintf("; mean of days with rain %.3g: in %s that is %.1f mm", e.wetDay, rainUnits[u], u.rain(e.wetDay))
}
