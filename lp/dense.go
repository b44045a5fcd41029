package lp

// panelWidth is how many columns of a full matrix are finished at a time.
const panelWidth = 32

// cholesky overwrites the lower triangle of a full n x n matrix, by rows, with
// its factor L. Pivots below least are lost to rounding and become infinite.
func cholesky(a []float64, n int, least float64, workers int) {
	panel := make([]float64, n*panelWidth)
	cols := make([]int, n)
	for i := range cols {
		cols[i] = i
	}
	for k := 0; k < n; k += panelWidth {
		w := min(panelWidth, n-k)
		nd := supernode{width: w, rows: cols[k:], val: panel[:(n-k)*w]}
		for i := k; i < n; i++ {
			copy(nd.val[(i-k)*w:(i-k+1)*w], a[i*n+k:i*n+k+w])
		}
		nd.cholesky(4 * least)
		for i := k; i < n; i++ {
			to := min(i+1, k+w)
			copy(a[i*n+k:i*n+to], nd.val[(i-k)*w:])
		}
		subtract(a, n, k, w, nd.val, cols, workers)
	}
}

// subtract takes the product of a finished panel from what is left.
func subtract(a []float64, n, k, w int, v []float64, cols []int, workers int) {
	const strip = 16
	first := k + w
	together(workers, (n-first+strip-1)/strip, func(part int) {
		from := first + part*strip
		to := min(from+strip, n)
		row := func(i int) []float64 { return v[(i-k)*w : (i-k+1)*w] }
		i := from
		for ; i+1 < to; i += 2 {
			twoRows(a[i*n:(i+1)*n], a[(i+1)*n:(i+2)*n], row(i), row(i+1), v[w*w:(i-k+1)*w], cols[first:i+1], 0)
			a[(i+1)*n+i+1] -= dot(row(i+1), row(i+1))
		}
		for ; i < to; i++ {
			for j := first; j <= i; j++ {
				a[i*n+j] -= dot(row(i), row(j))
			}
		}
	})
}

// invert writes to inv the inverse of L L', both triangles, for the factor L in
// the lower triangle of a full n x n matrix. It leaves L^-1 in place of L.
func invert(inv, l []float64, n int) {
	row := make([]float64, n)
	for i := range n {
		li := l[i*n : (i+1)*n]
		d := 1 / li[i]
		clear(row[:i])
		for k := range i {
			addTo(row[:k+1], -li[k]*d, l[k*n:k*n+k+1])
		}
		copy(li, row[:i])
		li[i] = d
	}
	clear(inv)
	for k := range n {
		lk := l[k*n : k*n+k+1]
		for i, v := range lk {
			addTo(inv[i*n:i*n+i+1], v, lk[:i+1])
		}
	}
	for i := range n {
		for j := range i {
			inv[j*n+i] = inv[i*n+j]
		}
	}
}

// addTo adds s b to a.
func addTo(a []float64, s float64, b []float64) {
	b = b[:len(a)]
	for i, v := range b {
		a[i] += s * v
	}
}

// solveBoth overwrites x with (L L')^-1 x for the factor L in the lower triangle of
// a full n x n matrix.
func solveBoth(l []float64, n int, x []float64) {
	for i := range n {
		x[i] = (x[i] - dot(l[i*n:i*n+i], x)) / l[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		x[i] /= l[i*n+i]
		addTo(x[:i], -x[i], l[i*n:i*n+i])
	}
}
