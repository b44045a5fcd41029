package fuel

import (
	"errors"
	"math"
)

// DegreeFactor is how many times faster a digester works for each °C up to 35 (from
// memory, after Chen and Hashimoto; published range 1.035-1.10).
const DegreeFactor = 1.06

var lnDegree = math.Log(DegreeFactor)

// Rate returns the first-order rate [1/d] at tempC from that at 35 °C.
//
//	k = k35 1.06^(T-35)
//
// It holds at 35 °C from there to 40, and is 0 under 4 °C (Werner et al. 1989: digestion
// runs from 4 °C), over 40, where the usual microbes fail (common practice), and at NaN.
func Rate(k35, tempC float64) float64 {
	if !(tempC >= 4 && tempC <= 40) {
		return 0
	}
	return max(0, k35) * math.Exp(lnDegree*(min(tempC, 35)-35))
}

// GasStep returns the volatile solids [kg] digested out of vs in days at tempC; the rest
// is vs less this. It is the exact step of first-order decay, so steps add up whatever
// their length.
//
//	vs (1 - exp(-k days))
func GasStep(vs, k35, tempC, days float64) (digested float64) {
	return -max(0, vs) * math.Expm1(-Rate(k35, tempC)*max(0, days))
}

// Batch returns the methane [unit of b0] of a batch or plug-flow tank after days at rate k
// [1/d]: B0 (1 - exp(-k t)). From memory.
func Batch(b0, k, days float64) float64 { return -b0 * math.Expm1(-k*days) }

// Mixed returns the methane [unit of b0] of a stirred tank with hrt days of retention:
// B0 k HRT / (1 + k HRT). From memory.
func Mixed(b0, k, hrt float64) float64 { return b0 * k * hrt / (1 + k*hrt) }

// FitBatch returns the rate [1/d] and the ultimate yield of Batch through two points: b1 at
// t1 days and b2 at the later t2. The yield must rise by less than the time does.
func FitBatch(t1, b1, t2, b2 float64) (k, b0 float64, err error) {
	if !(t1 > 0 && t2 > t1 && b1 > 0 && b2 > b1 && b2/b1 < t2/t1) || math.IsInf(b2+t2, 1) {
		return 0, 0, errors.New("fit: give two rising yields at two rising times, the yield rising less than the time")
	}
	lo, hi := 0.0, 50/t1
	for range 100 {
		k = (lo + hi) / 2
		if math.Expm1(-k*t2)/math.Expm1(-k*t1) > b2/b1 {
			lo = k
		} else {
			hi = k
		}
	}
	return k, -b1 / math.Expm1(-k*t1), nil
}

// GrowthMax returns the greatest growth rate [1/d] for ChenHashimoto; ok is false outside
// 20 to 60 °C.
//
//	um = 0.013 T - 0.129
//
// Hashimoto (offset from memory).
func GrowthMax(tempC float64) (um float64, ok bool) {
	return 0.013*tempC - 0.129, tempC >= 20 && tempC <= 60
}

// KPig returns the kinetic factor of pig manure at s0 kg VS/m3: 0.6 + 0.0206 exp(0.051 S0)
// (Hashimoto, from memory; one lecture prints it without its coefficients).
func KPig(s0 float64) float64 { return 0.6 + 0.0206*math.Exp(0.051*s0) }

// KCattle returns the kinetic factor of cattle manure at s0 kg VS/m3:
// 0.8 + 0.0016 exp(0.06 S0) (Hashimoto, from memory).
func KCattle(s0 float64) float64 { return 0.8 + 0.0016*math.Exp(0.06*s0) }

// ChenHashimoto returns the methane of a stirred tank per kg VS [unit of b0] and per m3 of
// tank and day, from s0 kg VS/m3 fed, kinetic factor k, growth um [1/d] and hrt days.
//
//	B = B0 (1 - K / (um HRT - 1 + K)),  rate = B S0 / HRT
//
// Chen and Hashimoto 1978, from memory. Both are 0 where um hrt is 1 or less: the microbes
// wash out.
func ChenHashimoto(b0, s0, k, um, hrt float64) (yield, rate float64) {
	if !(um*hrt > 1) {
		return 0, 0
	}
	yield = b0 * (1 - k/(um*hrt-1+k))
	return yield, yield * s0 / hrt
}

// TankLitres returns the liquid volume for a daily slurry [L] and a retention [d] (Sasse 1988).
func TankLitres(slurry, days float64) float64 { return slurry * days }

// Retention returns the days that slurry [L/d] stays in litres of liquid; +Inf without feed.
func Retention(litres, slurry float64) float64 { return litres / slurry }

const (
	waterHeat = 4186.0 // J/kg/K
	wallLoss  = 5.0    // W/m2/K, bare wall in light wind (common practice)
	daySecs   = 86400.0
)

// TimeConstant returns the days in which litres of slurry close 63 % of a gap to the air:
// heat held over heat lost through the six sides of a cube of that volume at 5 W/m2/K
// (common practice). 750 L: 1.5 d; 4,800 L: 2.7 d. Under one litre counts as one.
func TimeConstant(litres float64) float64 {
	m3 := max(1, litres) / 1000
	return waterHeat * 1000 * m3 / (wallLoss * 6 * math.Pow(m3, 2.0/3)) / daySecs
}

// SlurryTemp returns the temperature [°C] of litres of slurry a day after prev, with the
// day's mean air, or the ground around a buried tank, at air. Sun, feed and the warmth of
// digestion are left out.
//
//	T = air + (prev - air) exp(-1 d / TimeConstant)
func SlurryTemp(prev, air, litres float64) float64 {
	return Drawn(prev, air, SlurryKeeps(litres))
}

// Drawn returns what is at prev a day later, drawn to air, when it keeps a share of its
// difference from it.
func Drawn(prev, air, keeps float64) float64 { return air + (prev-air)*keeps }

// SlurryKeeps returns the share of its difference from the air that so many litres of
// slurry still have a day later: exp(-1 d / TimeConstant).
func SlurryKeeps(litres float64) float64 { return math.Exp(-1 / TimeConstant(litres)) }
