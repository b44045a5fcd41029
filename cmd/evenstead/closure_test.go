package main

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"evenstead/demo"
	"evenstead/engine"
)

// TestClosureByHand: 10 come in to the first store and, with the 10 that come back,
// 20 go on to the second, which sends half of them back. Each unit is in either
// store 1 / (1 - 1/2) = 2 times, so half of the throughflow of 20 + 20 is cycled,
// and each of the 10 that come in passes 4 stores.
func TestClosureByHand(t *testing.T) {
	told := func(v float64) engine.Part { return engine.Part{Told: v} }
	b := engine.Balance{Material: "nitrogen", Unit: "kg", Flows: []engine.AccountFlow{
		{From: "trade", To: "soil", Part: told(10)}, {From: "soil", To: "plants", Part: told(20)}, {From: "plants", To: "soil", Part: told(10)},
		{From: "plants", To: "air", Part: told(4)}, {From: "plants", To: "trade", Part: told(5)},
	}, Stores: []engine.StoreChange{{Node: "soil"}, {Node: "plants", Before: 2, After: 3}, {Node: "larder", Before: 7, After: 7}}}
	c := closureOf(&b)
	if c.Why != "" || c.Through != 40 || math.Abs(c.Cycling-0.5) > 1e-12 || math.Abs(c.Path-4) > 1e-12 || c.Stored != 1 {
		t.Errorf("%+v", c)
	}
	if len(c.Brought) != 1 || len(c.Left) != 2 || c.Left[0].Node != "trade" || c.Left[1].All() != 4 {
		t.Errorf("brought %+v, left %+v", c.Brought, c.Left)
	}
	if c := closureOf(&engine.Balance{}); c.Why != "nothing moved" {
		t.Errorf("%+v", c)
	}
}

// TestLoopsOfTheDemoAddUp: of every material, what came in less what left is what
// the stores gained.
func TestLoopsOfTheDemoAddUp(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("q.toml", demo.Quernfold(), 0o600); err != nil {
		t.Fatal(err)
	}
	told(t, "describe", "q.toml", "--today", "2026-11-01")
	told(t, "note", "spread 10 L urine, plums on 2026-12-06\ndipped barn at 9000 L on 2026-12-05", "--today", "2027-06-01", "--who", "Sorrel", "--yes")
	var r struct{ Loops []closure }
	if err := json.Unmarshal([]byte(told(t, "reckon", "--today", "2027-06-01", "--json")), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Loops) != 6 {
		t.Fatalf("%d materials", len(r.Loops))
	}
	for _, c := range r.Loops {
		in, out := 0.0, 0.0
		for _, m := range c.Brought {
			in += m.All()
		}
		for _, m := range c.Left {
			out += m.All()
		}
		if math.Abs(in-out-c.Stored) > 1e-6*(1+in) {
			t.Errorf("%s: %g in, %g out, %g stored", c.Material, in, out, c.Stored)
		}
		if c.Why != "" || c.Cycling < 0 || c.Cycling >= 1 || c.Path < 1 {
			t.Errorf("%s: %+v", c.Material, c)
		}
	}
}
