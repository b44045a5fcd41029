package lp

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// sharedColumns are the columns of scenarios(p, n) that stand in several weathers.
func sharedColumns(p *Problem, m int) []int {
	var list []int
	for j := range p.Cost {
		rows := p.Row[p.Start[j]:p.Start[j+1]]
		if len(rows) > 0 && slices.Min(rows)/m != slices.Max(rows)/m {
			list = append(list, j)
		}
	}
	return list
}

// solveShared solves with the shared columns set apart and fails if they are not.
func solveShared(t *testing.T, p *Problem, opt Options) *Solution {
	t.Helper()
	f, _ := newForm(p)
	if _, ok := f.system(opt).(*border); !ok {
		t.Error("the shared columns are not set apart")
	}
	s, err := Solve(context.Background(), p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSharedColumnsChangeNoOptimum(t *testing.T) {
	for _, n := range []int{4, 8} {
		one := instance(t, "year04_small.mps.gz")
		p := scenarios(one, n)
		plain := optimum(t, p)
		s := solveShared(t, p, Options{Shared: sharedColumns(p, len(one.RowLo))})
		checkProof(t, p, s)
		if math.Abs(s.Objective-plain.Objective) > 1e-7*(1+math.Abs(plain.Objective)) {
			t.Errorf("%d weathers: %.12g with the columns set apart, %.12g without", n, s.Objective, plain.Objective)
		}
	}
}

func TestWorkersChangeNoBit(t *testing.T) {
	one := instance(t, "year04_small.mps.gz")
	p := scenarios(one, 7)
	opt := Options{Shared: sharedColumns(p, len(one.RowLo))}
	first := solveShared(t, p, opt)
	for _, opt.Workers = range []int{2, 3, 4} {
		s := solveShared(t, p, opt)
		if !slices.Equal(s.X, first.X) || !slices.Equal(s.Y, first.Y) {
			t.Errorf("%d workers give other bits", opt.Workers)
		}
	}
}

func TestSharedMustNameColumns(t *testing.T) {
	p := instance(t, "afiro.mps")
	for _, j := range []int{-1, len(p.Cost)} {
		if _, err := Solve(context.Background(), p, Options{Shared: []int{j}}); !errors.Is(err, ErrProblem) {
			t.Errorf("column %d: %v", j, err)
		}
		if _, err := Stages(context.Background(), p, [][]float64{p.Cost}, Options{Shared: []int{j}}); !errors.Is(err, ErrProblem) {
			t.Errorf("stages, column %d: %v", j, err)
		}
	}
}

// Columns listed wrongly cost time at most.
func TestSharedListedWrongly(t *testing.T) {
	one := instance(t, "year04_small.mps.gz")
	p := scenarios(one, 5)
	want := optimum(t, p).Objective
	shared := sharedColumns(p, len(one.RowLo))
	for seed := range uint64(5) {
		d := rand.New(rand.NewPCG(seed, 1))
		var list []int
		for _, j := range shared {
			if d.IntN(4) > 0 {
				list = append(list, j, j)
			}
		}
		for range d.IntN(40) {
			list = append(list, d.IntN(len(p.Cost)))
		}
		s, err := Solve(context.Background(), p, Options{Shared: list})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.Objective-want) > 1e-7*(1+math.Abs(want)) {
			t.Errorf("seed %d: %.12g, want %.12g", seed, s.Objective, want)
		}
	}
}
