package data

import (
	"math"
	"strings"
)

// mjPerKcal is the thermochemical calorie, exact: 1 kcal = 4.184 kJ.
const mjPerKcal = 0.004184

// tryptophanPerNE is the tryptophan that counts as 1 mg of niacin, mg (IOM
// 1998, Dietary Reference Intakes for Thiamin ... and Choline, p. 28).
const tryptophanPerNE = 60

// per100g turns a figure printed per 100 g into one per kg.
const per100g = 10

func loadNutrients() ([]Nutrient, error) {
	t, err := open("nutrients.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Nutrient, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Nutrient{ID: r.must("id"), Name: r.must("name"), Unit: r.must("unit")})
	}
	return out, t.err()
}

// loadFoods reads foods.csv, whose figures stand per 100 g edible as the
// source prints them, into amounts per kg.
func loadFoods(nutrients []Nutrient) ([]Food, error) {
	t, err := open("foods.csv")
	if err != nil {
		return nil, err
	}
	return readFoods(t, nutrients)
}

func readFoods(t *table, nutrients []Nutrient) ([]Food, error) {
	out := make([]Food, 0, len(t.rows))
	for _, r := range t.rows {
		f := Food{
			ID: r.must("id"), Name: r.must("name"), Category: r.must("category"), NDB: r.must("ndb"),
			Refuse: r.or("refuse_pct", 0) / 100, Water: r.num("water_g") / 100,
			Nutrient: make([]float64, len(nutrients)),
			Source:   r.must("source"), Note: r.str("note"),
		}
		for i, n := range nutrients {
			f.Nutrient[i] = r.nutrient(n.ID)
		}
		out = append(out, f)
	}
	return out, t.err()
}

// nutrient returns an amount per kg of edible food, NaN when not reported.
func (r record) nutrient(id string) float64 {
	switch id {
	case "energy_mj":
		return r.opt("energy_kcal") * mjPerKcal * per100g
	case "niacin_ne_mg":
		return NiacinEquivalents(r.opt("niacin_mg"), r.opt("tryptophan_g")) * per100g
	}
	return r.opt(id) * per100g
}

// NiacinEquivalents returns NE [mg] = niacin [mg] + tryptophan [mg] / 60. With
// no tryptophan figure it is the preformed niacin alone, which is too low and
// so on the safe side; the food's note says so.
func NiacinEquivalents(niacin, tryptophan float64) float64 {
	if math.IsNaN(tryptophan) {
		return niacin
	}
	return niacin + tryptophan*1000/tryptophanPerNE
}

// cite joins source and note for rows whose type carries no note.
func cite(r record) string {
	return strings.TrimSuffix(r.must("source")+"; "+r.str("note"), "; ")
}
