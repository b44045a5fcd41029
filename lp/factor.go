package lp

import "math"

// normal factors M = A diag(theta) A' + delta I = L L' by left-looking
// supernodes (Ng and Peyton 1993, SIAM J. Sci. Comput. 14:1034-1056).
type normal struct {
	a     *columns // rows renumbered to the order of elimination, sorted in each column
	byRow *columns
	tail  []int // place in column of each entry of byRow
	perm  []int // perm[k] is the row eliminated at step k
	nodes []supernode
	owner []int // supernode of each column of L
	theta []float64
	delta float64
	next  []int   // supernode: first of its rows not yet applied
	queue [][]int // supernode: earlier ones that update it
	place []int   // row to its place in the block being built
}

// newNormal orders the rows of A and lays out the factor.
func newNormal(m int, a *columns) *normal {
	byRow := a.transpose(m)
	adj := graphOf(m, a, byRow)
	keep := make([][]int, m)
	for i := range adj {
		keep[i] = append([]int(nil), adj[i]...)
	}
	perm := minimumDegree(adj)
	parent := eliminationTree(keep, inverse(perm), perm)
	perm = permute(perm, postorder(parent))
	pos := inverse(perm)
	parent = eliminationTree(keep, pos, perm)
	f := &normal{perm: perm, nodes: supernodes(structures(keep, pos, perm, parent), parent)}
	f.own(m)
	f.renumber(m, a, pos)
	return f
}

func inverse(perm []int) []int {
	pos := make([]int, len(perm))
	for k, v := range perm {
		pos[v] = k
	}
	return pos
}

func permute(p, by []int) []int {
	q := make([]int, len(p))
	for k, v := range by {
		q[k] = p[v]
	}
	return q
}

func (f *normal) own(m int) {
	f.owner, f.place = make([]int, m), make([]int, m)
	f.next, f.queue = make([]int, len(f.nodes)), make([][]int, len(f.nodes))
	for s, nd := range f.nodes {
		for c := range nd.width {
			f.owner[nd.first+c] = s
		}
	}
}

// renumber carries A into elimination order. Two transpositions sort it.
func (f *normal) renumber(m int, a *columns, pos []int) {
	b := &columns{a.start, make([]int, len(a.index)), a.value}
	for k, i := range a.index {
		b.index[k] = pos[i]
	}
	f.byRow = b.transpose(m)
	f.a = f.byRow.transpose(len(a.start) - 1)
	f.tail = make([]int, len(f.byRow.index))
	next := append([]int(nil), f.a.start...)
	for k, j := range f.byRow.index {
		f.tail[k] = next[j]
		next[j]++
	}
}

// factor computes L for the weights theta of the columns.
func (f *normal) factor(theta []float64, delta float64) {
	f.theta, f.delta = theta, delta
	for s := range f.nodes {
		f.queue[s] = f.queue[s][:0]
	}
	for s := range f.nodes {
		nd := &f.nodes[s]
		f.load(nd)
		for _, d := range f.queue[s] {
			from := &f.nodes[d]
			lo := f.next[d]
			hi := lo
			for hi < len(from.rows) && from.rows[hi] < nd.first+nd.width {
				hi++
			}
			update(nd, from, f.place, lo, hi)
			f.enqueue(d, hi)
		}
		nd.cholesky(delta)
		f.enqueue(s, nd.width)
	}
}

// enqueue files supernode d with the one that holds its row at place k.
func (f *normal) enqueue(d, k int) {
	f.next[d] = k
	if k < len(f.nodes[d].rows) {
		t := f.owner[f.nodes[d].rows[k]]
		f.queue[t] = append(f.queue[t], d)
	}
}

// load writes the columns of M that belong to a supernode into its block.
func (f *normal) load(nd *supernode) {
	clear(nd.val)
	for i, r := range nd.rows {
		f.place[r] = i
	}
	for c := range nd.width {
		i := nd.first + c
		for k := f.byRow.start[i]; k < f.byRow.start[i+1]; k++ {
			j := f.byRow.index[k]
			t := f.byRow.value[k] * f.theta[j]
			for e := f.tail[k]; e < f.a.start[j+1]; e++ {
				nd.val[f.place[f.a.index[e]]*nd.width+c] += t * f.a.value[e]
			}
		}
		nd.val[c*nd.width+c] += f.delta
	}
}

