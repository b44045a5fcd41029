package web

import (
	"context"
	"math"
	"math/rand/v2"

	"evenstead/day"
	"evenstead/engine"
)

const fixtureWeeks = 52

var fixtureDay = day.Of(2026, 11, 1)

// fixture is an invented outlook of a usual size: 16 needs, 14 stores, 18 crops.
func fixture() *engine.Outlook {
	rng := rand.New(rand.NewPCG(1, 2))
	o := &engine.Outlook{
		Stead: "Quernfold", Today: fixtureDay, Days: 365, Members: 1000, Seed: 7,
		Verdict: engine.Verdict{
			Lead: "Barn water runs short about 9 August in 6 years of 10.",
			Rest: "Iodine is not known, and fat thins in late spring. The rest holds.",
			Why:  "The barn tanks empty first: without the dry summer they would hold in 9 years of 10. Laundry and showers take most of it.",
		},
		Needs: fixtureNeeds(), Stores: fixtureStores(rng), Crops: fixtureCrops(rng), Loops: fixtureLoops(),
		Weather:  []string{"Rain and warmth are drawn from twelve monthly normals; no record is kept nearby.", "A wet day is likelier after a wet one, by a quarter of the way to certainty."},
		Defaults: []string{"Soil: loam, since none is written.", "Sorrel: body mass 61 kg as written, activity read as active.", "Cooker: 2.1 MJ a meal, common practice.", "Barn roof: coefficient 0.85 for steel sheet."},
		Cautions: []string{"Drum 1 stays shut until 24 November 2027; then for fruit trees only.", "Roof water is not drinking water until it is filtered or boiled.", "Beans go into jars under pressure only, by altitude."},
	}
	return o
}

// shape is a weekly chance that swells round a week.
func shape(peak float64, at, wide float64) []float64 {
	s := make([]float64, fixtureWeeks)
	for i := range s {
		d := (float64(i) - at) / wide
		s[i] = peak * math.Exp(-d*d)
	}
	return s
}

// need makes a need whose cover follows from its weekly chances.
func need(id, name, group string, main bool, short []float64) engine.NeedOutlook {
	n := engine.NeedOutlook{ID: id, Name: name, Group: group, Known: true, Main: main, Short: short, Met: [3]float64{0.82, 0.97, 1}, Note: "short under nine tenths of the week's need"}
	left := 1.0
	for i, p := range short {
		n.Covered = append(n.Covered, left)
		left = min(left, 1-p)
		if p > short[n.WorstWeek] {
			n.WorstWeek = i
		}
	}
	n.Covered = append(n.Covered, left)
	n.ShareShort = 1 - left
	reach := func(share float64) (int, bool) {
		for i, c := range n.Covered {
			if c < share {
				return 7 * i, false
			}
		}
		return 365, true
	}
	n.Sure, n.Open[0] = reach(0.9)
	n.Middle, n.Open[1] = reach(0.5)
	n.Long, n.Open[2] = reach(0.1)
	if n.ShareShort > 0 {
		d := fixtureDay + day.Day(7*n.WorstWeek)
		n.FirstShort, n.Cause = &d, "dry summer"
	}
	return n
}

func fixtureNeeds() []engine.NeedOutlook {
	unknown := engine.NeedOutlook{ID: "iodine", Name: "Iodine", Group: engine.Food, Main: true, Note: "no iodine figure for eggs and greens"}
	return []engine.NeedOutlook{
		need("drinking", "Drinking", engine.Water, true, shape(0.01, 40, 3)),
		need("washing", "Washing", engine.Water, true, shape(0.34, 40, 5)),
		need("beds", "Beds", engine.Water, true, shape(0.64, 41, 6)),
		need("energy", "Food energy", engine.Food, true, shape(0.16, 30, 4)),
		need("protein", "Protein", engine.Food, true, shape(0.02, 30, 4)),
		need("fat", "Fat", engine.Food, true, shape(0.58, 26, 8)),
		need("vit_c", "Vitamin C", engine.Food, false, shape(0.07, 14, 5)),
		need("vit_a", "Vitamin A", engine.Food, false, shape(0.0, 1, 1)),
		need("calcium", "Calcium", engine.Food, false, shape(0.3, 20, 10)),
		need("b12", "Vitamin B12", engine.Food, true, shape(0.97, 10, 60)),
		unknown,
		need("cooking", "Cooking", engine.Heat, true, shape(0.22, 12, 6)),
		need("warmth", "Warmth", engine.Heat, true, shape(0.55, 3, 2)),
		need("nitrogen", "Nitrogen", engine.Soil, true, shape(0.28, 34, 7)),
		need("potassium", "Potassium", engine.Soil, false, shape(0.12, 34, 7)),
		need("shelf", "Shelf room", engine.Room, false, shape(0.2, 43, 4)),
		need("hours", "Hours", engine.Hours, true, shape(0.45, 28, 5)),
	}
}

