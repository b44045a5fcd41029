package lp

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCheckFindsFaults(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*Problem)
		want  string
	}{
		"row sides":    {func(p *Problem) { p.RowUp = p.RowUp[:1] }, "2 lower and 1 upper row sides"},
		"column sides": {func(p *Problem) { p.ColLo = nil }, "2 costs, 0 lower"},
		"values":       {func(p *Problem) { p.Value = p.Value[:1] }, "row indices"},
		"names":        {func(p *Problem) { p.RowNames = []string{"a"} }, "2 rows with 1 names"},
		"offset":       {func(p *Problem) { p.Offset = math.NaN() }, "offset"},
		"crossed row":  {func(p *Problem) { p.RowLo[1] = 99 }, "row r2 runs from 99"},
		"row at inf":   {func(p *Problem) { p.RowLo[0], p.RowUp[0] = math.Inf(1), math.Inf(1) }, "row r1 runs"},
		"starts":       {func(p *Problem) { p.Start = p.Start[:2] }, "column starts"},
		"span":         {func(p *Problem) { p.Start[2]-- }, "do not span"},
		"backwards":    {func(p *Problem) { p.Start[1] = 9 }, "starts after it ends"},
		"cost":         {func(p *Problem) { p.Cost[1] = math.Inf(1) }, "column c2 costs"},
		"row index":    {func(p *Problem) { p.Row[0] = 7 }, "row index 7 of 2"},
		"row twice":    {func(p *Problem) { p.Row[1] = p.Row[0] }, "row r1 twice"},
		"entry":        {func(p *Problem) { p.Value[0] = math.NaN() }, "has NaN in row"},
	} {
		t.Run(name, func(t *testing.T) {
			p := dense([]float64{1, 1}, [][]float64{{1, 2}, {3, 4}}, []float64{1, 1}, []float64{9, 9})
			c.spoil(p)
			_, err := Solve(context.Background(), p, Options{})
			if !errors.Is(err, ErrProblem) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
		})
	}
}

func TestSolveSmallestProblems(t *testing.T) {
	inf := math.Inf(1)
	free := func(cost, lo, up float64) *Problem {
		p := &Problem{}
		p.AddColumn("", cost, lo, up, nil, nil)
		return p
	}
	empty := func(lo, up float64) *Problem {
		p := free(1, 2, 2)
		p.AddRow("", lo, up)
		return p
	}
	for _, c := range []struct {
		name   string
		p      *Problem
		status Status
		want   float64
	}{
		{"nothing at all", &Problem{}, Optimal, 0},
		{"an offset", &Problem{Offset: 3}, Optimal, 3},
		{"a column at its lower side", free(2, 1, 5), Optimal, 2},
		{"a column at its upper side", free(-2, 1, 5), Optimal, -10},
		{"a column without end", free(-2, 1, inf), Unbounded, 0},
		{"a free column without cost", free(0, -inf, inf), Optimal, 0},
		{"an empty row that holds", empty(-1, 1), Optimal, 2},
		{"an empty row above 0", empty(1, 1), Infeasible, 0},
		{"an empty row below 0", empty(-inf, -2), Infeasible, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Solve(context.Background(), c.p, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if s.Status != c.status || math.Abs(s.Objective-c.want) > 1e-7 {
				t.Errorf("%v %g, want %v %g", s.Status, s.Objective, c.status, c.want)
			}
			checkProof(t, c.p, s)
		})
	}
}

