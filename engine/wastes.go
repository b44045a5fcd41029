package engine

import (
	"evenstead/day"
	"evenstead/fertility"
)

// Losses and rates of what comes back (fertility sheet).
const (
	ammoniaUrine = 0.08              // of urine nitrogen, watered in (from memory: 0 to 10 %)
	compostLossN = 0.30              // of compost nitrogen over its life, a covered heap (common practice)
	ripens       = visitDays / 120.0 // at each look
	urineAWeek   = 0.5               // L/m2 a week at most
)

// returnWastes carries what people excrete and what rots through the day.
func (r *runner) returnWastes(plan *dayPlan) {
	r.excrete(plan)
	r.rot()
	r.coverIn(plan)
}

// excrete sends what was eaten on: adults in balance excrete the nutrients they
// eat (Jonsson et al. 2004, from memory); mass beyond faeces is breathed out.
func (r *runner) excrete(plan *dayPlan) {
	t, s := r.m.toilet, r.s
	has, kg := r.eaten.has.add(r.said.has), r.eaten.kg+r.said.kg
	if t == nil {
		s.led.npk(atHouse, atTrade, has)
		s.led.flow(mMass, atHouse, atAir, kg)
		s.led.flow(mWater, atHouse, atAir, r.drunk)
		return
	}
	urine := r.passWater(t, plan)
	faeces := min(kg, t.faecesKg*plan.mouths)
	s.led.flow(mMass, atHouse, atAir, kg-faeces)
	inUrine := npk{}
	if t.apart {
		inUrine = npk{has.n * t.urineShare.n, has.p * t.urineShare.p, has.k * t.urineShare.k}
		s.urineHas = s.urineHas.add(inUrine)
		s.led.npk(atHouse, atToilet, inUrine)
		r.fullCans()
	}
	if t.apart {
		urine = 0
	}
	r.drum(faeces, urine, has.sub(inUrine), plan)
}

// passWater parts what was drunk into breath and urine, L; urine goes to the cans
// when it is kept apart. What drink does not give comes from the water in food,
// which the larder does not count.
func (r *runner) passWater(t *toiletPlan, plan *dayPlan) float64 {
	s := r.s
	urine := t.urineL * plan.mouths
	s.led.flow(mWater, atTrade, atHouse, max(0, urine-r.drunk))
	s.led.flow(mWater, atHouse, atAir, max(0, r.drunk-urine))
	if t.apart {
		s.urine += urine
		s.led.flow(mWater, atHouse, atToilet, urine)
	} else {
		s.led.flow(mWater, atHouse, atAir, urine) // it dries off in the drum
	}
	return urine
}

// fullCans pours what the cans can't hold on the compost.
func (r *runner) fullCans() {
	t, s := r.m.toilet, r.s
	over := s.urine - t.cans
	if over <= 0 {
		return
	}
	has := s.urineHas.take(over / s.urine)
	s.urine = t.cans
	s.led.flow(mWater, atToilet, atAir, over)
	r.toCompost(atToilet, 0, has)
}

// drum adds faeces, urine that is not kept apart, and cover to the drum in use,
// and shuts it when it is full.
func (r *runner) drum(faeces, urine float64, has npk, plan *dayPlan) {
	t, s := r.m.toilet, r.s
	ask := t.coverUse * plan.mouths
	used := min(ask, s.cover)
	r.need(r.m.after(needCover), ask, used)
	s.cover -= used
	if s.filling < 0 {
		r.need(r.m.after(needDrums), 1, 0)
		r.carriedOff(faeces, has, used)
		return
	}
	r.need(r.m.after(needDrums), 1, 1)
	d := &s.drums[s.filling]
	d.kg += faeces + used*t.coverKgL
	d.has = d.has.add(has).add(t.coverHas.times(used * t.coverKgL))
	s.led.flow(mMass, atHouse, atToilet, faeces)
	s.led.npk(atHouse, atToilet, has)
	d.litres += faeces + urine + used*coverSettles
	if d.litres >= t.drum {
		d.closed = r.day
		r.nextDrum()
	}
}

// coverSettles is the share of cover's loose volume left in the drum: drying and
// settling take about half (fertility sheet A4, worked from 100 L a person and half year).
const coverSettles = 0.5

