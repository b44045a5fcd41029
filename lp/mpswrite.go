package lp

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteMPS writes p as ReadMPS reads it, numbers to the last digit (the upper
// side of a two-sided row can differ in it, as RANGES holds a width). It fails
// on a malformed problem and on names that are repeated or hold blanks.
func WriteMPS(w io.Writer, p *Problem) error {
	if err := p.Check(); err != nil {
		return err
	}
	cost, err := checkNames(p)
	if err != nil {
		return err
	}
	out := &mpsWriter{bufio.NewWriter(w), p, cost}
	out.rows()
	out.columns()
	out.sides()
	out.bounds()
	fmt.Fprintln(out, "ENDATA")
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing MPS: %w", err)
	}
	return nil
}

// checkNames returns a name for the cost row that no row has.
func checkNames(p *Problem) (string, error) {
	rows := map[string]bool{}
	for i := range p.RowLo {
		if err := newName(rows, p.RowName(i)); err != nil {
			return "", fmt.Errorf("row %d: %w", i, err)
		}
	}
	cols := map[string]bool{}
	for j := range p.Cost {
		if err := newName(cols, p.ColName(j)); err != nil {
			return "", fmt.Errorf("column %d: %w", j, err)
		}
	}
	cost := "COST"
	for rows[cost] {
		cost += "_"
	}
	return cost, nil
}

func newName(seen map[string]bool, name string) error {
	f := strings.Fields(name)
	if len(f) != 1 || f[0] != name || name == "'MARKER'" {
		return fmt.Errorf("%w: name %q cannot stand in MPS", ErrProblem, name)
	}
	if seen[name] {
		return fmt.Errorf("%w: name %q is used twice", ErrProblem, name)
	}
	seen[name] = true
	return nil
}

type mpsWriter struct {
	*bufio.Writer
	p    *Problem
	cost string
}

func (w *mpsWriter) put(fields ...string) {
	fmt.Fprintln(w, " "+strings.Join(fields, " "))
}

func (w *mpsWriter) rows() {
	fmt.Fprintln(w, strings.TrimSpace("NAME "+strings.Join(strings.Fields(w.p.Name), " ")))
	fmt.Fprintln(w, "ROWS")
	w.put("N", w.cost)
	for i := range w.p.RowLo {
		kind, _ := rowKind(w.p.RowLo[i], w.p.RowUp[i])
		w.put(kind, w.p.RowName(i))
	}
}

// rowKind is the kind letter of a row and its right side.
func rowKind(lo, up float64) (kind string, b float64) {
	switch {
	case lo == up:
		return "E", lo
	case !math.IsInf(lo, -1):
		return "G", lo
	case !math.IsInf(up, 1):
		return "L", up
	}
	return "N", 0
}

func (w *mpsWriter) columns() {
	p := w.p
	fmt.Fprintln(w, "COLUMNS")
	for j := range p.Cost {
		if p.Cost[j] != 0 || p.Start[j] == p.Start[j+1] {
			w.put(p.ColName(j), w.cost, digits(p.Cost[j]))
		}
		for k := p.Start[j]; k < p.Start[j+1]; k++ {
			w.put(p.ColName(j), p.RowName(p.Row[k]), digits(p.Value[k]))
		}
	}
}

func (w *mpsWriter) sides() {
	p := w.p
	fmt.Fprintln(w, "RHS")
	if p.Offset != 0 {
		w.put("RHS", w.cost, digits(-p.Offset))
	}
	for i := range p.RowLo {
		if _, b := rowKind(p.RowLo[i], p.RowUp[i]); b != 0 {
			w.put("RHS", p.RowName(i), digits(b))
		}
	}
	fmt.Fprintln(w, "RANGES")
	for i, lo := range p.RowLo {
		if up := p.RowUp[i]; lo != up && !math.IsInf(lo, -1) && !math.IsInf(up, 1) {
			w.put("RNG", p.RowName(i), digits(up-lo))
		}
	}
}

func (w *mpsWriter) bounds() {
	fmt.Fprintln(w, "BOUNDS")
	for j, lo := range w.p.ColLo {
		up, name := w.p.ColUp[j], w.p.ColName(j)
		switch {
		case lo == up:
			w.put("FX", "BND", name, digits(lo))
			continue
		case math.IsInf(lo, -1):
			w.put("MI", "BND", name)
		case lo != 0:
			w.put("LO", "BND", name, digits(lo))
		}
		if !math.IsInf(up, 1) {
			w.put("UP", "BND", name, digits(up))
		}
	}
}

func digits(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
