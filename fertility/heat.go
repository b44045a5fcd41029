package fertility

import "math"

const (
	minute       = 1.0 / 1440  // d
	second       = 1.0 / 86400 // d
	classALowest = 50.0        // °C, 40 CFR 503.32(a)(3)
)

// ClassADays returns the days that material of 7 % solids or more must be held at
// tempC for Class A. ok is false below 50 °C, where the rule gives no time, and for NaN.
//
//	D = 131 700 000 / 10^(0.1400 t), at least 20 min
//
// 40 CFR 503.32(a)(3)(ii)(A). A yardstick here: a household heap seldom proves it.
func ClassADays(tempC float64) (days float64, ok bool) {
	if !(tempC >= classALowest) {
		return 0, false
	}
	return max(thick(tempC), 20*minute), true
}

// ClassAThinDays is ClassADays for material under 7 % solids.
//
//	D = 50 070 000 / 10^(0.1400 t), at least 30 min; between 15 s and 30 min the first equation holds
//
// 40 CFR 503.32(a)(3)(ii)(C) and (D).
func ClassAThinDays(tempC float64) (days float64, ok bool) {
	if !(tempC >= classALowest) {
		return 0, false
	}
	d := 50_070_000 / math.Pow(10, 0.14*tempC)
	if d < 30*minute {
		d = max(min(30*minute, thick(tempC)), 15*second)
	}
	return d, true
}

func thick(t float64) float64 { return 131_700_000 / math.Pow(10, 0.14*t) }

// HeatTime adds up readings as shares of the Class A time for thick material. Adding
// unequal temperatures goes beyond the rule, which is for a constant one: read the
// sum as evidence, not as proof.
type HeatTime struct {
	Share  float64 // of the required time; 1 is met
	Warmth float64 // °C, highest reading
	Hot    float64 // d at 50 °C or more
}

// Add takes a reading that held for the given days. NaN readings and days of zero or
// less add nothing.
func (h *HeatTime) Add(tempC, days float64) {
	if math.IsNaN(tempC) || !(days > 0) {
		return
	}
	h.Warmth = max(h.Warmth, tempC)
	if need, ok := ClassADays(tempC); ok {
		h.Share += days / need
		h.Hot += days
	}
}

// Met reports whether the readings sum to the Class A time.
func (h HeatTime) Met() bool { return h.Share >= 1 }

// A Reading is the temperature of a heap over a span of time.
type Reading struct {
	Hours  float64
	TempC  float64 // NaN: not read
	Turned bool    // the heap was turned within the span
}

// FurtherVessel reports whether the readings hold 55 °C or more for three days on end,
// the rule for a vessel or a still aerated pile (40 CFR 257 Appendix II). A gap in the
// readings breaks the run.
func FurtherVessel(log []Reading) bool { return heldFor(log, 55, 3*24, 0) }

// FurtherWindrow reports whether the readings hold 55 °C or more for fifteen days on
// end with five turns in that time (40 CFR 257 Appendix II).
func FurtherWindrow(log []Reading) bool { return heldFor(log, 55, 15*24, 5) }

// HotWeek reports whether the readings stay above 50 °C for over a week, the criterion
// of WHO 2006 for composting faeces.
func HotWeek(log []Reading) bool { return heldFor(log, math.Nextafter(50, 51), 7*24+1e-9, 0) }

func heldFor(log []Reading, tempC, hours float64, turns int) bool {
	var run float64
	var turned int
	for _, r := range log {
		if !(r.TempC >= tempC) || !(r.Hours > 0) {
			run, turned = 0, 0
			continue
		}
		run += r.Hours
		if r.Turned {
			turned++
		}
		if run >= hours && turned >= turns {
			return true
		}
	}
	return false
}

// Significant reports whether the readings hold 40 °C or more for five days on end with
// over 55 °C for four hours within them: significant reduction by composting (40 CFR
// 257 Appendix II). It lowers, and does not end, the danger.
func Significant(log []Reading) bool {
	var run, hot float64
	for _, r := range log {
		if !(r.TempC >= 40) || !(r.Hours > 0) {
			run, hot = 0, 0
			continue
		}
		run += r.Hours
		if r.TempC > 55 {
			hot += r.Hours
		}
		if run >= 5*24 && hot >= 4 {
			return true
		}
	}
	return false
}
