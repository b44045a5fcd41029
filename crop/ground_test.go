package crop

import (
	"math"
	"slices"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func TestColdRefusesEmergence(t *testing.T) {
	bean := cropOf(t, "snap_bean")
	if d, ok := bean.Emerge.Days(5); !ok || !math.IsInf(d, 1) {
		t.Errorf("beans come up after %v days at 5 °C", d)
	}
	rye := cropOf(t, "rye")
	if _, ok := rye.Emerge.Days(10); ok {
		t.Error("nothing is printed of rye")
	}
	rapid.Check(t, func(r *rapid.T) {
		c := &tables(t).Crops[rapid.IntRange(0, len(tables(t).Crops)-1).Draw(r, "crop")]
		if d, ok := c.Emerge.Days(rapid.Float64Range(-30, 50).Draw(r, "soil")); ok && !(d >= 1) {
			r.Fatalf("%s comes up in %v days", c.ID, d)
		}
	})
}

func TestHarvestMovesOnWithSowing(t *testing.T) {
	clim := climates(t)["central Iowa"]
	for _, id := range []string{"snap_bean", "carrot", "sweet_corn"} {
		c := cropOf(t, id)
		for d := 100; d < 180; d++ {
			a, last, ok := Harvest(c, clim, d)
			b, _, ok2 := Harvest(c, clim, d+1)
			if !ok || !ok2 || d+a > d+1+b+slowAutumn || last < a {
				t.Errorf("%s sown on day %d is picked on %d to %d, a day later on %d", id, d, d+a, d+last, d+1+b)
			}
		}
	}
	if _, _, ok := Harvest(cropOf(t, "apple"), clim, 100); ok {
		t.Error("apples are not timed from sowing")
	}
}

// TestWinterCrops: garlic and winter wheat want their cold, and stand it.
func TestWinterCrops(t *testing.T) {
	warm := tropics(t)
	for _, id := range []string{"garlic", "wheat_winter"} {
		c := cropOf(t, id)
		w := Windows(c, climates(t)["Macon"], 0.2)
		if !slices.ContainsFunc(w, func(w Window) bool { return w.Has(319) }) {
			t.Errorf("%s is not sown on 15 November in Macon: %v", id, w)
		}
		if w, bar := Suit(c, warm, 0.2); w != nil || bar == Free || bar == FrostKill {
			t.Errorf("%s where it never cools: %v, %v", id, w, bar)
		}
	}
	garlic := Windows(cropOf(t, "garlic"), climates(t)["central Iowa"], 0.2)
	if len(garlic) != 1 || !garlic[0].Has(288) || garlic[0].Has(100) {
		t.Errorf("garlic in Iowa, set in mid-October and not in spring: %v", garlic)
	}
}

// tropics is a climate of 24 to 32 °C all year.
func tropics(t testing.TB) *Climate {
	t.Helper()
	n := normals{lat: 5}
	for m := range 12 {
		n.lo[m], n.hi[m], n.sdLo[m], n.sdHi[m] = 24, 32, 1, 1
	}
	return n.climate(t, false)
}

func TestWhyNothingFits(t *testing.T) {
	warm := tropics(t)
	polar := normals{lat: 70}
	for m := range 12 {
		polar.lo[m], polar.hi[m], polar.sdLo[m], polar.sdHi[m] = -12, -2, 3, 3
	}
	cold := polar.climate(t, false)
	for _, c := range []struct {
		id   string
		clim *Climate
		want Bar
	}{
		{"lettuce", warm, HotSeason}, {"okra", cold, ColdSoil}, {"apple", warm, Unknown}, {"okra", warm, Free},
	} {
		if _, got := Suit(cropOf(t, c.id), c.clim, 0.2); got != c.want {
			t.Errorf("%s: %v, want %v", c.id, got, c.want)
		}
	}
	fit := NearestFit(cropOf(t, "lettuce"), tables(t).Crops, warm, 0.2, 3)
	if len(fit) != 3 {
		t.Fatalf("%d crops fit the tropics", len(fit))
	}
	for _, f := range fit {
		if Windows(f, warm, 0.2) == nil {
			t.Errorf("%s is offered and has no window", f.ID)
		}
	}
	if fit := NearestFit(cropOf(t, "okra"), tables(t).Crops, cold, 0.2, 3); len(fit) != 0 {
		t.Errorf("%s fits a polar year", fit[0].ID)
	}
}

// TestWindowsAreMadeOfFreeDays: each opens and closes on a day that nothing bars,
// and a crop without one has a reason on every day.
func TestWindowsAreMadeOfFreeDays(t *testing.T) {
	crops, all := tables(t).Crops, climates(t)
	rapid.Check(t, func(r *rapid.T) {
		c := &crops[rapid.IntRange(0, len(crops)-1).Draw(r, "crop")]
		clim := all[rapid.SampledFrom([]string{"Macon", "Gainesville", "central Iowa"}).Draw(r, "place")]
		risk := rapid.Float64Range(0.02, 0.6).Draw(r, "risk")
		windows, bar := Suit(c, clim, risk)
		if (len(windows) > 0) != (bar == Free) {
			r.Fatalf("%s: %v, %v", c.ID, windows, bar)
		}
		for _, w := range windows {
			if w.Days() == 365 {
				continue
			}
			for _, d := range []int{w.Open, w.Close} {
				if b := Ask(c, clim, d, risk); b != Free {
					r.Fatalf("%s, window %v, day %d: %v", c.ID, w, d, b)
				}
			}
		}
	})
}

func TestRotation(t *testing.T) {
	rests := tables(t).Rests
	for _, c := range []struct {
		name  string
		a, b  Turn
		clash bool
	}{
		{"kale after cabbage next year", Turn{"Brassicaceae", 0, 100}, Turn{"Brassicaceae", 365, 450}, true},
		{"kale after cabbage in the fifth year", Turn{"Brassicaceae", 0, 100}, Turn{"Brassicaceae", 4 * 365, 1500}, false},
		{"the other way round", Turn{"Brassicaceae", 365, 450}, Turn{"Brassicaceae", 0, 100}, true},
		{"side by side", Turn{"Solanaceae", 0, 100}, Turn{"Solanaceae", 10, 90}, false},
		{"another family", Turn{"Solanaceae", 0, 100}, Turn{"Fabaceae", 120, 200}, false},
		{"a family not listed rests three years", Turn{"Apiaceae", 0, 100}, Turn{"Apiaceae", 2 * 365, 800}, true},
	} {
		if _, got := Clash(c.a, c.b, rests); got != c.clash {
			t.Errorf("%s: clash %v", c.name, got)
		}
	}
}

func TestSowingsLieInTheirWindows(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := Window{rapid.IntRange(1, 365).Draw(r, "open"), rapid.IntRange(1, 365).Draw(r, "close")}
		every := float64(rapid.IntRange(1, 60).Draw(r, "every"))
		days := Sowings([]Window{w}, every)
		if want := (w.Days()-1)/int(every) + 1; len(days) != want {
			r.Fatalf("%d sowings every %g days in %v, want %d", len(days), every, w, want)
		}
		for _, d := range days {
			if !w.Has(d) {
				r.Fatalf("day %d is not in %v", d, w)
			}
		}
	})
	if got := Sowings([]Window{{10, 40}}, 0); !slices.Equal(got, []int{10}) {
		t.Errorf("once: %v", got)
	}
}

