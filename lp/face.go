package lp

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
)

// faceLoss is what thinning out may add to the objective, of 1 + objective.
const faceLoss = 1e-8

// ErrFace says that the optimal face could not be told apart from the rest, so
// that a further objective cannot be stood on it.
var ErrFace = errors.New("optimal face not settled")

// face is the problem with every side that the answer leans on made an
// equality: its feasible points are the optimal ones.
func (l *lean) face(p *Problem) *Problem {
	q := *p
	q.ColLo, q.ColUp = fixed(p.ColLo, p.ColUp, l.col)
	q.RowLo, q.RowUp = fixed(p.RowLo, p.RowUp, l.row)
	return &q
}

func fixed(lo, up []float64, at []int8) (l, u []float64) {
	l, u = append([]float64(nil), lo...), append([]float64(nil), up...)
	for i, side := range at {
		switch {
		case side < 0:
			u[i] = l[i]
		case side > 0:
			l[i] = u[i]
		}
	}
	return l, u
}

// fewer moves a solution along its optimal face to one that uses fewer of the
// listed columns, by a generic positive cost on their distance from zero. The
// result is certified against the original cost with the original multipliers,
// so a face that was read wrongly does no harm.
func fewer(ctx context.Context, p *Problem, sol *Solution, columns []int, opt Options) (*Solution, error) {
	opt.Near = nil
	on, err := solve(ctx, sol.lean.face(p).with(genericCost(p, columns)), opt)
	if err != nil {
		return nil, err
	}
	if on.Status != Optimal {
		return nil, fmt.Errorf("%w: %v on the face", ErrFace, on.Status)
	}
	out := certify(p, on.X, sol.Y)
	out.lean, out.Iterations = sol.lean, sol.Iterations+on.Iterations
	if !out.Residuals.ok() {
		return nil, &UncertifiedError{out.Residuals}
	}
	if loss := out.Objective - sol.Objective; loss > faceLoss*(1+math.Abs(sol.Objective)) {
		return nil, fmt.Errorf("%w: the cost rises by %g on it", ErrFace, loss)
	}
	return out, nil
}

// genericCost prices the listed columns at 1 to 2 by a fixed stream, so that
// ties split the same way each time. A column that may be negative is left out.
func genericCost(p *Problem, columns []int) []float64 {
	cost, rng := make([]float64, len(p.Cost)), rand.New(rand.NewPCG(1, 1))
	for _, j := range columns {
		price := 1 + rng.Float64()
		switch {
		case p.ColLo[j] >= 0:
			cost[j] = price
		case p.ColUp[j] <= 0:
			cost[j] = -price
		}
	}
	return cost
}

// held reports whether x keeps an earlier objective at its optimum.
func held(cost, x []float64, optimum float64) bool {
	return dot(cost, x)-optimum <= gapTol*(1+math.Abs(optimum))
}
