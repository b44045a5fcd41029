package water

import "math"

// SequentPeak returns the smallest store [L] that never fails when the record
// comes round again: K = max(0, K' + R - Q), run twice from K = 0, and the answer
// is the largest K. A demand shorter than the inflow repeats, so one value is a
// steady draft. +Inf when the record brings less than is asked of it; 0 when
// either is empty. Source: Loucks and van Beek, sequent peak; it equals the mass
// curve of Rippl (1883).
func SequentPeak(inflow, demand []float64) float64 {
	if len(inflow) == 0 || len(demand) == 0 {
		return 0
	}
	var k, peak, in, out float64
	for range 2 {
		for t, q := range inflow {
			d := demand[t%len(demand)]
			k = math.Max(0, k+d-q)
			peak = math.Max(peak, k)
			in, out = in+q, out+d
		}
	}
	if out > in*(1+1e-12) {
		return math.Inf(1)
	}
	return peak
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
// each tank empty at the start.
func SizeCurve(inflow, sizes []float64, demand float64, rule Rule) []Result {
	out := make([]Result, len(sizes))
	for i, s := range sizes {
		out[i] = Simulate(inflow, demand, s, 0, rule)
	}
	return out
}

// A Grid holds Rv and Rt for every pair of tank size and demand.
type Grid struct {
	Sizes, Demands []float64 // L, L a day
	rv, rt         []float64
}

// Surface runs every size [L] against every demand [L a day] over the inflow
// [L a day], each tank empty at the start. It allocates once, not for each cell.
func Surface(inflow, sizes, demands []float64, rule Rule) Grid {
	n := len(sizes) * len(demands)
	g := Grid{sizes, demands, make([]float64, n), make([]float64, n)}
	for i, s := range sizes {
		for j, d := range demands {
			r := Simulate(inflow, d, s, 0, rule)
			g.rv[i*len(demands)+j], g.rt[i*len(demands)+j] = r.Rv, r.Rt
		}
	}
	return g
}

// At returns the volume and time reliability (0..1) of size i and demand j.
func (g Grid) At(i, j int) (rv, rt float64) {
	k := i*len(g.Demands) + j
	return g.rv[k], g.rt[k]
}

// Smallest returns the least size [L] in the grid whose time reliability at
// demand j reaches rt; ok is false when none does.
func (g Grid) Smallest(j int, rt float64) (size float64, ok bool) {
	for i, s := range g.Sizes {
		if _, got := g.At(i, j); got >= rt && (!ok || s < size) {
			size, ok = s, true
		}
	}
	return size, ok
}