func TestSeedAgesAndIsKept(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		life := rapid.Float64Range(1, 10).Draw(r, "life")
		age := rapid.Float64Range(0, 15).Draw(r, "age")
		v := Viability(0.8, life, age)
		if !(v >= 0 && v <= 0.8) || Viability(0.8, life, age+0.5) > v {
			r.Fatalf("life %g, age %g: %g", life, age, v)
		}
		c := &tables(t).Crops[rapid.IntRange(0, len(tables(t).Crops)-1).Draw(r, "crop")]
		area := rapid.Float64Range(0.1, 100).Draw(r, "area")
		once, twice := KeepBack(c, area, 0, 0), KeepBack(c, area, 1, 0)
		if math.Abs(twice-2*once) > 1e-9*twice {
			r.Fatalf("%s: %g g for one sowing, %g with one failure", c.ID, once, twice)
		}
		if KeepBack(c, area, 1, 1) < twice-1e-9 {
			r.Fatalf("%s: old seed is sown thinner", c.ID)
		}
	})
	for i := range tables(t).Crops {
		c := &tables(t).Crops[i]
		kept, again := KeptOfHarvest(c, 10), KeptOfHarvest(c, 20)
		if kept > 0 && (c.Food == "" || c.HarvestFrom != 0 || c.Seed.HarvestOf == "" || kept >= 0.5*10*c.YieldTyp) || math.Abs(again-2*kept) > 1e-12 {
			t.Errorf("%s: %g kg of a harvest of %g kg is set aside to sow 10 m2, %g to sow 20", c.ID, kept, 10*c.YieldTyp, again)
		}
	}
	for id, is := range map[string]bool{"potato": true, "wheat_winter": true, "garlic": true, "sunflower": true, "tomato": false, "snap_bean": false, "carrot": false, "cassava": false, "jerusalem_artichoke": false} {
		if got := KeptOfHarvest(cropOf(t, id), 1) > 0; got != is {
			t.Errorf("%s is sown from what is eaten: %v", id, got)
		}
	}
	near(t, "fresh", Viability(0.8, 4, 0), 0.8, 1e-9)
	near(t, "at its life half is lost", Viability(0.8, 4, 4), 0.4, 0.002)
	near(t, "seeds for 30 plants", SeedsFor(30, 0.75, 0.8), 50, 1e-9)
}

