package lp

import (
	"context"
	"fmt"
	"math"
)

const (
	nearOptimal = 1e-2 // merit below which iterates are worth certifying
	shortStep   = 1e-7 // steps shorter than this several times over are a stall
	patience    = 20   // iterations without a better certificate before giving up
	muShare     = 1e-9 // mu below this share of the tolerance gains nothing more
	shares      = 8    // shares of a corrector that are tried
	leastShare  = 0.1
	clearly     = 1.01 // times further that a smaller share must reach
	tighter     = 10   // times that solves are refined further when only the proof is wanting
	tightest    = 1e-14
	worthwhile  = 0.02 // by how much a corrector must lengthen the step
)

// outcome is what a run leaves: the best answer found, proven or not.
type outcome struct {
	best *Solution
	iter int
	half *middle // for near problems to start from
}

// fault says why the outcome proves nothing, or nil if it proves something.
func (o outcome) fault() error {
	switch {
	case o.best == nil:
		return fmt.Errorf("%w: no point near an optimum or a ray in %d iterations", ErrUncertified, o.iter)
	case o.best.Status == Optimal && !o.best.Residuals.ok():
		return &UncertifiedError{o.best.Residuals}
	}
	return nil
}

// run iterates until an answer is certified and its merit is at most tol, or
// nothing gets better, or the context ends.
func (s *ipm) run(ctx context.Context, tol float64, limit int) (outcome, error) {
	var out outcome
	steps := newSteps(len(s.b), len(s.c))
	idle, short := 0, 0
	for ; out.iter < limit; out.iter++ {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		s.residuals()
		merit := s.merit()
		if math.IsNaN(merit) {
			return out, nil
		}
		if ray, ok := s.ray(); ok {
			out.best = ray
			return out, nil
		}
		if merit < halfway && out.half == nil {
			out.half = &middle{s.point.copy(), s.form}
		}
		if merit < nearOptimal {
			s.trail.note(s)
			idle++
			if c := s.answer(); out.best == nil || c.Residuals.worst() < out.best.Residuals.worst() {
				out.best, idle = c, 0
			}
			if merit <= tol && out.best.Residuals.ok() {
				out.best.half = out.half
				return out, nil
			}
			if merit <= tol { // what is left is the rounding of the solves
				s.lin.limits.to = max(s.lin.limits.to/tighter, tightest)
			}
		}
		t := s.iterate(steps, tol*muShare*s.tau*s.tau)
		if short++; t > shortStep {
			short = 0
		}
		if idle > patience || short > 3 {
			return out, nil
		}
	}
	return out, nil
}

// merit is the largest relative residual of the point x/tau, y/tau.
func (s *ipm) merit() float64 {
	primal := maxAbs(s.rp) / (1 + maxAbs(s.b))
	for j, r := range s.ru {
		if s.bounded(j) {
			primal = max(primal, math.Abs(r)/(1+s.u[j]))
		}
	}
	dual := maxAbs(s.rd) / (1 + maxAbs(s.c))
	cost := dot(s.c, s.x) / s.tau
	gap := math.Abs(s.rg-s.kappa) / s.tau / (s.cUnit*s.bUnit + math.Abs(cost))
	return max(primal/s.tau, dual/s.tau, gap)
}

// ray tries the point as proof that there is no optimum once kappa rules tau.
func (s *ipm) ray() (*Solution, bool) {
	if s.kappa < s.tau {
		return nil, false
	}
	if r, ok := infeasible(s.p, s.dual(s.y, 1)); ok {
		return r, true
	}
	return unbounded(s.p, s.direction(s.x))
}

// answer certifies x/tau and y/tau and notes which sides they lean on.
func (s *ipm) answer() *Solution {
	c := certify(s.p, s.primal(s.x, s.tau), s.dual(s.y, s.tau))
	c.lean = newLean(s)
	return c
}

// steps are the work space of an iteration.
type steps struct {
	now, next point
	xz, wv    []float64
}

func newSteps(m, n int) *steps {
	v := func() []float64 { return make([]float64, n) }
	return &steps{newPoint(m, n), newPoint(m, n), v(), v()}
}

