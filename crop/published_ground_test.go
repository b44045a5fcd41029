package crop

import (
	"fmt"
	"math"
	"testing"

	"evenstead/data"
)

func tables(t testing.TB) *data.Tables {
	t.Helper()
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func cropOf(t testing.TB, id string) *data.Crop {
	t.Helper()
	c, ok := tables(t).Crop(id)
	if !ok {
		t.Fatalf("no crop %q", id)
	}
	return c
}

func sunCases() []published {
	const e8, e9, wave = "FAO-56 example 8, p. 47", "FAO-56 example 9, p. 48", "Hillel 1982, yearly wave of soil temperature"
	at := func(depth, day float64) float64 { return SoilWave(15, 10, depth, 2, 200, day) }
	return []published{
		{e8, "Ra, 20 S, 3 September", Extraterrestrial(-20, 246), 32.2, 0.05},
		{e9, "hours of day, 20 S, 3 September", Daylength(-20, 246), 11.7, 0.05},
		{wave, "surface on its warmest day", at(0, 200), 25, 1e-9},
		{wave, "one damping depth: shrunk by e, 58.1 days late", at(2, 200+365/(2*math.Pi)), 15 + 10/math.E, 1e-9},
		{wave, "10 cm: 2.9 days late", at(0.1, 200+2.9), 15 + 10*math.Exp(-0.05), 1e-3},
	}
}

// saltCases hold the tolerances of Maas and Hoffman against the potentials that
// FAO 29 prints beside them, ECe in dS/m for 90, 75 and 50 % of full yield.
func saltCases(t testing.TB) []published {
	const src = "Ayers and Westcot 1985, FAO 29 table 4 (from memory)"
	var out []published
	for _, r := range []struct {
		id   string
		ece  [3]float64
		tols float64
	}{
		{"beet", [3]float64{5.1, 6.8, 9.6}, 0.1}, {"broccoli", [3]float64{3.9, 5.5, 8.2}, 0.1},
		{"tomato", [3]float64{3.5, 5.0, 7.6}, 0.1}, {"cucumber", [3]float64{3.3, 4.4, 6.3}, 0.1},
		{"spinach", [3]float64{3.3, 5.3, 8.6}, 0.1}, {"cabbage", [3]float64{2.8, 4.4, 7.0}, 0.1},
		{"potato", [3]float64{2.5, 3.8, 5.9}, 0.1}, {"sweet_corn", [3]float64{2.5, 3.8, 5.9}, 0.1},
		{"sweet_potato", [3]float64{2.4, 3.8, 6.0}, 0.1}, {"pepper_sweet", [3]float64{2.2, 3.3, 5.1}, 0.1},
		{"lettuce", [3]float64{2.1, 3.2, 5.1}, 0.1}, {"radish", [3]float64{2.0, 3.1, 5.0}, 0.1},
		{"onion", [3]float64{1.8, 2.8, 4.3}, 0.1}, {"carrot", [3]float64{1.7, 2.8, 4.6}, 0.1},
		{"snap_bean", [3]float64{1.5, 2.3, 3.6}, 0.1}, {"strawberry", [3]float64{1.3, 1.8, 2.5}, 0.1},
	} {
		c := cropOf(t, r.id)
		for i, share := range []float64{0.90, 0.75, 0.50} {
			at := c.Salt.Threshold + 100*(1-share)/c.Salt.Slope
			out = append(out, published{src, fmt.Sprintf("%s, ECe at %.0f %%", c.Name, 100*share), at, r.ece[i], r.tols})
		}
	}
	return out
}

func seedShareCases(t testing.TB) []published {
	const src = "seed to keep, share of a typical crop (crops sheet section 11, computed)"
	var out []published
	for _, r := range []struct {
		id        string
		want, tol float64
	}{
		{"yam", 25, 0.5}, {"garlic", 12, 0.5}, {"potato", 10, 0.5}, {"lima_bean", 8.6, 0.05}, {"rye", 6.8, 0.05},
		{"dry_bean", 6.2, 0.05}, {"broad_bean", 11, 0.5}, {"chickpea", 10, 0.5}, {"pea_dry", 9.0, 0.05},
		{"wheat_spring", 7.3, 0.05}, {"wheat_winter", 5.9, 0.05}, {"barley", 4.8, 0.05}, {"soybean", 3.2, 0.05},
		{"cowpea", 4.0, 0.05}, {"maize_dry", 0.6, 0.05}, {"sorghum", 0.3, 0.05}, {"rice", 1.6, 0.05},
	} {
		c := cropOf(t, r.id)
		out = append(out, published{src, c.Name + ", %", 100 * KeepShare(c, c.YieldTyp), r.want, r.tol})
	}
	return out
}

// seedRateCases holds what is set aside for a square metre, before what dies of it,
// to printed rates; the tolerance is half the printed range, or half its last digit.
func seedRateCases(t testing.TB) []published {
	const (
		cover   = "Managing Cover Crops Profitably 2007, chart 3B (through a copied table)"
		acre    = 453.592 / 4046.86 // g/m2 for a lb/acre
		bushels = 50 * acre         // of sweet potatoes
	)
	var out []published
	for _, r := range []struct {
		source, id string
		low, high  float64 // g/m2
	}{
		{cover + ", lb an acre broadcast", "barley", 80 * acre, 125 * acre},
		{cover + ", lb an acre drilled", "oats", 80 * acre, 110 * acre},
		{cover + ", lb an acre broadcast", "rye", 90 * acre, 160 * acre},
		{"Smithson et al. 1985 (through a quotation), large seed, kg/ha", "chickpea", 8, 12},
		{"Indian Council of Agricultural Research, course on forage crops, kg/ha", "soybean", 6.5, 8.0},
		{"USDA Farmers' Bulletin, Commercial Growing and Harvesting of Sweetpotatoes, bushels of 50 lb an acre", "sweet_potato", 10 * bushels, 12 * bushels},
	} {
		c := cropOf(t, r.id)
		fresh := 1.0
		if c.Seed.Life > 0 {
			fresh = Viability(1, c.Seed.Life, keptAge)
		}
		out = append(out, published{r.source, c.Name + ", seed, g/m2", 1000 * KeptOfHarvest(c, 1) * fresh, (r.low + r.high) / 2, (r.high - r.low) / 2})
	}
	yam, peanut := cropOf(t, "yam"), cropOf(t, "peanut")
	return append(out,
		published{"Aighewi et al. 2020", "yam kept as setts, share of the crop (up to 0.3, 1:3 to 1:4)", KeptOfHarvest(yam, 1) / yam.YieldTyp, 0.29, 0.045},
		published{"crops sheet section 11 (seed rate from memory)", "peanut in shell for 9 g of kernels, g", 9 * peanut.Seed.OfHarvest, 12.9, 0.05})
}

func seedLifeCases(t testing.TB) []published {
	const rule, list, law = "Harrington's rule (from memory)", "Iowa State University list of seed life", "7 CFR 201.31, germination standards"
	out := []published{
		{rule, "10 °F warmer halves the life", SeedLife(4, 10/1.8, 0), 2, 0.02},
		{rule, "1 % more water halves the life", SeedLife(4, 0, 1), 2, 1e-9},
	}
	for _, r := range []struct {
		id         string
		life, germ float64
	}{
		{"onion", 1, 0.70}, {"parsnip", 1, 0.60}, {"sweet_corn", 2, 0.75}, {"leek", 2, 0.60}, {"snap_bean", 3, 0.70},
		{"carrot", 3, 0.55}, {"pea_green", 3, 0.80}, {"spinach", 3, 0.60}, {"beet", 4, 0.65}, {"tomato", 4, 0.75},
		{"cucumber", 5, 0.80}, {"lettuce", 6, 0.80},
	} {
		s := cropOf(t, r.id).Seed
		out = append(out, published{list, r.id + ", years", s.Life, r.life, 0}, published{law, r.id + ", least share", s.Germination, r.germ, 0})
	}
	return out
}

func spreadCases() []published {
	const mead = "Mead and Willey 1980, land equivalent ratio"
	return []published{
		{mead, "half of each alone", LandEquivalent([]float64{1, 2}, []float64{2, 4}), 1, 1e-12},
		{mead, "0.7 and 0.6 of each alone", LandEquivalent([]float64{0.35, 0.12}, []float64{0.5, 0.2}), 1.3, 1e-12},
		{"log-normal, cv 0.30 (arithmetic)", "one year of five", YieldQuantile(0.3, -0.8416), 0.745, 0.005},
		{"UK allotments (Dobson et al. 2021): 52 % of a plot in crop", "gross over net", Gross(1), 1 / 0.52, 0.5},
	}
}

// emergenceCases ask the table of Harrington at its own temperatures and, where
// rates are joined by lines, between them.
func emergenceCases(t testing.TB) []published {
	const src = "Harrington, days to emergence (University of California)"
	var out []published
	for _, r := range []struct {
		id         string
		soil, want float64
	}{
		{"carrot", 5, 51}, {"carrot", 10, 17}, {"onion", 5, 31}, {"onion", 0, 136}, {"pea_green", 10, 14}, {"lettuce", 20, 3},
		{"snap_bean", 15, 16}, {"snap_bean", 25, 8}, {"sweet_corn", 10, 22}, {"tomato", 15, 14}, {"okra", 20, 17}, {"spinach", 5, 23},
	} {
		c := cropOf(t, r.id)
		got, _ := c.Emerge.Days(r.soil)
		out = append(out, published{src, fmt.Sprintf("%s at %g °C", c.Name, r.soil), got, r.want, 0.5})
	}
	return out
}
