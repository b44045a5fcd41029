package larder

import "fmt"

type milling struct {
	food, product string
	low, high     float64 // kg of product per kg
	hours         float64 // h a kg
	source        string
}

// fatMJ is the food energy of oil, MJ/kg (8.84 kcal/g, USDA SR27).
const fatMJ = 8.84 * 4.184

// leachWater is the water that leaching takes, L per kg of acorns in all its
// changes (common practice).
const leachWater = 15

// milled is flour, oil or leached meal, where the table has a row.
func (b *batcher) milled() ([]Way, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	var out []Way
	for _, row := range t.milling {
		if row.food != b.g.Food.ID {
			continue
		}
		switch row.product {
		case "oil":
			out = append(out, b.oil(row))
		case "leached meal":
			out = append(out, b.leach(row))
		default:
			out = append(out, b.flour(row))
		}
	}
	return out, nil
}

func (b *batcher) flour(row milling) Way {
	share := (row.low + row.high) / 2
	edible := b.g.Kg * b.g.Edible
	made := edible * share
	return Way{Name: "mill to " + row.product, In: []Part{{b.g.Food.ID, b.g.Kg}},
		Out:  parts(Part{row.product, made}, Part{"bran", edible - made}, Part{"husk", b.g.Kg - edible}),
		MJIn: b.mj, MJOut: b.mj * share, MJLost: b.mj * (1 - share), Minutes: made * row.hours * 60, Litres: made / 0.6, Source: row.source,
		Do: []string{"Whole grain keeps for years and its flour for weeks: mill what a week or two takes (common practice)."}}
}

func (b *batcher) oil(row milling) Way {
	made := b.g.Kg * (row.low + row.high) / 2
	out := min(made*fatMJ, b.mj)
	return Way{Name: "press for oil", In: []Part{{b.g.Food.ID, b.g.Kg}},
		Out:  parts(Part{row.product, made}, Part{"press cake", b.g.Kg - made}),
		MJIn: b.mj, MJOut: out, MJLost: b.mj - out, Minutes: b.g.Kg * row.hours * 60, Litres: made / 0.92, Source: row.source,
		Do: []string{"Warm the seed, press, settle for a week and keep in the dark and cool. The cake feeds hens and keeps most of the protein.",
			fmt.Sprintf("%.2f to %.2f kg of oil a kilogram of seed in its shell.", row.low, row.high)}}
}

func (b *batcher) leach(row milling) Way {
	edible := b.g.Kg * b.g.Edible
	share := (row.low + row.high) / 2
	solids := edible * (1 - b.g.Food.Water)
	dry := solids * share / (1 - driedMeal)
	water := leachWater * edible
	return Way{Name: "leach and dry to meal", In: []Part{{b.g.Food.ID, b.g.Kg}, {"water", water}},
		Out:  parts(Part{row.product, dry}, Part{"shells", b.g.Kg - edible}, Part{"water off, with its tannin", edible + water - dry}),
		MJIn: b.mj, MJOut: b.mj * share, MJLost: b.mj * (1 - share), Minutes: edible * row.hours * 60, Heat: 0, Water: water, Litres: dry / 0.6, Source: row.source,
		ReadyLo: 3, ReadyHi: 14,
		Do: []string{"Shell, grind, and soak in changes of cold water until nothing puckers the mouth; boiling water does it in hours for pieces.",
			"Dry the meal at 49 to 66 °C or in the freezer at once: wet meal sours."}}
}

// driedMeal is the share of water in dried meal (NCHFP, vegetables).
const driedMeal = 0.10
