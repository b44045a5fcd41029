package engine

import "slices"

// A deed is what one entry of the book does to the stores, in the morning of its
// day; the engine then does the rest of that day.
type deed struct {
	entry int // of the entries replayed
	do    func(*runner)
}

// fuelKinds are the kinds of cooker.
var fuelKinds = [...]string{"sun", "biogas", "wood", "bottle", "electric"}

// said is what the book says of the day at hand.
type said struct {
	mj, kg  float64 // eaten
	has     npk
	cooked  float64 // MJ of useful heat
	burnt   [len(fuelKinds)]bool
	fed     float64   // kg to the digester
	laid    []float64 // kg of eggs by flock
	treated float64   // L
}

func (s *said) clear() {
	clear(s.laid)
	*s = said{laid: s.laid}
}

// spells are stretches of days, in order and apart; from is in each, to is not.
type spells []spell

func (t spells) has(day int) bool {
	return slices.ContainsFunc(t, func(x spell) bool { return day >= x.from && day < x.to })
}

// about adds the days within so many of a day, for days that come in order.
func (t spells) about(day, within int) spells {
	from, to := day-within, day+within+1
	if n := len(t); n > 0 && from <= t[n-1].to {
		t[n-1].to = max(t[n-1].to, to)
		return t
	}
	return append(t, spell{from, to})
}

// quiet tells whether the book alone speaks today of what the spells belong to,
// so that the engine adds nothing of its own.
func (r *runner) quiet(t spells) bool {
	return len(t) > 0 && r.day < r.m.skip && t.has(r.day)
}

// hear does what the book says of a day, in the book's order.
func (r *runner) hear(day int) {
	m := r.m
	if day >= len(m.deedAt)-1 {
		return
	}
	r.day = day
	if m.deedAt[day] < m.deedAt[day+1] {
		r.upTo(day - 1)
		r.afresh = true
	}
	for i := m.deedAt[day]; i < m.deedAt[day+1]; i++ {
		d := &m.deeds[i]
		if r.kept == nil || !r.kept.tells(d.entry) {
			d.do(r)
			continue
		}
		before := r.s.led
		d.do(r)
		r.kept.told[d.entry] = flowsBetween(&before, &r.s.led)
	}
}

// bring lays kg of a kind in store from somewhere.
func (r *runner) bring(k int, kg float64, from node) {
	r.bookIn(k, kg, from)
	r.store(k, kg)
}

// bookIn books kg of a kind that come to the larder.
func (r *runner) bookIn(k int, kg float64, from node) {
	kind := &r.m.kinds[k]
	r.s.led.flow(mMass, from, atLarder, kg)
	r.s.led.flow(mEnergy, from, atLarder, kg*kind.mj)
	r.s.led.npk(from, atLarder, kind.has.times(kg))
}

// remove takes kg of a kind out of store to somewhere, by its whole mass.
func (r *runner) remove(k int, kg float64, to node) {
	kind := &r.m.kinds[k]
	r.s.kg[k] = max(0, r.s.kg[k]-kg)
	r.s.led.flow(mMass, atLarder, to, kg)
	r.s.led.flow(mEnergy, atLarder, to, kg*kind.mj)
	r.s.led.npk(atLarder, to, kind.has.times(kg))
}

// holds makes sure that kg of a kind is in store before it is taken: what the
// reckoning lacks was there all the same.
func (r *runner) holds(k int, kg float64) {
	if lack := kg - r.s.kg[k]; lack > 0 {
		r.bring(k, lack, atUnknown)
	}
}

// fullest is the kind among some of which most is in store.
func (r *runner) fullest(kinds []int) int {
	best := kinds[0]
	for _, k := range kinds[1:] {
		if r.s.kg[k] > r.s.kg[best] {
			best = k
		}
	}
	return best
}

// ate takes what the book says was eaten.
func (r *runner) ate(k int, kg float64) {
	kind := &r.m.kinds[k]
	r.holds(k, kg)
	r.s.kg[k] = max(0, r.s.kg[k]-kg)
	r.s.eaten[k] += kg
	r.s.week[k] += kg
	r.heat += kg * kind.heat
	l := &r.s.led
	eats := kind.eats.times(kg)
	l.flow(mMass, atLarder, atHouse, kg*kind.edible)
	l.npk(atLarder, atHouse, eats)
	l.flow(mEnergy, atLarder, atHouse, kg*kind.mj)
	l.flow(mEnergy, atHouse, atAir, kg*kind.mj)
	r.toScraps(kg*(1-kind.edible), kind.has.times(kg).sub(eats).floor())
	r.said.mj += kg * kind.mj
	r.said.kg += kg * kind.edible
	r.said.has = r.said.has.add(eats)
}

