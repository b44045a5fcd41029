package data

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestRequirementsAreSane(t *testing.T) {
	tab := loaded(t)
	stages := map[string]int{}
	for _, r := range tab.Requirements {
		stages[r.LifeStage]++
		if r.AgeMin > r.AgeMax || !slices.Contains([]string{"female", "male", "both"}, r.Sex) || !slices.Contains([]string{"none", "pregnant", "lactating"}, r.State) {
			t.Errorf("%+v", r)
		}
		if !(r.Target > 0) || r.Upper <= 0 || (!math.IsNaN(r.Upper)) != (r.UpperScope != "") {
			t.Errorf("%s %s: target %g, upper %g %q", r.LifeStage, r.Nutrient, r.Target, r.Upper, r.UpperScope)
		}
		if r.Upper < r.Target && r.Nutrient != "magnesium_mg" && r.UpperScope == "all sources" {
			t.Errorf("%s %s: target %g over upper %g", r.LifeStage, r.Nutrient, r.Target, r.Upper)
		}
	}
	if len(stages) != 20 {
		t.Errorf("%d life stages, want 20", len(stages))
	}
	for s, n := range stages {
		if n != 33 {
			t.Errorf("%s has %d rows, want 33", s, n)
		}
	}
}

// A daily amount must be a nutrient foods are counted in, in the same unit.
func TestRequirementsJoinNutrients(t *testing.T) {
	tab := loaded(t)
	for _, r := range tab.Requirements {
		i := tab.NutrientIndex(r.Nutrient)
		if strings.HasSuffix(r.Nutrient, "_energy_pct") {
			if i >= 0 || r.Unit != "% of energy" || r.Kind != "AMDR low" || !(r.Target < r.Upper) {
				t.Errorf("%+v is no range of energy", r)
			}
			continue
		}
		if i < 0 {
			t.Errorf("%s: no such nutrient", r.Nutrient)
		} else if r.Unit != tab.Nutrients[i].Unit {
			t.Errorf("%s is needed in %s, counted in %s", r.Nutrient, r.Unit, tab.Nutrients[i].Unit)
		}
	}
}

// Every year of life from one on has one stage for each sex.
func TestLifeStagesLeaveNoGap(t *testing.T) {
	tab := loaded(t)
	for age := 1.0; age <= 100; age++ {
		for _, sex := range []string{"female", "male"} {
			n := 0
			for _, r := range tab.Requirements {
				if r.Nutrient == "vit_c_mg" && r.State == "none" && (r.Sex == sex || r.Sex == "both") && r.AgeMin <= age && age <= r.AgeMax {
					n++
				}
			}
			if n != 1 {
				t.Errorf("%s of %g years: %d stages", sex, age, n)
			}
		}
	}
}

func FuzzRequirements(f *testing.F) {
	f.Add("life_stage,sex,age_min,age_max,state,nutrient,unit,target,kind,upper,upper_scope,source\nx,both,1,3,none,protein_g,g,13,RDA,,,S\n")
	f.Fuzz(func(t *testing.T, text string) {
		tab, err := parse("requirements.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		rows, err := readRequirements(tab)
		for _, r := range rows {
			if err == nil && (r.LifeStage == "" || math.IsNaN(r.AgeMin)) {
				t.Errorf("accepted %+v", r)
			}
		}
	})
}
