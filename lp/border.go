package lp

import (
	"cmp"
	"slices"
)

// edgeRidge is added to the diagonal of N, as a share of what the shared columns
// put there: with less, N is lost to rounding where it leans on shared columns
// alone and the last iterations take more steps (1e-13: four times as many), with
// more it is too far from M (1e-6: no end).
const edgeRidge = 1e-11

// border is M = N + B diag(theta) B' for columns B shared by blocks of rows that
// nothing else joins. N is factored block by block and
//
//	M^-1 = N^-1 - N^-1 B (D + B'N^-1 B)^-1 B'N^-1,  D = diag(1/theta)
//
// (Woodbury 1950; Birge and Qi 1988, Management Science 34:1472-1479) serves to
// precondition. B has entries only in the edge of each block, the rows that N
// eliminates last, so all of it but the factor of N happens in small full
// matrices T, what is left of N at the edges.
type border struct {
	n        *normal
	a        *columns // every column, rows in the order of N
	byRow    *columns
	shared   []int // columns of B
	edges    []edge
	schur    []float64 // D + B'N^-1 B, then its factor, the lower triangle by rows
	sum      []float64 // a place for each shared column
	theta    []float64
	workers  int
	sections int // parts that products with A fall into
}

// edge is the last of the rows of a tree, with the part of B that stands there.
type edge struct {
	tree       span
	top        *supernode // nil where B has no entry
	rows, cols *columns   // of B by row of the edge, and by shared column
	inv        []float64  // T^-1
	z          []float64  // T^-1 B
	have, sent []float64  // a place for each row
	ask        []float64  // a place for each shared column
}

// newBorder lays out the factor for columns listed as shared. It returns nil if
// they do not join blocks, or join them in fewer rows than there are columns, so
// that the plain normal equations cost less.
func newBorder(m int, a *columns, list []int, workers int) *border {
	shared, apart := crossing(m, a, list)
	touched := make([]int, m)
	for i := range touched {
		touched[i] = -1
	}
	count, seen := 0, map[int]bool{}
	for _, j := range shared {
		for _, i := range a.rows(j) {
			if touched[i] < 0 {
				touched[i] = apart.of(i)
				count++
				seen[touched[i]] = true
			}
		}
	}
	if len(seen) < 2 || count <= len(shared) {
		return nil
	}
	b := &border{n: newNormalTo(m, a.without(shared), touched), shared: shared, workers: workers}
	b.a = a.renumbered(inverse(b.n.perm), m)
	b.byRow = b.a.transpose(m)
	b.schur, b.sum = make([]float64, len(shared)*len(shared)), make([]float64, len(shared))
	b.sections = 16
	b.cut()
	return b
}

// crossing leaves out of a list of columns those that join no blocks, or small
// ones only: rows that only shared columns join, such as those of a first
// decision, make a block of their own. Blocks are what all columns left out join.
func crossing(m int, a *columns, list []int) (shared []int, apart *blocks) {
	apart = newBlocks(m)
	listed := make([]bool, len(a.start)-1)
	for _, j := range list {
		listed[j] = true
	}
	for j, is := range listed {
		if !is {
			apart.join(a.rows(j))
		}
	}
	most := slices.Max(apart.size) / 2
	byLength := slices.Clone(list)
	slices.SortStableFunc(byLength, func(i, j int) int { return cmp.Compare(len(a.rows(i)), len(a.rows(j))) })
	for _, j := range byLength {
		rows := a.rows(j)
		if n := apart.joined(rows); n <= most || len(rows) > 0 && n == apart.size[apart.of(rows[0])] {
			apart.join(rows)
			listed[j] = false
		}
	}
	for j, is := range listed {
		if is && len(a.rows(j)) > 0 {
			shared = append(shared, j)
		}
	}
	return shared, apart
}

// cut gives each tree its part of B.
func (b *border) cut() {
	at := map[int]int{}
	for k, j := range b.shared {
		at[j] = k
	}
	b.edges = make([]edge, len(b.n.trees))
	for t := range b.edges {
		e := &b.edges[t]
		e.tree = b.n.trees[t]
		top := &b.n.nodes[e.tree.to-1]
		if !top.open {
			continue
		}
		e.top = top
		e.rows = &columns{start: []int{0}}
		for i := top.first; i < top.first+top.width; i++ {
			for k := b.byRow.start[i]; k < b.byRow.start[i+1]; k++ {
				if c, ok := at[b.byRow.index[k]]; ok {
					e.rows.index, e.rows.value = append(e.rows.index, c), append(e.rows.value, b.byRow.value[k])
				}
			}
			e.rows.start = append(e.rows.start, len(e.rows.index))
		}
		e.cols = e.rows.transpose(len(b.shared))
		e.inv, e.z = make([]float64, top.width*top.width), make([]float64, top.width*len(b.shared))
		e.have, e.sent, e.ask = make([]float64, top.width), make([]float64, top.width), make([]float64, len(b.shared))
	}
}

