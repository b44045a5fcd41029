package engine

import (
	sci "evenstead/water"
)

// catch leads roof rain to the tanks, lets open water evaporate, and sends on
// what overflows.
func (r *runner) catch() {
	s, m := r.s, r.m
	rain := r.w.Rain[r.day]
	if rain > 0 {
		for i := range m.roofs {
			roof := &m.roofs[i]
			flush := roof.flush
			if s.dryDays == 0 || r.without.has(NoFirstFlush) {
				flush = 0
			}
			caught, flushed := sci.CatchAfterFlush(rain, roof.area, roof.coefficient*m.catchBy[roof.group], flush)
			s.level[roof.group] += caught
			if r.kept != nil {
				r.kept.since[roof.group].caught += caught / m.catchBy[roof.group]
			}
			s.led.flow(mWater, atSky, atTanks, caught)
			s.led.flow(mWater, atSky, atDeep, flushed)
		}
		s.dryDays = 0
	} else {
		s.dryDays++
	}
	for g := range m.groups {
		if leak := min(m.groups[g].leak, s.level[g]); leak > 0 {
			s.level[g] -= leak
			s.led.flow(mWater, atTanks, atDeep, leak)
		}
		if m.groups[g].openWater > 0 {
			lost := min(s.level[g], sci.OpenEvaporation(r.w.ET0[r.day], m.groups[g].openWater))
			s.level[g] -= lost
			s.led.flow(mWater, atTanks, atAir, lost)
		}
	}
	r.spill()
}

// spill sends what stands above each group's brim on to where it overflows. Each
// group is passed twice, so that one that fills another is seen whole.
func (r *runner) spill() {
	s, m := r.s, r.m
	for range 2 {
		for g := range m.groups {
			grp := &m.groups[g]
			over := s.level[g] - grp.holds
			if over <= 0 {
				continue
			}
			s.level[g] = grp.holds
			if r.kept != nil {
				r.kept.since[g].spilled += over
			}
			switch {
			case grp.spillGroup >= 0:
				s.level[grp.spillGroup] += over
			case grp.spillPlot >= 0:
				r.leadTo(grp.spillPlot, over)
				s.led.flow(mWater, atTanks, atSoil, over)
			default:
				s.led.flow(mWater, atTanks, atDeep, over)
			}
		}
	}
	for g := range m.groups { // a ring of overflows ends on the ground
		if over := s.level[g] - m.groups[g].holds; over > 0 {
			s.level[g] = m.groups[g].holds
			s.led.flow(mWater, atTanks, atDeep, over)
		}
	}
}

// Days of full use a group must hold before the household turns to its
// emergency amounts, where they are stated.
const ladderDays = 10

// draw meets the household's uses in their written order.
func (r *runner) draw(plan *dayPlan) {
	m := r.m
	for i := range m.uses {
		u := &m.uses[i]
		full := (u.perHead*plan.mouths + u.perDay) * m.useBy[u.group]
		ask := full
		if u.least > 0 && r.low(u.group, plan) {
			ask = min(full, u.least*plan.mouths)
		}
		got := r.take(u.group, ask)
		if r.kept != nil && ask == full { // an emergency amount tells nothing of what is usually drawn
			r.kept.since[u.group].used += got / m.useBy[u.group]
		}
		r.s.led.flow(mWater, atTanks, atHouse, got)
		if u.treated { // the emergency amount is enough to drink; below it is short
			r.treat(got)
			full = ask
		}
		r.need(u.need, full, got)
		r.usedWater(u, got)
	}
}

// low tells whether a group holds less than ladderDays of its uses.
func (r *runner) low(g int, plan *dayPlan) bool {
	grp := &r.m.groups[g]
	return r.s.level[g]-grp.dead < ladderDays*(grp.perHead*plan.mouths+grp.perDay)*r.m.useBy[g]
}

// take draws from a group above its dead water, and carries from the others by
// can when it runs out.
func (r *runner) take(g int, ask float64) float64 {
	if r.without.has(NoTankLimit) {
		r.s.led.flow(mWater, atSky, atTanks, ask)
		return ask
	}
	got := r.takeFrom(g, ask)
	for o := 0; got < ask && o < len(r.m.groups); o++ {
		if o == g {
			continue
		}
		more := r.takeFrom(o, ask-got)
		r.spend(more * hoursCan)
		got += more
	}
	return got + r.fromOutside(ask-got)
}

// fromOutside draws what the tanks lack from a well or the mains, as far as the
// day's supply goes.
func (r *runner) fromOutside(ask float64) float64 {
	if ask <= 0 || r.m.outside <= 0 {
		return 0
	}
	got := max(0, min(ask, r.m.outside-r.drawn))
	r.drawn += got
	r.s.led.flow(mWater, r.m.outsideAt, atTanks, got)
	return got
}

// takeFrom draws from one group, leaving its dead water.
func (r *runner) takeFrom(g int, ask float64) float64 {
	got := min(ask, max(0, r.s.level[g]-r.m.groups[g].dead))
	r.s.level[g] -= got
	if got < ask && r.kept != nil {
		r.kept.since[g].dry = true
	}
	return got
}

// treat makes water fit to drink: through the filter while it lasts, then by boiling.
func (r *runner) treat(litres float64) {
	s, t := r.s, &r.m.treat
	litres = max(0, litres-r.said.treated)
	filtered := min(litres, s.filterLeft)
	s.filterLeft -= filtered
	if t.boils && !t.free {
		r.boiled += (litres - filtered) * boilMJ
		r.heat += (litres - filtered) * boilMJ
	}
}

// boilMJ is the heat to bring a litre from 20 to 100 °C: 4.186 kJ a kelvin (computed).
const boilMJ = 0.3349

// usedWater sends used water on: to breath and urine, to greywater plots, down the drain.
func (r *runner) usedWater(u *use, got float64) {
	s, m := r.s, r.m
	if u.toSoil {
		r.toPlots(m.urineArea, got)
		return
	}
	if u.drunk {
		r.drunk += got // parted into breath and urine when the day's eating is done
		return
	}
	back := got * u.returned
	if u.greyPlot >= 0 && !r.without.has(NoGreywater) {
		r.leadTo(u.greyPlot, back)
		s.led.flow(mWater, atHouse, atSoil, back)
	} else {
		s.led.flow(mWater, atHouse, atDeep, back)
	}
	s.led.flow(mWater, atHouse, atAir, got-back)
}

// toPlots leads rinse and dilution water to the plots that urine goes to, by
// their area; with none it runs away.
func (r *runner) toPlots(area, litres float64) {
	if area == 0 {
		r.s.led.flow(mWater, atHouse, atDeep, litres)
		return
	}
	r.rinse += litres / area
	r.s.led.flow(mWater, atHouse, atSoil, litres)
}
