package weather

import "math"

// MillimetresPerMJ turns MJ m-2 into mm of evaporated water. FAO-56 eq. 20.
const MillimetresPerMJ = 0.408

// NetShort returns the short-wave radiation that grass keeps [MJ m-2 d-1] at an
// albedo of 0.23. FAO-56 eq. 38.
func NetShort(sun float64) float64 { return 0.77 * sun }

// NetLong returns the long-wave radiation that leaves [MJ m-2 d-1] from the day's
// extremes [°C], the vapour pressure [kPa], the sun and the clear-sky sun
// [MJ m-2 d-1]; their ratio is held to at most 1. FAO-56 eq. 39.
func NetLong(tmin, tmax, vapour, sun, clear float64) float64 {
	const stefan = 4.903e-9 // MJ K-4 m-2 d-1
	ratio := 1.0
	if clear > 0 {
		ratio = min(1, sun/clear)
	}
	hot, cold := math.Pow(tmax+273.16, 4), math.Pow(tmin+273.16, 4)
	return stefan * (hot + cold) / 2 * (0.34 - 0.14*math.Sqrt(vapour)) * (1.35*ratio - 0.35)
}

// NetRadiation returns short wave less long wave [MJ m-2 d-1]. FAO-56 eq. 40.
func NetRadiation(short, long float64) float64 { return short - long }

// SoilHeat returns the heat into the soil over a month [MJ m-2 d-1] from the mean
// temperatures [°C] of the months before and after. FAO-56 eq. 43. Over a day it
// is 0 (eq. 42).
func SoilHeat(before, after float64) float64 { return 0.07 * (after - before) }

// SoilHeatSince returns the heat into the soil over a month [MJ m-2 d-1] when the
// month after is not known. FAO-56 eq. 44.
func SoilHeatSince(before, now float64) float64 { return 0.14 * (now - before) }

// A Surface is a reference surface: the numerator [K mm s3 Mg-1 d-1] and the
// denominator [s/m] of the daily equation.
type Surface struct{ Cn, Cd float64 }

// The daily reference surfaces of ASCE-EWRI (2005); Grass is that of FAO-56 too.
var (
	Grass   = Surface{900, 0.34}
	Alfalfa = Surface{1600, 0.38}
)

// Air is what PenmanMonteith needs of a day.
type Air struct {
	TMin, TMax float64 // °C
	Vapour     float64 // actual vapour pressure, kPa
	Wind       float64 // at 2 m, m/s; 2 where none is known, at least 0.5 (FAO-56 p. 63)
	Net        float64 // net radiation, MJ m-2 d-1
	SoilHeat   float64 // MJ m-2 d-1
	Pressure   float64 // kPa
}

// PenmanMonteith returns reference evapotranspiration [mm/d]. FAO-56 eq. 6 for
// Grass; ASCE-EWRI (2005) eq. 1 for either surface.
func PenmanMonteith(a Air, s Surface) float64 {
	t := MeanTemp(a.TMin, a.TMax)
	Δ, γ := SaturationSlope(t), Psychrometric(a.Pressure)
	dry := MeanSaturation(a.TMin, a.TMax) - a.Vapour
	return (MillimetresPerMJ*Δ*(a.Net-a.SoilHeat) + γ*s.Cn/(t+273)*a.Wind*dry) /
		(Δ + γ*(1+s.Cd*a.Wind))
}

// Hargreaves returns reference evapotranspiration [mm/d] from the day's extremes
// [°C] and ra [MJ m-2 d-1], never below 0. FAO-56 eq. 52; for sums over a week or
// more. It is low where wind passes 3 m/s and high in very humid air (p. 64).
func Hargreaves(tmin, tmax, ra float64) float64 {
	t := MeanTemp(tmin, tmax)
	return max(0, 0.0023*(t+17.8)*math.Sqrt(max(0, tmax-tmin))*MillimetresPerMJ*ra)
}
