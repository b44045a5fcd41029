package crop

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestRootZoneBalances(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		taw := rapid.Float64Range(0, 300).Draw(r, "taw")
		dr := rapid.Float64Range(0, 1.1*taw).Draw(r, "dr")
		in := rapid.Float64Range(0, 250).Draw(r, "in")
		etc := rapid.Float64Range(0, 15).Draw(r, "etc")
		drawn := Uptake(dr, taw, in, etc)
		dr2, perc := RootZone(dr, taw, in, etc)
		if e := in - drawn - perc - (dr - dr2); math.Abs(e) > 1e-9 {
			r.Fatalf("balance out by %v", e)
		}
		if dr2 < 0 || perc < 0 || drawn < 0 || drawn > etc || dr2 > math.Max(taw, dr)+1e-9 {
			r.Fatalf("out of bounds: drawn %v, dr2 %v, perc %v", drawn, dr2, perc)
		}
		if perc > 0 && dr2 != drawn {
			r.Fatalf("drains %v before field capacity is reached: dr2 %v", perc, dr2)
		}
	})
}

func TestTopsoilBalances(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		u := func(name string, hi float64) float64 { return rapid.Float64Range(0, hi).Draw(r, name) }
		soil := Topsoil{TEW: 10 + u("tew", 20)}
		soil.REW = soil.TEW * u("rew", 0.6)
		s := Surface{Rain: u("rain", 60), Irrigation: u("irrigation", 40), Fw: 0.2 + u("fw", 0.8), Kcb: u("kcb", 1.2), ET0: u("et0", 12)}
		s.KcMax, s.Few = s.Kcb+0.05+u("more", 0.2), Exposed(u("cover", 0.99), s.Fw)
		de := soil.TEW * u("de", 1)
		got := soil.Day(de, s)
		want := de - s.Rain - s.Irrigation/s.Fw + got.E/s.Few + got.Drained
		if math.Abs(got.De-want) > 1e-9 {
			r.Fatalf("De %v, the balance gives %v", got.De, want)
		}
		if got.De < 0 || got.De > soil.TEW+1e-9 || got.E < 0 || got.Drained < 0 {
			r.Fatalf("out of bounds: %+v", got)
		}
	})
}

func TestStressFallsFromOneToNone(t *testing.T) {
	for _, c := range []struct{ dr, want float64 }{{0, 1}, {40, 1}, {70, 0.5}, {100, 0}, {130, 0}} {
		near(t, "Ks", Stress(c.dr, 100, 40), c.want, 1e-12)
	}
	near(t, "no soil", Stress(0, 0, 0), 0, 0)
}

func TestDepletionStaysInItsLimits(t *testing.T) {
	near(t, "fierce day", AdjustDepletion(0.2, 12), 0.1, 0)
	near(t, "mild day", AdjustDepletion(0.7, 0), 0.8, 0)
}

func TestKcEdges(t *testing.T) {
	kc := func(x float64) float64 { return Kc(x, 0.3, 1.1, 0.6, 0.2, 0.3, 0.3) }
	near(t, "before planting", kc(-1), 0.3, 0)
	near(t, "harvest", kc(1), 0.6, 1e-12)
	near(t, "after harvest", kc(2), 0.6, 1e-12)
	near(t, "no late stage", Kc(1, 0.3, 1.1, 0.6, 0.2, 0.3, 0.5), 1.1, 1e-12)
	near(t, "no development stage", Kc(0.21, 0.3, 1.1, 0.6, 0.2, 0, 0.5), 1.1, 1e-12)
}

func TestKcNeverLeavesItsStages(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := rapid.Float64Range(0, 0.4).Draw(r, "ini")
		b := rapid.Float64Range(0, 0.4).Draw(r, "dev")
		c := rapid.Float64Range(0, 1-a-b).Draw(r, "mid")
		k := Kc(rapid.Float64Range(-0.5, 1.5).Draw(r, "frac"), 0.3, 1.1, 0.6, a, b, c)
		if !(k >= 0.3 && k <= 1.1) {
			r.Fatalf("Kc %v", k)
		}
	})
}

func TestRoots(t *testing.T) {
	near(t, "planting", RootDepth(0, 0.2, 0.9), 0.2, 0)
	near(t, "half way", RootDepth(0.5, 0.2, 0.9), 0.55, 1e-12)
	near(t, "late season", RootDepth(1.7, 0.2, 0.9), 0.9, 1e-12)
}

