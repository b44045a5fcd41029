package lp

import "math"

// What a certificate accepts, all on the unscaled problem.
const (
	primalTol = 1e-7 // breach of a range, of max(1, largest term of the row)
	dualTol   = 1e-7 // reduced cost against a missing side, of 1 + largest cost
	gapTol    = 1e-6 // objective less bound, of 1 + objective
	rayTol    = 1e-9 // what a ray may breach, of what it proves
)

// Residuals measure how far an answer is from proven, on the unscaled problem.
type Residuals struct {
	Primal float64 // largest breach of a range, relative to the largest term of its row
	Dual   float64 // largest reduced cost against a missing side, relative to 1 + largest cost
	Gap    float64 // objective less bound, relative to 1 + |objective|
}

func (r Residuals) ok() bool {
	return r.Primal <= primalTol && r.Dual <= dualTol && r.Gap <= gapTol && r.Gap >= -gapTol
}

func (r Residuals) worst() float64 {
	return max(r.Primal/primalTol, r.Dual/dualTol, math.Abs(r.Gap)/gapTol)
}

// certify fills the solution from x and y: row activities, reduced costs,
// objective, the bound that y proves, and the residuals. A multiplier whose
// sign asks for a missing side is set to zero first.
func certify(p *Problem, x, y []float64) *Solution {
	y = signed(p, y)
	s := &Solution{Status: Optimal, X: x, Y: y, Row: p.Activity(x), D: p.reduced(p.Cost, y)}
	s.Objective = dot(p.Cost, x) + p.Offset
	bound, breach, _ := p.bound(y, s.D)
	s.Bound = bound + p.Offset
	s.Residuals = Residuals{
		Primal: p.breach(x, s.Row),
		Dual:   breach / (1 + maxAbs(p.Cost)),
		Gap:    (s.Objective - s.Bound) / (1 + math.Abs(s.Objective)),
	}
	return s
}

func signed(p *Problem, y []float64) []float64 {
	out := append([]float64(nil), y...)
	for i, v := range out {
		if v != 0 && math.IsInf(side(v, p.RowLo[i], p.RowUp[i]), 0) {
			out[i] = 0
		}
	}
	return out
}

// side is the end of a range that a multiplier picks.
func side(v, lo, up float64) float64 {
	if v > 0 {
		return lo
	}
	return up
}

// bound is the least value that y and d = c - A'y prove for c·x, leaving out
// reduced costs against a missing side; breach is the largest of those, and
// size the sum of the terms without their signs.
func (p *Problem) bound(y, d []float64) (sum, breach, size float64) {
	add := func(t float64) { sum, size = sum+t, size+math.Abs(t) }
	for i, v := range y {
		if v != 0 {
			add(v * side(v, p.RowLo[i], p.RowUp[i]))
		}
	}
	for j, v := range d {
		if v == 0 {
			continue
		}
		if s := side(v, p.ColLo[j], p.ColUp[j]); math.IsInf(s, 0) {
			breach = max(breach, math.Abs(v))
		} else {
			add(v * s)
		}
	}
	return sum, breach, size
}

// breach is the largest violation of a range by x and the activity of its rows.
func (p *Problem) breach(x, row []float64) float64 {
	term, worst := ones(len(row)), 0.0
	for j, v := range x {
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			term[p.Row[k]] = max(term[p.Row[k]], math.Abs(p.Value[k]*v))
		}
		worst = max(worst, p.ColLo[j]-v, v-p.ColUp[j])
	}
	for i, v := range row {
		worst = max(worst, (p.RowLo[i]-v)/term[i], (v-p.RowUp[i])/term[i])
	}
	return worst
}

// infeasible tries y as proof that no point meets the ranges: with d = -A'y the
// bound on 0·x is positive, by more than the rounding of its terms. It returns
// the ray scaled to prove 1.
func infeasible(p *Problem, y []float64) (*Solution, bool) {
	y = signed(p, y)
	d := p.reduced(nil, y)
	bound, breach, size := p.bound(y, d)
	if !(bound > rayTol*size) || math.IsInf(bound, 0) || breach > rayTol*bound {
		return nil, false
	}
	return &Solution{Status: Infeasible, Ray: scaled(y, 1/bound), Residuals: Residuals{Dual: breach / bound}}, true
}

// unbounded tries r as a direction that lowers the cost for ever. It returns
// the ray scaled to lower it by 1.
func unbounded(p *Problem, r []float64) (*Solution, bool) {
	fall, size := -dot(p.Cost, r), 0.0
	for j, v := range r {
		size += math.Abs(p.Cost[j] * v)
	}
	if !(fall > rayTol*size) || math.IsInf(fall, 0) {
		return nil, false
	}
	r = scaled(r, 1/fall)
	worst := 0.0
	for j, v := range r {
		worst = max(worst, against(v, p.ColLo[j], p.ColUp[j]))
	}
	for i, v := range p.Activity(r) {
		worst = max(worst, against(v, p.RowLo[i], p.RowUp[i]))
	}
	if !(worst <= rayTol) {
		return nil, false
	}
	return &Solution{Status: Unbounded, Ray: r, Residuals: Residuals{Primal: worst}}, true
}

// against is how far direction v runs into a side that exists.
func against(v, lo, up float64) float64 {
	if v < 0 && !math.IsInf(lo, -1) || v > 0 && !math.IsInf(up, 1) {
		return math.Abs(v)
	}
	return 0
}

func scaled(a []float64, s float64) []float64 {
	out := make([]float64, len(a))
	for i, v := range a {
		out[i] = s * v
	}
	return out
}