// update subtracts from a block the product of an earlier one's rows: those
// from lo on, times those in [lo, hi) that are columns of the block.
func update(nd, from *supernode, place []int, lo, hi int) {
	w, v := from.width, from.val
	for i := lo; i < hi; i++ {
		dst := nd.val[place[from.rows[i]]*nd.width:]
		for j := lo; j <= i; j++ {
			dst[from.rows[j]-nd.first] -= dot(v[i*w:(i+1)*w], v[j*w:(j+1)*w])
		}
	}
	i := hi
	for ; i+1 < len(from.rows); i += 2 {
		d0, d1 := nd.val[place[from.rows[i]]*nd.width:], nd.val[place[from.rows[i+1]]*nd.width:]
		twoRows(d0, d1, v[i*w:(i+1)*w], v[(i+1)*w:(i+2)*w], v[lo*w:hi*w], from.rows[lo:hi], nd.first)
	}
	if i < len(from.rows) {
		dst := nd.val[place[from.rows[i]]*nd.width:]
		for j := lo; j < hi; j++ {
			dst[from.rows[j]-nd.first] -= dot(v[i*w:(i+1)*w], v[j*w:(j+1)*w])
		}
	}
}

// twoRows is the kernel: two rows against all target columns, four at a time,
// so that eight sums stay in registers.
func twoRows(d0, d1, a0, a1, b []float64, cols []int, first int) {
	w := len(a0)
	a1 = a1[:w]
	j := 0
	for ; j+3 < len(cols); j += 4 {
		b0, b1 := b[j*w:][:w], b[(j+1)*w:][:w]
		b2, b3 := b[(j+2)*w:][:w], b[(j+3)*w:][:w]
		var s00, s01, s02, s03, s10, s11, s12, s13 float64
		for k, x := range a0 {
			y := a1[k]
			p, q, r, t := b0[k], b1[k], b2[k], b3[k]
			s00 += x * p
			s01 += x * q
			s02 += x * r
			s03 += x * t
			s10 += y * p
			s11 += y * q
			s12 += y * r
			s13 += y * t
		}
		c0, c1, c2, c3 := cols[j]-first, cols[j+1]-first, cols[j+2]-first, cols[j+3]-first
		d0[c0], d0[c1], d0[c2], d0[c3] = d0[c0]-s00, d0[c1]-s01, d0[c2]-s02, d0[c3]-s03
		d1[c0], d1[c1], d1[c2], d1[c3] = d1[c0]-s10, d1[c1]-s11, d1[c2]-s12, d1[c3]-s13
	}
	for ; j < len(cols); j++ {
		bj := b[j*w:][:w]
		d0[cols[j]-first] -= dot(a0, bj)
		d1[cols[j]-first] -= dot(a1, bj)
	}
}

// cholesky finishes a block: its square top becomes L, its lower rows follow.
// A pivot below delta/4 is lost to rounding (M >= delta I): its row is left out
// of the factor by an infinite pivot, and the refinement makes up for it.
func (nd *supernode) cholesky(delta float64) {
	w := nd.width
	for i := range nd.rows {
		row := nd.val[i*w : (i+1)*w]
		for j := 0; j < min(i, w); j++ {
			lj := nd.val[j*w : (j+1)*w]
			row[j] = (row[j] - dot(row[:j], lj[:j])) / lj[j]
		}
		if i < w {
			pivot := row[i] - dot(row[:i], row[:i])
			if pivot < delta/4 {
				pivot = math.MaxFloat64
			}
			row[i] = math.Sqrt(pivot)
		}
	}
}

// backsolve overwrites b, in elimination order, with M^-1 b as factored.
func (f *normal) backsolve(b []float64) {
	for s := range f.nodes {
		nd := &f.nodes[s]
		w, x := nd.width, b[nd.first:nd.first+nd.width]
		for i := range w {
			x[i] = (x[i] - dot(nd.val[i*w:i*w+i], x)) / nd.val[i*w+i]
		}
		for i := w; i < len(nd.rows); i++ {
			b[nd.rows[i]] -= dot(nd.val[i*w:(i+1)*w], x)
		}
	}
	for s := len(f.nodes) - 1; s >= 0; s-- {
		nd := &f.nodes[s]
		w, x := nd.width, b[nd.first:nd.first+nd.width]
		for i := len(nd.rows) - 1; i >= w; i-- {
			t := b[nd.rows[i]]
			for j, v := range nd.val[i*w : (i+1)*w] {
				x[j] -= v * t
			}
		}
		for i := w - 1; i >= 0; i-- {
			x[i] /= nd.val[i*w+i]
			for j, v := range nd.val[i*w : i*w+i] {
				x[j] -= v * x[i]
			}
		}
	}
}

// multiply sets r to M x, both in elimination order; t has a place per column.
func (f *normal) multiply(r, x, t []float64) {
	clear(t)
	f.a.addMulT(t, 1, x)
	for j := range t {
		t[j] *= f.theta[j]
	}
	for i := range r {
		r[i] = f.delta * x[i]
	}
	f.a.addMul(r, 1, t)
}