func TestSmallRainDoesNotCount(t *testing.T) {
	near(t, "a sprinkle", EffectiveRain(0.9, 5), 0, 0)
	near(t, "a shower", EffectiveRain(1.1, 5), 1.1, 0)
}

func TestRHMinIsWholeInMist(t *testing.T) {
	near(t, "no range", RHMin(12, 12), 100, 1e-9)
	near(t, "18 to 25 °C", RHMin(18, 25), 65.15, 0.01) // 2.0640/3.1678, FAO-56 example 5
}

func TestDegreeDayEdges(t *testing.T) {
	nan := math.NaN()
	near(t, "no upper threshold", SingleSine(5, 25, 10, nan, Horizontal), SingleSine(5, 25, 10, 0, None), 0)
	near(t, "too hot all day, vertical", SingleSine(35, 40, 10, 30, Vertical), 0, 1e-12)
	near(t, "too hot all day, horizontal", SingleSine(35, 40, 10, 30, Horizontal), 20, 1e-12)
	near(t, "a day without range", SingleSine(15, 15, 10, 30, Vertical), 5, 0)
	near(t, "a cold day without range", SingleTriangle(8, 8, 10, 30, None), 0, 0)
	near(t, "simple average below base", SimpleAverage(0, 10, 10), 0, 0)
}

func TestDegreeDaysOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		lo := rapid.Float64Range(-20, 35).Draw(r, "tmin")
		hi := lo + rapid.Float64Range(0, 25).Draw(r, "range")
		n, h, v := SingleSine(lo, hi, 8, 30, None), SingleSine(lo, hi, 8, 30, Horizontal), SingleSine(lo, hi, 8, 30, Vertical)
		if v < 0 || v > h+1e-9 || h > n+1e-9 || h > 22+1e-9 {
			r.Fatalf("none %v, horizontal %v, vertical %v", n, h, v)
		}
	})
}

func TestYieldStaysInItsLimits(t *testing.T) {
	near(t, "no water", YieldResponse(1.25, 0), 0, 0)
	near(t, "all water", YieldResponse(1.25, 1), 1, 0)
	near(t, "more than all", YieldResponse(1.25, 1.2), 1, 0)
	near(t, "sweet soil", SaltYield(0.5, 1, 19), 1, 0)
	near(t, "brine", SaltYield(20, 1, 19), 0, 0)
	near(t, "salt on Ks", SaltStress(2, 1, 19, 1.15), 1-0.19/1.15, 1e-12)
}

func TestNitrogenUptakeIsAnSCurve(t *testing.T) {
	near(t, "start", NitrogenUptake(0), 0, 1e-12)
	near(t, "middle", NitrogenUptake(0.5), 0.5, 1e-12)
	near(t, "end", NitrogenUptake(1.4), 1, 1e-12)
	if a, b := NitrogenUptake(0.1), NitrogenUptake(0.6)-NitrogenUptake(0.5); a >= b {
		t.Errorf("a tenth at the start takes %v, in the middle %v", a, b)
	}
}

func TestSufficiency(t *testing.T) {
	near(t, "half", Sufficiency(3, 6), 0.5, 0)
	near(t, "plenty", Sufficiency(9, 6), 1, 0)
	near(t, "none needed", Sufficiency(0, 0), 1, 0)
	near(t, "owed", Sufficiency(-1, 6), 0, 0)
}

func TestFrostKillsSoftPlantsFirst(t *testing.T) {
	for _, c := range []struct {
		name       string
		tmin, hard float64
		trail      float64
		want       bool
	}{
		{"kale in a warm spell", -7, -12, 12, true},
		{"kale in a cold autumn", -7, -12, 6, false},
		{"kale half hardened", -9, -12, 8.5, true},
		{"kale beyond its limit", -12, -12, 0, true},
		{"a plant that cannot harden", -7, math.NaN(), 0, true},
		{"a limit warmer when hardened is not one", -5, -2, 0, false},
	} {
		if Frost(c.tmin, -6, c.hard, Hardening(c.trail)) != c.want {
			t.Errorf("%s: want killed %v", c.name, c.want)
		}
	}
}

func TestTrailLagsAsAPlainMean(t *testing.T) {
	// Under a steady rise of 1 a day a plain mean of n days lies (n-1)/2 behind.
	m := 0.0
	for d := range 400 {
		m = Trail(m, float64(d), HardenDays)
	}
	near(t, "lag, days", 399-m, (HardenDays-1)/2.0, 1e-6)
	near(t, "steady", Trail(8, 8, SoilDays), 8, 0)
}

