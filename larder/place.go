package larder

import (
	"fmt"
	"math"
)

// Wave is the yearly wave of temperature at the surface of the ground, close to
// that of the air.
type Wave struct {
	Mean      float64 // °C over the year
	Amplitude float64 // K, half the span of the monthly means
	Coldest   float64 // day of the year of the coldest surface, 1 to 365; about 20-35 north, 200-218 south
}

// Loam is a middle thermal diffusivity of soil in m2/s: dry sand 0.2-0.3e-6,
// moist clay and loam 0.5-0.7e-6, wet sand 0.8-1.0e-6 (from memory, soil physics
// texts).
const Loam = 0.6e-6

const dayLength = 86400 // s

// DampingDepth returns the depth in m at which the yearly wave has shrunk to 1/e,
// for a diffusivity in m2/s: sqrt(365 a / pi), a in m2/day.
func DampingDepth(diffusivity float64) float64 {
	return math.Sqrt(365 * diffusivity * dayLength / math.Pi)
}

// Ground returns the temperature in °C at a depth in m on a day of the year:
//
//	T = Tm - A exp(-z/d) cos(2 pi (n - n0)/365 - z/d)
//
// Source: Kusuda and Achenbach 1965. It leaves out snow, shade and heat from a
// house, and repeats every 365 days.
func (w Wave) Ground(depth, diffusivity, dayOfYear float64) float64 {
	z := depth / DampingDepth(diffusivity)
	return w.Mean - w.Amplitude*math.Exp(-z)*math.Cos(2*math.Pi*(dayOfYear-w.Coldest)/365-z)
}

// Kinds of store.
const (
	Cellar  = "cellar"
	DryRoom = "dry"
	Room    = "room"
	Jars    = "jars"
	Crocks  = "crocks"
	Freezer = "freezer"
)

const (
	cellarDepth = 1.0 // m of earth over a banked or half-sunk store
	roomLow     = 18  // °C to which a lived-in room is heated
	drySwing    = 0.75
)

// StoreTemp returns the temperature in °C of a store on a day of the year, for
// where none is written down: air is the day's mean air, w the year's wave.
//
//   - cellar: the ground at 1 m, a banked or half-sunk store
//   - dry: an unheated dry room, three quarters of the air's swing about the mean
//   - room, jars, crocks: a lived-in room, as the air but heated to 18 °C
//   - freezer: the room in which the freezer stands, as room
//
// All but the ground wave (Kusuda and Achenbach 1965) is common practice: a
// thermometer in the store beats it. Any other kind is an error.
func StoreTemp(kind string, air float64, w Wave, dayOfYear float64) (float64, error) {
	switch kind {
	case Cellar:
		return w.Ground(cellarDepth, Loam, dayOfYear), nil
	case DryRoom:
		return w.Mean + drySwing*(air-w.Mean), nil
	case Room, Jars, Crocks, Freezer:
		return max(air, roomLow), nil
	}
	return 0, fmt.Errorf("store kind %q: write cellar, dry, room, jars, crocks or freezer", kind)
}