// carriedOff sends excreta away by a licensed hauler when no drum is free.
func (r *runner) carriedOff(faeces float64, has npk, cover float64) {
	t, s := r.m.toilet, r.s
	s.led.flow(mMass, atHouse, atTrade, faeces)
	s.led.npk(atHouse, atTrade, has)
	s.led.flow(mMass, atToilet, atTrade, cover*t.coverKgL)
	s.led.npk(atToilet, atTrade, t.coverHas.times(cover*t.coverKgL))
}

// nextDrum takes an empty drum into use.
func (r *runner) nextDrum() {
	s := r.s
	s.filling = -1
	for i := range s.drums {
		if d := &s.drums[i]; d.closed == notClosed && d.litres < r.m.toilet.drum {
			s.filling = i
			return
		}
	}
}

// rot lets drums and compost waste away, and opens drums whose time has come, at
// each look.
func (r *runner) rot() {
	s := r.s
	if r.day%visitDays != 0 {
		return
	}
	rate := fertility.CompostRate(r.mean()) * visitDays
	for i := range s.drums {
		d := &s.drums[i]
		r.decay(&d.kg, &d.has.n, rate, atToilet)
		if r.m.toilet != nil && d.closed != notClosed && r.cured(d) && !r.quiet(r.m.toilet.drumTold) {
			r.openDrum(d)
		}
	}
	r.decay(&s.freshKg, &s.freshHas.n, rate, atCompost)
	r.decay(&s.ripeKg, &s.ripeHas.n, rate/3, atCompost)
	turned := r.turned()
	part := s.freshHas.take(turned)
	s.ripeHas = s.ripeHas.add(part)
	s.ripeKg += s.freshKg * turned
	s.freshKg -= s.freshKg * turned
}

// turned is the share of what is fresh on the heaps that ripens from look to look:
// by itself, and by worms as far as they eat.
func (r *runner) turned() float64 {
	w := r.m.compost.worms
	if w == 0 || r.s.freshKg <= 0 {
		return ripens
	}
	return min(1, ripens+fertility.WormFeed(w, r.mean())*visitDays/r.s.freshKg)
}

// cured tells whether a shut drum's years are over, by the calendar as its gate
// counts them.
func (r *runner) cured(d *drumState) bool {
	years := r.m.toilet.cureYears
	return r.day >= d.closed+int(years*365) && r.m.start+day.Day(r.day) >= r.m.toilet.opens(r.m.start+day.Day(d.closed))
}

// opens is the first day on which a drum closed on a day may be opened.
func (t *toiletPlan) opens(closed day.Day) day.Day { return fertility.DrumReady(closed, t.cureYears) }

// decay lets mass go to the air, and nitrogen with it as ammonia.
func (r *runner) decay(kg, n *float64, rate float64, at node) {
	gone := *kg * min(1, rate)
	lost := *n * min(1, rate) * compostLossN
	*kg -= gone
	*n -= lost
	r.s.led.flow(mMass, at, atAir, gone)
	r.s.led.flow(mN, at, atAir, lost)
}

// openDrum digs a cured drum in at the trees, never at food eaten raw.
func (r *runner) openDrum(d *drumState) {
	s, m := r.s, r.m
	to := m.toilet.drumTo
	area := m.area(to)
	if area == 0 || r.without.has(NoToilet) {
		s.led.flow(mMass, atToilet, atTrade, d.kg)
		s.led.npk(atToilet, atTrade, d.has)
	} else {
		s.led.flow(mMass, atToilet, atSoil, d.kg)
		s.led.npk(atToilet, atSoil, d.has)
		for _, p := range to {
			part := m.plots[p].area / area
			s.litter[p] += d.kg * part
			r.manure(p, byDrum, d.has.times(part), faecesReady)
		}
	}
	*d = drumState{closed: notClosed}
	if s.filling < 0 {
		r.nextDrum()
	}
}

// Shares of nitrogen free in the first days: the rest is released with organic
// matter over years (household compost 10 %, faeces compost 10 to 20 %, common practice).
const (
	faecesReady  = 0.10
	compostReady = 0.05
)

// coverIn gathers cover material in its months.
func (r *runner) coverIn(plan *dayPlan) {
	t, s := r.m.toilet, r.s
	if t == nil || !t.coverMonths[plan.month] {
		return
	}
	litres := t.coverMade / t.coverDays
	s.cover += litres
	s.led.flow(mMass, atWild, atToilet, litres*t.coverKgL)
	s.led.npk(atWild, atToilet, t.coverHas.times(litres*t.coverKgL))
}

func (r *runner) toCompost(from node, kg float64, has npk) {
	s := r.s
	s.freshKg += kg
	s.freshHas = s.freshHas.add(has)
	s.led.flow(mMass, from, atCompost, kg)
	s.led.npk(from, atCompost, has)
}

