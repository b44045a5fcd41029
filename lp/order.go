package lp

import (
	"math"
	"slices"
)

// ordering holds the quotient graph of the elimination. A vertex is a
// variable until it is eliminated, then an element: the clique it leaves.
type ordering struct {
	weight   []int   // variables merged into this one, 0 when merged away or eliminated
	vars     [][]int // variable: neighbours not yet covered by an element
	elems    [][]int // variable: elements it belongs to
	clique   [][]int // element: its variables
	size     []int   // element: weight of its variables
	absorbed []bool  // element: covered by a later one
	members  [][]int // variables merged into this one, in order of merging
	degree   []int
	filed    []int // bucket of a variable
	mark     []int // stamp of the last clique a variable was put in
	outside  []int // element: weight outside the current clique
	stamp    []int // element: when outside was set
	left     int   // variables not yet eliminated
	late     []bool
	buckets  buckets
}

// minimumFill orders the vertices of an undirected graph, given by its
// neighbour lists, so that symmetric elimination in that order fills little:
// at each step the vertex of least mean fill goes next, with degrees as in
// approximate minimum degree (Amestoy, Davis and Duff 1996, SIAM J. Matrix Anal.
// Appl. 17:886-905). Vertices marked late, where late is not nil, come after all
// others. It takes over adj. Ties go to the vertex filed last, so the result is fixed.
func minimumFill(adj [][]int, late []bool) []int {
	n := len(adj)
	if late == nil {
		late = make([]bool, n)
	}
	o := &ordering{
		late:   late,
		weight: make([]int, n), vars: adj, elems: make([][]int, n), clique: make([][]int, n),
		size: make([]int, n), absorbed: make([]bool, n), members: make([][]int, n), degree: make([]int, n),
		filed: make([]int, n), mark: make([]int, n), outside: make([]int, n), stamp: make([]int, n), left: n, buckets: newBuckets(n),
	}
	for i := range n {
		o.weight[i], o.degree[i], o.mark[i], o.stamp[i] = 1, len(adj[i]), -1, -1
		o.file(i)
	}
	perm := make([]int, 0, n)
	for len(perm) < n {
		p := o.buckets.least()
		o.eliminate(p)
		perm = append(append(perm, p), o.members[p]...)
	}
	return perm
}

// fineness is how many buckets there are to a step of the root of fill.
const fineness = 3

// file puts a variable in the bucket of the fill that it would bring: the pairs of
// its neighbours, less those that an element of it joins already, for each of the
// variables merged into it. On plans that fills a third less than the least degree
// (Rothberg and Eisenstat 1998, SIAM J. Matrix Anal. Appl. 19:682-695, whose mean
// local fill leaves out one element alone).
func (o *ordering) file(i int) {
	pairs := float64(o.degree[i]) * float64(o.degree[i])
	for _, e := range o.elems[i] {
		if !o.absorbed[e] {
			in := float64(o.size[e] - o.weight[i])
			pairs -= in * in
		}
	}
	k := int(fineness * math.Sqrt(max(0, pairs)/float64(o.weight[i])))
	o.filed[i] = min(k, len(o.late)-1)
	if o.late[i] {
		o.filed[i] += len(o.late)
	}
	o.buckets.put(i, o.filed[i])
}

// eliminate turns variable p into an element and updates its neighbours.
func (o *ordering) eliminate(p int) {
	o.left -= o.weight[p]
	o.weight[p] = 0
	o.gather(p)
	o.measure(p)
	kept := o.clique[p][:0]
	for _, i := range o.clique[p] {
		o.prune(p, i)
		if len(o.elems[i]) == 1 && len(o.vars[i]) == 0 && o.late[i] == o.late[p] {
			o.size[p] -= o.weight[i]
			o.left -= o.weight[i]
			o.merge(p, i)
			continue
		}
		kept = append(kept, i)
	}
	o.clique[p] = o.join(kept)
	for _, i := range o.clique[p] {
		o.refile(p, i)
	}
}

