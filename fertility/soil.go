package fertility

import "math"

// A Release is the share of organic nitrogen set free in the first, second and third
// year after spreading.
type Release [3]float64

// Release series. Manures: Cornell CSS 412, of organic nitrogen, wetter (under 18 % dry
// matter) and drier. Compost and faeces compost: common practice.
var (
	CattleWet     = Release{0.35, 0.12, 0.05}
	CattleDry     = Release{0.25, 0.12, 0.05}
	HenManure     = Release{0.55, 0.12, 0.05}
	HorseWet      = Release{0.30, 0.12, 0.05}
	HorseDry      = Release{0.25, 0.12, 0.05}
	SheepWet      = Release{0.35, 0.12, 0.05}
	SheepDry      = Release{0.25, 0.12, 0.05}
	HouseCompost  = Release{0.10, 0.05, 0.03}
	FaecesCompost = Release{0.15, 0.05, 0.03}
)

// Freed returns the nitrogen set free this year from yearly doses of organic nitrogen,
// this year's first; doses older than three years add nothing.
func (r Release) Freed(doses ...float64) float64 {
	var sum float64
	for i := range min(len(doses), len(r)) {
		sum += doses[i] * r[i]
	}
	return sum
}

// SoilFactor scales decay in soil to tempC from 1 at 20 °C: Q10 of 2 between 5 and 35 °C
// (common practice), held above 35, falling straight to 0 from 5 to 0 °C. NaN gives 0.
func SoilFactor(tempC float64) float64 {
	if !(tempC > 0) {
		return 0
	}
	t := min(max(tempC, 5), 35)
	return math.Exp2((t-20)/10) * min(1, tempC/5)
}

// RateFor returns the first-order rate [1/d at 20 °C] that frees the given share (0 to
// below 1) in a year held at meanTemp. It is 0 where the soil is frozen all year.
func RateFor(yearShare, meanTemp float64) float64 {
	f := SoilFactor(meanTemp)
	if f == 0 || !(yearShare > 0) {
		return 0
	}
	return -math.Log1p(-min(yearShare, 0.999)) / 365 / f
}

// Mineralised returns the part of organic nitrogen set free in days at tempC, in the unit
// of organic; rate is per day at 20 °C. Never more than organic.
//
//	organic (1 - exp(-rate f(T) days))
func Mineralised(organic, rate, tempC, days float64) float64 {
	return -organic * math.Expm1(-max(0, rate)*SoilFactor(tempC)*max(0, days))
}

// Shares of urine nitrogen lost as ammonia.
const (
	LossShutTank  = 0.01 // shut, unvented tank (Jönsson et al. 2004, from memory: under 1 %)
	LossWateredIn = 0.05 // worked or watered in at once (Rodhe et al. 2004, from memory: 0-5 %)
	LossSlowIn    = 0.10 // worked in slowly (same, from memory)
	LossOnGround  = 0.13 // left on grass: mean of 6-19 % on sandy ground (Wageningen 1991)
	LossOpen      = 0.28 // open cans, then left on the ground: 15-40 % (common practice, low confidence)
)

// Leached returns the nitrate carried below the roots, in the unit of no3, when perc
// [mm] of water drains through a root zone that holds held [mm].
//
//	no3 (1 - exp(-perc/held)), a stirred reservoir
//
// Without drainage it is 0; a zone that holds nothing loses all.
func Leached(no3, perc, held float64) float64 {
	switch {
	case !(perc > 0):
		return 0
	case !(held > 0):
		return no3
	}
	return no3 * (1 - math.Exp(-perc/held))
}

// GreywaterDaily is the nutrient load of washing water [g a person-day] (Vinnerås 2002,
// from memory, low confidence).
var GreywaterDaily = NPK{1.4, 0.5, 1.0}

// DigestateAmmonium is the ammonium share of nitrogen in effluent (O'Rourke et al. 2009:
// from about 0.4 fed to 0.6 out).
const DigestateAmmonium = 0.60
