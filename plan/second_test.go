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

// BenchmarkSizes solves the demo's programme with fewer crops, and for fewer possible
// years than BenchmarkProgrammes: the table over sizes of docs/plan.md.
func BenchmarkSizes(b *testing.B) {
	y, err := ask(reckoning(b, places(b)[0].text, "", "", 30, 1)).look(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	y = y.without(nil)
	for _, crops := range [...]int{10, 20, 40, len(y.sowings)} {
		z := y.firstCrops(crops)
		g := z.programme(nil, nil)
		g.p.Cost = g.stages[0]
		b.Run(fmt.Sprintf("crops-%d", z.crops()), func(b *testing.B) { solveWritten(b, g.p, "", lp.Options{}) })
	}
	for _, n := range [...]int{2, 5} {
		chances := y.chances(n)
		alone, err := y.alone(context.Background(), everyThird(chances), nil)
		if err != nil {
			b.Fatal(err)
		}
		z := y.thoseUsed(alone)
		g := z.programmeOver(z.in(chances), nil, nil, nil)
		g.p.Cost = g.weighed()
		b.Run(fmt.Sprintf("years-%d", n), func(b *testing.B) {
			solveWritten(b, g.p, "", lp.Options{Tol: nearEnough, Shared: g.shared(), Workers: runtime.GOMAXPROCS(0)})
		})
	}
}

// firstCrops is the same year with the sowings of the first n crops alone.
func (y *years) firstCrops(n int) *years {
	z := *y
	z.comes, z.offers, z.sowings = nil, nil, nil
	seen := map[string]bool{}
	for _, w := range y.sowings {
		if seen[w.crop.ID] || len(seen) < n {
			seen[w.crop.ID] = true
			z.sowings = append(z.sowings, w)
		}
	}
	return &z
}

// crops is how many crops there are sowings of.
func (y *years) crops() int {
	seen := map[string]bool{}
	for i := range y.sowings {
		seen[y.sowings[i].crop.ID] = true
	}
	return len(seen)
}

// solveWritten writes a programme, where it has a name, and times its solution.
func solveWritten(b *testing.B, p *lp.Problem, name string, opt lp.Options) {
	b.Helper()
	p.RowNames, p.ColNames = nil, nil
	if dir := os.Getenv("EVENSTEAD_LP_DIR"); dir != "" && name != "" {
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
