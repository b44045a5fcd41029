package engine

import (
	"math"
	"slices"

	"evenstead/crop"
	"evenstead/diet"
	"evenstead/fertility"
	"evenstead/larder"
	"evenstead/weather"
)

// A reference steps a member by the equations as they are written in docs/model.md,
// plot by plot, stand by stand and kind by kind, with nothing listed, saved up or
// looked up beforehand. What the runner does faster must come to the same.
type reference struct {
	*runner
	etm, eta [][stages]float64 // mm, by planting
}

func newReference(m *Model) *reference { return &reference{runner: newRunner(m)} }

func (r *reference) begin(member int, w weather.Member) {
	r.runner.begin(member, w)
	r.etm, r.eta = make([][stages]float64, len(r.m.plantings)), make([][stages]float64, len(r.m.plantings))
}

func (r *reference) step(day int) {
	r.day = day
	if day > 0 && day%365 == 0 {
		r.luck.turn(r.m, r.member, day/365)
	}
	r.without = r.m.without | r.m.trial.taken(day-r.m.skip)
	plan := &r.m.cal[day]
	clear(r.in)
	r.led = r.led[:0]
	r.openWeek(plan)
	r.air(day)
	r.hands(plan)
	r.catch()
	r.draw(plan)
	for i := range r.m.plots {
		r.plot(i)
	}
	r.s.led.flow(mWater, atSky, atSoil, r.w.Rain[day]*r.m.ground)
	r.gather(plan)
	r.keep(plan)
	r.eat(plan)
	r.cook(plan)
	r.digest()
	r.returnWastes(plan)
	r.spread(plan)
	r.cold()
	r.light()
	r.endDay()
}

// plot carries a plot through the day.
func (r *reference) plot(i int) {
	p := &r.m.plots[i]
	r.soak(i)
	if (r.day+i)%visitDays == 0 {
		r.rots(i)
	}
	var here []int
	for q := p.first; q < p.last; q++ {
		if r.day >= r.m.plantings[q].sow && !r.s.crop[q].done {
			here = append(here, q)
		}
		if r.day == r.m.plantings[q].sow && !r.s.crop[q].done {
			r.begins(q)
		}
	}
	if thirst := r.dries(i, here); thirst > 0 && !r.without.has(NoIrrigation) {
		r.irrigate(i, thirst*p.area)
	}
	for _, q := range here {
		r.grows(q)
	}
}

// soak lets rain and led water in; what drains takes nitrate along.
func (r *reference) soak(i int) {
	s, p := r.s, &r.m.plots[i]
	drain := r.w.Rain[r.day] + r.in[i]/p.area + r.rinse*p.rinsed
	for _, layer := range []*float64{&s.top[i], &s.sub[i]} {
		into := min(drain, *layer)
		*layer -= into
		drain -= into
	}
	s.led.flow(mWater, atSoil, atDeep, drain*p.area)
	lost := fertility.Leached(s.mineral[i].n, drain, p.held)
	s.mineral[i].n -= lost
	s.led.flow(mN, atSoil, atDeep, lost)
}

func (r *reference) rots(i int) {
	s := r.s
	year := math.Exp2((r.mean()-15)/10) * visitDays / 365
	s.mineral[i] = s.mineral[i].add(s.organic[i].take(min(1, organicRate*year)))
	gone := s.litter[i] * min(1, litterRate*year)
	s.litter[i] -= gone
	s.led.flow(mMass, atSoil, atAir, gone)
	humus := r.m.plots[i].humusN * humusRate * year
	s.humus[i] -= humus
	s.mineral[i].n += humus
}

