package main

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/larder"
)

// larderOf is the demo's larder with something asked.
func larderOf(t *testing.T, ask func(*lardering)) *larderBook {
	t.Helper()
	q := &lardering{}
	q.name, q.text, q.units, q.days, q.members, q.seed = "quernfold.toml", demo.Quernfold(), "auto", 365, 20, 3
	ask(q)
	r, err := q.prepare(time.Now)
	if err != nil {
		t.Fatal(err)
	}
	b, err := q.over(context.Background(), r, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestLarderKeepsTheLots(t *testing.T) {
	b := larderOf(t, func(*lardering) {})
	numbers := map[string]string{}
	for i, l := range b.Lots {
		if other, twice := numbers[l.Number]; twice {
			t.Errorf("%s and %s are both lot %s", other, l.Food, l.Number)
		}
		numbers[l.Number] = l.Food
		if i > 0 && l.Quarter != nil && b.Lots[i-1].Quarter != nil && *l.Quarter < *b.Lots[i-1].Quarter {
			t.Errorf("%s stands after what goes later", l.Food)
		}
		if l.Quarter != nil && (l.Half != nil && *l.Half < *l.Quarter || *l.GoOver > *l.Quarter) {
			t.Errorf("%s: go over %v, a quarter %v, half %v", l.Food, l.GoOver, l.Quarter, l.Half)
		}
		if !(l.Kg > 0) || l.Lost < 0 || l.Lost > l.Kg || !slices.IsSortedFunc(l.Sound, func(a, b float64) int { return int(math.Copysign(1, b-a)) }) {
			t.Errorf("%+v", l)
		}
	}
	if len(b.Lots) != 26 || len(b.Labels) != 26 || len(b.Guards) < 10 {
		t.Errorf("%d lots, %d labels, %d guards", len(b.Lots), len(b.Labels), len(b.Guards))
	}
}

// By hand: 67.1 days of life at 14 °C, two thirds of it in air of 80 % where they like
// 90, 30 days old; a quarter of what is there is
// lost when the cube of the age has grown by one (docs/food.md).
func TestApplesByHand(t *testing.T) {
	b := larderOf(t, func(*lardering) {})
	i := slices.IndexFunc(b.Lots, func(l larderLot) bool { return l.Food == "apple" && l.Form == larder.Fresh })
	apple := b.Lots[i]
	life := math.Sqrt(45*100) / (0.5 + 0.5*0.20/0.10)
	x0 := 30 / life
	days := (math.Cbrt(x0*x0*x0+1) - x0) * life
	if got := float64(*apple.Quarter - b.Today); math.Abs(got-math.Ceil(days)) > 0.5 {
		t.Errorf("a quarter is lost after %g days, by hand %g", got, days)
	}
	if want := 48 - 19*0.8/0.9; math.Abs(apple.Lost-want) > 0.01 {
		t.Errorf("%g kg can't be eaten by then, by hand %g", apple.Lost, want)
	}
}

// What should fill a gap does: walnuts against the want of fat.
func TestGapIsFilledByWhatShould(t *testing.T) {
	b := larderOf(t, func(q *lardering) { q.gap = true })
	i := slices.IndexFunc(b.Gap.Needs, func(n larderLean) bool { return n.ID == "fat_g" })
	if i < 0 || len(b.Gap.Needs[i].Spans) == 0 {
		t.Fatalf("fat is not lean: %+v", b.Gap.Needs)
	}
	fat := b.Gap.Needs[i]
	if len(fat.Fills) == 0 || len(fat.Fills) > shownEach {
		t.Fatalf("fat is filled by %+v", fat.Fills)
	}
	if best := fat.Fills[0]; best.After >= best.Before-0.5 || best.Then <= best.Met {
		t.Errorf("the best, %s, leaves %g lean weeks of %g", best.Name, best.After, best.Before)
	}
	if !slices.Contains(b.Gap.Not, "iodine") {
		t.Errorf("iodine is told as known: %q", b.Gap.Not)
	}
	if len(b.Gap.Weakest) < 3 || b.Gap.Weakest[0] != "vitamin D" {
		t.Errorf("weakest: %q", b.Gap.Weakest)
	}
}

func FuzzGlut(f *testing.F) {
	for _, text := range []string{"tomato 20 kg", "20 lb snap beans", "tomato", "", "-3 kg kale", "kale -3 kg", "é 1 kg", "1", "kale 1e400 kg", "kale 2 stone"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if _, kg, err := readGlut(text); err == nil && !(kg > 0 && kg <= 1e5) {
			t.Errorf("%q read as %g kg", text, kg)
		}
	})
}

func TestFahrenheit(t *testing.T) {
	for _, c := range []struct{ metric, us string }{
		{"keep it at 16 to 24 °C; colder it may not start", "keep it at 60.8 to 75.2 °F; colder it may not start"},
		{"freeze at -18 °C", "freeze at −0.4 °F"},
		{"30 minutes at 71 °C, 8 K above", "30 minutes at 159.8 °F, 8 K above"},
		{"no temperature", "no temperature"},
	} {
		if got := fahrenheit(c.metric); got != c.us {
			t.Errorf("%q: got %q, want %q", c.metric, got, c.us)
		}
	}
}
