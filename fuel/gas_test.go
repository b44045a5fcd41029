package fuel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBuswellRefuses(t *testing.T) {
	for _, c := range [][5]float64{
		{-1, 2, 0, 0, 0}, {0, 0, 0, 0, 0}, {1, 0, 2, 0, 0}, {0, 4, 0, 0, 0},
		{math.NaN(), 1, 1, 1, 1}, {math.Inf(1), 1, 1, 0, 0},
	} {
		if g, err := Buswell(c[0], c[1], c[2], c[3], c[4]); err == nil {
			t.Errorf("%v gave %+v", c, g)
		}
	}
}

// Every atom that goes in comes out, water counted; and methane comes of all whose
// carbon is not oxidised as far as in CO2, nor reduced beyond CH4.
func TestBuswellKeepsAtoms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		a, b, c, d, e := n("C", 1, 61), n("H", 0, 120), n("O", 0, 30), n("N", 0, 5), n("S", 0, 2)
		state := (2*c + 3*d + 2*e - b) / a // mean oxidation number of carbon
		g, err := Buswell(a, b, c, d, e)
		if err != nil {
			if math.Abs(state) < 4*(1-1e-9) {
				t.Fatalf("carbon at %g, and %v", state, err)
			}
			return
		}
		if math.Abs(state) > 4*(1+1e-9) || g.NH3 != d || g.H2S != e {
			t.Fatalf("carbon at %g, %+v", state, g)
		}
		for _, p := range [][2]float64{
			{g.CH4 + g.CO2, a},
			{4*g.CH4 + 3*g.NH3 + 2*g.H2S, b + 2*g.Water},
			{2 * g.CO2, c + g.Water},
		} {
			if !near(p[0], p[1], 1e-12) {
				t.Fatalf("%g out of %g", p[0], p[1])
			}
		}
		if e == 0 && !near(g.M3PerKg/g.COD, MolarVolume/64, 1e-9) {
			t.Fatalf("%g m3 per kg COD", g.M3PerKg/g.COD)
		}
	})
}

func TestRate(t *testing.T) {
	for _, c := range [][3]float64{
		{0.1, 35, 0.1}, {0.1, 40, 0.1}, {0.1, 34, 0.1 / 1.06}, {0.1, 25, 0.1 / math.Pow(1.06, 10)},
		{0.1, 3.9, 0}, {0.1, 40.1, 0}, {-1, 30, 0}, {0.1, math.NaN(), 0},
	} {
		if got := Rate(c[0], c[1]); !near(got, c[2], 1e-12) {
			t.Errorf("rate %g at %g °C is %g, want %g", c[0], c[1], got, c[2])
		}
	}
}

// Digested and left sum to the feed, and many short steps digest what one long one does.
func TestGasStepCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := rapid.Float64Range(0, 50).Draw(t, "vs")
		k := rapid.Float64Range(0, 0.4).Draw(t, "k")
		temp := rapid.Float64Range(-5, 45).Draw(t, "temp")
		n := rapid.IntRange(1, 90).Draw(t, "days")
		left, gone := vs, 0.0
		for range n {
			d := GasStep(left, k, temp, 1)
			left, gone = left-d, gone+d
		}
		once := GasStep(vs, k, temp, float64(n))
		if !near(gone, once, 1e-12) || !near(left+gone, vs, 1e-12) || left < -1e-12 || once < 0 {
			t.Fatalf("%g: %g in steps, %g at once, %g left", vs, gone, once, left)
		}
	})
	if GasStep(-1, 0.1, 30, 1) != 0 || GasStep(1, 0.1, 30, -1) != 0 {
		t.Error("negative solids or days gave gas")
	}
}

// A tank fed each day settles at the stirred-tank yield when the days are short against k.
func TestDailyFeedComesToMixed(t *testing.T) {
	const k, hrt = 0.02, 50.0
	vs, made := 0.0, 0.0
	for day := range 2000 {
		for range 100 {
			vs += 0.01
			vs -= vs / hrt / 100
			d := GasStep(vs, k, 35, 0.01)
			vs -= d
			if day == 1999 {
				made += d
			}
		}
	}
	if want := Mixed(1, k, hrt); math.Abs(made-want) > 0.001 {
		t.Errorf("a day's kg gives %g, want %g", made, want)
	}
}

func TestFitBatch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.01, 0.4).Draw(t, "k")
		b0 := rapid.Float64Range(50, 600).Draw(t, "b0")
		gotK, gotB, err := FitBatch(10, Batch(b0, k, 10), 28, Batch(b0, k, 28))
		if err != nil || !near(gotK, k, 1e-6) || !near(gotB, b0, 1e-6) {
			t.Fatalf("k %g, B0 %g, %v", gotK, gotB, err)
		}
	})
	for _, c := range [][4]float64{
		{0, 1, 2, 3}, {10, 1, 10, 2}, {10, 5, 20, 4}, {10, 1, 20, 3}, {10, 1, 20, 2}, {math.NaN(), 1, 2, 3}, {1, 1, math.Inf(1), 2},
	} {
		if _, _, err := FitBatch(c[0], c[1], c[2], c[3]); err == nil {
			t.Errorf("%v passed", c)
		}
	}
}

func TestChenHashimotoWashesOut(t *testing.T) {
	if b, r := ChenHashimoto(0.35, 50, 0.8, 0.2, 5); b != 0 || r != 0 {
		t.Errorf("washed out tank gives %g, %g", b, r)
	}
	for _, c := range []struct {
		temp float64
		ok   bool
	}{{19.9, false}, {20, true}, {60, true}, {60.1, false}} {
		if _, ok := GrowthMax(c.temp); ok != c.ok {
			t.Errorf("growth at %g: %v", c.temp, ok)
		}
	}
}

