package larder

import (
	"math"
	"slices"
	"strings"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func loaded(tb testing.TB) *data.Tables {
	tb.Helper()
	tab, err := data.Load()
	if err != nil {
		tb.Fatal(err)
	}
	return tab
}

func food(tb testing.TB, id string) *data.Food {
	tb.Helper()
	f, ok := loaded(tb).Food(id)
	if !ok {
		tb.Fatalf("no food %s", id)
	}
	return f
}

func mass(parts []Part) (kg float64) {
	for _, p := range parts {
		kg += p.Kg
	}
	return kg
}

// Mass, water and food energy balance through every way of putting up every food.
func TestWaysBalance(t *testing.T) {
	tab := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		f := &tab.Foods[rapid.IntRange(0, len(tab.Foods)-1).Draw(t, "food")]
		g := Glut{f, rapid.Float64Range(0.01, 2000).Draw(t, "kg"), 1 - f.Refuse}
		if g.Edible <= 0 {
			return
		}
		k := Kitchen{rapid.Float64Range(0, 2400).Draw(t, "altitude"), rapid.Float64Range(10, 30).Draw(t, "crock"), rapid.Float64Range(0, 42).Draw(t, "tmax"), 10}
		ways, err := Ways(tab, g, k)
		if err != nil {
			if len(tab.HazardsOf(f.ID)) == 0 {
				t.Fatal(err)
			}
			return
		}
		for _, w := range ways {
			if w.Stop != "" {
				if len(w.In)+len(w.Out) > 0 || w.Jars > 0 {
					t.Fatalf("%s %s is stopped and yet made: %+v", f.ID, w.Name, w)
				}
				continue
			}
			if in, out := mass(w.In), mass(w.Out); math.Abs(in-out) > 1e-9*(1+in) {
				t.Fatalf("%s, %s: %g kg in, %g out", f.ID, w.Name, in, out)
			}
			if math.Abs(w.MJIn-w.MJOut-w.MJLost) > 1e-9*(1+w.MJIn) || w.MJLost < -1e-9*(1+w.MJIn) {
				t.Fatalf("%s, %s: %g MJ in, %g out, %g lost", f.ID, w.Name, w.MJIn, w.MJOut, w.MJLost)
			}
			for _, p := range append(slices.Clone(w.In), w.Out...) {
				if p.Kg < 0 || math.IsNaN(p.Kg) {
					t.Fatalf("%s, %s: %s %g kg", f.ID, w.Name, p.What, p.Kg)
				}
			}
			if w.Form != "" {
				waterBalances(t, f, g, w)
			}
			if math.IsNaN(w.Minutes+w.Heat+w.Litres) || w.Minutes < 0 || w.Source == "" {
				t.Fatalf("%s, %s: %+v", f.ID, w.Name, w)
			}
		}
	})
}

// waterBalances holds the water of a put-up food: what was in it and came to it
// is in the product or went off.
func waterBalances(t *rapid.T, f *data.Food, g Glut, w Way) {
	in, off := g.Kg*g.Edible*f.Water, 0.0
	for _, p := range w.In {
		if p.What == "water" {
			in += p.Kg
		}
	}
	for _, p := range w.Out {
		if p.What == "water off" {
			off += p.Kg
		}
	}
	if math.Abs(in-off-w.productWaters) > 1e-9*(1+in) {
		t.Fatalf("%s, %s: %g kg of water in, %g off, %g in the product", f.ID, w.Name, in, off, w.productWaters)
	}
}

func way(t *testing.T, id string, k Kitchen, name string) Way {
	t.Helper()
	f := food(t, id)
	ways, err := Ways(loaded(t), Glut{f, 10, 1 - f.Refuse}, k)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(ways, func(w Way) bool { return w.Name == name })
	if i < 0 {
		t.Fatalf("no way to %s %s", name, id)
	}
	return ways[i]
}

func TestNothingOutsideTheTableIsOffered(t *testing.T) {
	sea := Kitchen{Crock: 20, TMax: 20, TMin: 10}
	for _, id := range []string{"broccoli", "cabbage", "melon", "cantaloupe", "zucchini", "elderberry", "eggplant"} {
		f, ok := loaded(t).Food(id)
		if !ok {
			continue
		}
		ways, err := Ways(loaded(t), Glut{f, 10, 1 - f.Refuse}, sea)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range ways {
			if w.Form == Jarred && (w.Stop == "" || !strings.Contains(w.Stop, "no tested time")) {
				t.Errorf("%s goes into jars untested: %+v", id, w)
			}
		}
	}
	for _, tested := range way(t, "snap_bean", sea, "can in jars").Batches {
		if tested.Method == BoilingWater {
			t.Errorf("snap beans in boiling water: %+v", tested)
		}
	}
	high := Kitchen{Altitude: 2600, Crock: 20, TMax: 20, TMin: 10}
	if w := way(t, "snap_bean", high, "can in jars"); w.Stop == "" {
		t.Errorf("no pressure is tested at 2,600 m: %+v", w)
	}
	if w := way(t, "tomato", sea, "can in jars"); !slices.Contains(w.Do, Acidify) {
		t.Errorf("tomatoes without their acid: %q", w.Do)
	}
	if _, err := Ways(loaded(t), Glut{food(t, "poke_shoots"), 1, 1}, sea); err == nil || !strings.Contains(err.Error(), "not put up") {
		t.Errorf("pokeweed: %v", err)
	}
}

