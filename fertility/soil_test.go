package fertility

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestSplitCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.Float64Range(0, 1000)
		total := NPK{g.Draw(t, "N"), g.Draw(t, "P"), g.Draw(t, "K")}
		u, f := Split(total)
		sum := u.Plus(f)
		if !near(sum.N, total.N, 1e-12) || !near(sum.P, total.P, 1e-12) || !near(sum.K, total.K, 1e-12) {
			t.Fatalf("%v and %v do not sum to %v", u, f, total)
		}
		if f.N < 0 || f.P < 0 || f.K < 0 {
			t.Fatalf("faeces %v", f)
		}
	})
}

// Protein is an eighth to a sixth nitrogen: the eaten form gives more for the same grams.
func TestExcretedForms(t *testing.T) {
	if got := ExcretedNEaten(75); got != 12 {
		t.Errorf("75 g eaten give %g g N", got)
	}
	if child, adult := DailyOf(5), DailyOf(15); child.Urine >= adult.Urine || child.Faeces >= adult.Faeces {
		t.Errorf("a child %v passes as much as an adult %v", child, adult)
	}
	if DailyOf(-3) != DailyOf(0) || DailyOf(15) != DailyOf(80) {
		t.Error("ages outside the rise are not held")
	}
}

func TestDrumRefuses(t *testing.T) {
	for _, c := range [][3]float64{{-1, 200, 187}, {1, -200, 187}, {1, 200, 0}, {1, 200, math.NaN()}} {
		if _, err := DrumsNeeded(c[0], c[1], c[2], 1); err == nil {
			t.Errorf("%v passed", c)
		}
		if _, err := DaysToFill(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v passed for days to fill", c)
		}
	}
	if _, err := DrumsNeeded(1, 200, 187, -1); err == nil {
		t.Error("a cure of -1 year passed")
	}
	if d, err := DaysToFill(0, 200, 187); err != nil || !math.IsInf(d, 1) {
		t.Errorf("nobody fills a drum in %g days, %v", d, err)
	}
	if n, err := DrumsNeeded(1, 187, 187, 3); err != nil || n != 4 {
		t.Errorf("one fill a year, three years of cure: %d drums, %v", n, err)
	}
}

func TestVolumeAdded(t *testing.T) {
	if got := VolumeAdded(1, 0, 4); got != 5 {
		t.Errorf("faeces and cover %g L", got)
	}
	if got := VolumeAdded(0, 1, 4); got != 4 {
		t.Errorf("a little urine fills pores: %g L", got)
	}
	if got := VolumeAdded(0, 5, 4); got != 7 {
		t.Errorf("much urine: %g L", got)
	}
}

func TestCompostRateBounds(t *testing.T) {
	for _, temp := range []float64{-20, 0, 81, 100, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if k := CompostRate(temp); k != 0 {
			t.Errorf("rate at %g °C is %g", temp, k)
		}
	}
	best := 0.0
	for temp := 0.5; temp < 80; temp += 0.5 {
		if CompostRate(temp) > CompostRate(best) {
			best = temp
		}
	}
	if best < 69 || best > 74 {
		t.Errorf("fastest at %g °C", best)
	}
	if got := FreeAirFactor(0.30); !near(got, 0.9736, 1e-4) {
		t.Errorf("free-air factor at 0.30 is %g", got)
	}
	if got := CompostRate(20); !near(got, CompostK20, 1e-12) {
		t.Errorf("rate at 20 °C is %g", got)
	}
	if OxygenFactor(-1) != 0 || OxygenFactor(2) != 0.5 {
		t.Error("oxygen factor")
	}
}

func TestDecayCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mass := rapid.Float64Range(0, 500).Draw(t, "mass")
		rest := rapid.Float64Range(-1, 600).Draw(t, "rest")
		rate := rapid.Float64Range(-0.01, 0.2).Draw(t, "rate")
		days := rapid.Float64Range(-1, 400).Draw(t, "days")
		left, lost := Decay(mass, rest, rate, days)
		if !near(left+lost, mass, 1e-12) || lost < 0 || left < 0 {
			t.Fatalf("%g became %g and %g", mass, left, lost)
		}
		if mass >= rest && left < rest-1e-9 {
			t.Fatalf("rotted under its rest: %g < %g", left, rest)
		}
	})
}

func TestDecayInStepsIsDecayAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "days")
		m := 100.0
		for range n {
			m, _ = Decay(m, 20, 0.03, 1)
		}
		if once, _ := Decay(100, 20, 0.03, float64(n)); !near(m, once, 1e-12) {
			t.Fatalf("%g in steps, %g at once", m, once)
		}
	})
}

func TestNLossFallsWithCN(t *testing.T) {
	for _, c := range [][2]float64{{10, 0.6}, {15, 0.6}, {20, 0.4}, {25, 0.35}, {30, 0.2}, {60, 0.2}} {
		if got := NLossShare(c[0]); !near(got, c[1], 1e-12) {
			t.Errorf("loss at C:N %g is %g, want %g", c[0], got, c[1])
		}
	}
	if NLossShare(math.NaN()) != 0.6 {
		t.Error("unknown C:N is not the worst")
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0, 80).Draw(t, "a")
		b := rapid.Float64Range(a, 80).Draw(t, "b")
		if NLossShare(b) > NLossShare(a)+1e-12 {
			t.Fatalf("more carbon at %g loses more than at %g", b, a)
		}
	})
}

