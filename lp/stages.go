package lp

import (
	"context"
	"fmt"
)

// Stages minimises the objectives in strict order: each one over the points
// that are optimal for all before it. The cost of p itself is not used. It
// returns one solution for each stage; the last X is the answer. Solution k is
// certified against objectives[k] on the face left by the stages before, so its
// Objective, Bound and D are of that objective, and its Y prices sides that the
// earlier stages hold.
//
// A stage that is not optimal ends the list with its ray. Opt.Few applies to
// the last stage. The error wraps ErrFace when a stage leaves the choice of
// face in doubt or a later one disturbs an earlier one.
func Stages(ctx context.Context, p *Problem, objectives [][]float64, opt Options) ([]*Solution, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := opt.check(p); err != nil {
		return nil, err
	}
	few := opt.Few
	opt.Few = nil
	var out []*Solution
	face := p
	for k, cost := range objectives {
		if len(cost) != len(p.Cost) {
			return nil, fmt.Errorf("%w: stage %d has %d costs for %d columns", ErrProblem, k+1, len(cost), len(p.Cost))
		}
		if k == len(objectives)-1 {
			opt.Few = few
		}
		s, err := stage(ctx, face.with(cost), opt, k < len(objectives)-1)
		if err != nil {
			return out, fmt.Errorf("stage %d: %w", k+1, err)
		}
		if k > 0 && s.Status == Infeasible { // the stage before has a point, so its face was read wrongly
			return out, fmt.Errorf("%w: stage %d finds no point on it", ErrFace, k+1)
		}
		out, opt.Near = append(out, s), nil
		if s.Status != Optimal {
			return out, nil
		}
		for e, before := range out[:k] {
			if !held(objectives[e], s.X, before.Objective) {
				return out, fmt.Errorf("%w: stage %d disturbs stage %d", ErrFace, k+1, e+1)
			}
		}
		face = s.lean.face(face)
	}
	return out, nil
}

// stage solves one objective, to a tighter tolerance if the face must be
// settled and is not.
func stage(ctx context.Context, p *Problem, opt Options, settle bool) (*Solution, error) {
	for try := 0; ; try++ {
		s, err := solveFew(ctx, p, opt)
		if err != nil || s.Status != Optimal || !settle || s.lean.settled() {
			return s, err
		}
		if try == 2 {
			return nil, fmt.Errorf("%w: %d of %d sides unclear", ErrFace, s.lean.unclear, s.lean.pairs)
		}
		opt.Tol = opt.tol() / 100
	}
}
