package reckon

import (
	"math"
	"slices"

	"evenstead/engine"
)

// A Closure is how far one material's loops close over a span.
type Closure struct {
	Material string  `json:"material"`
	Unit     string  `json:"unit"`
	Through  float64 `json:"throughflow"` // all that came into a store, from outside or another
	Cycling  float64 `json:"finn"`        // Finn's cycling index, share of throughflow
	Path     float64 `json:"path"`        // mean stores that a unit that enters comes through
	Brought  []Moved `json:"brought"`     // from outside, greatest first
	Left     []Moved `json:"left"`        // to outside, greatest first
	Stored   float64 `json:"stored"`      // what all stores together gained
	Why      string  `json:"why"`         // why no index is told; empty when it is
}

// A Moved is what passed the bounds of the stead at one of the outsides.
type Moved struct {
	Node string `json:"node"`
	engine.Part
}

// ClosureOf measures the loops of one material: stores at rest by making their
// rise or fall a flow (Network.AtRest), what goes to air and below the
// roots as lost.
func ClosureOf(b *engine.Balance) Closure {
	c := Closure{Material: b.Material, Unit: b.Unit, Brought: passing(b, true), Left: passing(b, false)}
	net, change, at := Network{}, []float64{}, map[string]int{}
	for _, s := range b.Stores {
		if touched(b, s.Node) {
			at[s.Node] = len(at)
			gain := s.After - s.Before - s.Described
			change = append(change, gain)
			c.Stored += gain
		}
	}
	n := len(at)
	net.In, net.Out, net.Lost = make([]float64, n), make([]float64, n), make([]float64, n)
	net.F = make([][]float64, n)
	for i := range net.F {
		net.F[i] = make([]float64, n)
	}
	for _, f := range b.Flows {
		from, inside := at[f.From]
		to, stays := at[f.To]
		switch v := max(0, f.All()); { // a rounding error below zero is none
		case inside && stays:
			net.F[from][to] += v
		case stays:
			net.In[to] += v
		case inside && slices.Contains(engine.LostNodes(), f.To):
			net.Lost[from] += v
		case inside:
			net.Out[from] += v
		}
	}
	c.measure(net, change)
	return c
}

func (c *Closure) measure(net Network, change []float64) {
	if len(net.In) == 0 {
		c.Why = "nothing moved"
		return
	}
	rest, err := net.AtRest(change)
	if err == nil {
		c.Through = rest.TST()
		c.Cycling, err = rest.FinnCycling()
	}
	if err == nil {
		c.Path, err = rest.APL()
	}
	if err != nil {
		c.Why = err.Error()
	}
}

// touched tells whether any flow reaches or leaves a node.
func touched(b *engine.Balance, node string) bool {
	return slices.ContainsFunc(b.Flows, func(f engine.AccountFlow) bool { return f.From == node || f.To == node })
}

// passing sums what came in from each outside, or left to it.
func passing(b *engine.Balance, in bool) []Moved {
	out := []Moved{}
	outside := engine.OutsideNodes()
	for _, f := range b.Flows {
		here, there := f.To, f.From
		if !in {
			here, there = f.From, f.To
		}
		if slices.Contains(outside, here) || !slices.Contains(outside, there) || math.Abs(f.All()) < 1e-9 {
			continue
		}
		i := slices.IndexFunc(out, func(m Moved) bool { return m.Node == there })
		if i < 0 {
			i = len(out)
			out = append(out, Moved{Node: there})
		}
		out[i].Told += f.Told
		out[i].Filled += f.Filled
	}
	slices.SortStableFunc(out, func(a, b Moved) int {
		if a.All() > b.All() {
			return -1
		}
		return 1
	})
	return out
}
