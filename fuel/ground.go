package fuel

import "math"

// DampingDepth returns the depth [m] over which the yearly wave in the ground falls to 1/e,
// from the soil's heat diffusivity [m2/s]: sqrt(365 a/pi) with a in m2/d.
func DampingDepth(diffusivity float64) float64 {
	return math.Sqrt(365 * diffusivity * daySecs / math.Pi)
}

// A Ground is the yearly wave of temperature at the surface.
type Ground struct {
	Mean        float64 // °C
	Swing       float64 // K, half from coldest to warmest
	Coldest     float64 // day of the year
	Diffusivity float64 // m2/s: 0.2-1.0e-6, moist loam 0.5-0.7e-6 (from memory)
}

// At returns the temperature [°C] at a depth [m] on a day of the year, the surroundings of a
// buried tank.
//
//	Tm - A exp(-z/d) cos(2 pi/365 (n - n0) - z/d)
//
// Kusuda and Achenbach 1965.
func (g Ground) At(depth, yearDay float64) float64 {
	z := depth / DampingDepth(g.Diffusivity)
	return g.Mean - g.Swing*math.Exp(-z)*math.Cos(2*math.Pi/365*(yearDay-g.Coldest)-z)
}

// Lag returns the days by which the wave at a depth [m] follows the surface.
func (g Ground) Lag(depth float64) float64 {
	return depth / DampingDepth(g.Diffusivity) * 365 / (2 * math.Pi)
}
