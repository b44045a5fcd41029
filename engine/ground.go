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

// ground carries every plot through the day: rain and led water in, percolation
// and leaching, use by plants and bare ground, watering, release of nutrients,
// growth, harvest and death.
func (r *runner) ground() {
	warm := math.Exp2((r.mean() - 15) / 10)
	r.s.led.flow(mWater, atSky, atSoil, r.w.Rain[r.day]*r.m.ground)
	r.vapour = 0
	for i := range r.m.plots {
		r.wet(i)
		if (r.day+i)%visitDays == 0 {
			r.release(i, warm*visitDays/365)
		}
		r.list(i)
		r.transpire(i)
		r.water(i)
		r.grow()
	}
	r.s.led.flow(mWater, atSoil, atAir, r.vapour)
}

// wet brings rain and led water into a plot; what it can't hold drains with
// its share of nitrate.
func (r *runner) wet(i int) {
	s, p := r.s, &r.m.plots[i]
	mm := r.w.Rain[r.day]
	if led := r.in[i]; led > 0 {
		mm += led / p.area
	}
	if mm == 0 {
		return
	}
	drain := r.pour(i, mm)
	if drain <= 0 {
		return
	}
	s.led.flow(mWater, atSoil, atDeep, drain*p.area)
	lost := fertility.Leached(s.mineral[i].n, drain, p.held)
	s.mineral[i].n -= lost
	s.led.flow(mN, atSoil, atDeep, lost)
	r.bookDrained(i, lost, drain, p.held)
}

// pour fills the upper layer, then the lower, and returns the rest, mm.
func (r *runner) pour(i int, mm float64) float64 {
	s := r.s
	into := min(mm, s.top[i])
	s.top[i] -= into
	mm -= into
	into = min(mm, s.sub[i])
	s.sub[i] -= into
	return mm - into
}

// release lets organic matter give its nutrients and waste away over a part of a
// year at 15 °C.
func (r *runner) release(i int, year float64) {
	s := r.s
	free := s.organic[i].take(min(1, organicRate*year))
	s.mineral[i] = s.mineral[i].add(free)
	gone := s.litter[i] * min(1, litterRate*year)
	s.litter[i] -= gone
	s.led.flow(mMass, atSoil, atAir, gone)
	humus := r.m.plots[i].humusN * humusRate * year
	s.humus[i] -= humus
	s.mineral[i].n += humus
}

// list notes the stands that are in a plot's ground today.
func (r *runner) list(i int) {
	p := &r.m.plots[i]
	r.here = r.here[:0]
	for q := p.first; q < p.last; q++ {
		if r.stands(q) {
			r.here = append(r.here, q)
		}
	}
}

// sizeDays is how often a stand's leaves and roots are sized up.
const sizeDays = 7

// sizeUp finds a stand's leaves and roots for its part of the season.
func (r *runner) sizeUp(p *plot, g *planting, c *cropState) {
	season := g.season(c)
	c.kc = crop.Kc(season, g.kcIni, g.kcMid, g.kcEnd, g.shareIni, g.shareDev, g.shareMid)
	c.z = r.roots(p, g, season)
	c.stage = g.stage(season)
}

// transpire takes the day's water from the plot for each stand and for bare ground.
func (r *runner) transpire(i int) {
	s, m := r.s, r.m
	p := &m.plots[i]
	et0 := r.w.ET0[r.day]
	bare, used := 1.0, 0.0
	r.thirst = 0
	for _, q := range r.here {
		g, c := &m.plantings[q], &s.crop[q]
		bare -= g.share
		if (r.day+q)%sizeDays == 0 || c.z.taw == 0 {
			r.sizeUp(p, g, c)
		}
		etm := c.kc * et0
		z := c.z
		z.dr = min(z.taw, z.f1*s.top[i]+z.f2*s.sub[i])
		ks := 1.0
		if z.dr > leastDepletion*z.taw {
			raw := crop.AdjustDepletion(g.p, etm) * z.taw
			if !r.without.has(NoDryStress) {
				ks = crop.Stress(z.dr, z.taw, raw)
			}
			if p.irrigated && z.dr > raw {
				r.thirst = max(r.thirst, z.dr)
			}
		}
		c.etm[c.stage] += etm
		c.eta[c.stage] += ks * etm
		used += r.suck(i, z, ks*etm*g.share)
	}
	if bare > 0 {
		dry := 1 - s.top[i]*p.perT1
		used += r.suckTop(i, bare*p.bareKc*et0*dry)
	}
	r.vapour += used * p.area
}

// leastRoots is the depth of a young plant's roots, m (FAO-56 annex 8, from memory: 0.15 to 0.30).
const leastRoots = 0.15

// leastDepletion is the least share of available water that a crop may use
// before it feels it (FAO-56 p. 163: p from 0.1), so below it nothing is reckoned.
const leastDepletion = 0.1

// reach is what a stand's roots find: available water and deficit, mm, and the
// share of each layer they fill.
type reach struct{ taw, dr, f1, f2 float64 }

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

// suck draws water from the layers in proportion to what each holds for the
// roots, and returns what was drawn, mm over the plot.
func (r *runner) suck(i int, z reach, mm float64) float64 {
	s, p := r.s, &r.m.plots[i]
	a1 := z.f1 * (p.t1 - s.top[i])
	a2 := z.f2 * (p.t2 - s.sub[i])
	if a1+a2 <= 0 {
		return 0
	}
	mm = min(mm, a1+a2)
	part := mm / (a1 + a2)
	s.top[i] = min(p.t1, s.top[i]+a1*part)
	s.sub[i] = min(p.t2, s.sub[i]+a2*part)
	return mm
}

func (r *runner) suckTop(i int, mm float64) float64 {
	mm = min(mm, r.m.plots[i].t1-r.s.top[i])
	r.s.top[i] += mm
	return mm
}

// water gives a thirsty irrigated plot what its roots' zone lacks, as far as
// tank, reserve and hours go.
func (r *runner) water(i int) {
	if r.thirst > 0 && !r.without.has(NoIrrigation) && !r.quiet(r.m.plots[i].watered) {
		r.irrigate(i, r.thirst*r.m.plots[i].area)
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
