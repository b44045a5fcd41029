// Package reckon measures how far a place closes its loops: flow networks of one
// material, and the share of flow that returns to where it has been.
//
// It leaves out where the flows come from. Main sources: Finn 1976 on throughflow and
// cycling; Ulanowicz 1986 on ascendency and capacity.
package reckon

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// A Network is the flow of one material among n compartments over one span of time, in
// one unit.
type Network struct {
	F    [][]float64 // n × n: F[i][j] goes from i to j
	In   []float64   // n: from outside
	Out  []float64   // n: to outside, still of use there
	Lost []float64   // n, or nil for none: to outside, burnt or gone as gas
}

// Check returns an error that names the first flow that is missing, negative or not a number.
func (w Network) Check() error {
	n := len(w.In)
	if n == 0 {
		return errors.New("network: no compartments; give at least one")
	}
	if len(w.F) != n || len(w.Out) != n || w.Lost != nil && len(w.Lost) != n {
		return fmt.Errorf("network: %d inflows, %d outflows, %d losses and %d rows of flows; each compartment needs one of each, losses may be left out",
			n, len(w.Out), len(w.Lost), len(w.F))
	}
	for i := range n {
		if len(w.F[i]) != n {
			return fmt.Errorf("network: row %d has %d flows, want %d", i, len(w.F[i]), n)
		}
		for j, f := range w.F[i] {
			if !flow(f) {
				return fmt.Errorf("network: the flow from %d to %d is %g; flows are zero or more", i, j, f)
			}
		}
		if !flow(w.In[i]) || !flow(w.Out[i]) || !flow(w.lost(i)) {
			return fmt.Errorf("network: compartment %d takes in %g, lets out %g and loses %g; flows are zero or more", i, w.In[i], w.Out[i], w.lost(i))
		}
	}
	return nil
}

// lost returns the loss of compartment i.
func (w Network) lost(i int) float64 {
	if w.Lost == nil {
		return 0
	}
	return w.Lost[i]
}

func flow(f float64) bool { return f >= 0 && !math.IsInf(f, 1) }

// AtRest returns the network with changes of store made into flows, so that a span in which
// stores rise or fall can be measured: a rise leaves, a fall enters. change has one value
// for each compartment, in the unit of the flows. The flows themselves are shared, not copied.
func (w Network) AtRest(change []float64) (Network, error) {
	if len(change) != len(w.In) || len(w.Out) != len(w.In) {
		return Network{}, fmt.Errorf("network: %d changes of store for %d compartments", len(change), len(w.In))
	}
	r := w
	r.In, r.Out = append([]float64(nil), w.In...), append([]float64(nil), w.Out...)
	for i, c := range change {
		r.In[i] += max(0, -c)
		r.Out[i] += max(0, c)
	}
	return r, nil
}

// Throughflow returns what enters each compartment, from outside and from the others:
// T_i = z_i + sum_k f_ki (Finn 1976).
func (w Network) Throughflow() []float64 {
	t := append([]float64(nil), w.In...)
	for _, row := range w.F {
		for j, f := range row {
			t[j] += f
		}
	}
	return t
}

// Outflow returns what leaves each compartment. At rest it equals Throughflow.
func (w Network) Outflow() []float64 {
	t := append([]float64(nil), w.Out...)
	for i, row := range w.F {
		t[i] += sum(row) + w.lost(i)
	}
	return t
}

// Imbalance returns the largest difference of inflow and outflow over the compartments.
func (w Network) Imbalance() float64 {
	var most float64
	out := w.Outflow()
	for i, in := range w.Throughflow() {
		most = max(most, math.Abs(in-out[i]))
	}
	return most
}

// integral returns N = (I - G)^-1 with G the donor shares f_ij/T_i, and the throughflow.
// n_ij is the flow at j that each unit entering at i comes to, over all paths.
func (w Network) integral() (*mat.Dense, []float64, error) {
	if err := w.Check(); err != nil {
		return nil, nil, err
	}
	t := w.Throughflow()
	g := w.shares(t)
	g.Apply(func(i, j int, v float64) float64 {
		if i == j {
			return 1 - v
		}
		return -v
	}, g)
	var n mat.Dense
	if err := n.Inverse(g); err != nil {
		return nil, nil, fmt.Errorf("network: some flow goes round without an end; give its way in and out: %w", err)
	}
	return &n, t, nil
}

// shares returns G, the part of each compartment's throughflow that goes to each other.
func (w Network) shares(t []float64) *mat.Dense {
	g := mat.NewDense(len(t), len(t), nil)
	for i, row := range w.F {
		for j, f := range row {
			if t[i] > 0 {
				g.Set(i, j, f/t[i])
			}
		}
	}
	return g
}

func sum(xs []float64) float64 {
	var s float64
	for _, x := range xs {
		s += x
	}
	return s
}