// harvest carries home what is ripe on a stand, and returns the share of its
// harvest that is dealt with. While the book speaks of the stand, what ripens
// hangs until the book says that it was picked.
func (r *runner) harvest(q int) float64 {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	if !r.quiet(g.told) {
		return r.pick(q, c.ripe)
	}
	share, cause := r.standing(g, c)
	if cause != causeNone && c.cause == causeNone {
		c.cause = cause
	}
	kg := g.yield * r.vigour(q) * share * c.ripe
	done := r.spend(kg * g.pickHours) // picking takes its hours, whoever writes it down
	kg *= done
	if kg > 0 {
		due := kg / r.m.place(q)
		c.room = (c.room*c.due + min(20, r.feeds(q))*due) / (c.due + due)
		c.due += due
	}
	c.hangs += kg
	return c.ripe * done
}

// pickTold parts what was picked among the stands it may have come from, by what
// hangs on each, and else by their ground.
func (r *runner) pickTold(stands []int, k int, kg float64) {
	if len(stands) == 0 {
		r.bring(k, kg, atUnknown)
		return
	}
	hangs, area := 0.0, 0.0
	for _, q := range stands {
		if c := &r.s.crop[q]; r.stands(q) {
			if c.ripe > 0 {
				c.ripe -= r.harvest(q)
			}
			hangs += c.hangs
			area += r.m.plantings[q].area
		}
	}
	for _, q := range stands {
		switch {
		case hangs > 0 && r.stands(q):
			r.pickFrom(q, kg*r.s.crop[q].hangs/hangs)
		case hangs == 0 && area > 0 && r.stands(q):
			r.pickFrom(q, kg*r.m.plantings[q].area/area)
		case hangs == 0 && area == 0: // all are over by the reckoning
			r.pickFrom(q, kg/float64(len(stands)))
		}
	}
}

// early is the share of a stand's yield from which a picking shows it to be ripe.
const early = 0.1

// pickFrom carries home kg from one stand. Nutrients beyond what the stand took
// up were in the ground unreckoned.
func (r *runner) pickFrom(q int, kg float64) {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	kind := &r.m.kinds[g.kind]
	out := kind.has.times(kg)
	had := out.within(c.pool)
	c.pool = c.pool.sub(had)
	r.book(g.plot, byHarvest, had)
	l := &r.s.led
	l.npk(atUnknown, atPlants, out.sub(had))
	l.flow(mMass, atAir, atPlants, kg)
	l.flow(mEnergy, atSky, atPlants, kg*kind.mj)
	r.bring(g.kind, kg, atPlants)
	c.told += kg
	c.kg += kg
	c.hangs = 0
	if c.first < 0 {
		c.first = r.day - r.m.skip
	}
	if whole := c.told / (g.yield * r.vigour(q)); whole > early && !g.tree {
		c.frac = 1
		c.picked = max(c.picked, min(1, whole))
	}
}

// layTold books eggs: what the day's feed does not hold was scratched up.
func (r *runner) layTold(i int, kg float64) {
	f := &r.m.flocks[i]
	kind := &r.m.kinds[f.kind]
	brought := f.feedHas.times(f.feed)
	was, is := f.eggHas.times(r.said.laid[i]), f.eggHas.times(r.said.laid[i]+kg)
	fed := is.within(brought).sub(was.within(brought))
	l := &r.s.led
	l.npk(atWild, atStock, f.eggHas.times(kg).sub(fed))
	l.flow(mMass, atWild, atStock, max(0, r.said.laid[i]+kg-f.feed)-max(0, r.said.laid[i]-f.feed))
	l.flow(mEnergy, atTrade, atStock, kg*kind.mj)
	r.bring(f.kind, kg, atStock)
	r.said.laid[i] += kg
}

// madeTold puts up so much of a product from a fresh kind.
func (r *runner) madeTold(k int, way putUp, made float64) {
	kg := made / way.out
	r.holds(k, kg)
	r.heat += kg * way.heat
	r.transform(k, &way, kg)
}

