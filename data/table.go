package data

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

//go:embed *.csv
var files embed.FS

// A record is one row of a table, read by column name. Its methods note the
// first fault of each cell in the table's error list instead of returning it,
// so that a reader of rows stays a plain list of fields.
type record struct {
	t    *table
	line int
	cell []string
}

type table struct {
	name string
	col  map[string]int
	rows []record
	errs []error
}

// open reads an embedded table; every row must have as many cells as the header.
func open(name string) (*table, error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("open table %s: %w", name, err)
	}
	defer f.Close()
	return parse(name, f)
}

func parse(name string, in io.Reader) (*table, error) {
	r := csv.NewReader(in)
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("table %s: %w", name, err)
	}
	t := &table{name: name, col: make(map[string]int, len(head))}
	for i, h := range head {
		t.col[h] = i
	}
	for {
		cell, err := r.Read()
		if err == io.EOF {
			return t, nil
		}
		if err != nil {
			return nil, fmt.Errorf("table %s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		t.rows = append(t.rows, record{t, line, cell})
	}
}

// err joins the faults noted while the rows were read.
func (t *table) err() error { return errors.Join(t.errs...) }

func (r record) fault(col, format string, args ...any) {
	r.t.errs = append(r.t.errs, fmt.Errorf("%s line %d, %s: %s", r.t.name, r.line, col, fmt.Sprintf(format, args...)))
}

// str returns the cell of a column, trimmed.
func (r record) str(col string) string {
	i, ok := r.t.col[col]
	if !ok {
		r.fault(col, "no such column")
		return ""
	}
	return strings.TrimSpace(r.cell[i])
}

// must returns the cell and notes a fault when it is empty.
func (r record) must(col string) string {
	s := r.str(col)
	if s == "" {
		r.fault(col, "must not be empty")
	}
	return s
}

// num returns the number of a cell that must hold one.
func (r record) num(col string) float64 {
	v := r.opt(col)
	if math.IsNaN(v) {
		r.fault(col, "must hold a number")
	}
	return v
}

// opt returns the number of a cell, or NaN when it is empty.
func (r record) opt(col string) float64 {
	s := r.str(col)
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		r.fault(col, "%q is not a number", s)
		return math.NaN()
	}
	return v
}

// or returns the number of a cell, or d when it is empty.
func (r record) or(col string, d float64) float64 {
	if v := r.opt(col); !math.IsNaN(v) {
		return v
	}
	return d
}
