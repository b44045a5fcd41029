package diet

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestLinesSayWhatTheyRestOn(t *testing.T) {
	tables := load(t)
	lines, err := Lines(woman(), tables.Nutrients, tables.Requirements)
	if err != nil {
		t.Fatal(err)
	}
	need, err := NeedOf(woman(), tables.Nutrients, tables.Requirements)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range lines {
		if l.Nutrient != tables.Nutrients[i].ID || l.Target != need.Target[i] {
			t.Errorf("%s: target %g, want %g", l.Nutrient, l.Target, need.Target[i])
		}
		if l.Kind == "" || l.Source == "" {
			t.Errorf("%s: kind %q, source %q", l.Nutrient, l.Kind, l.Source)
		}
		if l.Binds == math.IsNaN(need.Upper[i]) {
			t.Errorf("%s: binds %v, upper %g", l.Nutrient, l.Binds, need.Upper[i])
		}
		if l.Binds && l.Upper != need.Upper[i] {
			t.Errorf("%s: upper %g, want %g", l.Nutrient, l.Upper, need.Upper[i])
		}
	}
	magnesium := lines[at(t, tables, "magnesium_mg")]
	if magnesium.Binds || !(magnesium.Upper > 0) {
		t.Errorf("the limit of magnesium is set for supplements: %+v", magnesium)
	}
}

func TestByWork(t *testing.T) {
	p := woman()
	p.Activity = Inactive
	still, err := EER2023(p)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		met := rapid.Float64Range(0.9, 12).Draw(t, "MET")
		hours := rapid.Float64Range(0, 12).Draw(t, "hours")
		got, err := ByWork(woman(), []Spell{{met, hours}, {met, hours}})
		if err != nil {
			t.Fatal(err)
		}
		want := still + 2*kcal*max(met-1, 0)*woman().Mass*hours
		if math.Abs(got-want) > 1e-9*want {
			t.Fatalf("got %g, want %g", got, want)
		}
	})
	if _, err := ByWork(woman(), []Spell{{4, 20}, {2, 5}}); err == nil || !strings.Contains(err.Error(), "hours a day") {
		t.Errorf("25 hours of work in a day: %v", err)
	}
	heavy := woman()
	heavy.Mass = 400
	if _, err := ByWork(heavy, nil); err == nil || !strings.Contains(err.Error(), "350 kg") {
		t.Errorf("a person of 400 kg: %v", err)
	}
}

func TestAdded(t *testing.T) {
	boy := Person{Sex: "male", Age: 10, Height: 1.38, Mass: 32, Activity: Active}
	growth, bearing, err := Added(boy)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "growth of a boy of 10, kcal", growth/kcal, 25, 1e-9)
	near(t, "bearing of a boy", bearing, 0, 0)
	mother := woman()
	mother.State, mother.Week = Lactating, 10
	growth, bearing, err = Added(mother)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "growth of a grown woman", growth, 0, 0)
	near(t, "milk in the first half year, kcal", bearing/kcal, 400, 1e-9)
}
