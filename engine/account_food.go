package engine

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"evenstead/book"
)

// A pool is a food in all its forms and places, by where it came from. What is
// eaten, given and lost of it is taken from every origin in the proportion in
// which it lies in store.
type pool [Origins]Part // shares of one

// foodAccount follows every food from its coming to its eating.
type foodAccount struct {
	pools map[string]*pool
	by    []*pool // of each kind of the model at hand
	came  map[string]*[Origins]Part
	seeds map[string]float64 // kg set aside to be sown, by food

	ids, names, units []string // of the items: mass, energy, the other nutrients
	need              []float64
	origin            [][Origins]Part
	used              []Part
	met               []float64 // of the need, no time's plenty making up for another's want
	since             []served  // of each item, as its day or week began

	kg, eaten []float64 // by kind, when last looked at
	picked    []float64 // kg carried home and not set aside for seed, by planting, as the evening began
	aside     []float64 // kg set aside for seed, likewise
	unknown   float64   // kg that came from nowhere recorded, when last looked at
	stock     float64   // kg from hens, when last looked at
	wild      float64   // kg from the wild, when last looked at
	said      *book.Entry
}

// served is what was needed and used so far.
type served struct{ need, used float64 }

// turn takes up the kinds of a new part; foods keep their pools.
func (f *foodAccount) turn(r *runner) {
	m := r.m
	f.by = f.by[:0]
	for k := range m.kinds {
		id := m.kinds[k].food
		if f.pools[id] == nil {
			f.pools[id] = &pool{Held: {Told: 1}}
		}
		f.by = append(f.by, f.pools[id])
	}
	if f.ids == nil {
		f.item("mass", "mass", "kg")
		for _, n := range m.nutrients {
			f.item(n.ID, n.Name, n.Unit)
		}
	}
	f.look(r)
}

func (f *foodAccount) item(id, name, unit string) {
	f.ids, f.names, f.units = append(f.ids, id), append(f.names, name), append(f.units, unit)
	f.need, f.origin, f.used = append(f.need, 0), append(f.origin, [Origins]Part{}), append(f.used, Part{})
	f.met, f.since = append(f.met, 0), append(f.since, served{})
}

// look notes what is in store and what came so far.
func (f *foodAccount) look(r *runner) {
	s := r.s
	f.kg = append(f.kg[:0], s.kg...)
	f.eaten = append(f.eaten[:0], s.eaten...)
	f.picked, f.aside = f.picked[:0], f.aside[:0]
	for q := range s.crop {
		f.picked, f.aside = append(f.picked, s.crop[q].home()), append(f.aside, s.crop[q].seed)
	}
	mass := &s.led[mMass]
	f.unknown, f.stock, f.wild = mass[atUnknown][atLarder], mass[atStock][atLarder], mass[atWild][atLarder]
}

func (f *foodAccount) morning(r *runner) { f.look(r) }

// open begins an entry.
func (f *foodAccount) open(r *runner, e *book.Entry) {
	f.look(r)
	f.said = e
}

// close takes down what the entry at hand did: food that came, of the origin it
// tells, then food that was eaten.
func (f *foodAccount) close(a *account) {
	if f.said == nil {
		return
	}
	r, e := a.r, f.said
	f.said = nil
	from, comes := a.origin(e)
	for k := range r.s.kg {
		came, ate := r.s.kg[k]-f.kg[k], r.s.eaten[k]-f.eaten[k]
		if comes && came > 0 {
			f.mix(a, k, from, Part{Told: came})
		}
		if !comes && (came != 0 || ate > 0) {
			f.mix(a, k, NotRecorded, Part{Told: r.s.led[mMass][atUnknown][atLarder] - f.unknown})
		}
		f.eat(a, k, ate, true)
	}
	f.look(r)
}

// origin is where the food of an entry comes from; ok is false where it does
// not bring any in.
func (a *account) origin(e *book.Entry) (o Origin, ok bool) {
	switch e.Kind {
	case book.Picked, book.Taken:
		return Grown, true
	case book.Foraged:
		return Foraged, true
	case book.Bought:
		return Bought, true
	case book.Received:
		if slices.Contains(a.hosts, hostOf(e.Body.Extra["from"])) {
			return Exchanged, true
		}
		return Given, true
	}
	return 0, false
}

// hostOf is a name without its article, to compare.
func hostOf(name string) string {
	return strings.TrimPrefix(strings.ToLower(strings.TrimSpace(name)), "the ")
}

// mix lays what comes of a kind into its food's pool, by weight.
func (f *foodAccount) mix(a *account, k int, o Origin, in Part) {
	all := in.All()
	if all <= 0 {
		return
	}
	had, p := 0.0, f.by[k]
	for j := range f.by {
		if f.by[j] == p {
			had += f.kg[j]
		}
	}
	for i := range p {
		p[i] = p[i].times(had / (had + all))
	}
	p[o].add(in.times(1 / (had + all)))
	f.kg[k] += all
	if a.on {
		f.arrived(a.r.m.kinds[k].food)[o].add(in)
	}
}

// arrived is what came in of a food, by origin.
func (f *foodAccount) arrived(id string) *[Origins]Part {
	if f.came[id] == nil {
		f.came[id] = &[Origins]Part{}
	}
	return f.came[id]
}

// eat counts kg of a kind as eaten.
func (f *foodAccount) eat(a *account, k int, kg float64, told bool) {
	if kg <= 0 || !a.on {
		return
	}
	m := a.r.m
	kd := &m.kinds[k]
	f.count(0, kg*kd.edible, k, told)
	f.count(1, kg*kd.mj, k, told)
	row := m.composition[k*m.nutrientNeeds : (k+1)*m.nutrientNeeds]
	for j := 1; j < len(row); j++ {
		f.count(1+j, kg*row[j], k, told)
	}
}

