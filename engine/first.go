package engine

import (
	"math"

	"evenstead/fertility"
	"evenstead/fuel"
	"evenstead/larder"
)

// firstState is the stead as described, on the morning of its first day.
func (b *builder) firstState() *state {
	m := b.m
	s := m.newState()
	b.fillTanks(s)
	b.fillGround(s)
	b.fillLarder(s)
	b.fillHeat(s)
	b.fillLoops(s)
	air := (b.clim.TMin[dayOfYear(m.start)] + b.clim.TMax[dayOfYear(m.start)]) / 2
	s.cool, s.slurry = air, air
	return s
}

func (b *builder) fillTanks(s *state) {
	for i, g := range b.st.Groups() {
		s.level[i] = min(g.Level, g.Holds)
	}
	s.filterLeft = b.m.treat.filterLeft
	s.dryDays = 1
}

// fillGround starts the soil at the usual year's water for the date, its store
// of nutrients from the described soil, and the stands that are in the ground.
func (b *builder) fillGround(s *state) {
	dry := b.soilDryness()
	for i := range b.m.plots {
		p := &b.m.plots[i]
		s.top[i], s.sub[i] = dry*p.t1, dry*p.t2
		s.mineral[i] = npk{soilMineralN, soilP, soilK}.times(p.area)
		s.humus[i] = p.humusN
	}
	for q := range b.m.plantings {
		g, c := &b.m.plantings[q], &s.crop[q]
		c.frac, c.picked = g.frac0, g.picked0
		if c.frac > 0 {
			c.asked = g.asks.times(b.m.uptakeBy(g.season(c)))
			c.got = c.asked
			c.pool = c.asked.sub(g.asks.times(harvestN(g.crop) * c.picked)).floor()
		}
	}
}

// soilDryness is the share of available water missing on the first day in a
// usual year: rain against reference evaporation over the 90 days before.
func (b *builder) soilDryness() float64 {
	doy := dayOfYear(b.m.start)
	rain, et := 0.0, 0.0
	for d := 1; d <= 90; d++ {
		i := (doy - d + 365) % 365
		rain += b.clim.Rain[i]
		et += b.clim.ET0[i] * 0.6
	}
	return clamp((et-rain)/150, 0, 0.8)
}

// fillLarder lays the described lots in their kinds, aged by the days they have lain.
func (b *builder) fillLarder(s *state) {
	month := int(b.m.start.Month()) - 1
	for _, l := range b.lots {
		age := float64(b.m.start-l.born) / b.m.kinds[l.kind].life[month]
		age = clamp(age, 0, 0.9)
		if s.kg[l.kind]+l.kg > 0 {
			s.age[l.kind] = larder.MeanAge(s.kg[l.kind], s.age[l.kind], l.kg, age)
		}
		s.kg[l.kind] += l.kg
	}
	for k := range b.m.kinds {
		s.used[b.m.kinds[k].place] += s.kg[k] * b.m.kinds[k].litres
	}
}

func (b *builder) fillHeat(s *state) {
	for _, f := range b.st.Fuels {
		switch f.Kind {
		case "wood":
			s.wood += f.Stock
		case "bottle":
			s.bottle += f.Stock
		}
	}
	if b.m.light != nil {
		s.battery = b.m.light.Battery
	}
	d := b.m.dig
	if d == nil {
		return
	}
	hrt := d.liquid / (d.feed + d.water)
	s.digKg = d.feed * hrt
	s.digWater = d.water * hrt
	s.digHas = d.feedHas.times(s.digKg)
	k := fuel.GasStep(1, d.k35, s.slurry, 1)
	s.digVS = d.feed * d.vs / (k + 1/hrt)
	s.gas = d.bag / 2
	if d.ripeAt > 0 {
		s.gas, s.digVS = 0, 0
	}
}

func (b *builder) fillLoops(s *state) {
	t := b.m.toilet
	if t == nil {
		return
	}
	s.cover = b.st.Toilets[0].Cover
	s.drums = make([]drumState, t.drums)
	for i := range s.drums {
		s.drums[i].closed = notClosed
	}
	for i, d := range b.st.Drums {
		if i >= len(s.drums) {
			break
		}
		b.fillDrum(&s.drums[i], d.Filled)
		if d.Closed != 0 {
			s.drums[i].closed = int(d.Closed - b.m.start)
		} else if d.Filled > 0 && s.filling < 0 {
			s.filling = i
		}
	}
	for i := 0; s.filling < 0 && i < len(s.drums); i++ {
		if s.drums[i].closed == notClosed {
			s.filling = i
		}
	}
}

// fillDrum gives a drum the mass and nutrients of the person-days that fill it.
func (b *builder) fillDrum(d *drumState, share float64) {
	t := b.m.toilet
	d.litres = share * t.drum
	perDay := t.faecesKg + t.coverUse*coverSettles
	days := d.litres / perDay
	d.kg = days * (t.faecesKg + t.coverUse*t.coverKgL)
	d.has = npk{fertility.DefaultFaeces.N, fertility.DefaultFaeces.P, fertility.DefaultFaeces.K}.times(days / 365)
	d.kg = math.Max(d.kg, 0)
}

// makeNeeds sets what counts as short for each need.
func (m *Model) makeNeeds() {
	m.tolerances = make([]float64, m.needs())
	for n := range m.tolerances {
		m.tolerances[n] = tolerance
	}
	for k := 1; k < m.nutrientNeeds; k++ {
		m.tolerances[needFirstNutrient+k] = nutrientTolerance
	}
	m.tolerances[m.after(needNitrogen)] = nitrogenTolerance
	m.daily = []int{needDrinking, needWashing, needBeds, needFirstNutrient, m.after(needCooking), m.after(needLight), m.after(needCover), m.after(needDrums)}
}
