package engine

// classes is the most classes of food the eating table may name; people like to
// eat so much of one class at most.
const classes = 24

// rank orders the kinds by the days left until a quarter is lost: soonest first.
func (r *runner) rank(plan *dayPlan) {
	s, m := r.s, r.m
	left := r.left
	for k := range m.kinds {
		left[k] = (1 - s.age[k]) * m.kinds[k].life[plan.month]
		r.daily[k] = 1 / max(1, left[k])
	}
	r.stale = true
	// The order changes little in a week: moving each back to its place is quickest.
	for i := 1; i < len(s.order); i++ {
		k := s.order[i]
		j := i
		for ; j > 0 && left[s.order[j-1]] > left[k]; j-- {
			s.order[j] = s.order[j-1]
		}
		s.order[j] = k
	}
}

// lastBite is what no one leaves in a jar, kg.
const lastBite = 0.005

// secondHelping is how many times more of a food and of its class people eat
// when what they like to eat leaves them hungry.
const secondHelping = 3

// eat feeds the household until the day's energy is met. First it takes of every
// food the share that would use it up over the days it keeps (what is bought by
// the month, as fast as it comes), so that nuts and oil go round the year; then, still hungry, what goes soonest, within what
// people like; then more of the same.
func (r *runner) eat(plan *dayPlan) {
	s := r.s
	r.eatenHas, r.refuseHas, r.eatenKg, r.refuseKg = npk{}, npk{}, 0, 0
	if plan.mouths <= 0 {
		return
	}
	clear(s.taken[:])
	r.present()
	got := r.said.mj
	if got < plan.energy {
		got += r.helping(plan, plan.energy-got, 1, true)
	}
	if got < plan.energy*0.999 {
		got += r.helping(plan, plan.energy-got, 1, false)
	}
	if got < plan.energy*0.999 {
		got += r.helping(plan, plan.energy-got, secondHelping, false)
	}
	r.clearTable(got - r.said.mj)
	if r.without.has(NoFoodLimit) && got < plan.energy {
		got = plan.energy
	}
	r.need(needFirstNutrient, plan.energy, got)
}

// present lists the kinds in store, soonest to go first, anew when one came in.
func (r *runner) present() {
	if !r.stale {
		return
	}
	r.have, r.stale = r.have[:0], false
	for _, k := range r.s.order {
		r.listed[k] = r.s.kg[k] > 0
		if r.listed[k] {
			r.have = append(r.have, k)
		}
	}
}

// helping eats through the kinds in order, up to caps times more, and returns
// the energy eaten, MJ. An even helping takes a day's share of each.
func (r *runner) helping(plan *dayPlan, ask, more float64, even bool) float64 {
	s, m := r.s, r.m
	got := 0.0
	for i := range r.have {
		k := int(r.have[i])
		if even { // what keeps longest first, so that it is not crowded out
			k = int(r.have[len(r.have)-1-i])
		}
		if s.kg[k] <= 0 {
			continue
		}
		kind := &m.kinds[k]
		if got >= ask && kind.mj > 0 {
			if even {
				continue
			}
			return got
		}
		class := m.classCap[kind.class]*plan.mouths*more - s.taken[kind.class]
		kg := min(s.kg[k], kind.cap*plan.mouths*more, class*kind.perEdible)
		if even && kind.mj > 0 {
			kg = min(kg, max(s.kg[k]*r.daily[k], kind.comes))
		}
		if kind.mj > 0 {
			kg = min(kg, (ask-got)*kind.perMJ)
		}
		if kg <= 0 {
			continue
		}
		if s.kg[k]-kg < lastBite {
			kg = s.kg[k]
		}
		got += kg * kind.mj
		s.taken[kind.class] += kg * kind.edible
		r.swallow(k, kg)
	}
	return got
}

// swallow takes kg of a kind from the larder; clearTable books it.
func (r *runner) swallow(k int, kg float64) {
	s, kind := r.s, &r.m.kinds[k]
	s.kg[k] = max(0, s.kg[k]-kg)
	s.eaten[k] += kg
	r.heat += kg * kind.heat
	r.eatenHas = r.eatenHas.add(kind.eats.times(kg))
	r.eatenKg += kg * kind.edible
	r.refuseHas = r.refuseHas.add(kind.has.sub(kind.eats).times(kg))
	r.refuseKg += kg * (1 - kind.edible)
}

// clearTable books the day's eating: the edible part and its energy to people,
// the refuse to scraps.
func (r *runner) clearTable(mj float64) {
	l := &r.s.led
	l.flow(mMass, atLarder, atHouse, r.eatenKg)
	l.npk(atLarder, atHouse, r.eatenHas)
	l.flow(mEnergy, atLarder, atHouse, mj)
	l.flow(mEnergy, atHouse, atAir, mj)
	r.toScraps(r.refuseKg, r.refuseHas)
}