func TestYieldFactorsHaveMeanOne(t *testing.T) {
	const n = 400
	sum := 0.0
	for i := range n { // midpoints of equal chances in both draws
		for j := range n {
			sum += YieldFactor(0.3, 0.4, quantile(i, n), quantile(j, n))
		}
	}
	near(t, "mean", sum/n/n, 1, 0.002)
	near(t, "one bed", TotalCV(0.3, 0.4, 1), 0.3, 1e-12)
	near(t, "very many beds", TotalCV(0.3, 0.4, 1e9), 0.3*math.Sqrt(0.4), 1e-6)
	near(t, "pests", PestLoss(0.1, 0.5, 0.2), 0.81, 1e-12)
}

func quantile(i, n int) float64 { return math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/float64(n)-1) }

func TestFrostListForTonight(t *testing.T) {
	stands := []Stand{
		{Name: "old kale", Crop: cropOf(t, "kale"), Hardened: 1, Days: 90},
		{Name: "new kale", Crop: cropOf(t, "kale"), Days: 5},
		{Name: "tomatoes", Crop: cropOf(t, "tomato"), Days: 60},
		{Name: "apples", Crop: cropOf(t, "apple"), Dormant: true},
	}
	list := func(tmin, margin float64) (names []string) {
		for _, h := range FrostList(tmin, margin, stands) {
			names = append(names, h.Name)
		}
		return names
	}
	for _, c := range []struct {
		tmin, margin float64
		want         []string
	}{
		{3, 0, nil}, {0, 0, []string{"tomatoes"}}, {3, 3, []string{"tomatoes"}},
		{-5, 0, []string{"tomatoes", "new kale"}}, {-11, 0, []string{"tomatoes", "new kale", "old kale"}},
	} {
		if got := list(c.tmin, c.margin); !slices.Equal(got, c.want) {
			t.Errorf("%g °C, margin %g: %v, want %v", c.tmin, c.margin, got, c.want)
		}
	}
}