// dries lets stands and bare ground draw water, and returns the thirst, mm.
func (r *reference) dries(i int, here []int) (thirst float64) {
	s, p := r.s, &r.m.plots[i]
	et0, bare, used := r.w.ET0[r.day], 1.0, 0.0
	for _, q := range here {
		g, c := &r.m.plantings[q], &s.crop[q]
		bare -= g.share
		if (r.day+q)%sizeDays == 0 || c.z.taw == 0 {
			season := g.season(c)
			c.kc = crop.Kc(season, g.kcIni, g.kcMid, g.kcEnd, g.shareIni, g.shareDev, g.shareMid)
			c.z, c.stage = r.roots(p, g, season), g.stage(season)
		}
		etm, ks := c.kc*et0, 1.0
		dr := min(c.z.taw, c.z.f1*s.top[i]+c.z.f2*s.sub[i])
		raw := crop.AdjustDepletion(g.p, etm) * c.z.taw
		if !r.without.has(NoDryStress) {
			ks = crop.Stress(dr, c.z.taw, raw)
		}
		if p.irrigated && dr > raw {
			thirst = max(thirst, dr)
		}
		r.etm[q][c.stage] += etm
		r.eta[q][c.stage] += ks * etm
		a1, a2 := c.z.f1*(p.t1-s.top[i]), c.z.f2*(p.t2-s.sub[i])
		if mm := min(ks*etm*g.share, a1+a2); a1+a2 > 0 {
			s.top[i] = min(p.t1, s.top[i]+a1*mm/(a1+a2))
			s.sub[i] = min(p.t2, s.sub[i]+a2*mm/(a1+a2))
			used += mm
		}
	}
	if bare > 0 {
		mm := min(bare*p.bareKc*et0*(1-s.top[i]/p.t1), p.t1-s.top[i])
		s.top[i] += mm
		used += mm
	}
	s.led.flow(mWater, atSoil, atAir, used*p.area)
	return thirst
}

// grows carries a stand through the day.
func (r *reference) grows(q int) {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	r.develops(g, c)
	if r.frozen(g, c) {
		c.cause = causeFrost
		r.end(q)
		return
	}
	if (r.day+q)%visitDays == 0 || c.picked >= 1 {
		if (r.day+q)%feedDays == 0 || c.picked > 0 {
			r.feeds(q)
		}
		if c.ripe > 0 {
			c.ripe -= r.picks(q)
		}
	}
	if r.bolted(g, c) {
		c.cause = causeBolted
		r.end(q)
		return
	}
	if c.picked >= 1 {
		c.waited++
		if c.ripe < 0.01 || c.waited > standsRipe {
			r.end(q)
		}
	}
}

// develops brings a stand nearer to its harvest, or lets some of it ripen.
func (r *reference) develops(g *planting, c *cropState) {
	tmin, tmax := r.w.TMin[r.day], r.w.TMax[r.day]
	switch {
	case g.tree && r.day < g.begins:
		c.frac = min(1, float64(r.day-g.sow+1)/float64(g.begins-g.sow))
	case g.tree:
		c.frac = 1
		r.ripen(c, 1/float64(g.ends-g.begins))
	case c.frac < 1:
		if c.frac > heads+nearly && tmax > g.heatLimit {
			c.heat++
		}
		if c.frac += g.on(tmin, tmax); c.frac > 1-nearly {
			c.frac = 1
		}
	default:
		r.ripen(c, max(0.25, warmth((tmin+tmax)/2, g.base, g.optLow))/g.span)
	}
}

func (r *reference) ripen(c *cropState, share float64) {
	if share > 1-c.picked-nearly {
		share = 1 - c.picked
	}
	c.picked += share
	c.ripe += share
}

// begins sows a stand from seed that was set aside.
func (r *reference) begins(q int) {
	s, g, c := r.s, &r.m.plantings[q], &r.s.crop[q]
	if g.kind < 0 {
		return
	}
	kind := &r.m.kinds[g.kind]
	seed := min(g.seed, s.seed[g.kind])
	s.seed[g.kind] -= seed
	has := kind.has.times(seed)
	c.got, c.pool = c.got.add(has), c.pool.add(has)
	s.led.flow(mMass, atSeed, atAir, seed)
	s.led.flow(mEnergy, atSeed, atAir, seed*kind.mj)
	s.led.npk(atSeed, atPlants, has)
}

