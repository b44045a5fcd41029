package plan

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"evenstead/lp"
)

// BenchmarkProgrammes solves what the plans of the three steads come down to: the
// first stage of the one poor year, and ten possible years whose sowings are decided
// once. Each is written as MPS to the folder that EVENSTEAD_LP_DIR names, if it names
// one, so that lp/testdata/second.mjs can be timed on the same.
func BenchmarkProgrammes(b *testing.B) {
	for _, pl := range places(b) {
		y, err := ask(reckoning(b, pl.text, pl.file, pl.learn, 30, 1)).look(context.Background())
		if err != nil {
			b.Fatal(err)
		}
		y = y.without(nil)
		one := y.programme(nil, nil)
		one.p.Cost = one.stages[0]
		b.Run(pl.name, func(b *testing.B) { solveWritten(b, one.p, pl.name, lp.Options{}) })

		chances := y.chances(UsualYears)
		alone, err := y.alone(context.Background(), everyThird(chances), nil)
		if err != nil {
			b.Fatal(err)
		}
		y = y.thoseUsed(alone)
		many := y.programmeOver(y.in(chances), nil, nil, nil)
		many.p.Cost = many.weighed()
		name := fmt.Sprintf("%s-%d", pl.name, UsualYears)
		b.Run(name, func(b *testing.B) {
			solveWritten(b, many.p, name, lp.Options{Tol: nearEnough, Shared: many.shared(), Workers: runtime.GOMAXPROCS(0)})
		})
	}
}

// solveWritten writes a programme and times its solution.
func solveWritten(b *testing.B, p *lp.Problem, name string, opt lp.Options) {
	b.Helper()
	p.RowNames, p.ColNames = nil, nil
	if dir := os.Getenv("EVENSTEAD_LP_DIR"); dir != "" {
		f, err := os.Create(filepath.Join(dir, name+".mps"))
		if err != nil {
			b.Fatal(err)
		}
		if err := lp.WriteMPS(f, p); err != nil {
			b.Fatal(err)
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		s, err := lp.Solve(context.Background(), p, opt)
		if err != nil {
			b.Fatal(err)
		}
		if s.Status != lp.Optimal {
			b.Fatal(s.Status)
		}
		b.ReportMetric(float64(s.Iterations), "iterations")
		b.ReportMetric(s.Objective, "objective")
	}
	b.ReportMetric(float64(len(p.RowLo)), "rows")
	b.ReportMetric(float64(len(p.Cost)), "columns")
	b.ReportMetric(float64(len(opt.Shared)), "shared")
	b.ReportMetric(float64(len(p.Row)), "entries")
}
