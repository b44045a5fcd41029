package data

import (
	"cmp"
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func loaded(tb testing.TB) *Tables {
	tb.Helper()
	tab, err := Load()
	if err != nil {
		tb.Fatal(err)
	}
	return tab
}

func TestNutrients(t *testing.T) {
	tab := loaded(t)
	if tab.NutrientIndex("energy_mj") != 0 {
		t.Error("energy must come first")
	}
	if got := tab.NutrientIndex("ozone_mg"); got != -1 {
		t.Errorf("unknown nutrient has index %d, want -1", got)
	}
	seen := map[string]bool{}
	for _, n := range tab.Nutrients {
		if seen[n.ID] {
			t.Errorf("%s stands twice", n.ID)
		}
		seen[n.ID] = true
		unit := strings.Map(func(r rune) rune {
			if r == 'µ' {
				return 'u'
			}
			return r
		}, strings.ToLower(strings.Fields(n.Unit)[0]))
		if !strings.HasSuffix(n.ID, "_"+unit) {
			t.Errorf("%s is counted in %s", n.ID, n.Unit)
		}
	}
}

func TestFoodsAreSane(t *testing.T) {
	tab := loaded(t)
	seen := map[string]bool{}
	for i := range tab.Foods {
		f := &tab.Foods[i]
		if seen[f.ID] {
			t.Errorf("%s stands twice", f.ID)
		}
		seen[f.ID] = true
		if _, ok := tab.Eaten(f.Category); !ok {
			t.Errorf("%s: category %s is not in eating.csv", f.ID, f.Category)
		}
		if f.Refuse < 0 || f.Refuse >= 0.9 || f.Water < 0 || f.Water >= 1 {
			t.Errorf("%s: refuse %g, water %g", f.ID, f.Refuse, f.Water)
		}
		for j, v := range f.Nutrient {
			if v < 0 {
				t.Errorf("%s: %s is %g", f.ID, tab.Nutrients[j].ID, v)
			}
		}
		proximates(t, tab, f)
	}
	if len(seen) != 282 {
		t.Errorf("%d foods, want the 281 of the source and iodised salt", len(seen))
	}
}

// ownFactors are foods the source counts with energy factors of their own,
// vinegar, whose energy is acid, and one set down for its inulin.
var ownFactors = strings.Fields("watercress pumpkin_leaves lemon vinegar_cider jerusalem_artichoke")

func proximates(t *testing.T, tab *Tables, f *Food) {
	t.Helper()
	per := func(id string) float64 { return f.Nutrient[tab.NutrientIndex(id)] }
	protein, fat, carb := per("protein_g"), per("fat_g"), per("carbohydrate_g")
	sum := f.Water*1000 + protein + fat + carb
	if f.Category != "salt" && (sum < 850 || sum > 1006) { // the rest is ash, up to 13 % in miso
		t.Errorf("%s: water, protein, fat and carbohydrate make %.0f g of a kg", f.ID, sum)
	}
	if fibre := per("fibre_g"); fibre > carb {
		t.Errorf("%s: fibre %g over carbohydrate %g", f.ID, fibre, carb)
	}
	if acids := orZero(per("linoleic_g")) + orZero(per("alpha_linolenic_g")); acids > fat*1.001 {
		t.Errorf("%s: fatty acids %g over fat %g", f.ID, acids, fat)
	}
	atwater := (4*protein + 9*fat + 4*carb) * mjPerKcal
	if e := per("energy_mj"); e > 0.5 && !slices.Contains(ownFactors, f.ID) && math.Abs(e/atwater-1) > 0.25 {
		t.Errorf("%s: energy %.2f MJ/kg, 4-9-4 gives %.2f", f.ID, e, atwater)
	}
}

func orZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// A blank of the source must stay unknown: these are its counts of blanks.
func TestBlanksAreNotZero(t *testing.T) {
	tab := loaded(t)
	blanks := map[string]int{
		"choline_mg": 85, "vit_k_ug": 71, "vit_e_mg": 70, "alpha_linolenic_g": 41, "linoleic_g": 35,
		"vit_d_ug": 37, "fibre_g": 26, "selenium_ug": 25, "manganese_mg": 21, "folate_dfe_ug": 18,
		"iodine_ug": 281, "energy_mj": 0, "protein_g": 0,
	}
	for id, want := range blanks {
		i, got := tab.NutrientIndex(id), 0
		for _, f := range tab.Foods {
			if math.IsNaN(f.Nutrient[i]) {
				got++
			}
		}
		if got != want {
			t.Errorf("%s: %d unknown, want %d", id, got, want)
		}
	}
}

func TestReviewedCells(t *testing.T) {
	tab := loaded(t)
	for _, c := range []struct {
		food, nutrient string
		per100g        float64
	}{
		{"lentil", "magnesium_mg", 105}, {"lentil", "selenium_ug", 8}, {"split_pea", "magnesium_mg", 107},
		{"chickpea", "calcium_mg", 105}, {"chickpea", "magnesium_mg", 115}, {"chickpea", "selenium_ug", 8},
		{"bean_navy", "fibre_g", 15.3},
	} {
		f := mustFood(t, tab, c.food)
		if got := f.Nutrient[tab.NutrientIndex(c.nutrient)]; math.Abs(got-10*c.per100g) > 1e-9 || f.Note == "" {
			t.Errorf("%s %s = %g per kg, note %q", c.food, c.nutrient, got, f.Note)
		}
	}
	if kcal := mustFood(t, tab, "jerusalem_artichoke").Nutrient[0] / mjPerKcal / 10; math.Abs(kcal-40) > 1e-9 {
		t.Errorf("jerusalem artichoke %g kcal, want the digestible 40", kcal)
	}
}

func TestNiacinEquivalents(t *testing.T) {
	for _, c := range []struct{ niacin, tryptophan, want float64 }{
		{2, 0.06, 3}, {2, math.NaN(), 2}, {0, 0.6, 10},
	} {
		if got := NiacinEquivalents(c.niacin, c.tryptophan); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("NiacinEquivalents(%g, %g) = %g, want %g", c.niacin, c.tryptophan, got, c.want)
		}
	}
	if !math.IsNaN(NiacinEquivalents(math.NaN(), 0.1)) {
		t.Error("unknown niacin must stay unknown")
	}
}

