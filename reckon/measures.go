package reckon

import (
	"errors"
	"math"
)

// TST returns total system throughflow, the sum of Throughflow: every flow that enters a
// compartment. Finn's index divides by it.
func (w Network) TST() float64 { return sum(w.Throughflow()) }

// TSTp returns total system throughput: every flow once, those to outside included. It is
// TST plus what leaves, and is what Ascendency and Capacity scale with.
func (w Network) TSTp() float64 { return w.TST() + sum(w.Out) + sum(w.Lost) }

// Cycled returns the throughflow that has been through the same compartment before.
//
//	TSTc = sum_i (1 - 1/n_ii) T_i
//
// Finn 1976. The error tells a bad network from one with flow that never leaves.
func (w Network) Cycled() (float64, error) {
	n, t, err := w.integral()
	if err != nil {
		return 0, err
	}
	var c float64
	for i := range t {
		c += (1 - 1/n.At(i, i)) * t[i]
	}
	return c, nil
}

// FinnCycling returns the share of throughflow that is cycled, TSTc/TST, 0 to 1 (Finn
// 1976). A flow from a compartment to itself counts. It is 0 for a network without flow.
func (w Network) FinnCycling() (float64, error) {
	c, err := w.Cycled()
	if err != nil || c == 0 {
		return 0, err
	}
	return c / w.TST(), nil
}

// APL returns the average path length: how many compartments a unit that enters comes
// through, TST / sum z (Finn 1976).
func (w Network) APL() (float64, error) {
	in := sum(w.In)
	if err := w.Check(); err != nil {
		return 0, err
	}
	if in == 0 {
		return 0, errors.New("network: nothing enters from outside, so paths have no length")
	}
	return w.TST() / in, nil
}

// IndirectDirect returns realised indirect over direct flow, sum z(N - I - G) / sum z G
// (Higashi and Patten 1986). It is 0 where no flow goes between compartments.
func (w Network) IndirectDirect() (float64, error) {
	n, t, err := w.integral()
	if err != nil {
		return 0, err
	}
	g := w.shares(t)
	var direct, all float64
	for i, z := range w.In {
		for j := range t {
			direct += z * g.At(i, j)
			all += z * n.At(i, j)
		}
		all -= z
	}
	if direct == 0 {
		return 0, nil
	}
	return (all - direct) / direct, nil
}

// Ascendency returns how far flow is held to set paths, in the unit of flow times bits.
//
//	sum f log2(f TSTp / (what leaves i × what enters j)), over all flows with the outside
//
// Ulanowicz 1986. Outside counts as three compartments: where In comes from, where Out
// goes and where Lost goes.
func (w Network) Ascendency() (float64, error) {
	return w.overFlows(func(f, from, to, all float64) float64 { return f * math.Log2(f*all/(from*to)) })
}

// Capacity returns the bound of Ascendency, -sum f log2(f/TSTp), in the same unit
// (Ulanowicz 1986).
func (w Network) Capacity() (float64, error) {
	return w.overFlows(func(f, _, _, all float64) float64 { return -f * math.Log2(f/all) })
}

// overFlows sums term over every flow above zero, with all that leaves its source, all
// that enters its end, and the throughput.
func (w Network) overFlows(term func(f, from, to, all float64) float64) (float64, error) {
	if err := w.Check(); err != nil {
		return 0, err
	}
	in, out := w.Throughflow(), w.Outflow()
	zs, ys, ls, all := sum(w.In), sum(w.Out), sum(w.Lost), w.TSTp()
	var total float64
	add := func(f, from, to float64) {
		if f > 0 {
			total += term(f, from, to, all)
		}
	}
	for i, row := range w.F {
		for j, f := range row {
			add(f, out[i], in[j])
		}
		add(w.In[i], zs, in[i])
		add(w.Out[i], out[i], ys)
		add(w.lost(i), out[i], ls)
	}
	return total, nil
}
