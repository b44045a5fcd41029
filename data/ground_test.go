package data

import (
	"errors"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

func rowsFor[T any](t *testing.T, read func() ([]T, error), least int) []T {
	t.Helper()
	rows, err := read()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < least {
		t.Fatalf("%d rows, want at least %d", len(rows), least)
	}
	return rows
}

// unique fails on an id given twice.
func unique[T any](t *testing.T, rows []T, id func(T) string) {
	t.Helper()
	seen := map[string]bool{}
	for _, r := range rows {
		if seen[id(r)] {
			t.Errorf("%s stands twice", id(r))
		}
		seen[id(r)] = true
	}
}

// rising fails unless the values rise or stay, in order.
func rising(t *testing.T, id, what string, v ...float64) {
	t.Helper()
	for i := 1; i < len(v); i++ {
		if !(v[i-1] <= v[i]) {
			t.Errorf("%s: %s out of order: %v", id, what, v)
			return
		}
	}
}

// within fails unless v lies from lo to hi; NaN fails.
func within(t *testing.T, id, what string, v, lo, hi float64) {
	t.Helper()
	if !(v >= lo && v <= hi) {
		t.Errorf("%s: %s is %v, want %v to %v", id, what, v, lo, hi)
	}
}

func foodIDs(t *testing.T) map[string]bool {
	t.Helper()
	f, err := open("foods.csv")
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	for _, r := range f.rows {
		ids[r.must("id")] = true
	}
	if err := f.err(); err != nil {
		t.Fatal(err)
	}
	return ids
}

func TestCropsJoinFoods(t *testing.T) {
	foods := foodIDs(t)
	crops := rowsFor(t, loadCrops, 105)
	unique(t, crops, func(c Crop) string { return c.ID })
	for _, c := range crops {
		if (c.Food == "") != (c.Form == "cover") {
			t.Errorf("%s: form %s with food %q; only cover crops have none", c.ID, c.Form, c.Food)
		}
		if c.Food != "" && !foods[c.Food] {
			t.Errorf("%s: food %q is not in foods.csv", c.ID, c.Food)
		}
		if c.Source == "" || c.Note == "" {
			t.Errorf("%s: no source or note", c.ID)
		}
	}
}

func TestCropClimate(t *testing.T) {
	for _, c := range rowsFor(t, loadCrops, 105) {
		rising(t, c.ID, "temperatures", c.TAbsLo, c.TOptLo, c.TOptHi, c.TAbsHi)
		rising(t, c.ID, "killing frost", c.KillHardened, c.KillGrowing)
		within(t, c.ID, "base temperature", c.TBase, 0, 16)
		within(t, c.ID, "killing frost", c.KillGrowing, -6, 0)
		within(t, c.ID, "killing frost hardened", c.KillHardened, -35, 0)
		within(t, c.ID, "frost class", float64(c.Tender), 0, 4)
		within(t, c.ID, "soil for sowing", c.SoilSow, 0, 25)
		if !math.IsNaN(c.TUpper) {
			within(t, c.ID, "upper limit", c.TUpper, c.TBase+10, 35)
		}
		if !math.IsNaN(c.HeatLimit) {
			within(t, c.ID, "heat limit", c.HeatLimit, 24, 38)
		}
	}
}

func TestCropTimes(t *testing.T) {
	for _, c := range rowsFor(t, loadCrops, 105) {
		within(t, c.ID, "harvest span", c.HarvestSpan, 1, 365)
		if c.HarvestFrom == 0 {
			within(t, c.ID, "days to first harvest", c.DaysFirst, 20, 365)
			rising(t, c.ID, "days to first harvest", c.DaysFirst, c.DaysFirstHi)
			if c.BearFrom != 0 || c.BearFull != 0 || c.HarvestTo != 0 {
				t.Errorf("%s: an annual with bearing years or a last month", c.ID)
			}
			continue
		}
		if c.DaysFirst != 0 || c.HarvestTo == 0 {
			t.Errorf("%s: a perennial needs two months and no days", c.ID)
		}
		rising(t, c.ID, "bearing years", 0.5, c.BearFrom, c.BearFull, 20)
		if slices.Contains([]string{"annual", "biennial", "cover"}, c.Form) {
			t.Errorf("%s: %s with harvest months", c.ID, c.Form)
		}
	}
}

// TestDegreeDaysTimeTheHarvest checks that the thermal time over the days in
// the table means a season no warmer than the crop likes.
func TestDegreeDaysTimeTheHarvest(t *testing.T) {
	for _, c := range rowsFor(t, loadCrops, 105) {
		if math.IsNaN(c.GDD) {
			continue
		}
		within(t, c.ID, "mean warmth of the season", c.TBase+c.GDD/c.DaysFirstHi, 4, c.TOptHi)
	}
}

func TestCropYields(t *testing.T) {
	keeps := []string{"dry", "cellar", "fresh"}
	for _, c := range rowsFor(t, loadCrops, 105) {
		rising(t, c.ID, "yield", 0.01, c.YieldLo, c.YieldTyp, c.YieldHi, 10)
		if c.Form != "cover" {
			within(t, c.ID, "edible fraction", c.EdibleFraction, 0.3, 1)
		}
		within(t, c.ID, "plants per m2", c.PlantsM2, 0.004, 300)
		within(t, c.ID, "N", c.N, 0.3, 70)
		within(t, c.ID, "P", c.P, 0.05, 7)
		within(t, c.ID, "K", c.K, 0.5, 35)
		within(t, c.ID, "fixed share", c.Fixed, 0, 0.8)
		within(t, c.ID, "nitrogen in harvest", c.HarvestN, 0.25, 0.95)
		within(t, c.ID, "residue", c.Residue, 0, 5)
		within(t, c.ID, "picking", c.PickMinKg, 0.2, 30)
		if !slices.Contains(keeps, c.Keeps) {
			t.Errorf("%s keeps %q", c.ID, c.Keeps)
		}
		if c.Fixed > 0 && c.Family != "Fabaceae" {
			t.Errorf("%s of the %s fixes nitrogen", c.ID, c.Family)
		}
	}
}

func TestCropWater(t *testing.T) {
	for _, c := range rowsFor(t, loadCrops, 105) {
		within(t, c.ID, "Kc initial", c.KcIni, 0.2, 1.1)
		within(t, c.ID, "Kc mid", c.KcMid, 0.3, 1.3)
		within(t, c.ID, "Kc end", c.KcEnd, 0.2, 1.2)
		within(t, c.ID, "Ky", c.Ky, 0.6, 1.3)
		within(t, c.ID, "roots", c.Roots, 0.2, 2.2)
		within(t, c.ID, "depletion", c.Depletion, 0.15, 0.75)
		within(t, c.ID, "initial share", c.ShareIni, 0.05, 0.45)
		within(t, c.ID, "stages before the last", c.ShareIni+c.ShareDev+c.ShareMid, 0.6, 1)
	}
}

// TestWinterCrops checks that crops which stand through a mild winter survive
// it hardened at -4 °C.
func TestWinterCrops(t *testing.T) {
	crop := byID(t, loadCrops, func(c Crop) string { return c.ID })
	for _, id := range strings.Fields(`wheat_winter barley oats rye broad_bean pea_dry pea_green garlic onion kale
		collards chard cabbage broccoli carrot beet turnip leek spinach lettuce parsley strawberry jerusalem_artichoke
		walnut fig almond apple pear plum grape hazelnut mulberry`) {
		if k := crop(id).KillHardened; !(k < -4) {
			t.Errorf("%s dies hardened at %v °C", id, k)
		}
	}
	for _, id := range strings.Fields("tomato pepper_sweet eggplant zucchini winter_squash snap_bean") {
		if k := crop(id).KillHardened; k != 0 {
			t.Errorf("%s lives through frost down to %v °C", id, k)
		}
	}
}

// TestSteadNames checks the names that a described place uses most.
func TestSteadNames(t *testing.T) {
	crop := byID(t, loadCrops, func(c Crop) string { return c.ID })
	wild := byID(t, loadWild, func(w Wild) string { return w.ID })
	stock := byID(t, loadLivestock, func(l Livestock) string { return l.ID })
	soil := byID(t, loadSoils, func(s SoilTexture) string { return s.ID })
	roof := byID(t, loadRoofings, func(r Roofing) string { return r.ID })
	fuel := byID(t, loadFuels, func(f FuelRow) string { return f.ID })
	for _, id := range strings.Fields(`wheat_winter broad_bean barley oats chickpea pea_dry potato rye kale collards chard
		cabbage broccoli carrot beet turnip leek spinach onion garlic pea_green lettuce parsley winter_squash pepper_sweet
		eggplant zucchini snap_bean tomato jerusalem_artichoke strawberry walnut fig almond apple pear plum grape hazelnut mulberry`) {
		if crop(id).Food == "" {
			t.Errorf("%s has no food", id)
		}
	}
	for _, id := range strings.Fields("sweet_chestnut acorn blackberry_wild nettle dandelion purslane elderberry") {
		if w := wild(id); w.Food == "" || !(w.KgHour > 0) || !(w.Prep > 0) {
			t.Errorf("%s needs a food, a rate and a time of preparing: %+v", id, w)
		}
	}
	_, _, _, _ = stock("honey_bee_mild"), stock("hen_layer"), soil("loam"), roof("metal")
	for _, id := range []string{"wood", "bottle", "biogas", "sun", "electric"} {
		within(t, id, "efficiency", fuel(id).Efficiency, 0.05, 0.9)
	}
}

func TestWild(t *testing.T) {
	foods := foodIDs(t)
	rows := rowsFor(t, loadWild, 69)
	unique(t, rows, func(w Wild) string { return w.ID })
	excluded := 0
	for _, w := range rows {
		if w.Food != "" && !foods[w.Food] {
			t.Errorf("%s: food %q is not in foods.csv", w.ID, w.Food)
		}
		if w.Rule == Excluded {
			excluded++
			if w.KgHour != 0 || w.Food != "" || w.Hazard+w.Law == "" {
				t.Errorf("%s is excluded yet has a rate or food, or gives no reason", w.ID)
			}
			continue
		}
		if w.From == 0 || w.Lookalikes == "" || w.Preparation == "" || w.Law == "" {
			t.Errorf("%s lacks months, look-alikes, preparation or law", w.ID)
		}
		if !math.IsNaN(w.KgHour) {
			within(t, w.ID, "kg an hour", w.KgHour, 0.3, 50)
		}
		if !math.IsNaN(w.Prep) {
			within(t, w.ID, "hours per kg", w.Prep, 0.02, 5)
		}
	}
	if excluded != 7 {
		t.Errorf("%d rows excluded, want 7", excluded)
	}
}

func TestLivestock(t *testing.T) {
	foods := foodIDs(t)
	rows := rowsFor(t, loadLivestock, 17)
	unique(t, rows, func(l Livestock) string { return l.ID })
	for _, l := range rows {
		if !foods[l.Food] {
			t.Errorf("%s: food %q is not in foods.csv", l.ID, l.Food)
		}
		rising(t, l.ID, "yield", 0, l.YieldLo, l.Yield, l.YieldHi)
		within(t, l.ID, "kg per unit", l.UnitKg, 0.01, 1)
		within(t, l.ID, "hours", l.HoursWeek, 0.3, 5)
		within(t, l.ID, "water", l.Water, 0, 200)
		given, kept := l.FeedKg*l.FeedN/1000, l.N
		if kept > given {
			t.Errorf("%s: droppings hold %v kg N, feed only %v", l.ID, kept, given)
		}
	}
}

// TestHenNitrogen closes a hen's year: feed less eggs leaves what the droppings
// and losses share (computed; egg without shell 0.88 of mass, 12.6 % protein).
func TestHenNitrogen(t *testing.T) {
	hen := byID(t, loadLivestock, func(l Livestock) string { return l.ID })("hen_layer")
	eggs := hen.Yield * hen.UnitKg * 0.88 * 0.126 / 6.25
	share := hen.N / (hen.FeedKg*hen.FeedN/1000 - eggs)
	within(t, "hen_layer", "share of nitrogen kept in droppings", share, 0.6, 0.85)
}

func TestCompostMaterials(t *testing.T) {
	rows := rowsFor(t, loadCompostMaterials, 20)
	unique(t, rows, func(m CompostMaterial) string { return m.ID })
	for _, m := range rows {
		within(t, m.ID, "N", m.N, 0.0005, 0.2)
		within(t, m.ID, "C:N", m.CN, 0.5, 700)
		within(t, m.ID, "carbon of dry mass", m.N*m.CN, 0.1, 0.85)
		if !math.IsNaN(m.Moisture) {
			within(t, m.ID, "moisture", m.Moisture, 0.05, 0.98)
		}
		if !math.IsNaN(m.Bulk) {
			within(t, m.ID, "bulk", m.Bulk, 15, 1100)
		}
	}
}

func TestDigesterFeeds(t *testing.T) {
	rows := rowsFor(t, loadDigesterFeeds, 15)
	unique(t, rows, func(f DigesterFeed) string { return f.ID })
	for _, f := range rows {
		within(t, f.ID, "solids", f.TS, 0.04, 0.95)
		within(t, f.ID, "volatile share", f.VS, 0.6, 1)
		within(t, f.ID, "methane", f.B0, 0.05, 1.0)
		within(t, f.ID, "rate", f.K35, 0.02, 0.4)
		within(t, f.ID, "C:N", f.CN, 5, 100)
	}
}

func TestFuels(t *testing.T) {
	rows := rowsFor(t, loadFuels, 10)
	unique(t, rows, func(f FuelRow) string { return f.ID })
	for _, f := range rows {
		within(t, f.ID, "heat", f.MJ, 1, 50)
		within(t, f.ID, "efficiency", f.Efficiency, 0.05, 0.9)
	}
}

func TestRoofsAndSoils(t *testing.T) {
	for _, r := range rowsFor(t, loadRoofings, 10) {
		rising(t, r.ID, "coefficient", 0.05, r.Low, r.Coefficient, r.High, 1)
		if r.Caution == "" {
			t.Errorf("%s carries no caution", r.ID)
		}
	}
	for _, s := range rowsFor(t, loadSoils, 9) {
		within(t, s.ID, "water held", s.FieldCapacity-s.Wilting, 0.05, 0.20)
		rising(t, s.ID, "evaporable water", 2, s.REW, s.TEW, 30)
	}
}

func TestWorkMonths(t *testing.T) {
	hours := byID(t, loadWork, func(w Work) string { return w.Task })
	sum := 0.0
	for m := time.January; m <= time.December; m++ {
		h := hours("garden_" + strings.ToLower(m.String()[:3])).Hours
		within(t, m.String(), "h per m2", h, 0.005, 0.3)
		sum += h
	}
	within(t, "garden", "sum of months", hours("garden").Hours, sum-1e-4, sum+1e-4)
	for _, task := range []string{"hens", "hive", "digester", "cook", "toilet", "can_watering"} {
		if !(hours(task).Hours > 0) {
			t.Errorf("no hours for %s", task)
		}
	}
}

func TestGates(t *testing.T) {
	rows := rowsFor(t, loadGates, 20)
	unique(t, rows, func(g Gate) string { return g.ID })
	gate := byID(t, loadGates, func(g Gate) string { return g.ID })
	rising(t, "drum", "years", gate("drum_years_warm").Value, gate("drum_years_cool").Value)
	rising(t, "manure", "days", gate("manure_clear").Value, gate("manure_touch").Value)
	within(t, "hen litter", "days", gate("hen_litter_compost").Value, 90, 90)
}

func TestRowsNameTheBadCell(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"month", "m\n13\n", `x.csv line 2, m: 13 is not a month`},
		{"half month", "m\n1.5\n", `x.csv line 2, m: 1.5 is not a month`},
		{"no number", "m\nmay\n", `x.csv line 2, m: "may" is not a number`},
		{"no column", "n\n1\n", `x.csv line 2, m: no such column`},
	} {
		t.Run(c.name, func(t *testing.T) {
			tab, err := parse("x.csv", strings.NewReader(c.in))
			if err != nil {
				t.Fatal(err)
			}
			_, err = rowsOf(tab, func(r record) time.Month { return r.month("m") })
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

func TestWordRefusesOthers(t *testing.T) {
	tab, err := parse("x.csv", strings.NewReader("w\nsowing\nplanting\n"))
	if err != nil {
		t.Fatal(err)
	}
	words, err := rowsOf(tab, func(r record) string { return r.word("w", "sowing", "setting") })
	if err == nil || !strings.Contains(err.Error(), "line 3") || words != nil {
		t.Errorf("got %v, %v", words, err)
	}
}

func TestWildRefusesExcludedFood(t *testing.T) {
	in := "id,name,scientific,part,food,from,to,kg_hour,prep_h_kg,lookalikes,hazard,preparation,rule,law,source,from_memory,note\n" +
		"a,a,a,a,apple,4,,,,,,," + Excluded + ",,s,,\n"
	tab, err := parse("forage.csv", strings.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	_, err = rowsOf(tab, wild)
	for _, want := range []string{"must be empty", "needs both months"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

func TestReadRowsMissingTable(t *testing.T) {
	if _, err := readRows("none.csv", wild); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("got %v, want not exist", err)
	}
}

func FuzzRowsOf(f *testing.F) {
	f.Add("id,hours\na,1\n")
	f.Add("id,hours\na,1e400\n\"")
	f.Fuzz(func(t *testing.T, in string) {
		tab, err := parse("x.csv", strings.NewReader(in))
		if err != nil {
			return
		}
		rows, err := rowsOf(tab, func(r record) Crop { return crop(r) })
		if (err == nil) == (rows == nil) {
			t.Errorf("rows %v with error %v", rows, err)
		}
	})
}

func BenchmarkLoadCrops(b *testing.B) {
	for b.Loop() {
		if _, err := loadCrops(); err != nil {
			b.Fatal(err)
		}
	}
}
