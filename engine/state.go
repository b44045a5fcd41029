package engine

import "slices"

// A state is one member's stead on one morning, in flat arrays.
type state struct {
	led ledger

	level      []float64 // L by group
	filterLeft float64
	dryDays    int

	top, sub []float64 // mm of deficit by plot, upper 0.3 m and below
	mineral  []npk     // kg by plot
	organic  []npk     // kg by plot
	humus    []float64 // kg of nitrogen in the slow store, by plot
	litter   []float64 // kg of fresh organic matter on the ground, by plot

	poured [][urineRing]float64 // L of neat urine by plot and spell, the newest first

	et0  float64 // mm of reference evaporation since the first day
	crop []cropState

	kg, age []float64 // by kind
	seed    []float64 // kg set aside to be sown, by kind
	eaten   []float64 // kg this week by kind
	week    []float64 // kg by kind since appetite was last looked at
	weary   []float64 // share of what is liked that was lately eaten, by kind
	mouths  float64   // days of a mouth since then
	plate   float64   // kg of food a mouth and day, lately
	used    []float64 // L by place
	left    []float64 // days until a quarter is lost, by kind, as last ranked

	scrapKg  float64
	scrapHas npk

	digVS, digKg, digWater float64
	digHas                 npk
	gas                    float64 // L in the bag
	pushed                 float64 // share of the liquid that feed has pushed out, not yet carried to the ground
	slurry                 float64 // °C

	freshKg, ripeKg   float64 // compost
	freshHas, ripeHas npk

	urine    float64 // L neat
	urineHas npk
	cover    float64 // L
	drums    []drumState
	filling  int // drum in use; -1: none free

	wood, bottle, battery float64 // kg, kg, MJ

	bank   float64 // hours in hand this week
	tended float64 // share of garden work done, running mean

	cool float64 // running mean of air temperature that hardens plants, °C

	want, got         []float64 // today, by need
	wantWeek, gotWeek []float64 // this week, by need
	wantAll, gotAll   []float64 // over the horizon
	intake, target    [4][]float64
	ring              int
	taken             [classes]float64 // kg of a class eaten today
}

// cropState is one planting's life.
type cropState struct {
	done   bool            // taken out
	frac   float64         // 1 at first harvest
	picked float64         // share of the harvest ripened so far
	ripe   float64         // of that, not yet carried home
	kc     float64         // as last sized up
	z      reach           // as last sized up
	stage  int             // of growth, as last sized up
	since  float64         // mm of reference evaporation up to which etm is booked
	etm    [stages]float64 // mm wanted, by stage
	lack   [stages]float64 // of that, not had
	heat   float64         // days too hot at heading
	waited int             // days fully ripe
	first  int             // day of the horizon of the first picking; -1: none yet
	pool   npk             // kg in the plant
	asked  npk             // kg wanted so far
	got    npk             // kg had so far
	kg     float64         // carried home
	seed   float64         // of that, set aside to be sown
	due    float64         // kg the engine looked for, of a stand that the book speaks of
	room   float64         // how many times the handbook's harvest its ground could feed, by due
	hangs  float64         // kg of that not yet picked
	told   float64         // kg the book says were picked
	bloom  float64         // share of blossom left
	cause  int             // greatest loss
}

type drumState struct {
	litres, kg float64
	has        npk
	closed     int // day of the run; open: notClosed
}

const notClosed = 1 << 30

// copyFrom sets the state to another's values without allocating.
func (s *state) copyFrom(o *state) {
	keep := *s
	*s = *o
	s.level = append(keep.level[:0], o.level...)
	s.top = append(keep.top[:0], o.top...)
	s.sub = append(keep.sub[:0], o.sub...)
	s.mineral = append(keep.mineral[:0], o.mineral...)
	s.organic = append(keep.organic[:0], o.organic...)
	s.humus = append(keep.humus[:0], o.humus...)
	s.litter = append(keep.litter[:0], o.litter...)
	s.poured = append(keep.poured[:0], o.poured...)
	s.crop = append(keep.crop[:0], o.crop...)
	s.kg = append(keep.kg[:0], o.kg...)
	s.age = append(keep.age[:0], o.age...)
	s.seed = append(keep.seed[:0], o.seed...)
	s.eaten = append(keep.eaten[:0], o.eaten...)
	s.week = append(keep.week[:0], o.week...)
	s.weary = append(keep.weary[:0], o.weary...)
	s.used = append(keep.used[:0], o.used...)
	s.left = append(keep.left[:0], o.left...)
	s.drums = append(keep.drums[:0], o.drums...)
	s.want = append(keep.want[:0], o.want...)
	s.got = append(keep.got[:0], o.got...)
	s.wantWeek = append(keep.wantWeek[:0], o.wantWeek...)
	s.gotWeek = append(keep.gotWeek[:0], o.gotWeek...)
	s.wantAll = append(keep.wantAll[:0], o.wantAll...)
	s.gotAll = append(keep.gotAll[:0], o.gotAll...)
	for i := range s.intake {
		s.intake[i] = append(keep.intake[i][:0], o.intake[i]...)
		s.target[i] = append(keep.target[i][:0], o.target[i]...)
	}
}