// iterate takes one predictor-corrector step and returns its length. The share
// of mu to keep comes from how far the predictor could go (Andersen and
// Andersen 2000, in High Performance Optimization, ch. 8); mu is not driven
// below the floor, where residuals could no longer follow.
func (s *ipm) iterate(w *steps, floor float64) float64 {
	s.prepare()
	mu := s.mu()
	s.aim(0, nil)
	s.step(1, &w.now)
	t := s.reach(&w.now, &w.now, 0)
	gamma := (1 - t) * min(0.5, (1-t)*(1-t))
	s.aim(max(gamma*mu, min(mu, floor)), &w.now)
	s.step(1-gamma, &w.now)
	t = s.reach(&w.now, &w.now, 0)
	for k := 0; k < s.lin.limits.correctors && t < 0.95; k++ {
		longer, ok := s.correct(w, t, gamma, mu)
		if !ok {
			break
		}
		t = longer
	}
	t *= nearEdge
	s.move(t, &w.now)
	return t
}

// aim sets the complementarity right sides for pairs of product target, less
// the second-order products of the predictor if there is one.
func (s *ipm) aim(target float64, d *point) {
	for j := range s.x {
		s.xz[j] = target - s.x[j]*s.z[j]
		if s.bounded(j) {
			s.wv[j] = target - s.w[j]*s.v[j]
		}
	}
	s.tk = target - s.tau*s.kappa
	if d == nil {
		return
	}
	for j := range s.x {
		s.xz[j] -= d.x[j] * d.z[j]
		s.wv[j] -= d.w[j] * d.v[j]
	}
	s.tk -= d.tau * d.kappa
}

// correct asks for a longer step t and pulls the pairs that would then leave
// the neighbourhood [mu/10, 10 mu] back towards it (Gondzio 1996, Comput.
// Optim. Appl. 6:137-156). It keeps the share of the correction that reaches
// furthest, if that is worthwhile (Colombo and Gondzio 2008, Comput. Optim. Appl.
// 41:277-305).
func (s *ipm) correct(w *steps, t, gamma, mu float64) (float64, bool) {
	far, d := min(1, 1.3*t+0.1), &w.now
	low, high := max(gamma, 0.01)*mu*0.1, max(gamma, 0.01)*mu*10
	copy(w.xz, s.xz)
	copy(w.wv, s.wv)
	tk := s.tk
	for j := range s.x {
		s.xz[j] += pull((s.x[j]+far*d.x[j])*(s.z[j]+far*d.z[j]), low, high)
		if s.bounded(j) {
			s.wv[j] += pull((s.w[j]+far*d.w[j])*(s.v[j]+far*d.v[j]), low, high)
		}
	}
	s.tk += pull((s.tau+far*d.tau)*(s.kappa+far*d.kappa), low, high)
	s.step(1-gamma, &w.next)
	share, longer := s.bestShare(w, max(leastShare, t*t))
	if longer < t+worthwhile {
		share, longer = 0, t
	}
	if share > 0 {
		w.now.towards(&w.next, share)
		towards(w.xz, s.xz, share)
		towards(w.wv, s.wv, share)
	}
	s.xz, w.xz, s.wv, w.wv = w.xz, s.xz, w.wv, s.wv
	s.tk = tk + share*(s.tk-tk)
	return longer, share > 0
}

// bestShare finds, from least to 1, the share of the way from the present step
// to the next one that reaches furthest.
func (s *ipm) bestShare(w *steps, least float64) (share, t float64) {
	for k := range shares + 1 {
		try := 1 - (1-least)*float64(k)/shares
		if r := s.reach(&w.now, &w.next, try); r > clearly*t {
			share, t = try, r
		}
	}
	return share, t
}

// towards moves a point a share of the way to another.
func (p *point) towards(q *point, share float64) {
	towards(p.x, q.x, share)
	towards(p.z, q.z, share)
	towards(p.w, q.w, share)
	towards(p.v, q.v, share)
	towards(p.y, q.y, share)
	p.tau += share * (q.tau - p.tau)
	p.kappa += share * (q.kappa - p.kappa)
}

func towards(a, b []float64, share float64) {
	for i, v := range b {
		a[i] += share * (v - a[i])
	}
}

func pull(v, low, high float64) float64 {
	switch {
	case v < low:
		return low - v
	case v > high:
		return max(high-v, -high)
	}
	return 0
}
