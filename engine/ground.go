package engine

import (
	"math"

	"evenstead/crop"
	"evenstead/fertility"
)

// Rates of the soil, at 15 °C a year (common practice): the slow store of humus,
// what was added in the last years, and litter lying on top.
const (
	humusRate   = 0.015
	organicRate = 0.5
	litterRate  = 1.0
)

// wet brings the day's water to the ground and lets it work: rain and led water in,
// percolation and leaching, release of nutrients. Plots don't touch each other.
func (r *runner) wet() {
	r.s.led.flow(mWater, atSky, atSoil, r.w.Rain[r.day]*r.m.ground)
	if r.afresh {
		r.muster()
		r.afresh = false
	}
	r.sow()
	r.soak()
	r.release(math.Exp2((r.mean()-15)/10) * visitDays / 365)
}

// dry takes the day's water from the ground: by plants and from bare ground.
func (r *runner) dry() {
	used := r.transpire() + r.evaporate()
	r.s.led.flow(mWater, atSoil, atAir, used)
	r.s.et0 += r.w.ET0[r.day]
}

// growAll carries the stands through the day in the order of plots, for they draw on
// tanks and hours: watering, growth, harvest and death.
func (r *runner) growAll() {
	r.pacings()
	for _, q := range r.here {
		t := &r.stood[q]
		if t.leads && t.thirsts {
			r.water(t.plot)
		}
		r.growOn(t)
	}
	if r.ended {
		r.thin()
	}
}

// A stood is a stand that is in the ground, with what most of its days ask for.
type stood struct {
	q, plot      int
	sizes, feeds int     // days of sizeDays and of feedDays on which it is sized up and fed
	pace         int     // of the model's paces; -1: timed by the calendar
	leads        bool    // the first of its plot
	thirsts      bool    // its plot is watered
	share, p     float64 // as of the planting
	kc           float64 // as last sized up
	taw          float64
	f1, f2       float64
	easy         float64 // mm of deficit that no crop feels
	t1, t2, area float64 // as of the plot
	heat, bolts  float64 // °C and h of daylight that it can't bear
	kills        float64 // °C below which frost may harm it
	sow, begins  int     // days of a perennial's season and harvest
	daily        float64 // share of the way that a day of it is
}

// muster lists the stands that are in the ground today, in the order of plots.
func (r *runner) muster() {
	m := r.m
	r.here, r.paced, r.sown = r.here[:0], r.paced[:0], 0
	clear(r.goes)
	for q := range m.plantings {
		if r.stands(q) {
			r.here = append(r.here, int32(q))
			r.enter(q)
		}
	}
	for r.sown < len(m.sowings) && m.plantings[m.sowings[r.sown]].sow <= r.day {
		r.sown++
	}
	for i := range m.plots {
		r.lead(i)
	}
}

// sow lists what is sown today.
func (r *runner) sow() {
	m := r.m
	for ; r.sown < len(m.sowings) && m.plantings[m.sowings[r.sown]].sow <= r.day; r.sown++ {
		q := m.sowings[r.sown]
		if !r.stands(q) {
			continue
		}
		at := len(r.here)
		r.here = append(r.here, int32(q))
		for ; at > 0 && int(r.here[at-1]) > q; at-- {
			r.here[at] = r.here[at-1]
		}
		r.here[at] = int32(q)
		r.enter(q)
		r.lead(m.plantings[q].plot)
	}
}

// enter readies a stand for the list.
func (r *runner) enter(q int) {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	p := &r.m.plots[g.plot]
	t := &r.stood[q]
	*t = stood{q: q, plot: g.plot, sizes: (sizeDays - q%sizeDays) % sizeDays, feeds: (feedDays - q%feedDays) % feedDays, pace: g.pace,
		thirsts: p.irrigated, share: g.share, p: g.p, kc: c.kc, taw: c.z.taw, f1: c.z.f1, f2: c.z.f2, easy: leastDepletion * c.z.taw,
		t1: p.t1, t2: p.t2, area: p.area, heat: math.Inf(1), bolts: math.Inf(1), kills: g.killG, begins: math.MaxInt}
	if !math.IsNaN(g.heatLimit) {
		t.heat = g.heatLimit
	}
	if g.bolts > 0 {
		t.bolts = g.bolts
	}
	if g.tree {
		t.sow, t.begins, t.daily = g.sow, g.begins, 1/float64(g.begins-g.sow)
	} else if !r.goes[g.pace] {
		r.goes[g.pace] = true
		r.paced = append(r.paced, g.pace)
	}
}

// thin takes the stands off the list that have ended.
func (r *runner) thin() {
	r.ended = false
	kept := 0
	for _, q := range r.here {
		if r.s.crop[q].done {
			r.lead(r.m.plantings[q].plot)
			continue
		}
		r.here[kept] = q
		kept++
	}
	r.here = r.here[:kept]
}

