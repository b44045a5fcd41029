package lp

import "math"

// nearEdge is the share of the way to the boundary a step may go.
const nearEdge = 0.9995

// regularisations are added to the diagonals of columns and rows: the first
// serves, the others are for a second and third try.
var regularisations = [...]float64{1e-9, 1e-8, 1e-11}

// point is an iterate of the embedding, or a step between two: x and its room
// w = u - x, their multipliers z and v, the rows' y, and the pair tau, kappa.
// Where u is infinite, v stays 0.
type point struct {
	x, z, w, v, y []float64
	tau, kappa    float64
}

func newPoint(m, n int) point {
	v := func() []float64 { return make([]float64, n) }
	return point{v(), v(), v(), v(), make([]float64, m), 0, 0}
}

// ipm is one run of the method; see the package comment.
type ipm struct {
	*form
	point
	chol           system
	lin            *refiner
	rp             []float64 // tau b - A x
	ru             []float64 // tau u - x - w
	rd             []float64 // tau c - A'y + v - z
	rg             float64   // kappa + c·x - b·y + u·v
	xz, wv         []float64 // right sides of the complementarity rows
	tk             float64
	inv, g         []float64 // 1/D, and c - (v/w) u
	q, x1          []float64 // response of y and x to tau
	den            float64
	v0, f, rhs, tm []float64
	count          float64 // complementary pairs
	trail          trail
	reg            float64 // added to both diagonals
	byRow          *columns
}

// newIPM starts from scratch, or where a near problem stood halfway.
func newIPM(f *form, eq system, reg float64, near *middle) *ipm {
	m, n := len(f.b), len(f.c)
	v := func() []float64 { return make([]float64, n) }
	s := &ipm{form: f, point: newPoint(m, n), rp: make([]float64, m), ru: v(), rd: v(), xz: v(), wv: v(), inv: v(), g: v(),
		q: make([]float64, m), x1: v(), v0: v(), f: v(), rhs: make([]float64, m), tm: v(), count: float64(n) + 1, reg: reg}
	s.chol, s.byRow = eq, f.a.transpose(m)
	s.lin = newRefiner(eq, n)
	for j := range n {
		if s.bounded(j) {
			s.count++
		}
	}
	if near != nil {
		s.from(near)
		return s
	}
	s.start()
	return s
}

func (s *ipm) bounded(j int) bool { return !math.IsInf(s.u[j], 1) }

// start takes the least-squares solutions of A x = b and A'y + z = c and pushes
// them inside (Mehrotra 1992, SIAM J. Optim. 2:575-601, section 7, in spirit).
func (s *ipm) start() {
	for j := range s.inv {
		s.inv[j] = 1
	}
	s.chol.factor(s.inv, s.reg)
	s.lin.solve(s.rhs, s.b)
	s.a.addMulT(s.x, 1, s.rhs)
	clear(s.rhs)
	s.a.addMul(s.rhs, 1, s.c)
	s.lin.solve(s.y, s.rhs)
	copy(s.z, s.c)
	s.a.addMulT(s.z, -1, s.y)
	px, pz := meanAbs(s.x)+startPush, meanAbs(s.z)+startPush
	for j := range s.x {
		z := s.z[j]
		s.x[j], s.z[j] = max(s.x[j], px), max(z, pz)
		if s.bounded(j) {
			s.x[j] = min(s.x[j], max(s.u[j]/2, startPush*px))
			s.w[j] = max(s.u[j]-s.x[j], startPush*px)
			s.z[j], s.v[j] = max(z, 0)+pz, max(-z, 0)+pz*min(1, px/s.w[j])
		}
	}
	s.tau, s.kappa = 1, px*pz
}

// startPush keeps the start off the boundary when the least-squares point is 0.
const startPush = 1e-2

func meanAbs(a []float64) float64 {
	t := 0.0
	for _, v := range a {
		t += math.Abs(v)
	}
	return t / max(1, float64(len(a)))
}

// mu is the mean product of the complementary pairs.
func (s *ipm) mu() float64 {
	return (dot(s.x, s.z) + dot(s.w, s.v) + s.tau*s.kappa) / s.count
}

// residuals refreshes what the equations still lack.
func (s *ipm) residuals() {
	for i, b := range s.b {
		s.rp[i] = s.tau*b - s.byRow.columnDot(i, s.x)
	}
	s.rg = s.kappa + dot(s.c, s.x) - dot(s.b, s.y)
	for j := range s.x {
		s.rd[j] = s.tau*s.c[j] + s.v[j] - s.z[j]
		if s.bounded(j) {
			s.ru[j] = s.tau*s.u[j] - s.x[j] - s.w[j]
			s.rg += s.u[j] * s.v[j]
		}
	}
	s.a.addMulT(s.rd, -1, s.y)
}

