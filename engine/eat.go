package engine

import "evenstead/diet"

// classes is the most classes of food the eating table may name; people like to
// eat so much of one class at most.
const classes = 32

// A lot is what every meal asks of a kind in store.
type lot struct {
	mj, perMJ         float64 // per kg as stored, and 1 / mj
	edible, perEdible float64 // share of what is stored, and 1 / edible
	comes             float64 // kg bought a day
	keen              float64 // kg as stored that a mouth likes in a day now
	daily             float64 // share that uses it up over the days it keeps
	class             uint8
	putsUp            uint8  // day of longEach on which it is put up
	ages              uint32 // days of looksEach on which its age is looked at, a bit each
	place             int32
}

// lots lists what the model's kinds are at the table.
func (m *Model) lots() []lot {
	out := make([]lot, len(m.kinds))
	for k := range out {
		kind := &m.kinds[k]
		out[k] = lot{mj: kind.mj, perMJ: kind.perMJ, edible: kind.edible, perEdible: kind.perEdible, comes: kind.comes,
			class: uint8(kind.class), place: int32(kind.place), putsUp: noDay}
		out[k].looksAt(k, kind)
	}
	return out
}

// rank orders what is in store by the days left until a quarter is lost: soonest first.
func (r *runner) rank(plan *dayPlan) {
	life, age := r.m.lives[plan.month], r.s.age
	for i, k := range r.have {
		r.s.left[k] = (1 - age[k]) * life[k]
		r.serve(k)
		r.settle(i)
	}
}

// serve finds a kind's share of a day by how long it keeps.
func (r *runner) serve(k int32) {
	r.lots[k].daily = 1 / max(1, r.s.left[k])
}

// settle moves a kind of the list forward to its place among those before it.
func (r *runner) settle(i int) {
	have := r.have
	k := have[i]
	for ; i > 0 && r.sooner(k, have[i-1]); i-- {
		have[i] = have[i-1]
	}
	have[i] = k
}

// crave looks at what people lately ate: of what came again and again they like less,
// and what goes with other food is at most its share of the plate.
func (r *runner) crave() {
	s, m := r.s, r.m
	if s.mouths > 0 {
		kg := 0.0
		week, lots := s.week[:len(s.weary)], r.lots[:len(s.weary)]
		for k, was := range s.weary {
			ate := week[k]
			if was <= 0 && ate <= 0 {
				continue
			}
			kg += ate * lots[k].edible
			if kind := &m.kinds[k]; kind.tires {
				s.weary[k] = diet.Lately(was, ate/(kind.likes*s.mouths))
				r.tire(k)
			}
		}
		s.plate = kg / s.mouths
	}
	r.plates()
	clear(s.week)
	s.mouths = 0
}

// tire finds how much people like of a kind now.
func (r *runner) tire(k int) {
	kind := &r.m.kinds[k]
	r.lots[k].keen = kind.cap
	if kind.tires {
		r.lots[k].keen = min(kind.cap, kind.likes*diet.Appetite(r.s.weary[k]))
	}
}

// settled is what people like to eat of a kind when it comes day after day, kg as stored
// a person-day.
func (k *kind) settled() float64 {
	if k.tires {
		return min(k.cap, k.likes*diet.Settled)
	}
	return k.cap
}

// plates finds how much of each class goes with what is on the plate now.
func (r *runner) plates() {
	for c := range r.m.classCap {
		r.classCap[c] = diet.WithFood(r.m.classCap[c], r.m.classWith[c], r.s.plate)
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
	r.sweep()
	got := r.said.mj + r.eaten.mj
	if r.without.has(NoFoodLimit) && got < plan.energy {
		got = plan.energy
	}
	r.need(needFirstNutrient, plan.energy, got)
}

// list lists the kinds in store, soonest to go first.
func (r *runner) list() {
	r.have, r.came, r.stale = r.have[:0], r.came[:0], false
	life := r.m.lives[r.m.cal[r.day].month]
	for k, kg := range r.s.kg {
		if kg > 0 && !r.listed[k] {
			r.s.left[k] = (1 - r.s.age[k]) * life[k]
		}
		if r.listed[k] = kg > 0; r.listed[k] {
			r.came = append(r.came, int32(k))
		}
	}
}

// present puts what came in on the list, each in its place.
func (r *runner) present() {
	if r.stale {
		r.list()
	}
	for _, k := range r.came {
		r.serve(k)
		at, end := 0, len(r.have)
		for at < end {
			if mid := (at + end) / 2; r.sooner(r.have[mid], k) {
				at = mid + 1
			} else {
				end = mid
			}
		}
		r.have = append(r.have, k)
		copy(r.have[at+1:], r.have[at:])
		r.have[at] = k
	}
	r.came = r.came[:0]
}

// sooner tells whether a kind goes before another.
func (r *runner) sooner(a, b int32) bool {
	left := r.s.left
	x, y := left[a], left[b]
	return x < y || x == y && a < b
}

// sweep takes off the list what is all gone.
func (r *runner) sweep() {
	kept, have, kg := 0, r.have, r.s.kg
	for _, k := range have {
		if kg[k] > 0 {
			have[kept] = k
			kept++
		} else {
			r.listed[k] = false
		}
	}
	r.have = have[:kept]
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
// asked is had, MJ. An even helping takes a day's share of each, and of what keeps
// longest first, so that it is not crowded out.
func (r *runner) help(plan *dayPlan, ask, more float64, even bool) {
	have, kg := r.have, r.s.kg
	lots, caps, taken := r.lots[:len(kg)], &r.classCap, &r.s.taken
	mj, full := r.eaten.mj, r.eaten.mj+ask
	bites := r.bites
	more *= plan.mouths
	i, next := 0, 1
	if even {
		i, next = len(have)-1, -1
	}
	for ; uint(i) < uint(len(have)); i += next {
		k := have[i]
		here, t := kg[k], &lots[k]
		if here <= 0 {
			continue
		}
		class := t.class % classes
		most := lesser(lesser(here, t.keen*more), (caps[class]*more-taken[class])*t.perEdible)
		if t.mj > 0 {
			lack := full - mj
			if lack <= 0 {
				if even {
					continue
				}
				break
			}
			if even {
				most = lesser(most, greater(here*t.daily, t.comes))
			}
			most = lesser(most, lack*t.perMJ)
		}
		if most <= 0 {
			continue
		}
		if here-most < lastBite {
			most = here
		}
		kg[k] = here - most
		taken[class] += most * t.edible
		mj += most * t.mj
		bites = append(bites, bite{k, most})
	}
	r.eaten.mj, r.bites = mj, bites
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
	kinds, h := r.m.kinds, r.eaten
	eaten, week := r.s.eaten[:len(kinds)], r.s.week[:len(kinds)]
	for _, b := range r.bites {
		k, kg := b.k, b.kg
		if uint(k) >= uint(len(kinds)) {
			break
		}
		kind := &kinds[k]
		eaten[k] += kg
		week[k] += kg
		edible := kg * kind.edible
		h.kg += edible
		h.refuseKg += kg - edible
		h.heat += kg * kind.heat
		h.has.n += kg * kind.eats.n
		h.has.p += kg * kind.eats.p
		h.has.k += kg * kind.eats.k
		h.refuse.n += kg * kind.refuse.n
		h.refuse.p += kg * kind.refuse.p
		h.refuse.k += kg * kind.refuse.k
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