// lead finds the first stand of a plot and the ground that its stands leave bare.
func (r *runner) lead(i int) {
	p, bare, leads := &r.m.plots[i], 1.0, true
	for q := p.first; q < p.last; q++ {
		if r.stands(q) {
			r.stood[q].leads, leads = leads, false
			bare -= r.stood[q].share
		}
	}
	r.bare[i] = max(0, bare) * p.bareKc
}

// soak brings rain and led water into the plots.
func (r *runner) soak() {
	rain, rinse := r.w.Rain[r.day], r.rinse
	soils, top, in := r.m.soils, r.s.top, r.in
	for _, i := range r.awake {
		p := &soils[i]
		mm := rain + in[i]*p.perM2 + rinse*p.rinsed
		if mm <= top[i] {
			top[i] -= mm
			continue
		}
		if drain := r.pour(i, mm); drain > 0 {
			r.drain(i, drain)
		}
	}
}

// drain takes what a plot can't hold below its roots, with its share of nitrate.
func (r *runner) drain(i int, mm float64) {
	s, p := r.s, &r.m.soils[i]
	s.led.flow(mWater, atSoil, atDeep, mm*p.area)
	if mm != r.drains || p.held != r.held { // many plots drain alike
		r.drains, r.held, r.leaches = mm, p.held, fertility.Leached(1, mm, p.held)
	}
	lost := s.mineral[i].n * r.leaches
	s.mineral[i].n -= lost
	s.led.flow(mN, atSoil, atDeep, lost)
	r.bookDrained(i, lost, mm, p.held)
}

// pour fills the upper layer, then the lower, and returns the rest, mm.
func (r *runner) pour(i int, mm float64) float64 {
	s := r.s
	into := lesser(mm, s.top[i])
	s.top[i] -= into
	mm -= into
	into = lesser(mm, s.sub[i])
	s.sub[i] -= into
	return mm - into
}

// release lets organic matter give its nutrients and waste away over a part of a
// year at 15 °C, on the plots whose turn it is.
func (r *runner) release(year float64) {
	s, gone := r.s, 0.0
	free, rots, humus := min(1, organicRate*year), min(1, litterRate*year), humusRate*year
	for i := (visitDays - r.day%visitDays) % visitDays; i < len(s.litter); i += visitDays {
		slow := r.m.soils[i].humusN * humus
		freed := s.organic[i].take(free)
		freed.n += slow
		s.humus[i] -= slow
		s.mineral[i] = s.mineral[i].add(freed)
		lost := s.litter[i] * rots
		s.litter[i] -= lost
		gone += lost
	}
	s.led.flow(mMass, atSoil, atAir, gone)
}

// sizeDays is how often a stand's leaves and roots are sized up.
const sizeDays = 7

// sizeUp finds a stand's leaves and roots for its part of the season.
func (r *runner) sizeUp(t *stood) {
	g, c := &r.m.plantings[t.q], &r.s.crop[t.q]
	c.drank(r.s.et0)
	season := g.season(c)
	c.kc = crop.Kc(season, g.kcIni, g.kcMid, g.kcEnd, g.shareIni, g.shareDev, g.shareMid)
	c.z = r.roots(&r.m.plots[t.plot], g, season)
	c.stage = g.stage(season)
	t.kc, t.taw, t.f1, t.f2, t.easy = c.kc, c.z.taw, c.z.f1, c.z.f2, leastDepletion*c.z.taw
}

// drank books what a stand wanted since it was last booked, by the sum of
// reference evaporation until now.
func (c *cropState) drank(et0 float64) {
	c.etm[c.stage] += c.kc * (et0 - c.since)
	c.since = et0
}

// transpire takes the day's water from the ground for each stand, and returns it, L.
func (r *runner) transpire() float64 {
	et0, today := r.w.ET0[r.day], r.day%sizeDays
	used, tops, subs := 0.0, r.s.top, r.s.sub
	clear(r.thirst)
	stood := r.stood
	for _, q := range r.here {
		t := &stood[q]
		if t.sizes == today || t.taw == 0 {
			r.sizeUp(t)
		}
		top, sub := tops[t.plot], subs[t.plot]
		etm := t.kc * et0
		if dr := lesser(t.taw, t.f1*top+t.f2*sub); dr > t.easy {
			etm -= r.lacks(t, dr, etm)
		}
		a1, a2 := t.f1*(t.t1-top), t.f2*(t.t2-sub) // what each layer holds for the roots
		there := a1 + a2
		if there <= 0 {
			continue
		}
		mm := lesser(etm*t.share, there)
		part := mm / there
		tops[t.plot] = lesser(t.t1, top+a1*part)
		subs[t.plot] = lesser(t.t2, sub+a2*part)
		used += mm * t.area
	}
	return used
}

