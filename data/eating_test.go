package data

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestEatingIsSane(t *testing.T) {
	tab := loaded(t)
	all := map[string]float64{}
	used := map[string]bool{}
	for _, f := range tab.Foods {
		used[f.Category] = true
	}
	for _, e := range tab.Eating {
		if !used[e.Category] {
			t.Errorf("%s: no food of that category", e.Category)
		}
		if e.Cap <= 0 || e.Cap > e.CapAll || e.CapAll > 1.5 || e.Heat < 0 || e.Heat > 6 {
			t.Errorf("%+v out of range", e)
		}
		if c, ok := all[e.Class]; ok && c != e.CapAll {
			t.Errorf("class %s has caps %g and %g", e.Class, c, e.CapAll)
		}
		all[e.Class] = e.CapAll
		if _, ok := tab.Retention(e.Retain); !ok && e.Retain != "" {
			t.Errorf("%s: no retention %q", e.Category, e.Retain)
		}
		if e.Source == "" || formsOf[e.Class] == "" {
			t.Errorf("%s: class %q, source %q", e.Category, e.Class, e.Source)
		}
	}
}

// One person's usual helpings take 1.5-3 MJ of useful heat a day with hot
// drinks (from memory); the food alone must stay below that.
func TestADaysCookingHeat(t *testing.T) {
	tab := loaded(t)
	var heat float64
	for category, kg := range map[string]float64{"grain": 0.30, "pulse": 0.12, "staple_root": 0.40, "leaf": 0.25, "root": 0.20, "egg": 0.05} {
		e, ok := tab.Eaten(category)
		if !ok {
			t.Fatal(category)
		}
		heat += kg * e.Heat
	}
	if heat < 0.8 || heat > 3 {
		t.Errorf("a day's helpings take %.2f MJ", heat)
	}
}

func TestPutUpIsSane(t *testing.T) {
	tab := loaded(t)
	for _, p := range tab.PutUp {
		_, food := tab.Food(p.Class)
		if !food && formsOf[p.Class] == "" {
			t.Errorf("%s is neither food nor class", p.Class)
		}
		if p.MassOut <= 0 || p.MassOut > 1 || (p.MassOut < 1) != (p.Method == "dried") {
			t.Errorf("%s %s: mass out %g", p.Class, p.Method, p.MassOut)
		}
		if p.Hours <= 0 || p.Hours > 1 || p.Heat < 0 || p.Heat > 4 || p.Litres < 1 || p.Litres > 10 || p.Water < 0 || p.Salt < 0 || p.Salt > 0.1 || p.Rank < 1 {
			t.Errorf("%+v out of range", p)
		}
		if (p.Method == "fermented") != (p.Salt > 0) {
			t.Errorf("%s %s: salt %g", p.Class, p.Method, p.Salt)
		}
	}
}

func TestPutUpKeeps(t *testing.T) {
	tab := loaded(t)
	for i := range tab.Foods {
		f := &tab.Foods[i]
		last := 0
		for _, p := range tab.PutUps(f) {
			if len(tab.KeepingOf(f, p.Method)) == 0 {
				t.Errorf("%s %s: put up but no life", f.ID, p.Method)
			}
			if p.Rank < last {
				t.Errorf("%s: ranks out of order", f.ID)
			}
			last = p.Rank
		}
	}
}

// Low-acid food goes into jars under pressure only, tomato with acid,
// and food without a tested process not at all.
func TestJarsAreSafe(t *testing.T) {
	tab := loaded(t)
	jar := func(id string) string {
		for _, p := range tab.PutUps(mustFood(t, tab, id)) {
			if p.Method == "jarred" {
				return p.Source
			}
		}
		return ""
	}
	for id, word := range map[string]string{
		"carrot": "pressure", "potato": "pressure", "collards": "pressure", "snap_bean": "pressure", "pumpkin": "cubes only",
		"tomato": "acidify", "pear": "boiling water", "blackberry": "boiling water",
	} {
		if !strings.Contains(jar(id), word) {
			t.Errorf("%s in jars: %q does not say %q", id, jar(id), word)
		}
	}
	for _, id := range strings.Fields("fig apricot strawberry grape_american cantaloupe banana papaya persimmon_japanese elderberry zucchini cabbage eggplant lettuce_leaf egg_hen venison") {
		if jar(id) != "" {
			t.Errorf("%s in jars: no tested process, but %q", id, jar(id))
		}
	}
}

