package lp

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// noSide is the size from which a number in RHS, RANGES or BOUNDS means no side.
const noSide = 1e30

func (m *mps) boundLine(f []string) error {
	kind, j, value, err := m.boundFields(f)
	if err != nil {
		return err
	}
	lo, up := &m.p.ColLo[j], &m.p.ColUp[j]
	switch kind {
	case "LO":
		*lo, m.hasLo[j] = value, true
	case "UP":
		*up = value
		if value < 0 && !m.hasLo[j] {
			*lo = math.Inf(-1)
		}
	case "FX":
		*lo, *up, m.hasLo[j] = value, value, true
	case "FR":
		*lo, *up, m.hasLo[j] = math.Inf(-1), math.Inf(1), true
	case "MI":
		*lo, m.hasLo[j] = math.Inf(-1), true
	case "PL":
		*up = math.Inf(1)
	case "BV":
		*lo, *up, m.hasLo[j] = 0, 1, true
	}
	return nil
}

// boundFields reads kind, optional set, column, and the value if the kind has one.
func (m *mps) boundFields(f []string) (kind string, j int, value float64, err error) {
	kind = f[0]
	rest := f[1:]
	valued := kind == "LO" || kind == "UP" || kind == "FX"
	if !valued && kind != "FR" && kind != "MI" && kind != "PL" && kind != "BV" {
		return "", 0, 0, fmt.Errorf("bound kind %q is not one of LO UP FX FR MI PL BV", kind)
	}
	named := len(rest) == 3 || len(rest) == 2 && !valued && m.isColumn(rest[1])
	if named {
		if err := m.oneSet(rest[:1]); err != nil {
			return "", 0, 0, err
		}
		rest = rest[1:]
	}
	if len(rest) == 0 || len(rest) > 2 || valued && len(rest) != 2 {
		return "", 0, 0, fmt.Errorf("want kind, set, column and value, not %q", f)
	}
	j, ok := m.col[rest[0]]
	if !ok {
		return "", 0, 0, fmt.Errorf("no column %q", rest[0])
	}
	if valued {
		value, err = number(rest[1])
	}
	return kind, j, value, err
}

func (m *mps) isColumn(name string) bool { _, ok := m.col[name]; return ok }

// number reads a value; 1e30 and beyond is no side.
func number(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	if math.Abs(v) >= noSide {
		return math.Copysign(math.Inf(1), v), nil
	}
	return v, nil
}

// finish turns kinds, right sides and ranges into row sides.
func (m *mps) finish() (*Problem, error) {
	if !m.objective {
		return nil, errors.New("no N row for the cost")
	}
	for i, b := range m.rhs {
		lo, up := rowSides(m.kind[i], b, m.span[i], m.hasSpan[i])
		m.p.RowLo[i], m.p.RowUp[i] = lo, up
	}
	return m.p, m.p.Check()
}

func rowSides(kind byte, b, span float64, ranged bool) (lo, up float64) {
	lo, up = math.Inf(-1), math.Inf(1)
	width := math.Abs(span)
	switch {
	case kind == 'L':
		up = b
		if ranged {
			lo = b - width
		}
	case kind == 'G':
		lo = b
		if ranged {
			up = b + width
		}
	case kind == 'E' && ranged:
		lo, up = min(b, b+span), max(b, b+span)
	case kind == 'E':
		lo, up = b, b
	}
	return lo, up
}