// lacks is what a stand can't draw today of what it wants where its roots lack dr,
// all mm; where that is more than it bears, a watered plot is thirsty.
func (r *runner) lacks(t *stood, dr, etm float64) float64 {
	raw := crop.AdjustDepletion(t.p, etm) * t.taw
	if dr <= raw {
		return 0
	}
	if t.thirsts {
		r.thirst[t.plot] = greater(r.thirst[t.plot], dr)
	}
	if r.without.has(NoDryStress) {
		return 0
	}
	c := &r.s.crop[t.q]
	lack := (1 - crop.Stress(dr, t.taw, raw)) * etm
	c.lack[c.stage] += lack
	return lack
}

// evaporate takes the day's water from the upper layer of bare ground, and returns
// it, L: the drier the less.
func (r *runner) evaporate() float64 {
	et0, used := r.w.ET0[r.day], 0.0
	soils, top, bare := r.m.soils, r.s.top, r.bare
	for _, i := range r.awake {
		p, dry := &soils[i], top[i]
		mm := lesser(bare[i]*et0*(1-dry*p.perT1), p.t1-dry)
		top[i] = dry + mm
		used += mm * p.area
	}
	return used
}

// leastRoots is the depth of a young plant's roots, m (FAO-56 annex 8, from memory: 0.15 to 0.30).
const leastRoots = 0.15

// leastDepletion is the least share of available water that a crop may use
// before it feels it (FAO-56 p. 163: p from 0.1), so below it nothing is reckoned.
const leastDepletion = 0.1

// reach is what a stand's roots find: available water, mm, and the share of each
// layer they fill.
type reach struct{ taw, f1, f2 float64 }

func (r *runner) roots(p *plot, g *planting, season float64) reach {
	depth := g.roots
	if !g.tree {
		depth = crop.RootDepth(season/(g.shareIni+g.shareDev), min(leastRoots, g.roots), g.roots)
	}
	depth = min(depth, p.deepM)
	z := reach{f1: min(1, depth/upperM)}
	if p.deepM > upperM {
		z.f2 = max(0, (depth-upperM)/(p.deepM-upperM))
	}
	z.taw = z.f1*p.t1 + z.f2*p.t2
	return z
}

// water gives a thirsty irrigated plot what its roots' zone lacks, as far as
// tank, reserve and hours go.
func (r *runner) water(i int) {
	if r.thirst[i] > 0 && !r.without.has(NoIrrigation) && !r.quiet(r.m.plots[i].watered) {
		r.irrigate(i, r.thirst[i]*r.m.plots[i].area)
	}
}

func (r *runner) irrigate(i int, litres float64) {
	m, s := r.m, r.s
	p := &m.plots[i]
	grp := &m.groups[p.group]
	there := min(litres, max(0, s.level[p.group]-max(grp.dead, grp.reserve)))
	if r.without.has(NoTankLimit) {
		there = litres
	}
	got := there * r.spend(there*p.litreHours) // no one carries what is not there
	if r.without.has(NoTankLimit) {
		s.led.flow(mWater, atSky, atTanks, got)
	} else {
		s.level[p.group] -= got
	}
	s.led.flow(mWater, atTanks, atSoil, got)
	if r.poured != nil {
		r.poured[p.group] += got
	}
	if over := r.pour(i, got/p.area); over > 0 {
		s.led.flow(mWater, atSoil, atDeep, over*p.area)
	}
	// What stays thirsty is asked for again tomorrow: only the day's own thirst counts.
	r.need(needBeds, got+min(litres-got, r.w.ET0[r.day]*p.area), got)
}

// stands tells whether a stand is in the ground and alive today.
func (r *runner) stands(q int) bool {
	return r.day >= r.m.plantings[q].sow && !r.s.crop[q].done
}

// stages of growth that answer differently to want of water (FAO 33): vegetative,
// flowering, the forming of yield, ripening.
const stages = 4

// flowers is the share of mid-season that flowering takes (common practice).
const flowers = 0.4

// stage is the stage of growth at a share of the season.
func (g *planting) stage(season float64) int {
	grown := g.shareIni + g.shareDev
	switch {
	case season < grown:
		return 0
	case season < grown+flowers*g.shareMid && (g.crop == nil || g.crop.KyStage[1] > 0):
		return 1
	case season < grown+g.shareMid:
		return 2
	}
	return 3
}

// season is the share of a stand's whole season behind it.
func (g *planting) season(c *cropState) float64 {
	return min(1, c.frac*g.toFirst+c.picked*(1-g.toFirst))
}
