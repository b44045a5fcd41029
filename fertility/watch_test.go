package fertility

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestUrineFitEdges(t *testing.T) {
	for _, c := range []struct {
		temp, months float64
		want         Fit
	}{
		{4, 0.99, NotFit}, {4, 1, Processed}, {3.9, 12, NotFit}, {19.9, 5.9, Processed}, {19.9, 6, Fodder},
		{20, 5.9, Fodder}, {20, 6, AnyCrop}, {unknown, 9, NotFit}, {25, unknown, NotFit},
	} {
		if got := UrineFit(c.temp, c.months); got != c.want {
			t.Errorf("%g °C for %g months: %d, want %d", c.temp, c.months, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		temp, months := rapid.Float64Range(-10, 40).Draw(t, "temp"), rapid.Float64Range(0, 12).Draw(t, "months")
		if UrineFit(temp+1, months) < UrineFit(temp, months) || UrineFit(temp, months+1) < UrineFit(temp, months) {
			t.Fatal("warmer or longer is less fit")
		}
	})
}

func TestSafeHoursEdges(t *testing.T) {
	for _, c := range []struct {
		temp, hours float64
		ok          bool
	}{{43, 0, false}, {43.01, 720, true}, {46, 720, true}, {50, 168, true}, {62, 24, true}, {unknown, 0, false}, {90, 1, true}} {
		if h, ok := SafeHours(c.temp); h != c.hours || ok != c.ok {
			t.Errorf("%g °C: %g %v", c.temp, h, ok)
		}
	}
}

func TestOtherWaysToSafety(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want bool
	}{
		{"alkaline", Alkaline(9.1, 0.24, 36, 183), true},
		{"pH 9", Alkaline(9, 0.24, 36, 183), false},
		{"a quarter moist", Alkaline(9.1, 0.25, 36, 183), false},
		{"35 °C", Alkaline(9.1, 0.24, 35, 183), false},
		{"six months less a day", Alkaline(9.1, 0.24, 36, 182), false},
		{"pH not known", Alkaline(unknown, 0.2, 40, 300), false},
		{"lime", LimeClassA(12.1, 72, 12), true},
		{"lime at pH 12", LimeClassA(12, 72, 12), false},
		{"lime 71 h", LimeClassA(12.1, 71, 12), false},
		{"lime 11 hot h", LimeClassA(12.1, 72, 11), false},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v", c.name, c.got)
		}
	}
	for _, temp := range []float64{19.9, 55.1, unknown} {
		if _, ok := DigestionDays(temp); ok {
			t.Errorf("a time at %g °C", temp)
		}
	}
	if d, ok := DigestionDays(27.5); !ok || d != 37.5 {
		t.Errorf("half way: %g", d)
	}
	if _, ok := SludgeWait(Unknown, true); ok {
		t.Error("a wait for an unknown crop")
	}
	if _, ok := T99("luck"); ok {
		t.Error("luck dies off")
	}
	if _, ok := WashingOf("well"); ok {
		t.Error("a well sheds")
	}
}

func TestSoilAndWaterClasses(t *testing.T) {
	if _, ok := OlsenIndex(-1); ok {
		t.Error("less than no phosphorus")
	}
	if i, ok := OlsenIndex(200); !ok || i != 5 {
		t.Errorf("200 mg/L is index %d", i)
	}
	for _, c := range []struct {
		sar, ec float64
		want    Restriction
	}{{2.9, 0.7, Moderate}, {2.9, 0.2, Moderate}, {2.9, 0.19, Severe}, {3, 1.21, None}, {11.9, 1.91, None}, {12, 5, NotKnown}, {unknown, 1, NotKnown}, {1, -1, NotKnown}} {
		if got := RateInfiltration(c.sar, c.ec); got != c.want {
			t.Errorf("SAR %g, %g dS/m: %d", c.sar, c.ec, got)
		}
	}
}

func TestMixCheck(t *testing.T) {
	for _, c := range []struct {
		cn, moisture float64
		want         string
	}{
		{30, 0.55, ""}, {20, 0.40, ""}, {40, 0.65, ""}, {19.9, 0.5, "too rich"}, {40.1, 0.5, "too lean"},
		{30, 0.39, "too dry"}, {30, 0.66, "too wet"}, {unknown, 0.5, "too rich"}, {30, unknown, "too dry"},
	} {
		got := strings.Join(MixCheck(c.cn, c.moisture), "; ")
		if (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
			t.Errorf("C:N %g at %g: %q, want %q", c.cn, c.moisture, got, c.want)
		}
	}
}

