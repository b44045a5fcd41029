package engine

import "evenstead/larder"

// store puts kg of a kind into its place; the pool's age is the mean of its parts.
func (r *runner) store(k int, kg float64) {
	if kg <= 0 {
		return
	}
	s := r.s
	if s.kg[k] <= 0 { // it comes in fresh
		s.left[k] = r.m.lives[r.m.cal[r.day].month][k]
		r.stale = r.stale || r.listed[k]
	}
	if !r.listed[k] {
		r.listed[k] = true
		r.came = append(r.came, int32(k))
	}
	s.age[k] = larder.MeanAge(s.kg[k], s.age[k], kg, 0)
	s.kg[k] += kg
}

// gather brings in what grows wild and what hens and bees give.
func (r *runner) gather(plan *dayPlan) {
	for i := range r.m.patches {
		r.forage(i)
	}
	for i := range r.m.flocks {
		r.hens(i)
	}
	for i := range r.m.hives {
		r.bees(i, plan)
	}
	r.buy(plan)
}

// forage walks a patch in its season as far as hours go.
func (r *runner) forage(i int) {
	p, m := &r.m.patches[i], r.m
	if r.without.has(NoForage) || r.quiet(p.told) {
		return
	}
	for _, season := range p.seasons {
		if r.day < season[0] || r.day > season[1] {
			continue
		}
		days := float64(season[1] - season[0] + 1)
		kg := p.most * r.luck.wild[i] / days
		kg *= r.spend(kg*p.hoursKg + p.tripH/3) // a trip every third day
		k := &m.kinds[p.kind]
		r.s.led.flow(mMass, atWild, atLarder, kg)
		r.s.led.flow(mEnergy, atWild, atLarder, kg*k.mj)
		r.s.led.npk(atWild, atLarder, k.has.times(kg))
		r.store(p.kind, kg)
	}
}

// hens turns feed into eggs and litter. Eggs follow the length of the day
// (common practice); what feed brings and eggs don't take is litter.
func (r *runner) hens(i int) {
	s, m := r.s, r.m
	f := &m.flocks[i]
	if r.without.has(NoFlock) {
		return
	}
	kg := f.count * f.eggs / 365 * f.kg * max(0.2, 1+0.12*(m.daylight[r.day]-12))
	kg = min(kg, f.feedHas.times(f.feed).most(f.eggHas))
	if r.quiet(f.told) {
		kg = 0
	}
	k := &m.kinds[f.kind]
	brought, laid := f.feedHas.times(f.feed), f.eggHas.times(kg)
	s.led.flow(mMass, atTrade, atStock, f.feed)
	s.led.npk(atTrade, atStock, brought)
	s.led.flow(mEnergy, atTrade, atStock, kg*k.mj)
	s.led.flow(mEnergy, atStock, atLarder, kg*k.mj)
	s.led.flow(mMass, atStock, atLarder, kg)
	s.led.npk(atStock, atLarder, laid)
	r.store(f.kind, kg)
	laid = laid.add(f.eggHas.times(r.said.laid[i]).within(brought.sub(laid)))
	left := max(0, f.feed-kg-r.said.laid[i])
	r.litter(f, brought.sub(laid).floor(), min(f.litter, left))
	s.led.flow(mMass, atStock, atAir, left-min(f.litter, left))
}

// litter sends droppings to the ground of their run, or to compost.
func (r *runner) litter(f *flock, has npk, kg float64) {
	s := r.s
	if f.run >= 0 {
		s.organic[f.run] = s.organic[f.run].add(has)
		r.book(f.run, byDroppings, has)
		s.litter[f.run] += kg
		s.led.npk(atStock, atSoil, has)
		s.led.flow(mMass, atStock, atSoil, kg)
		return
	}
	r.toCompost(atStock, kg, has)
}

