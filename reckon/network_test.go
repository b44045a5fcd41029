package reckon

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// ring is two compartments that pass back half of what they get.
func ring() Network {
	return Network{F: [][]float64{{0, 4}, {2, 0}}, In: []float64{2, 0}, Out: []float64{0, 2}}
}

func TestRingByHand(t *testing.T) {
	w := ring()
	if w.TST() != 8 || w.TSTp() != 10 || w.Imbalance() != 0 {
		t.Errorf("throughflow %g, throughput %g, imbalance %g", w.TST(), w.TSTp(), w.Imbalance())
	}
	// Each comes round with chance 1/2, so n_ii = 2 and half the flow is cycled.
	if f := must(t, w.FinnCycling); math.Abs(f-0.5) > 1e-12 {
		t.Errorf("cycling %g", f)
	}
	if l := must(t, w.APL); l != 4 {
		t.Errorf("path length %g", l)
	}
	// The 2 that enter come to 4 at each: less the 2 themselves and 2 direct, 4 are indirect.
	if r := must(t, w.IndirectDirect); math.Abs(r-2) > 1e-12 {
		t.Errorf("indirect to direct %g", r)
	}
}

func TestClosedNetworkIsAnError(t *testing.T) {
	w := Network{F: [][]float64{{0, 1}, {1, 0}}, In: []float64{0, 0}, Out: []float64{0, 0}}
	_, err := w.FinnCycling()
	var cond mat.Condition
	if !errors.As(err, &cond) || !strings.Contains(err.Error(), "without an end") {
		t.Errorf("endless flow: %v", err)
	}
	if _, err := w.IndirectDirect(); err == nil {
		t.Error("endless flow has an indirect ratio")
	}
	if _, err := w.APL(); err == nil {
		t.Error("no inflow has a path length")
	}
}

func TestEmptyFlows(t *testing.T) {
	w := blank(2)
	for name, f := range map[string]func() (float64, error){
		"cycling": w.FinnCycling, "indirect": w.IndirectDirect, "ascendency": w.Ascendency, "capacity": w.Capacity,
	} {
		if v, err := f(); v != 0 || err != nil {
			t.Errorf("%s of nothing: %g, %v", name, v, err)
		}
	}
}

func TestCheckNamesTheFault(t *testing.T) {
	for _, c := range []struct {
		want  string
		spoil func(*Network)
	}{
		{"no compartments", func(w *Network) { *w = Network{} }},
		{"1 outflows", func(w *Network) { w.Out = w.Out[:1] }},
		{"1 losses", func(w *Network) { w.Lost = []float64{1} }},
		{"1 rows", func(w *Network) { w.F = w.F[:1] }},
		{"row 1 has 1", func(w *Network) { w.F[1] = w.F[1][:1] }},
		{"from 0 to 1 is -4", func(w *Network) { w.F[0][1] = -4 }},
		{"from 0 to 1 is NaN", func(w *Network) { w.F[0][1] = math.NaN() }},
		{"takes in -2", func(w *Network) { w.In[0] = -2 }},
		{"lets out +Inf", func(w *Network) { w.Out[1] = math.Inf(1) }},
		{"loses -1", func(w *Network) { w.Lost = []float64{-1, 0} }},
	} {
		w := ring()
		c.spoil(&w)
		for name, f := range map[string]func() (float64, error){
			"cycling": w.FinnCycling, "path length": w.APL, "indirect": w.IndirectDirect, "ascendency": w.Ascendency, "capacity": w.Capacity,
		} {
			if _, err := f(); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s: %v, want %q", name, err, c.want)
			}
		}
	}
}

// A store that rises by 1 lets out 1 less; counting the rise as an outflow balances it.
func TestAtRest(t *testing.T) {
	w := ring()
	w.Out[1] = 1
	w.In[0] = 1.5
	r, err := w.AtRest([]float64{-0.5, 1})
	if err != nil {
		t.Fatal(err)
	}
	if r.Imbalance() != 0 || w.In[0] != 1.5 {
		t.Errorf("imbalance %g, inflow of the first %g", r.Imbalance(), w.In[0])
	}
	if _, err := w.AtRest([]float64{1}); err == nil {
		t.Error("one change for two compartments passed")
	}
}

// steady draws a network at rest: what enters a compartment leaves by drawn shares.
func steady(t *rapid.T) Network {
	n := rapid.IntRange(1, 6).Draw(t, "compartments")
	w := blank(n)
	g := mat.NewDense(n, n, nil)
	for i := range n {
		w.In[i] = rapid.Float64Range(0.1, 10).Draw(t, "in")
		left := 1 - rapid.Float64Range(0.05, 0.9).Draw(t, "leaves")
		for j := range n {
			s := left * rapid.Float64Range(0, 1).Draw(t, "share")
			left -= s
			g.Set(i, j, s)
		}
	}
	a := mat.NewDense(n, n, nil)
	a.Apply(func(i, j int, v float64) float64 {
		if i == j {
			return 1 - g.At(j, i)
		}
		return -g.At(j, i)
	}, a)
	var x mat.VecDense
	if err := x.SolveVec(a, mat.NewVecDense(n, w.In)); err != nil {
		t.Fatal(err)
	}
	for i := range n {
		rest := x.AtVec(i)
		for j := range n {
			w.F[i][j] = x.AtVec(i) * g.At(i, j)
			rest -= w.F[i][j]
		}
		w.Out[i], w.Lost[i] = 0.4*rest, 0.6*rest
	}
	return w
}

func TestMeasuresStayInBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := steady(t)
		if w.Imbalance() > 1e-9*w.TST() {
			t.Fatalf("not at rest by %g", w.Imbalance())
		}
		f, err := w.FinnCycling()
		if err != nil || f < -1e-12 || f >= 1 {
			t.Fatalf("cycling %g, %v", f, err)
		}
		a, _ := w.Ascendency()
		c, _ := w.Capacity()
		if a < -1e-9*c || a > c*(1+1e-9) {
			t.Fatalf("ascendency %g, capacity %g", a, c)
		}
		if l, err := w.APL(); err != nil || l < 1-1e-12 {
			t.Fatalf("path length %g, %v", l, err)
		}
		if p := w.TST() + sum(w.In); math.Abs(w.TSTp()-p) > 1e-9*p {
			t.Fatalf("throughput %g, want %g", w.TSTp(), p)
		}
	})
}

// Reversing every flow of a network at rest, or changing its unit, keeps its cycling.
func TestCyclingKeepsUnderReversalAndUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := steady(t)
		n := len(w.In)
		back := blank(n)
		for i := range n {
			back.In[i] = 3 * (w.Out[i] + w.Lost[i])
			back.Out[i] = 3 * w.In[i]
			for j := range n {
				back.F[j][i] = 3 * w.F[i][j]
			}
		}
		a, _ := w.FinnCycling()
		if b, err := back.FinnCycling(); err != nil || math.Abs(a-b) > 1e-9 {
			t.Fatalf("%g, backwards %g, %v", a, b, err)
		}
	})
}

// Without a closed path nothing is cycled.
func TestChainCyclesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := steady(t)
		for i := range w.In {
			for j := range i + 1 {
				w.Out[i] += w.F[i][j]
				w.F[i][j] = 0
			}
		}
		if f, err := w.FinnCycling(); err != nil || math.Abs(f) > 1e-12 {
			t.Fatalf("%g, %v", f, err)
		}
	})
}

func BenchmarkFinnCycling(b *testing.B) {
	w, _ := load(b, "neuse-river-nitrogen.csv")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.FinnCycling(); err != nil {
			b.Fatal(err)
		}
	}
}
