package lp

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// scenarios repeats a yearly plan for each of n weathers, with the sowings
// (columns x_*) shared: what a shared column yields differs by weather, what
// the others do does not.
func scenarios(p *Problem, n int) *Problem {
	rng := rand.New(rand.NewPCG(7, 7))
	q := &Problem{Start: []int{0}}
	m := len(p.RowLo)
	for range n {
		for i := range m {
			q.AddRow("", p.RowLo[i], p.RowUp[i])
		}
	}
	yield := make([]float64, n)
	for s := range yield {
		yield[s] = 0.8 + 0.4*rng.Float64()
	}
	for j := range p.Cost {
		from, to := p.Start[j], p.Start[j+1]
		shared := strings.HasPrefix(p.ColNames[j], "x_")
		var rows []int
		var values []float64
		for s := range n {
			for k := from; k < to; k++ {
				v := p.Value[k]
				if shared && v < 0 {
					v *= yield[s]
				}
				rows, values = append(rows, s*m+p.Row[k]), append(values, v)
			}
			if !shared {
				q.AddColumn(p.ColNames[j], p.Cost[j]/float64(n), p.ColLo[j], p.ColUp[j], rows, values)
				rows, values = nil, nil
			}
		}
		if shared {
			q.AddColumn(p.ColNames[j], p.Cost[j], p.ColLo[j], p.ColUp[j], rows, values)
		}
	}
	return q
}

func TestSolveSharedSowings(t *testing.T) {
	p := scenarios(instance(t, "year04_small.mps.gz"), 6)
	s := optimum(t, p)
	checkProof(t, p, s)
}

// BenchmarkScenarios is ten weathers of a yearly plan in two stages.
func BenchmarkScenarios(b *testing.B) {
	one := instance(b, "year12_plan.mps.gz")
	p := scenarios(one, 10)
	shared := sharedColumns(p, len(one.RowLo))
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				s, err := Solve(context.Background(), p, Options{Shared: shared, Workers: workers})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(s.Iterations), "iterations")
			}
		})
	}
}