func (s *state) clone() *state {
	c := new(state)
	c.copyFrom(s)
	return c
}

// stocks is what each node holds of each material, for the balance.
func (m *Model) stocks(s *state) [materials][nodes]float64 {
	var st [materials][nodes]float64
	put := func(at node, v npk) {
		st[mN][at] += v.n
		st[mP][at] += v.p
		st[mK][at] += v.k
	}
	for _, l := range s.level {
		st[mWater][atTanks] += l
	}
	for i, p := range m.plots {
		st[mWater][atSoil] -= (s.top[i] + s.sub[i]) * p.area
		put(atSoil, s.mineral[i].add(s.organic[i]))
		st[mN][atSoil] += s.humus[i]
		st[mMass][atSoil] += s.litter[i]
	}
	for _, c := range s.crop {
		put(atPlants, c.pool)
	}
	for i, k := range m.kinds {
		st[mMass][atLarder] += s.kg[i]
		st[mEnergy][atLarder] += s.kg[i] * k.mj
		put(atLarder, k.has.times(s.kg[i]))
		st[mMass][atSeed] += s.seed[i]
		st[mEnergy][atSeed] += s.seed[i] * k.mj
		put(atSeed, k.has.times(s.seed[i]))
	}
	st[mMass][atScraps] = s.scrapKg
	put(atScraps, s.scrapHas)
	st[mMass][atDigester] = s.digKg
	st[mWater][atDigester] = s.digWater
	put(atDigester, s.digHas)
	st[mMass][atCompost] = s.freshKg + s.ripeKg
	put(atCompost, s.freshHas.add(s.ripeHas))
	st[mWater][atToilet] = s.urine
	put(atToilet, s.urineHas)
	for _, d := range s.drums {
		st[mMass][atToilet] += d.kg
		put(atToilet, d.has)
	}
	if m.toilet != nil {
		st[mMass][atToilet] += s.cover * m.toilet.coverKgL
		put(atToilet, m.toilet.coverHas.times(s.cover*m.toilet.coverKgL))
	}
	st[mEnergy][atFuels] = s.gas*m.gasMJ + s.wood*m.woodMJ + s.bottle*m.bottleMJ + s.battery
	return st
}

// newState has every array at its size, all zero.
func (m *Model) newState() *state {
	s := &state{
		level: make([]float64, len(m.groups)),
		top:   make([]float64, len(m.plots)), sub: make([]float64, len(m.plots)),
		mineral: make([]npk, len(m.plots)), organic: make([]npk, len(m.plots)),
		humus:  make([]float64, len(m.plots)),
		litter: make([]float64, len(m.plots)), poured: make([][urineRing]float64, len(m.plots)),
		crop: make([]cropState, len(m.plantings)),
		kg:   make([]float64, len(m.kinds)), age: make([]float64, len(m.kinds)),
		seed: make([]float64, len(m.kinds)),
		week: make([]float64, len(m.kinds)), weary: make([]float64, len(m.kinds)),
		eaten: make([]float64, len(m.kinds)), used: make([]float64, len(m.places)),
		left: make([]float64, len(m.kinds)),
		want: make([]float64, m.needs()), got: make([]float64, m.needs()),
		wantWeek: make([]float64, m.needs()), gotWeek: make([]float64, m.needs()),
		wantAll: make([]float64, m.needs()), gotAll: make([]float64, m.needs()),
		filling: -1, tended: 1, cool: m.meanTemp, slurry: m.meanTemp,
	}
	for i := range s.intake {
		s.intake[i] = make([]float64, m.nutrientNeeds)
		s.target[i] = make([]float64, m.nutrientNeeds)
	}
	for i := range s.crop {
		s.crop[i].bloom = 1
	}
	return s
}

// sound reports whether every stock is a number and none is below zero.
func (s *state) sound() bool {
	ok := func(v float64) bool { return v >= 0 }
	all := func(v []float64) bool { return !slices.ContainsFunc(v, func(x float64) bool { return !ok(x) }) }
	each := func(v []npk) bool {
		return !slices.ContainsFunc(v, func(x npk) bool { return !ok(x.n) || !ok(x.p) || !ok(x.k) })
	}
	return all(s.level) && all(s.top) && all(s.sub) && all(s.kg) && all(s.seed) && all(s.litter) &&
		each(s.mineral) && each(s.organic) &&
		ok(s.scrapKg) && ok(s.digVS) && ok(s.digKg) && ok(s.gas) && ok(s.urine) && ok(s.cover) &&
		ok(s.wood) && ok(s.bottle) && ok(s.battery) && ok(s.freshKg) && ok(s.ripeKg)
}
