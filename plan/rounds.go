package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"evenstead/engine"
	"evenstead/lp"
	"evenstead/stead"
	"evenstead/unit"
)

// A round is a way of running the digester by what is fetched for it, with what
// the engine says that all fires, heaps and cans then do.
type round struct {
	fetched float64 // kg a day
	extra   bool    // more than is said to be there: looked at only for its worth
	year    *engine.LoopYear
}

// paceOfFetching are the shares of what is fetched today that are looked at beside
// it; the last is more than is said to be there.
var paceOfFetching = [...]float64{0, 0.5, 2}

// lookRounds runs the stead as it is, and as it would be if other amounts were
// fetched for the digester, the described one first.
func (y *years) lookRounds(ctx context.Context, a *Ask, m *engine.Model) error {
	y.rounds = nil
	now, err := m.LoopYear(ctx, a.Members, fewLearn)
	if err != nil {
		return err
	}
	fetched := fetches(a.Stead)
	y.rounds = []round{{fetched: fetched, year: now}}
	y.supply = now.ToBeds
	for _, pace := range paceOfFetching {
		if fetched == 0 {
			break
		}
		if err := y.lookRound(ctx, a, fetched*pace); err != nil {
			return err
		}
	}
	return nil
}

// lookRound adds a round, where the digester bears it.
func (y *years) lookRound(ctx context.Context, a *Ask, fetched float64) error {
	opt := a.Options
	opt.Report = nil
	m, err := engine.Prepare(fetching(a.Stead, fetched), a.Tables, opt)
	if err != nil {
		return nil // too much would wash it out, and nothing is no feed
	}
	year, err := m.LoopYear(ctx, a.Members, fewLearn)
	y.rounds = append(y.rounds, round{fetched, fetched > y.rounds[0].fetched, year})
	return err
}

// fetches is what is fetched for the digester, kg a day.
func fetches(st *stead.Stead) float64 {
	if len(st.Digesters) == 0 {
		return 0
	}
	return st.Digesters[0].Fetched
}

// fetching is the stead with another amount fetched for its digester, which is fed
// and watered accordingly, in as many trips as that takes.
func fetching(st *stead.Stead, kg float64) *stead.Stead {
	out := *st
	out.Digesters = slices.Clone(st.Digesters)
	d := &out.Digesters[0]
	was := *d
	d.Fetched = kg
	d.Feed = was.Feed + kg - was.Fetched
	d.Water *= d.Feed / was.Feed
	out.Hauls = slices.Clone(st.Hauls)
	for i := range out.Hauls {
		if h := &out.Hauls[i]; h.Name == was.Haul {
			h.Trips *= kg / was.Fetched
		}
	}
	return &out
}

// layRounds adds the rows of rounds and of what the loops bring to the ground.
func (g *programme) layRounds() {
	r := &g.ground
	r.round = -1
	if len(g.y.rounds) > 1 {
		r.round = g.p.AddRow("one round", 1, 1)
	}
	for c, name := range engine.Carriers {
		up := 0.0
		if r.round < 0 {
			up = 1
		}
		r.supply[c] = g.p.AddRow(name, -inf, up)
	}
}

// addRounds adds the share of the year that each round is run for.
func (g *programme) addRounds() {
	if g.ground.round < 0 {
		return
	}
	for i := range g.y.rounds {
		o := &g.y.rounds[i]
		var c column
		c.add(g.ground.round, 1)
		for k := range g.ground.supply {
			c.add(g.ground.supply[k], -g.y.brings(o, k))
		}
		g.each(func(s *season) { s.addRound(o, &c) })
		up := 1.0
		if o.extra {
			up = 0
		}
		work := o.year.Fetch * slots * engine.Fortnight
		g.rounds = append(g.rounds, g.column(fmt.Sprintf("fetch %g kg", o.fetched), 0, up, c, 0, 0, work))
	}
}

// addRound fills in what a round takes of hours and water beside the described one,
// whose share is in the limits, and the heat of its gas.
func (s *season) addRound(o *round, c *column) {
	now := s.y.rounds[0].year
	for t := range slots {
		c.add(s.rows.hours[t], (o.year.Fetch-now.Fetch)*engine.Fortnight)
		if o.year.WetFrom >= 0 {
			c.add(s.rows.water[o.year.WetFrom][t], (o.year.Wet-now.Wet)*engine.Fortnight/1000)
		}
	}
	for p, row := range s.rows.heat {
		c.add(row, -s.y.gas(o, p)/s.y.heatUnit())
	}
}

