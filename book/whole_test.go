package book

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"evenstead/day"
)

// TestWholeGrowsAsItWouldBeRead adds entries to a book batch by batch, strikes of
// strikes, strikes of what is not known yet, rings and entries sent twice among them,
// and holds it to a book gathered at once and to Live.
func TestWholeGrowsAsItWouldBeRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []Entry
		w := NewWhole(nil)
		for n := 0; n < rapid.IntRange(1, 25).Draw(t, "entries"); {
			var more []Entry
			for range rapid.IntRange(1, 4).Draw(t, "batch") {
				n++
				more = append(more, drawEntry(t, n, slices.Concat(all, more)))
			}
			before := whole(w)
			next := w.With(more)
			if whole(w) != before {
				t.Fatal("the book that was added to is another")
			}
			all, w = append(all, more...), next
			if got, want := whole(w), whole(NewWhole(all)); got != want {
				t.Fatalf("grown:\n%s\ngathered:\n%s", got, want)
			}
			sameStand(t, w, all)
		}
	})
}

// drawEntry is entry n of a book: rain at some hour, at times in the place of
// another, or a strike; seldom one that was there already.
func drawEntry(t *rapid.T, n int, before []Entry) Entry {
	if len(before) > 0 && rapid.IntRange(0, 19).Draw(t, "again") == 0 {
		return rapid.SampledFrom(before).Draw(t, "which")
	}
	e := rain(n, float64(n))
	e.ID[0] = byte(rapid.IntRange(0, 3).Draw(t, "made")) // so that they do not arrive in the order of their ids
	e.Day = today + day.Day(rapid.IntRange(0, 4).Draw(t, "day"))
	e.Time = rapid.SampledFrom([]string{"", "", "07:00", "18:30"}).Draw(t, "time")
	switch rapid.IntRange(0, 4).Draw(t, "sort") {
	case 0:
		e = Entry{ID: e.ID, Day: e.Day, Kind: Struck}
		fallthrough
	case 1:
		e.Strikes = id(rapid.IntRange(1, n+2).Draw(t, "strikes"))
		if len(before) > 0 {
			e.Strikes = rapid.SampledFrom(before).Draw(t, "struck").ID
		}
	}
	return e
}

// whole writes down all that a book tells.
func whole(w *Whole) string {
	live, err := w.Live()
	text := fmt.Sprintln(w.Sum(), err)
	for _, list := range [][]Entry{w.All(), live} {
		for _, e := range list {
			text += fmt.Sprintln(e, w.Stands(&e), w.Striker(e.ID))
		}
		text += "\n"
	}
	return text
}

func sameStand(t *rapid.T, w *Whole, all []Entry) {
	got, err := w.Live()
	want, err2 := Live(all)
	if (err == nil) != (err2 == nil) || !slices.EqualFunc(got, want, Same) {
		t.Fatalf("%v %v\n%v %v", got, err, want, err2)
	}
	stands := map[uuid.UUID]bool{}
	for _, e := range got {
		stands[e.ID] = true
	}
	for _, e := range w.All() {
		if err == nil && w.Stands(&e) != stands[e.ID] {
			t.Fatalf("%v stands: %v", e, w.Stands(&e))
		}
	}
}

// TestARingHidesNothingElse: in a book with a ring of strikes what stands apart from
// it is told all the same, whatever came first.
func TestARingHidesNothingElse(t *testing.T) {
	struck := striking(rain(5, 5), 4)
	all := []Entry{striking(rain(1, 1), 2), striking(rain(2, 2), 1), rain(4, 4), struck}
	for range all {
		all = append(all[1:], all[0])
		for _, w := range []*Whole{NewWhole(all), NewWhole(all[:2]).With(all[2:]), NewWhole(all[:3]).With(all[3:])} {
			four := rain(4, 4)
			if _, err := w.Live(); err == nil || w.Stands(&four) || !w.Stands(&struck) {
				t.Errorf("%v; the struck entry stands: %v, its striker: %v", err, w.Stands(&four), w.Stands(&struck))
			}
		}
	}
}

// TestWholesShareNothingThatChanges grows two books from one.
func TestWholesShareNothingThatChanges(t *testing.T) {
	w := NewWhole([]Entry{rain(1, 1)}).With([]Entry{rain(2, 2)})
	a, b := w.With([]Entry{rain(3, 3)}), w.With([]Entry{rain(4, 4)})
	if got := a.All()[2].Body.Amount; got != 3 || b.All()[2].Body.Amount != 4 || len(w.All()) != 2 {
		t.Errorf("%v %v %v", a.All(), b.All(), w.All())
	}
}

// BenchmarkWholeWith is one entry that comes to a book of 100,000, at its end and
// long before.
func BenchmarkWholeWith(b *testing.B) {
	all := make([]Entry, 100_000)
	for i := range all {
		all[i] = rain(i+1, 3)
		all[i].ID[15], all[i].ID[14], all[i].ID[13] = byte(i), byte(i>>8), byte(i>>16)
		all[i].Day = today + day.Day(i/30)
	}
	w := NewWhole(all)
	for _, at := range []int{len(all) / 30, 100} {
		b.Run(fmt.Sprintf("day %d", at), func(b *testing.B) {
			e := rain(1, 3)
			e.Day = today + day.Day(at)
			w := w
			for i := 0; b.Loop(); i++ {
				e.ID[0], e.ID[1], e.ID[2] = 9, byte(i>>8), byte(i)
				w = w.With([]Entry{e})
			}
		})
	}
}
