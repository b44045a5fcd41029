package diet

import (
	"math"
	"testing"

	"evenstead/data"
)

// menu adds up a day's food, g of each, and returns its kcal and g of protein, fat
// and carbohydrate.
func menu(t *testing.T, grams map[string]float64) (kcals, protein, fat, carbohydrate float64) {
	t.Helper()
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	in := NewIntake(len(tab.Nutrients))
	for id, g := range grams {
		f, ok := tab.Food(id)
		if !ok {
			t.Fatalf("no food %s", id)
		}
		in.Add(g/1000, f.Nutrient)
	}
	at := func(id string) float64 { return in.Amount[tab.NutrientIndex(id)] }
	return at("energy_mj") / kcal, at("protein_g"), at("fat_g"), at("carbohydrate_g")
}

// TestPublishedMenus holds days whose totals are printed to the same nutrient code
// that the outlook uses. The ration's foods are named only by their group, so its
// maize, lentils and sunflower oil stand for any cereal, pulse and oil.
func TestPublishedMenus(t *testing.T) {
	const blend = 50.0 / 0.935 // of 64 parts maize, 24 soya and 5.5 oil (from memory)
	kcals, protein, fat, _ := menu(t, map[string]float64{"cornmeal_whole": 400 + 0.64*blend, "lentil": 60, "sunflower_oil": 25 + 0.055*blend,
		"soybean": 0.24 * blend, "sugar": 15, "salt": 5})
	ration := Shares(kcals*kcal, protein, fat, 0)
	sum := func(kcals, protein, fat, carbohydrate float64) float64 {
		s := Shares(kcals*kcal, protein, fat, carbohydrate)
		return kcals * (s.Protein + s.Fat + s.Carbohydrate)
	}
	const (
		food = "UNHCR and WFP 1997, usual emergency ration (totals from memory)"
		goal = "UNHCR and WFP 1997, minimum ration, % of energy"
		dash = "Mayo Clinic, DASH sample menu, day 2"
		week = "Journal of Nutrition and Food Sciences 5:404 2015, table 3"
	)
	for _, c := range []check{
		{food, "energy, kcal", kcals, 2113, 60},
		{food, "protein, g", protein, 58, 5},
		{food, "fat, g", fat, 43, 4.5},
		{goal, "protein, 10 to 12", 100 * ration.Protein, 11, 1},
		{goal, "fat, at least 17", math.Min(17, 100*ration.Fat), 17, 0},
		// Labels round, and count fibre in carbohydrate at a full 4 kcal.
		{dash, "energy by protein, fat and carbohydrate, kcal", sum(2193, 95, 70, 324), 2193, 0.055 * 2193},
		{week, "day 1, energy by protein, fat and carbohydrate, kcal", sum(1991, 75, 65, 293), 1991, 0.04 * 1991},
		{week, "day 2, energy by protein, fat and carbohydrate, kcal", sum(1982, 95, 66, 243), 1982, 0.04 * 1982},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.5g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}
