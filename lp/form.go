package lp

import "math"

// form is a scaled problem in the shape the method works on:
// minimise c·x over A x = b, x >= 0, x <= u, with u = +Inf where there is no
// upper bound. Each of its columns is a column or the slack of a row of the
// problem, measured from one of its sides; a free column is split in two.
// Columns with equal sides, rows without sides and rows without columns are out.
type form struct {
	p     *Problem
	scale scaling
	a     columns
	b     []float64
	c, u  []float64
	rows  []int  // row of the problem for each row of A
	parts []part // what each column of A stands for
	xFix  []float64
	bUnit float64 // x, b and u here are bUnit times the scaled problem's
	cUnit float64 // c, y and z here are cUnit times the scaled problem's
}

// part says that a column of a form is sign x (source - base).
type part struct {
	source int // column of the problem, or -1-row for the slack of a row
	sign   float64
	base   float64
	mate   int // other half of a split free column, or -1
}

// newForm builds the form. Where an emptied row cannot be met it returns the
// multipliers that prove it instead.
func newForm(p *Problem) (f *form, ray []float64) {
	f = &form{p: p, scale: scale(p), xFix: make([]float64, len(p.Cost))}
	place, shift, ray := f.keepRows()
	if ray != nil {
		return nil, ray
	}
	for i := range f.rows {
		f.b = append(f.b, -shift[f.rows[i]])
	}
	f.a.start = []int{0}
	for j := range p.Cost {
		f.addColumn(j, place)
	}
	for i, r := range f.rows {
		f.addSlack(i, r)
	}
	f.setUnits()
	return f, nil
}

// keepRows picks the rows that bind something and the constant each carries
// from fixed columns and shifted bases.
func (f *form) keepRows() (place []int, shift, ray []float64) {
	p := f.p
	place, shift = make([]int, len(p.RowLo)), make([]float64, len(p.RowLo))
	fixed, largest := make([]float64, len(p.RowLo)), make([]float64, len(p.RowLo))
	live := make([]bool, len(p.RowLo))
	for j := range p.Cost {
		base, fix := base(p.ColLo[j], p.ColUp[j]), p.ColLo[j] == p.ColUp[j]
		if fix {
			f.xFix[j] = base
		}
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			i, t := p.Row[k], p.Value[k]*base
			shift[i] += t * f.scale.row[i]
			if fix {
				fixed[i] += t
				largest[i] = max(largest[i], math.Abs(t))
			} else if p.Value[k] != 0 {
				live[i] = true
			}
		}
	}
	for i := range place {
		lo, up := p.RowLo[i], p.RowUp[i]
		place[i] = -1
		switch slack := primalTol * max(1, largest[i]); {
		case live[i] && !(math.IsInf(lo, -1) && math.IsInf(up, 1)):
			place[i] = len(f.rows)
			f.rows = append(f.rows, i)
		case live[i]:
		case fixed[i] < lo-slack:
			return nil, nil, unit(len(place), i, 1)
		case fixed[i] > up+slack:
			return nil, nil, unit(len(place), i, -1)
		}
	}
	return place, shift, nil
}

func unit(n, i int, v float64) []float64 {
	e := make([]float64, n)
	e[i] = v
	return e
}

// base is the side a range is measured from: the lower if there is one.
func base(lo, up float64) float64 {
	switch {
	case !math.IsInf(lo, -1):
		return lo
	case !math.IsInf(up, 1):
		return up
	}
	return 0
}

func (f *form) addColumn(j int, place []int) {
	p, s := f.p, f.scale.col[j]
	if p.ColLo[j] == p.ColUp[j] {
		return
	}
	var rows []int
	var values []float64
	for k := p.Start[j]; k < p.Start[j+1]; k++ {
		if i := place[p.Row[k]]; i >= 0 && p.Value[k] != 0 {
			rows, values = append(rows, i), append(values, p.Value[k]*s*f.scale.row[p.Row[k]])
		}
	}
	f.add(j, p.Cost[j]*s, p.ColLo[j]/s, p.ColUp[j]/s, rows, values)
}

