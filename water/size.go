package water

import (
	"math"
	"slices"
)

// SequentPeak returns the smallest store [L] that never fails when the record
// comes round again: the largest of its Deficits over two passes. +Inf when the
// record brings less than is asked of it; 0 when either is empty. It is the yield
// before spillage, from a full store; yield after spillage needs up to two days'
// demand more, one that leaves room for rain and one that stands overnight. Source: Loucks and van Beek, sequent peak; it equals the mass
// curve of Rippl (1883).
func SequentPeak(inflow, demand []float64) float64 {
	if len(inflow) == 0 || len(demand) == 0 {
		return 0
	}
	var in, out float64
	for t, q := range inflow {
		in, out = in+q, out+at(demand, t)
	}
	if out > in*(1+1e-12) {
		return math.Inf(1)
	}
	twice := Deficits(inflow, demand, 0)
	return math.Max(slices.Max(twice), slices.Max(Deficits(inflow, demand, twice[len(twice)-1])))
}

// Deficits returns by how much a store of any size stands below its brim at the
// end of each day [L], from a deficit before the first:
// K = max(0, K' + R - Q), with inflow Q and demand R [L a day]. A demand shorter
// than the inflow repeats, so one value is a steady draft. Source: Loucks and van
// Beek, sequent peak.
func Deficits(inflow, demand []float64, from float64) []float64 {
	out := make([]float64, len(inflow))
	k := from
	for t, q := range inflow {
		k = math.Max(0, k+at(demand, t)-q)
		out[t] = k
	}
	return out
}

// IntermediateRule returns a tank size [L]: the lesser of 5 % of a year's catch
// (area [m2] x rain [mm a year] x run-off coefficient x filter share) and 5 % of
// a year's demand (18.25 days of demandL [L a day]). It presumes rain and demand
// that are nearly even through the year. Source: BS 8515:2009 and EN 16941-1,
// intermediate approach, as quoted by tank makers.
func IntermediateRule(areaM2, rainMM, coef, filter, demandL float64) float64 {
	return 0.05 * math.Min(Catch(rainMM, areaM2, coef)*filter, 365*demandL)
}

// SpellTank returns the tank [L] that carries a demand [L a day] through the
// longest dry spell [days]. Source: Warwick University Development Technology
// Unit, roof-water sizing, method 1.
func SpellTank(demandL, spellDays float64) float64 { return demandL * spellDays }

// SizeCurve returns one Result for each tank size [L] at one demand [L a day],
// the record coming round: each run begins at the level that it leaves behind
// when it begins empty.
func SizeCurve(inflow, sizes []float64, demand float64, rule Rule) []Result {
	out := make([]Result, len(sizes))
	for i, s := range sizes {
		out[i] = settled(inflow, demand, s, rule)
	}
	return out
}

// settled is one run of a record that comes round again.
func settled(inflow []float64, demand, size float64, rule Rule) Result {
	level := 0.0
	for _, q := range inflow {
		level = rule(level, q, demand, size).End
	}
	return Simulate(inflow, demand, size, level, rule)
}
