package fertility

import (
	"fmt"
	"math"
)

// MgClass returns the class of Mehlich-3 magnesium [mg/kg] (Rutgers soil testing laboratory).
func MgClass(mgKg float64) Class { return classOf(mgKg, 23, 42, 72, 147.5) }

// CaClass returns the class of Mehlich-3 calcium [mg/kg] (same).
func CaClass(mgKg float64) Class { return classOf(mgKg, 308, 504, 700.5, 895) }

// OlsenIndex returns the UK index of Olsen phosphorus [mg/L], 0 to 5 and over; index 2
// begins at 16 (The Nutrient Action Programme Regulations, NI 2019/81, schedule 5). ok
// is false for less than none and NaN.
func OlsenIndex(mgL float64) (index int, ok bool) {
	if !(mgL >= 0) {
		return 0, false
	}
	for _, from := range []float64{10, 16, 26, 46, 71} {
		if math.Round(mgL) >= from {
			index++
		}
	}
	return index, true
}

// RateNitrate rates nitrate in water [mg N/L]: under 5, to 30, over (Ayers and Westcot 1985).
func RateNitrate(mg float64) Restriction { return rate(mg, 5, 30) }

// RateInfiltration rates how water of a SAR and salinity [dS/m] soaks in: at SAR under 3
// none over 0.7 and severe under 0.2 dS/m; under 6, 1.2 and 0.3; under 12, 1.9 and 0.5
// (Ayers and Westcot 1985). NotKnown outside.
func RateInfiltration(sar, ec float64) Restriction {
	for _, row := range []struct{ sar, none, severe float64 }{{3, 0.7, 0.2}, {6, 1.2, 0.3}, {12, 1.9, 0.5}} {
		switch {
		case !(sar >= 0 && ec >= 0):
			return NotKnown
		case sar >= row.sar:
			continue
		case ec > row.none:
			return None
		case ec < row.severe:
			return Severe
		}
		return Moderate
	}
	return NotKnown
}

// A Washing is what a tap or tub sheds [L a person-day].
type Washing struct{ Usual, Sparing float64 }

var washings = map[string]Washing{
	"bath": {91, 91}, "dishwasher": {3.8, 3.8}, "kitchen sink": {23, 23}, "laundry sink": {11, 11},
	"shower": {64, 38}, "wash basin": {23, 20}, "washing machine": {42, 30},
}

// WashingOf returns the design flow of a bath, dishwasher, kitchen sink, laundry sink,
// shower, wash basin or washing machine (Washington State, WAC 246-274-410).
func WashingOf(tap string) (w Washing, ok bool) {
	w, ok = washings[tap]
	return w, ok
}

// MixCheck says what is wrong with a mix for composting, or nothing: C:N 20 to 40 and
// moisture 0.40 to 0.65 work, 25 to 30 and 0.50 to 0.60 are best (Louisiana State
// extension after NRAES-54). Under 0.35 it is slow and near 0.30 it stops (Cornell).
func MixCheck(cn, moisture float64) []string {
	var out []string
	switch {
	case !(cn >= 20):
		out = append(out, fmt.Sprintf("C:N %.0f: too rich, and nitrogen goes as ammonia; add leaves, straw or sawdust", cn))
	case cn > 40:
		out = append(out, fmt.Sprintf("C:N %.0f: too lean and slow; add greens, manure or urine", cn))
	}
	switch {
	case !(moisture >= 0.40):
		out = append(out, fmt.Sprintf("%.0f %% moist: too dry; water it", 100*moisture))
	case moisture > 0.65:
		out = append(out, fmt.Sprintf("%.0f %% moist: too wet, and it sours; add something dry", 100*moisture))
	}
	return out
}

// CoverLeft returns the days that cover material [L] lasts at litres a person-day for
// so many people, +Inf where none is used. Less than none counts as none.
func CoverLeft(litres, perPerson, people float64) float64 {
	use := perPerson * people
	if !(use > 0) {
		return math.Inf(1)
	}
	return math.Max(0, litres) / use
}
