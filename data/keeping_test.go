package data

import (
	"slices"
	"strings"
	"testing"
)

var storeForms = []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented"}

// formsOf lists the forms a class of food is kept in.
var formsOf = map[string]string{
	"leaf": "fresh dried frozen fermented jarred", "root": "fresh dried frozen fermented jarred",
	"fruiting": "fresh dried frozen fermented jarred", "squash": "fresh dried frozen jarred",
	"fruit": "fresh dried frozen jarred", "mild_fruit": "fresh dried frozen", "salad": "fresh",
	"grain": "fresh dry frozen", "pulse": "fresh dry frozen", "nut": "fresh dry dried frozen",
	"meat": "fresh frozen", "egg": "fresh frozen", "mushroom": "fresh dried frozen",
	"sweet": "fresh dry jarred", "fat": "fresh dry jarred", "salt": "fresh dry", "other": "fresh frozen",
}

func TestEveryFoodHasALife(t *testing.T) {
	tab := loaded(t)
	for i := range tab.Foods {
		f := &tab.Foods[i]
		forms := strings.Fields(formsOf[tab.class(f)])
		if len(forms) == 0 {
			t.Errorf("%s: class %q has no forms", f.ID, tab.class(f))
		}
		for _, form := range forms {
			if len(tab.KeepingOf(f, form)) == 0 {
				t.Errorf("%s %s: no life", f.ID, form)
			}
		}
	}
}

func TestKeepingIsSane(t *testing.T) {
	tab := loaded(t)
	for i, k := range tab.Keeping {
		if !slices.Contains(storeForms, k.Form) {
			t.Errorf("%s: form %q", k.Food, k.Form)
		}
		if class, ok := strings.CutPrefix(k.Food, classPrefix); ok {
			if formsOf[class] == "" {
				t.Errorf("unknown class %q", class)
			}
		} else {
			mustFood(t, tab, k.Food)
		}
		if k.DaysLo <= 0 || k.TempLo < -20 || k.TempHi > 45 || (k.Form == "frozen") != (k.TempLo < -10) {
			t.Errorf("%s %s: %g-%g d at %g-%g °C", k.Food, k.Form, k.DaysLo, k.DaysHi, k.TempLo, k.TempHi)
		}
		if k.RHLo < 0 || k.RHHi > 1 || k.RHLo > k.RHHi {
			t.Errorf("%s %s: humidity %g-%g", k.Food, k.Form, k.RHLo, k.RHHi)
		}
		// Sealed thirty-year figures are not home lives; only salt is without limit.
		if k.DaysHi > 1500 && k.Food != "salt" && k.Food != "class:salt" {
			t.Errorf("%s %s: %g days is no home life", k.Food, k.Form, k.DaysHi)
		}
		if i > 0 {
			inOrder(t, tab.Keeping[i-1], k)
		}
	}
}

func inOrder(t *testing.T, before, k Keeping) {
	t.Helper()
	if before.Food == k.Food && before.Form == k.Form && k.TempLo < before.TempHi {
		t.Errorf("%s %s: bands at %g and %g °C overlap or are out of order", k.Food, k.Form, before.TempLo, k.TempLo)
	}
}

// Warmth shortens life, but for food that is chilled below its good range and
// onions and garlic, which sprout in the cool and not in the warm.
func TestWarmerIsShorter(t *testing.T) {
	tab := loaded(t)
	for i := 1; i < len(tab.Keeping); i++ {
		a, b := tab.Keeping[i-1], tab.Keeping[i]
		if a.Food != b.Food || a.Form != b.Form || b.TempLo < 13.5 {
			continue
		}
		if b.DaysHi > a.DaysHi {
			t.Errorf("%s %s: %g d at %g °C, %g d at %g °C", a.Food, a.Form, a.DaysHi, a.TempHi, b.DaysHi, b.TempLo)
		}
	}
}

// The larder of the invented example stead.
func TestExampleLarderResolves(t *testing.T) {
	tab := loaded(t)
	lots := `almond/dry apple/fresh apple/dried barley_hulled/dry broad_bean_dry/dry carrot/jarred carrot/frozen chickpea/dry
		collards/frozen fig/dried garlic/fresh grape_american/dried hazelnut/dry honey/jarred oats/dry onion/fresh split_pea/dry
		pear/jarred plum/dried potato/fresh tomato/jarred walnut_english/dry wheat_hard_red_winter/dry squash_winter/fresh
		salt_iodised/dry sunflower_oil/dry`
	for _, lot := range strings.Fields(lots) {
		id, form, _ := strings.Cut(lot, "/")
		f := mustFood(t, tab, id)
		rows := tab.KeepingOf(f, form)
		if len(rows) == 0 {
			t.Errorf("%s: no life", lot)
			continue
		}
		if row, factor := tab.FoodForm(f, form); row == nil || !(factor >= 1 && factor < 10) {
			t.Errorf("%s: composition of %v, factor %g", lot, row, factor)
		}
	}
}

func TestOwnRowsComeBeforeClass(t *testing.T) {
	tab := loaded(t)
	carrot := tab.KeepingOf(mustFood(t, tab, "carrot"), "fresh")
	if carrot[0].Food != "carrot" || carrot[0].DaysHi != 210 {
		t.Errorf("carrot in the cold: %+v", carrot[0])
	}
	if jar := tab.KeepingOf(mustFood(t, tab, "carrot"), "jarred"); jar[0].Food != "class:root" {
		t.Errorf("carrot in jars: %+v", jar[0])
	}
	if got := tab.KeepingOf(mustFood(t, tab, "lettuce_leaf"), "dried"); got != nil {
		t.Errorf("dried lettuce keeps: %+v", got)
	}
}

func FuzzKeeping(f *testing.F) {
	f.Add("food,form,temp_lo,temp_hi,rh_lo,rh_hi,days_lo,days_hi,source,note\na,fresh,0,4,,,7,14,S,\n")
	f.Fuzz(func(t *testing.T, text string) {
		tab, err := parse("keeping.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		rows, err := readKeeping(tab)
		for _, k := range rows {
			if err == nil && !(k.DaysLo <= k.DaysHi && k.TempLo <= k.TempHi) {
				t.Errorf("accepted %+v", k)
			}
		}
	})
}