// gather builds the clique of p and absorbs the elements it covers.
func (o *ordering) gather(p int) {
	var l []int
	take := func(list []int) {
		for _, i := range list {
			if o.weight[i] > 0 && o.mark[i] != p {
				o.mark[i] = p
				o.size[p] += o.weight[i]
				l = append(l, i)
				o.buckets.remove(i, o.filed[i])
			}
		}
	}
	for _, e := range o.elems[p] {
		if !o.absorbed[e] {
			take(o.clique[e])
			o.absorbed[e], o.clique[e] = true, nil
		}
	}
	take(o.vars[p])
	o.vars[p], o.elems[p], o.clique[p] = nil, nil, l
}

// measure finds for each element near p the weight it has outside p's clique.
func (o *ordering) measure(p int) {
	for _, i := range o.clique[p] {
		for _, e := range o.elems[i] {
			if o.absorbed[e] {
				continue
			}
			if o.stamp[e] != p {
				o.stamp[e], o.outside[e] = p, o.size[e]
			}
			o.outside[e] -= o.weight[i]
		}
	}
}

// prune drops from variable i what the new element p covers. The degree left in
// o.degree is the part outside p, bounded by the old degree.
func (o *ordering) prune(p, i int) {
	d := 0
	es := o.elems[i][:0]
	for _, e := range o.elems[i] {
		if !o.absorbed[e] && o.outside[e] == 0 {
			o.absorbed[e], o.clique[e] = true, nil
		}
		if !o.absorbed[e] {
			d += o.outside[e]
			es = append(es, e)
		}
	}
	vs := o.vars[i][:0]
	for _, v := range o.vars[i] {
		if o.weight[v] > 0 && o.mark[v] != p {
			d += o.weight[v]
			vs = append(vs, v)
		}
	}
	o.elems[i], o.vars[i] = append(es, p), vs
	o.degree[i] = min(o.degree[i], d)
}

// join merges variables of a clique that have the same neighbours.
func (o *ordering) join(list []int) []int {
	byHash := map[int][]int{}
	kept := list[:0]
	for _, i := range list {
		h := 0
		for _, e := range o.elems[i] {
			h += e
		}
		for _, v := range o.vars[i] {
			h += v
		}
		twin := slices.IndexFunc(byHash[h], func(j int) bool { return o.same(i, j) })
		if twin >= 0 {
			j := byHash[h][twin]
			w := o.weight[i]
			o.merge(j, i)
			o.weight[j] += w
			continue
		}
		byHash[h] = append(byHash[h], i)
		kept = append(kept, i)
	}
	return kept
}

func (o *ordering) same(i, j int) bool {
	if o.late[i] != o.late[j] || len(o.elems[i]) != len(o.elems[j]) || len(o.vars[i]) != len(o.vars[j]) {
		return false
	}
	for _, l := range [][]int{o.elems[i], o.elems[j], o.vars[i], o.vars[j]} {
		slices.Sort(l)
	}
	return slices.Equal(o.elems[i], o.elems[j]) && slices.Equal(o.vars[i], o.vars[j])
}

func (o *ordering) merge(into, i int) {
	o.members[into] = append(append(o.members[into], i), o.members[i]...)
	o.weight[i], o.vars[i], o.elems[i], o.members[i] = 0, nil, nil, nil
}

func (o *ordering) refile(p, i int) {
	d := o.degree[i] + o.size[p] - o.weight[i]
	o.degree[i] = max(0, min(d, o.left-o.weight[i]))
	o.file(i)
}

// buckets files vertices by what they cost in doubly linked lists.
type buckets struct {
	head, next, prev []int
	low              int
}

func newBuckets(n int) buckets {
	b := buckets{make([]int, 2*n+1), make([]int, n), make([]int, n), 0}
	for d := range b.head {
		b.head[d] = -1
	}
	return b
}

func (b *buckets) put(i, d int) {
	b.next[i], b.prev[i] = b.head[d], -1
	if b.head[d] >= 0 {
		b.prev[b.head[d]] = i
	}
	b.head[d] = i
	b.low = min(b.low, d)
}

func (b *buckets) remove(i, d int) {
	if b.prev[i] >= 0 {
		b.next[b.prev[i]] = b.next[i]
	} else {
		b.head[d] = b.next[i]
	}
	if b.next[i] >= 0 {
		b.prev[b.next[i]] = b.prev[i]
	}
}

// least takes out a vertex of the lowest bucket.
func (b *buckets) least() int {
	for b.head[b.low] < 0 {
		b.low++
	}
	i := b.head[b.low]
	b.remove(i, b.low)
	return i
}