func TestSoilFactor(t *testing.T) {
	for _, c := range [][2]float64{{20, 1}, {30, 2}, {10, 0.5}, {50, math.Exp2(1.5)}, {0, 0}, {-5, 0}, {2.5, 0.5 * math.Exp2(-1.5)}} {
		if got := SoilFactor(c[0]); !near(got, c[1], 1e-12) {
			t.Errorf("factor at %g °C is %g, want %g", c[0], got, c[1])
		}
	}
	if SoilFactor(math.NaN()) != 0 {
		t.Error("an unknown temperature decays")
	}
}

// A rate made for a yearly share gives that share back over a year at the same mean.
func TestRateForGivesTheYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.01, 0.95).Draw(t, "share")
		mean := rapid.Float64Range(1, 30).Draw(t, "mean")
		if got := Mineralised(80, RateFor(share, mean), mean, 365); !near(got, 80*share, 1e-9) {
			t.Fatalf("%g of 80 at %g °C, want %g", got, mean, 80*share)
		}
	})
	if RateFor(0.3, -5) != 0 || RateFor(0, 10) != 0 {
		t.Error("frozen ground or no release has a rate")
	}
}

func TestLeached(t *testing.T) {
	if got := Leached(50, 100, 100); !near(got, 50*(1-1/math.E), 1e-12) {
		t.Errorf("one pore volume carries %g", got)
	}
	if Leached(50, 0, 100) != 0 || Leached(50, -3, 100) != 0 || Leached(50, 10, 0) != 50 {
		t.Error("no drainage, or nothing held")
	}
	rapid.Check(t, func(t *rapid.T) {
		no3 := rapid.Float64Range(0, 300).Draw(t, "nitrate")
		perc := rapid.Float64Range(0, 500).Draw(t, "drained")
		held := rapid.Float64Range(1, 500).Draw(t, "held")
		if got := Leached(no3, perc, held); got < 0 || got > no3 {
			t.Fatalf("%g of %g", got, no3)
		}
	})
}

func TestNeed(t *testing.T) {
	if PClass(12.4) != VeryLow || PClass(12.5) != BelowOptimum || PClass(36) != Optimum || PClass(68.5) != Optimum || PClass(68.6) != VeryHigh {
		t.Error("phosphorus classes")
	}
	if KClass(40.9) != BelowOptimum || KClass(41) != Medium || KClass(math.NaN()) != NoTest || KClass(-1) != NoTest {
		t.Error("potassium classes")
	}
	last := 2.0
	for _, c := range []Class{VeryLow, BelowOptimum, Medium, Optimum, VeryHigh} {
		if f := IndexFactor(c); f >= last {
			t.Errorf("class %d asks for %g", c, f)
		} else {
			last = f
		}
	}
	if IndexFactor(NoTest) != 1 || Need(50, 3.5, 1) != 175 || Need(50, 3.5, 0) != 0 {
		t.Error("need by removal")
	}
}

func TestLimeNeed(t *testing.T) {
	if got, err := LimeNeed(Loam, 4.25); err != nil || !near(got, 0.72, 1e-12) {
		t.Errorf("loam at 4.25: %g, %v", got, err)
	}
	if got, err := LimeNeed(Loam, 6.5); err != nil || got != 0 {
		t.Errorf("loam at 6.5: %g, %v", got, err)
	}
	if got, err := LimeNeed(ClayLoam, 6.25); err != nil || !near(got, 0.135, 1e-12) {
		t.Errorf("clay loam at 6.25: %g, %v", got, err)
	}
	for _, pH := range []float64{3.9, 15, math.NaN()} {
		if _, err := LimeNeed(Loam, pH); err == nil {
			t.Errorf("pH %g passed", pH)
		}
	}
	if _, err := LimeNeed(Texture(9), 5); err == nil {
		t.Error("an unknown texture passed")
	}
}

func TestSalt(t *testing.T) {
	if SaltYield(0.5, 1, 0.19) != 1 || SaltYield(20, 1, 0.19) != 0 {
		t.Error("yield leaves 0 to 1")
	}
	if got := SAR(10, 4, 4); got != 5 {
		t.Errorf("SAR %g", got)
	}
	if SAR(0, 0, 0) != 0 || !math.IsInf(SAR(1, 0, 0), 1) {
		t.Error("SAR without calcium")
	}
	if got, ok := LeachingFraction(1, 1.2); !ok || got != 0.2 {
		t.Errorf("leaching fraction %g %v", got, ok)
	}
	if _, ok := LeachingFraction(6, 1.1); ok {
		t.Error("salty water holds the soil")
	}
	for _, c := range []struct {
		got, want Restriction
	}{
		{RateEC(0.69), None}, {RateEC(0.7), Moderate}, {RateEC(3), Moderate}, {RateEC(3.1), Severe},
		{RateSAR(2.9), None}, {RateSAR(9.1), Severe}, {RateChloride(4), Moderate},
		{RateBoron(0.5), None}, {RateBoron(math.NaN()), NotKnown}, {RateEC(-1), NotKnown},
	} {
		if c.got != c.want {
			t.Errorf("restriction %d, want %d", c.got, c.want)
		}
	}
}

func TestGreywater(t *testing.T) {
	if DesignFlow(0) != 0 || DesignFlow(1) != 304 {
		t.Error("design flow")
	}
	if got := BasinArea(204, CoarseSand); got != 1 {
		t.Errorf("basin %g m2", got)
	}
	if Acceptance(Ground(99)) != Acceptance(Clay) || BasinArea(-5, Clay) != 0 {
		t.Error("unknown ground is not clay")
	}
}

func BenchmarkDaily(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Split(NPK{12, 1.5, 3})
		Decay(100, 20, CompostRate(25)*MoistureFactor(0.55), 1)
		Mineralised(50, 0.001, 12, 1)
		Leached(5, 12, 180)
		SaltYield(2, 1, 0.19)
	}
}
