package fertility

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b, rel float64) bool {
	return math.Abs(a-b) <= rel*(1+math.Max(math.Abs(a), math.Abs(b)))
}

func TestMoistureRefuses(t *testing.T) {
	for _, c := range [][2]float64{{0, 0}, {10, 11}, {10, -1}, {math.NaN(), 1}, {1, math.NaN()}} {
		if _, err := Moisture(c[0], c[1]); err == nil {
			t.Errorf("moisture of %g and %g passed", c[0], c[1])
		}
	}
}

func TestSecondRefusesGoalOutside(t *testing.T) {
	if _, err := SecondForMoisture(10, 0.77, 0.65, 0.60); err == nil {
		t.Error("two wet materials made a dry mix")
	}
	if _, err := SecondForMoisture(10, 0.77, 0.60, 0.60); err == nil {
		t.Error("an endless amount was taken")
	}
	grass, clover := Material{10, 0.77, 0.45, 0.024}, Material{0, 0.8, 0.45, 0.03}
	if _, err := SecondForCN(grass, clover, 30); err == nil {
		t.Error("two rich materials made a lean mix")
	}
}

func TestCarbonForms(t *testing.T) {
	if got := CarbonOf(0.024, 18.75); !near(got, 0.45, 1e-12) {
		t.Errorf("carbon of grass %g", got)
	}
	if got := CarbonFromAsh(0.10); got != 0.5 {
		t.Errorf("carbon at 10 %% ash %g", got)
	}
	if cn := MixCN(Material{1, 0, 0.4, 0}); !math.IsInf(cn, 1) {
		t.Errorf("C:N without nitrogen %g", cn)
	}
}

// Grass wet and rich needs something dry and lean; leaves alone meet one goal only.
func TestSolveMix(t *testing.T) {
	grass := Material{10, 0.77, 0.45, 0.024}
	leaves := Material{0, 0.35, 0.50, 0.0075}
	hay := Material{0, 0.08, 0.40, 0.025}
	if _, err := SolveMix(grass, []Material{leaves}, 0.60, 30); err == nil {
		t.Error("leaves alone met both goals")
	}
	q, err := SolveMix(grass, []Material{leaves, hay, hay}, 0.60, 30)
	if err != nil {
		t.Fatal(err)
	}
	leaves.Mass, hay.Mass = q[0], q[1]+q[2]
	if m := MixMoisture(grass, leaves, hay); !near(m, 0.60, 1e-9) {
		t.Errorf("moisture %g", m)
	}
	if r := MixCN(grass, leaves, hay); !near(r, 30, 1e-9) {
		t.Errorf("C:N %g", r)
	}
}

func TestSolveMixOneIsEnough(t *testing.T) {
	rich := Material{10, 0.8, 0.4, 0.02}
	lean := Material{0, 0.4, 0.4, 0.005}
	lean.Mass = 10
	moisture, cn := MixMoisture(rich, lean), MixCN(rich, lean)
	q, err := SolveMix(rich, []Material{lean}, moisture, cn)
	if err != nil || !near(q[0], 10, 1e-6) {
		t.Errorf("got %v, %v, want 10", q, err)
	}
}

func TestSolveMixRefuses(t *testing.T) {
	good := Material{1, 0.5, 0.4, 0.01}
	for _, c := range []struct {
		first        Material
		moisture, cn float64
	}{{Material{}, 0.6, 30}, {good, 0, 30}, {good, 1, 30}, {good, 0.6, 0}, {good, math.NaN(), 30}} {
		if _, err := SolveMix(c.first, []Material{good}, c.moisture, c.cn); err == nil {
			t.Errorf("%+v passed", c)
		}
	}
	if _, err := SolveMix(good, nil, 0.6, 30); err == nil {
		t.Error("a mix of nothing passed")
	}
}

func drawMaterial(t *rapid.T, name string) Material {
	return Material{
		Mass:     rapid.Float64Range(0.5, 50).Draw(t, name+" kg"),
		Moisture: rapid.Float64Range(0.05, 0.9).Draw(t, name+" moisture"),
		C:        rapid.Float64Range(0.3, 0.55).Draw(t, name+" C"),
		N:        rapid.Float64Range(0.001, 0.08).Draw(t, name+" N"),
	}
}

// A mix that is known to exist is found, meets both goals and is no heavier.
func TestSolveMixFindsTheKnown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, a, b, c := drawMaterial(t, "first"), drawMaterial(t, "a"), drawMaterial(t, "b"), drawMaterial(t, "c")
		moisture, cn := MixMoisture(first, a, b, c), MixCN(first, a, b, c)
		q, err := SolveMix(first, []Material{a, b, c}, moisture, cn)
		if err != nil {
			t.Fatal(err)
		}
		if q[0]+q[1]+q[2] > (a.Mass+b.Mass+c.Mass)*(1+1e-6) {
			t.Fatalf("%v is heavier than the known mix", q)
		}
		a.Mass, b.Mass, c.Mass = q[0], q[1], q[2]
		if !near(MixMoisture(first, a, b, c), moisture, 1e-6) || !near(MixCN(first, a, b, c), cn, 1e-5) {
			t.Fatalf("%v misses the goals", q)
		}
	})
}

// A pile that meets its goals as it lies needs nothing, whatever the last digit of
// the goals.
func TestSolveMixAddsNothingToWhatIsMet(t *testing.T) {
	m := Material{Mass: 1, Moisture: 0.9, C: 0.55, N: 0.08}
	for _, hair := range []float64{-1e-16, 0, 1e-16} {
		q, err := SolveMix(m, []Material{m, {Mass: 1, Moisture: 0.1, C: 0.5, N: 0.01}}, m.Moisture+hair, m.C/m.N+16*hair)
		if err != nil || q[0] > 1e-9 || q[1] > 1e-9 {
			t.Errorf("%v %v", q, err)
		}
	}
}

// Materials as moist as the goal leave only the C:N to be met.
func TestSolveMixOfOneMoisture(t *testing.T) {
	first, c := Material{Mass: 1, Moisture: 0.9, C: 0.55, N: 0.08}, Material{Mass: 1, Moisture: 0.9, C: 0.55, N: 0.03125}
	for _, hair := range []float64{-1e-16, 0, 1e-16} {
		q, err := SolveMix(first, []Material{first, c}, 0.9+hair, MixCN(first, c))
		if err != nil || !near(q[0], 0, 1e-9) || !near(q[1], 1, 1e-9) {
			t.Errorf("%v %v", q, err)
		}
	}
}

func TestSecondMeetsItsGoal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawMaterial(t, "a"), drawMaterial(t, "b")
		want := b.Mass
		for near(a.C/a.N, b.C/b.N, 1e-3) || near(a.Moisture, b.Moisture, 1e-3) { // alike: either would do
			b.N, b.Moisture = b.N*1.1, b.Moisture*0.9
		}
		if q, err := SecondForCN(a, b, MixCN(a, b)); err != nil || !near(q, want, 1e-6) {
			t.Fatalf("C:N: %g, %v, want %g", q, err, want)
		}
		if q, err := SecondForMoisture(a.Mass, a.Moisture, b.Moisture, MixMoisture(a, b)); err != nil || !near(q, want, 1e-6) {
			t.Fatalf("moisture: %g, %v, want %g", q, err, want)
		}
	})
}

func BenchmarkMixCN(b *testing.B) {
	b.ReportAllocs()
	x, y := Material{10, 0.77, 0.45, 0.024}, Material{5, 0.35, 0.50, 0.0075}
	for b.Loop() {
		MixCN(x, y)
	}
}
