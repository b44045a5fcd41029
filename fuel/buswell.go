package fuel

import (
	"errors"
	"math"
)

// MolarVolume is the volume of a mole of gas [L] at 0 °C and 1 atm.
const MolarVolume = 22.414

// Atomic and molar masses [g/mol].
const (
	massC, massH, massO, massN, massS = 12.011, 1.008, 15.999, 14.007, 32.06
	massCH4                           = massC + 4*massH
	massCO2                           = massC + 2*massO
)

// Buswelled is what a mole of CaHbOcNdSe comes to when all of it becomes gas.
type Buswelled struct {
	CH4, CO2, NH3, H2S, Water float64 // mol out; Water is mol taken in
	Mass                      float64 // g/mol of the substance
	M3PerKg                   float64 // m3 of CH4 at 0 °C, 1 atm per kg
	COD                       float64 // kg of oxygen demand per kg
}

// Buswell splits a substance of a C, b H, c O, d N and e S.
//
//	CH4 = a/2 + b/8 - c/4 - 3d/8 - e/4      NH3 = d
//	CO2 = a/2 - b/8 + c/4 + 3d/8 + e/4      H2S = e
//	H2O in = a - b/4 - c/2 + 3d/4 + e/2
//	COD = 16 (2a + b/2 - c - 3d/2) / molar mass
//
// Buswell and Mueller 1952; Boyle 1977 (from memory). Real yields are 40 to 90 % of it:
// lignin does not digest and 5 to 10 % of COD goes to cells. The error tells of negative
// counts and of substances without methane to give.
func Buswell(a, b, c, d, e float64) (Buswelled, error) {
	if !(min(a, b, c, d, e) >= 0) || math.IsInf(a+b+c+d+e, 1) {
		return Buswelled{}, errors.New("buswell: atoms must be counted from zero up")
	}
	g := Buswelled{
		CH4:   a/2 + b/8 - c/4 - 3*d/8 - e/4,
		CO2:   a/2 - b/8 + c/4 + 3*d/8 + e/4,
		NH3:   d,
		H2S:   e,
		Water: a - b/4 - c/2 + 3*d/4 + e/2,
		Mass:  a*massC + b*massH + c*massO + d*massN + e*massS,
	}
	if g.CH4 <= 0 || g.CO2 < 0 {
		return Buswelled{}, errors.New("buswell: this formula gives no methane; check the counts of C, H, O, N and S")
	}
	g.M3PerKg = MolarVolume * g.CH4 / g.Mass
	g.COD = 16 * (2*a + b/2 - c - 3*d/2) / g.Mass
	return g, nil
}

// MethaneShare returns the share of methane in methane and carbon dioxide.
func (g Buswelled) MethaneShare() float64 { return g.CH4 / (g.CH4 + g.CO2) }
