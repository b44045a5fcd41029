package data

import (
	"math"
	"testing"
)

// TestPublishedMeatYields are cooked over raw mass as printed, and for meat
// without bone the same by what water and fat are printed to leave it: the rest of
// it stays, but for what the pan keeps.
func TestPublishedMeatYields(t *testing.T) {
	tab := loaded(t)
	row := func(item, how string) MeatYield {
		for _, m := range tab.MeatYields {
			if m.Item == item && m.How == how {
				return m
			}
		}
		t.Fatalf("no row %s, %s", item, how)
		return MeatYield{}
	}
	yield := func(item, how string) float64 { return 100 * row(item, how).Yield }
	left := func(item, how string) float64 {
		m := row(item, how)
		return 100 * (1 + m.Moisture + m.Fat)
	}
	const (
		printed = "USDA cooking yields of meat, release 2 2014, %"
		balance = "USDA cooking yields of meat, release 2 2014, raw less water and fat, %"
		whole   = "Chicken, broiler-fryer, whole, including skin"
		grilled = "broiled or grilled"
	)
	for _, c := range []publishedFood{
		{printed, "whole chicken roasted", yield(whole, "baked or roasted"), 78, 1e-9},
		{printed, "whole chicken stewed", yield(whole, "poached, simmered or stewed"), 75, 1e-9},
		{printed, "chicken thigh roasted", yield("Chicken, broiler-fryer, thigh, meat and skin", "baked or roasted"), 69, 1e-9},
		{printed, "chicken thigh stewed", yield("Chicken, broiler-fryer, thigh, meat and skin", "poached, simmered or stewed"), 74, 1e-9},
		{printed, "chicken liver fried", yield("Chicken, liver, all classes", "pan-fried or sauteed"), 62, 1e-9},
		{printed, "ground deer broiled", yield("Game meat, deer, ground", grilled), 83, 1e-9},
		{printed, "ground elk broiled", yield("Game meat, elk, ground", grilled), 84, 1e-9},
		{printed, "ground bison broiled", yield("Game meat, bison, ground", grilled), 77, 1e-9},
		{printed, "lamb roasts", yield("Lamb, retail cuts, roasts, all samples", "baked or roasted"), 74, 1e-9},
		{printed, "lamb braised", yield("Lamb, retail cuts, shoulder, shank, breast, flank", "braised"), 60, 1e-9},
		{printed, "turkey roasted", yield("Turkey, whole, non-enhanced, meat and skin", "roasted"), 71, 1e-9},
		{balance, "chicken liver fried", left("Chicken, liver, all classes", "pan-fried or sauteed"), 62, 2},
		{balance, "chicken gizzard stewed", left("Chicken, gizzard, all classes", "poached, simmered or stewed"), 55, 3},
		{balance, "ground emu broiled", left("Emu, ground", grilled), 80, 1},
		{balance, "ground bison broiled", left("Game meat, bison, ground", grilled), 77, 1},
		{balance, "ground deer broiled", left("Game meat, deer, ground", grilled), 83, 1},
		{balance, "ground elk broiled", left("Game meat, elk, ground", grilled), 84, 1},
		{balance, "ground ostrich broiled", left("Ostrich, ground", grilled), 86, 3},
		{balance, "turkey gizzard stewed", left("Turkey, gizzard, all classes", "poached, simmered or stewed"), 85, 1},
		{balance, "turkey heart stewed", left("Turkey, heart, all classes", "poached, simmered or stewed"), 76, 1.1},
		{balance, "veal liver braised", left("Veal, variety meats and by-products, liver", "braised"), 69, 1},
		{balance, "veal liver fried", left("Veal, variety meats and by-products, liver", "pan-fried or sauteed"), 68, 1.2},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.4g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
	if got := tab.MeatYieldsOf("venison"); len(got) != 1 || got[0].Yield != 0.83 {
		t.Errorf("venison: %v", got)
	}
	if got := tab.MeatYieldsOf(""); got != nil {
		t.Errorf("no food has %d rows", len(got))
	}
}