func TestInfeasibleBeatsUnbounded(t *testing.T) {
	// x falls for ever, but y must be both 1 and 2.
	p := &Problem{}
	p.AddRow("one", 1, 1)
	p.AddRow("two", 2, 2)
	p.AddColumn("x", -1, 0, math.Inf(1), nil, nil)
	p.AddColumn("y", 0, 0, math.Inf(1), []int{0, 1}, []float64{1, 1})
	s, err := Solve(context.Background(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Status != Infeasible {
		t.Fatalf("status %v, want infeasible", s.Status)
	}
	checkProof(t, p, s)
}

// One row leaves a single point, which rounding must not take for none.
func TestSolveSinglePoint(t *testing.T) {
	p := &Problem{}
	p.AddRow("", 0, 3)
	p.AddColumn("", 1, 1, math.Inf(1), []int{0}, []float64{1})
	p.AddColumn("", 1, math.Inf(-1), -1, []int{0}, []float64{-2})
	s := optimum(t, p)
	if math.Abs(s.X[0]-1) > 1e-6 || math.Abs(s.X[1]+1) > 1e-6 {
		t.Errorf("x %v, want 1 and -1", s.X)
	}
	if _, ok := infeasible(p, []float64{-3e15}); ok {
		t.Error("a sum of rounding passes as proof")
	}
}

func TestSolveStopsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Solve(ctx, instance(t, "year12_plan.mps.gz"), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
}

func TestSolveSaysWhatItCouldNotProve(t *testing.T) {
	p := instance(t, "year12_plan.mps.gz")
	_, err := Solve(context.Background(), p, Options{MaxIter: 3})
	if !errors.Is(err, ErrUncertified) {
		t.Errorf("three iterations: error %v, want ErrUncertified", err)
	}
	_, err = Solve(context.Background(), p, Options{MaxIter: optimum(t, p).Iterations - 3})
	var u *UncertifiedError
	if !errors.As(err, &u) || u.Residuals.ok() || u.Residuals.worst() == 0 {
		t.Errorf("three too few: error %v, want residuals", err)
	}
}

func TestSolveRepeats(t *testing.T) {
	p := instance(t, "year12_twins.mps.gz")
	if a, b := optimum(t, p), optimum(t, p); !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

func TestCertifyRefusesWrongAnswers(t *testing.T) {
	p, _, _ := stigler(t)
	s := optimum(t, p)
	for name, spoil := range map[string]func(x, y []float64){
		"a little less food":   func(x, _ []float64) { x[0] *= 0.999 },
		"a little more food":   func(x, _ []float64) { x[0] *= 1.001 },
		"a price too low":      func(_, y []float64) { y[0] *= 0.999 },
		"a price too high":     func(_, y []float64) { y[0] *= 1.001 },
		"a negative helping":   func(x, _ []float64) { x[1] = -1e-6 },
		"a price of surpluses": func(_, y []float64) { y[1] = 1e-5 },
	} {
		x, y := scaled(s.X, 1), scaled(s.Y, 1)
		if !certify(p, x, y).Residuals.ok() {
			t.Fatal("the true answer is refused")
		}
		spoil(x, y)
		if r := certify(p, x, y).Residuals; r.ok() {
			t.Errorf("%s passes with %+v", name, r)
		}
	}
	if _, ok := infeasible(p, s.Y); ok {
		t.Error("prices of an optimum pass as proof that there is none")
	}
	if _, ok := unbounded(p, s.X); ok {
		t.Error("an optimum passes as a way down for ever")
	}
}

// used counts the sowings of a plan above 1e-6.
func used(p *Problem, x []float64) (columns []int, n int) {
	for j, name := range p.ColNames {
		if strings.HasPrefix(name, "x_") {
			columns = append(columns, j)
			if x != nil && x[j] > 1e-6 {
				n++
			}
		}
	}
	return columns, n
}

func TestFewSowings(t *testing.T) {
	// The plan is unique in its sowings; with twins the middle of the face has 14.
	for name, want := range map[string]int{"year12_twins.mps.gz": 12, "year12_plan.mps.gz": 24} {
		p := instance(t, name)
		plain := optimum(t, p)
		columns, before := used(p, plain.X)
		s, err := Solve(context.Background(), p, Options{Few: columns})
		if err != nil {
			t.Fatal(err)
		}
		_, after := used(p, s.X)
		t.Logf("%s: %d sowings, %d on the face", name, before, after)
		if !s.Pure || after > min(before, want) {
			t.Errorf("%s: pure %v, %d sowings after %d", name, s.Pure, after, before)
		}
		if math.Abs(s.Objective-plain.Objective) > 1e-7*math.Abs(plain.Objective) {
			t.Errorf("%s: objective %.12g, was %.12g", name, s.Objective, plain.Objective)
		}
		checkProof(t, p, s)
	}
}

func TestFewPicksOneOfTwins(t *testing.T) {
	p := dense([]float64{1, 1, 1}, [][]float64{{1, 1, 1}}, []float64{6}, none(1, 1))
	if _, err := Solve(context.Background(), p, Options{Few: []int{3}}); !errors.Is(err, ErrProblem) {
		t.Errorf("column 3 of 3: error %v, want ErrProblem", err)
	}
	s, err := Solve(context.Background(), p, Options{Few: []int{0, 1, 2}})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, v := range s.X {
		if v > 1e-6 {
			n++
		}
	}
	if n != 1 {
		t.Errorf("uses %d of three equal columns: %v", n, s.X)
	}
}

func TestStagesByHand(t *testing.T) {
	// 6 in all from three columns; first as little of a as may be, then b.
	p := dense([]float64{0, 0, 0}, [][]float64{{1, 1, 1}}, []float64{6}, []float64{6})
	p.ColUp = []float64{9, 9, 4}
	s, err := Stages(context.Background(), p, [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{0, 2, 4} {
		if math.Abs(s[k].Objective-want) > 1e-6 || math.Abs(s[2].X[k]-want) > 1e-6 {
			t.Errorf("stage %d: %g and %g in the end, want %g", k+1, s[k].Objective, s[2].X[k], want)
		}
	}
}

func TestStagesFaults(t *testing.T) {
	p := dense([]float64{0, 0}, [][]float64{{1, 1}}, []float64{1}, none(1, 1))
	if _, err := Stages(context.Background(), p, [][]float64{{1, 1}, {1}}, Options{}); !errors.Is(err, ErrProblem) {
		t.Errorf("short cost: error %v, want ErrProblem", err)
	}
	s, err := Stages(context.Background(), p, [][]float64{{1, 0}, {0, -1}, {1, 1}}, Options{})
	if err != nil || len(s) != 2 || s[1].Status != Unbounded {
		t.Errorf("second stage falls for ever: %d stages, error %v", len(s), err)
	}
}

// Strict stages may not be beaten in an earlier objective, nor, at the same
// value of it, in a later one.
func TestStagesAgreeWithCaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t, 5, 6)
		for j := range p.Cost {
			p.ColLo[j], p.ColUp[j] = max(p.ColLo[j], -20), min(p.ColUp[j], 20)
		}
		second := make([]float64, len(p.Cost))
		for j := range second {
			second[j] = float64(rapid.IntRange(-3, 3).Draw(t, "second cost"))
		}
		s, err := Stages(context.Background(), p, [][]float64{p.Cost, second}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s[0].Status != Optimal {
			return
		}
		room := 1e-7
		want, err := underCap(p, second, s[0].Objective+room)
		if err != nil || want.Status == Infeasible { // a certified objective may lie so far below the least there is
			room = gapTol * (1 + math.Abs(s[0].Objective))
			want, err = underCap(p, second, s[0].Objective+room)
		}
		if err != nil || want.Status != Optimal {
			t.Fatalf("under a cap the second stage is %+v, %v", want, err)
		}
		// The cap's allowance buys at most its price times as much.
		allow := 1e-5 + 10*room*maxAbs(want.Y)
		if math.Abs(s[1].Objective-want.Objective) > allow*(1+math.Abs(want.Objective)) {
			t.Fatalf("second stage %.9g, under a cap %.9g", s[1].Objective, want.Objective)
		}
	})
}

// underCap minimises second where the cost is at most so much.
func underCap(p *Problem, second []float64, most float64) (*Solution, error) {
	return Solve(context.Background(), withCap(p, most).with(second), Options{})
}

// withCap adds the row cost·x <= most.
func withCap(p *Problem, most float64) *Problem {
	q := &Problem{Start: []int{0}}
	for i := range p.RowLo {
		q.AddRow("", p.RowLo[i], p.RowUp[i])
	}
	top := q.AddRow("", math.Inf(-1), most)
	for j := range p.Cost {
		from, to := p.Start[j], p.Start[j+1]
		rows := append(append([]int(nil), p.Row[from:to]...), top)
		q.AddColumn("", 0, p.ColLo[j], p.ColUp[j], rows, append(append([]float64(nil), p.Value[from:to]...), p.Cost[j]))
	}
	return q
}

// A copy of a plan in absurd units must give the same optimum.
func TestSolveBadlyScaledCopy(t *testing.T) {
	p := instance(t, "year04_small.mps.gz")
	want := optimum(t, p).Objective
	unit := func(i int) float64 { return math.Pow(10, float64(i*7%9-4)) }
	for j := range p.Cost {
		s := unit(j)
		p.Cost[j] *= s
		p.ColLo[j], p.ColUp[j] = p.ColLo[j]/s, p.ColUp[j]/s
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			p.Value[k] *= s * unit(p.Row[k]+3)
		}
	}
	for i := range p.RowLo {
		p.RowLo[i], p.RowUp[i] = p.RowLo[i]*unit(i+3), p.RowUp[i]*unit(i+3)
	}
	if got := optimum(t, p).Objective; math.Abs(got-want) > 1e-6*math.Abs(want) {
		t.Errorf("objective %.12g, in plain units %.12g", got, want)
	}
}

func TestStatusNames(t *testing.T) {
	for s, want := range map[Status]string{Optimal: "optimal", Infeasible: "infeasible", Unbounded: "unbounded", 9: "unknown"} {
		if s.String() != want {
			t.Errorf("status %d is %q, want %q", s, s, want)
		}
	}
}
