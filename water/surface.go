package water

import (
	"runtime"
	"sync"
)

// A Grid holds how well every tank size meets every demand.
type Grid struct {
	Sizes, Demands []float64 // L, L a day
	cells          []cell
}

type cell struct {
	rv, rt  float64
	longest int
}

// Surface runs every size [L] against every demand [L a day] over the inflow
// [L a day], the record coming round as in SizeCurve: the surface of storage,
// yield and reliability. Rows run on as many processors as there are; the answer
// does not depend on how many.
func Surface(inflow, sizes, demands []float64, rule Rule) Grid {
	return newGrid(sizes, demands, func(size, demand float64) Result {
		return settled(inflow, demand, size, rule)
	})
}

// newGrid fills a grid row by row; run may depend on its arguments alone.
func newGrid(sizes, demands []float64, run func(size, demand float64) Result) Grid {
	n := len(demands)
	g := Grid{sizes, demands, make([]cell, len(sizes)*n)}
	workers := min(runtime.GOMAXPROCS(0), len(sizes))
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(sizes); i += workers {
				for j, d := range demands {
					r := run(sizes[i], d)
					g.cells[i*n+j] = cell{r.Rv, r.Rt, r.Longest}
				}
			}
		})
	}
	wg.Wait()
	return g
}

// At returns the volume and time reliability (0..1) of size i and demand j.
func (g Grid) At(i, j int) (rv, rt float64) {
	c := g.cells[i*len(g.Demands)+j]
	return c.rv, c.rt
}

// Longest returns the longest run of days not met in full at size i and demand j.
func (g Grid) Longest(i, j int) int { return g.cells[i*len(g.Demands)+j].longest }

// Smallest returns the least size [L] in the grid whose time reliability at
// demand j reaches rt; ok is false when none does.
func (g Grid) Smallest(j int, rt float64) (size float64, ok bool) {
	for i, s := range g.Sizes {
		if _, got := g.At(i, j); got >= rt && (!ok || s < size) {
			size, ok = s, true
		}
	}
	return size, ok
}
