package fertility

import "math"

// CompostK20 is the first-order loss of whole mass [1/d] near 20 °C: 59-62 % lost in
// 120 d from vented bins, ln(1/0.395)/120 (computed from Karnchanawong and Suriyanon 2011).
const CompostK20 = 0.0077

// CompostRate returns the first-order rate of loss of compost mass [1/d] at tempC.
//
//	k = k20 [1.066^(T-20) - 1.21^(T-60)], scaled so that k(20 °C) = 0.0077
//
// Haug 1993, from memory. It is 0 at or below 0 °C, at NaN, and from about 80 °C, where
// the bracket turns negative; between, it peaks near 72 °C.
func CompostRate(tempC float64) float64 {
	if !(tempC > 0 && tempC < 100) {
		return 0
	}
	return CompostK20 * max(0, haug(tempC)/haug20)
}

func haug(t float64) float64 { return math.Exp(ln1066*(t-20)) - math.Exp(ln121*(t-60)) }

var ln1066, ln121 = math.Log(1.066), math.Log(1.21)

var haug20 = haug(20)

// MoistureFactor scales the compost rate by the water share w of wet mass:
// 1/(1 + exp(-17.684 w + 7.0622)), Haug 1993, from memory.
func MoistureFactor(w float64) float64 { return 1 / (1 + math.Exp(-17.684*w+7.0622)) }

// FreeAirFactor scales the compost rate by the air-filled share a of volume:
// 1/(1 + exp(-23.675 a + 3.4945)), Haug 1993, from memory.
func FreeAirFactor(a float64) float64 { return 1 / (1 + math.Exp(-23.675*a+3.4945)) }

// OxygenFactor scales the compost rate by the oxygen in the pores [%]: O2/(O2 + 2),
// Haug 1993, from memory. Less than none counts as none.
func OxygenFactor(percent float64) float64 {
	p := max(0, percent)
	return p / (p + 2)
}

// Decay carries a mass [kg] for days at a first-order rate [1/d] towards rest, the part
// that does not rot; remaining + lost is the mass. Negative rates and days count as 0.
//
//	m(t) = rest + (mass - rest) exp(-k t)
func Decay(mass, rest, rate, days float64) (remaining, lost float64) {
	live := max(0, mass-max(0, rest))
	lost = -live * math.Expm1(-max(0, rate)*max(0, days))
	return mass - lost, lost
}

// NLossShare returns the share of starting nitrogen lost from a covered heap of the given
// C:N while it ripens: 0.60 at 15 and below, 0.40 at 20, 0.35 at 25, 0.20 at 30 and above,
// straight between. The bands 40-60 % under 20 and 20-35 % at 25-30 are common practice.
// NaN counts as the worst.
func NLossShare(cn float64) float64 {
	switch {
	case !(cn > 15):
		return 0.60
	case cn < 20:
		return 0.60 - (cn-15)*0.04
	case cn < 25:
		return 0.40 - (cn-20)*0.01
	case cn < 30:
		return 0.35 - (cn-25)*0.03
	}
	return 0.20
}