func TestHeat(t *testing.T) {
	near(t, "at the limit", HeatHarm(27, 27), 0, 0)
	near(t, "half", HeatHarm(29.5, 27), 0.5, 1e-12)
	near(t, "far above", HeatHarm(40, 27), 1, 0)
	near(t, "no limit", HeatHarm(45, math.NaN()), 0, 0)
	near(t, "mulch", SoilTemp(15, true), 13, 0)
	near(t, "bare", SoilTemp(15, false), 15, 0)
}

func TestProgress(t *testing.T) {
	near(t, "thermal", Progress(0.2, 15, 1500), 0.21, 1e-12)
	near(t, "by days", Progress(0.5, 1, 50), 0.52, 1e-12)
	near(t, "done", Progress(0.99, 50, 1000), 1, 0)
	near(t, "unknown need", Progress(0.3, 12, math.NaN()), 0.3, 0)
	near(t, "cold", Progress(0.3, -4, 900), 0.3, 0)
}

func TestHarvestSumsToOne(t *testing.T) {
	for _, span := range []float64{0, 1, 7, 10, 14, 21, 60, 90, 365, 28.5} {
		s := 0.0
		for d := range int(math.Ceil(math.Max(span, 1))) {
			x := HarvestShape(float64(d), span)
			if x < 0 {
				t.Errorf("span %v day %d: %v", span, d, x)
			}
			s += x
		}
		near(t, "sum", s, 1, 1e-12)
	}
	if a, b := HarvestShape(1, 60), HarvestShape(29, 60); a >= b {
		t.Errorf("picking does not swell: %v, then %v", a, b)
	}
	near(t, "after the span", HarvestShape(60, 60), 0, 0)
	near(t, "even short picking", HarvestShape(2, 7), 1.0/7, 1e-12)
}

func TestBearing(t *testing.T) {
	near(t, "annual", Bearing("annual", 0, 0, 0), 1, 0)
	near(t, "biennial as annual", Bearing("biennial as annual", 0, 3, 9), 1, 0)
	near(t, "tree not yet bearing", Bearing("tree", 1, 3, 8), 0, 0)
	near(t, "tree in full", Bearing("tree", 30, 3, 8), 1, 0)
	near(t, "between years", Bearing("pome", 4.5, 0, 0), 0.45, 1e-12)
	near(t, "before the first year", Bearing("banana", 0.5, 0, 0), 0.15, 1e-12)
	near(t, "old walnut", Bearing("nut", 40, 0, 0), 1, 0)
	near(t, "walnut of 12 years", Bearing("nut", 12, 0, 0), 0.7, 1e-12)
	near(t, "old canes stay low", Bearing("cane", 15, 0, 0), 0.7, 0)
	near(t, "full at once", Bearing("shrub", 1, 2, 1), 1, 0)
}

func TestDailyStepsDoNotAllocate(t *testing.T) {
	soil := Topsoil{TEW: 20, REW: 9}
	var sink float64
	steps := map[string]func(){
		"Stress":     func() { sink += Stress(70, 100, 40) },
		"RootZone":   func() { d, p := RootZone(30, 100, 12, 4); sink += d + p },
		"Kc":         func() { sink += Kc(0.3, 0.3, 1.1, 0.6, 0.2, 0.3, 0.3) },
		"SingleSine": func() { sink += SingleSine(5, 25, 10, 30, Horizontal) },
		"Topsoil":    func() { sink += soil.Day(3, Surface{Fw: 1, Few: 1, KcMax: 1.2, ET0: 5}).De },
		"Frost":      func() { sink += KillLimit(-6, -12, Hardening(8)) },
		"Harvest":    func() { sink += HarvestShape(3, 60) },
		"Bearing":    func() { sink += Bearing("pome", 4, 3, 8) + Bearing("tree", 4, 3, 8) },
		"Nitrogen":   func() { sink += NitrogenUptake(0.4) },
	}
	for name, f := range steps {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}

func BenchmarkStress(b *testing.B) {
	for b.Loop() {
		Stress(70, 100, 40)
	}
}

func BenchmarkRootZone(b *testing.B) {
	for b.Loop() {
		RootZone(30, 100, 12, 4)
	}
}

func BenchmarkKc(b *testing.B) {
	for b.Loop() {
		Kc(0.3, 0.3, 1.1, 0.6, 0.2, 0.3, 0.3)
	}
}

func BenchmarkSingleSine(b *testing.B) {
	for b.Loop() {
		SingleSine(5, 25, 10, 30, Horizontal)
	}
}