func TestCoverLeft(t *testing.T) {
	for _, c := range [][4]float64{{100, 0.5, 2, 100}, {0, 0.5, 2, 0}, {-40, 0.5, 2, 0}} {
		if got := CoverLeft(c[0], c[1], c[2]); got != c[3] {
			t.Errorf("%v: %g days", c, got)
		}
	}
	if !math.IsInf(CoverLeft(10, 0, 2), 1) || !math.IsInf(CoverLeft(10, unknown, 2), 1) {
		t.Error("nothing used runs out")
	}
}

func TestBucketsFor(t *testing.T) {
	for _, b := range Buckets() {
		if got := b.For(NPK{}); got != 0 {
			t.Errorf("%s for nothing: %g", b.Name, got)
		}
		if got := b.For(NPK{N: -5, P: -1, K: -2}); got != 0 {
			t.Errorf("%s for a surplus: %g", b.Name, got)
		}
	}
	if got := AshBucket.For(NPK{N: 10}); !math.IsInf(got, 1) {
		t.Errorf("ash for nitrogen: %g", got)
	}
	if got := UrineBucket.For(NPK{N: 73 * 0.95}); !near(got, 1, 1e-9) {
		t.Errorf("a bucket's nitrogen takes %g buckets", got)
	}
	// So many buckets bring what lacks, and not by more than the scarcest asks.
	rapid.Check(t, func(t *rapid.T) {
		lack := NPK{rapid.Float64Range(0, 500).Draw(t, "N"), rapid.Float64Range(0, 100).Draw(t, "P"), rapid.Float64Range(0, 500).Draw(t, "K")}
		b := rapid.SampledFrom(Buckets()[:3]).Draw(t, "bucket")
		n := b.For(lack)
		n, p, k := n*b.Holds.N*b.Ready-lack.N, n*b.Holds.P-lack.P, n*b.Holds.K-lack.K
		if min(n, p, k) < -1e-9 || min(n, p, k) > 1e-9 {
			t.Fatalf("%s: over by %g, %g, %g", b.Name, n, p, k)
		}
	})
}

func TestSodiumYear(t *testing.T) {
	if SodiumYear(3, 0) != 7.5 || SodiumYear(3, 1) != 0 || SodiumYear(-1, 0) != 0 || SodiumYear(2, 2) != 0 {
		t.Error("sodium of a year")
	}
	if LimePerPH(Loam, -1) != 0 || LimePerPH(Texture(9), 1) != LimePerPH(ClayLoam, 1) {
		t.Error("lime")
	}
}

// Carbon, nitrogen and water of a mix are those of its parts, however it is put together.
func TestMixingKeepsCarbonNitrogenAndWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := []Material{drawMaterial(t, "a"), drawMaterial(t, "b"), drawMaterial(t, "c")}
		var c, n, water, kg float64
		for _, m := range parts {
			c += m.Dry() * m.C
			n += m.Dry() * m.N
			water += m.Mass * m.Moisture
			kg += m.Mass
		}
		whole := Material{Mass: kg, Moisture: MixMoisture(parts...)}
		whole.N = n / whole.Dry()
		whole.C = whole.N * MixCN(parts...)
		if !near(whole.Dry()*whole.C, c, 1e-9) || !near(whole.Dry()*whole.N, n, 1e-9) || !near(whole.Mass*whole.Moisture, water, 1e-9) {
			t.Fatalf("%+v holds %g C, %g N and %g water", whole, c, n, water)
		}
	})
}

// A person's N, P and K go through urine, drum, rot and spreading: what reaches the
// ground and what is lost is what was eaten.
func TestNutrientsCloseFromPlateToGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eaten := NPK{rapid.Float64Range(1, 30).Draw(t, "N"), rapid.Float64Range(0.1, 3).Draw(t, "P"), rapid.Float64Range(0.5, 6).Draw(t, "K")}
		urine, faeces := Split(eaten)
		air := urine.N * LossWateredIn
		urine.N -= air
		gone := faeces.N * NLossShare(rapid.Float64Range(5, 60).Draw(t, "C:N"))
		faeces.N -= gone
		var ground NPK
		var washed float64
		for range rapid.IntRange(1, 12).Draw(t, "rains") {
			ground = ground.Plus(urine.Times(1.0 / 12)).Plus(faeces.Times(1.0 / 12))
			out := Leached(ground.N, rapid.Float64Range(0, 60).Draw(t, "mm"), 150)
			ground.N -= out
			washed += out
		}
		spread := ground.N + washed
		back := urine.Plus(faeces)
		if spread > back.N+1e-9 || ground.N < 0 || !near(back.N+air+gone, eaten.N, 1e-12) || !near(back.P, eaten.P, 1e-12) || !near(back.K, eaten.K, 1e-12) {
			t.Fatalf("ate %v; %v reached the ground, %g washed out, %g and %g to the air", eaten, ground, washed, air, gone)
		}
	})
}
