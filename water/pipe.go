package water

import "math"

const gravity = 9.81 // m/s2

// TapFlow returns the flow [L/s] of an opening of diameter [m] under a head of
// water [m]: Q = Cd A sqrt(2 g h), Cd 0.60-0.62 with a sharp edge, 0.8 for a short
// tube. Formula from memory (orifice equation).
func TapFlow(diameter, head, cd float64) float64 {
	return 1000 * cd * circle(diameter) * math.Sqrt(2*gravity*math.Max(head, 0))
}

// DrainMinutes returns the time for a straight-walled tank of plan area [m2] to
// fall from one head to another [m] through an opening:
// t = 2 At (sqrt h1 - sqrt h2) / (Cd A sqrt(2 g)). Formula from memory.
func DrainMinutes(areaM2, from, to, diameter, cd float64) float64 {
	fall := math.Sqrt(math.Max(from, 0)) - math.Sqrt(math.Max(to, 0))
	return 2 * areaM2 * fall / (cd * circle(diameter) * math.Sqrt(2*gravity)) / 60
}

// HoseFlow returns the flow [L/s] through a full hose of length and bore [m]
// under a head [m] by Hazen and Williams: Q = 0.2785 C d^2.63 (h/L)^0.54, C 140
// for polyethylene. It holds for turbulent flow near 1 m/s. Formula from memory.
func HoseFlow(length, bore, head, c float64) float64 {
	return 1000 * 0.2785 * c * math.Pow(bore, 2.63) * math.Pow(math.Max(head, 0)/length, 0.54)
}

// LiftWork returns the work of raising water [kJ]: rho g h V, with V [L], h [m].
func LiftWork(litres, head float64) float64 { return litres * gravity * head / 1000 }

func circle(d float64) float64 { return math.Pi * d * d / 4 }