// scrapsToCompost clears the pail: what the digester does not take goes on the
// heap, two days' worth kept back for it.
func (r *runner) scrapsToCompost() {
	s := r.s
	keep := 0.0
	if r.m.dig != nil && !r.without.has(NoDigester) {
		keep = 2 * r.m.dig.feed
	}
	over := s.scrapKg - keep
	if over <= 0 {
		return
	}
	has := s.scrapHas.take(over / s.scrapKg)
	s.scrapKg = keep
	r.toCompost(atScraps, over, has)
}

// spread gives urine once a week and ripe compost at the turn of the seasons.
func (r *runner) spread(plan *dayPlan) {
	r.turnUrine()
	if plan.wd == 3 {
		r.spreadUrine()
	}
	if r.day%30 == 0 && r.m.spreads[plan.month] {
		r.spreadCompost()
	}
}

// spreadUrine waters diluted urine in on plots that grow, where its gate leaves
// them and the season's amount is not yet had, each by its area.
func (r *runner) spreadUrine() {
	t, s := r.m.toilet, r.s
	if t == nil || s.urine <= 0 || r.without.has(NoUrine) || r.quiet(t.urineTold) {
		return
	}
	room := 0.0
	r.openArea(t.urineTo, ofUrine)
	for _, p := range r.ready {
		room += min(r.m.plots[p].area*urineAWeek, r.urineRoom(p))
	}
	litres := min(s.urine, room)
	if litres <= 0 {
		return
	}
	has := s.urineHas.take(litres / s.urine)
	s.urine -= litres
	lost := has.n * ammoniaUrine
	has.n -= lost
	s.led.flow(mN, atToilet, atAir, lost)
	s.led.npk(atToilet, atSoil, has)
	s.led.flow(mWater, atToilet, atSoil, litres)
	for _, p := range r.ready {
		part := min(r.m.plots[p].area*urineAWeek, r.urineRoom(p)) / room
		s.poured[p][0] += litres * part
		r.pourLater(p, litres*part)
		s.mineral[p] = s.mineral[p].add(has.times(part))
		r.bookUrine(p, litres*part, has.times(part))
	}
}

// spreadCompost gives ripe compost to its plots, where its gate leaves them: litter,
// digestate and urine may have gone through the heap.
func (r *runner) spreadCompost() {
	c, s, m := r.m.compost, r.s, r.m
	if s.ripeKg <= 0 || r.without.has(NoCompost) || r.quiet(c.told) {
		return
	}
	area := 0.0
	for _, p := range c.to {
		if r.may(p, ofCompost) {
			area += m.plots[p].area
		}
	}
	if area == 0 {
		return
	}
	s.led.flow(mMass, atCompost, atSoil, s.ripeKg)
	s.led.npk(atCompost, atSoil, s.ripeHas)
	for _, p := range c.to {
		if r.may(p, ofCompost) {
			part := m.plots[p].area / area
			s.litter[p] += s.ripeKg * part
			r.manure(p, byCompost, s.ripeHas.times(part), compostReady)
		}
	}
	s.ripeKg, s.ripeHas = 0, npk{}
}

// open tells whether a plot may take urine or digestate: something grows, or
// trees stand there, and the gate leaves it.
func (r *runner) open(p, what int) bool {
	return (r.m.plots[p].tree || r.growing(p)) && r.may(p, what)
}

func (r *runner) growing(p int) bool {
	for q := r.m.plots[p].first; q < r.m.plots[p].last; q++ {
		if r.stands(q) {
			return true
		}
	}
	return false
}

// openArea lists the plots among some that may take urine or digestate and
// returns their area, m2.
func (r *runner) openArea(to []int, what int) float64 {
	r.ready = r.ready[:0]
	area, blocked, done := 0.0, r.blocked[what], r.s.crop
	for _, p := range to {
		if by := blocked[p]; by > 0 && !done[by-1].done {
			continue
		}
		if r.open(p, what) {
			r.ready = append(r.ready, p)
			area += r.m.plots[p].area
		}
	}
	return area
}

// pourLater wets a plot after its day's balance is done, straight to its layers.
func (r *runner) pourLater(p int, litres float64) {
	area := r.m.plots[p].area
	if over := r.pour(p, litres/area); over > 0 {
		r.s.led.flow(mWater, atSoil, atDeep, over*area)
	}
}
