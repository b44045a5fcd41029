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

// soak brings rain and led water into the plots.
func (r *runner) soak() {
	for _, i := range r.led {
		r.pourIn(i, r.in[i]*r.m.soils[i].perM2)
	}
	rain, rinse, plots := r.w.Rain[r.day], r.rinse, r.awake
	if rain == 0 {
		if rinse == 0 {
			return
		}
		plots = r.m.rinsed
	}
	top := r.s.top
	soils := r.m.soils[:len(top)]
	for _, i := range plots {
		if uint(i) >= uint(len(top)) {
			break
		}
		mm := rain + rinse*soils[i].rinsed
		if mm <= top[i] {
			top[i] -= mm
			continue
		}
		r.pourIn(i, mm)
	}
}

// pourIn pours water on a plot; what it can't hold drains.
func (r *runner) pourIn(i int, mm float64) {
	if drain := r.pour(i, mm); drain > 0 {
		r.drain(i, drain)
	}
}

// leadTo leads water to a plot.
func (r *runner) leadTo(plot int, litres float64) {
	if r.in[plot] == 0 {
		r.led = append(r.led, plot)
	}
	r.in[plot] += litres
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
	soils := r.m.soils
	mineral, organic, store, litter := s.mineral[:len(soils)], s.organic[:len(soils)], s.humus[:len(soils)], s.litter[:len(soils)]
	for i := (visitDays - r.day%visitDays) % visitDays; i < len(soils); i += visitDays {
		slow := soils[i].humusN * humus
		store[i] -= slow
		o, m := &organic[i], &mineral[i]
		n, p, k := o.n*free, o.p*free, o.k*free
		o.n, o.p, o.k = o.n-n, o.p-p, o.k-k
		m.n, m.p, m.k = m.n+(n+slow), m.p+p, m.k+k
		lost := litter[i] * rots
		litter[i] -= lost
		gone += lost
	}
	s.led.flow(mMass, atSoil, atAir, gone)
}

// sizeDays is how often a stand's leaves and roots are sized up.
const sizeDays = 7

// sizeUp finds a stand's leaves and roots for its part of the season.
func (r *runner) sizeUp(t *stood) {
	g, c := &r.m.plantings[t.q], &r.s.crop[t.q]
	r.catchUp(t, g, c, r.day-1)
	c.drank(r.s.et0)
	season := g.season(c)
	c.kc = crop.Kc(season, g.kcIni, g.kcMid, g.kcEnd, g.shareIni, g.shareDev, g.shareMid)
	c.z = r.roots(&r.m.plots[t.plot], g, season)
	c.stage = g.stage(season)
	t.sizes = r.day + sizeDays - (r.day+t.q)%sizeDays
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
	et0 := r.w.ET0[r.day]
	used, tops := 0.0, r.s.top
	subs := r.s.sub[:len(tops)]
	clear(r.thirst)
	stood := r.stood
	for _, q := range r.here {
		t := &stood[q]
		i := t.plot
		if uint(i) >= uint(len(tops)) {
			break
		}
		if t.sizes <= r.day {
			r.sizeUp(t)
		}
		top, sub := tops[i], subs[i]
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
		tops[i] = lesser(t.t1, top+a1*part)
		subs[i] = lesser(t.t2, sub+a2*part)
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
		r.calls.set(int(r.leads[t.plot]))
	}
	if r.without.has(NoDryStress) {
		return 0
	}
	c := &r.s.crop[t.q]
	lack := (1 - crop.Stress(dr, t.taw, raw)) * etm
	c.lack[c.stage] += lack
	return lack
}

// A bareGround is a plot with ground that its stands leave bare.
type bareGround struct {
	plot     int
	rate     float64 // share of what its upper layer holds that goes by mm of reference evaporation
	t1, area float64 // as of the plot
}

// evaporate takes the day's water from the upper layer of bare ground, and returns
// it, L: the drier the less.
func (r *runner) evaporate() float64 {
	if r.rebare {
		r.listBare()
	}
	et0, used, top := r.w.ET0[r.day], 0.0, r.s.top
	for n := range r.bares {
		b := &r.bares[n]
		i := b.plot
		if uint(i) >= uint(len(top)) {
			break
		}
		mm := (b.t1 - top[i]) * lesser(1, b.rate*et0)
		top[i] += mm
		used += mm * b.area
	}
	return used
}

func (r *runner) listBare() {
	r.rebare, r.bares = false, r.bares[:0]
	for _, i := range r.awake {
		if p := &r.m.plots[i]; r.bare[i] > 0 {
			r.bares = append(r.bares, bareGround{i, r.bare[i] * p.bareKc / p.t1, p.t1, p.area})
		}
	}
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

// water gives a thirsty irrigated plot what its roots' zone lacks, as far as tank,
// reserve and hours go, when it comes to the first of its stands.
func (r *runner) water(q int) {
	i := r.stood[q].plot
	if int(r.leads[i]) == q && r.thirst[i] > 0 && !r.without.has(NoIrrigation) && !r.quiet(r.m.plots[i].watered) {
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
