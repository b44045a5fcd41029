package plan

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"evenstead/lp"
)

// TestWriteProgrammes writes the first stage of the three steads' plans as MPS to
// the folder that EVENSTEAD_LP_DIR names, and logs what each takes here, so that
// lp/testdata/second.mjs can be timed on the same.
func TestWriteProgrammes(t *testing.T) {
	dir := os.Getenv("EVENSTEAD_LP_DIR")
	if dir == "" {
		t.Skip("EVENSTEAD_LP_DIR names no folder to write to")
	}
	for _, pl := range places(t) {
		y, err := ask(reckoning(t, pl.text, pl.file, pl.learn, 30, 1)).look(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		g := y.without(nil).programme(nil, nil)
		g.p.Cost, g.p.RowNames, g.p.ColNames = g.stages[0], nil, nil
		f, err := os.Create(filepath.Join(dir, pl.name+".mps"))
		if err != nil {
			t.Fatal(err)
		}
		if err := lp.WriteMPS(f, g.p); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		best := time.Hour
		var s *lp.Solution
		for range 3 {
			began := time.Now()
			if s, err = lp.Solve(context.Background(), g.p, lp.Options{}); err != nil {
				t.Fatal(err)
			}
			best = min(best, time.Since(began))
		}
		t.Logf("%s: %d rows, %d columns, %d entries; %.10g in %d iterations, %.3f s", pl.name, len(g.p.RowLo), len(g.p.Cost), len(g.p.Row), s.Objective, s.Iterations, best.Seconds())
	}
}
