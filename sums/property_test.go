package sums

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenstead/unit"
)

// answer runs a sum from words in a random system of units.
func answer(t *rapid.T, name string, values map[string]string) Answer {
	t.Helper()
	sum, err := Named(name)
	if err != nil {
		t.Fatal(err)
	}
	a, err := sum.Run(values, rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "system"))
	if err != nil {
		t.Fatalf("%v: %v", values, err)
	}
	return a
}

func of(t *rapid.T, a Answer, label string) float64 {
	t.Helper()
	l, ok := a.Line(label)
	if !ok {
		t.Fatalf("no line %q in %v", label, a.Lines)
	}
	return l.Amount
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(1, math.Abs(b)) }

func plainly(v float64) string { return fmt.Sprintf("%.9f", v) }

func TestRainIsCaughtOrTurnedAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area, rain := rapid.Float64Range(0.1, 1000).Draw(t, "area"), rapid.Float64Range(0, 500).Draw(t, "rain")
		c, flush := rapid.Float64Range(0.05, 1).Draw(t, "c"), rapid.Float64Range(0, 20).Draw(t, "flush")
		a := answer(t, "catch", map[string]string{"area": plainly(area), "rain": plainly(rain), "coefficient": plainly(c), "flush": plainly(flush)})
		if got := of(t, a, "caught") + of(t, a, "turned away by the first flush"); !near(got, area*rain*c) {
			t.Errorf("%g L of %g", got, area*rain*c)
		}
	})
}

func TestSaltWeighedBackGivesItsShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		way, base := "brine", "water"
		if rapid.Bool().Draw(t, "dry") {
			way, base = "dry", "food"
		}
		much, share := plainly(rapid.Float64Range(0.05, 100).Draw(t, base)), rapid.Float64Range(0.001, 0.263).Draw(t, "share")
		salt := of(t, answer(t, "brine", map[string]string{"way": way, base: much, "salt": plainly(share)}), "salt")
		back := of(t, answer(t, "brine", map[string]string{"way": way, base: much, "weighed": fmt.Sprintf("%.12f", max(salt, 0.0001))}), "share")
		if salt > 0.0001 && math.Abs(back-share) > 1e-6 {
			t.Errorf("%g of salt came back as %g", share, back)
		}
	})
}

func TestSolvedMixMeetsItsGoal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kg, cn := rapid.Float64Range(0.1, 500).Draw(t, "kg"), rapid.Float64Range(22, 50).Draw(t, "cn")
		a := answer(t, "compost-mix", map[string]string{"first": "grass_clippings", "first-kg": plainly(kg), "second": "straw_general", "cn": plainly(cn)})
		if got := of(t, a, "carbon to nitrogen"); !near(got, cn) {
			t.Errorf("goal %g, mix %g", cn, got)
		}
		if got := of(t, a, "whole mix") - of(t, a, "add of the second"); !near(got, kg) {
			t.Errorf("%g kg became %g", kg, got)
		}
	})
}

func TestDipAndFillOfATankAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, l := rapid.Float64Range(0.1, 3).Draw(t, "d"), rapid.Float64Range(0.1, 5).Draw(t, "l")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		at := func(share float64) float64 {
			return of(t, answer(t, "tank-level", map[string]string{"shape": "lying", "diameter": plainly(d), "length": plainly(l), "depth": plainly(d * share * 0.999999)}), "filled")
		}
		if got := at(share) + at(1-share); math.Abs(got-1) > 1e-4 {
			t.Errorf("filled below and above the level add to %g", got)
		}
	})
}

func TestExchangeAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weekly, weeks := rapid.Float64Range(0.1, 80).Draw(t, "weekly"), rapid.Float64Range(0.1, 100).Draw(t, "weeks")
		done := rapid.Float64Range(0, 200).Draw(t, "done")
		a := answer(t, "exchange", map[string]string{"weekly": plainly(weekly), "weeks": plainly(weeks), "done": plainly(done)})
		left, ok := a.Line("still owed")
		if !ok {
			left, _ = a.Line("done beyond what was agreed")
			left.Amount = -left.Amount
		}
		if math.Abs(of(t, a, "agreed")-of(t, a, "done")-left.Amount) > 1e-6 {
			t.Errorf("%v does not add up", a.Lines)
		}
	})
}
