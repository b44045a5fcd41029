package engine

import (
	"evenstead/fuel"
	"evenstead/larder"
)

// drinksMJ is the heat of hot drinks and a little warm water a person-day: two
// litres brought to the boil (common practice).
const drinksMJ = 2 * boilMJ

// burnHours is how long a burner may run in a day.
const burnHours = 5

// cook finds the day's heat from the cookers in their written order.
func (r *runner) cook(plan *dayPlan) {
	m := r.m
	if len(m.cookers) == 0 {
		return
	}
	ask := max(r.heat+drinksMJ*plan.heads, r.said.cooked)
	left := ask - r.said.cooked
	for i := range m.cookers {
		if left <= 0 {
			break
		}
		if r.said.burnt[m.cookers[i].fuel] {
			continue
		}
		left -= r.burn(&m.cookers[i], left, plan)
	}
	if r.without.has(NoFuelLimit) {
		left = 0
	}
	r.need(m.after(needCooking), ask, ask-max(0, left))
}

// burn returns the useful heat a cooker gives of what is asked, MJ.
func (r *runner) burn(c *cooker, ask float64, plan *dayPlan) float64 {
	s, m := r.s, r.m
	switch c.kind {
	case "sun":
		if r.without.has(NoSun) {
			return 0
		}
		got := min(ask, fuel.BoxCooker(c.aperture, c.efficiency, r.w.Sun[r.day]))
		s.led.flow(mEnergy, atSky, atHouse, got)
		s.led.flow(mEnergy, atHouse, atAir, got)
		return got
	case "biogas":
		most := min(s.gas, c.burner/24*burnHours)
		return r.fire(&s.gas, most, m.gasMJ, c.efficiency, ask)
	case "wood":
		if r.without.has(NoWood) || (c.open && plan.fireBan) {
			return 0
		}
		return r.fire(&s.wood, s.wood, m.woodMJ, c.efficiency, ask)
	case "bottle":
		if r.without.has(NoBottle) {
			return 0
		}
		return r.fire(&s.bottle, s.bottle, m.bottleMJ, c.efficiency, ask)
	}
	got := ask / c.efficiency // the cord
	s.led.flow(mEnergy, atTrade, atHouse, got)
	s.led.flow(mEnergy, atHouse, atAir, got)
	return ask
}

// fire burns at most so much of a store to give the heat asked.
func (r *runner) fire(store *float64, most, mj, efficiency, ask float64) float64 {
	if mj <= 0 {
		return 0
	}
	used := min(most, ask/(mj*efficiency))
	*store -= used
	r.s.led.flow(mEnergy, atFuels, atHouse, used*mj*efficiency)
	r.s.led.flow(mEnergy, atHouse, atAir, used*mj*efficiency)
	r.s.led.flow(mEnergy, atFuels, atAir, used*mj*(1-efficiency))
	return used * mj * efficiency
}

// digest feeds the digester, lets it work, and sends its effluent to the ground.
func (r *runner) digest() {
	r.fuelIn()
	d, s := r.m.dig, r.s
	if d == nil || r.without.has(NoDigester) {
		r.scrapsToCompost()
		return
	}
	s.slurry = fuel.Drawn(s.slurry, r.mean(), d.keeps)
	kg, has := r.feedDigester()
	asked := min(d.water, d.liquid)
	if r.quiet(d.fedTold) {
		asked *= r.said.fed / d.feed
	}
	wet := r.take(d.group, asked)
	s.led.flow(mWater, atTanks, atDigester, wet)
	s.digWater += wet
	s.digKg += kg
	s.digHas = s.digHas.add(has)
	s.digVS += kg * d.vs
	if r.day >= d.ripeAt {
		r.makeGas()
	}
	s.pushed += (kg + r.said.fed + wet) / d.liquid
	if r.day%visitDays == 0 && !r.quiet(d.outTold) {
		r.effluent(s.pushed)
		s.pushed = 0
	}
	r.scrapsToCompost()
}

// feedDigester takes the day's feed: own scraps first, then what is fetched.
func (r *runner) feedDigester() (kg float64, has npk) {
	d, s := r.m.dig, r.s
	if r.quiet(d.fedTold) {
		return 0, npk{} // the book's feed is in already
	}
	own := min(s.scrapKg, d.feed-d.fetched)
	if own > 0 {
		has = s.scrapHas.take(own / s.scrapKg)
		s.scrapKg -= own
		s.led.flow(mMass, atScraps, atDigester, own)
		s.led.npk(atScraps, atDigester, has)
	}
	if r.without.has(NoHauling) {
		return own, has
	}
	far := d.feedHas.times(d.fetched)
	s.led.flow(mMass, atTrade, atDigester, d.fetched)
	s.led.npk(atTrade, atDigester, far)
	return own + d.fetched, has.add(far)
}

