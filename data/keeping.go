package data

import "slices"

// classPrefix marks the rows of keeping.csv that stand for a whole class.
const classPrefix = "class:"

func loadKeeping() ([]Keeping, error) {
	t, err := open("keeping.csv")
	if err != nil {
		return nil, err
	}
	return readKeeping(t)
}

func readKeeping(t *table) ([]Keeping, error) {
	out := make([]Keeping, 0, len(t.rows))
	for _, r := range t.rows {
		k := Keeping{
			Food: r.must("food"), Form: r.must("form"),
			TempLo: r.num("temp_lo"), TempHi: r.num("temp_hi"),
			RHLo: r.opt("rh_lo"), RHHi: r.opt("rh_hi"),
			DaysLo: r.num("days_lo"), DaysHi: r.num("days_hi"),
			Source: r.must("source"), Note: r.str("note"),
		}
		if k.TempLo > k.TempHi || k.DaysLo > k.DaysHi {
			r.fault("days_lo", "low stands above high")
		}
		out = append(out, k)
	}
	return out, t.err()
}

// KeepingOf returns the rows for a food in a form, coldest first: its own
// rows, else those of the food it is like, else those of its class, else none. Bands of one food do not overlap,
// but gaps between them are usual; -18 °C is the freezer. Lives are home
// lives of sound food, not shop dates, and quality limits, not safety limits.
func (t *Tables) KeepingOf(food *Food, form string) []Keeping {
	if own := t.keeping(food.ID, form); own != nil {
		return own
	}
	if like := t.keeping(food.Like, form); food.Like != "" && like != nil {
		return like
	}
	return t.keeping(classPrefix+t.class(food), form)
}

func (t *Tables) keeping(id, form string) []Keeping {
	if t.found != nil && rows(t.Keeping, t.found.keeping) {
		return slices.Clip(t.found.kept[keptAs{id, form}])
	}
	var out []Keeping
	for i := range t.Keeping {
		if k := &t.Keeping[i]; k.Food == id && k.Form == form {
			out = append(out, *k)
		}
	}
	return out
}
