package main

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"evenstead/demo"
	"evenstead/reckon"
)

// TestLoopsOfTheDemoAddUp: of every material, what came in less what left is what
// the stores gained.
func TestLoopsOfTheDemoAddUp(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("q.toml", demo.Quernfold(), 0o600); err != nil {
		t.Fatal(err)
	}
	told(t, "describe", "q.toml", "--today", "2026-11-01")
	told(t, "note", "spread 10 L urine, plums on 2026-12-06\ndipped barn at 9000 L on 2026-12-05", "--today", "2027-06-01", "--who", "Sorrel", "--yes")
	var r struct{ Loops []reckon.Closure }
	if err := json.Unmarshal([]byte(told(t, "reckon", "--today", "2027-06-01", "--json")), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Loops) != 7 {
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
