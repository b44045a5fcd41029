package lp

import (
	"math"
	"slices"
)

// halfway is the merit of the point on the way to an answer from which near
// problems start: nearer to it too many numbers have gone to zero (measured on the
// limits of plans: from 0.1, 9 to 21 iterations in place of 25; from 1, 12 to 25;
// from 1e-3, 6 to 61).
const halfway = 0.1

// middle is a point on the way to an answer.
type middle struct {
	point
	form *form
}

// mid is where a near problem may start; nil: nowhere.
func (s *Solution) mid(p *Problem) *middle {
	if s == nil || s.half == nil || len(s.half.form.p.Cost) != len(p.Cost) || len(s.half.form.p.RowLo) != len(p.RowLo) {
		return nil
	}
	return s.half
}

// from starts where a near problem stood halfway: each column and row as it stood
// there, what is new in balance with the rest.
func (s *ipm) from(near *middle) {
	old := near.form
	p, d := s.bUnit/old.bUnit, s.cUnit/old.cUnit
	s.tau, s.kappa = near.tau, near.kappa*p*d
	balance := math.Sqrt(p * d * (dot(near.x, near.z) + dot(near.w, near.v)) / float64(len(near.x)))
	at := old.places()
	for i, r := range s.rows {
		s.y[i] = 0
		if o, ok := slices.BinarySearch(old.rows, r); ok {
			s.y[i] = near.y[o] * d * old.scale.row[r] / s.scale.row[r]
		}
	}
	for j, q := range s.parts {
		s.x[j], s.z[j], s.v[j] = balance, balance, balance
		least := balance
		if o, ok := at[q.key()]; ok {
			unit := old.unit(o) / s.unit(j)
			s.x[j], s.z[j] = near.x[o]*p*unit, near.z[o]*d/unit
			if old.u[o] < math.Inf(1) {
				s.v[j], least = near.v[o]*d/unit, near.w[o]*p*unit/10
			}
		}
		if s.w[j] = max(s.tau*s.u[j]-s.x[j], least); !s.bounded(j) {
			s.w[j], s.v[j] = 0, 0
		}
	}
}

// key is what columns of two forms have in common that stand for the same.
func (q part) key() part { return part{source: q.source, sign: q.sign, mate: min(q.mate, 0)} }

// places is where the columns of a form stand.
func (f *form) places() map[part]int {
	at := make(map[part]int, len(f.parts))
	for j, q := range f.parts {
		at[q.key()] = j
	}
	return at
}

// unit is what 1 of a column of the form is of its source, bUnit apart.
func (f *form) unit(j int) float64 {
	if k := f.parts[j].source; k >= 0 {
		return f.scale.col[k]
	}
	return 1 / f.scale.row[-1-f.parts[j].source]
}
