package larder

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

var (
	//go:embed canning.csv
	canningCSV string
	//go:embed ph.csv
	phCSV string
	//go:embed blanch.csv
	blanchCSV string
	//go:embed names.csv
	namesCSV string
	//go:embed pressing.csv
	pressingCSV string
	//go:embed milling.csv
	millingCSV string
	//go:embed thaw.csv
	thawCSV string
)

type tableSet struct {
	canning   canningTable
	acidity   []Acidity
	preparing []Preparing
	names     map[string]Names
	pressing  []pressing
	milling   []milling
	thaw      []Thawed
}

// tables reads the embedded tables once.
var tables = sync.OnceValues(func() (*tableSet, error) {
	t := tableSet{names: map[string]Names{}}
	err := errors.Join(
		each("canning.csv", canningCSV, 11, func(c cells) {
			t.canning = append(t.canning, canningRow{
				food: c.text(0), class: c.text(1), method: c.text(2), pack: c.text(3), jar: c.text(4),
				minutes: [4]float64{c.num(5), c.num(6), c.num(7), c.num(8)}, note: c.text(9), source: c.text(10)})
		}),
		each("ph.csv", phCSV, 5, func(c cells) {
			low, high := c.num(1), c.num(2)
			t.acidity = append(t.acidity, Acidity{c.text(0), low, high, classOf(low, high, c.text(3) == "always"), c.text(4)})
		}),
		each("blanch.csv", blanchCSV, 12, func(c cells) {
			t.preparing = append(t.preparing, Preparing{
				Food: c.text(0), BlanchLow: c.opt(1), BlanchHi: c.opt(2), BlanchNote: c.text(3), BlanchFrom: c.text(4),
				DryLow: c.opt(5), DryHi: c.opt(6), DryNote: c.text(7), FreshLow: c.opt(8), FreshHi: c.opt(9),
				DryTest: c.text(10), DryFrom: c.text(11)})
		}),
		each("names.csv", namesCSV, 4, func(c cells) {
			t.names[c.text(0)] = Names{Canning: list(c.text(1)), PH: c.text(2), Prepare: c.text(3)}
		}),
		each("pressing.csv", pressingCSV, 8, func(c cells) {
			t.pressing = append(t.pressing, pressing{c.text(0), c.text(1), c.num(2), c.num(3), c.num(4), c.num(5), c.text(7)})
		}),
		each("milling.csv", millingCSV, 6, func(c cells) {
			t.milling = append(t.milling, milling{c.text(0), c.text(1), c.num(2), c.num(3), c.num(4), c.text(5)})
		}),
		each("thaw.csv", thawCSV, 6, func(c cells) {
			t.thaw = append(t.thaw, Thawed{c.text(0), c.text(1), c.text(2), c.text(3), c.opt(4), c.text(5)})
		}))
	return &t, err
})

// cells is one row; its first bad number is kept in err.
type cells struct {
	row []string
	err *error
}

func (c cells) text(i int) string { return c.row[i] }

func (c cells) num(i int) float64 {
	v, err := strconv.ParseFloat(c.row[i], 64)
	if err != nil && *c.err == nil {
		*c.err = fmt.Errorf("column %d: %w", i+1, err)
	}
	return v
}

func (c cells) opt(i int) float64 {
	if c.row[i] == "" {
		return math.NaN()
	}
	return c.num(i)
}

// list parts a cell at its semicolons; an empty cell is none.
func list(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ";")
}

// each calls row for each row of a table of so many columns, header left out.
func each(name, text string, columns int, row func(cells)) error {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = columns
	rows, err := r.ReadAll()
	if err != nil {
		return fmt.Errorf("table %s: %w", name, err)
	}
	for i, cell := range rows[min(1, len(rows)):] {
		var bad error
		row(cells{cell, &bad})
		if bad != nil {
			return fmt.Errorf("table %s, row %d: %w", name, i+2, bad)
		}
	}
	return nil
}
