package engine

import (
	"fmt"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
)

// carryKinds makes every kind of food anew that the replay knew, in its order, so
// that each holds what it held.
func (b *builder) carryKinds() error {
	om, os := b.past.at, b.past.state
	for k, kg := range os.kg {
		kd := &om.kinds[k]
		at := b.placeNamed(om.places[kd.place].name)
		to, err := b.kindAt(kd.id, kd.form, at)
		if err != nil && kg+os.seed[k] > 0 {
			return fmt.Errorf("food in store: %w", err)
		}
		if err != nil {
			continue
		}
		b.carried = append(b.carried, [2]int{k, to})
	}
	return nil
}

// carry lays the state that a replay left over the first state of the model.
// Parts are matched by name, stands by plot, crop and sowing.
func (b *builder) carry(s *state) {
	om, os := b.past.at, b.past.state
	b.carryWater(om, os, s)
	b.carryGround(om, os, s)
	clear(s.kg)
	clear(s.age)
	clear(s.seed)
	clear(s.used)
	for _, c := range b.carried {
		s.kg[c[1]] += os.kg[c[0]]
		s.age[c[1]] = os.age[c[0]]
		s.seed[c[1]] += os.seed[c[0]]
		s.week[c[1]], s.weary[c[1]] = os.week[c[0]], os.weary[c[0]]
		kd := &b.m.kinds[c[1]]
		s.used[kd.place] += os.kg[c[0]] * kd.litres
	}
	s.mouths, s.plate = os.mouths, os.plate
	s.scrapKg, s.scrapHas = os.scrapKg, os.scrapHas
	if b.m.dig != nil && om.dig != nil {
		s.digVS, s.digKg, s.digWater, s.digHas = os.digVS, os.digKg, os.digWater, os.digHas
		s.gas, s.pushed = min(os.gas, b.m.dig.bag), os.pushed
	}
	s.slurry = os.slurry
	s.freshKg, s.ripeKg, s.freshHas, s.ripeHas = os.freshKg, os.ripeKg, os.freshHas, os.ripeHas
	b.carryToilet(om, os, s)
	s.wood, s.bottle = os.wood, os.bottle
	if b.m.light != nil && om.light != nil {
		s.battery = min(os.battery, b.m.light.Battery)
	}
	s.tended, s.cool, s.et0 = os.tended, os.cool, os.et0
}

func (b *builder) carryWater(om *Model, os, s *state) {
	for g := range b.m.groups {
		for o := range om.groups {
			if om.groups[o].name == b.m.groups[g].name {
				s.level[g] = min(os.level[o], b.m.groups[g].holds)
			}
		}
	}
	s.filterLeft, s.dryDays = os.filterLeft, os.dryDays
}

func (b *builder) carryGround(om *Model, os, s *state) {
	for p := range b.m.plots {
		o := plotIn(om, b.m.plots[p].name)
		if o < 0 {
			continue
		}
		now, was := &b.m.plots[p], &om.plots[o]
		s.top[p] = min(now.t1, os.top[o])
		s.sub[p] = min(now.t2, os.sub[o])
		if was.t2 > 0 {
			s.sub[p] = os.sub[o] * now.t2 / was.t2
		}
		s.mineral[p], s.organic[p], s.humus[p], s.litter[p] = os.mineral[o], os.organic[o], os.humus[o], os.litter[o]
		s.poured[p] = os.poured[o]
	}
	now := map[string]int{}
	for q := range b.m.plantings {
		now[b.m.standName(q)] = q
		if b.m.plantings[q].over {
			s.crop[q] = cropState{done: true}
		}
	}
	for q := range om.plantings {
		c := os.crop[q]
		to, ok := now[om.standName(q)]
		if !ok {
			b.leave(om.plots[om.plantings[q].plot].name, c, s)
			continue
		}
		c.z, c.first, c.kg = reach{}, -1, 0
		s.crop[to] = c
	}
}

// leave gives back to its plot what a stand holds that is no longer described.
func (b *builder) leave(plot string, c cropState, s *state) {
	if p := b.plotNamed(plot); p >= 0 {
		s.organic[p] = s.organic[p].add(c.pool)
	}
}

func plotIn(m *Model, name string) int {
	for p := range m.plots {
		if m.plots[p].name == name {
			return p
		}
	}
	return -1
}

// standName tells a stand from every other, in any model of the stead.
func (m *Model) standName(q int) string {
	g := &m.plantings[q]
	return fmt.Sprintf("%s/%s/%d", m.plots[g.plot].name, g.crop.ID, int(m.start)+g.sow)
}

func (b *builder) carryToilet(om *Model, os, s *state) {
	s.urine, s.urineHas, s.cover = os.urine, os.urineHas, os.cover
	back := int(b.m.start - om.start)
	for i := range min(len(s.drums), len(os.drums)) {
		s.drums[i] = os.drums[i]
		if s.drums[i].closed != notClosed {
			s.drums[i].closed -= back
		}
	}
	if len(s.drums) > 0 {
		s.filling = min(os.filling, len(s.drums)-1)
	}
}

