package stead

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"evenstead/data"
)

func TestOwnFood(t *testing.T) {
	s, err := Read("own.toml", []byte(`
place.latitude = 40
people = 1
food = [{ name = "hearth bread", like = "wheat_flour_whole", per_100g = ["energy 230 kcal", "protein 8 g", "vitamin B6 90 µg"] }]
lot = [{ food = "hearth bread", form = "dry", mass = "3 kg" }]
`))
	if err != nil {
		t.Fatal(err)
	}
	plain, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := s.Tables(plain)
	if err != nil {
		t.Fatal(err)
	}
	bread, ok := tab.Food("hearth bread")
	if !ok || len(tab.Foods) != len(plain.Foods)+1 {
		t.Fatalf("%d foods, %d before", len(tab.Foods), len(plain.Foods))
	}
	if _, ok := plain.Food("hearth bread"); ok {
		t.Error("the shared tables were changed")
	}
	flour, _ := plain.Food("wheat_flour_whole")
	for id, want := range map[string]float64{
		"energy_mj": 2300 * 0.004184, "protein_g": 80, "vit_b6_mg": 0.9, "iron_mg": flour.Nutrient[plain.NutrientIndex("iron_mg")]} {
		if got := bread.Nutrient[tab.NutrientIndex(id)]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: got %g a kg, want %g", id, got, want)
		}
	}
	if a, b := tab.KeepingOf(bread, "dry"), tab.KeepingOf(flour, "dry"); len(a) != len(b) || len(a) == 0 {
		t.Errorf("kept by %d rows, its stand-in by %d", len(a), len(b))
	}
	for _, row := range tab.PutUps(bread) {
		if row.Method == "jarred" {
			t.Error("an own food goes into jars untested")
		}
	}
}

// An own food like one with hazards keeps them.
func TestOwnFoodKeepsItsHazards(t *testing.T) {
	plain, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	s := &Stead{Foods: []OwnFood{{Name: "red beans of the hill", Like: "bean_kidney"}}}
	tab, err := s.Tables(plain)
	if err != nil {
		t.Fatal(err)
	}
	if got := tab.HazardsOf("red beans of the hill"); len(got) != len(plain.HazardsOf("bean_kidney")) || len(got) == 0 {
		t.Errorf("hazards: %+v", got)
	}
}

func FuzzFigure(f *testing.F) {
	for _, text := range []string{"energy 230 kcal", "vitamin B6 90 µg", "iron -2 mg", "iron 2", "", "iron NaN mg", "folate 1,200 µg DFE"} {
		f.Add(text)
	}
	tab, err := data.Load()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		j, v, err := figure(text, tab.Nutrients)
		if err == nil && (j < 0 || !(v >= 0) || math.IsInf(v, 0)) {
			t.Errorf("%q read as %g of nutrient %d", text, v, j)
		}
	})
}

// TestRation: a ration holds its food, own or of the table, and no other, and is
// written as it is read.
func TestRation(t *testing.T) {
	plain, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	s := &Stead{Foods: []OwnFood{{Name: "hearth bread", Like: "rye"}},
		Rations: []Ration{{Food: "almond", Most: 0.02}, {Food: "hearth bread", Most: 0.3}}}
	tab, err := s.Tables(plain)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]float64{"almond": 0.02, "hearth bread": 0.3, "rye": 0, "hazelnut": 0} {
		if f, ok := tab.Food(id); !ok || f.Most != want {
			t.Errorf("%s: %+v, want at most %g", id, f, want)
		}
	}
	if f, _ := plain.Food("almond"); f.Most != 0 {
		t.Error("the shared tables were changed")
	}
	if _, err := (&Stead{Rations: []Ration{{Food: "nothing", Most: 1}}}).Tables(plain); err == nil {
		t.Error("a ration of no food is no error")
	}
	var b bytes.Buffer
	if err := s.Write(&b); err != nil || !strings.Contains(b.String(), "[[ration]]\nfood = \"almond\"\nmost = ") {
		t.Errorf("written as %s, %v", &b, err)
	}
}

// TestPiece: what the household says that one weighs goes before the table, by the
// word for it where there is one; it is written and read again.
func TestPiece(t *testing.T) {
	plain, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	s := &Stead{Pieces: []Piece{{Food: "onion", Weighs: 0.2}, {Food: "garlic", Weighs: 0.06, Called: "Head"}}}
	tab, err := s.Tables(plain)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		food, word string
		kg         float64
		edible     bool
	}{{"onion", "", 0.2, false}, {"onion", "bulb", 0.2, false}, {"garlic", "", 0.06, false}, {"garlic", "head", 0.06, false}, {"garlic", "clove", 0.003, true}, {"tomato", "", 0.123, true}} {
		if p, ok := tab.Piece(c.food, c.word); !ok || p.Kg != c.kg || p.Edible != c.edible {
			t.Errorf("one %q of %s is %+v, want %g kg", c.word, c.food, p, c.kg)
		}
	}
	if p, _ := plain.Piece("onion", ""); p.Kg != 0.11 {
		t.Error("the tables are changed")
	}
	if _, err := (&Stead{Pieces: []Piece{{Food: "nothing", Weighs: 1}}}).Tables(plain); err == nil {
		t.Error("a piece of no food is no error")
	}
	var b bytes.Buffer
	if err := s.Write(&b); err != nil || !strings.Contains(b.String(), "[[piece]]\nfood = \"garlic\"\nweighs = \"0.06 kg\"\ncalled = \"Head\"\n") {
		t.Errorf("pieces are written as %q, %v", b.String(), err)
	}
}
