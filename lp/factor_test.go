package lp

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// sparse draws an m x n matrix with small integer entries, by columns.
func sparse(t *rapid.T, m, n int) *columns {
	a := &columns{start: []int{0}}
	for range n {
		rows := rapid.SliceOfNDistinct(rapid.IntRange(0, m-1), 0, min(m, 4), rapid.ID[int]).Draw(t, "rows")
		slices.Sort(rows)
		for _, i := range rows {
			a.index = append(a.index, i)
			a.value = append(a.value, float64(rapid.IntRange(1, 9).Draw(t, "entry")))
		}
		a.start = append(a.start, len(a.index))
	}
	return a
}

func TestMinimumFillIsAPermutation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.IntRange(1, 40).Draw(t, "m")
		a := sparse(t, m, rapid.IntRange(1, 60).Draw(t, "n"))
		perm := minimumFill(graphOf(m, a, a.transpose(m)), nil)
		slices.Sort(perm)
		for i, v := range perm {
			if v != i {
				t.Fatalf("place %d of the sorted order holds %d", i, v)
			}
		}
	})
}

// fill counts the entries below the diagonal of L in the given order.
func fill(adj [][]int, perm []int) int {
	pos := inverse(perm)
	n := 0
	for _, rows := range structures(adj, pos, perm, eliminationTree(adj, pos, perm)) {
		n += len(rows)
	}
	return n
}

// grid is the graph of a k x k lattice.
func grid(k int) [][]int {
	adj := make([][]int, k*k)
	link := func(a, b int) { adj[a], adj[b] = append(adj[a], b), append(adj[b], a) }
	for r := range k {
		for c := range k {
			if c+1 < k {
				link(r*k+c, r*k+c+1)
			}
			if r+1 < k {
				link(r*k+c, (r+1)*k+c)
			}
		}
	}
	return adj
}

func TestMinimumFillFillsLittle(t *testing.T) {
	star := make([][]int, 50)
	for i := 1; i < 50; i++ {
		star[0], star[i] = append(star[0], i), []int{0}
	}
	if got := fill(star, minimumFill(clone(star), nil)); got != 49 {
		t.Errorf("star of 50: %d entries below the diagonal, want 49, none of them fill", got)
	}
	// Row by row a k x k lattice keeps about k entries a column: k^3 in all.
	const k = 40
	natural := make([]int, k*k)
	for i := range natural {
		natural[i] = i
	}
	if got, plain := fill(grid(k), minimumFill(grid(k), nil)), fill(grid(k), natural); got > plain/3 {
		t.Errorf("lattice: %d entries, row by row %d; want a third at most", got, plain)
	}
}

func clone(adj [][]int) [][]int {
	out := make([][]int, len(adj))
	for i := range adj {
		out[i] = slices.Clone(adj[i])
	}
	return out
}

func TestSolveLinearSystem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := rapid.IntRange(1, 60).Draw(t, "m"), rapid.IntRange(1, 90).Draw(t, "n")
		a := sparse(t, m, n)
		theta, b := make([]float64, n), make([]float64, m)
		for j := range theta {
			theta[j] = math.Pow(10, rapid.Float64Range(-4, 4).Draw(t, "theta"))
		}
		for i := range b {
			b[i] = rapid.Float64Range(-10, 10).Draw(t, "b")
		}
		const delta = 1e-3
		f := newNormal(m, a)
		f.factor(theta, delta)
		y := make([]float64, m)
		newRefiner(f, n).solve(y, b)
		back, across := make([]float64, m), make([]float64, n)
		a.addMulT(across, 1, y)
		for j := range across {
			across[j] *= theta[j]
		}
		a.addMul(back, 1, across)
		size := sizeOfProduct(a, theta, y)
		for i := range back {
			if got := back[i] + delta*y[i]; math.Abs(got-b[i]) > 1e-10*(1+maxAbs(b))+64*0x1p-53*size[i] {
				t.Fatalf("row %d of M y is %.12g, want %.12g", i, got, b[i])
			}
		}
	})
}

// sizeOfProduct is A diag(theta) A' y of the sizes of y alone, the entries of A being
// positive: what the rounding of each row of M y is a share of, however M y is made.
func sizeOfProduct(a *columns, theta, y []float64) []float64 {
	of, across := make([]float64, len(y)), make([]float64, len(theta))
	for i, v := range y {
		of[i] = math.Abs(v)
	}
	a.addMulT(across, 1, of)
	for j := range across {
		across[j] *= theta[j]
	}
	clear(of)
	a.addMul(of, 1, across)
	return of
}

// A wide supernode runs through the blocked kernel and the width limit.
func TestFactorOfAFullMatrix(t *testing.T) {
	const n = 77
	a := &columns{start: []int{0}}
	for j := range n {
		for i := range n {
			a.index, a.value = append(a.index, i), append(a.value, math.Cos(float64(i*n+j)))
		}
		a.start = append(a.start, len(a.index))
	}
	f := newNormal(n, a)
	f.factor(ones(n), 1)
	want := filled(n, 1)
	b := make([]float64, n)
	f.multiply(b, want, make([]float64, n))
	f.precondition(b)
	for i := range b {
		if math.Abs(b[i]-1) > 1e-10 {
			t.Fatalf("entry %d comes back as %.15g, want 1", i, b[i])
		}
	}
	for s, nd := range f.nodes {
		if nd.width > widest {
			t.Errorf("supernode %d is %d wide, limit %d", s, nd.width, widest)
		}
	}
}

func TestPostorderKeepsChildrenFirst(t *testing.T) {
	parent := []int{5, 3, 3, 6, -1, 6, -1}
	post := postorder(parent)
	at := inverse(post)
	for v, p := range parent {
		if p >= 0 && at[v] > at[p] {
			t.Errorf("vertex %d stands at %d after its parent %d at %d", v, at[v], p, at[p])
		}
	}
}

func TestScalingIsInPowersOfTwo(t *testing.T) {
	p := instance(t, "year12_plan.mps.gz")
	s := scale(p)
	least, most := math.Inf(1), 0.0
	for _, v := range slices.Concat(s.row, s.col) {
		if f, _ := math.Frexp(v); f != 0.5 {
			t.Fatalf("factor %g is no power of two", v)
		}
	}
	s.each(p, func(_, _ int, v float64) { least, most = min(least, v), max(most, v) })
	if most > 2 || least < 1e-4 {
		t.Errorf("scaled entries run from %g to %g, want near 1", least, most)
	}
}