// A sowing is a stand that the book says was sown or set out.
type sowing struct {
	entry      int
	day        day.Day
	plot       int
	crop       *data.Crop
	area       float64 // m2; 0: not said
	line, year int     // the described planting that it is, and its year; line -1: none
}

// nearSowing is how far from its described date a planting may be sown and still
// be the one described, days.
const nearSowing = 60

// sowings reads the stands from the book. A setting out of what was sown on the
// same bed in the last months is the same stand.
func (b *builder) bookSowings() []sowing {
	if b.past == nil {
		return nil
	}
	var out []sowing
	for _, i := range b.past.list().sown {
		e := &b.past.entries[i]
		if e.Day-ahead(e.Kind) > b.m.today {
			break // all kinds here look as far ahead
		}
		x, err := b.sown(i, e)
		if err != nil {
			b.refuse(e, err)
			continue
		}
		if x.plot >= 0 && !sameStand(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// raised is how long plants may be raised before they are set out, days.
const raised = 120

// sameStand tells whether a stand is one of those before it, which come in order.
func sameStand(have []sowing, x sowing) bool {
	for i := len(have) - 1; i >= 0 && x.day-have[i].day < raised; i-- {
		s := &have[i]
		if s.plot == x.plot && s.crop == x.crop && (s.area == 0 || x.area == 0 || s.area == x.area) && x.day != s.day {
			return true
		}
	}
	return false
}

// sown reads one sowing. Without a bed it is the described planting of the crop
// nearest in time, or on the only bed; a sowing in trays, of no bed, makes no stand.
func (b *builder) sown(i int, e *book.Entry) (sowing, error) {
	c, ok := b.cropOf(e.Body.What)
	if !ok {
		return sowing{}, fmt.Errorf("crop %q is not known", e.Body.What)
	}
	x := sowing{entry: i, day: e.Day, crop: c, plot: b.plotNamed(e.Body.Where), line: -1}
	if e.Body.Where != "" && x.plot < 0 {
		return sowing{}, fmt.Errorf("there is no bed or stand %q", e.Body.Where)
	}
	b.matchLine(&x)
	if x.plot < 0 && e.Kind == book.SetOut && len(b.st.Beds) == 1 {
		x.plot = b.plotNamed(b.st.Beds[0].Name)
	}
	switch e.Body.Measure {
	case unit.Area:
		x.area = e.Body.Amount
	case unit.Number:
		if c.PlantsM2 > 0 {
			x.area = e.Body.Amount / c.PlantsM2
		}
	case unit.Mass:
		if c.SeedGM2 > 0 {
			x.area = e.Body.Amount * 1000 / c.SeedGM2
		}
	}
	return x, nil
}

// matchLine finds the described planting that a sowing is.
func (b *builder) matchLine(x *sowing) {
	near := day.Day(nearSowing + 1)
	for i := range b.st.Plantings {
		pl := &b.st.Plantings[i]
		if pl.Crop != x.crop.ID || x.plot >= 0 && b.plotNamed(pl.Bed) != x.plot {
			continue
		}
		for year := x.day.Year() - 1; year <= x.day.Year()+1; year++ {
			if pl.Sow.Year != 0 && pl.Sow.Year != year {
				continue
			}
			if away := max(pl.Sow.In(year)-x.day, x.day-pl.Sow.In(year)); away < near {
				near = away
				x.line, x.year = i, year
			}
		}
	}
	if x.line >= 0 {
		x.plot = b.plotNamed(b.st.Plantings[x.line].Bed)
	}
}

// taken tells whether the book has sown a described planting of a year.
func taken(sown []sowing, line, year int) bool {
	for _, x := range sown {
		if x.line == line && x.year == year {
			return true
		}
	}
	return false
}

// bookStands are the stands that the book says were sown, by plot.
func (b *builder) bookStands(sown []sowing) ([][]planting, error) {
	all := make([][]planting, len(b.m.plots))
	for _, x := range sown {
		area, yield := x.area, x.crop.YieldTyp
		if x.line >= 0 {
			pl := &b.st.Plantings[x.line]
			if area == 0 {
				area = pl.Area
			}
			if pl.Yield > 0 {
				yield = pl.Yield
			}
		}
		whole := b.m.plots[x.plot].area
		if area == 0 || area > whole {
			area = whole
		}
		if perennial(x.crop) {
			made, err := b.seasons(x.plot, x.crop, area, yield, func(d int) float64 {
				return float64(int(b.m.start)+d-int(x.day)) / 365
			})
			if err != nil {
				return nil, err
			}
			all[x.plot] = append(all[x.plot], made...)
			continue
		}
		g, err := b.stand(x.plot, x.crop, area, yield)
		if err != nil {
			return nil, err
		}
		g.sow = int(x.day - b.m.start)
		if g.sow < -oldest || g.sow >= b.m.days {
			continue
		}
		b.standing(&g)
		all[x.plot] = append(all[x.plot], g)
	}
	return all, nil
}

// oldest is how long before the run a stand may have been sown, days.
const oldest = 400
