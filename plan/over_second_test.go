package plan

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"evenstead/lp"
)

// TestWriteOver writes the programmes of ten possible years of the three steads,
// as TestWriteProgrammes does those of one.
func TestWriteOver(t *testing.T) {
	dir := os.Getenv("EVENSTEAD_LP_DIR")
	if dir == "" {
		t.Skip("EVENSTEAD_LP_DIR names no folder to write to")
	}
	for _, pl := range places(t) {
		y, err := ask(reckoning(t, pl.text, pl.file, pl.learn, 30, 1)).look(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		y = y.without(nil)
		chances := y.chances(10)
		began := time.Now()
		alone, err := y.alone(context.Background(), everyThird(chances), nil)
		if err != nil {
			t.Fatal(err)
		}
		first := time.Since(began)
		y = y.thoseUsed(alone)
		g := y.programmeOver(y.in(chances), nil, nil, nil)
		g.p.Cost, g.p.RowNames, g.p.ColNames = g.weighed(), nil, nil
		f, err := os.Create(filepath.Join(dir, pl.name+"-ten.mps"))
		if err != nil {
			t.Fatal(err)
		}
		if err := lp.WriteMPS(f, g.p); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		began = time.Now()
		s, err := lp.Solve(context.Background(), g.p, lp.Options{Tol: nearEnough, Shared: g.shared(), Workers: runtime.GOMAXPROCS(0)})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d rows, %d columns, %d of them shared, %d entries; %.10g in %d iterations, %.2f s (and %.2f s to choose the sowings looked at)",
			pl.name, len(g.p.RowLo), len(g.p.Cost), len(g.shared()), len(g.p.Row), s.Objective, s.Iterations, time.Since(began).Seconds(), first.Seconds())
	}
}
