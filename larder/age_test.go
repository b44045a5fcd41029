package larder

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLostLandmarks(t *testing.T) {
	near(t, "a quarter by the end of life", Lost(0, 1), 0.25, 1e-15)
	near(t, "half way", Lost(0, 0.5), 1-math.Pow(0.75, 0.125), 1e-15)
	near(t, "nothing left to lose in the end", Lost(0, math.Inf(1)), 1, 0)
	near(t, "no time", Lost(0.7, 0.7), 0, 0)
	near(t, "time runs one way", Lost(1, 0.5), 0, 0)
	near(t, "beyond all age", Lost(math.Inf(1), math.Inf(1)), 0, 0)
}

func TestLostComposes(t *testing.T) {
	age := rapid.Float64Range(0, 2)
	rapid.Check(t, func(t *rapid.T) {
		a := age.Draw(t, "a")
		b := a + age.Draw(t, "b-a")
		c := b + age.Draw(t, "c-b")
		left := (1 - Lost(a, b)) * (1 - Lost(b, c))
		if got := 1 - Lost(a, c); math.Abs(got-left) > 1e-12 {
			t.Fatalf("in two steps %g is left, in one %g", left, got)
		}
		if l := Lost(a, b); l < 0 || l > 1 {
			t.Fatalf("lost %g", l)
		}
	})
}

func TestHazardIsTheSlopeOfLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.05, 2).Draw(t, "x")
		const h = 1e-6
		if slope := Lost(x, x+h) / h; math.Abs(slope-Hazard(x)) > 1e-4 {
			t.Fatalf("slope %g, hazard %g", slope, Hazard(x))
		}
	})
}

func TestMeanAgeKeepsTheRateOfLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kg, age := rapid.Float64Range(0.01, 100), rapid.Float64Range(0, 2)
		a, xa, b, xb := kg.Draw(t, "a"), age.Draw(t, "xa"), kg.Draw(t, "b"), age.Draw(t, "xb")
		x := MeanAge(a, xa, b, xb)
		if x < min(xa, xb)-1e-12 || x > max(xa, xb)+1e-12 {
			t.Fatalf("pool aged %g of lots aged %g and %g", x, xa, xb)
		}
		parts := a*Hazard(xa) + b*Hazard(xb)
		if pool := (a + b) * Hazard(x); math.Abs(pool-parts) > 1e-9*(1+parts) {
			t.Fatalf("pool loses %g, parts %g", pool, parts)
		}
	})
	near(t, "no food", MeanAge(0, 1, 0, 1), 0, 0)
}

func TestSoonest(t *testing.T) {
	near(t, "new", Soonest(0, 40), 40, 0)
	near(t, "three quarters through", Soonest(0.75, 40), 10, 0)
	near(t, "past it", Soonest(1.2, 40), 0, 0)
}

func BenchmarkLost(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Lost(0.4, 0.41)
	}
}
