package lp

// normal factors M = A diag(theta) A' + diag(ridge) = L L' by left-looking
// supernodes (Ng and Peyton 1993, SIAM J. Sci. Comput. 14:1034-1056).
type normal struct {
	a     *columns // rows renumbered to the order of elimination, sorted in each column
	byRow *columns
	tail  []int // place in column of each entry of byRow
	perm  []int // perm[k] is the row eliminated at step k
	nodes []supernode
	trees []span // supernodes of each tree of elimination: they share no row
	owner []int  // supernode of each column of L
	theta []float64
	ridge []float64 // added to the diagonal, by row
	delta float64   // the least of ridge
	next  []int     // supernode: first of its rows not yet applied
	queue [][]int   // supernode: earlier ones that update it
	place []int     // row to its place in the block being built
	work  []float64 // two places for each row: a tree uses those of its own
	seat  []int     // likewise: places of the rows of an update
}

// span is a run from <= s < to.
type span struct{ from, to int }

// newNormal orders the rows of A and lays out the factor.
func newNormal(m int, a *columns) *normal { return newNormalTo(m, a, nil) }

// newNormalTo does the same but keeps the rows with edge >= 0 to the end of
// their tree: those of one number make one supernode, left as assembled. Rows of
// one number must be of one tree.
func newNormalTo(m int, a *columns, edge []int) *normal {
	byRow := a.transpose(m)
	adj := graphOf(m, a, byRow)
	late := make([]bool, m)
	for i, e := range edge {
		late[i] = e >= 0
	}
	perm := minimumFill(cloneLists(adj), late)
	link(adj, edge)
	parent := eliminationTree(adj, inverse(perm), perm)
	perm = permute(perm, postorder(parent))
	pos := inverse(perm)
	parent = eliminationTree(adj, pos, perm)
	f := &normal{perm: perm, nodes: supernodes(structures(adj, pos, perm, parent), parent, permute(late, perm))}
	f.own(m)
	f.renumber(m, a, pos)
	return f
}

func cloneLists(adj [][]int) [][]int {
	keep := make([][]int, len(adj))
	for i := range adj {
		keep[i] = append([]int(nil), adj[i]...)
	}
	return keep
}

// link makes neighbours of all rows of one edge, so that the tree of elimination
// runs through them in one line to its root.
func link(adj [][]int, edge []int) {
	rows := map[int][]int{}
	for i, e := range edge {
		if e >= 0 {
			rows[e] = append(rows[e], i)
		}
	}
	for i, e := range edge {
		if e >= 0 {
			adj[i] = append(adj[i], rows[e]...)
		}
	}
}

func inverse(perm []int) []int {
	pos := make([]int, len(perm))
	for k, v := range perm {
		pos[v] = k
	}
	return pos
}

func permute[T any](p []T, by []int) []T {
	q := make([]T, len(p))
	for k, v := range by {
		q[k] = p[v]
	}
	return q
}

func (f *normal) own(m int) {
	f.owner, f.place = make([]int, m), make([]int, m)
	f.next, f.queue = make([]int, len(f.nodes)), make([][]int, len(f.nodes))
	f.ridge, f.work, f.seat = make([]float64, m), make([]float64, 2*m), make([]int, m)
	from := 0
	for s, nd := range f.nodes {
		for c := range nd.width {
			f.owner[nd.first+c] = s
		}
		if len(nd.rows) == nd.width { // a root
			f.trees = append(f.trees, span{from, s + 1})
			from = s + 1
		}
	}
}

// renumber carries A into elimination order.
func (f *normal) renumber(m int, a *columns, pos []int) {
	f.a = a.renumbered(pos, m)
	f.byRow = f.a.transpose(m)
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
	for i := range f.ridge {
		f.ridge[i] = delta
	}
	for _, t := range f.trees {
		f.factorTree(t)
	}
}

