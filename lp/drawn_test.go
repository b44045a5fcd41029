package lp

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// kinds of drawn programmes, by what is hard about them.
var kinds = []struct {
	name string
	draw func(d *drawer) *Problem
}{
	{"random", (*drawer).random}, {"ties", (*drawer).ties}, {"ranges", (*drawer).ranges}, {"transport", (*drawer).transport},
	{"pinned", (*drawer).pinned}, {"scaled", (*drawer).scaled}, {"infeasible", (*drawer).infeasible}, {"unbounded", (*drawer).unbounded},
}

// drawn makes the programme of a kind and a seed.
func drawn(kind string, seed uint64) *Problem {
	for _, k := range kinds {
		if k.name == kind {
			d := &drawer{rand.New(rand.NewPCG(seed, 77))}
			p := k.draw(d)
			p.Name = fmt.Sprintf("%s-%d", kind, seed)
			p.RowNames, p.ColNames = nil, nil
			return p
		}
	}
	return nil
}

type drawer struct{ *rand.Rand }

// point is a random x with many zeros.
func (d *drawer) point(n int) []float64 {
	x := make([]float64, n)
	for j := range x {
		if d.IntN(3) > 0 {
			x[j] = float64(d.IntN(9))
		}
	}
	return x
}

// fill adds columns over 0..10 of a few entries each, made by entry.
func (d *drawer) fill(p *Problem, n int, entry func() float64) {
	for range n {
		var rows []int
		var values []float64
		for i := range p.RowLo {
			if d.IntN(len(p.RowLo)) < 4 {
				if v := entry(); v != 0 {
					rows, values = append(rows, i), append(values, v)
				}
			}
		}
		p.AddColumn("", float64(d.IntN(19)-6), 0, 10, rows, values)
	}
}

// around sets the rows so that x fits.
func (d *drawer) around(p *Problem, x []float64, room func() float64) {
	for i, r := range p.Activity(x) {
		p.RowLo[i], p.RowUp[i] = math.Inf(-1), math.Inf(1)
		switch d.IntN(3) {
		case 0:
			p.RowLo[i] = r - room()
		case 1:
			p.RowUp[i] = r + room()
		default:
			p.RowLo[i], p.RowUp[i] = r-room(), r+room()
		}
	}
}

func (d *drawer) rows(p *Problem, m int) {
	for range m {
		p.AddRow("", 0, 0)
	}
}

// random is sparse, with real entries and room about a point.
func (d *drawer) random() *Problem {
	p, n := new(Problem), 20+d.IntN(120)
	d.rows(p, 10+d.IntN(60))
	d.fill(p, n, func() float64 { return d.NormFloat64() })
	d.around(p, d.point(n), func() float64 { return 3 * d.Float64() })
	return p
}

// ties is of small whole numbers with rows that touch the point, columns twice
// over and equal costs: degenerate in both senses.
func (d *drawer) ties() *Problem {
	p, n := new(Problem), 15+d.IntN(40)
	d.rows(p, 10+d.IntN(40))
	d.fill(p, n, func() float64 { return float64(d.IntN(4) - 1) })
	for j := range n {
		from, to := p.Start[j], p.Start[j+1]
		p.AddColumn("", p.Cost[j], 0, 10, append([]int(nil), p.Row[from:to]...), append([]float64(nil), p.Value[from:to]...))
		if d.IntN(2) == 0 {
			p.Cost[j] = 1
		}
	}
	d.around(p, d.point(2*n), func() float64 { return float64(d.IntN(2)) })
	return p
}

// ranges has every kind of side: fixed, free and one-sided columns, equalities.
func (d *drawer) ranges() *Problem {
	p := d.random()
	x := d.point(len(p.Cost))
	for j := range p.Cost {
		switch d.IntN(5) {
		case 0:
			p.ColLo[j], p.ColUp[j] = x[j], x[j]
		case 1:
			p.ColLo[j], p.ColUp[j] = -20, 20
		case 2:
			p.ColLo[j], p.ColUp[j] = -30+float64(d.IntN(20)), 12
		}
	}
	for i, r := range p.Activity(x) {
		switch d.IntN(3) {
		case 0:
			p.RowLo[i], p.RowUp[i] = r, r
		case 1:
			p.RowLo[i], p.RowUp[i] = r-1, math.Inf(1)
		default:
			p.RowLo[i], p.RowUp[i] = r-2, r+d.Float64()
		}
	}
	return p
}