func (f *form) addSlack(i, r int) {
	lo, up := f.p.RowLo[r]*f.scale.row[r], f.p.RowUp[r]*f.scale.row[r]
	f.b[i] += base(lo, up)
	if lo != up {
		f.add(-1-r, 0, lo, up, []int{i}, []float64{-1})
	}
}

// add appends a column, or the two halves of a free one.
func (f *form) add(source int, cost, lo, up float64, rows []int, values []float64) {
	n := len(f.parts)
	switch {
	case !math.IsInf(lo, -1):
		f.addPart(part{source, 1, lo, -1}, cost, up-lo, rows, values)
	case !math.IsInf(up, 1):
		f.addPart(part{source, -1, up, -1}, cost, math.Inf(1), rows, values)
	default:
		f.addPart(part{source, 1, 0, n + 1}, cost, math.Inf(1), rows, values)
		f.addPart(part{source, -1, 0, n}, cost, math.Inf(1), rows, values)
	}
}

func (f *form) addPart(q part, cost, u float64, rows []int, values []float64) {
	f.parts = append(f.parts, q)
	f.c, f.u = append(f.c, q.sign*cost), append(f.u, u)
	f.a.index = append(f.a.index, rows...)
	for _, v := range values {
		f.a.value = append(f.a.value, q.sign*v)
	}
	f.a.start = append(f.a.start, len(f.a.index))
}

// system lays out the equations of the form: with the shared columns set apart
// where that saves work, else as they are.
func (f *form) system(opt Options) system {
	if shared := f.columnsOf(opt.Shared); len(shared) > 0 {
		if b := newBorder(len(f.b), &f.a, shared, opt.Workers); b != nil {
			return b
		}
	}
	return newNormal(len(f.b), &f.a)
}

// columnsOf are the columns of A that stand for the listed columns of the problem.
func (f *form) columnsOf(list []int) []int {
	named := make([]bool, len(f.p.Cost))
	for _, j := range list {
		named[j] = true
	}
	var out []int
	for j, q := range f.parts {
		if q.source >= 0 && named[q.source] {
			out = append(out, j)
		}
	}
	return out
}

// setUnits brings the largest cost near 1 and the largest right side down to 1.
func (f *form) setUnits() {
	f.bUnit, f.cUnit = unitOf(max(1, maxAbs(f.b))), unitOf(maxAbs(f.c))
	for i := range f.b {
		f.b[i] *= f.bUnit
	}
	for j := range f.c {
		f.c[j] *= f.cUnit
		f.u[j] *= f.bUnit
	}
}

func unitOf(most float64) float64 {
	if most == 0 {
		return 1
	}
	return powerOfTwo(1 / most)
}

// primal carries x of the form back to the columns of the problem.
func (f *form) primal(x []float64, tau float64) []float64 {
	out := append([]float64(nil), f.xFix...)
	for j, q := range f.parts {
		if q.source < 0 {
			continue
		}
		s := f.scale.col[q.source]
		if q.mate < 0 || q.mate > j {
			out[q.source] = s * q.base
		}
		out[q.source] += s * q.sign * x[j] / (tau * f.bUnit)
	}
	for j := range out {
		out[j] = max(f.p.ColLo[j], min(f.p.ColUp[j], out[j]))
	}
	return out
}

// direction carries x of the form back as a direction: no base, no clamp.
func (f *form) direction(x []float64) []float64 {
	out := make([]float64, len(f.p.Cost))
	for j, q := range f.parts {
		if q.source >= 0 {
			out[q.source] += f.scale.col[q.source] * q.sign * x[j]
		}
	}
	return out
}

// dual carries the multipliers of the rows of A back to the problem.
func (f *form) dual(y []float64, tau float64) []float64 {
	out := make([]float64, len(f.p.RowLo))
	for i, r := range f.rows {
		out[r] = y[i] * f.scale.row[r] / (tau * f.cUnit)
	}
	return out
}