// factorTree computes L for the rows of one tree.
func (f *normal) factorTree(t span) {
	for s := t.from; s < t.to; s++ {
		f.queue[s] = f.queue[s][:0]
	}
	for s := t.from; s < t.to; s++ {
		nd := &f.nodes[s]
		f.load(nd)
		for _, d := range f.queue[s] {
			from := &f.nodes[d]
			lo := f.next[d]
			hi := lo
			for hi < len(from.rows) && from.rows[hi] < nd.first+nd.width {
				hi++
			}
			f.update(nd, from, lo, hi)
			f.enqueue(d, hi)
		}
		if nd.open {
			continue
		}
		nd.panel().finish(0, nd.width, f.delta/4)
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
		i, col := nd.first+c, nd.panel().column(c, 0, len(nd.rows))
		for k := f.byRow.start[i]; k < f.byRow.start[i+1]; k++ {
			j := f.byRow.index[k]
			t := f.byRow.value[k] * f.theta[j]
			from, to := f.tail[k], f.a.start[j+1]
			values := f.a.value[from:to]
			for e, r := range f.a.index[from:to] {
				col[f.place[r]] += t * values[e]
			}
		}
		col[c] += f.ridge[i]
	}
}

// update subtracts from a block the product of an earlier one's rows: those
// from lo on, times those in [lo, hi) that are columns of the block.
func (f *normal) update(nd, from *supernode, lo, hi int) {
	rows, v, to := from.rows, from.panel(), nd.panel()
	h, high := len(rows), len(nd.rows)
	last := f.place[rows[h-1]]
	straight := last-f.place[rows[lo]] == h-1-lo
	seat := f.seat[nd.first:]
	if !straight {
		for i, r := range rows[lo:] {
			seat[i] = f.place[r]
		}
	}
	for j := lo; j < hi; j += 2 {
		first := f.place[rows[j]]
		straight = straight || last-first == h-1-j
		c0 := to.column(rows[j]-nd.first, 0, high)
		switch {
		case straight && j+1 == hi:
			v.lessOne(c0[first:last+1], j, 0, from.width, j)
		case straight:
			c1 := to.column(rows[j+1]-nd.first, 0, high)
			v.lessTwo(c0[first:last+1], c1[first:last+1], j, 0, from.width, j)
		case j+1 == hi:
			t := f.work[nd.first:][:h-j]
			clear(t)
			v.lessOne(t, j, 0, from.width, j)
			settle(c0, t, seat[j-lo:])
		default:
			t, u := f.work[nd.first:][:h-j], f.work[len(f.perm)+nd.first:][:h-j]
			clear(t)
			clear(u)
			v.lessTwo(t, u, j, 0, from.width, j)
			settle(c0, t, seat[j-lo:])
			settle(to.column(rows[j+1]-nd.first, 0, high), u, seat[j-lo:])
		}
	}
}

// settle adds what was summed aside to the places of a column.
func settle(col, t []float64, at []int) {
	at = at[:len(t)]
	for i, k := range at {
		col[k] += t[i]
	}
}

func (f *normal) order() []int { return f.perm }

func (f *normal) limits() limits { return limits{1e-11, 12, 3} }

// precondition overwrites b, in elimination order, with M^-1 b as factored.
func (f *normal) precondition(b []float64) {
	all := span{0, len(f.nodes)}
	f.forward(all, b)
	f.backward(all, b)
}

// forward overwrites b with L^-1 b, leaving out supernodes not factored.
func (f *normal) forward(t span, b []float64) {
	for s := t.from; s < t.to; s++ {
		nd := &f.nodes[s]
		if nd.open {
			continue
		}
		x, v := b[nd.first:nd.first+nd.width], nd.panel()
		v.forward(x)
		below := nd.rows[nd.width:]
		sum := f.work[nd.first:][:len(below)]
		clear(sum)
		v.less(sum, x, 0, nd.width, nd.width)
		for i, r := range below {
			b[r] += sum[i]
		}
	}
}

// backward overwrites b with L'^-1 b, leaving out supernodes not factored.
func (f *normal) backward(t span, b []float64) {
	for s := t.to - 1; s >= t.from; s-- {
		nd := &f.nodes[s]
		if nd.open {
			continue
		}
		x, v := b[nd.first:nd.first+nd.width], nd.panel()
		below := nd.rows[nd.width:]
		got := f.work[nd.first:][:len(below)]
		for i, r := range below {
			got[i] = b[r]
		}
		v.project(x, got, 0, nd.width, nd.width)
		v.backward(x)
	}
}

// multiply sets r to M x, both in elimination order; t has a place per column.
func (f *normal) multiply(r, x, t []float64) {
	for j := range t {
		t[j] = f.theta[j] * f.a.columnDot(j, x)
	}
	for i := range r {
		r[i] = f.delta*x[i] + f.byRow.columnDot(i, t)
	}
}
