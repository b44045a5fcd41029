package lp

// The kernels below do nearly all the arithmetic of a factor. They walk columns
// of equal length side by side, so that loads are shared and no sum waits for the
// one before it.

// minus4 takes x0 b0 + ... + x3 b3 from t.
func minus4(t []float64, x *[4]float64, b0, b1, b2, b3 []float64) {
	n := len(t)
	b0, b1, b2, b3 = b0[:n], b1[:n], b2[:n], b3[:n]
	x0, x1, x2, x3 := x[0], x[1], x[2], x[3]
	for i := range t {
		t[i] -= x0*b0[i] + x1*b1[i] + (x2*b2[i] + x3*b3[i])
	}
}

// minus8 takes x0 b0 + ... + x3 b3 from t, and the same with y from u.
func minus8(t, u []float64, x, y *[4]float64, b0, b1, b2, b3 []float64) {
	n := len(t)
	u, b0, b1, b2, b3 = u[:n], b0[:n], b1[:n], b2[:n], b3[:n]
	x0, x1, x2, x3 := x[0], x[1], x[2], x[3]
	y0, y1, y2, y3 := y[0], y[1], y[2], y[3]
	for i := range t {
		p, q, r, s := b0[i], b1[i], b2[i], b3[i]
		t[i] -= x0*p + x1*q + (x2*r + x3*s)
		u[i] -= y0*p + y1*q + (y2*r + y3*s)
	}
}

// minus takes x b from t.
func minus(t []float64, x float64, b []float64) {
	b = b[:len(t)]
	for i, v := range b {
		t[i] -= x * v
	}
}

// dots4 are the products of four columns and t.
func dots4(t, a0, a1, a2, a3 []float64) (s0, s1, s2, s3 float64) {
	n := len(t)
	a0, a1, a2, a3 = a0[:n], a1[:n], a2[:n], a3[:n]
	for i, v := range t {
		s0 += a0[i] * v
		s1 += a1[i] * v
		s2 += a2[i] * v
		s3 += a3[i] * v
	}
	return s0, s1, s2, s3
}

// panel is a full matrix by columns, each height long.
type panel struct {
	val    []float64
	height int
}

// column is column c from row i on, to row e.
func (p panel) column(c, i, e int) []float64 { return p.val[c*p.height+i : c*p.height+e] }

// less takes from t, rows i on of some column, columns [k, e) times x.
func (p panel) less(t []float64, x []float64, k, e, i int) {
	end := i + len(t)
	for ; k+3 < e; k += 4 {
		minus4(t, (*[4]float64)(x[k:]), p.column(k, i, end), p.column(k+1, i, end), p.column(k+2, i, end), p.column(k+3, i, end))
	}
	for ; k < e; k++ {
		minus(t, x[k], p.column(k, i, end))
	}
}

// lessTwo takes from t and u columns [k, e) times the entries of rows r and r+1.
func (p panel) lessTwo(t, u []float64, r, k, e, i int) {
	end, h, v := i+len(t), p.height, p.val
	for ; k+3 < e; k += 4 {
		x := [4]float64{v[k*h+r], v[(k+1)*h+r], v[(k+2)*h+r], v[(k+3)*h+r]}
		y := [4]float64{v[k*h+r+1], v[(k+1)*h+r+1], v[(k+2)*h+r+1], v[(k+3)*h+r+1]}
		minus8(t, u, &x, &y, p.column(k, i, end), p.column(k+1, i, end), p.column(k+2, i, end), p.column(k+3, i, end))
	}
	for ; k < e; k++ {
		b := p.column(k, i, end)
		minus(t, v[k*h+r], b)
		minus(u, v[k*h+r+1], b)
	}
}

// lessOne takes from t columns [k, e) times the entries of row r.
func (p panel) lessOne(t []float64, r, k, e, i int) {
	end, h, v := i+len(t), p.height, p.val
	for ; k+3 < e; k += 4 {
		x := [4]float64{v[k*h+r], v[(k+1)*h+r], v[(k+2)*h+r], v[(k+3)*h+r]}
		minus4(t, &x, p.column(k, i, end), p.column(k+1, i, end), p.column(k+2, i, end), p.column(k+3, i, end))
	}
	for ; k < e; k++ {
		minus(t, v[k*h+r], p.column(k, i, end))
	}
}

// project subtracts from x[k:e] the products of those columns, from row i on, and t.
func (p panel) project(x, t []float64, k, e, i int) {
	end := i + len(t)
	for ; k+3 < e; k += 4 {
		s0, s1, s2, s3 := dots4(t, p.column(k, i, end), p.column(k+1, i, end), p.column(k+2, i, end), p.column(k+3, i, end))
		x[k], x[k+1], x[k+2], x[k+3] = x[k]-s0, x[k+1]-s1, x[k+2]-s2, x[k+3]-s3
	}
	for ; k < e; k++ {
		x[k] -= dot(t, p.column(k, i, end))
	}
}