// leastFetched is the share of what is fetched today below which it is not worth a
// trip.
const leastFetched = 0.1

// fetch is what is fetched a day by the programme's answer, kg.
func (g *programme) fetch(x []float64) float64 {
	if g.rounds == nil {
		return g.y.rounds[0].fetched
	}
	kg := 0.0
	for i, c := range g.rounds {
		kg += x[c] * g.y.rounds[i].fetched
	}
	if kg < leastFetched*g.y.rounds[0].fetched {
		return 0
	}
	return math.Round(kg*10) / 10
}

// loops is how digester and carriers are run.
type loops struct {
	fetched float64 // kg a day
	spread  []Spreading
}

// changes are the steps that lead from how loops are run to l.
func (l *loops) changes(from loops) (out []func(loops) loops) {
	if l.fetched != from.fetched {
		out = append(out, func(o loops) loops { o.fetched = l.fetched; return o })
	}
	for i, s := range l.spread {
		if s.Other {
			out = append(out, func(o loops) loops {
				o.spread = slices.Clone(o.spread)
				o.spread[i] = s
				return o
			})
		}
	}
	return out
}

// asItIs is the same with all as the stead does it.
func (l *loops) asItIs(st *stead.Stead) loops {
	out := loops{fetched: fetches(st)}
	for c, name := range engine.Carriers {
		if slices.ContainsFunc(l.spread, func(s Spreading) bool { return s.What == name }) {
			out.spread = append(out.spread, Spreading{What: name, To: targets(st, c)})
		}
	}
	return out
}

// run is the stead with its loops run so.
func (l *loops) run(st *stead.Stead) *stead.Stead {
	if l.fetched != fetches(st) {
		st = fetching(st, l.fetched)
	}
	return spreading(st, l.spread)
}

// runs settles the loops: what is left to choose is one round.
func (y *years) runs(o round) {
	was := y.rounds[0].year
	f := *y.frame
	f.Free = slices.Clone(f.Free)
	for d := range f.Free {
		f.Free[d] += was.Fetch - o.year.Fetch
	}
	y.frame = &f
	if g := o.year.WetFrom; g >= 0 {
		y.water = slices.Clone(y.water)
		for t := range y.water[g] {
			y.water[g][t] += (was.Wet - o.year.Wet) * engine.Fortnight
		}
	}
	y.rounds = []round{o}
	y.supply = o.year.ToBeds
}

// A Fetching is what is to be fetched for the digester, and the trips it takes.
type Fetching struct {
	Now   float64 `json:"now_kg_day"`
	Kg    float64 `json:"kg_day"`
	Trips float64 `json:"trips_year"`
	Hours float64 `json:"hours_year"`
}

// leastBrought is the nitrogen that a carrier brings beds in a year below which it
// is not told, kg.
const leastBrought = 0.001

// readLoops fills in what is fetched and spread.
func (p *Plan) readLoops(a *Ask) {
	p.Fetch, p.Spread = nil, slices.Clone(p.loops.spread)
	for i := range p.Spread {
		c := slices.Index(engine.Carriers[:], p.Spread[i].What)
		p.Spread[i].Kg = p.years.supply[c]
	}
	p.Spread = slices.DeleteFunc(p.Spread, func(s Spreading) bool { return s.Kg[0] < leastBrought })
	now := fetches(a.Stead)
	if now == 0 {
		return
	}
	p.Fetch = &Fetching{Now: now, Kg: p.loops.fetched, Hours: p.years.rounds[0].year.Fetch * 365}
	for _, h := range p.loops.run(a.Stead).Hauls {
		if h.Name == a.Stead.Digesters[0].Haul {
			p.Fetch.Trips = h.Trips
		}
	}
}

// loopReliefs are scraps and fuel.
func (g *programme) loopReliefs(s *lp.Solution) []relief {
	out := g.fireReliefs(s)
	for i, c := range g.rounds {
		if o := &g.y.rounds[i]; o.extra {
			more := Step{o.fetched - g.y.rounds[0].fetched, unit.Mass, "day"}
			out = append(out, relief{"scraps to fetch for the digester", more, -s.D[c], func(h *programme) { h.p.ColUp[c] = 1 }})
		}
	}
	return out
}
