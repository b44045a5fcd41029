package lp

// columns is a sparse matrix by columns (or, of the transpose, by rows).
type columns struct {
	start, index []int
	value        []float64
}

// transpose lists the entries of an m-row matrix by rows.
func (a *columns) transpose(m int) *columns {
	t := &columns{make([]int, m+1), make([]int, len(a.index)), make([]float64, len(a.index))}
	for _, i := range a.index {
		t.start[i+1]++
	}
	for i := range m {
		t.start[i+1] += t.start[i]
	}
	next := append([]int(nil), t.start...)
	for j := range len(a.start) - 1 {
		for k := a.start[j]; k < a.start[j+1]; k++ {
			i := a.index[k]
			t.index[next[i]], t.value[next[i]] = j, a.value[k]
			next[i]++
		}
	}
	return t
}

// addMul adds s A x to r.
func (a *columns) addMul(r []float64, s float64, x []float64) {
	for j, xj := range x {
		xj *= s
		for k := a.start[j]; k < a.start[j+1]; k++ {
			r[a.index[k]] += a.value[k] * xj
		}
	}
}

// addMulT adds s A'y to r.
func (a *columns) addMulT(r []float64, s float64, y []float64) {
	for j := range r {
		t := 0.0
		for k := a.start[j]; k < a.start[j+1]; k++ {
			t += a.value[k] * y[a.index[k]]
		}
		r[j] += s * t
	}
}
