package engine

import "evenstead/day"

// NPK is nitrogen, phosphorus and potassium.
type NPK struct{ N, P, K float64 }

func shown(a npk) NPK { return NPK{a.n, a.p, a.k} }

// PlotNow is a bed or a stand of trees this morning.
type PlotNow struct {
	Name         string
	Area         float64 // m2
	Tree         bool
	Irrigated    bool
	From         string  // tank group it is watered from; "" when it is not
	Holds, Water float64 // mm available in the root zone: when full, and now
	Thirst       float64 // L that its roots' zone lacks where a stand is thirsty; 0: none is
	Mineral      NPK     // g/m2 free in the ground
	Asks         NPK     // g/m2 that the stands still ask of it
	Open         bool    // urine and digestate may be given: something grows and no harvest is within a month
	DryOn        day.Day // when a stand goes thirsty if no rain falls; 0: not within DryAhead days; from Past.Year alone
	Stands       []StandNow
}

// StandNow is a crop that stands.
type StandNow struct {
	Crop, Name string
	Perennial  bool
	Area       float64 // m2
	Sown       day.Day // a perennial's: when its season began
	Season     float64 // share of its season behind it
	Toward     float64 // share of the way to the first harvest; 1: it bears
	First      day.Day // first picking expected by the usual year, or begun; 0 for annuals but from Past.Year
	Picked     float64 // share of the harvest ripened so far
	Told       float64 // kg that the book says were picked
	Likely     float64 // kg of its whole harvest, in a usual year on this place
	Depth      float64 // mm its roots can hold, Lacks of it missing; thirsty from Raw on
	Lacks, Raw float64
	Kills      float64 // °C that kills it in growth
	Cause      string  // greatest loss so far; "" when there is none
}

// HiveNow is a number of colonies alike.
type HiveNow struct {
	Count, Honey float64  // Honey: kg a year, all together, in a usual year
	Flow         [12]bool // months of nectar flow, January first
}

// FlockNow is a number of birds alike.
type FlockNow struct {
	Kind  string
	Count float64
	Eggs  float64 // a day, all together, at this length of day
	Feed  float64 // kg a day, all together
	Run   string  // plot their droppings fall on; "": to compost
}

// PatchNow is a wild food.
type PatchNow struct {
	Food, Name string
	From, To   day.Day // the season now, or the next
	Now        bool
	Most       float64 // kg a season
	TripHours  float64
}

func (v *viewer) plots() []PlotNow {
	m := v.r.m
	out := make([]PlotNow, len(m.plots))
	for i := range m.plots {
		out[i] = v.plot(i)
	}
	return out
}

func (v *viewer) plot(i int) PlotNow {
	m, s := v.r.m, v.r.s
	p := &m.plots[i]
	out := PlotNow{Name: p.name, Area: p.area, Tree: p.tree, Irrigated: p.irrigated, Holds: p.t1 + p.t2,
		Water: p.t1 + p.t2 - s.top[i] - s.sub[i], Mineral: shown(s.mineral[i].times(1000 / p.area)), Open: v.r.open(i, ofUrine)}
	if p.irrigated {
		out.From = m.groups[p.group].name
	}
	asks, thirst := npk{}, 0.0
	for q := p.first; q < p.last; q++ {
		if !v.r.stands(q) {
			continue
		}
		st := v.stand(q)
		if st.Lacks > st.Raw {
			thirst = max(thirst, st.Lacks)
		}
		asks = asks.add(v.still(q))
		out.Stands = append(out.Stands, st)
	}
	if p.irrigated {
		out.Thirst = thirst * p.area
	}
	out.Asks = shown(asks.times(1000 / p.area))
	return out
}

// still is what a stand will yet take from the ground, kg.
func (v *viewer) still(q int) npk {
	g, c := &v.r.m.plantings[q], &v.r.s.crop[q]
	left := g.asks.sub(c.got).floor()
	left.n *= 1 - g.fixed
	return left
}

func (v *viewer) stand(q int) StandNow {
	m := v.r.m
	g, c := &m.plantings[q], &v.r.s.crop[q]
	p := &m.plots[g.plot]
	out := StandNow{Crop: g.crop.ID, Name: g.crop.Name, Perennial: g.tree, Area: g.area, Sown: m.start + day.Day(g.sow), Season: g.season(c),
		Toward: c.frac, Picked: c.picked, Told: c.told, Likely: g.yield * m.place(q), Kills: g.killG, Cause: causeNames[c.cause]}
	if g.tree {
		out.First = m.start + day.Day(g.begins)
	}
	z := v.r.roots(p, g, out.Season)
	out.Depth = z.taw
	out.Lacks = min(z.taw, z.f1*v.r.s.top[g.plot]+z.f2*v.r.s.sub[g.plot])
	out.Raw = g.p * z.taw
	return out
}

func (v *viewer) hives() []HiveNow {
	var out []HiveNow
	for i := range v.r.m.hives {
		h := &v.r.m.hives[i]
		out = append(out, HiveNow{h.count, h.count * h.perYear, h.flows})
	}
	return out
}

func (v *viewer) flocks() []FlockNow {
	var out []FlockNow
	for i := range v.r.m.flocks {
		f := &v.r.m.flocks[i]
		kg := f.count * f.eggs / 365 * f.kg * max(0.2, 1+0.12*(v.r.m.daylight[v.r.day]-12)) // as hens lay in a day of the run
		kg = min(kg, f.feedHas.times(f.feed).most(f.eggHas))
		n := FlockNow{Kind: v.past.Stead.Flocks[i].Kind, Count: f.count, Eggs: kg / f.kg, Feed: f.feed}
		if f.run >= 0 {
			n.Run = v.r.m.plots[f.run].name
		}
		out = append(out, n)
	}
	return out
}

func (v *viewer) patches() []PatchNow {
	var out []PatchNow
	for i := range v.r.m.patches {
		p := &v.r.m.patches[i]
		kd := &v.r.m.kinds[p.kind]
		now := PatchNow{Food: v.past.Stead.Forage[i].Food, Name: kd.name, Most: p.most, TripHours: p.tripH}
		from, to := p.next(v.r.day)
		now.From, now.To = v.r.m.start+day.Day(from), v.r.m.start+day.Day(to)
		now.Now = now.From <= v.past.Today
		out = append(out, now)
	}
	return out
}

// next is the season of a patch that a day lies in, or the one after it; beyond
// the run the last one comes again.
func (p *patch) next(at int) (from, to int) {
	for _, s := range p.seasons {
		from, to = s[0], s[1]
		if at <= to {
			return from, to
		}
	}
	for at > to {
		from, to = from+365, to+365
	}
	return from, to
}
