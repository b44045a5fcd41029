package lp

import (
	"errors"
	"fmt"
	"math"
)

// Problem is: minimise Cost·x + Offset over RowLo <= A x <= RowUp and
// ColLo <= x <= ColUp. A is stored by columns: the entries of column j are
// Row[k], Value[k] for Start[j] <= k < Start[j+1]; no row appears twice in a
// column. A missing side is ±Inf; equal sides make an equality. The names are
// optional: nil, or one for each row and column.
type Problem struct {
	Name               string
	Cost               []float64
	Offset             float64
	Start, Row         []int
	Value              []float64
	RowLo, RowUp       []float64
	ColLo, ColUp       []float64
	RowNames, ColNames []string
}

// ErrProblem is wrapped by every error that says a Problem is malformed.
var ErrProblem = errors.New("malformed linear programme")

// AddRow appends a row with the given range and returns its index. Rows come
// before the columns that use them.
func (p *Problem) AddRow(name string, lo, up float64) int {
	p.RowLo, p.RowUp = append(p.RowLo, lo), append(p.RowUp, up)
	p.RowNames = append(p.RowNames, name)
	return len(p.RowLo) - 1
}

// AddColumn appends a column with the given cost and range, its entries given
// as parallel rows and values, and returns its index.
func (p *Problem) AddColumn(name string, cost, lo, up float64, rows []int, values []float64) int {
	if len(p.Start) == 0 {
		p.Start = []int{0}
	}
	p.Cost = append(p.Cost, cost)
	p.ColLo, p.ColUp = append(p.ColLo, lo), append(p.ColUp, up)
	p.ColNames = append(p.ColNames, name)
	p.Row, p.Value = append(p.Row, rows...), append(p.Value, values...)
	p.Start = append(p.Start, len(p.Row))
	return len(p.Cost) - 1
}

// RowName is the name of row i, or r1, r2, ... where none was given.
func (p *Problem) RowName(i int) string { return nameOf(p.RowNames, "r", i) }

// ColName is the name of column j, or c1, c2, ... where none was given.
func (p *Problem) ColName(j int) string { return nameOf(p.ColNames, "c", j) }

func nameOf(names []string, letter string, i int) string {
	if i < len(names) && names[i] != "" {
		return names[i]
	}
	return fmt.Sprintf("%s%d", letter, i+1)
}

// Check reports the first fault of the problem: lengths that disagree, rows out
// of range or repeated in a column, numbers that are not finite, a lower side
// above an upper one. The error wraps ErrProblem.
func (p *Problem) Check() error {
	m, n := len(p.RowLo), len(p.Cost)
	switch {
	case len(p.RowUp) != m:
		return fmt.Errorf("%w: %d lower and %d upper row sides", ErrProblem, m, len(p.RowUp))
	case len(p.ColLo) != n || len(p.ColUp) != n:
		return fmt.Errorf("%w: %d costs, %d lower and %d upper column sides", ErrProblem, n, len(p.ColLo), len(p.ColUp))
	case len(p.Row) != len(p.Value):
		return fmt.Errorf("%w: %d row indices for %d values", ErrProblem, len(p.Row), len(p.Value))
	case p.RowNames != nil && len(p.RowNames) != m, p.ColNames != nil && len(p.ColNames) != n:
		return fmt.Errorf("%w: %d rows with %d names, %d columns with %d names", ErrProblem, m, len(p.RowNames), n, len(p.ColNames))
	case !finite(p.Offset):
		return fmt.Errorf("%w: offset is %g", ErrProblem, p.Offset)
	}
	for i := range m {
		if err := checkRange("row", p.RowName(i), p.RowLo[i], p.RowUp[i]); err != nil {
			return err
		}
	}
	return p.checkColumns()
}

func (p *Problem) checkColumns() error {
	n := len(p.Cost)
	if len(p.Start) != n+1 && (n > 0 || len(p.Start) > 0) {
		return fmt.Errorf("%w: %d column starts for %d columns, want one more", ErrProblem, len(p.Start), n)
	}
	if n > 0 && (p.Start[0] != 0 || p.Start[n] != len(p.Row)) {
		return fmt.Errorf("%w: column starts do not span the %d entries", ErrProblem, len(p.Row))
	}
	for j := range n {
		if p.Start[j] > p.Start[j+1] {
			return fmt.Errorf("%w: column %s starts after it ends", ErrProblem, p.ColName(j))
		}
	}
	seen := make([]int, len(p.RowLo))
	for j := range n {
		if !finite(p.Cost[j]) {
			return fmt.Errorf("%w: column %s costs %g", ErrProblem, p.ColName(j), p.Cost[j])
		}
		if err := checkRange("column", p.ColName(j), p.ColLo[j], p.ColUp[j]); err != nil {
			return err
		}
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			if err := p.checkEntry(j, k, seen); err != nil {
				return err
			}
		}
	}
	return nil
}

func (p *Problem) checkEntry(j, k int, seen []int) error {
	i := p.Row[k]
	switch {
	case i < 0 || i >= len(seen):
		return fmt.Errorf("%w: column %s has row index %d of %d rows", ErrProblem, p.ColName(j), i, len(seen))
	case seen[i] == j+1:
		return fmt.Errorf("%w: column %s has row %s twice", ErrProblem, p.ColName(j), p.RowName(i))
	case !finite(p.Value[k]):
		return fmt.Errorf("%w: column %s has %g in row %s", ErrProblem, p.ColName(j), p.Value[k], p.RowName(i))
	}
	seen[i] = j + 1
	return nil
}

func checkRange(kind, name string, lo, up float64) error {
	if math.IsNaN(lo) || math.IsNaN(up) || lo > up || math.IsInf(lo, 1) || math.IsInf(up, -1) {
		return fmt.Errorf("%w: %s %s runs from %g to %g", ErrProblem, kind, name, lo, up)
	}
	return nil
}

// Activity is A x.
func (p *Problem) Activity(x []float64) []float64 {
	r := make([]float64, len(p.RowLo))
	for j, xj := range x {
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			r[p.Row[k]] += p.Value[k] * xj
		}
	}
	return r
}

// reduced is cost - A'y.
func (p *Problem) reduced(cost, y []float64) []float64 {
	d := make([]float64, len(p.Cost))
	for j := range d {
		if cost != nil {
			d[j] = cost[j]
		}
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			d[j] -= p.Value[k] * y[p.Row[k]]
		}
	}
	return d
}

// with is the same problem under another cost.
func (p *Problem) with(cost []float64) *Problem {
	q := *p
	q.Cost, q.Offset = cost, 0
	return &q
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

func maxAbs(a []float64) float64 {
	m := 0.0
	for _, v := range a {
		m = max(m, math.Abs(v))
	}
	return m
}