// store makes a store that follows a yearly swing and spreads as weeks go by.
func store(rng *rand.Rand, id, name, group, unit string, size, line, now, swing float64, needID string) engine.StoreOutlook {
	st := engine.StoreOutlook{ID: id, Name: name, Group: group, Unit: unit, Size: size, Line: line, Now: now, Need: needID,
		Said: "Lowest in the second week of August; back above the line by October in 9 years of 10."}
	for i := range fixtureWeeks + 1 {
		mid := now + swing*math.Sin(2*math.Pi*float64(i)/52) + rng.NormFloat64()*swing*0.02
		wide := swing * 0.7 * math.Min(1, float64(i)/20)
		hold := func(v float64) float64 { return clamp(v, 0, size) }
		st.Weeks = append(st.Weeks, engine.Band{P10: hold(mid - wide), P25: hold(mid - wide/2), P50: hold(mid), P75: hold(mid + wide/2), P90: hold(mid + wide)})
	}
	return st
}

func fixtureStores(rng *rand.Rand) []engine.StoreOutlook {
	return []engine.StoreOutlook{
		store(rng, "tank:barn", "Barn tanks", engine.Water, "L", 34000, 3000, 10500, 9800, "beds"),
		store(rng, "tank:cabin", "Cabin tanks", engine.Water, "L", 4000, 120, 3400, 2400, "washing"),
		store(rng, "larder", "Food in store", engine.Food, "days' eating", 400, 30, 190, 120, "energy"),
		store(rng, "grain", "Grain bins", engine.Food, "kg", 380, 20, 240, 200, "energy"),
		store(rng, "roots", "Roots and squash", engine.Food, "kg", 300, 10, 170, 160, "vit_c"),
		store(rng, "jars", "Jars", engine.Food, "kg", 150, 5, 90, 70, "vit_c"),
		store(rng, "freezer", "Chest freezer", engine.Food, "kg", 75, 2, 30, 28, "protein"),
		store(rng, "oil", "Oil and nuts", engine.Food, "kg", 60, 2, 21, 20, "fat"),
		store(rng, "wood", "Firewood", engine.Heat, "MJ", 30000, 2000, 21000, 15000, "warmth"),
		store(rng, "bottle", "Gas bottle", engine.Heat, "MJ", 600, 20, 500, 260, "cooking"),
		store(rng, "compost", "Compost", engine.Soil, "kg", 1500, 50, 400, 380, "nitrogen"),
		store(rng, "urine", "Cans of urine", engine.Soil, "kg", 3, 0, 1.2, 1, "nitrogen"),
		store(rng, "shelf", "Room on the shelves", engine.Room, "m3", 2.5, 0.1, 1, 0.9, "shelf"),
		store(rng, "hours", "Hours free in the week", engine.Hours, "h", 64, 4, 20, 18, "hours"),
	}
}