// setLevel sets a group's water to what was found.
func (r *runner) setLevel(g int, litres float64) {
	s := r.s
	was := s.level[g]
	s.level[g] = min(litres, r.m.groups[g].holds)
	r.s.led.settle(mWater, atTanks, s.level[g]-was)
	if r.kept != nil {
		r.kept.dipped(r, g, was)
	}
}

// settle books what a count found more, or less, than reckoned.
func (l *ledger) settle(m material, at node, more float64) {
	if more >= 0 {
		l.flow(m, atUnknown, at, more)
	} else {
		l.flow(m, at, atUnknown, -more)
	}
}

// setStock sets what is in store of some kinds, taken together, to what was
// found; without any by the reckoning it is of the first.
func (r *runner) setStock(kinds []int, kg float64) {
	s, was := r.s, 0.0
	for _, k := range kinds {
		was += s.kg[k]
	}
	for i, k := range kinds {
		is := 0.0
		switch {
		case was > 0:
			is = s.kg[k] * kg / was
		case i == 0:
			is = kg
		}
		more, kind := is-s.kg[k], &r.m.kinds[k]
		s.kg[k] = is
		s.led.settle(mMass, atLarder, more)
		s.led.settle(mEnergy, atLarder, more*kind.mj)
		s.led.settle(mN, atLarder, more*kind.has.n)
		s.led.settle(mP, atLarder, more*kind.has.p)
		s.led.settle(mK, atLarder, more*kind.has.k)
	}
	r.stale = true
	if r.kept != nil {
		r.kept.counted(r, kinds, was, kg)
	}
}

// wet leads water from a group to a plot; what the group lacks by the reckoning
// was there.
func (r *runner) waterTold(g, p int, litres float64) {
	s, l := r.s, &r.s.led
	if g >= 0 {
		if lack := litres - s.level[g]; lack > 0 {
			l.flow(mWater, atUnknown, atTanks, lack)
			s.level[g] += lack
		}
		s.level[g] -= litres
		l.flow(mWater, atTanks, atSoil, litres)
	} else {
		l.flow(mWater, atUnknown, atSoil, litres)
	}
	r.pourLater(p, litres)
}

// moveWater leads water from one group to another.
func (r *runner) moveWater(from, to int, litres float64) {
	s := r.s
	if lack := litres - s.level[from]; lack > 0 {
		s.led.flow(mWater, atUnknown, atTanks, lack)
		s.level[from] += lack
	}
	s.level[from] -= litres
	if to < 0 {
		s.led.flow(mWater, atTanks, atDeep, litres)
		return
	}
	s.level[to] += litres
	if over := s.level[to] - r.m.groups[to].holds; over > 0 {
		s.level[to] = r.m.groups[to].holds
		s.led.flow(mWater, atTanks, atDeep, over)
	}
}

// burnTold burns so much of a fuel store, units, and counts its useful heat.
func (r *runner) burnTold(fuel int, store *float64, units, mj, efficiency float64) {
	l := &r.s.led
	if lack := units - *store; lack > 0 {
		l.flow(mEnergy, atUnknown, atFuels, lack*mj)
		*store += lack
	}
	*store -= units
	l.flow(mEnergy, atFuels, atHouse, units*mj*efficiency)
	l.flow(mEnergy, atHouse, atAir, units*mj*efficiency)
	l.flow(mEnergy, atFuels, atAir, units*mj*(1-efficiency))
	r.said.cooked += units * mj * efficiency
	r.said.burnt[fuel] = true
}

// feedTold puts scraps in the digester: own ones first, the rest from elsewhere.
func (r *runner) feedTold(kg float64) {
	d, s := r.m.dig, r.s
	own := min(s.scrapKg, kg)
	if own > 0 {
		has := s.scrapHas.take(own / s.scrapKg)
		s.scrapKg -= own
		s.led.flow(mMass, atScraps, atDigester, own)
		s.led.npk(atScraps, atDigester, has)
		s.digHas, s.digKg = s.digHas.add(has), s.digKg+own
	}
	far := d.feedHas.times(kg - own)
	s.led.flow(mMass, atTrade, atDigester, kg-own)
	s.led.npk(atTrade, atDigester, far)
	s.digHas, s.digKg = s.digHas.add(far), s.digKg+kg-own
	s.digVS += kg * d.vs
	r.said.fed += kg
}