// ifctBands are the printed median and 10th and 90th percentile of the ratio
// of the Indian to the American figure over 33 foods.
var ifctBands = map[string]struct{ median, lo, hi float64 }{
	"calcium_mg": {1.01, 0.59, 1.53}, "energy_kcal": {0.92, 0.71, 1.16}, "fat_g": {0.97, 0.60, 1.96},
	"fibre_g": {1.27, 0.80, 2.16}, "folate_dfe_ug": {0.95, 0.38, 1.42}, "iron_mg": {1.08, 0.57, 2.00},
	"magnesium_mg": {1.10, 0.69, 1.45}, "niacin_mg": {0.85, 0.46, 1.08}, "phosphorus_mg": {0.94, 0.67, 1.23},
	"potassium_mg": {0.94, 0.81, 1.12}, "protein_g": {0.98, 0.76, 1.15}, "riboflavin_mg": {0.80, 0.27, 1.30},
	"thiamin_mg": {0.71, 0.34, 1.17}, "vit_c_mg": {0.89, 0.41, 1.93}, "water_g": {0.99, 0.79, 1.07},
	"zinc_mg": {0.97, 0.53, 1.17},
}

type ratio struct {
	food  string
	value float64
}

// crosscheck returns the ratios of a second country's figures to ours by the
// columns of foods.csv, in rising order, where both are above zero.
func crosscheck(tb testing.TB) map[string][]ratio {
	tb.Helper()
	f, err := os.Open("testdata/ifct_crosscheck.csv")
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		tb.Fatal(err)
	}
	ours := foodCells(tb)
	out := map[string][]ratio{}
	for _, row := range rows[1:] {
		theirs, err := strconv.ParseFloat(row[4], 64)
		if err != nil {
			tb.Fatal(err)
		}
		if v := ours[row[0]].opt(row[3]); v > 0 && theirs > 0 {
			out[row[3]] = append(out[row[3]], ratio{row[0], theirs / v})
		}
	}
	for _, r := range out {
		slices.SortFunc(r, func(a, b ratio) int { return cmp.Compare(a.value, b.value) })
	}
	return out
}

func foodCells(tb testing.TB) map[string]record {
	tb.Helper()
	t, err := open("foods.csv")
	if err != nil {
		tb.Fatal(err)
	}
	out := map[string]record{}
	for _, r := range t.rows {
		out[r.str("id")] = r
	}
	return out
}

// middle is the median, the upper one of an even number.
func middle(r []ratio) float64 { return r[len(r)/2].value }

func TestSecondCountryAgrees(t *testing.T) {
	for id, ratios := range crosscheck(t) {
		band := ifctBands[id]
		var outside []ratio
		for _, r := range ratios {
			if r.value < band.lo*0.99 || r.value > band.hi*1.01 {
				outside = append(outside, r)
			}
		}
		t.Logf("%s, %d of %d outside %g-%g: %v", id, len(outside), len(ratios), band.lo, band.hi, outside)
		if share := float64(len(outside)) / float64(len(ratios)); share > 0.22 {
			t.Errorf("%s: %.0f %% of foods outside the band that holds 80 %%", id, share*100)
		}
		if first, last := ratios[0], ratios[len(ratios)-1]; first.value < 0.1 || last.value > 8 {
			t.Errorf("%s: %v to %v: a misplaced point?", id, first, last)
		}
	}
}

func FuzzFoods(f *testing.F) {
	f.Add("id,name,category,ndb,refuse_pct,water_g,energy_kcal,source,note\na,A,root,1,,80,,S,\n")
	f.Add("id\n\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		tab, err := parse("foods.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		foods, err := readFoods(tab, []Nutrient{{ID: "energy_mj"}})
		for _, food := range foods {
			if err == nil && (food.ID == "" || math.IsNaN(food.Water)) {
				t.Errorf("accepted %+v", food)
			}
		}
	})
}

func TestBadCellSaysWhere(t *testing.T) {
	tab, err := parse("foods.csv", strings.NewReader("id,name,category,ndb,refuse_pct,water_g,energy_kcal,source,note\na,A,root,1,,wet,,S,\n"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = readFoods(tab, []Nutrient{{ID: "energy_mj"}})
	if err == nil || !strings.Contains(err.Error(), "foods.csv line 2, water_g") {
		t.Errorf("error %v does not name file, line and column", err)
	}
}
