package lp

import (
	"context"
	"testing"
)

func BenchmarkSolve(b *testing.B) {
	for _, row := range table(b, "index.csv") {
		b.Run(row["name"], func(b *testing.B) {
			p := instance(b, row["file"])
			for b.Loop() {
				if _, err := Solve(context.Background(), p, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkStages(b *testing.B) {
	p := instance(b, "year12_plan.mps.gz")
	costs := stageCosts(p)
	for b.Loop() {
		if _, err := Stages(context.Background(), p, costs, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFactor(b *testing.B) {
	f, _ := newForm(instance(b, "year12_plan.mps.gz"))
	n := newNormal(len(f.b), &f.a)
	theta := ones(len(f.c))
	for b.Loop() {
		n.factor(theta, 1e-9)
	}
}

func BenchmarkMinimumFill(b *testing.B) {
	f, _ := newForm(instance(b, "year12_plan.mps.gz"))
	adj := graphOf(len(f.b), &f.a, f.a.transpose(len(f.b)))
	for b.Loop() {
		minimumFill(clone(adj), nil)
	}
}

func BenchmarkReadMPS(b *testing.B) {
	for b.Loop() {
		instance(b, "year12_plan.mps.gz")
	}
}
