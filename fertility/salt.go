package fertility

import "math"

// SaltYield returns the share of full yield at soil salinity ece [dS/m] for a crop with a
// threshold [dS/m] and a slope [share per dS/m].
//
//	1 - slope (ece - threshold) above the threshold, never under 0
//
// Maas 1990; FAO 61 Annex 1.
func SaltYield(ece, threshold, slope float64) float64 {
	return min(1, max(0, 1-slope*(ece-threshold)))
}

// SAR returns the sodium adsorption ratio, Na / sqrt((Ca + Mg)/2), all in meq/L (from
// memory). Without calcium and magnesium it is +Inf, or 0 without sodium either.
func SAR(na, ca, mg float64) float64 {
	if na == 0 {
		return 0
	}
	return na / math.Sqrt((ca+mg)/2)
}

// LeachingFraction returns the share of water that must drain past the roots to hold soil
// at ece [dS/m] with water of ecw [dS/m].
//
//	ECw / (5 ECe - ECw)
//
// Ayers and Westcot 1985 (FAO 29), from memory. ok is false where the answer is not
// between 0 and 1: such water cannot hold that soil.
func LeachingFraction(ecw, ece float64) (share float64, ok bool) {
	share = ecw / (5*ece - ecw)
	return share, share >= 0 && share < 1
}

// Restriction is how far water for plants must be held back.
type Restriction uint8

// Restrictions of FAO 29, Table 1. The zero value is for a figure not known.
const (
	NotKnown Restriction = iota
	None
	Moderate // slight to moderate
	Severe
)

// RateEC rates salinity [dS/m]: under 0.7, to 3.0, over (Ayers and Westcot 1985).
func RateEC(ec float64) Restriction { return rate(ec, 0.7, 3) }

// RateSAR rates sodium in surface watering by SAR: under 3, to 9, over (same).
func RateSAR(sar float64) Restriction { return rate(sar, 3, 9) }

// RateChloride rates chloride in surface watering [meq/L]: under 4, to 10, over (same).
func RateChloride(meq float64) Restriction { return rate(meq, 4, 10) }

// RateBoron rates boron [mg/L]: under 0.7, to 3.0, over (same).
func RateBoron(mg float64) Restriction { return rate(mg, 0.7, 3) }

func rate(v, none, severe float64) Restriction {
	switch {
	case !(v >= 0):
		return NotKnown
	case v < none:
		return None
	case v <= severe:
		return Moderate
	}
	return Severe
}
