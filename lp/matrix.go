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

// columnDot is the product of column j and y.
func (a *columns) columnDot(j int, y []float64) float64 {
	t := 0.0
	for k := a.start[j]; k < a.start[j+1]; k++ {
		t += a.value[k] * y[a.index[k]]
	}
	return t
}

// rows are the rows of column j.
func (a *columns) rows(j int) []int { return a.index[a.start[j]:a.start[j+1]] }

// without is the matrix with the listed columns empty.
func (a *columns) without(list []int) *columns {
	out := &columns{start: []int{0}}
	skip := make([]bool, len(a.start)-1)
	for _, j := range list {
		skip[j] = true
	}
	for j, no := range skip {
		if !no {
			out.index = append(out.index, a.index[a.start[j]:a.start[j+1]]...)
			out.value = append(out.value, a.value[a.start[j]:a.start[j+1]]...)
		}
		out.start = append(out.start, len(out.index))
	}
	return out
}

// renumbered is the m-row matrix with row i at pos[i], rows ascending in each
// column. Two transpositions sort it.
func (a *columns) renumbered(pos []int, m int) *columns {
	b := &columns{a.start, make([]int, len(a.index)), a.value}
	for k, i := range a.index {
		b.index[k] = pos[i]
	}
	return b.transpose(m).transpose(len(a.start) - 1)
}

// blocks are sets of rows that columns join.
type blocks struct{ up, size []int }

func newBlocks(m int) *blocks {
	b := &blocks{make([]int, m), make([]int, m)}
	for i := range m {
		b.up[i], b.size[i] = i, 1
	}
	return b
}

// of is the number of the block of row i.
func (b *blocks) of(i int) int {
	for b.up[i] != i {
		b.up[i] = b.up[b.up[i]]
		i = b.up[i]
	}
	return i
}

func (b *blocks) join(rows []int) {
	for k := 1; k < len(rows); k++ {
		p, q := b.of(rows[k-1]), b.of(rows[k])
		if p != q {
			p, q = min(p, q), max(p, q)
			b.up[q] = p
			b.size[p] += b.size[q]
		}
	}
}

// joined is how many rows the blocks of the given rows have together.
func (b *blocks) joined(rows []int) int {
	n := 0
	seen := map[int]bool{}
	for _, i := range rows {
		if r := b.of(i); !seen[r] {
			seen[r] = true
			n += b.size[r]
		}
	}
	return n
}
