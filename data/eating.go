package data

import (
	"cmp"
	"slices"
)

func loadEating() ([]Eating, error) {
	t, err := open("eating.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Eating, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Eating{
			Category: r.must("category"), Class: r.must("class"),
			Cap: r.num("cap_kg"), CapAll: r.num("class_cap_kg"),
			Heat: r.num("heat_mj_kg"), Retain: r.str("retention"), Tires: r.str("tires") == "yes", With: max(0, r.or("with_share", 0)), Source: cite(r),
		})
	}
	return out, t.err()
}

func loadPutUp() ([]PutUp, error) {
	t, err := open("putting_up.csv")
	if err != nil {
		return nil, err
	}
	out := make([]PutUp, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, PutUp{
			Class: r.must("what"), Method: r.must("method"), MassOut: r.num("mass_out"),
			Hours: r.num("hours_kg"), Heat: r.num("heat_mj_kg"), Litres: r.num("store_l_kg"),
			Water: r.num("water_l_kg"), Salt: r.num("salt_kg_kg"),
			Rank: int(r.num("rank")), Source: cite(r),
		})
	}
	return out, t.err()
}

// loadRetentions reads the share of each nutrient kept. Nutrients without a
// factor are absent from Kept: the table says nothing of vitamins D, E and K,
// manganese, selenium or iodine. The niacin factor is put on the equivalents,
// which overstates the loss, since tryptophan stays.
func loadRetentions(nutrients []Nutrient) ([]Retention, error) {
	t, err := open("retention.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Retention, 0, len(t.rows))
	for _, r := range t.rows {
		kept := make(map[string]float64)
		for _, n := range nutrients {
			if _, ok := t.col[n.ID]; ok && r.str(n.ID) != "" {
				kept[n.ID] = r.num(n.ID)
			}
		}
		out = append(out, Retention{Group: r.must("group"), Method: r.must("method"), Kept: kept, Source: r.must("source")})
	}
	return out, t.err()
}

// Moisture left in dried food, kg/kg (NCHFP, So Easy to Preserve, drying).
const (
	driedFruit     = 0.20
	driedVegetable = 0.10

	dryAlready = 1.0 / 3 // dried fruit as sold holds up to 0.32
)

// madeOf names the foods that have a row of their own for a form.
var madeOf = map[[2]string]string{
	{"acorn", "dried"}:           "acorn_dried",
	{"apple", "dried"}:           "apple_dried",
	{"apricot", "dried"}:         "apricot_dried",
	{"fig", "dried"}:             "fig_dried",
	{"shiitake", "dried"}:        "shiitake_dried",
	{"tomato", "dried"}:          "tomato_sundried",
	{"cabbage", "fermented"}:     "sauerkraut",
	{"cabbage_red", "fermented"}: "sauerkraut",
}

// FoodForm returns the row that gives the composition of a food in a form, and
// the kg of that row that 1 kg in the form stands for.
//
// Dried apple, apricot, fig, tomato, shiitake and acorn and soured cabbage have
// rows of their own: factor 1, losses already in the figures. Any other dried
// food is the fresh row with its dry matter kept, (1 - moisture left) /
// (1 - moisture fresh): raisins are 4.3 kg of grapes a kg; food under a third
// water is dry already. Jarred, frozen and fermented food is the fresh row,
// liquor and added salt not counted. Where the row is the food itself, the
// losses of the form are still to be taken off: see the group "preserved" of
// Retentions.
func (t *Tables) FoodForm(food *Food, form string) (*Food, float64) {
	if id, ok := madeOf[[2]string{food.ID, form}]; ok {
		if row, ok := t.Food(id); ok {
			return row, 1
		}
	}
	if form == "dried" && food.Water > dryAlready {
		return food, (1 - t.moistureDried(food)) / (1 - food.Water)
	}
	return food, 1
}

// MassOut returns the kg of product from 1 kg of edible food put up in a form.
// For dried food it follows from the water contents, so that dry matter is
// neither made nor lost beside FoodForm; PutUp.MassOut is the class's middle.
func (t *Tables) MassOut(food *Food, form string) float64 {
	if form != "dried" {
		return 1
	}
	row, factor := t.FoodForm(food, form)
	if row == food {
		return 1 / factor
	}
	return (1 - food.Water) / (1 - row.Water)
}

func (t *Tables) moistureDried(food *Food) float64 {
	switch t.class(food) {
	case "fruit", "mild_fruit":
		return driedFruit
	}
	return driedVegetable
}

// untested are acid fruits for which no time in jars is printed in the canning
// table: they are dried or frozen.
var untested = []string{"apricot", "cloudberry", "fig", "grape_american", "lingonberry", "rose_hip", "salmonberry", "strawberry"}

// PutUps returns the ways to preserve a food, the one tried first in front. A
// row for the food itself stands before one of its class. Low-acid food has a
// jarred row only where a tested pressure process is printed for that food,
// and the class mild_fruit (low acid, or untested) has none. A
// household's own food is put up as the one it is like, but into no jar.
func (t *Tables) PutUps(food *Food) []PutUp {
	var out []PutUp
	for _, what := range []string{food.ID, food.Like, t.class(food)} {
		for _, p := range t.PutUp {
			if p.Method == "jarred" && (food.Like != "" || slices.Contains(untested, food.ID)) {
				continue
			}
			if p.Class == what && !slices.ContainsFunc(out, func(q PutUp) bool { return q.Method == p.Method }) {
				out = append(out, p)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b PutUp) int { return cmp.Compare(a.Rank, b.Rank) })
	return out
}

// class returns the Eating.Class of a food, "" when its category has none.
func (t *Tables) class(food *Food) string {
	if e, ok := t.Eaten(food.Category); ok {
		return e.Class
	}
	return ""
}
