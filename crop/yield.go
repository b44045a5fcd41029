package crop

import "math"

// YieldResponse returns Ya/Ym = 1 - Ky (1 - ETa/ETm), held to 0..1. ratio is
// ETa/ETm of the season or stage. Meant for deficits up to about half.
// Source: Doorenbos and Kassam (1979), FAO-33; FAO-56 eq. 90.
func YieldResponse(ky, ratio float64) float64 { return clamp(1-ky*(1-ratio), 0, 1) }

// SaltYield returns Ya/Ym in salty soil: 1 - (ECe - threshold) slope/100 above
// the threshold [dS/m; slope % per dS/m], held to 0..1. Source: FAO-56 eq. 89.
func SaltYield(ece, threshold, slope float64) float64 {
	return clamp(1-math.Max(ece-threshold, 0)*slope/100, 0, 1)
}

// SaltStress returns the factor that salt puts on Ks: 1 - slope/(100 Ky) (ECe -
// threshold), held to 0..1. Source: FAO-56 eq. 91.
func SaltStress(ece, threshold, slope, ky float64) float64 {
	return clamp(1-math.Max(ece-threshold, 0)*slope/(100*ky), 0, 1)
}

// SoilSalt returns the soil's ECe under water of ECiw [both dS/m] at a leaching
// fraction: ECiw (1 + LF)/(5 LF). Source: FAO-56 eq. 93.
func SoilSalt(eciw, leaching float64) float64 { return eciw * (1 + leaching) / (5 * leaching) }

// NitrogenUptake returns the share of the season's nitrogen taken up by a
// fraction of the season: an S-curve steepest at mid-season, scaled to pass 0 at
// 0 and 1 at 1. Logistic form and steepness 10 are common practice.
func NitrogenUptake(frac float64) float64 {
	f := func(x float64) float64 { return 1 / (1 + math.Exp(-10*(x-0.5))) }
	lo, hi := f(0), f(1)
	return (f(clamp(frac, 0, 1)) - lo) / (hi - lo)
}

// Sufficiency returns the share of full yield that a supply of one nutrient
// allows: supply over need up to 1, no more beyond it. Take the least over
// nutrients (Liebig). Straight line and plateau is common practice.
func Sufficiency(supply, need float64) float64 {
	if need <= 0 {
		return 1
	}
	return clamp(supply/need, 0, 1)
}
