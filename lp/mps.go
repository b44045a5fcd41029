package lp

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// ErrMPS is wrapped by every error that says a file is not readable as MPS.
var ErrMPS = errors.New("not readable as MPS")

// ReadMPS reads a linear programme in free MPS: fields parted by blanks, a
// section word in the first column, comments from * on. The first N row is the
// cost, to be minimised; further N rows become rows without sides.
//
//	RHS on the cost row, r      offset -r
//	RANGES R on an L row, b     b-|R| to b
//	RANGES R on a G row, b      b to b+|R|
//	RANGES R on an E row, b     b to b+R, or b+R to b when R < 0
//	no bound                    0 to infinity
//	UP u < 0, no LO or MI given -infinity to u
//	MI, PL, FR                  no lower side, no upper side, neither
//	BV                          0 to 1, the continuous range of a yes-or-no
//
// The name of an RHS, RANGES or BOUNDS set may be left out; a second set is an
// error, as are integer markers, repeated entries, and OBJSENSE MAX. The error
// names the line and wraps ErrMPS, or is the reader's own.
func ReadMPS(r io.Reader) (*Problem, error) {
	m := newMPS()
	in := bufio.NewScanner(r)
	in.Buffer(nil, 1<<20)
	for m.section != "ENDATA" && in.Scan() {
		m.line++
		if err := m.take(in.Text()); err != nil {
			return nil, fmt.Errorf("%w: line %d: %w", ErrMPS, m.line, err)
		}
	}
	if err := in.Err(); err != nil {
		return nil, fmt.Errorf("reading MPS after line %d: %w", m.line, err)
	}
	if m.section != "ENDATA" {
		return nil, fmt.Errorf("%w: no ENDATA line", ErrMPS)
	}
	p, err := m.finish()
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrMPS, err)
	}
	return p, nil
}

// mps gathers the sections. Row -1 stands for the cost.
type mps struct {
	p         *Problem
	line      int
	section   string
	kind      []byte
	rhs, span []float64
	set       map[string]string // set name of each section that has one
	row, col  map[string]int
	hasRHS    map[int]bool
	hasSpan   map[int]bool
	hasLo     map[int]bool
	inColumn  map[int]bool
	objective bool
}

func newMPS() *mps {
	return &mps{p: &Problem{Start: []int{0}}, set: map[string]string{}, row: map[string]int{}, col: map[string]int{},
		hasRHS: map[int]bool{}, hasSpan: map[int]bool{}, hasLo: map[int]bool{}, inColumn: map[int]bool{}}
}

func (m *mps) take(text string) error {
	text = strings.TrimRight(text, " \t\r")
	if text == "" || text[0] == '*' {
		return nil
	}
	f := strings.Fields(text)
	if len(f) == 0 {
		return nil
	}
	if text[0] != ' ' && text[0] != '\t' {
		return m.open(f)
	}
	switch m.section {
	case "ROWS":
		return m.rowLine(f)
	case "COLUMNS":
		return m.columnLine(f)
	case "RHS":
		return m.pairs(f, m.setRHS)
	case "RANGES":
		return m.pairs(f, m.setSpan)
	case "BOUNDS":
		return m.boundLine(f)
	case "OBJSENSE":
		return sense(f[0])
	}
	return fmt.Errorf("data outside a section: %q", text)
}

func (m *mps) open(f []string) error {
	m.section = f[0]
	switch f[0] {
	case "NAME":
		m.p.Name = strings.Join(f[1:], " ")
	case "OBJSENSE":
		if len(f) > 1 {
			return sense(f[1])
		}
	case "ROWS", "COLUMNS", "RHS", "RANGES", "BOUNDS", "ENDATA":
	default:
		return fmt.Errorf("unknown section %q", f[0])
	}
	return nil
}

func sense(word string) error {
	switch strings.ToUpper(word) {
	case "MIN", "MINIMIZE", "MINIMISE":
		return nil
	}
	return fmt.Errorf("objective sense %q: only MIN is read; negate the cost row", word)
}

func (m *mps) rowLine(f []string) error {
	if len(f) != 2 || !strings.Contains("NELG", f[0]) || len(f[0]) != 1 {
		return fmt.Errorf("a row is a kind N, E, L or G and a name, not %q", f)
	}
	if _, ok := m.row[f[1]]; ok {
		return fmt.Errorf("row %s named twice", f[1])
	}
	if f[0] == "N" && !m.objective {
		m.objective, m.row[f[1]] = true, -1
		return nil
	}
	m.row[f[1]] = m.p.AddRow(f[1], 0, 0)
	m.kind = append(m.kind, f[0][0])
	m.rhs, m.span = append(m.rhs, 0), append(m.span, 0)
	return nil
}

func (m *mps) columnLine(f []string) error {
	if len(f) >= 2 && f[1] == "'MARKER'" {
		return errors.New("integer markers: only continuous columns are read")
	}
	if len(f)%2 == 0 {
		return fmt.Errorf("want a column name and pairs of row and value, not %q", f)
	}
	last := len(m.p.ColNames) - 1
	if last < 0 || m.p.ColNames[last] != f[0] {
		if _, ok := m.col[f[0]]; ok {
			return fmt.Errorf("column %s comes in two places", f[0])
		}
		m.col[f[0]] = m.p.AddColumn(f[0], 0, 0, math.Inf(1), nil, nil)
		clear(m.inColumn)
		last++
	}
	return m.pairs(f, func(i int, v float64) error { return m.entry(last, i, v) })
}

func (m *mps) entry(j, i int, v float64) error {
	switch {
	case m.inColumn[i]:
		return errors.New("the same row twice in a column")
	case !finite(v):
		return fmt.Errorf("coefficient %g", v)
	case i < 0:
		m.p.Cost[j] = v
	default:
		m.p.Row, m.p.Value = append(m.p.Row, i), append(m.p.Value, v)
		m.p.Start[j+1] = len(m.p.Row)
	}
	m.inColumn[i] = true
	return nil
}

// pairs reads an optional first name and then row, value, row, value, ...
func (m *mps) pairs(f []string, put func(i int, v float64) error) error {
	if m.section != "COLUMNS" {
		if err := m.oneSet(f[:len(f)%2]); err != nil {
			return err
		}
	}
	f = f[len(f)%2:]
	for ; len(f) > 0; f = f[2:] {
		i, ok := m.row[f[0]]
		if !ok {
			return fmt.Errorf("no row %q", f[0])
		}
		v, err := number(f[1])
		if err != nil {
			return err
		}
		if err := put(i, v); err != nil {
			return fmt.Errorf("row %s: %w", f[0], err)
		}
	}
	return nil
}

func (m *mps) oneSet(name []string) error {
	if len(name) == 0 {
		return nil
	}
	if was, ok := m.set[m.section]; ok && was != name[0] {
		return fmt.Errorf("second set %q in %s after %q: keep one", name[0], m.section, was)
	}
	m.set[m.section] = name[0]
	return nil
}

func (m *mps) setRHS(i int, v float64) error {
	switch {
	case m.hasRHS[i]:
		return errors.New("second right side")
	case i < 0:
		m.p.Offset = -v
		if v == 0 {
			m.p.Offset = 0
		}
	default:
		m.rhs[i] = v
	}
	m.hasRHS[i] = true
	return nil
}

func (m *mps) setSpan(i int, v float64) error {
	switch {
	case i < 0 || m.kind[i] == 'N':
		return errors.New("range on an N row")
	case m.hasSpan[i]:
		return errors.New("second range")
	}
	m.span[i], m.hasSpan[i] = v, true
	return nil
}