// transport ships between places; supply equals demand, so that a row follows
// from the others.
func (d *drawer) transport() *Problem {
	p, from, to := new(Problem), 3+d.IntN(9), 3+d.IntN(9)
	d.rows(p, from+to)
	ship := make([]float64, from*to)
	for i := range from {
		for j := range to {
			p.AddColumn("", float64(1+d.IntN(6)), 0, math.Inf(1), []int{i, from + j}, []float64{1, 1})
			ship[i*to+j] = float64(d.IntN(4))
		}
	}
	for i, r := range p.Activity(ship) {
		p.RowLo[i], p.RowUp[i] = r, r
	}
	return p
}

// pinned has no strict interior: rows that leave columns nothing but zero, rows
// twice over, and ranges that meet in a point.
func (d *drawer) pinned() *Problem {
	p, n := new(Problem), 20+d.IntN(60)
	m := 10 + d.IntN(30)
	d.rows(p, 2*m+4)
	d.fill(p, n, func() float64 { return float64(d.IntN(7) - 3) })
	x := d.point(n)
	for j := range n { // the last four rows are sums of columns that must be nothing
		k := d.IntN(12)
		if k < 4 {
			x[j] = 0
		}
		from, to := p.Start[j], p.Start[j+1]
		keep := from
		for q := from; q < to; q++ {
			if i := p.Row[q]; i < m { // a row and its double
				p.Row[keep], p.Value[keep] = i, p.Value[q]
				keep++
			}
		}
		var rows []int
		var values []float64
		for q := from; q < keep; q++ {
			rows, values = append(rows, p.Row[q], m+p.Row[q]), append(values, p.Value[q], -2*p.Value[q])
		}
		if k < 4 {
			rows, values = append(rows, 2*m+k), append(values, 1)
		}
		p.AddColumn("", p.Cost[j], 0, 10, rows, values)
	}
	p = p.from(n)
	for i, r := range p.Activity(x) {
		p.RowLo[i], p.RowUp[i] = r, r
	}
	return p
}

// from leaves out the first columns.
func (p *Problem) from(n int) *Problem {
	q := &Problem{RowLo: p.RowLo, RowUp: p.RowUp}
	for j := n; j < len(p.Cost); j++ {
		q.AddColumn("", p.Cost[j], p.ColLo[j], p.ColUp[j], p.Row[p.Start[j]:p.Start[j+1]], p.Value[p.Start[j]:p.Start[j+1]])
	}
	return q
}

// scaled is random with rows and columns in units that lie far apart.
func (d *drawer) scaled() *Problem {
	p := d.random()
	row := make([]float64, len(p.RowLo))
	for i := range row {
		row[i] = math.Pow(10, float64(d.IntN(7)-3))
		p.RowLo[i], p.RowUp[i] = p.RowLo[i]*row[i], p.RowUp[i]*row[i]
	}
	for j := range p.Cost {
		c := math.Pow(10, float64(d.IntN(5)-2))
		p.Cost[j], p.ColLo[j], p.ColUp[j] = p.Cost[j]*c, p.ColLo[j]/c, p.ColUp[j]/c
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			p.Value[k] *= c * row[p.Row[k]]
		}
	}
	return p
}

// infeasible adds to a random programme the sum of two rows, beyond what they
// allow.
func (d *drawer) infeasible() *Problem {
	p := d.random()
	x := d.point(len(p.Cost))
	r := p.Activity(x)
	p.RowLo[0], p.RowUp[0] = math.Inf(-1), r[0]
	p.RowLo[1], p.RowUp[1] = math.Inf(-1), r[1]
	q := &Problem{RowLo: append(p.RowLo, r[0]+r[1]+0.5+d.Float64()), RowUp: append(p.RowUp, math.Inf(1))}
	for j := range p.Cost {
		rows, values := append([]int(nil), p.Row[p.Start[j]:p.Start[j+1]]...), append([]float64(nil), p.Value[p.Start[j]:p.Start[j+1]]...)
		both := 0.0
		for k, i := range rows {
			if i < 2 {
				both += values[k]
			}
		}
		if both != 0 {
			rows, values = append(rows, len(p.RowLo)), append(values, both)
		}
		q.AddColumn("", p.Cost[j], p.ColLo[j], p.ColUp[j], rows, values)
	}
	return q
}

// unbounded gives a random programme two columns that cancel in every row and
// together lower the cost for ever.
func (d *drawer) unbounded() *Problem {
	p := d.random()
	var rows []int
	var values, back []float64
	for i := range p.RowLo {
		if d.IntN(4) == 0 {
			v := d.NormFloat64()
			rows, values, back = append(rows, i), append(values, v), append(back, -v)
		}
	}
	p.AddColumn("", 1, 0, math.Inf(1), rows, values)
	p.AddColumn("", -1-d.Float64(), 0, math.Inf(1), rows, back)
	return p
}