func TestFoodRowStandsBeforeClass(t *testing.T) {
	tab := loaded(t)
	var methods []string
	for _, p := range tab.PutUps(mustFood(t, tab, "tomato")) {
		methods = append(methods, p.Method)
		if p.Method == "frozen" && p.Class != "tomato" {
			t.Errorf("frozen tomato by %s", p.Class)
		}
	}
	if want := []string{"jarred", "dried", "fermented", "frozen"}; !slices.Equal(methods, want) {
		t.Errorf("tomato is put up %v", methods)
	}
}

func TestFoodForm(t *testing.T) {
	tab := loaded(t)
	for _, c := range []struct {
		food, form, row string
		factor, tol     float64
	}{
		{"apple", "dried", "apple_dried", 1, 0},
		{"tomato", "dried", "tomato_sundried", 1, 0},
		{"cabbage", "fermented", "sauerkraut", 1, 0},
		{"grape_american", "dried", "grape_american", 4.3, 0.05}, // 81.3 % water to 20 %
		{"plum", "dried", "plum", 6.3, 0.05},                     // 87.2 % to 20 %
		{"carrot", "jarred", "carrot", 1, 0},
		{"carrot", "frozen", "carrot", 1, 0},
		{"walnut_english", "dry", "walnut_english", 1, 0},
		{"honey", "dried", "honey", 1, 0},
		{"apple_dried", "dried", "apple_dried", 1, 0},
	} {
		row, factor := tab.FoodForm(mustFood(t, tab, c.food), c.form)
		if row.ID != c.row || math.Abs(factor-c.factor) > c.tol {
			t.Errorf("%s %s = %s x %g, want %s x %g", c.food, c.form, row.ID, factor, c.row, c.factor)
		}
	}
}

// Drying neither makes nor loses dry matter, for every food.
func TestDryMatterIsKept(t *testing.T) {
	tab := loaded(t)
	for i := range tab.Foods {
		f := &tab.Foods[i]
		row, factor := tab.FoodForm(f, "dried")
		in, out := 1-f.Water, tab.MassOut(f, "dried")
		if row != f {
			factor = 1
		}
		if got := out * factor * (1 - row.Water); math.Abs(got-in) > 1e-9 {
			t.Errorf("%s: %.4f kg of dry matter in, %.4f out", f.ID, in, got)
		}
	}
}

// The class's mass ratio is the middle of its foods'.
func TestClassMassOut(t *testing.T) {
	tab := loaded(t)
	for _, p := range tab.PutUp {
		var outs []float64
		for i := range tab.Foods {
			if f := &tab.Foods[i]; tab.class(f) == p.Class || f.ID == p.Class {
				outs = append(outs, tab.MassOut(f, p.Method))
			}
		}
		slices.Sort(outs)
		if m := outs[len(outs)/2]; math.Abs(p.MassOut/m-1) > 0.25 {
			t.Errorf("%s %s: %g kg/kg, its foods' middle is %.3f", p.Class, p.Method, p.MassOut, m)
		}
	}
}

func TestRetentionIsSane(t *testing.T) {
	tab := loaded(t)
	seen := map[string]bool{}
	for _, r := range tab.Retentions {
		name := r.Group + "/" + r.Method
		if seen[name] {
			t.Errorf("%s stands twice", name)
		}
		seen[name] = true
		if r.Group != "preserved" && len(r.Kept) < 16 {
			t.Errorf("%s: %d factors", name, len(r.Kept))
		}
		for id, v := range r.Kept {
			if v < 0 || v > 1 || tab.NutrientIndex(id) < 0 {
				t.Errorf("%s: %s kept %g", name, id, v)
			}
		}
	}
	if len(seen) != 206 {
		t.Errorf("%d rows, want the 202 printed and four ways of preserving", len(seen))
	}
	if _, ok := tab.Retention("liver/reheated"); !ok {
		t.Error("liver/reheated is missing")
	}
	for _, form := range []string{"dried", "jarred", "frozen", "fermented"} {
		if !seen["preserved/"+form] {
			t.Errorf("no losses for %s", form)
		}
	}
}
