package hearth

import (
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/data"
	"evenstead/stead"
	"evenstead/unit"
)

// telling is what the guards of a note say, stops marked with "STOP ".
func telling(t *testing.T, st *stead.Stead, e book.Entry, sys unit.System) string {
	t.Helper()
	tab, err := data.Load()
	must(t, err)
	var out []string
	for _, g := range Guarded(st, tab, sys)(e) {
		s := g.What + ": " + g.Why
		if g.Stop {
			s = "STOP " + s
		}
		if g.Source == "" {
			t.Errorf("%s has no source", s)
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

func TestGuardsAtThePointOfUse(t *testing.T) {
	plain := &stead.Stead{Place: stead.Place{Elevation: 400}, People: []stead.Person{{Name: "Wren", Age: 40}}}
	cradle := &stead.Stead{People: []stead.Person{{Name: "Wren", Age: 40}, {Name: "Pip", Age: 0.5}}}
	bearing := &stead.Stead{People: []stead.Person{{Name: "Wren", Age: 30, State: "pregnant"}}}
	entry := func(kind book.Kind, what, form string) book.Entry {
		return book.Entry{Kind: kind, Body: book.Body{What: what, Form: form}}
	}
	for _, c := range []struct {
		st          *stead.Stead
		e           book.Entry
		want, never string
	}{
		{plain, entry(book.Eaten, "bean_kidney", ""), "boil hard in fresh water for 10 minutes", "STOP"},
		{plain, entry(book.PutUp, "dry_bean", "dry"), "lectin", "STOP"},
		{plain, entry(book.Eaten, "cassava", ""), "peel, then soak or ferment", "STOP"},
		{plain, entry(book.Foraged, "elderberry", ""), "strip every berry off its stem", "STOP"},
		{plain, entry(book.PutUp, "elderberry", ""), "set cyanide free", ""},
		{plain, entry(book.Foraged, "pokeweed", ""), "STOP Pokeweed: root, berry and grown leaf poison", ""},
		{plain, entry(book.PutUp, "pokeweed", "jarred"), "STOP Pokeweed", ""},
		{plain, entry(book.Foraged, "air_potato", ""), "STOP ", ""},
		{plain, entry(book.Foraged, "acorn", ""), "Look-alikes: poisonous, saponin-bearing nuts", "STOP"},
		{plain, entry(book.Foraged, "acorn", ""), "second opinion before it is eaten", ""},
		{plain, entry(book.Taken, "honey", ""), "infant botulism", "STOP"},
		{plain, entry(book.Eaten, "honey", ""), "none before the first birthday", "STOP"},
		{cradle, entry(book.Eaten, "honey", ""), "STOP Honey", ""},
		{cradle, entry(book.Taken, "honey", ""), "infant botulism", "STOP"},
		{bearing, entry(book.Eaten, "chicken_liver", ""), "STOP Liver", ""},
		{plain, entry(book.PutUp, "chicken_liver", ""), "", "Liver"},
		{plain, entry(book.PutUp, "snap_bean", "jarred"), "beans, snap, hot pack, quarts: 25 min at 76 kPa by the dial", "STOP"},
		{plain, entry(book.PutUp, "tomato", "jarred"), "30 mL of bottled lemon juice", "STOP"},
		{plain, entry(book.PutUp, "tomato", "jarred"), "quarts: 50 min in boiling water", "STOP"}, // crushed, at 400 m
		{plain, entry(book.PutUp, "kohlrabi", "jarred"), "STOP Jars of kohlrabi: no tested time", ""},
		{plain, entry(book.PutUp, "strawberry", "jarred"), "STOP Jars of strawberry", ""},
		{plain, entry(book.PutUp, "honey", "jarred"), "", "STOP"},
		{plain, entry(book.PutUp, "walnut_english", "jarred"), "", "STOP"},
		{plain, entry(book.Eaten, "snap_bean", "jarred"), "boil it 12 minutes here", "STOP"},
		{plain, entry(book.Eaten, "peach", "jarred"), "bulges, leaks, spurts", "boil it"},
		{plain, entry(book.PutUp, "kale", "dried"), "not dried in the sun", "STOP"},
		{plain, entry(book.PutUp, "apple", "dried"), "", "sun"},
		{plain, entry(book.PutUp, "cabbage", "fermented"), "Weigh the salt", "STOP"},
		{plain, entry(book.PutUp, "garlic", "dried"), "botulism grows in oil", "STOP"},
		{plain, entry(book.Picked, "potato", ""), "green skin", "STOP"},
		{plain, entry(book.Lost, "pokeweed", ""), "", "Pokeweed"},
		{plain, entry(book.Counted, "honey", ""), "", "Honey"},
	} {
		said := telling(t, c.st, c.e, unit.Metric)
		if !strings.Contains(said, c.want) || c.never != "" && strings.Contains(said, c.never) {
			t.Errorf("%s %s %s: want %q and not %q, told:\n%s", c.e.Kind, c.e.Body.What, c.e.Body.Form, c.want, c.never, said)
		}
	}
	if said := telling(t, plain, entry(book.PutUp, "snap_bean", "jarred"), unit.US); !strings.Contains(said, "at 11 psi") {
		t.Errorf("US units: %s", said)
	}
}

// Every hazard of the table stands at some use of each of its foods.
func TestEveryHazardIsGuarded(t *testing.T) {
	tab, err := data.Load()
	must(t, err)
	st := &stead.Stead{People: []stead.Person{{Name: "Pip", Age: 0.5}, {Name: "Wren", Age: 30, State: "pregnant"}}}
	guards := Guarded(st, tab, unit.Metric)
	for _, h := range tab.Hazards {
		for _, id := range h.Foods {
			told := false
			for _, kind := range []book.Kind{book.Foraged, book.PutUp, book.Eaten} {
				for _, form := range append(book.Forms(), "") {
					for _, g := range guards(book.Entry{Kind: kind, Body: book.Body{What: id, Form: form}}) {
						told = told || g.Source == h.Source && strings.Contains(g.Why, h.Rule)
					}
				}
			}
			if !told {
				t.Errorf("%s of %s is told nowhere", h.Name, id)
			}
		}
	}
}

// TestGuardsOfDeeds: work that can hurt though nobody eats of it has the description's
// caution where it is written; daily work and what the stead lacks have none.
func TestGuardsOfDeeds(t *testing.T) {
	st := &stead.Stead{
		Roofs: []stead.Roof{{}}, Toilets: []stead.Toilet{{Drums: 2}}, Digesters: []stead.Digester{{Name: "dome"}},
		Cookers:   []stead.Cooker{{Kind: "bottle"}},
		Treatment: []stead.Treatment{{Kind: "filter"}, {Kind: "boil"}, {Kind: "chlorine"}, {Kind: "sun"}},
	}
	bare := &stead.Stead{Roofs: []stead.Roof{{}}}
	for _, c := range []struct {
		st   *stead.Stead
		kind book.Kind
		body book.Body
		want string
	}{
		{st, book.Opened, book.Body{Where: "drum 1"}, "rests shut at least one year"},
		{st, book.Spread, book.Body{What: "drum 2", Where: "figs"}, "never to vegetables"},
		{st, book.Spread, book.Body{What: "urine", Where: "B1"}, "not within a month of harvest"},
		{st, book.Emptied, book.Body{Where: "dome"}, "hydrogen sulphide"},
		{st, book.FuelIn, book.Body{What: "propane"}, "carbon monoxide"},
		{st, book.Treated, book.Body{What: "filter"}, "Cryptosporidium and Giardia"},
		{st, book.Treated, book.Body{Extra: map[string]string{"by": "boiling"}}, "rolling boil"},
		{st, book.Treated, book.Body{What: "chlorine"}, "30 minutes"},
		{st, book.Treated, book.Body{What: "sun"}, "6 hours"},
		{bare, book.Treated, book.Body{What: "filter"}, "not fit to drink as caught"},
		{bare, book.Ill, book.Body{What: "Wren"}, "clinician"},
		{st, book.Fed, book.Body{Where: "dome", What: "scraps"}, ""},
		{st, book.Emptied, book.Body{Where: "barn"}, ""},
		{bare, book.Opened, book.Body{Where: "drum 1"}, ""},
	} {
		said := telling(t, c.st, book.Entry{Kind: c.kind, Body: c.body}, unit.Metric)
		if !strings.Contains(said, c.want) || (c.want == "") != (said == "") {
			t.Errorf("%s %+v: want %q, told %q", c.kind, c.body, c.want, said)
		}
	}
}
