package main

import (
	"math"

	"evenstead/water"
)

// What the sheet tries: volumes and demands as multiples of what is there, shares
// of days to be met, and changes.
const (
	volumeSteps  = 32 // of an eighth of the group each
	stepsOfGroup = 8
	barrel       = 208.0  // L, the 55 US gal drum
	tote         = 1000.0 // L
	moreRoof     = 10.0   // m2
	savedEach    = 1.0    // L a person-day
)

var (
	demandShares = []float64{0.5, 0.75, 1, 1.25, 1.5}
	neededShares = []float64{0.9, 0.95, 0.99}
)

type changeKind int

const (
	changeStore changeKind = iota
	changeRoof
	changeUse
)

// group sizes one tank group from its case and the course it runs.
func (s *sizer) group(i int, c *water.Case, course *water.Course) *waterGroup {
	g, days := s.groups[i], c.Days()
	out := &waterGroup{Name: g.Name, Tanks: len(g.Tanks), Holds: g.Holds, Dead: g.Dead, Level: g.Level, Asked: c.Demand[0]}
	for _, r := range s.st.Roofs {
		if s.fed(r.To) == i {
			w := s.roof(r)
			out.Roofs = append(out.Roofs, waterRoof{r.Name, r.Area, r.Surface, w.Coef, w.Flush})
		}
	}
	years := s.past.years(days.Inflow)
	out.Mean, out.Dry = mean(years), water.Plotted(years, 0.1)
	out.Piped = mean(s.past.years(c.Piped))
	out.Spilt = mean(s.past.years(course.Spilt))
	if out.Asked > 0 {
		s.asStands(out, c, course)
		s.curves(out, c)
		s.worth(out, c)
		s.ladder(out, i, c, days)
	}
	out.Beds = s.beds(out, i, c)
	return out
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}

// finite is nil for what nothing reaches, as JSON has no infinity.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// asStands fills in how well the group serves as it is.
func (s *sizer) asStands(out *waterGroup, c *water.Case, course *water.Course) {
	years := c.Years()
	before := *c
	before.Rule = water.YBS
	same := before.Run().Total
	out.Rt, out.Rv, out.Longest = course.Total.Rt, course.Total.Rv, course.Total.Longest
	out.RtBefore, out.RvBefore = same.Rt, same.Rv
	if out.Longest > 0 {
		out.Return = finite(water.Return(course.Runs, years, out.Longest))
	}
	if years >= 10 {
		once := water.RunOnceIn(course.Runs, years, 10)
		out.OnceTen = &once
	}
	out.NoFail = finite(c.NoFail())
	out.ByMonth = s.past.shortByMonth(course.Drawn, out.Asked)
}

// curves fills in days met by volume and demand, and the volumes needed.
func (s *sizer) curves(out *waterGroup, c *water.Case) {
	for k := 1; k <= volumeSteps; k++ {
		out.Volumes = append(out.Volumes, out.Holds*float64(k)/stepsOfGroup)
	}
	for _, share := range demandShares {
		out.Demands = append(out.Demands, out.Asked*share)
	}
	grid := c.Surface(out.Volumes, out.Demands)
	for j, d := range out.Demands {
		row := make([]float64, len(out.Volumes))
		for i := range row {
			_, row[i] = grid.At(i, j)
		}
		out.Met = append(out.Met, row)
		out.Needed = append(out.Needed, needed(*c, d))
	}
}

func needed(c water.Case, demand float64) waterNeeded {
	c.Demand = []float64{demand}
	n := waterNeeded{Demand: demand, NoFail: finite(c.NoFail())}
	for _, share := range neededShares {
		var v *float64
		if size, ok := c.VolumeFor(share); ok {
			v = &size
		}
		n.For = append(n.For, v)
	}
	return n
}

// worth fills in what a change is good for.
func (s *sizer) worth(out *waterGroup, c *water.Case) {
	add := func(change string, kind changeKind, amount float64, w water.Worth) {
		out.Worth = append(out.Worth, waterWorth{change, amount, kind, w.Days, w.Litres})
	}
	add("a barrel more", changeStore, barrel, c.MoreStore(barrel))
	add("a tote more", changeStore, tote, c.MoreStore(tote))
	if r, ok := s.kindOfRoof(c); ok {
		add("more roof", changeRoof, moreRoof, c.MoreRoof(r))
	}
	add("saved by each person each day", changeUse, savedEach, c.Saved(savedEach*float64(len(s.st.People))))
}

// kindOfRoof is ten square metres more of the group's first roof, or of the
// stead's first where the group has none.
func (s *sizer) kindOfRoof(c *water.Case) (water.Roof, bool) {
	var r water.Roof
	switch {
	case len(c.Roofs) > 0:
		r = c.Roofs[0]
	case len(s.st.Roofs) > 0:
		r = s.roof(s.st.Roofs[0])
	default:
		return r, false
	}
	r.Flush *= moreRoof / r.Area
	r.Area = moreRoof
	return r, true
}

// ladder fills in what each cut buys from the group's level on the sheet's date.
func (s *sizer) ladder(out *waterGroup, i int, c *water.Case, days water.Days) {
	runs := s.past.from(s.today, days)
	cuts := s.cuts(i)
	out.FromFull = finite(water.Ladder(cuts, c.Store, out.Holds, runs)[0].Dry)
	for _, r := range water.Ladder(cuts, c.Store, out.Level, runs) {
		out.Ladder = append(out.Ladder, waterRung{r.Name, r.To, r.Asks, finite(r.Dry), r.Poor})
	}
}
