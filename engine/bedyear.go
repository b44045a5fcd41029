package engine

import (
	"fmt"
	"maps"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/weather"
)

// A Growth is one stand of the bed year: what stood, stands and is planned on a
// plot from the last season to a year ahead.
type Growth struct {
	Plot       string
	Crop, Name string
	Area       float64 // m2
	Share      float64 // of the plot
	Perennial  bool
	Feeds      bool    // grown for the ground: it gives no food, or next to none
	Planned    bool    // not sown yet
	Done       bool    // taken out; its dates are then those of the usual year
	Sown       day.Day // a perennial's: when its season begins
	Full       day.Day // leaves full
	First      day.Day // first picking
	Last       day.Day // last picking
	Likely, MJ float64 // kg of its whole harvest in a usual year on this place, and its energy
}

// DryAhead is how far ahead a dry spell is followed, days.
const DryAhead = 60

// leastCrop is the kg/m2 under which an annual is taken to be grown for the ground.
const leastCrop = 0.01

// Year is the standing with what the usual year says of the ground: the dates
// of first pickings and of thirst, and every stand within a year. It fails where
// the stead can't be prepared for a year from today.
func (p *Past) Year(tab *data.Tables, usual weather.Climate) (*Standing, []Growth, error) {
	step := *p
	step.From, step.at, step.state = p.Today, p.end, p.ended
	step.refusals = maps.Clone(p.refusals) // several may ask at once
	m, err := Prepare(p.Stead, tab, Options{Today: p.Today, Climate: usual, Past: &step})
	if err != nil {
		return nil, nil, fmt.Errorf("the year of the beds: %w", err)
	}
	y := &year{m: m, s: m.first, usual: &usual}
	st := p.Standing()
	st.Patches = p.viewer(m, m.first, 0).patches() // with next year's seasons
	var all []Growth
	firsts := map[string]day.Day{}
	for q := range m.plantings {
		g, ok := y.growth(q, p.Known.Start)
		if !ok {
			continue
		}
		g.Plot = m.plots[m.plantings[q].plot].name
		firsts[m.standName(q)] = g.First
		all = append(all, g)
	}
	for i := range st.Plots {
		pl := &st.Plots[i]
		pl.DryOn = y.dryOn(i)
		for j := range pl.Stands {
			sd := &pl.Stands[j]
			sd.First = firsts[fmt.Sprintf("%s/%s/%d", pl.Name, sd.Crop, int(sd.Sown))]
		}
	}
	return st, all, nil
}

// year walks stands through the usual year.
type year struct {
	m     *Model // begins today
	s     *state
	usual *weather.Climate
}

// growth dates one stand; ok is false for one that was over before the stay.
func (y *year) growth(q int, stay day.Day) (g Growth, ok bool) {
	p, c := &y.m.plantings[q], &y.s.crop[q]
	on := func(d int) day.Day { return y.m.start + day.Day(d) }
	g = Growth{Crop: p.crop.ID, Name: p.crop.Name, Area: p.area, Share: p.share, Perennial: p.tree, Planned: p.sow >= 0 && !p.tree, Done: c.done,
		Sown: on(p.sow), Likely: p.yield * y.m.place(q)}
	g.Feeds = p.kind < 0 || !p.tree && p.yield < leastCrop*p.area
	if p.kind >= 0 {
		g.MJ = g.Likely * y.m.kinds[p.kind].mj
	}
	full, first, last := y.walk(p, p.sow, 0, 0)
	if p.tree {
		full, first, last = p.sow+int(p.leafy()*float64(p.ends-p.sow)), p.begins, p.ends
	}
	switch {
	case c.done:
		full, first, last = min(full, 0), min(first, 0), min(last, 0)
	case p.sow < 0 && !p.tree:
		a, b, z := y.walk(p, 0, c.frac, c.picked)
		full, first, last = later(full, a), later(first, b), z
	}
	g.Full, g.First, g.Last = on(full), on(first), on(last)
	return g, !c.done || g.Last > stay && on(p.sow) < y.m.start
}

// later is a day of the usual year, or the one that the state foretells; what
// the state has behind it was no later than today.
func later(usual, foretold int) int {
	if foretold > 0 {
		return foretold
	}
	return min(usual, 0)
}

// leafy is the share of a stand's season at which its leaves are full.
func (g *planting) leafy() float64 { return min(1, g.shareIni+g.shareDev) }

// longest is how long an annual may stand, days.
const longest = 800

// walk carries an annual from a day and state of growth through the usual year
// and returns the days of full leaves, of the first picking and of the last.
func (y *year) walk(g *planting, from int, frac, picked float64) (full, first, last int) {
	full, first, last = from, from, from
	for d := from; d < from+longest && picked < 1; d++ {
		doy := dayOfYear(y.m.start + day.Day(d))
		tmin, tmax := y.usual.TMin[doy], y.usual.TMax[doy]
		if frac < 1 {
			frac = min(1, frac+g.on(tmin, tmax))
			first = d + 1
		} else {
			picked = min(1, picked+max(0.25, warmth((tmin+tmax)/2, g.base, g.optLow))/g.span)
		}
		if frac*g.toFirst+picked*(1-g.toFirst) < g.leafy() {
			full = d + 1
		}
		last = d + 1
	}
	return full, first, last
}

// dryOn is when the first stand of a plot goes thirsty if no rain falls, by the
// usual year's evaporation.
func (y *year) dryOn(i int) day.Day {
	p, r := &y.m.plots[i], &runner{m: y.m, s: y.s}
	soonest := DryAhead
	for q := p.first; q < p.last; q++ {
		if !r.stands(q) {
			continue
		}
		g, c := &y.m.plantings[q], &y.s.crop[q]
		season := g.season(c)
		z := r.roots(p, g, season)
		lacks := z.f1*y.s.top[i] + z.f2*y.s.sub[i]
		kc := crop.Kc(season, g.kcIni, g.kcMid, g.kcEnd, g.shareIni, g.shareDev, g.shareMid)
		for d := range soonest {
			etm := kc * y.usual.ET0[dayOfYear(y.m.start+day.Day(d))]
			if lacks > crop.AdjustDepletion(g.p, etm)*z.taw {
				soonest = d
				break
			}
			lacks += etm
		}
	}
	if soonest == DryAhead {
		return 0
	}
	return y.m.start + day.Day(soonest)
}