func TestColderNightsHarmNoFewer(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var stands []Stand
		for range rapid.IntRange(1, 8).Draw(r, "stands") {
			c := &tables(t).Crops[rapid.IntRange(0, len(tables(t).Crops)-1).Draw(r, "crop")]
			stands = append(stands, Stand{Crop: c, Hardened: rapid.Float64Range(0, 1).Draw(r, "hard"), Days: rapid.IntRange(0, 200).Draw(r, "days")})
		}
		night := rapid.Float64Range(-40, 10).Draw(r, "night")
		if a, b := len(FrostList(night, 0, stands)), len(FrostList(night-1, 0, stands)); b < a {
			r.Fatalf("%d harmed at %g °C, %d a degree colder", a, night, b)
		}
	})
}

func TestDryList(t *testing.T) {
	stands := []Stand{
		{Name: "deep", Crop: cropOf(t, "kale"), Available: 100, Ready: 40, ETc: 4},
		{Name: "dry", Crop: cropOf(t, "kale"), Depletion: 50, Available: 100, Ready: 40, ETc: 4},
		{Name: "fallow", Crop: cropOf(t, "kale"), Available: 100, Ready: 40},
	}
	got := DryList(12, stands)
	if len(got) != 2 || got[0].Name != "dry" || got[1].Name != "deep" {
		t.Fatalf("%v", got)
	}
	near(t, "days until the deep bed suffers", got[1].Stressed, 10, 1e-12)
	dr, day := stands[0].Depletion, 0.0 // step it finely by FAO-56 eq. 84
	for ; dr < 90; day += 0.001 {
		dr += 0.001 * 4 * Stress(dr, 100, 40)
	}
	near(t, "days until it is dry", got[1].Empty, day, 0.05)
}

func TestWaterYearBalances(t *testing.T) {
	crops := tables(t).Crops
	rapid.Check(t, func(r *rapid.T) {
		c := &crops[rapid.IntRange(0, len(crops)-1).Draw(r, "crop")]
		n := rapid.IntRange(30, 200).Draw(r, "days")
		rain, et0 := make([]float64, n), make([]float64, n)
		for i := range rain {
			rain[i] = rapid.SampledFrom([]float64{0, 0, 0, 1, 12, 40}).Draw(r, "rain")
			et0[i] = rapid.Float64Range(0.5, 8).Draw(r, "et0")
		}
		w := WaterYear(c, Ground{FieldCapacity: 0.25, Wilting: 0.12, Depth: 1}, 0, n, rain, et0, func(d int) int { return d / 31 % 12 })
		left := sum(w.ETc) - sum(w.Rain) - sum(w.Water) // what the soil lent
		if !(left >= -1e-9 && left <= 130*c.Roots+1e-9) {
			r.Fatalf("%s: ETc %g, rain %g, water %g", c.ID, sum(w.ETc), sum(w.Rain), sum(w.Water))
		}
		if sum(w.Rain) > floats(rain)+1e-9 {
			r.Fatal("more rain used than fell")
		}
	})
}

func TestMulchSavesWater(t *testing.T) {
	c, n := cropOf(t, "tomato"), 120
	rain, et0 := make([]float64, n), slices.Repeat([]float64{5}, n)
	g := Ground{FieldCapacity: 0.25, Wilting: 0.12, Depth: 1}
	bare := WaterYear(c, g, 0, n, rain, et0, func(int) int { return 0 })
	g.Mulched = true
	covered := WaterYear(c, g, 0, n, rain, et0, func(int) int { return 0 })
	if !(covered.ETc[0] < bare.ETc[0]) || covered.ETc[0] < 0.7*bare.ETc[0] {
		t.Errorf("ETc %g bare, %g mulched", bare.ETc[0], covered.ETc[0])
	}
}

func TestGreywaterOnSensitiveCrops(t *testing.T) {
	bean, beet := cropOf(t, "snap_bean"), cropOf(t, "beet")
	if a, b := GreywaterYield(bean, 1.5, 0.15), GreywaterYield(beet, 1.5, 0.15); !(a < b && b == 1) {
		t.Errorf("beans %g, beets %g in water of 1.5 dS/m", a, b)
	}
	if got := GreywaterYield(&data.Crop{}, 9, 0.15); got != 1 {
		t.Errorf("tolerance not known: %g", got)
	}
}

func sum(v [12]float64) float64 { return floats(v[:]) }

func floats(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}