// feeds lets a stand take up what it asks for.
func (r *reference) feeds(q int) {
	s, m := r.s, r.m
	g, c := &m.plantings[q], &s.crop[q]
	i := g.plot
	c.asked = g.asks.times(m.uptakeBy(g.season(c)) * r.luck.crop[q] * r.luck.pest[q])
	ask := c.asked.sub(c.got).floor()
	air := ask.n * g.fixed
	want := npk{ask.n - air, ask.p, ask.k}
	if r.without.has(NoHunger) {
		s.mineral[i] = s.mineral[i].add(want)
		s.led.npk(atTrade, atSoil, want)
	} else {
		want = want.within(s.mineral[i].times(g.share))
	}
	s.mineral[i] = s.mineral[i].sub(want)
	s.led.npk(atSoil, atPlants, want)
	s.led.flow(mN, atAir, atPlants, air)
	c.got = c.got.add(want).add(npk{n: air})
	c.pool = c.pool.add(want).add(npk{n: air})
}

// picks carries a share of a harvest home.
func (r *reference) picks(q int) float64 {
	m, s := r.m, r.s
	g, c := &m.plantings[q], &s.crop[q]
	k := &m.kinds[g.kind]
	dry, fed := r.watered(q), 1.0
	if !r.without.has(NoHunger) {
		fed = c.got.least(c.asked)
	}
	hot, tended := max(0.2, 1-0.03*c.heat), 0.6+0.4*s.tended
	if cause := worst(c.bloom, hot, dry, fed, tended); cause != causeNone && c.cause == causeNone {
		c.cause = cause
	}
	if r.luck.pest[q] < 1 {
		c.cause = causePest
	}
	kg := g.yield * r.luck.crop[q] * r.luck.pest[q] * dry * fed * hot * c.bloom * tended * c.ripe
	done := r.spend(kg * g.pickHours)
	kg = min(kg*done, c.pool.most(k.has))
	out := k.has.times(kg)
	c.pool = c.pool.sub(out).floor()
	if kg > 0 && c.first < 0 {
		c.first = r.day - m.skip
	}
	c.kg += kg
	s.led.flow(mMass, atAir, atPlants, kg)
	s.led.flow(mEnergy, atSky, atPlants, kg*k.mj)
	seed := min(kg, g.seed-c.seed) // the first of the harvest, to sow the same ground
	c.seed += seed
	s.seed[g.kind] += seed
	s.led.flow(mMass, atPlants, atSeed, seed)
	s.led.flow(mEnergy, atPlants, atSeed, seed*k.mj)
	s.led.npk(atPlants, atSeed, k.has.times(seed))
	kg -= seed
	s.led.flow(mMass, atPlants, atLarder, kg)
	s.led.flow(mEnergy, atPlants, atLarder, kg*k.mj)
	s.led.npk(atPlants, atLarder, k.has.times(kg))
	if g.tree {
		r.give(g.kind, kg*m.landShare)
		kg -= kg * m.landShare
	}
	r.store(g.kind, kg)
	return c.ripe * done
}

func (r *reference) watered(q int) float64 {
	g, share := &r.m.plantings[q], 1.0
	had, wanted := 0.0, 0.0
	for i, etm := range r.etm[q] {
		had += r.eta[q][i]
		wanted += etm
		if g.crop.KyStage[0] > 0 && etm > 0 {
			share *= crop.YieldResponse(g.crop.KyStage[i], r.eta[q][i]/etm)
		}
	}
	if g.crop.KyStage[0] == 0 && wanted > 0 {
		share = crop.YieldResponse(g.ky, had/wanted)
	}
	return share
}