func (b *border) order() []int { return b.n.perm }

// limits: a solve costs a fifteenth of a factor here, so that more of them pay.
func (b *border) limits() limits { return limits{1e-10, 40, 8} }

func (b *border) factor(theta []float64, delta float64) {
	b.theta, b.n.theta, b.n.delta = theta, theta, delta
	for i := range b.n.ridge {
		b.n.ridge[i] = delta
	}
	for _, j := range b.shared {
		for k := b.a.start[j]; k < b.a.start[j+1]; k++ {
			b.n.ridge[b.a.index[k]] += edgeRidge * theta[j] * b.a.value[k] * b.a.value[k]
		}
	}
	together(b.workers, len(b.edges), func(t int) {
		b.n.factorTree(b.edges[t].tree)
		b.edges[t].finish(delta)
	})
	b.assemble()
	b.full().cholesky(0, b.workers)
}

// finish inverts what is left at the edge of a factored tree.
func (e *edge) finish(delta float64) {
	if e.top == nil {
		return
	}
	w, n := e.top.width, len(e.ask)
	e.top.panel().cholesky(delta/4, 1)
	e.top.panel().invert(e.inv)
	clear(e.z)
	for i := range w {
		z := e.z[i*n : (i+1)*n]
		for r, v := range e.inv[i*w : (i+1)*w] {
			for k := e.rows.start[r]; k < e.rows.start[r+1]; k++ {
				z[e.rows.index[k]] += v * e.rows.value[k]
			}
		}
	}
}

// full is D + B'N^-1 B as a matrix.
func (b *border) full() panel { return panel{b.schur, len(b.shared)} }

// assemble writes the lower triangle of D + B'T^-1 B, column by column.
func (b *border) assemble() {
	n := len(b.shared)
	together(b.workers, n, func(j int) {
		col := b.full().column(j, j, n)
		clear(col)
		var x [4]float64
		var of [4][]float64
		have := 0
		for t := range b.edges {
			e := &b.edges[t]
			if e.top == nil {
				continue
			}
			for k := e.cols.start[j]; k < e.cols.start[j+1]; k++ {
				i := e.cols.index[k]
				x[have], of[have] = -e.cols.value[k], e.z[i*n+j:(i+1)*n]
				if have++; have == 4 {
					minus4(col, &x, of[0], of[1], of[2], of[3])
					have = 0
				}
			}
		}
		for k := range have {
			minus(col, x[k], of[k])
		}
		col[0] += 1 / b.theta[b.shared[j]]
	})
}

// precondition overwrites r with about M^-1 r.
func (b *border) precondition(r []float64) {
	together(b.workers, len(b.edges), func(t int) {
		e := &b.edges[t]
		b.n.forward(e.tree, r)
		e.offer(r)
	})
	clear(b.sum)
	for t := range b.edges {
		if b.edges[t].top != nil {
			minus(b.sum, -1, b.edges[t].ask)
		}
	}
	b.full().forward(b.sum)
	b.full().backward(b.sum)
	together(b.workers, len(b.edges), func(t int) {
		e := &b.edges[t]
		e.settle(b.sum, r)
		b.n.backward(e.tree, r)
	})
}

// offer works out N^-1 r at the edge and what it asks of the shared columns.
func (e *edge) offer(r []float64) {
	if e.top == nil {
		return
	}
	w := e.top.width
	at := r[e.top.first : e.top.first+w]
	e.times(e.have, at)
	clear(e.ask)
	e.cols.addMulT(e.ask, 1, e.have)
}

// settle takes what the shared columns bring from the edge.
func (e *edge) settle(x, r []float64) {
	if e.top == nil {
		return
	}
	w := e.top.width
	clear(e.sent)
	e.rows.addMulT(e.sent, 1, x)
	at := r[e.top.first : e.top.first+w]
	copy(at, e.have)
	panel{e.inv, w}.less(at, e.sent, 0, w, 0)
}

// times sets y to T^-1 x.
func (e *edge) times(y, x []float64) {
	clear(y)
	panel{e.inv, len(x)}.less(y, x, 0, len(x), 0)
	for i := range y {
		y[i] = -y[i]
	}
}

// multiply sets r to M x, both in elimination order; t has a place per column.
func (b *border) multiply(r, x, t []float64) {
	together(b.workers, b.sections, func(part int) {
		for j := part * len(t) / b.sections; j < (part+1)*len(t)/b.sections; j++ {
			t[j] = b.theta[j] * b.a.columnDot(j, x)
		}
	})
	together(b.workers, b.sections, func(part int) {
		for i := part * len(r) / b.sections; i < (part+1)*len(r)/b.sections; i++ {
			r[i] = b.n.delta*x[i] + b.byRow.columnDot(i, t)
		}
	})
}
