package lp

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// far is a box so wide that cutting a problem of small integers off at it
// changes neither whether it is feasible nor any finite optimum.
const far = 1e6

// plane is a·x = b.
type plane struct {
	a []float64
	b float64
}

// bruteForce minimises by trying every vertex of the problem cut off at the box.
func bruteForce(p *Problem) (Status, float64) {
	n := len(p.Cost)
	var planes []plane
	for _, set := range []float64{-far, far} {
		for j := range n {
			planes = append(planes, plane{unit(n, j, 1), set})
		}
	}
	side := func(a []float64, v float64) {
		if !math.IsInf(v, 0) {
			planes = append(planes, plane{a, v})
		}
	}
	for j := range n {
		side(unit(n, j, 1), p.ColLo[j])
		side(unit(n, j, 1), p.ColUp[j])
	}
	for i := range p.RowLo {
		a := make([]float64, n)
		for j := range n {
			a[j] = p.Activity(unit(n, j, 1))[i]
		}
		side(a, p.RowLo[i])
		side(a, p.RowUp[i])
	}
	best := math.Inf(1)
	subsets(len(planes), n, func(pick []int) {
		x, ok := meet(planes, pick)
		if ok && inside(p, x) && maxAbs(x) <= far*(1+1e-9) {
			best = min(best, dot(p.Cost, x))
		}
	})
	switch {
	case math.IsInf(best, 1):
		return Infeasible, 0
	case best < -far/1000:
		return Unbounded, 0
	}
	return Optimal, best
}

// inside allows 1e-6 outright: rounding at the box is below that, and the
// vertices of small integers miss each other by more.
func inside(p *Problem, x []float64) bool {
	const slack = 1e-6
	for j, v := range x {
		if v < p.ColLo[j]-slack || v > p.ColUp[j]+slack {
			return false
		}
	}
	for i, v := range p.Activity(x) {
		if v < p.RowLo[i]-slack || v > p.RowUp[i]+slack {
			return false
		}
	}
	return true
}

// subsets visits every way to pick k of n.
func subsets(n, k int, visit func([]int)) {
	pick := make([]int, 0, k)
	var from func(int)
	from = func(i int) {
		if len(pick) == k {
			visit(pick)
			return
		}
		for ; i < n; i++ {
			pick = append(pick, i)
			from(i + 1)
			pick = pick[:len(pick)-1]
		}
	}
	from(0)
}

// meet is the point common to the picked planes, by elimination with pivoting.
func meet(planes []plane, pick []int) ([]float64, bool) {
	n := len(pick)
	m := make([][]float64, n)
	for k, i := range pick {
		m[k] = append(append([]float64(nil), planes[i].a...), planes[i].b)
	}
	for c := range n {
		best := c
		for r := c; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		m[c], m[best] = m[best], m[c]
		if math.Abs(m[c][c]) < 1e-9 {
			return nil, false
		}
		for r := range n {
			if r == c {
				continue
			}
			t := m[r][c] / m[c][c]
			for k := c; k <= n; k++ {
				m[r][k] -= t * m[c][k]
			}
		}
	}
	x := make([]float64, n)
	for c := range n {
		x[c] = m[c][n] / m[c][c]
	}
	return x, true
}

// small draws a problem of small integers with every kind of side.
func small(t *rapid.T, rows, cols int) *Problem {
	p := &Problem{Start: []int{0}}
	m, n := rapid.IntRange(0, rows).Draw(t, "rows"), rapid.IntRange(1, cols).Draw(t, "cols")
	whole := func(label string, r int) float64 { return float64(rapid.IntRange(-r, r).Draw(t, label)) }
	span := func() (float64, float64) {
		a, b := whole("side", 5), whole("side", 5)
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return a, math.Inf(1)
		case 1:
			return math.Inf(-1), a
		case 2:
			return a, a
		case 3:
			return math.Inf(-1), math.Inf(1)
		}
		return min(a, b), max(a, b)
	}
	for range m {
		lo, up := span()
		p.AddRow("", lo, up)
	}
	for range n {
		lo, up := 0.0, math.Inf(1)
		if rapid.Bool().Draw(t, "other bounds") {
			lo, up = span()
		}
		var at []int
		var v []float64
		for i := range m {
			if a := whole("entry", 3); a != 0 {
				at, v = append(at, i), append(v, a)
			}
		}
		p.AddColumn("", whole("cost", 3), lo, up, at, v)
	}
	return p
}

// checkProof repeats the table of proofs from the definitions alone.
func checkProof(t interface{ Errorf(string, ...any) }, p *Problem, s *Solution) {
	switch s.Status {
	case Optimal:
		if b := p.breach(s.X, p.Activity(s.X)); b > primalTol {
			t.Errorf("breach %g", b)
		}
		proof := proves(t, p, s.Y, p.Cost, dualTol*(1+maxAbs(p.Cost))) + p.Offset
		if gap := s.Objective - proof; math.Abs(gap) > gapTol*(1+math.Abs(s.Objective)) {
			t.Errorf("objective %g, proven bound %g", s.Objective, proof)
		}
	case Infeasible:
		if b := proves(t, p, s.Ray, make([]float64, len(p.Cost)), rayTol*1.01); math.Abs(b-1) > 1e-6 {
			t.Errorf("infeasibility ray proves %g, want 1", b)
		}
	case Unbounded:
		if f := dot(p.Cost, s.Ray); math.Abs(f+1) > 1e-6 {
			t.Errorf("ray changes the cost by %g, want -1", f)
		}
		far := make([]float64, len(s.X))
		for j := range far {
			far[j] = s.X[j] + 100*s.Ray[j]
		}
		if b := p.breach(far, p.Activity(far)); b > 1e-6 {
			t.Errorf("a hundred steps along the ray breach by %g", b)
		}
	}
}

// proves is the bound that multipliers y prove for cost·x.
func proves(t interface{ Errorf(string, ...any) }, p *Problem, y, cost []float64, slack float64) float64 {
	sum := 0.0
	add := func(v, lo, up float64) {
		s := up
		if v > 0 {
			s = lo
		}
		if !math.IsInf(s, 0) {
			sum += v * s
		} else if math.Abs(v) > slack {
			t.Errorf("multiplier %g against a missing side", v)
		}
	}
	for i, v := range y {
		add(v, p.RowLo[i], p.RowUp[i])
	}
	for j := range cost {
		d := cost[j]
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			d -= p.Value[k] * y[p.Row[k]]
		}
		add(d, p.ColLo[j], p.ColUp[j])
	}
	return sum
}

func TestSolveAgreesWithEveryVertex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t, 4, 3)
		want, best := bruteForce(p)
		s, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s.Status != want {
			t.Fatalf("status %v, every vertex says %v", s.Status, want)
		}
		if want == Optimal && math.Abs(s.Objective-best) > 1e-6*(1+math.Abs(best)) {
			t.Fatalf("objective %.12g, best vertex %.12g", s.Objective, best)
		}
		checkProof(t, p, s)
	})
}

func TestSolveProvesLargerProblems(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t, 12, 18)
		s, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkProof(t, p, s)
	})
}
