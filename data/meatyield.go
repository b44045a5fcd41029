package data

// MeatYield is one row of meat_yields.csv: what cooking leaves of raw meat.
// Bones and drippings left in the pan are not in what is left.
type MeatYield struct {
	Food           string // id of the food it stands for; "" for none
	Item, How      string
	Yield          float64 // kg cooked per kg raw
	Samples        float64 // NaN where none are printed
	Moisture       float64 // kg of water gained per kg raw, below 0 lost; NaN not printed
	Fat            float64
	Source, Remark string
}

func loadMeatYields() ([]MeatYield, error) { return readRows("meat_yields.csv", meatYield) }

func meatYield(r record) MeatYield {
	m := MeatYield{Food: r.str("food"), Item: r.must("item"), How: r.must("how"), Yield: r.num("yield"), Samples: r.opt("n"),
		Moisture: r.opt("moisture_change"), Fat: r.opt("fat_change"), Source: r.must("source"), Remark: r.str("note")}
	if m.Yield <= 0 || m.Yield > 1 {
		r.fault("yield", "lies outside 0 to 1")
	}
	return m
}

// MeatYieldsOf returns the rows that stand for a food, none for what is no meat or
// has no row.
func (t *Tables) MeatYieldsOf(food string) (out []MeatYield) {
	for _, m := range t.MeatYields {
		if m.Food == food && food != "" {
			out = append(out, m)
		}
	}
	return out
}
