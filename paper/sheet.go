package paper

import "evenstead/day"

// A Sheet is one thing to print.
type Sheet struct {
	ID    string
	Over  string // a small line above the title
	Title string
	Lead  string // the one thing first
	Rest  string
	Quote string // the end of Lead that is of package tasks, in English
	Told  bool   // Rest is of package tasks
	Parts []Part
	Foot  string // where the figures come from, and who comes first
}

// A Part is a titled piece of a sheet. It holds what its fields hold, in their
// order; most hold one.
type Part struct {
	Title  string
	Note   string // under the title, in the second voice
	Column bool   // stands beside its neighbours that are columns too
	Break  bool   // begins a page
	Dense  bool   // its ticks and lines stand in two columns
	Quoted bool   // its work or its lines are sentences of package tasks or of a table, in English

	Lines  []Line
	Rules  []Line // after them, published rules: what follows the beginning is English
	Days   []DayWork
	Rounds []Round
	Ticks  []Tick
	Table  *Table
	Year   *Year
	Rungs  *Rungs
	Beds   []Cell
	Cover  []Cover
	Tally  []Tally
	Shut   []Line // a gate stands before each
	Labels []Label
	Blanks []string // lines to write on, numbered
}

// A Line is a sentence, its beginning in bold.
type Line struct{ Lead, Rest string }

// A DayWork is a day of the week with what falls to it.
type DayWork struct {
	Name    string // "Mon"
	Number  string // "18"
	Weather string // of the usual year
	Ticks   []Tick
}

// A Round is done every day of the week.
type Round struct {
	Title, More string
	Boxes       []string // the days that stand over its boxes
}

// A Tick is a box to tick.
type Tick struct {
	Minutes     string
	Title, More string
}

// A Table is rows of cells under a head; the first cell names the row. Right
// tells which columns hold figures.
type Table struct {
	Head  []string
	Right []bool
	Rows  [][]string
}

// A Cell is one bed or stand of trees on the map, which has them in the order of
// the description: where they lie is not described.
type Cell struct{ Name, Area, Stands, Next, Water string }

// A Year is ribbons on a ruler of months: what grows where, and when it bears.
type Year struct {
	From   day.Day
	Months []string
	Days   int
	Today  int // days from From
	Rows   []YearRow
	Key    [3]string // what solid, hatched and open mean
}

// A YearRow is one bed's year.
type YearRow struct {
	Name  string
	Spans []Span
}

// A Span is a stand from its sowing to its last picking, in days from the ruler's
// first.
type Span struct {
	Name              string
	Sown, First, Last int
	Planned           bool
}

// Rungs are the marks of one tank.
type Rungs struct {
	Height float64 // m; 0: not known, the rungs are shares
	Marks  []Rung  // full first
}

// A Rung is one mark.
type Rung struct {
	At      float64 // share of the height
	Name    string  // "0.60 m", "24 in", "6/10"
	Litres  string
	Gallons string
	Group   string // of all joined tanks; empty for a tank alone
	Days    string // of the household's use above the tap
	Under   string // what lies between this rung and the next: the tap, the house's share
}

// A Cover is how long a need is covered.
type Cover struct {
	Name         string
	Sure, Middle string
	SureAt       float64 // share of a year, on a square-root rule
	MiddleAt     float64
}

// A Tally is a row of a store sheet: what lies there, and boxes to strike as it
// is eaten.
type Tally struct {
	Place string // names the rows that follow; empty within a place
	Name  string
	Holds string
	Box   string // what one box is
	Boxes int
	More  bool // there is more than the boxes
	Write bool // a line to write the count on
}

// A Label is cut out and stuck on.
type Label struct {
	Number string
	What   string
	Facts  []string
	Care   string
	Quoted bool   // Care is a published rule, in English
	Path   string // of its page, "/lot/K7QF"; the shell makes the code
}

// A Row is parts that stand beside each other, or one that stands by itself.
type Row struct {
	Columns bool
	Break   bool
	Parts   []Part
}

// Rows gathers columns that follow each other.
func (s *Sheet) Rows() []Row {
	var rows []Row
	for _, p := range s.Parts {
		if n := len(rows); p.Column && !p.Break && n > 0 && rows[n-1].Columns && len(rows[n-1].Parts) < 3 {
			rows[n-1].Parts = append(rows[n-1].Parts, p)
			continue
		}
		rows = append(rows, Row{p.Column, p.Break, []Part{p}})
	}
	return rows
}

// empty tells a part that holds nothing.
func (p *Part) empty() bool {
	return len(p.Lines)+len(p.Days)+len(p.Rounds)+len(p.Ticks)+len(p.Cover)+len(p.Tally)+len(p.Shut)+len(p.Labels)+len(p.Blanks)+len(p.Beds) == 0 &&
		p.Table == nil && p.Year == nil && p.Rungs == nil
}

// add appends parts that hold something.
func (s *Sheet) add(parts ...Part) {
	for _, p := range parts {
		if !p.empty() {
			s.Parts = append(s.Parts, p)
		}
	}
}
