package data

import (
	"testing"

	"pgregory.net/rapid"
)

func TestLookups(t *testing.T) {
	tab := loaded(t)
	again, err := Load()
	if err != nil || again != tab {
		t.Error("tables must be read once")
	}
	if _, ok := tab.Food("moon_cheese"); ok {
		t.Error("found moon cheese")
	}
	for i := range tab.Foods {
		if f, ok := tab.Food(tab.Foods[i].ID); !ok || f != &tab.Foods[i] {
			t.Errorf("%s is not found in place", tab.Foods[i].ID)
		}
	}
}

// Every food named by another table has a composition.
func TestJoinsResolve(t *testing.T) {
	tab := loaded(t)
	named := map[string]string{}
	for _, c := range tab.Crops {
		named["crop "+c.ID] = c.Food
	}
	for _, w := range tab.Wild {
		named["wild "+w.ID] = w.Food
	}
	for _, l := range tab.Livestock {
		named["livestock "+l.ID] = l.Food
	}
	for what, food := range named {
		if _, ok := tab.Food(food); food != "" && !ok {
			t.Errorf("%s: no food %q", what, food)
		}
	}
	if len(named) < 150 {
		t.Errorf("only %d rows read", len(named))
	}
}

func TestNearest(t *testing.T) {
	among := []string{"potato", "sweet_potato", "bean_kidney", "wheat_winter", "kale", "squash_winter"}
	for _, c := range []struct{ word, want string }{
		{"potatoe", "potato"},
		{"Kale ", "kale"},
		{"kidney", "bean_kidney"},
		{"weat", "wheat_winter"},
		{"squahs", "squash_winter"},
		{"locomotive", ""},
		{"", ""},
	} {
		if got := Nearest(c.word, among); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.want)
		}
	}
}

func TestEditsIsADistance(t *testing.T) {
	word := rapid.StringMatching(`[a-zé]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		if (edits(a, b) == 0) != (a == b) {
			t.Errorf("edits(%q, %q) = %d", a, b, edits(a, b))
		}
		if edits(a, b) != edits(b, a) {
			t.Error("not symmetric")
		}
		if edits(a, c) > edits(a, b)+edits(b, c) {
			t.Error("a detour is shorter")
		}
	})
}

func BenchmarkFood(b *testing.B) {
	tab := loaded(b)
	for b.Loop() {
		tab.Food("zucchini")
	}
}
