package engine

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// Fortnight is the step in which a plan counts ground, water and hours, days;
// two are a four-week period of the table.
const Fortnight = 14

// A Try is a crop that might be sown on a bare bed of a kind.
type Try struct {
	Crop      string
	Sow       day.Day
	Irrigated bool
	Mulch     float64 // m
}

// A Probe is a stead with a bed of one square metre for every crop that might be
// sown, to see what each would bring and ask. Neither hours nor tanks limit it.
type Probe struct {
	model *Model
	try   map[int]int // index of Try by plot
}

// NewProbe lays out the beds. A try that can't be grown here, for frost or for
// want of a place to keep it, is left out. o.Without adds to what does not limit.
func NewProbe(st *stead.Stead, tab *data.Tables, o Options, tries []Try) (*Probe, error) {
	o.Without |= NoHourLimit | NoTankLimit
	fit, err := fits(st, tab, o, tries)
	if err != nil {
		return nil, err
	}
	wide := *st
	wide.Beds, wide.Plantings = slices.Clone(st.Beds), slices.Clone(st.Plantings)
	p := &Probe{try: map[int]int{}}
	for _, i := range fit {
		t := tries[i]
		name := fmt.Sprintf("try %d", i)
		p.try[len(wide.Beds)] = i
		wide.Beds = append(wide.Beds, stead.Bed{Name: name, Area: 1, Irrigated: t.Irrigated, How: "drip", Mulch: t.Mulch})
		wide.Plantings = append(wide.Plantings, t.line(name))
	}
	if p.model, err = Prepare(&wide, tab, o); err != nil {
		return nil, err
	}
	return p, nil
}

func (t *Try) line(bed string) stead.Planting {
	y, month, dom := t.Sow.Date()
	return stead.Planting{Bed: bed, Crop: t.Crop, Area: 1, Sow: day.When{Year: y, Month: month, Dom: dom}}
}

// fits lists the tries that can be grown and kept here.
func fits(st *stead.Stead, tab *data.Tables, o Options, tries []Try) ([]int, error) {
	m := &Model{name: st.Name, start: st.Stay.From, today: o.Today, south: st.Place.Latitude < 0, freezer: -1,
		nutrients: tab.Nutrients, nutrientNeeds: len(tab.Nutrients)}
	if o.Past != nil {
		m.start = o.Past.From
	}
	if err := m.spell(st, o); err != nil {
		return nil, err
	}
	m.meanTemp = mean(o.Climate.TMin[:])/2 + mean(o.Climate.TMax[:])/2
	b := newBuilder(m, st, tab, o.Climate)
	for _, step := range []func() error{b.listClasses, b.places} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	m.plots = []plot{b.plot("try", 1, 0)}
	var fit []int
	for i := range tries {
		if b.bears(&tries[i]) {
			fit = append(fit, i)
		}
	}
	return fit, nil
}

// bears tells whether a try is a crop that the usual frost spares and that finds
// a place in the larder.
func (b *builder) bears(t *Try) bool {
	c, ok := b.tab.Crop(t.Crop)
	if !ok || perennial(c) {
		return false
	}
	g, err := b.stand(0, c, 1, c.YieldTyp)
	if err != nil {
		return false
	}
	g.sow = int(t.Sow - b.m.start)
	line := t.line("try")
	return g.sow < b.m.days && b.survives(&g, &line, t.Sow.Year()) == nil
}

// A Tried is what one stand did in every member, from today on.
type Tried struct {
	Try    int // index of the Try; -1: a stand of the stead itself
	Plot   string
	Crop   *data.Crop
	Food   int     // of the Frame
	Area   float64 // m2
	Yield  float64 // kg/m2 described
	Sown   day.Day
	Tree   bool    // timed by the calendar
	Now    float64 // share of members in which it stands today
	Asked  [3]float64
	Got    [3]float64 // kg of N, P, K from the ground, mean of the members
	PickKg float64    // h a kg
	AirN   float64    // share of its nitrogen from the air
	Kg     []float32  // come to the larder, member by fortnight
	Seed   []float32  // kg set aside to sow its ground again, member by fortnight
	Litres []float32  // watered, member by fortnight
	Out    []int16    // member: day from today on which its ground is free; the horizon when it never is
}