func TestSlurryTemp(t *testing.T) {
	if got := SlurryTemp(20, 10, 750); !near(got, 10+10*math.Exp(-1/TimeConstant(750)), 1e-12) {
		t.Errorf("a day on: %g", got)
	}
	if tc := TimeConstant(750); tc < 1.4 || tc > 1.5 {
		t.Errorf("750 L: %g d", tc)
	}
	if tc := TimeConstant(4800); tc < 2.7 || tc > 2.75 {
		t.Errorf("4800 L: %g d", tc)
	}
	if TimeConstant(0) != TimeConstant(1) {
		t.Error("an empty tank has no time constant")
	}
	rapid.Check(t, func(t *rapid.T) {
		prev := rapid.Float64Range(-5, 45).Draw(t, "prev")
		air := rapid.Float64Range(-20, 45).Draw(t, "air")
		small := rapid.Float64Range(50, 5000).Draw(t, "litres")
		next, slow := SlurryTemp(prev, air, small), SlurryTemp(prev, air, 2*small)
		if next < min(prev, air)-1e-9 || next > max(prev, air)+1e-9 {
			t.Fatalf("%g left the gap %g to %g", next, prev, air)
		}
		if math.Abs(slow-prev) > math.Abs(next-prev)+1e-9 {
			t.Fatal("more slurry changes faster")
		}
	})
}

func TestGasOfClosesMass(t *testing.T) {
	m3, kg := GasOf(1, 0.4, 0.6)
	if !near(m3*0.6, 0.4, 1e-12) || !near(kg, m3*1.215, 1e-3) {
		t.Errorf("%g m3, %g kg", m3, kg)
	}
	if m3, kg := GasOf(1, 0.4, 0); m3 != 0 || kg != 0 {
		t.Error("gas without methane")
	}
	rapid.Check(t, func(t *rapid.T) {
		b0 := rapid.Float64Range(0, 0.5).Draw(t, "b0")
		if _, kg := GasOf(1, b0, 0.6); kg > 1.05 {
			t.Fatalf("a kg of solids gave %g kg of gas", kg)
		}
	})
}

func TestFreeAmmonia(t *testing.T) {
	pKa := 0.09018 + 2729.92/(35+273.15)
	if got := FreeAmmonia(pKa, 35); !near(got, 0.5, 1e-12) {
		t.Errorf("at its pKa %g is free", got)
	}
	if FreeAmmonia(7.5, 35) <= FreeAmmonia(7.5, 20) || FreeAmmonia(8, 35) <= FreeAmmonia(7, 35) {
		t.Error("warmth and pH do not free ammonia")
	}
}

func TestLoadCheck(t *testing.T) {
	for _, c := range []struct {
		load, temp float64
		ok         bool
		why        string
	}{
		{1.49, 25, true, ""},
		{1.50, 25, true, ""},
		{1.51, 25, false, "sour"},
		{1.22, 24, true, ""},
		{1.24, 24, false, "sour"},
		{0.89, 19, true, ""},
		{0.91, 19, false, "sour"},
		{0.64, 10, true, ""},
		{0.65, 10, false, "sour"},
		{0.1, 3, false, "cold"},
		{0, 3, true, ""},
		{math.NaN(), 25, false, "load is not known"},
		{1, math.NaN(), false, "temperature is not known"},
	} {
		ok, why := LoadCheck(c.load, c.temp)
		if ok != c.ok || !strings.Contains(why, c.why) || ok != (why == "") {
			t.Errorf("%g at %g °C: %v %q", c.load, c.temp, ok, why)
		}
	}
}

func TestPHCheck(t *testing.T) {
	for _, c := range []struct {
		pH   float64
		ok   bool
		said string
	}{
		{6.1, false, "stopping"}, {6.2, false, "turning"}, {6.59, false, "turning"}, {6.6, true, "low"},
		{6.79, true, "low"}, {6.8, true, ""}, {7.5, true, ""}, {8.6, false, "ammonia"}, {math.NaN(), false, "not known"},
	} {
		if ok, why := PHCheck(c.pH); ok != c.ok || !strings.Contains(why, c.said) {
			t.Errorf("pH %g: %v %q", c.pH, ok, why)
		}
	}
	if len(SourSigns()) < 4 || len(Cautions()) < 4 {
		t.Error("signs or cautions are missing")
	}
}

// sink keeps results that a test calls for only to watch what they cost.
var sink float64

func TestDailyStepsDoNotAllocate(t *testing.T) {
	n := testing.AllocsPerRun(100, func() {
		GasStep(5, 0.1, 24, 1)
		SlurryTemp(20, 12, 750)
		if ok, _ := LoadCheck(1, 20); ok {
			sink++
		}
		sink += BoxCooker(0.25, 0.25, 18)
		LightStep(0.4, 40, 3, 0.75, 6, 4.5, 0.9)
		TiltedDay(12, 38, 45, 0.2, 20)
	})
	if n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkDaily(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		GasOf(GasStep(5, 0.1, SlurryTemp(20, 12, 750), 1), 0.4, 0.6)
		if ok, _ := LoadCheck(1, 20); ok {
			sink++
		}
		sink += BoxCooker(0.25, 0.25, 18)
		LightStep(0.4, 40, 3, 0.75, 6, 4.5, 0.9)
	}
}
