package weather

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// LagMatrices returns A and B of the weakly stationary process
// χ(t) = A χ(t-1) + B ε(t), ε independent standard normal, from the lag-0 and lag-1
// correlations: A = M1 M0⁻¹, B Bᵀ = M0 - A M1ᵀ, B lower triangular. M1 holds
// today in rows and yesterday in columns. Richardson (1981). It errs when no such
// process has those correlations.
func LagMatrices(m0, m1 *mat.Dense) (a, b *mat.Dense, err error) {
	n, _ := m0.Dims()
	var inverse mat.Dense
	if err := inverse.Inverse(m0); err != nil {
		return nil, nil, errors.New("lag-0 correlations are singular")
	}
	a, b = new(mat.Dense), mat.NewDense(n, n, nil)
	a.Mul(m1, &inverse)
	var noise mat.Dense
	noise.Mul(a, m1.T())
	noise.Sub(m0, &noise)
	symmetric := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			symmetric.SetSym(i, j, (noise.At(i, j)+noise.At(j, i))/2)
		}
	}
	var root mat.Cholesky
	if !root.Factorize(symmetric) {
		return nil, nil, errors.New("no process has these lag-0 and lag-1 correlations")
	}
	var lower mat.TriDense
	root.LTo(&lower)
	b.Copy(&lower)
	return a, b, nil
}

// LagMoments returns the lag-0 and lag-1 covariances that A and B imply:
// M0 = A M0 Aᵀ + B Bᵀ, M1 = A M0. The eigenvalues of A lie within the unit circle.
func LagMoments(a, b *mat.Dense) (m0, m1 *mat.Dense) {
	var noise, step mat.Dense
	noise.Mul(b, b.T())
	m0, m1 = mat.DenseCopyOf(&noise), new(mat.Dense)
	for range 500 { // the rest shrinks as the square of the greatest eigenvalue
		step.Product(a, m0, a.T())
		m0.Add(&step, &noise)
	}
	m1.Mul(a, m0)
	return m0, m1
}

// A pair is a two-variable residual process, tmax before tmin, laid out for the daily step.
type pair struct {
	a11, a12, a21, a22 float64
	b11, b21, b22      float64
	cross              float64 // lag-0 correlation
}

// newPair recomputes A and B for the temperatures alone from their correlations:
// lag 0, then today's (row) with yesterday's (column).
func newPair(cross float64, lag1 [2][2]float64) (pair, error) {
	a, b, err := LagMatrices(
		mat.NewDense(2, 2, []float64{1, cross, cross, 1}),
		mat.NewDense(2, 2, []float64{lag1[0][0], lag1[0][1], lag1[1][0], lag1[1][1]}))
	if err != nil {
		return pair{}, err
	}
	return pair{
		a11: a.At(0, 0), a12: a.At(0, 1), a21: a.At(1, 0), a22: a.At(1, 1),
		b11: b.At(0, 0), b21: b.At(1, 0), b22: b.At(1, 1), cross: cross,
	}, nil
}

// start turns two standard normal draws into a first residual.
func (p pair) start(e1, e2 float64) (hi, lo float64) {
	return e1, p.cross*e1 + math.Sqrt(1-p.cross*p.cross)*e2
}

// next steps the residuals on by one day.
func (p pair) next(hi, lo, e1, e2 float64) (float64, float64) {
	return p.a11*hi + p.a12*lo + p.b11*e1, p.a21*hi + p.a22*lo + p.b21*e1 + p.b22*e2
}
