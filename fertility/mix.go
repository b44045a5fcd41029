package fertility

import (
	"errors"
	"fmt"
	"math"
)

// A Material is something to compost. Shares run from 0 to 1.
type Material struct {
	Mass     float64 // kg wet
	Moisture float64 // share of wet mass
	C, N     float64 // share of dry mass
}

// Dry returns the dry mass [kg].
func (m Material) Dry() float64 { return m.Mass * (1 - m.Moisture) }

// CarbonOf returns the carbon share of dry mass from the nitrogen share and C:N.
func CarbonOf(n, cn float64) float64 { return n * cn }

// CarbonFromAsh returns the carbon share of dry mass from the ash share: (1 - ash)/1.8,
// from memory.
func CarbonFromAsh(ash float64) float64 { return (1 - ash) / 1.8 }

// Moisture returns the water share of a sample weighed wet and again after 24 h at
// 105-110 °C (Richard and Trautmann, Cornell).
func Moisture(wet, dry float64) (float64, error) {
	if !(wet > 0) || !(dry >= 0) || dry > wet {
		return 0, fmt.Errorf("moisture: the sample weighs %g wet and %g dry; dry must lie between 0 and wet", wet, dry)
	}
	return (wet - dry) / wet, nil
}

// MixMoisture returns the water share of the mix, sum(Q M)/sum(Q); NaN of nothing.
func MixMoisture(mix ...Material) float64 {
	var water, wet float64
	for _, m := range mix {
		water += m.Mass * m.Moisture
		wet += m.Mass
	}
	return water / wet
}

// MixCN returns the C:N of the mix, sum(Q C (1-M)) / sum(Q N (1-M)); +Inf without
// nitrogen, NaN of nothing. Ratios must not be averaged: carbon and nitrogen are summed.
func MixCN(mix ...Material) float64 {
	var c, n float64
	for _, m := range mix {
		c += m.C * m.Dry()
		n += m.N * m.Dry()
	}
	return c / n
}

var errNoMix = errors.New("no amounts of these materials meet the goal: add one that lies on the other side of it")

// SecondForMoisture returns the kg of a second material of moisture m2 that brings q1 kg
// at m1 to the goal.
//
//	Q2 = (Q1 G - Q1 M1) / (M2 - G)
//
// Richard and Trautmann. The goal must lie between the two moistures.
func SecondForMoisture(q1, m1, m2, goal float64) (float64, error) {
	return amount(q1*(goal-m1), m2-goal)
}

// SecondForCN returns the kg of second (its Mass is not used) that brings first to the
// C:N goal.
//
//	Q2 = Q1 N1 (R - C1/N1)(1 - M1) / [N2 (C2/N2 - R)(1 - M2)]
//
// Richard and Trautmann, from memory.
func SecondForCN(first, second Material, goal float64) (float64, error) {
	return amount(first.Dry()*(goal*first.N-first.C), (second.C-goal*second.N)*(1-second.Moisture))
}

// amount returns num/den when it is a mass: finite and not negative.
func amount(num, den float64) (float64, error) {
	q := num / den
	if math.IsNaN(q) || math.IsInf(q, 0) || q < 0 {
		return 0, errNoMix
	}
	return q, nil
}

// SolveMix returns the kg of each other material to add to first (whose Mass is given)
// so that the whole meets both goals with the least added mass.
//
//	sum(Q (M - G)) = 0   and   sum(Q (1 - M)(C - R N)) = 0
//
// Two equations bind, so the least mass uses at most two of the others: each pair is
// solved and the lightest without a negative amount is taken. The error says that no
// such mix exists.
func SolveMix(first Material, others []Material, moisture, cn float64) ([]float64, error) {
	if !(first.Mass > 0) || !(moisture > 0 && moisture < 1) || !(cn > 0) {
		return nil, errors.New("mix: the first mass and the C:N goal must be above zero and the moisture goal between 0 and 1")
	}
	w0, c0 := excess(first, moisture, cn)
	if math.Abs(w0) <= met && math.Abs(c0) <= met { // then nothing need be added
		return make([]float64, len(others)), nil
	}
	w0, c0 = w0*first.Mass, c0*first.Mass
	best, least := []float64(nil), math.Inf(1)
	for i := range others {
		for j := i; j < len(others); j++ {
			x, y, ok := pair(others[i], others[j], w0, c0, moisture, cn)
			if ok && x+y < least {
				best, least = make([]float64, len(others)), x+y
				best[i] += x
				best[j] += y
			}
		}
	}
	if best == nil {
		return nil, errNoMix
	}
	return best, nil
}

// met is how far from a goal what one kg adds to a sum may be and still meet it:
// rounding, no more.
const met = 1e-12

// excess returns what one kg of m adds to the two sums.
func excess(m Material, moisture, cn float64) (water, carbon float64) {
	return m.Moisture - moisture, (1 - m.Moisture) * (m.C - cn*m.N)
}

// pair solves the two sums for amounts of a and b; when a and b are the same material
// b's amount is zero and both sums must agree on a's, which comes from the one that a
// weighs on more.
func pair(a, b Material, w0, c0, moisture, cn float64) (x, y float64, ok bool) {
	aw, ac := excess(a, moisture, cn)
	bw, bc := excess(b, moisture, cn)
	det := aw*bc - bw*ac
	if a == b || math.Abs(det) < 1e-12 {
		x = -w0 / aw
		if math.Abs(ac) > math.Abs(aw) {
			x = -c0 / ac
		}
		left := func(sum, by float64) bool { return math.Abs(sum+by*x) <= 1e-9*(1+math.Abs(sum)) }
		return x, 0, x >= 0 && !math.IsInf(x, 0) && left(w0, aw) && left(c0, ac)
	}
	x, y = (bw*c0-bc*w0)/det, (ac*w0-aw*c0)/det
	return x, y, x >= 0 && y >= 0 && !math.IsInf(x+y, 0)
}
