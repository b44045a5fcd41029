package lp

import "math"

// system is a factored M = A diag(theta) A' + delta I, in its own order of rows.
type system interface {
	order() []int                          // order()[k] is the row of A at place k
	factor(theta []float64, delta float64) // for the weights of the columns
	precondition(b []float64)              // b becomes about M^-1 b
	multiply(r, x, t []float64)            // r becomes M x; t has a place per column
	limits() limits                        // what a solve is worth
}

// limits say how much work goes into the solves with one factor. Refinement
// stops when the residual has fallen to the given share of the right side, or
// after so many steps; an iteration has so many extra correctors at most.
type limits struct {
	to                float64
	steps, correctors int
}

// refiner solves M x = b by conjugate gradients with the factor of M as
// preconditioner: one step is a plain solve, the others mend its rounding
// (Hestenes and Stiefel 1952, J. Res. NBS 49:409-436).
type refiner struct {
	f             system
	perm          []int
	limits        limits
	x, r, z, p, q []float64
	t             []float64
}

func newRefiner(f system, n int) *refiner {
	perm := f.order()
	v := func() []float64 { return make([]float64, len(perm)) }
	return &refiner{f, perm, f.limits(), v(), v(), v(), v(), v(), make([]float64, n)}
}

// solve writes M^-1 b to y, both in the order of the rows of A.
func (s *refiner) solve(y, b []float64) {
	clear(s.x)
	for k, i := range s.perm {
		s.r[k] = b[i]
	}
	goal := s.limits.to * maxAbs(s.r)
	rho := 0.0
	for step := 0; step < s.limits.steps && maxAbs(s.r) > goal; step++ {
		copy(s.z, s.r)
		s.f.precondition(s.z)
		before := rho
		rho = dot(s.r, s.z)
		if step == 0 {
			copy(s.p, s.z)
		} else {
			for i, z := range s.z {
				s.p[i] = z + rho/before*s.p[i]
			}
		}
		s.f.multiply(s.q, s.p, s.t)
		alpha := rho / dot(s.p, s.q)
		if !(alpha > 0) || math.IsInf(alpha, 0) {
			break
		}
		for i := range s.x {
			s.x[i] += alpha * s.p[i]
			s.r[i] -= alpha * s.q[i]
		}
	}
	for k, i := range s.perm {
		y[i] = s.x[k]
	}
}
