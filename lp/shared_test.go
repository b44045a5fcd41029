package lp

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
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

// twoStage repeats a programme n times over, with the listed columns shared: the
// entries of those differ by a tenth where spread is set.
func twoStage(p *Problem, n int, list []int, spread bool, d *rand.Rand) (q *Problem, shared []int) {
	q = &Problem{Start: []int{0}}
	m := len(p.RowLo)
	for range n {
		for i := range m {
			q.AddRow("", p.RowLo[i], p.RowUp[i])
		}
	}
	for j := range p.Cost {
		all := slices.Contains(list, j)
		var rows []int
		var values []float64
		for s := range n {
			for k := p.Start[j]; k < p.Start[j+1]; k++ {
				v := p.Value[k]
				if all && spread {
					v *= 0.9 + 0.2*d.Float64()
				}
				rows, values = append(rows, s*m+p.Row[k]), append(values, v)
			}
			if !all {
				q.AddColumn("", p.Cost[j]/float64(n), p.ColLo[j], p.ColUp[j], rows, values)
				rows, values = nil, nil
			}
		}
		if all {
			shared = append(shared, q.AddColumn("", p.Cost[j], p.ColLo[j], p.ColUp[j], rows, values))
		}
	}
	q.RowNames, q.ColNames = nil, nil
	return q, shared
}

// Drawn programmes of all kinds, in two stages, end alike with the shared columns
// set apart and without, and in the same bits for any number of workers.
func TestSharedColumnsOnDrawnProgrammes(t *testing.T) {
	apart, seen := 0, map[Status]int{}
	rapid.Check(t, func(t *rapid.T) {
		kind := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")].name
		seed := rapid.Uint64Range(0, 500).Draw(t, "seed")
		one := drawn(kind, seed)
		d := rand.New(rand.NewPCG(seed, 3))
		list := d.Perm(len(one.Cost))[:min(len(one.Cost), 1+d.IntN(6))]
		p, shared := twoStage(one, 2+d.IntN(4), list, d.IntN(2) > 0, d)
		plain, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatalf("%s: the plain equations prove nothing: %v", one.Name, err)
		}
		opt := Options{Shared: shared, Workers: 1 + d.IntN(3)}
		s, err := Solve(context.Background(), p, opt)
		if err != nil {
			t.Fatalf("%s: %v", one.Name, err)
		}
		if f, ray := newForm(p); ray == nil {
			if _, ok := f.system(opt).(*border); ok {
				apart++
			}
		}
		seen[s.Status]++
		if s.Status != plain.Status || s.Status == Optimal && math.Abs(s.Objective-plain.Objective) > 1e-7*(1+math.Abs(plain.Objective)) {
			t.Fatalf("%s: %v %.12g with the columns set apart, %v %.12g without", one.Name, s.Status, s.Objective, plain.Status, plain.Objective)
		}
		opt.Workers = 4
		again, err := Solve(context.Background(), p, opt)
		if err != nil || !slices.Equal(again.X, s.X) || !slices.Equal(again.Y, s.Y) || !slices.Equal(again.Ray, s.Ray) {
			t.Fatalf("%s: four workers give other bits (%v)", one.Name, err)
		}
	})
	if apart == 0 || seen[Optimal] == 0 || seen[Infeasible] == 0 || seen[Unbounded] == 0 {
		t.Errorf("%d programmes had columns set apart; ended %v", apart, seen)
	}
}

func TestStagesWithSharedColumns(t *testing.T) {
	one := instance(t, "year04_small.mps.gz")
	p := scenarios(one, 5)
	costs := stageCosts(p)
	shared := sharedColumns(p, len(one.RowLo))
	plain, err := Stages(context.Background(), p, costs, Options{Few: shared})
	if err != nil {
		t.Fatal(err)
	}
	apart, err := Stages(context.Background(), p, costs, Options{Few: shared, Shared: shared, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for k := range costs {
		if a, b := apart[k].Objective, plain[k].Objective; math.Abs(a-b) > 1e-6*(1+math.Abs(b)) {
			t.Errorf("stage %d: %.10g with the columns set apart, %.10g without", k+1, a, b)
		}
	}
	if apart[2].Pure != plain[2].Pure {
		t.Errorf("few columns: %v with the columns set apart, %v without", apart[2].Pure, plain[2].Pure)
	}
}

// The context ends a solve within an iteration, whoever works on it.
func TestSharedSolveStopsInTime(t *testing.T) {
	one := instance(t, "year12_plan.mps.gz")
	p := scenarios(one, 4)
	ctx := &ending{Context: context.Background(), asks: 4}
	_, err := Solve(ctx, p, Options{Shared: sharedColumns(p, len(one.RowLo)), Workers: 2})
	if !errors.Is(err, context.DeadlineExceeded) || ctx.asks < 0 {
		t.Errorf("a solve past its time ends with %v and asks %d times more", err, -ctx.asks)
	}
}

// ending is a context whose time is up when it is asked so many times, however fast the
// machine.
type ending struct {
	context.Context
	asks int
}

func (e *ending) Err() error {
	if e.asks--; e.asks > 0 {
		return nil
	}
	return context.DeadlineExceeded
}

// The full matrices of an edge: factor, solve and inverse agree, in one piece or
// spread over workers.
func TestPanel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 75).Draw(t, "n")
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		b, m := make([]float64, n*n), panel{make([]float64, n*n), n}
		for i := range b {
			b[i] = d.NormFloat64()
		}
		for j := range n {
			for i := range n {
				m.val[j*n+i] = dot(b[i*n:(i+1)*n], b[j*n:(j+1)*n])
			}
			m.val[j*n+j] += 1
		}
		l := panel{slices.Clone(m.val), n}
		l.cholesky(0, 3)
		one := panel{slices.Clone(m.val), n}
		one.cholesky(0, 1)
		if !slices.Equal(l.val, one.val) {
			t.Fatal("three workers factor to other bits")
		}
		x, want := make([]float64, n), make([]float64, n)
		for i := range want {
			want[i] = d.NormFloat64()
		}
		for i := range x {
			x[i] = dot(m.val[i*n:(i+1)*n], want)
		}
		l.forward(x)
		l.backward(x)
		inv := make([]float64, n*n)
		l.invert(inv)
		for i := range x {
			if math.Abs(x[i]-want[i]) > 1e-8 {
				t.Fatalf("entry %d comes back as %g, was %g", i, x[i], want[i])
			}
			for j := range n {
				id := 0.0
				if i == j {
					id = 1
				}
				if got := dot(inv[i*n:(i+1)*n], m.val[j*n:(j+1)*n]); math.Abs(got-id) > 1e-8 {
					t.Fatalf("inverse times matrix has %g at %d %d", got, i, j)
				}
			}
		}
	})
}