func fixtureCrops(rng *rand.Rand) []engine.CropOutlook {
	names := []string{"Winter wheat", "Broad beans", "Barley", "Oats", "Chickpeas", "Dry peas", "Potatoes", "Kale", "Collards", "Chard", "Winter squash", "Carrots", "Beets", "Turnips", "Leeks", "Onions", "Garlic", "Tomatoes"}
	causes := []string{"frost", "heat", "dry", "hungry", "pest"}
	crops := make([]engine.CropOutlook, len(names))
	for i, name := range names {
		first := fixtureDay + day.Day(30+rng.IntN(280))
		kg := 10 + 200*rng.Float64()
		crops[i] = engine.CropOutlook{Crop: name, Name: name, Area: 12 + float64(i), Kg: engine.Band{P10: kg * 0.6, P25: kg * 0.8, P50: kg, P75: kg * 1.2, P90: kg * 1.4},
			First: &first, Failed: rng.Float64() * 0.4, Cause: causes[i%len(causes)]}
	}
	return crops
}

var fixtureNodes = []string{"sky", "air", "deep ground", "trade", "wild land", "tanks", "house", "soil", "plants", "larder", "scraps", "digester", "compost", "toilet", "hens and bees", "fuel"}

// loop makes a network from names, so that a fixture can be read.
func loop(material, unit string, flows ...any) engine.LoopOutlook {
	l := engine.LoopOutlook{Material: material, Unit: unit, Nodes: fixtureNodes}
	at := map[string]int{}
	for i, n := range fixtureNodes {
		at[n] = i
	}
	for i := 0; i+2 < len(flows); i += 3 {
		l.Flows = append(l.Flows, engine.LoopFlow{From: at[flows[i].(string)], To: at[flows[i+1].(string)], Amount: flows[i+2].(float64)})
	}
	return l
}

func fixtureLoops() []engine.LoopOutlook {
	return []engine.LoopOutlook{
		loop("water", "L", "sky", "tanks", 98000.0, "sky", "soil", 900000.0, "tanks", "house", 28000.0, "tanks", "soil", 31000.0, "tanks", "deep ground", 36000.0,
			"house", "soil", 22000.0, "house", "air", 4000.0, "house", "toilet", 2000.0, "soil", "plants", 700000.0, "plants", "air", 700000.0),
		loop("energy", "MJ", "sky", "plants", 9000.0, "plants", "larder", 7600.0, "wild land", "larder", 700.0, "trade", "larder", 500.0, "larder", "house", 8100.0,
			"wild land", "fuel", 6200.0, "fuel", "house", 6900.0, "trade", "fuel", 300.0, "house", "air", 13900.0, "house", "scraps", 700.0, "house", "toilet", 400.0,
			"scraps", "digester", 600.0, "digester", "fuel", 400.0, "digester", "compost", 150.0),
		loop("nitrogen", "kg", "air", "soil", 3.1, "soil", "plants", 11.0, "plants", "larder", 8.0, "plants", "soil", 3.0, "larder", "house", 7.6, "trade", "house", 0.4,
			"house", "toilet", 7.1, "house", "scraps", 0.9, "toilet", "soil", 4.0, "toilet", "air", 1.6, "toilet", "compost", 1.5, "scraps", "compost", 0.8, "compost", "soil", 1.4,
			"compost", "air", 0.6, "soil", "deep ground", 1.4),
		loop("phosphorus", "kg", "trade", "larder", 0.1, "soil", "plants", 2.0, "plants", "larder", 1.5, "plants", "soil", 0.5, "larder", "house", 1.4,
			"house", "toilet", 1.4, "toilet", "soil", 0.9, "toilet", "compost", 0.4, "compost", "soil", 0.4),
		loop("mass", "kg", "plants", "larder", 2400.0, "larder", "house", 1900.0, "house", "scraps", 300.0, "scraps", "compost", 280.0),
	}
}

// fixtureSource hands out one outlook.
func fixtureSource(o *engine.Outlook) Source {
	return func(context.Context) (*engine.Outlook, Progress) { return o, Progress{} }
}

// fixtureRain is a year with a dry summer.
func fixtureRain(day.Day) *Rain {
	r := &Rain{Past: []float64{2, 0, 0, 4, 9, 0, 12, 18, 22, 3, 30, 16, 25}, Frost: []int{5, 8, 11, 14}}
	for i := range fixtureWeeks {
		r.Usual = append(r.Usual, 14+12*math.Cos(2*math.Pi*float64(i-5)/52))
	}
	return r
}
