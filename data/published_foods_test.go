package data

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

type publishedFood struct {
	source, name   string
	got, want, tol float64
}

func TestPublishedFoods(t *testing.T) {
	tab := loaded(t)
	cases := slices.Concat(stapleCases(t, tab), foodCases(t, tab), targetCases(t, tab), keptCases(t, tab), ratioCases(t, tab), crosscheckCases(t))
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.5g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// stapleCases are the table "one staple at 2,400 kcal a day": what a person
// eats and gets who lives on one crop alone. Tolerances are half the last
// printed digit.
func stapleCases(t *testing.T, tab *Tables) []publishedFood {
	const source = "USDA SR27 2014, one staple at 2,400 kcal (computed)"
	rows := []struct {
		id                                                            string
		edible, bought, protein, fatPct, ca, iron, zinc, a, c, sodium float64
	}{
		{"breadfruit", 2330, 2987, 25, 2, 396, 12.6, 2.8, 0, 676, 47},
		{"cassava", 1500, 1786, 20, 2, 240, 4.0, 5.1, 15, 309, 210},
		{"bean_kidney", 721, 721, 170, 2, 1031, 59.1, 20.1, 0, 32, 173},
		{"lentil", 682, 682, 168, 3, 239, 44.4, 22.3, 14, 31, 41},
		{"maize_yellow", 658, 658, 62, 12, 46, 17.8, 14.5, 72, 0, 230},
		{"oats", 617, 617, 104, 16, 333, 29.1, 24.5, 0, 0, 12},
		{"plantain", 1967, 3026, 26, 3, 59, 11.8, 2.8, 1102, 362, 79},
		{"potato", 3117, 4156, 63, 1, 374, 24.3, 9.0, 0, 614, 187},
		{"rice_brown", 649, 649, 52, 7, 149, 9.5, 13.1, 0, 0, 45},
		{"sweet_potato", 2791, 3876, 44, 1, 837, 17.0, 8.4, 19786, 67, 1535},
		{"wheat_hard_red_winter", 734, 734, 93, 4, 213, 23.4, 19.4, 0, 0, 15},
	}
	var out []publishedFood
	for _, r := range rows {
		f := mustFood(t, tab, r.id)
		per := func(id string) float64 { return f.Nutrient[tab.NutrientIndex(id)] }
		kg := 2400 * mjPerKcal / per("energy_mj")
		add := func(name string, got, want, tol float64) {
			out = append(out, publishedFood{source, r.id + " " + name, got, want, tol})
		}
		add("g edible", kg*1000, r.edible, 0.51)
		add("g bought", kg*1000/(1-f.Refuse), r.bought, 0.51)
		add("protein g", kg*per("protein_g"), r.protein, 0.51)
		add("fat % energy", kg*per("fat_g")*9/24, r.fatPct, 0.8) // fat factors 8.3-9 by food
		add("calcium mg", kg*per("calcium_mg"), r.ca, 0.51)
		add("iron mg", kg*per("iron_mg"), r.iron, 0.051)
		add("zinc mg", kg*per("zinc_mg"), r.zinc, 0.051)
		add("vitamin A ug", kg*per("vit_a_rae_ug"), r.a, 0.51)
		add("vitamin C mg", kg*per("vit_c_mg"), r.c, 0.51)
		add("sodium mg", kg*per("sodium_mg"), r.sodium, 0.51)
	}
	return out
}

func foodCases(t *testing.T, tab *Tables) []publishedFood {
	per100 := func(food, nutrient string) float64 {
		return mustFood(t, tab, food).Nutrient[tab.NutrientIndex(nutrient)] / 10
	}
	const ne = "IOM 1998 DRI B vitamins p. 28, mg NE per 100 g (computed)"
	const sr = "USDA SR27 2014, per 100 g"
	return []publishedFood{
		{ne, "lentil", per100("lentil", "niacin_ne_mg"), 6.5, 0.05},
		{ne, "egg_hen", per100("egg_hen", "niacin_ne_mg"), 2.9, 0.05},
		{"USDA SR27 2014, 1 g of salt", "sodium mg", per100("salt", "sodium_mg") / 100, 388, 0.5},
		{"Linus Pauling Institute, iodised salt, low figure", "iodine ug/g", per100("salt_iodised", "iodine_ug") / 100, 47.5, 0.05},
		{sr, "maitake vitamin D", per100("maitake", "vit_d_ug"), 28, 0.5},
		{sr, "portabella under UV vitamin D", per100("portabella_uv", "vit_d_ug"), 11, 0.5},
		{sr, "chanterelle vitamin D", per100("chanterelle", "vit_d_ug"), 5.3, 0.05},
		{sr, "egg vitamin D", per100("egg_hen", "vit_d_ug"), 2.0, 0.05},
		{sr, "venison B12", per100("venison", "vit_b12_ug"), 6.3, 0.05},
		{sr, "herring B12", per100("herring_atlantic", "vit_b12_ug"), 13.7, 0.05},
		{sr, "duck egg B12", per100("egg_duck", "vit_b12_ug"), 5.4, 0.05},
		{sr, "goat milk B12", per100("milk_goat", "vit_b12_ug"), 0.07, 0.005},
		{sr, "butternut energy kcal", per100("squash_butternut", "energy_mj") / mjPerKcal, 45, 0.01},
		{"USDA SR26 2013, per 100 g", "chickpea manganese", per100("chickpea", "manganese_mg"), 2.204, 0.0005},
	}
}

func targetCases(t *testing.T, tab *Tables) []publishedFood {
	at := func(stage, nutrient string) Requirement {
		for _, r := range tab.Requirements {
			if r.LifeStage == stage && r.Nutrient == nutrient {
				return r
			}
		}
		t.Fatalf("no requirement %s %s", stage, nutrient)
		return Requirement{}
	}
	const iom, nasem = "IOM DRI summary tables 1997-2011", "NASEM DRI elements 2019, table J-3"
	return []publishedFood{
		{iom, "woman 31-50 vitamin C", at("female_31-50", "vit_c_mg").Target, 75, 0.5},
		{iom, "man 31-50 vitamin C", at("male_31-50", "vit_c_mg").Target, 90, 0.5},
		{iom, "man 31-50 niacin", at("male_31-50", "niacin_ne_mg").Target, 16, 0.5},
		{iom, "pregnant folate", at("pregnant_19-30", "folate_dfe_ug").Target, 600, 0.5},
		{iom, "woman 31-50 B12", at("female_31-50", "vit_b12_ug").Target, 2.4, 0.05},
		{iom, "over 70 vitamin D", at("male_71+", "vit_d_ug").Target, 20, 0.5},
		{nasem, "woman 31-50 iron", at("female_31-50", "iron_mg").Target, 18, 0.5},
		{nasem, "man 31-50 zinc", at("male_31-50", "zinc_mg").Target, 11, 0.5},
		{nasem, "adult iodine limit", at("female_31-50", "iodine_ug").Upper, 1100, 0.5},
		{nasem, "adult manganese limit", at("male_31-50", "manganese_mg").Upper, 11, 0.5},
		{"NASEM 2019 sodium and potassium", "adult sodium AI", at("male_31-50", "sodium_mg").Target, 1500, 0.5},
		{"NASEM 2019 sodium and potassium", "adult sodium CDRR", at("male_31-50", "sodium_mg").Upper, 2300, 0.5},
		{"IOM 2005 AMDR", "adult fat low", at("female_31-50", "fat_energy_pct").Target, 20, 0.5},
		{"IOM 2005 AMDR", "adult fat high", at("female_31-50", "fat_energy_pct").Upper, 35, 0.5},
		{"IOM 2005 macronutrients", "man linoleic", at("male_31-50", "linoleic_g").Target, 17, 0.5},
		{"IOM 2005 macronutrients", "woman alpha-linolenic", at("female_31-50", "alpha_linolenic_g").Target, 1.1, 0.05},
	}
}

func keptCases(t *testing.T, tab *Tables) []publishedFood {
	rows := []struct {
		code, name            string
		c, thiamin, folate, k float64
	}{
		{"0105", "egg/hard_cooked", 80, 85, 75, 100},
		{"0155", "fruit/stewed", 70, 80, 50, 90},
		{"0301", "meal/baked", 80, 80, 70, 100},
		{"0432", "rice/cooked_water_used", 80, 80, 70, 95},
		{"0542", "pulse_slow/boiled_water_used", 70, 45, 35, 70},
		{"3004", "greens/boiled_little_water", 60, 85, 65, 90},
		{"3005", "greens/boiled_covered", 55, 80, 60, 85},
		{"3307", "potato/boiled_in_skin", 75, 80, 90, 90},
		{"3454", "roots/boiled_little_water", 70, 85, 70, 90},
		{"3774", "vegetables/boiled_little_water", 80, 85, 70, 90},
	}
	var out []publishedFood
	for _, r := range rows {
		kept, ok := tab.Retention(r.name)
		if !ok {
			t.Fatalf("no retention %s", r.name)
		}
		source := "USDA retention factors release 6 2007, code " + r.code + ", %"
		for id, want := range map[string]float64{"vit_c_mg": r.c, "thiamin_mg": r.thiamin, "folate_dfe_ug": r.folate, "potassium_mg": r.k} {
			out = append(out, publishedFood{source, id, kept.Kept[id] * 100, want, 0.5})
		}
	}
	return out
}

func ratioCases(t *testing.T, tab *Tables) []publishedFood {
	var out []publishedFood
	for id, want := range map[string]float64{"apple": 0.212, "apricot": 0.198, "fig": 0.299, "tomato": 0.064, "shiitake": 0.113, "acorn": 0.759} {
		got := tab.MassOut(mustFood(t, tab, id), "dried")
		out = append(out, publishedFood{"USDA SR26 2013 water contents, dried mass ratio (computed)", id, got, want, 0.0006})
	}
	carrots := 1 / tab.MassOut(mustFood(t, tab, "carrot"), "dried")
	return append(out, publishedFood{"NCHFP drying, carrots dried to 10 % (computed)", "kg fresh per kg dry", carrots, 7.5, 0.3})
}

// crosscheckCases compares medians with a second country's tables.
func crosscheckCases(t *testing.T) []publishedFood {
	var out []publishedFood
	for id, ratios := range crosscheck(t) {
		name := fmt.Sprintf("%s over %d foods", id, len(ratios))
		out = append(out, publishedFood{"IFCT 2017 over USDA SR27, median ratio (computed)", name, middle(ratios), ifctBands[id].median, 0.0101})
	}
	return out
}

func mustFood(tb testing.TB, tab *Tables, id string) *Food {
	tb.Helper()
	f, ok := tab.Food(id)
	if !ok {
		tb.Fatalf("no food %s", id)
	}
	return f
}
