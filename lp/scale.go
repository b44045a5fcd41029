package lp

import "math"

// Passes of each kind of scaling.
const scalePasses = 4

// scaling multiplies row i of A by row[i] and column j by col[j], all powers of
// two, so that scaling itself rounds nothing.
type scaling struct{ row, col []float64 }

// scale balances A: passes that bring the geometric mean of the smallest and
// largest entry of each row and column to 1, then passes that bring the
// largest to 1 (Curtis and Reid 1972, IMA J. Appl. Math. 10:118-124, is the
// classic discussion; the passes here are the simple practice).
func scale(p *Problem) scaling {
	s := scaling{ones(len(p.RowLo)), ones(len(p.Cost))}
	for pass := range 2 * scalePasses {
		factor := func(least, most float64) float64 { return 1 / math.Sqrt(least*most) }
		if pass >= scalePasses {
			factor = func(_, most float64) float64 { return 1 / most }
		}
		s.pass(p, factor)
	}
	for i := range s.row {
		s.row[i] = powerOfTwo(s.row[i])
	}
	for j := range s.col {
		s.col[j] = powerOfTwo(s.col[j])
	}
	return s
}

func (s *scaling) pass(p *Problem, factor func(least, most float64) float64) {
	least, most := filled(len(s.row), math.Inf(1)), make([]float64, len(s.row))
	s.each(p, func(i, _ int, v float64) { least[i], most[i] = min(least[i], v), max(most[i], v) })
	for i := range s.row {
		if most[i] > 0 {
			s.row[i] *= factor(least[i], most[i])
		}
	}
	least, most = filled(len(s.col), math.Inf(1)), make([]float64, len(s.col))
	s.each(p, func(_, j int, v float64) { least[j], most[j] = min(least[j], v), max(most[j], v) })
	for j := range s.col {
		if most[j] > 0 {
			s.col[j] *= factor(least[j], most[j])
		}
	}
}

// each visits the scaled size of every entry that is not zero.
func (s *scaling) each(p *Problem, visit func(i, j int, v float64)) {
	for j := range s.col {
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			if v := math.Abs(p.Value[k]); v > 0 {
				visit(p.Row[k], j, v*s.row[p.Row[k]]*s.col[j])
			}
		}
	}
}

// powerOfTwo rounds v > 0 to a power of two; beyond 2^±60 it stops.
func powerOfTwo(v float64) float64 {
	return math.Ldexp(1, int(max(-60, min(60, math.Round(math.Log2(v))))))
}

func filled(n int, v float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = v
	}
	return s
}

func ones(n int) []float64 { return filled(n, 1) }