// keep lets every kind age and puts up what would spoil.
func (r *reference) keep(plan *dayPlan) {
	if plan.wd == 0 || r.day == 0 {
		r.have = r.order()
		r.room()
		r.crave()
		r.ranks(plan)
	}
	for _, at := range r.order() {
		k, kind := int(at), &r.m.kinds[at]
		if (r.day+k)%kind.each == 0 && !r.without.has(NoSpoilage) {
			older := r.s.age[k] + float64(kind.each)*r.crowded(kind.place)/kind.life[plan.month]
			lost := r.s.kg[k] * min(1, larder.Lost(r.s.age[k], older)*r.luck.hazard)
			r.s.age[k] = older
			r.waste(k, lost)
		}
		if len(kind.putUp) > 0 && (r.day+k)%7 == 0 && !r.without.has(NoPuttingUp) {
			r.putUp(k, plan)
		}
	}
}

// crowded is how much faster food ages in a place for want of room.
func (r *reference) crowded(place int) float64 {
	p := &r.m.places[place]
	if p.freezer || r.without.has(NoRoomLimit) || p.holds <= 0 {
		return 1
	}
	return max(1, r.s.used[place]/p.holds)
}

// ranks notes the days left until a quarter of what is in store is lost.
func (r *reference) ranks(plan *dayPlan) {
	for _, k := range r.order() {
		r.s.left[k] = (1 - r.s.age[k]) * r.m.kinds[k].life[plan.month]
	}
}

// order are the kinds in store, soonest to go first as last ranked or come in.
func (r *reference) order() (have []int32) {
	for k, kg := range r.s.kg {
		if kg > 0 {
			have = append(have, int32(k))
		}
	}
	slices.SortStableFunc(have, func(a, b int32) int { return cmpFloat(r.s.left[a], r.s.left[b]) })
	return have
}

func (r *reference) eat(plan *dayPlan) {
	s := r.s
	r.eaten = helping{}
	if plan.mouths <= 0 {
		return
	}
	clear(s.taken[:])
	s.mouths += plan.mouths
	have := r.order()
	back := slices.Clone(have)
	slices.Reverse(back)
	got := r.helpings(plan, back, plan.energy, 1, true)
	for _, more := range []float64{1, secondHelping} {
		if got < plan.energy*0.999 {
			got += r.helpings(plan, have, plan.energy-got, more, false)
		}
	}
	r.clearTable()
	if r.without.has(NoFoodLimit) {
		got = max(got, plan.energy)
	}
	r.need(needFirstNutrient, plan.energy, got)
}

func (r *reference) helpings(plan *dayPlan, have []int32, ask, more float64, even bool) float64 {
	s, m, got := r.s, r.m, 0.0
	for _, k := range have {
		kind := &m.kinds[k]
		if got >= ask && kind.mj > 0 {
			if !even {
				break
			}
			continue
		}
		class := diet.WithFood(m.classCap[kind.class], m.classWith[kind.class], s.plate)*plan.mouths*more - s.taken[kind.class]
		liked := kind.cap
		if kind.tires {
			liked = min(liked, kind.likes*diet.Appetite(s.weary[k]))
		}
		kg := min(s.kg[k], liked*plan.mouths*more, class/kind.edible)
		if kind.mj > 0 {
			kg = min(kg, (ask-got)/kind.mj)
			if even {
				kg = min(kg, max(s.kg[k]/max(1, s.left[k]), kind.comes))
			}
		}
		if kg <= 0 {
			continue
		}
		if s.kg[k]-kg < lastBite {
			kg = s.kg[k]
		}
		got += kg * kind.mj
		s.taken[kind.class] += kg * kind.edible
		s.kg[k] = max(0, s.kg[k]-kg)
		s.eaten[k] += kg
		s.week[k] += kg
		r.eaten.mj += kg * kind.mj
		r.eaten.heat += kg * kind.heat
		r.eaten.has = r.eaten.has.add(kind.eats.times(kg))
		r.eaten.kg += kg * kind.edible
		r.eaten.refuse = r.eaten.refuse.add(kind.has.sub(kind.eats).times(kg))
		r.eaten.refuseKg += kg * (1 - kind.edible)
	}
	return got
}