func TestGlutIsRefusedInWords(t *testing.T) {
	f := food(t, "apple")
	for _, g := range []Glut{{f, -3, 1}, {f, 0, 1}, {f, math.NaN(), 1}, {f, math.Inf(1), 1}, {f, 1, 0}, {f, 1, 2}} {
		if _, err := Ways(loaded(t), g, Kitchen{}); err == nil || !strings.Contains(err.Error(), "give more than 0 kg") {
			t.Errorf("%+v: %v", g, err)
		}
	}
}

func TestTheSunDriesFruitAlone(t *testing.T) {
	hot := Kitchen{Crock: 20, TMax: 33, TMin: 18}
	said := func(id string, k Kitchen) string { return strings.Join(way(t, id, k, "dry").Do, " ") }
	if s := said("apple", hot); !strings.Contains(s, "In the sun, at a usual day of 33") {
		t.Error(s)
	}
	if s := said("apple", Kitchen{Crock: 20, TMax: 24, TMin: 12}); !strings.Contains(s, "Not in the sun now") {
		t.Error(s)
	}
	if s := said("kale", hot); !strings.Contains(s, "Not in the sun: vegetables") {
		t.Error(s)
	}
	rapid.Check(t, func(t *rapid.T) {
		tmax := rapid.Float64Range(30, 44).Draw(t, "tmax")
		tmin := rapid.Float64Range(0, 25).Draw(t, "tmin")
		a, ok := SunDays(10, tmax, tmin)
		b, _ := SunDays(10, tmax+1, tmin)
		if !ok || !(b < a) {
			t.Fatalf("%g days at %g °C, %g a degree warmer", a, tmax, b)
		}
	})
}

func TestFermentsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := must(rapid.Float64Range(0.1, 1000).Draw(t, "litres"), rapid.Float64Range(1.01, 1.14).Draw(t, "gravity"))
		f := m.Yeast()
		if math.Abs(m.Kg-f.Kg-f.Gas-f.Lees) > 1e-9*m.Kg || f.Lost < 0 || f.ABV < 0 || f.ABV > 15.001 {
			t.Fatalf("%+v from %+v", f, m)
		}
		v := f.Sour()
		if math.Abs(f.Kg+v.Oxygen-v.Kg-v.Gas) > 1e-9*m.Kg || v.Lost < 0 {
			t.Fatalf("%+v from %+v", v, f)
		}
	})
}

func TestSheets(t *testing.T) {
	for _, kind := range SheetKinds() {
		s, err := SheetOf(kind, 10, 21)
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		if len(s.Stages) < 3 || s.Stages[0].From != 0 || s.Source == "" || len(s.In) == 0 {
			t.Errorf("%s: %+v", kind, s)
		}
		for i := range s.Stages {
			if i > 0 && s.Stages[i].From < s.Stages[i-1].From || s.Stages[i].To < s.Stages[i].From || s.Stages[i].Do == "" {
				t.Errorf("%s, %s: %+v", kind, s.Stages[i].Name, s.Stages[i])
			}
		}
		if at, left, next := s.At(0); at != 0 || !next || left != s.Stages[1].From {
			t.Errorf("%s begins at stage %d, %g days left", kind, at, left)
		}
		if at, _, next := s.At(4000); next || at != len(s.Stages)-1 {
			t.Errorf("%s ends at stage %d", kind, at)
		}
	}
	for _, c := range []struct {
		kind     string
		kg, temp float64
		says     string
	}{
		{"kraut", 10, 30, "softens"}, {"kraut", 10, 8, "may not start"}, {"cider", 10, 2, "sleeps"}, {"gin", 1, 20, "no batch sheet"},
		{"kraut", -1, 20, "more than 0"}, {"mead", math.NaN(), 20, "more than 0"}, {"tea", 4, math.NaN(), "keep it at"},
	} {
		if _, err := SheetOf(c.kind, c.kg, c.temp); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func TestThawList(t *testing.T) {
	list, err := ThawList()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range loaded(t).Foods {
		group := ThawGroup(f.Category)
		if !slices.ContainsFunc(list, func(r Thawed) bool { return r.Group == group }) {
			t.Errorf("%s: no row %q", f.ID, group)
		}
	}
}

// Every name of the join is a row of the table it points into.
func TestNamesJoin(t *testing.T) {
	tab := loaded(t)
	set, err := tables()
	if err != nil {
		t.Fatal(err)
	}
	known, err := CanningFoods()
	if err != nil {
		t.Fatal(err)
	}
	for id, n := range set.names {
		if _, ok := tab.Food(id); !ok {
			t.Errorf("no food %q", id)
		}
		for _, c := range n.Canning {
			if !slices.Contains(known, c) {
				t.Errorf("%s: no canning row %q", id, c)
			}
		}
		if _, err := AcidClass(n.PH); n.PH != "" && err != nil {
			t.Errorf("%s: %v", id, err)
		}
		if _, err := Prepare(n.Prepare); n.Prepare != "" && err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
}

// A food that the engine puts into jars has a tested time.
func TestJarsAreTested(t *testing.T) {
	tab := loaded(t)
	jarred := 0
	for i := range tab.Foods {
		f := &tab.Foods[i]
		for _, row := range tab.PutUps(f) {
			if row.Method != Jarred {
				continue
			}
			jarred++
			if n, err := NamesOf(f.ID); err != nil || len(n.Canning) == 0 {
				t.Errorf("%s (%s) goes into jars and has no tested time (%v)", f.ID, f.Category, err)
			}
		}
	}
	if jarred < 35 {
		t.Errorf("only %d foods go into jars", jarred)
	}
}
