package fertility

import "math"

// A Fit is what stored urine may feed.
type Fit uint8

// Fits, from least to most. Own food is another matter: see SpreadUrine.
const (
	NotFit    Fit = iota // not stored long enough for others' crops
	Processed            // food and fodder that are processed
	Fodder               // food to be processed, and fodder
	AnyCrop
)

// UrineFit returns what neat urine kept shut at tempC for months may feed of others'
// crops: at 4 °C a month for processed crops and six for fodder too, at 20 °C a month
// for fodder and six for all (Schönning and Stenström 2004; WHO 2006 Table 4.6, from
// memory). It must be neat: pH 8.8 and 1 g N/L or more. Colder than 4 °C, and NaN, is
// not fit; between the two temperatures the colder row holds.
func UrineFit(tempC, months float64) Fit {
	switch {
	case !(tempC >= 4 && months >= 1):
		return NotFit
	case tempC >= 20 && months >= 6:
		return AnyCrop
	case tempC >= 20 || months >= 6:
		return Fodder
	}
	return Processed
}

// zone is the safety zone of Feachem et al. 1983: over a temperature for so long.
var zone = [...]struct{ tempC, hours float64 }{{62, 1}, {50, 24}, {46, 7 * 24}, {43, 30 * 24}}

// SafeHours returns the hours above which no pathogen of excreta is expected to
// live at tempC: an hour over 62 °C, a day over 50, a week over 46, a month over 43
// (Feachem et al. 1983, from memory). ok is false at 43 °C and under, and at NaN.
func SafeHours(tempC float64) (hours float64, ok bool) {
	for _, z := range zone {
		if tempC > z.tempC {
			return z.hours, true
		}
	}
	return 0, false
}

// Alkaline reports whether faeces kept at a pH, moisture [share] and tempC for days
// meet the alkaline rule: pH over 9, under 25 % moist and over 35 °C throughout, over
// six months (WHO 2006 vol. 4; moisture and 35 °C from memory). NaN does not.
func Alkaline(pH, moisture, tempC, days float64) bool {
	return pH > 9 && moisture < 0.25 && tempC > 35 && days > 182.6
}

// LimeClassA reports the alkaline way to Class A: pH over 12 for 72 hours, over 52 °C
// for 12 of them (40 CFR 503.32(a)(4)); drying to 50 % solids follows.
func LimeClassA(pH, hours, hotHours float64) bool {
	return pH > 12 && hours >= 72 && hotHours >= 12
}

// DigestionDays returns the mean cell time [d] at which anaerobic digestion counts as
// significant reduction: 60 at 20 °C to 15 at 35 °C, straight between, 15 to 55 °C (40
// CFR 257 Appendix II). ok is false outside 20 to 55 °C and at NaN.
func DigestionDays(tempC float64) (days float64, ok bool) {
	if !(tempC >= 20 && tempC <= 55) {
		return 0, false
	}
	return math.Max(15, 60-3*(tempC-20)), true
}

// SludgeWait returns the months between less-treated sludge and harvest by kind of
// crop: 1 where the eaten part stays off the soil, 14 where it touches it, 20 for
// roots if it lay on the surface four months before it was dug in, else 38 (40 CFR
// 503.32(b)(5), as quoted; 38 from memory). Home gardens may not have it at all: this
// is the shape of the rule, not leave. ok is false for a kind that is not known.
func SludgeWait(k Kind, onSurface bool) (months float64, ok bool) {
	switch k {
	case NotEaten, Tree, High:
		return 1, true
	case Low, Raw:
		return 14, true
	case Root:
		if onSurface {
			return 20, true
		}
		return 38, true
	}
	return 0, false
}

// median99 are the days for 99 of 100 to die in stored faeces.
var median99 = map[string]float64{"bacteria": 4.8, "viruses": 29, "cysts": 341, "worm eggs": 429}

// T99 returns the median days for 99 of 100 bacteria, viruses, cysts (at least) or worm
// eggs to die in stored faeces (a review of 1,382 points in 243 experiments); ok is false
// for other words.
func T99(of string) (days float64, ok bool) {
	days, ok = median99[of]
	return days, ok
}

// DieOff returns the powers of ten by which organisms fall in days, from their T99.
func DieOff(days, t99 float64) float64 { return 2 * days / t99 }
