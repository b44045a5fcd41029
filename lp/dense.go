package lp

import "math"

// panelWidth is how many columns of a full matrix are finished at a time.
const panelWidth = 32

// finish makes columns [k, e) of a panel columns of the factor, given that all
// before k have been taken from them. A pivot not above least is lost to
// rounding: its row is left out of the factor by an infinite pivot, and the
// refinement makes up for it.
func (p panel) finish(k, e int, least float64) {
	for c := k; c < e; c++ {
		col := p.column(c, c, p.height)
		if (c-k)%2 == 0 && c+1 < e {
			p.lessTwo(col, p.column(c+1, c, p.height), c, k, c, c)
		} else if (c-k)%2 == 0 {
			p.lessOne(col, c, k, c, c)
		} else {
			minus(col, p.val[(c-1)*p.height+c], p.column(c-1, c, p.height))
		}
		pivot := col[0]
		if !(pivot > least) {
			pivot = math.MaxFloat64
		}
		root := math.Sqrt(pivot)
		col[0] = root
		for i, each := 1, 1/root; i < len(col); i++ {
			col[i] *= each
		}
	}
}

// cholesky overwrites the lower triangle of the first columns, as many as rows,
// with the factor of what stands there.
func (p panel) cholesky(least float64, workers int) {
	const strip = 8
	n := p.height
	for k := 0; k < n; k += panelWidth {
		e := min(k+panelWidth, n)
		p.finish(k, e, least)
		together(workers, (n-e+strip-1)/strip, func(part int) {
			j, to := e+part*strip, min(e+(part+1)*strip, n)
			for ; j+1 < to; j += 2 {
				p.lessTwo(p.column(j, j, n), p.column(j+1, j, n), j, k, e, j)
			}
			if j < to {
				p.lessOne(p.column(j, j, n), j, k, e, j)
			}
		})
	}
}

// forward overwrites x, a place for each of the first w rows, with L^-1 x.
func (p panel) forward(x []float64) {
	w := len(x)
	for k := 0; k < w; k += 4 {
		e := min(k+4, w)
		for c := k; c < e; c++ {
			x[c] /= p.val[c*p.height+c]
			minus(x[c+1:e], x[c], p.column(c, c+1, e))
		}
		p.less(x[e:], x, k, e, e)
	}
}

// backward overwrites x with L'^-1 x.
func (p panel) backward(x []float64) {
	w := len(x)
	for e := w; e > 0; {
		k := (e - 1) / 4 * 4
		p.project(x, x[e:], k, e, e)
		for c := e - 1; c >= k; c-- {
			x[c] = (x[c] - dot(x[c+1:e], p.column(c, c+1, e))) / p.val[c*p.height+c]
		}
		e = k
	}
}

// invert writes to inv the inverse of L L' for the factor L, which becomes L^-1.
func (p panel) invert(inv []float64) {
	n := p.height
	clear(inv)
	q := panel{inv, n}
	for j := range n { // L^-1 by columns: L x = unit vector j
		x := q.column(j, 0, n)
		x[j] = 1
		for k := j / 4 * 4; k < n; k += 4 {
			e := min(k+4, n)
			for c := max(k, j); c < e; c++ {
				x[c] /= p.val[c*n+c]
				minus(x[c+1:e], x[c], p.column(c, c+1, e))
			}
			p.less(x[e:], x, k, e, e)
		}
	}
	copy(p.val, inv)
	for i := range n { // its columns times each other
		clear(q.column(i, 0, n))
		t := p.column(i, i, n)
		p.project(q.column(i, 0, n), t, 0, i+1, i)
	}
	for i := range n {
		for j := range i + 1 {
			v := -inv[i*n+j]
			inv[i*n+j], inv[j*n+i] = v, v
		}
	}
}