// makeGas turns volatile solids to gas; what the bag can't hold is flared.
func (r *runner) makeGas() {
	d, s, m := r.m.dig, r.s, r.m
	gone := min(fuel.GasStep(s.digVS, d.k35, s.slurry, 1), s.digKg)
	s.digVS -= gone
	litres := gone * d.b0 / d.methane * 1000
	weight := min(gone, s.digKg)
	s.digKg -= weight
	s.led.flow(mMass, atDigester, atAir, weight)
	s.led.flow(mEnergy, atSky, atFuels, litres*m.gasMJ)
	s.gas += litres
	if over := s.gas - d.bag; over > 0 {
		s.gas = d.bag
		s.led.flow(mEnergy, atFuels, atAir, over*m.gasMJ)
	}
}

// effluent lets out what the feed pushed out, to plots where its gate leaves it;
// where there is none, to the compost.
func (r *runner) effluent(share float64) {
	d, s := r.m.dig, r.s
	share = min(1, share)
	has := s.digHas.take(share)
	kg, wet := s.digKg*share, s.digWater*share
	s.digKg -= kg
	s.digWater -= wet
	s.digVS -= s.digVS * share
	area := r.openArea(d.to, ofDigestate)
	if area == 0 {
		s.led.flow(mWater, atDigester, atAir, wet)
		r.toCompost(atDigester, kg, has)
		return
	}
	s.led.flow(mMass, atDigester, atSoil, kg)
	s.led.flow(mWater, atDigester, atSoil, wet)
	s.led.npk(atDigester, atSoil, has)
	for _, p := range r.ready {
		part := r.m.plots[p].area / area
		r.pourLater(p, wet*part)
		s.litter[p] += kg * part
		r.manure(p, byDigestate, has.times(part), digestateReady)
	}
}

// digestateReady is the share of digestate nitrogen that plants can take at once
// (ammonium 45 to 80 % of the whole, from memory; the middle is taken).
const digestateReady = 0.6

// manure adds nutrients to a plot by a way, part of the nitrogen at once, the rest as
// organic matter; phosphorus and potassium are free at once.
func (r *runner) manure(p, way int, has npk, ready float64) {
	s := r.s
	r.book(p, way, has)
	s.mineral[p] = s.mineral[p].add(npk{has.n * ready, has.p, has.k})
	s.organic[p].n += has.n * (1 - ready)
}

// fuelIn brings in wood and bottles as the year gives them.
func (r *runner) fuelIn() {
	s, m := r.s, r.m
	if r.without.has(NoHauling) {
		return
	}
	if !r.quiet(m.woodTold) {
		s.wood += m.woodYear / 365
		s.led.flow(mEnergy, atWild, atFuels, m.woodYear/365*m.woodMJ)
	}
	if !r.quiet(m.bottleTold) {
		s.bottle += m.bottleYear / 365
		s.led.flow(mEnergy, atTrade, atFuels, m.bottleYear/365*m.bottleMJ)
	}
}

// cold runs the freezer and, in a long power cut, loses what thaws.
func (r *runner) cold() {
	s, m := r.s, r.m
	if m.freezer < 0 {
		return
	}
	room := m.places[m.freezer].temps[m.cal[r.day].month]
	current := larder.FreezerDaily(m.freezerDay, room)
	s.led.flow(mEnergy, atTrade, atHouse, current)
	s.led.flow(mEnergy, atHouse, atAir, current)
	for r.cuts < len(r.luck.cuts) && r.luck.cuts[r.cuts].day <= r.day {
		r.thaw(r.luck.cuts[r.cuts].hours, room)
		r.cuts++
	}
}

// thaw loses frozen food when a cut outlasts what the fill can hold; a day
// beyond that all is lost.
func (r *runner) thaw(hours, room float64) {
	m, s := r.m, r.s
	for k := range m.kinds {
		at := m.kinds[k].place
		p := &m.places[at]
		if !p.freezer {
			continue
		}
		fill := min(1, s.used[at]/p.holds)
		if over := hours - larder.FreezerHold(fill, p.holds, room); over > 0 {
			r.waste(k, s.kg[k]*min(1, over/24))
		}
	}
}

// light charges the battery and burns the lamp.
func (r *runner) light() {
	l, s := r.m.light, r.s
	if l == nil {
		return
	}
	const derate = 0.7
	psh := r.w.Sun[r.day] / 3.6
	before := s.battery
	var hours float64
	s.battery, hours = fuel.LightStep(s.battery, l.Panel, psh, derate, l.Load, l.Hours, l.Battery)
	lit := l.Load * hours * 3600 / 1e6
	s.led.flow(mEnergy, atSky, atFuels, s.battery-before+lit)
	s.led.flow(mEnergy, atFuels, atAir, lit)
	r.need(r.m.after(needLight), l.Hours, hours)
}
