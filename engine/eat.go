package engine

import "evenstead/diet"

// classes is the most classes of food the eating table may name; people like to
// eat so much of one class at most.
const classes = 24

// rank orders the kinds by the days left until a quarter is lost: soonest first.
func (r *runner) rank(plan *dayPlan) {
	s, left := r.s, r.left
	life := r.m.lives[plan.month]
	for k, age := range s.age {
		left[k] = (1 - age) * life[k]
	}
	// The order changes little in a week: moving each back to its place is quickest.
	for i := 1; i < len(s.order); i++ {
		k := s.order[i]
		j := i
		for ; j > 0 && left[s.order[j-1]] > left[k]; j-- {
			s.order[j] = s.order[j-1]
		}
		s.order[j] = k
	}
	for i, k := range s.order {
		r.place[k] = int32(i)
	}
	for i := range r.have {
		r.settle(i)
	}
}

// crave looks at what people lately ate: of what came again and again they like less,
// and what goes with other food is at most its share of the plate.
func (r *runner) crave() {
	s, m := r.s, r.m
	if s.mouths > 0 {
		kg := 0.0
		for k, ate := range s.week {
			kg += ate * m.kinds[k].edible
			s.weary[k] = diet.Lately(s.weary[k], ate/(m.kinds[k].likes*s.mouths))
		}
		s.plate = kg / s.mouths
	}
	for k := range m.kinds {
		kind := &m.kinds[k]
		r.keen[k] = kind.cap
		if kind.tires {
			r.keen[k] = min(kind.cap, kind.likes*diet.Appetite(s.weary[k]))
		}
	}
	for c := range r.classCap {
		r.classCap[c] = diet.WithFood(m.classCap[c], m.classWith[c], s.plate)
	}
	clear(s.week)
	s.mouths = 0
}

// settle moves a kind of the list forward to its place among those before it, and
// finds its share of a day.
func (r *runner) settle(i int) {
	k := r.have[i]
	for ; i > 0 && r.place[r.have[i-1]] > r.place[k]; i-- {
		r.have[i] = r.have[i-1]
	}
	r.have[i] = k
	r.daily[k] = 1 / max(1, r.left[k])
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
	r.eaten = helping{}
	if plan.mouths <= 0 {
		return
	}
	clear(r.s.taken[:])
	r.s.mouths += plan.mouths
	r.present()
	lack := func() float64 { return plan.energy - r.said.mj - r.eaten.mj }
	if lack() > 0 {
		r.help(plan, lack(), 1, true)
	}
	if lack() > plan.energy*0.001 {
		r.help(plan, lack(), 1, false)
	}
	if lack() > plan.energy*0.001 {
		r.help(plan, lack(), secondHelping, false)
	}
	r.clearTable()
	got := r.said.mj + r.eaten.mj
	if r.without.has(NoFoodLimit) && got < plan.energy {
		got = plan.energy
	}
	r.need(needFirstNutrient, plan.energy, got)
}

// list lists the kinds in store, soonest to go first.
func (r *runner) list() {
	r.have, r.came, r.stale = r.have[:0], r.came[:0], false
	for _, k := range r.s.order {
		r.listed[k] = r.s.kg[k] > 0
		if r.listed[k] {
			r.have = append(r.have, k)
			r.daily[k] = 1 / max(1, r.left[k])
		}
	}
}

// present puts what came in on the list, each in its place.
func (r *runner) present() {
	if r.stale {
		r.list()
	}
	for _, k := range r.came {
		r.have = append(r.have, k)
		r.settle(len(r.have) - 1)
	}
	r.came = r.came[:0]
}

// sweep takes off the list what is all gone.
func (r *runner) sweep() {
	kept := 0
	for _, k := range r.have {
		if r.s.kg[k] > 0 {
			r.have[kept] = k
			kept++
		} else {
			r.listed[k] = false
		}
	}
	r.have = r.have[:kept]
}

// A bite is kg of a kind that was eaten.
type bite struct {
	k  int32
	kg float64
}

// A helping sums what is eaten.
type helping struct {
	mj, kg, refuseKg, heat float64
	has, refuse            npk
}

// help eats through the kinds in order, up to caps times more, until the energy
// asked is had, MJ. An even helping takes a day's share of each.
func (r *runner) help(plan *dayPlan, ask, more float64, even bool) {
	s, m := r.s, r.m
	kg, taken := s.kg, &s.taken
	mj, full := r.eaten.mj, r.eaten.mj+ask
	more *= plan.mouths
	for i := range r.have {
		k := r.have[i]
		if even { // what keeps longest first, so that it is not crowded out
			k = r.have[len(r.have)-1-i]
		}
		here, kind := kg[k], &m.kinds[k]
		if here <= 0 {
			continue
		}
		most := r.likes(int(k), kind, here, more)
		if kind.mj > 0 {
			lack := full - mj
			if lack <= 0 {
				if even {
					continue
				}
				break
			}
			if even {
				most = lesser(most, greater(here*r.daily[k], kind.comes))
			}
			most = lesser(most, lack*kind.perMJ)
		}
		if most <= 0 {
			continue
		}
		if here-most < lastBite {
			most = here
		}
		kg[k] = here - most
		s.eaten[k] += most
		s.week[k] += most
		taken[kind.class] += most * kind.edible
		mj += most * kind.mj
		r.bites = append(r.bites, bite{k, most})
	}
	r.eaten.mj = mj
}

// likes is the most that people like to eat of a kind and its class, of so much
// that is here, kg.
func (r *runner) likes(k int, kind *kind, here, mouths float64) float64 {
	class := r.classCap[kind.class]*mouths - r.s.taken[kind.class]
	return lesser(lesser(here, r.keen[k]*mouths), class*kind.perEdible)
}

// lesser and greater are min and max of numbers. A branch that is guessed right
// costs less than min does, which minds signs of zero and what is not a number.
func lesser(a, b float64) float64 {
	if b < a {
		return b
	}
	return a
}

func greater(a, b float64) float64 {
	if b > a {
		return b
	}
	return a
}

// digested sums the day's bites beside their energy.
func (r *runner) digested() {
	h := r.eaten
	for _, b := range r.bites {
		kind := &r.m.kinds[b.k]
		h.kg += b.kg * kind.edible
		h.refuseKg += b.kg * (1 - kind.edible)
		h.heat += b.kg * kind.heat
		h.has = h.has.add(kind.eats.times(b.kg))
		h.refuse = h.refuse.add(kind.refuse.times(b.kg))
	}
	r.eaten, r.bites = h, r.bites[:0]
}

// clearTable books the day's eating: the edible part and its energy to people,
// the refuse to scraps.
func (r *runner) clearTable() {
	r.digested()
	l, h := &r.s.led, &r.eaten
	l.flow(mMass, atLarder, atHouse, h.kg)
	l.npk(atLarder, atHouse, h.has)
	l.flow(mEnergy, atLarder, atHouse, h.mj)
	l.flow(mEnergy, atHouse, atAir, h.mj)
	r.heat += h.heat
	r.toScraps(h.refuseKg, h.refuse)
}