// bees give honey over the months of flow, above what is left to them.
func (r *runner) bees(i int, plan *dayPlan) {
	h := &r.m.hives[i]
	if !h.flows[plan.month] || r.without.has(NoBees) || r.quiet(h.told) {
		return
	}
	kg := h.count * h.perYear * r.luck.hive[i] / h.days
	k := &r.m.kinds[h.kind]
	r.s.led.flow(mMass, atWild, atLarder, kg)
	r.s.led.flow(mEnergy, atWild, atLarder, kg*k.mj)
	r.s.led.npk(atWild, atLarder, k.has.times(kg))
	r.store(h.kind, kg)
}

// buy brings in what the terms allow.
func (r *runner) buy(plan *dayPlan) {
	if r.without.has(NoBought) {
		return
	}
	for _, b := range r.m.bought {
		if r.quiet(b.told) {
			continue
		}
		kg := b.rate
		if b.perPerson {
			kg *= plan.mouths
		}
		k := &r.m.kinds[b.kind]
		r.s.led.flow(mMass, atTrade, atLarder, kg)
		r.s.led.flow(mEnergy, atTrade, atLarder, kg*k.mj)
		r.s.led.npk(atTrade, atLarder, k.has.times(kg))
		r.store(b.kind, kg)
	}
}

// Days between looks at food that keeps two months, and at food that keeps two weeks;
// after looksEach days the looks come round.
const (
	longEach  = 7
	shortEach = 3
	looksEach = longEach * shortEach
)

// keep lets food age, puts up what would spoil, and looks once a week at room
// and at what goes soonest.
func (r *runner) keep(plan *dayPlan) {
	r.present()
	if plan.wd == 0 || r.day == 0 {
		r.room()
		r.crave()
		r.rank(plan)
	}
	today, week := r.day%looksEach, uint8(r.day%longEach)
	spoils, putsUp := !r.without.has(NoSpoilage), !r.without.has(NoPuttingUp)
	ages, kg := r.m.ages[plan.month], r.s.kg
	lots := r.lots[:len(kg)]
	var lost helping
	for _, k := range r.have {
		if kg[k] <= 0 {
			continue
		}
		t := &lots[k]
		if spoils && t.ages>>today&1 != 0 {
			r.spoil(int(k), ages[k]*r.crowding(int(t.place)), &lost)
		}
		if t.putsUp == week && putsUp {
			r.putUp(int(k), plan)
		}
	}
	r.throwOut(&lost)
}

// noDay is no day of a week.
const noDay = 255

// looksAt sets when to look at a kind, by how long it keeps, so that not all are
// looked at on one day.
func (t *lot) looksAt(k int, kind *kind) {
	for d := range looksEach {
		if (d+k)%kind.each == 0 {
			t.ages |= 1 << d
		}
	}
	if t.putsUp = noDay; len(kind.putUp) > 0 {
		t.putsUp = uint8((longEach - k%longEach) % longEach)
	}
}

// room measures how full each place is. Food on the floor of a full store keeps
// worse: it ages faster by as much as the store is overfull.
func (r *runner) room() {
	s, m := r.s, r.m
	clear(s.used)
	for _, k := range r.have {
		s.used[m.kinds[k].place] += s.kg[k] * m.kinds[k].litres
	}
	want, got := 0.0, 0.0
	for i := range m.places {
		r.crowd(i)
		if !m.places[i].freezer {
			want += s.used[i]
			got += min(s.used[i], m.places[i].holds)
		}
	}
	r.need(m.after(needShelf), want, got)
}

// crowd finds how much faster food ages in a place for want of room.
func (r *runner) crowd(place int) {
	p := &r.m.places[place]
	r.crowds[place] = 1
	if !p.freezer && p.holds > 0 {
		r.crowds[place] = max(1, r.s.used[place]/p.holds)
	}
}

func (r *runner) crowding(place int) float64 {
	if r.without.has(NoRoomLimit) {
		return 1
	}
	return r.crowds[place]
}

