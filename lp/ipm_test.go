package lp

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// inForm carries a point of the problem into its form.
func inForm(f *form, x []float64) []float64 {
	row := f.p.Activity(x)
	out := make([]float64, len(f.parts))
	for j, q := range f.parts {
		v := 0.0
		if q.source >= 0 {
			v = x[q.source] / f.scale.col[q.source]
		} else {
			v = row[-1-q.source] * f.scale.row[-1-q.source]
		}
		out[j] = q.sign * (v - q.base) * f.bUnit
		if q.mate >= 0 {
			out[j] = max(0, out[j])
		}
	}
	return out
}

// Any x between its sides, with rows made to fit, must meet A x = b, x >= 0 and
// x <= u in the form and come back unchanged.
func TestFormKeepsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small(t, 6, 8)
		x := make([]float64, len(p.Cost))
		for j := range x {
			x[j] = rapid.Float64Range(max(p.ColLo[j], -50), max(min(p.ColUp[j], 50), max(p.ColLo[j], -50))).Draw(t, "x")
		}
		for i, r := range p.Activity(x) {
			switch {
			case p.RowLo[i] == p.RowUp[i]:
				p.RowLo[i], p.RowUp[i] = r, r
			default:
				p.RowLo[i], p.RowUp[i] = min(p.RowLo[i], r), max(p.RowUp[i], r)
			}
		}
		f, ray := newForm(p)
		if ray != nil {
			t.Fatalf("a problem with a point is called infeasible by %v", ray)
		}
		in := inForm(f, x)
		lack := append([]float64(nil), f.b...)
		f.a.addMul(lack, -1, in)
		if v := maxAbs(lack); v > 1e-9 {
			t.Errorf("A x - b is off by %g", v)
		}
		for j, v := range in {
			if v < -1e-9 || v > f.u[j]+1e-9 {
				t.Errorf("column %d of the form is %g, range 0 to %g", j, v, f.u[j])
			}
		}
		for j, v := range f.primal(in, 1) {
			if math.Abs(v-x[j]) > 1e-9*(1+math.Abs(x[j])) {
				t.Errorf("column %d comes back as %g, was %g", j, v, x[j])
			}
		}
	})
}

// A Newton step must meet the linearised equations of the embedding, but for
// the regularisation.
func TestStepMeetsNewtonEquations(t *testing.T) {
	f, _ := newForm(instance(t, "bounds_mix.mps"))
	s := newIPM(f, newNormal(len(f.b), &f.a), 1e-9, nil)
	w := newSteps(len(f.b), len(f.c))
	for range 3 {
		s.residuals()
		s.prepare()
		s.aim(s.mu()/2, nil)
		const eta = 0.7
		d := &w.now
		s.step(eta, d)
		checkNewton(t, s, d, eta)
		s.move(0.9*s.reach(d, d, 0), d)
	}
}

func checkNewton(t *testing.T, s *ipm, d *point, eta float64) {
	t.Helper()
	near := func(name string, got, want float64) {
		if !(math.Abs(got-want) <= 1e-6) {
			t.Errorf("%s: %.9g, want %.9g", name, got, want)
		}
	}
	row := make([]float64, len(s.b))
	s.a.addMul(row, 1, d.x)
	for i, v := range row {
		near("A dx - b dtau", v-s.b[i]*d.tau, eta*s.rp[i])
	}
	col := make([]float64, len(s.c))
	s.a.addMulT(col, 1, d.y)
	gap := dot(s.b, d.y) - dot(s.c, d.x) - d.kappa
	for j, v := range col {
		near("A'dy - dv + dz - c dtau", v-d.v[j]+d.z[j]-s.c[j]*d.tau, eta*s.rd[j])
		near("z dx + x dz", s.z[j]*d.x[j]+s.x[j]*d.z[j], s.xz[j])
		if s.bounded(j) {
			near("dx + dw - u dtau", d.x[j]+d.w[j]-s.u[j]*d.tau, eta*s.ru[j])
			near("v dw + w dv", s.v[j]*d.w[j]+s.w[j]*d.v[j], s.wv[j])
			gap -= s.u[j] * d.v[j]
		}
	}
	near("gap", gap, eta*s.rg)
	near("kappa dtau + tau dkappa", s.kappa*d.tau+s.tau*d.kappa, s.tk)
}

func TestIterationsStayInside(t *testing.T) {
	f, _ := newForm(instance(t, "year04_small.mps.gz"))
	s := newIPM(f, newNormal(len(f.b), &f.a), 1e-9, nil)
	w := newSteps(len(f.b), len(f.c))
	first := s.mu()
	for k := range 10 {
		s.residuals()
		s.iterate(w, 0)
		for j := range s.x {
			if !(s.x[j] > 0 && s.z[j] > 0) || s.bounded(j) && !(s.w[j] > 0 && s.v[j] > 0) {
				t.Fatalf("iteration %d: column %d has x %g z %g w %g v %g", k, j, s.x[j], s.z[j], s.w[j], s.v[j])
			}
		}
		if !(s.tau > 0 && s.kappa > 0) {
			t.Fatalf("iteration %d: tau %g kappa %g", k, s.tau, s.kappa)
		}
	}
	if s.mu() > first/1e4 {
		t.Errorf("ten iterations bring mu from %g to %g, want a ten-thousandth at most", first, s.mu())
	}
}

// Two equal columns leave an edge of optima: neither may be held at a side, the
// dearer third must be.
func TestLeanTellsTheFace(t *testing.T) {
	p := dense([]float64{1, 1, 1.001}, [][]float64{{1, 1, 1}}, []float64{6}, none(1, 1))
	l := optimum(t, p).lean
	if l.col[0] != 0 || l.col[1] != 0 || l.col[2] != -1 || l.row[0] != -1 {
		t.Errorf("columns lean %v, row %v; want 0 0 -1 and -1", l.col, l.row)
	}
	face := l.face(p)
	if face.ColUp[2] != 0 || face.RowUp[0] != 6 || !math.IsInf(face.ColUp[0], 1) || !math.IsInf(p.RowUp[0], 1) {
		t.Errorf("face holds columns to %v and rows to %v", face.ColUp, face.RowUp)
	}
	if !l.settled() {
		t.Errorf("%d of %d sides unclear", l.unclear, l.pairs)
	}
}

func TestFewerRefusesAFaceReadWrongly(t *testing.T) {
	p := dense([]float64{1, 2}, [][]float64{{1, 1}}, []float64{6}, none(1, 1))
	s := optimum(t, p)
	s.lean.col[0], s.lean.col[1] = -1, 0 // the cheap column held at 0 instead of the dear one
	if out, err := fewer(context.Background(), p, s, []int{0, 1}, Options{}); err == nil {
		t.Errorf("accepted %v at cost %g", out.X, out.Objective)
	}
}