// Tries are what a probe found.
type Tries struct {
	Members, Slots int
	Frame          *Frame
	Stands         []Tried
	Come           []float32 // kg that hens, bees and wild land bring: member by food by fortnight
	Larder         []float64 // kg in store today, mean, by food
	GatherHours    []float64 // h of gathering wild food by fortnight, mean
	tried          []bool    // plots that are beds of tries
}

// Run carries the probe through the members' days.
func (p *Probe) Run(ctx context.Context, ens *weather.Ensemble, o Options) (*Tries, error) {
	m := p.model
	if ens.Start != m.start || ens.Days < m.days {
		return nil, fmt.Errorf("the weather runs from %s for %d days; the plan needs %s for %d", ens.Start, ens.Days, m.start, m.days)
	}
	t := p.tries(len(ens.Members))
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	sums := make([]probeSum, len(ens.Members)) // one each, so that they are added up in one order
	for range min(workers, len(ens.Members)) {
		wg.Go(func() {
			r := &prober{runner: newRunner(m), t: t}
			for {
				i := int(next.Add(1)) - 1
				if i >= len(ens.Members) || ctx.Err() != nil {
					return
				}
				sums[i].make(m)
				r.sum = &sums[i]
				r.member(i, ens.Members[i])
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("the probe was stopped: %w", err)
	}
	t.close(sums)
	return t, nil
}

func (p *Probe) tries(members int) *Tries {
	m := p.model
	slots := (m.days - m.skip) / Fortnight
	t := &Tries{Members: members, Slots: slots, Frame: m.Frame(), Stands: make([]Tried, len(m.plantings)),
		Come: make([]float32, members*len(m.kinds)*slots), Larder: make([]float64, len(m.kinds)), GatherHours: make([]float64, slots)}
	t.tried = make([]bool, len(m.plots))
	for i := range p.try {
		t.tried[i] = true
	}
	for q := range m.plantings {
		g := &m.plantings[q]
		try, ok := p.try[g.plot]
		if !ok {
			try = -1
		}
		t.Stands[q] = Tried{Try: try, Plot: m.plots[g.plot].name, Crop: g.crop, Food: g.kind, Area: g.area, Yield: g.yield / g.area,
			Sown: m.start + day.Day(g.sow), Tree: g.tree, PickKg: g.pickHours, AirN: g.fixed,
			Kg: make([]float32, members*slots), Seed: make([]float32, members*slots), Litres: make([]float32, members*slots), Out: make([]int16, members)}
	}
	return t
}

// probeSum is what a member has over its days.
type probeSum struct {
	asked, got []npk
	now        []int
	larder     []float64
	hours      []float64
}

func (s *probeSum) make(m *Model) {
	n := len(m.plantings)
	s.asked, s.got, s.now, s.larder = make([]npk, n), make([]npk, n), make([]int, n), make([]float64, len(m.kinds))
	s.hours = make([]float64, (m.days-m.skip)/Fortnight)
}

func (t *Tries) close(sums []probeSum) {
	each := 1 / float64(t.Members)
	for _, s := range sums {
		for q := range t.Stands {
			d := &t.Stands[q]
			a, g := s.asked[q].times(each), s.got[q].times(each)
			for i, v := range [3]float64{a.n * (1 - d.AirN), a.p, a.k} {
				d.Asked[i] += v
			}
			for i, v := range [3]float64{g.n - a.n*d.AirN, g.p, g.k} {
				d.Got[i] += v
			}
			d.Now += float64(s.now[q]) * each
		}
		for k, kg := range s.larder {
			t.Larder[k] += kg * each
		}
		for slot, h := range s.hours {
			t.GatherHours[slot] += h * each
		}
	}
	for q := range t.Stands {
		for i, v := range t.Stands[q].Got {
			t.Stands[q].Got[i] = max(0, v)
		}
	}
}

// A prober runs the ground alone: the household's table and tanks are the plan's.
type prober struct {
	*runner
	t    *Tries
	sum  *probeSum
	i    int
	slot int
	kg   []float64 // come to the larder so far, by stand
	seed []float64 // kg set aside so far, by stand
}

func (r *prober) member(i int, w weather.Member) {
	m := r.m
	r.i = i
	r.begin(i, w)
	for d := range m.days {
		if d < m.skip {
			r.step(d)
			continue
		}
		if d == m.skip {
			r.today()
		}
		if r.slot = (d - m.skip) / Fortnight; r.slot >= r.t.Slots {
			break
		}
		r.probeDay(d)
	}
	for q := range m.plantings {
		c := &r.s.crop[q]
		r.sum.asked[q] = r.sum.asked[q].add(c.asked)
		r.sum.got[q] = r.sum.got[q].add(c.got)
	}
}

func (r *prober) today() {
	m := r.m
	r.kg = slices.Grow(r.kg[:0], len(m.plantings))[:len(m.plantings)]
	r.seed = slices.Grow(r.seed[:0], len(m.plantings))[:len(m.plantings)]
	for q := range m.plantings {
		r.kg[q], r.seed[q] = r.s.crop[q].home(), r.s.crop[q].seed
		r.t.Stands[q].Out[r.i] = int16(m.days - m.skip)
		if m.plantings[q].sow < m.skip && !r.s.crop[q].done {
			r.sum.now[q]++
		}
	}
	for k, kg := range r.s.kg {
		r.sum.larder[k] += kg
	}
}

// probeDay carries ground and what comes in beside it through a day.
func (r *prober) probeDay(d int) {
	r.day, r.without = d, r.m.without
	r.air(d)
	r.probeGround()
	clear(r.s.kg)
	clear(r.s.seed) // the household's is for its own ground
	hours := &r.s.want[r.m.after(needHours)]
	before := *hours
	for i := range r.m.patches {
		r.forage(i)
	}
	r.sum.hours[r.slot] += *hours - before
	for i := range r.m.flocks {
		r.hens(i)
	}
	for i := range r.m.hives {
		r.bees(i, &r.m.cal[d])
	}
	at := r.i * len(r.m.kinds) * r.t.Slots
	for k, kg := range r.s.kg {
		r.t.Come[at+k*r.t.Slots+r.slot] += float32(kg)
	}
	clear(r.s.kg)
	r.endDay()
}

// probeGround is ground, with what each plot was watered and each stand gave
// written down.
func (r *prober) probeGround() {
	at := r.i*r.t.Slots + r.slot
	r.wet()
	r.dry()
	r.goOn()
	for _, q := range r.wake() {
		x := &r.stood[q]
		before := r.s.led[mWater][atTanks][atSoil]
		r.water(x.q)
		r.t.Stands[x.q].Litres[at] += float32(r.s.led[mWater][atTanks][atSoil] - before)
		r.grow(x.q)
		c := &r.s.crop[x.q]
		if home := c.home(); home > r.kg[x.q] {
			r.t.Stands[x.q].Kg[at] += float32((home - r.kg[x.q]) * r.keeps(x.q))
			r.kg[x.q] = home
		}
		if c.seed > r.seed[x.q] {
			r.t.Stands[x.q].Seed[at] += float32(c.seed - r.seed[x.q])
			r.seed[x.q] = c.seed
		}
		if c.done {
			r.t.Stands[x.q].Out[r.i] = int16(r.day - r.m.skip + 1)
			if r.t.tried[x.plot] { // nothing is asked of its ground any more
				r.awake = slices.DeleteFunc(r.awake, func(i int) bool { return i == x.plot })
				r.rebare = true
			}
		}
	}
	if r.ended {
		r.thin()
	}
}

// keeps is the share of a stand's harvest that the household keeps.
func (r *prober) keeps(q int) float64 {
	if r.m.plantings[q].tree {
		return 1 - r.m.landShare
	}
	return 1
}
