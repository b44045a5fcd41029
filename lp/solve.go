package lp

import (
	"context"
	"errors"
	"fmt"
	"slices"
)

// Status is what a solution proves.
type Status int

const (
	Optimal    Status = iota // X is feasible and Y proves that nothing is cheaper
	Infeasible               // Ray, one multiplier a row, proves that no point is feasible
	Unbounded                // Ray, one entry a column, lowers the cost for ever from X
)

func (s Status) String() string {
	if s < Optimal || s > Unbounded {
		return "unknown"
	}
	return [...]string{"optimal", "infeasible", "unbounded"}[s]
}

// Solution is a proven answer.
type Solution struct {
	Status     Status
	X          []float64 // value of each column; when unbounded, a feasible point
	Row        []float64 // activity A x of each row
	Y          []float64 // what one more unit of a row's active side adds to the cost
	D          []float64 // reduced cost of each column, c - A'y
	Objective  float64   // c·x + offset
	Bound      float64   // what Y and D prove the objective cannot go below
	Residuals  Residuals
	Ray        []float64 // proof of Infeasible (by row) or Unbounded (by column), scaled to prove 1
	Iterations int
	Pure       bool // Options.Few was honoured
	lean       *lean
	half       *middle
}

// Options tune a solve; the zero value is ready to use.
type Options struct {
	Tol     float64   // relative residual to reach, default 1e-9; what is accepted at the end is the certificate
	MaxIter int       // iterations allowed in all for one objective, default 200
	Few     []int     // columns to use as few of as ties allow; Solution.Pure says whether that was done
	Near    *Solution // of a problem with as many rows and columns and little else: the method starts on the way to it, and only its speed depends on that
	Shared  []int     // columns that join blocks of rows which nothing else joins; see the package comment
	Workers int       // goroutines that the blocks are spread over, default 1; the answer is the same for any
}

func (o Options) tol() float64 {
	if o.Tol > 0 {
		return o.Tol
	}
	return 1e-9
}

func (o Options) limit() int {
	if o.MaxIter > 0 {
		return o.MaxIter
	}
	return 200
}

// check reports lists that name columns p has not; the error wraps ErrProblem.
func (o Options) check(p *Problem) error {
	for k, list := range [][]int{o.Few, o.Shared} {
		for _, j := range list {
			if j < 0 || j >= len(p.Cost) {
				return fmt.Errorf("%w: %s names column %d of %d", ErrProblem, [...]string{"Few", "Shared"}[k], j, len(p.Cost))
			}
		}
	}
	return nil
}

// ErrUncertified is wrapped by the error of a solve that proved nothing.
var ErrUncertified = errors.New("not certified")

// UncertifiedError carries how close the best point came.
type UncertifiedError struct{ Residuals Residuals }

func (e *UncertifiedError) Error() string {
	r := e.Residuals
	return fmt.Sprintf("not certified: primal %.2g (want %g), dual %.2g (want %g), gap %.2g (want %g)",
		r.Primal, primalTol, r.Dual, dualTol, r.Gap, gapTol)
}

// Unwrap makes errors.Is(err, ErrUncertified) true.
func (e *UncertifiedError) Unwrap() error { return ErrUncertified }

// Solve finds and proves the answer of p, the same each time on one kind of
// processor. The error wraps ErrProblem for a malformed p or list of columns,
// ErrUncertified (as *UncertifiedError where a point was reached) when nothing
// could be proven, or the context's error.
func Solve(ctx context.Context, p *Problem, opt Options) (*Solution, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := opt.check(p); err != nil {
		return nil, err
	}
	return solveFew(ctx, p, opt)
}

// solveFew solves and then thins out the columns asked for, where it can; a
// face that fails is read again from a tighter solve.
func solveFew(ctx context.Context, p *Problem, opt Options) (*Solution, error) {
	s, err := solve(ctx, p, opt)
	if err != nil || s.Status != Optimal || len(opt.Few) == 0 {
		return s, err
	}
	for try := 0; ; try++ {
		thin, err := fewer(ctx, p, s, opt.Few, opt)
		if err == nil {
			thin.Pure = true
			return thin, nil
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		opt.Tol = opt.tol() / 100
		tighter, err := solve(ctx, p, opt)
		if err != nil || try == 1 {
			return s, nil
		}
		s = tighter
	}
}

func solve(ctx context.Context, p *Problem, opt Options) (*Solution, error) {
	s, err := attempt(ctx, p, opt)
	if err != nil || s.Status != Unbounded {
		return s, err
	}
	return feasible(ctx, p, s, opt)
}

// feasible completes an unbounded ray with a point to start from, or finds
// that there is none.
func feasible(ctx context.Context, p *Problem, s *Solution, opt Options) (*Solution, error) {
	at, err := attempt(ctx, p.with(make([]float64, len(p.Cost))), opt)
	if err != nil {
		return nil, fmt.Errorf("a ray was found, a feasible point was not: %w", err)
	}
	if at.Status == Infeasible {
		return at, nil
	}
	s.X, s.Row, s.Iterations = at.X, at.Row, s.Iterations+at.Iterations
	return s, nil
}

// attempt runs the method until one regularisation gives a proof.
func attempt(ctx context.Context, p *Problem, opt Options) (*Solution, error) {
	f, ray := newForm(p)
	if ray != nil {
		if s, ok := infeasible(p, ray); ok {
			return s, nil
		}
		return nil, fmt.Errorf("%w: an emptied row is not met, and its ray is not clear", ErrUncertified)
	}
	var fail error
	done := 0
	eq := f.system(opt)
	near, tries := opt.Near.mid(p), regularisations[:]
	if near != nil {
		tries = slices.Insert(slices.Clone(tries), 0, tries[0])
	}
	for k, reg := range tries {
		left := opt.limit() - done
		if k > 0 {
			near = nil
		} else if near != nil {
			left /= 2
		}
		out, err := newIPM(f, eq, reg, near).run(ctx, opt.tol(), left)
		if err != nil {
			return nil, err
		}
		if done += out.iter; out.fault() == nil {
			out.best.Iterations = done
			return out.best, nil
		}
		if fail = out.fault(); done >= opt.limit() {
			break
		}
	}
	return nil, fmt.Errorf("after %d iterations: %w", done, fail)
}
