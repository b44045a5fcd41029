package data

import (
	"slices"
	"testing"
)

// Every id that a hazard or a scarce source names is known, so that a renamed
// food can't slip out from under its guard.
func TestHazardsNameKnownThings(t *testing.T) {
	tab := loaded(t)
	for _, h := range tab.Hazards {
		if !slices.Contains([]string{Always, RawFood, InStore, InJars, InOil, ToInfant, Expecting}, h.When) {
			t.Errorf("%s: when %q", h.Name, h.When)
		}
		known := 0
		for _, id := range h.Foods {
			_, food := tab.Food(id)
			_, crop := tab.Crop(id)
			_, wild := tab.WildFood(id)
			if food || crop || wild {
				known++
			} else {
				t.Errorf("%s names %q, which no table has", h.Name, id)
			}
		}
		if known == 0 {
			t.Errorf("%s guards nothing", h.Name)
		}
	}
	for _, s := range tab.Scarce {
		if tab.NutrientIndex(s.Nutrient) < 0 || !(s.Amount > 0) {
			t.Errorf("%+v", s)
		}
	}
}

// What the safety sheet names stands guarded, whichever table it is reached by.
func TestHazardsOf(t *testing.T) {
	tab := loaded(t)
	for _, c := range []struct {
		id, when string
		stop     bool
	}{
		{"pokeweed", Always, true}, {"poke_shoots", Always, true}, {"coontie", Always, true}, {"wild_parsnip", Always, true},
		{"cassava", Always, false}, {"bean_kidney", Always, false}, {"dry_bean", Always, false}, {"elderberry", RawFood, false},
		{"honey", ToInfant, false}, {"rhubarb", Always, false}, {"taro", RawFood, false}, {"potato", Always, false},
		{"acorn", Always, false}, {"garlic", InOil, false}, {"snap_bean", InJars, false}, {"tomato", InJars, false},
		{"maize_dry", InStore, false}, {"lima_bean", Always, false}, {"kelp", Always, false},
	} {
		if !slices.ContainsFunc(tab.HazardsOf(c.id), func(h Hazard) bool { return h.When == c.when && h.Stop == c.stop && h.Source != "" }) {
			t.Errorf("%s: no hazard %s (stop %v) among %+v", c.id, c.when, c.stop, tab.HazardsOf(c.id))
		}
	}
	if h := tab.HazardsOf("apple"); len(h) > 0 {
		t.Errorf("apple: %+v", h)
	}
}

func TestActivities(t *testing.T) {
	tab := loaded(t)
	tasks := map[string]bool{}
	for _, a := range tab.Activities {
		if a.MET < 0.9 || a.MET > 20 || a.Task != "" && tasks[a.Task] {
			t.Errorf("%+v", a)
		}
		tasks[a.Task] = true
	}
	if dig, ok := tab.Activity("dig"); !ok || dig.MET != 5 {
		t.Errorf("digging: %+v", dig)
	}
	if _, ok := tab.Activity(""); ok {
		t.Error("found an activity without a word")
	}
}