// spoil lets a kind age by a share of its life and takes out what is lost.
func (r *runner) spoil(k int, share float64, all *helping) {
	s, kind := r.s, &r.m.kinds[k]
	older := s.age[k] + share
	lost := s.kg[k] * lesser(1, larder.Lost(s.age[k], older)*r.luck.hazard)
	s.age[k] = older
	s.kg[k] -= lost
	all.kg += lost
	all.mj += lost * kind.mj
	all.has = all.has.add(kind.has.times(lost))
}

// waste throws stored food to the scraps.
func (r *runner) waste(k int, kg float64) {
	s, kind := r.s, &r.m.kinds[k]
	kg = min(kg, s.kg[k])
	s.kg[k] -= kg
	r.throwOut(&helping{kg: kg, mj: kg * kind.mj, has: kind.has.times(kg)})
}

// throwOut books what is thrown to the scraps.
func (r *runner) throwOut(all *helping) {
	r.s.led.flow(mEnergy, atLarder, atAir, all.mj)
	r.toScraps(all.kg, all.has)
}

func (r *runner) toScraps(kg float64, has npk) {
	s := r.s
	s.scrapKg += kg
	s.scrapHas = s.scrapHas.add(has)
	s.led.flow(mMass, atLarder, atScraps, kg)
	s.led.npk(atLarder, atScraps, has)
}

// putUp preserves what can't be eaten in time, by the ways open to the kind in
// their order, as far as room and hours go.
func (r *runner) putUp(k int, plan *dayPlan) {
	s, m := r.s, r.m
	kind := &m.kinds[k]
	left := max(0, 1-s.age[k]) * kind.life[plan.month]
	if left > 60 || r.quiet(kind.told) {
		return
	}
	spare := s.kg[k] - kind.cap*plan.mouths*left
	for i := range kind.putUp {
		if spare <= 1e-6 {
			return
		}
		spare -= r.batch(k, &kind.putUp[i], spare)
	}
}

// batch puts up at most kg of a kind one way and returns what it took.
func (r *runner) batch(k int, way *putUp, kg float64) float64 {
	s, m := r.s, r.m
	to := &m.kinds[way.to]
	place := &m.places[to.place]
	fits := kg
	if way.litres > 0 && !r.without.has(NoRoomLimit) {
		fits = min(kg, max(0, place.holds-s.used[to.place])/(way.litres*way.out))
	}
	if place.freezer {
		r.need(m.after(needFreezer), kg*way.out*way.litres, fits*way.out*way.litres)
	}
	fits *= r.spend(fits * way.hours)
	if fits <= 0 {
		return 0
	}
	r.heat += fits * way.heat
	r.transform(k, way, fits)
	s.used[to.place] += fits * way.out * way.litres
	r.crowd(to.place)
	return fits
}

// transform turns kg of a kind into its product; the refuse goes to scraps, the
// water that leaves goes to the air, and what energy and nutrients the product
// does not keep goes with the refuse.
func (r *runner) transform(k int, way *putUp, kg float64) {
	s, m := r.s, r.m
	from, to := &m.kinds[k], &m.kinds[way.to]
	made := kg * way.out
	s.kg[k] -= kg
	r.store(way.to, made)
	refuse := kg * way.refuse
	r.s.led.flow(mMass, atLarder, atScraps, refuse)
	s.scrapKg += refuse
	if air := kg - refuse - made; air >= 0 {
		s.led.flow(mMass, atLarder, atAir, air)
	} else {
		s.led.flow(mMass, atTrade, atLarder, -air) // brine, syrup
	}
	gone := from.has.times(kg).sub(to.has.times(made)).floor()
	s.scrapHas = s.scrapHas.add(gone)
	s.led.npk(atLarder, atScraps, gone)
	s.led.flow(mEnergy, atLarder, atAir, kg*from.mj-made*to.mj)
}
