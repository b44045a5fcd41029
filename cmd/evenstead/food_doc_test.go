package main

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"evenstead/day"
)

// handNeed is what the test reads of need --json.
type handNeed struct {
	People []struct {
		Energy struct {
			Now    float64 `json:"nasem_2023_mj"`
			ByWork float64 `json:"by_work_mj"`
		} `json:"energy"`
		Lines []struct {
			Nutrient string  `json:"nutrient"`
			Target   float64 `json:"target"`
		} `json:"lines"`
	} `json:"people"`
}

// handLarder is what it reads of larder --json.
type handLarder struct {
	Today day.Day     `json:"today"`
	Lots  []larderLot `json:"lots"`
}

// TestFoodByHand holds the hand sum of docs/food.md to what the commands tell.
func TestFoodByHand(t *testing.T) {
	raw, err := os.ReadFile("../../docs/food.md")
	if err != nil {
		t.Fatal(err)
	}
	_, doc, found := strings.Cut(string(raw), "## Need and larder by hand")
	if !found {
		t.Fatal("docs/food.md has no hand sum")
	}
	doc, _, _ = strings.Cut(doc, "\n## ")
	t.Chdir(t.TempDir())
	if err := os.WriteFile("small.toml", []byte(fenced(t, doc, "toml")), 0o600); err != nil {
		t.Fatal(err)
	}
	var need handNeed
	var store handLarder
	for command, to := range map[string]any{"need": &need, "larder": &store} {
		if err := json.Unmarshal([]byte(told(t, command, "small.toml", "--json")), to); err != nil {
			t.Fatalf("%s: %v", command, err)
		}
	}
	results := handResults(need, store)
	holdByHand(t, doc, results)
}

func handResults(need handNeed, store handLarder) map[string]float64 {
	const kcal = 0.004184
	out := map[string]float64{}
	who := need.People[0]
	out["need of energy, kcal a day"] = who.Energy.Now / kcal
	out["need by work, kcal a day"] = who.Energy.ByWork / kcal
	for _, l := range who.Lines {
		switch l.Nutrient {
		case "protein_g":
			out["need of protein, g a day"] = l.Target
		case "fat_g":
			out["need of fat, g a day"] = l.Target
		}
	}
	sum := 0.0
	for _, l := range store.Lots {
		sum += l.MJ
		quarter := math.NaN()
		if l.Quarter != nil {
			quarter = float64(*l.Quarter - store.Today)
		}
		switch l.Food {
		case "potato":
			out["potatoes, MJ"], out["age of the potatoes"], out["potatoes last, days"] = l.MJ, l.Aged, *l.Eaten
			out["days until a quarter of the potatoes is lost"] = quarter
		case "walnut_english":
			out["walnuts, MJ"], out["walnuts last, days"] = l.MJ, *l.Eaten
			out["days until a quarter of the walnuts is lost"] = quarter
		case "wheat_hard_red_winter":
			out["wheat, MJ"], out["age of the wheat"] = l.MJ, l.Aged
		}
	}
	out["days of energy in store"] = sum / who.Energy.Now
	return out
}