// prepare factors for the current point and solves for the response to tau.
func (s *ipm) prepare() {
	for j := range s.x {
		d := s.z[j]/s.x[j] + s.reg
		s.g[j] = s.c[j]
		if s.bounded(j) {
			h := s.v[j] / s.w[j]
			d += h
			s.g[j] -= h * s.u[j]
		}
		s.inv[j] = 1 / d
		s.tm[j] = s.g[j] * s.inv[j]
	}
	s.chol.factor(s.inv, s.reg)
	for i, b := range s.b {
		s.rhs[i] = b + s.byRow.columnDot(i, s.tm)
	}
	s.lin.solve(s.q, s.rhs)
	s.den = s.kappa/s.tau + dot(s.b, s.q)
	for j := range s.x1 {
		s.x1[j] = s.inv[j] * (s.a.columnDot(j, s.q) - s.g[j])
		s.den -= s.c[j] * s.x1[j]
		if s.bounded(j) {
			h := s.v[j] / s.w[j] * s.u[j]
			s.den += h * (s.u[j] - s.x1[j])
		}
	}
}

// step solves the Newton equations for a share eta of the residuals and the
// complementarity right sides in xz, wv and tk.
func (s *ipm) step(eta float64, d *point) {
	for j := range s.f {
		s.f[j] = eta*s.rd[j] - s.xz[j]/s.x[j]
		if s.bounded(j) {
			s.v0[j] = (s.wv[j] - s.v[j]*eta*s.ru[j]) / s.w[j]
			s.f[j] += s.v0[j]
		}
		s.tm[j] = s.inv[j] * s.f[j]
	}
	for i, r := range s.rp {
		s.rhs[i] = eta*r + s.byRow.columnDot(i, s.tm)
	}
	s.lin.solve(d.y, s.rhs)
	num := eta*s.rg + s.tk/s.tau - dot(s.b, d.y)
	for j := range d.x {
		d.x[j] = s.inv[j]*s.a.columnDot(j, d.y) - s.tm[j]
		num += s.c[j] * d.x[j]
		if s.bounded(j) {
			num += s.u[j] * (s.v[j]/s.w[j]*d.x[j] + s.v0[j])
		}
	}
	s.spread(eta, num/s.den, d)
}

// spread adds the part of the step that goes with tau and fills in the rest.
func (s *ipm) spread(eta, dtau float64, d *point) {
	d.tau, d.kappa = dtau, (s.tk-s.kappa*dtau)/s.tau
	for i, q := range s.q {
		d.y[i] += q * dtau
	}
	for j := range d.x {
		d.x[j] += s.x1[j] * dtau
		d.z[j] = (s.xz[j] - s.z[j]*d.x[j]) / s.x[j]
		if s.bounded(j) {
			d.w[j] = eta*s.ru[j] + s.u[j]*dtau - d.x[j]
			d.v[j] = (s.wv[j] - s.v[j]*d.w[j]) / s.w[j]
		}
	}
}

// reach is the longest step, at most 1, that leaves every pair nonnegative, in the
// direction that lies a share of the way from d to e.
func (s *ipm) reach(d, e *point, share float64) float64 {
	t := 1.0
	cut := func(at, by, other float64) {
		if by += share * (other - by); at+t*by < 0 {
			t = -at / by
		}
	}
	for j := range s.x {
		cut(s.x[j], d.x[j], e.x[j])
		cut(s.z[j], d.z[j], e.z[j])
		if s.bounded(j) {
			cut(s.w[j], d.w[j], e.w[j])
			cut(s.v[j], d.v[j], e.v[j])
		}
	}
	cut(s.tau, d.tau, e.tau)
	cut(s.kappa, d.kappa, e.kappa)
	return t
}

// move takes the step and keeps the halves of split columns from growing
// together: only their difference counts.
func (s *ipm) move(t float64, d *point) {
	for j := range s.x {
		s.x[j] += t * d.x[j]
		s.z[j] += t * d.z[j]
		s.w[j] += t * d.w[j]
		s.v[j] += t * d.v[j]
	}
	for i := range s.y {
		s.y[i] += t * d.y[i]
	}
	s.tau += t * d.tau
	s.kappa += t * d.kappa
	mu := s.mu()
	for j, q := range s.parts {
		if q.mate > j {
			s.trim(j, q.mate, mu)
		}
	}
}

// trim lowers both halves of a split column to what their difference and the
// mean product ask for.
func (s *ipm) trim(j, k int, mu float64) {
	low := min(s.x[j], s.x[k])
	keep := max(math.Abs(s.x[j]-s.x[k]), s.tau, mu/min(s.z[j], s.z[k]))
	if low > keep {
		s.x[j] -= low - keep
		s.x[k] -= low - keep
	}
}
