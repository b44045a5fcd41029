package water

// A Store is one tank, or joined ones that share a level.
type Store struct {
	Size float64 // L at the brim
	Dead float64 // L below the tap, which can't be drawn
	Open float64 // m2 of open water; 0: lidded
	Leak float64 // L a day while there is water
}

// Days are what comes to a store and what is asked of it, day by day. There are
// as many days as Inflow has; a Demand or ET0 shorter than that repeats, so one
// value is a steady one, and an empty one is 0.
type Days struct {
	Inflow []float64 // L a day
	Demand []float64 // L a day
	ET0    []float64 // reference evapotranspiration, mm a day
}

// at returns value t of a list that repeats.
func at(list []float64, t int) float64 {
	switch n := len(list); {
	case n == 1:
		return list[0]
	case t < n:
		return list[t]
	case n > 1:
		return list[t%n]
	}
	return 0
}

// Day runs one day from a level [L]: leak and evaporation go first, rain fills
// the dead part before it can be drawn, and the rule parts the rest.
// level + inflow = Yield + Spill + lost + End.
func (s Store) Day(level, inflow, demand, et0 float64, rule Rule) (step Step, lost float64) {
	if s.Open > 0 {
		lost = OpenEvaporation(et0, s.Open)
	}
	lost = min(level, lost+s.Leak)
	level -= lost
	dead := min(s.Dead, s.Size)
	low := min(dead, level+inflow)
	fill := max(low-level, 0)
	step = rule(max(level-dead, 0), max(inflow-fill, 0), demand, s.Size-dead)
	step.End += low
	return step, lost
}

// Tally sums a run of days from a start level [L].
func (s Store) Tally(d Days, start float64, rule Rule) Result {
	sum := newTally(start)
	for t, q := range d.Inflow {
		ask := at(d.Demand, t)
		st, lost := s.Day(sum.End, q, ask, at(d.ET0, t), rule)
		sum.add(q, ask, lost, st)
	}
	return sum.result()
}

// Settled returns the level [L] that a run through the days leaves when it
// begins empty. A run from there is one of a record that comes round again,
// which neither a full nor an empty start colours.
func (s Store) Settled(d Days, rule Rule) float64 {
	level := 0.0
	for t, q := range d.Inflow {
		st, _ := s.Day(level, q, at(d.Demand, t), at(d.ET0, t), rule)
		level = st.End
	}
	return level
}

// A Course is a store's run of days.
type Course struct {
	Total  Result
	Start  float64   // L before the first day
	Drawn  []float64 // L a day
	Spilt  []float64 // L a day
	Levels []float64 // L at the end of each day
	Runs   []int     // lengths of the runs of days not met in full, in order
}

// Run keeps every day of a run from a start level [L].
func (s Store) Run(d Days, start float64, rule Rule) Course {
	n := len(d.Inflow)
	c := Course{Start: start, Drawn: make([]float64, n), Spilt: make([]float64, n), Levels: make([]float64, n)}
	sum := newTally(start)
	for t, q := range d.Inflow {
		ask, before := at(d.Demand, t), sum.short
		st, lost := s.Day(sum.End, q, ask, at(d.ET0, t), rule)
		c.Drawn[t], c.Spilt[t], c.Levels[t] = st.Yield, st.Spill, st.End
		switch short := sum.add(q, ask, lost, st); {
		case short && before == 0:
			c.Runs = append(c.Runs, 1)
		case short:
			c.Runs[len(c.Runs)-1]++
		}
	}
	c.Total = sum.result()
	return c
}

// Lasts returns on how many days from a level [L] the demand is met in full
// before the first on which it is not; all of them when there is no such day.
func (s Store) Lasts(d Days, level float64, rule Rule) int {
	for t, q := range d.Inflow {
		ask := at(d.Demand, t)
		st, _ := s.Day(level, q, ask, at(d.ET0, t), rule)
		if !met(st.Yield, ask) {
			return t
		}
		level = st.End
	}
	return len(d.Inflow)
}
