package book

import (
	"errors"
	"strings"
	"testing"

	"evenstead/unit"
)

func TestMoves(t *testing.T) {
	for _, c := range []struct {
		e    Entry
		want Move
	}{
		{Entry{Kind: Spread, Body: Body{What: "urine", Where: "north"}}, Move{"urine", "north"}},
		{Entry{Kind: Spread, Body: Body{What: "hen_litter", Where: "north"}}, Move{"manure", "north"}},
		{Entry{Kind: Spread, Body: Body{What: "Drum 2", Where: "figs"}}, Move{"drum 2", "figs"}},
		{Entry{Kind: Spread, Body: Body{What: "washing water", Where: "figs"}}, Move{"", "figs"}},
		{Entry{Kind: Spread, Body: Body{What: "greywater", Where: "figs"}}, Move{"greywater", "figs"}},
		{Entry{Kind: Spread, Body: Body{What: "wood ash", Where: "north"}}, Move{"ash", "north"}},
		{Entry{Kind: Emptied, Body: Body{Where: "digester 1", Extra: map[string]string{"to": "figs"}}}, Move{"digestate", "figs"}},
		{Entry{Kind: Emptied, Body: Body{Where: "bin 2"}}, Move{"compost", ""}},
		{Entry{Kind: Opened, Body: Body{Where: "drum 1"}}, Move{"drum 1", ""}},
		{Entry{Kind: Opened, Body: Body{Where: "bin 1"}}, Move{}},
		{Entry{Kind: Picked, Body: Body{What: "kale", Where: "north"}}, Move{"picking", "north"}},
		{Entry{Kind: Fed, Body: Body{Where: "digester 1", Measure: unit.Mass, Amount: 3}}, Move{"feed", "digester 1"}},
		{Entry{Kind: Fed, Body: Body{Where: "digester 1", Measure: unit.Volume, Amount: 3}}, Move{}},
		{Entry{Kind: Rain}, Move{}},
	} {
		if got := Moves(c.e); got != c.want {
			t.Errorf("%s %+v: %+v, want %+v", c.e.Kind, c.e.Body, got, c.want)
		}
	}
}

// Each kind of bar stands against the entry on its side and lets the other pass.
func TestBarsStand(t *testing.T) {
	urine := Entry{Kind: Spread, Day: today, Body: Body{What: "urine", Where: "north", Amount: 3, Measure: unit.Volume}}
	fed := Entry{Kind: Fed, Day: today, Body: Body{Where: "digester 1", Amount: 20, Measure: unit.Mass}}
	picked := Entry{Kind: Picked, Day: today, Body: Body{What: "kale", Where: "north", Amount: 1, Measure: unit.Mass}}
	reasoned := urine
	reasoned.Body.Extra = map[string]string{"reason": "at the edge"}
	for _, c := range []struct {
		name string
		e    Entry
		bar  Bar
		bars bool
	}{
		{"after the last day", urine, Bar{What: "urine", At: "north", Last: today - 1}, true},
		{"on the last day", urine, Bar{What: "urine", At: "north", Last: today}, false},
		{"on no day", urine, Bar{What: "urine", At: "north"}, true},
		{"another place", urine, Bar{What: "urine", At: "south"}, false},
		{"another thing", urine, Bar{What: "compost", At: "north"}, false},
		{"any place", urine, Bar{What: "urine"}, true},
		{"with a reason", reasoned, Bar{What: "urine"}, false},
		{"over the most", fed, Bar{What: "feed", At: "digester 1", Most: 19.9}, true},
		{"the most", fed, Bar{What: "feed", At: "digester 1", Most: 20}, false},
		{"the day before it is free", picked, Bar{What: "picking", At: "north", From: today - 10, Free: today + 1}, true},
		{"the day it is free", picked, Bar{What: "picking", At: "north", From: today - 10, Free: today}, false},
		{"before it was spread", picked, Bar{What: "picking", At: "north", From: today + 1, Free: today + 30}, false},
	} {
		c.bar.Why, c.bar.Rule, c.bar.Source = "too near the harvest", "the rule", "its source"
		err := Context{Bars: []Bar{c.bar}}.gate(c.e)
		if errors.Is(err, ErrGate) != c.bars {
			t.Errorf("%s: %v", c.name, err)
		}
		if c.bars && (!strings.Contains(err.Error(), "the rule; its source") || !strings.Contains(err.Error(), "too near")) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