// spreadTold waters urine in on one plot.
func (r *runner) urineTold(p int, litres float64) {
	s, l := r.s, &r.s.led
	if lack := litres - s.urine; lack > 0 {
		l.flow(mWater, atUnknown, atToilet, lack)
		if s.urine > 0 { // of the strength of what is there
			has := s.urineHas.times(lack / s.urine)
			l.npk(atUnknown, atToilet, has)
			s.urineHas = s.urineHas.add(has)
		}
		s.urine += lack
	}
	has := s.urineHas.take(litres / s.urine)
	s.urine -= litres
	lost := has.n * ammoniaUrine
	has.n -= lost
	l.flow(mN, atToilet, atAir, lost)
	l.npk(atToilet, atSoil, has)
	l.flow(mWater, atToilet, atSoil, litres)
	r.pourLater(p, litres)
	s.poured[p][0] += litres
	r.bookUrine(p, litres, has)
	s.mineral[p] = s.mineral[p].add(has)
}

// compostTold spreads kg of compost on plots, ripe first.
func (r *runner) compostTold(plots []int, kg float64) {
	s, l := r.s, &r.s.led
	if lack := kg - s.ripeKg - s.freshKg; lack > 0 {
		l.flow(mMass, atUnknown, atCompost, lack)
		s.ripeKg += lack
	}
	ripe := min(kg, s.ripeKg)
	has := npk{}
	if ripe > 0 {
		has = s.ripeHas.take(ripe / s.ripeKg)
		s.ripeKg -= ripe
	}
	if raw := kg - ripe; raw > 0 {
		has = has.add(s.freshHas.take(raw / s.freshKg))
		s.freshKg -= raw
	}
	l.flow(mMass, atCompost, atSoil, kg)
	l.npk(atCompost, atSoil, has)
	r.shareOut(plots, byCompost, kg, has, compostReady)
}

// shareOut lays organic matter on plots by their area.
func (r *runner) shareOut(plots []int, way int, kg float64, has npk, ready float64) {
	area := r.m.area(plots)
	for _, p := range plots {
		part := r.m.plots[p].area / area
		r.s.litter[p] += kg * part
		r.manure(p, way, has.times(part), ready)
	}
}

// slurryTold lets litres out of the digester onto plots.
func (r *runner) slurryTold(plots []int, litres float64) {
	s := r.s
	share := min(1, litres/r.m.dig.liquid)
	has := s.digHas.take(share)
	kg, wet := s.digKg*share, s.digWater*share
	s.digKg -= kg
	s.digWater -= wet
	s.digVS -= s.digVS * share
	s.led.flow(mMass, atDigester, atSoil, kg)
	s.led.flow(mWater, atDigester, atSoil, wet)
	s.led.npk(atDigester, atSoil, has)
	r.shareOut(plots, byDigestate, kg, has, digestateReady)
	for _, p := range plots {
		r.pourLater(p, wet*r.m.plots[p].area/r.m.area(plots))
	}
}

// closeTold shuts a drum and takes the next into use.
func (r *runner) closeTold(i int) {
	d := &r.s.drums[i]
	if d.closed == notClosed {
		d.closed = r.day
	}
	if r.s.filling == i || r.s.filling < 0 {
		r.nextDrum()
	}
}

// drumTold digs a drum in on plots, whatever its age.
func (r *runner) drumTold(i int, plots []int) {
	s := r.s
	d := &s.drums[i]
	if len(plots) == 0 {
		s.led.flow(mMass, atToilet, atTrade, d.kg)
		s.led.npk(atToilet, atTrade, d.has)
	} else {
		s.led.flow(mMass, atToilet, atSoil, d.kg)
		s.led.npk(atToilet, atSoil, d.has)
		r.shareOut(plots, byDrum, d.kg, d.has, faecesReady)
	}
	*d = drumState{closed: notClosed}
	if s.filling < 0 {
		r.nextDrum()
	}
}

// scrapsTold takes scraps from the pail to the heap, the rest from elsewhere.
func (r *runner) scrapsTold(kg float64) {
	s := r.s
	own := min(kg, s.scrapKg)
	if own > 0 {
		has := s.scrapHas.take(own / s.scrapKg)
		s.scrapKg -= own
		r.toCompost(atScraps, own, has)
	}
	if kg > own {
		r.toCompost(atUnknown, kg-own, npk{})
	}
}