func (f *foodAccount) count(item int, amount float64, k int, told bool) {
	if amount == 0 {
		return
	}
	if told {
		f.used[item].Told += amount
	} else {
		f.used[item].Filled += amount
	}
	for o, share := range f.by[k] {
		f.origin[item][o].add(share.times(amount))
	}
}

// evening takes down what the engine brought in and what it had eaten.
func (f *foodAccount) evening(a *account, d int) {
	r := a.r
	m := r.m
	f.grown(a)
	f.beasts(a, d)
	f.bought(a, d)
	for k := range r.s.eaten {
		f.eat(a, k, r.s.eaten[k]-f.eaten[k], false)
	}
	if a.on {
		f.needs(m, d)
		f.meet(1) // energy is wanted every day
		if m.cal[d].wd == 6 {
			f.meetWeek()
		}
	}
}

// grown takes down what stands gave, and what of it is seed.
func (f *foodAccount) grown(a *account) {
	m := a.r.m
	for q := range a.r.s.crop {
		g, c := &m.plantings[q], &a.r.s.crop[q]
		if g.kind < 0 {
			continue
		}
		if kg := c.home() - f.picked[q]; kg > 0 {
			if g.tree {
				kg -= kg * m.landShare
			}
			f.fill(a, g.kind, Grown, kg)
		}
		if seed := c.seed - f.aside[q]; seed > 0 && a.on {
			id := m.kinds[g.kind].food
			f.arrived(id)
			f.seeds[id] += seed
		}
	}
}

// meet closes the time that an item was last looked at since.
func (f *foodAccount) meet(i int) {
	was, used := f.since[i], f.used[i].All()
	f.met[i] += min(f.need[i]-was.need, used-was.used)
	f.since[i] = served{f.need[i], used}
}

// meetWeek closes a week for what is needed over weeks: every other nutrient.
func (f *foodAccount) meetWeek() {
	for i := 2; i < len(f.met); i++ {
		f.meet(i)
	}
}

func (f *foodAccount) fill(a *account, k int, o Origin, kg float64) {
	f.mix(a, k, o, Part{Filled: kg})
}

// beasts are eggs, honey and what was gathered wild by the engine's own days. The
// ledger has the sums; flocks share the eggs by their birds, patches the wild
// food by what a day of their season brings.
func (f *foodAccount) beasts(a *account, d int) {
	r := a.r
	m, mass := r.m, &r.s.led[mMass]
	birds := 0.0
	for i := range m.flocks {
		birds += m.flocks[i].count
	}
	for i := range m.flocks {
		f.fill(a, m.flocks[i].kind, Grown, (mass[atStock][atLarder]-f.stock)*m.flocks[i].count/birds)
	}
	wild := mass[atWild][atLarder] - f.wild
	for i := range m.hives {
		h := &m.hives[i]
		if h.flows[m.cal[d].month] && !r.quiet(h.told) && wild > 0 {
			kg := min(wild, h.count*h.perYear*r.luck.hive[i]/h.days)
			wild -= kg
			f.fill(a, h.kind, Grown, kg)
		}
	}
	open := 0.0
	for i := range m.patches {
		open += r.brings(i, d)
	}
	for i := range m.patches {
		if kg := r.brings(i, d); kg > 0 {
			f.fill(a, m.patches[i].kind, Foraged, wild*kg/open)
		}
	}
}

// brings is what a day of a patch's season brings when there are hours enough, kg.
func (r *runner) brings(i, d int) float64 {
	p := &r.m.patches[i]
	if r.quiet(p.told) {
		return 0
	}
	for _, s := range p.seasons {
		if d >= s[0] && d <= s[1] {
			return p.most * r.luck.wild[i] / float64(s[1]-s[0]+1)
		}
	}
	return 0
}

// bought is what the terms bring by the month.
func (f *foodAccount) bought(a *account, d int) {
	for _, b := range a.r.m.bought {
		if a.r.quiet(b.told) || a.r.m.without.has(NoBought) {
			continue
		}
		kg := b.rate
		if b.perPerson {
			kg *= a.r.m.cal[d].mouths
		}
		f.fill(a, b.kind, Bought, kg)
	}
}

// needs adds the day's need of every nutrient; the model has them by the week.
func (f *foodAccount) needs(m *Model, d int) {
	plan := &m.cal[d]
	f.need[1] += plan.energy
	days := 0.0
	for i := max(0, d-6); i < min(len(m.cal), d+7); i++ {
		if m.cal[i].week == plan.week {
			days++
		}
	}
	row := m.targets[plan.week*m.nutrientNeeds : (plan.week+1)*m.nutrientNeeds]
	for j := 1; j < len(row); j++ {
		f.need[1+j] += row[j] / days
	}
}

func (f *foodAccount) uses() []Use {
	f.meetWeek()
	out := make([]Use, len(f.ids))
	for i := range out {
		out[i] = Use{f.ids[i], f.names[i], f.units[i], f.need[i], f.met[i], f.origin[i], f.used[i]}
	}
	return out
}

func (f *foodAccount) arrivals() []Arrival {
	out := []Arrival{}
	for _, id := range slices.Sorted(maps.Keys(f.came)) {
		out = append(out, Arrival{id, *f.came[id], f.seeds[id]})
	}
	slices.SortStableFunc(out, func(a, b Arrival) int { return cmp.Compare(b.kg(), a.kg()) })
	return out
}

func (a *Arrival) kg() float64 {
	sum := 0.0
	for _, p := range a.By {
		sum += p.All()
	}
	return sum
}
