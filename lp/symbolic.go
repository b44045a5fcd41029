package lp

import "slices"

// Limits of a supernode: widest run of columns kept as one dense block, and the
// share of stored zeros up to which neighbours are joined (both measured).
const (
	widest    = 32
	zeroShare = 0.2
	tinyWidth = 6
)

// supernode is a run of columns of L with one row list: its own columns first.
type supernode struct {
	first, width int
	rows         []int
	val          []float64 // len(rows) x width, by columns
	open         bool      // assembled, not factored: the edge of a tree
}

func (s *supernode) panel() panel { return panel{s.val, len(s.rows)} }

// graphOf lists for each row of A the rows it shares a column with.
func graphOf(m int, a *columns, byRow *columns) [][]int {
	adj := make([][]int, m)
	mark := make([]int, m)
	for i := range m {
		mark[i] = i + 1
		for k := byRow.start[i]; k < byRow.start[i+1]; k++ {
			j := byRow.index[k]
			for _, r := range a.index[a.start[j]:a.start[j+1]] {
				if mark[r] != i+1 {
					mark[r] = i + 1
					adj[i] = append(adj[i], r)
				}
			}
		}
	}
	return adj
}

// eliminationTree gives each column of L the row of its first entry below the
// diagonal, -1 at a root (Liu 1990, SIAM J. Matrix Anal. Appl. 11:134-172).
func eliminationTree(adj [][]int, pos, perm []int) []int {
	parent, top := make([]int, len(perm)), make([]int, len(perm))
	for k, v := range perm {
		parent[k], top[k] = -1, -1
		for _, u := range adj[v] {
			for i := pos[u]; i < k && i >= 0; {
				up := top[i]
				top[i] = k
				if up < 0 {
					parent[i] = k
					break
				}
				i = up
			}
		}
	}
	return parent
}

// postorder lists a forest with every child before its parent and every
// subtree in one run.
func postorder(parent []int) []int {
	n := len(parent)
	child, sibling := make([]int, n+1), make([]int, n)
	for i := range child {
		child[i] = -1
	}
	for i := n - 1; i >= 0; i-- {
		p := parent[i]
		if p < 0 {
			p = n
		}
		sibling[i], child[p] = child[p], i
	}
	post, stack := make([]int, 0, n), []int{n}
	for len(stack) > 0 {
		v := stack[len(stack)-1]
		if c := child[v]; c >= 0 {
			child[v] = sibling[c]
			stack = append(stack, c)
			continue
		}
		stack = stack[:len(stack)-1]
		if v < n {
			post = append(post, v)
		}
	}
	return post
}

// structures gives the rows below the diagonal of each column of L, sorted.
func structures(adj [][]int, pos, perm, parent []int) [][]int {
	n := len(perm)
	rows, mark := make([][]int, n), make([]int, n)
	children := make([][]int, n)
	for k, v := range perm {
		mark[k] = k + 1
		take := func(r int) {
			if r > k && mark[r] != k+1 {
				mark[r] = k + 1
				rows[k] = append(rows[k], r)
			}
		}
		for _, u := range adj[v] {
			take(pos[u])
		}
		for _, c := range children[k] {
			for _, r := range rows[c] {
				take(r)
			}
		}
		slices.Sort(rows[k])
		if parent[k] >= 0 {
			children[parent[k]] = append(children[parent[k]], k)
		}
	}
	return rows
}

// supernodes joins columns with one structure, then small neighbours; of the
// late ones all of a tree.
func supernodes(rows [][]int, parent []int, late []bool) []supernode {
	var list []supernode
	for k := range rows {
		if s := len(list) - 1; s >= 0 && late[k-1] == late[k] && parent[k-1] == k && (late[k] || joins(&list[s], rows, k)) {
			join(&list[s], rows[k], k)
			continue
		}
		list = append(list, supernode{first: k, width: 1, rows: append([]int{k}, rows[k]...), open: late[k]})
	}
	for i := range list {
		list[i].val = make([]float64, len(list[i].rows)*list[i].width)
	}
	return list
}

// joins reports whether column k, its parent, can go on at the end of the supernode.
func joins(s *supernode, rows [][]int, k int) bool {
	if s.width >= widest {
		return false
	}
	below := len(s.rows) - s.width
	zeros := s.width * (1 + len(rows[k]) - below)
	all := (s.width + 1) * (s.width + 1 + len(rows[k]))
	return zeros == 0 || s.width < tinyWidth && zeros < all/2 || float64(zeros) < zeroShare*float64(all)/2
}

func join(s *supernode, rows []int, k int) {
	s.width++
	next := make([]int, 0, s.width+len(rows))
	for c := s.first; c <= k; c++ {
		next = append(next, c)
	}
	s.rows = append(next, rows...)
}
