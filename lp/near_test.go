package lp

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// loosened moves one in so many sides of a problem outwards by up to a share of
// what they are.
func loosened(p *Problem, seed uint64, oneIn int, share float64) *Problem {
	d := rand.New(rand.NewPCG(seed, 5))
	out := func(side []float64, sign float64) []float64 {
		side = append([]float64(nil), side...)
		for i, v := range side {
			if d.IntN(oneIn) == 0 && !math.IsInf(v, 0) {
				side[i] += sign * share * d.Float64() * (1 + math.Abs(v))
			}
		}
		return side
	}
	q := *p
	q.RowLo, q.RowUp, q.ColUp = out(p.RowLo, -1), out(p.RowUp, 1), out(p.ColUp, 1)
	return &q
}

// A near answer changes how fast another is found, not which.
func TestNearChangesNoAnswer(t *testing.T) {
	for _, k := range kinds {
		for seed := range uint64(12) {
			p := drawn(k.name, seed)
			near, err := Solve(context.Background(), p, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, share := range []float64{0, 0.1, 3} {
				q := loosened(p, seed, 3, share)
				want, err := Solve(context.Background(), q, Options{})
				if err != nil {
					t.Fatal(err)
				}
				got, err := Solve(context.Background(), q, Options{Near: near})
				switch {
				case err != nil:
					t.Errorf("%s, %g looser: %v", p.Name, share, err)
				case got.Status != want.Status || math.Abs(got.Objective-want.Objective) > 1e-7*(1+math.Abs(want.Objective)):
					t.Errorf("%s, %g looser: %v %.12g from a near answer, %v %.12g alone", p.Name, share, got.Status, got.Objective, want.Status, want.Objective)
				case got.Status == Optimal:
					checkProof(t, q, got)
				}
			}
		}
	}
}

func TestNearSparesIterations(t *testing.T) {
	p := instance(t, "year12_plan.mps.gz")
	near := optimum(t, p)
	for seed := range uint64(3) {
		q := loosened(p, seed, 200, 0.1)
		alone := optimum(t, q)
		s, err := Solve(context.Background(), q, Options{Near: near})
		if err != nil {
			t.Fatal(err)
		}
		checkProof(t, q, s)
		if s.Iterations >= alone.Iterations {
			t.Errorf("%d iterations from a near answer, %d alone", s.Iterations, alone.Iterations)
		}
	}
}

// An answer to some other problem is of no use, and does no harm.
func TestNearOfAnotherShape(t *testing.T) {
	near := optimum(t, instance(t, "year04_small.mps.gz"))
	p := instance(t, "afiro.mps")
	want := optimum(t, p)
	got, err := Solve(context.Background(), p, Options{Near: near})
	if err != nil || got.Objective != want.Objective || got.Iterations != want.Iterations {
		t.Errorf("%v %v, want %v", got, err, want)
	}
}

func BenchmarkNear(b *testing.B) {
	p := instance(b, "year12_plan.mps.gz")
	near, err := Solve(context.Background(), p, Options{})
	if err != nil {
		b.Fatal(err)
	}
	q := loosened(p, 1, 200, 0.1)
	for b.Loop() {
		s, err := Solve(context.Background(), q, Options{Near: near})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(s.Iterations), "iterations")
	}
}
