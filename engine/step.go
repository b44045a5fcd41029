package engine

import (
	"evenstead/crop"
	"evenstead/weather"
)

// A runner carries one member at a time through its days; each worker has one.
type runner struct {
	m        *Model
	s        *state
	luck     luck
	w        weather.Member
	in       []float64           // L led to each plot today beside rain and rinse
	rinse    float64             // mm led to the plots that urine goes to
	here     []int32             // stands in the ground, in the order of plots
	stood    []stood             // what most days ask of each, by planting
	sown     int                 // of the model's sowings, how many are past
	afresh   bool                // the list of stands is to be made anew
	ended    bool                // a stand on the list has ended
	paced    []int               // paces of the stands on the list
	led      []int               // plots that water is led to today
	blocked  [spreadings][]int32 // by plot, 1 + the stand that keeps a thing off it
	waxes    []wax               // by the model's paces
	alive    set                 // stands on the list
	bears    set                 // of them those in harvest,
	minds    set                 // those to be looked at every day,
	calls    set                 // and those to be looked at today
	due      []int32             // stands looked at today
	leads    []int32             // first stand of each plot; -1: none
	kills    float64             // °C from which frost may harm a stand
	hot      float64             // °C above which heat may
	opens    int                 // day on which the next perennial comes into harvest
	awake    []int               // plots that are carried through the day: all, but in a probe
	bare     []float64           // share of its ground that each plot's stands leave bare
	bares    []bareGround        // plots with any
	rebare   bool                // they are to be listed anew
	thirst   []float64           // mm the driest stand of each watered plot lacks; 0: none is thirsty
	have     []int32             // kinds in store, soonest to go first
	stale    bool                // have is to be listed anew
	listed   []bool              // kinds in have
	lots     []lot               // kinds at the table
	crowds   []float64           // how many times faster food ages in a place for want of room
	classCap [classes]float64    // kg of a class
	came     []int32             // kinds that came in since, not on the list yet
	eaten    helping             // today
	bites    []bite              // of it
	ready    []int               // plots that may take what is to be spread
	drunk    float64             // L today
	drawn    float64             // L from outside today
	drains   float64             // mm of the last plot that drained,
	held     float64             // mm it holds,
	leaches  float64             // and the share of its nitrate that went along
	heat     float64             // MJ asked of the cookers today
	boiled   float64             // MJ asked to boil water, since the member's first day
	day      int
	member   int
	without  Without // loops away today
	cuts     int
	said     said      // what the book says of today
	kept     *kept     // what a replay keeps; nil in a run ahead
	beds     *bedBook  // what moves to and from each plot; nil: nobody asks
	poured   []float64 // L watered from each group today; nil: nobody asks
}

func newRunner(m *Model) *runner {
	r := &runner{m: m, s: m.first.clone(), in: make([]float64, len(m.plots)), lots: m.lots(), crowds: make([]float64, len(m.places)),
		awake: make([]int, 0, len(m.plots)), bare: make([]float64, len(m.plots)), thirst: make([]float64, len(m.plots)), have: make([]int32, 0, len(m.kinds)), came: make([]int32, 0, len(m.kinds)), bites: make([]bite, 0, 3*len(m.kinds)), listed: make([]bool, len(m.kinds)), ready: make([]int, 0, len(m.plots)),
		said: said{laid: make([]float64, len(m.flocks))}}
	r.makeStands()
	r.led, r.bares = make([]int, 0, len(m.plots)), make([]bareGround, 0, len(m.plots))
	for what := range r.blocked {
		r.blocked[what] = make([]int32, len(m.plots))
	}
	return r
}

// glance looks at a state on a day, without running it on.
func (m *Model) glance(s *state, day int) *runner {
	r := newRunner(m)
	r.s, r.day = s, day
	for i := range r.crowds {
		r.crowd(i)
	}
	return r
}

// begin sets the runner to the first morning of a member.
func (r *runner) begin(member int, w weather.Member) {
	r.s.copyFrom(r.m.first)
	r.w = w
	r.member = member
	r.luck.draw(r.m, member)
	r.cuts, r.boiled = 0, 0
	r.stale, r.afresh = true, true
	r.noStands()
	for what := range r.blocked {
		clear(r.blocked[what])
	}
	r.awake = r.awake[:0]
	for i := range r.m.plots {
		r.awake = append(r.awake, i)
	}
	r.eaten = helping{}
	for k, kg := range r.s.kg {
		r.listed[k] = kg > 0
		r.tire(k)
	}
	for i := range r.crowds {
		r.crowd(i)
	}
	r.plates()
	r.endDay()
}

// endDay clears what holds for one day only.
func (r *runner) endDay() {
	r.heat, r.drunk, r.drawn, r.rinse = 0, 0, 0, 0
	r.said.clear()
}

// step carries the stead through one day, in the order of docs/model.md.
func (r *runner) step(day int) {
	r.pass(day)
	r.upTo(day)
}

// pass is a step that leaves stands at the day on which they were last looked at.
func (r *runner) pass(day int) {
	plan := &r.m.cal[day]
	r.dawn(day)
	for _, phase := range phases {
		phase(r, plan)
	}
	r.endDay()
}

// phases are the parts of a day in their order. Members that go together go through
// each before the next, which costs less than a day of one after a day of another:
// what the processor has learned of a phase serves them all.
var phases = [...]func(*runner, *dayPlan){
	func(r *runner, plan *dayPlan) {
		r.openWeek(plan)
		r.air(r.day)
		r.hands(plan)
		r.catch()
		r.draw(plan)
	},
	func(r *runner, _ *dayPlan) { r.wet() },
	func(r *runner, _ *dayPlan) { r.dry() },
	func(r *runner, _ *dayPlan) { r.growAll() },
	(*runner).gather,
	(*runner).keep,
	(*runner).eat,
	func(r *runner, plan *dayPlan) {
		r.cook(plan)
		r.digest()
		r.returnWastes(plan)
		r.spread(plan)
		r.cold()
		r.light()
	},
}

// dawn begins a day.
func (r *runner) dawn(day int) {
	r.day = day
	if day > 0 && day%365 == 0 && r.kept == nil {
		r.luck.turn(r.m, r.member, day/365)
	}
	r.without = r.m.without | r.m.trial.taken(day-r.m.skip)
	for _, i := range r.led {
		r.in[i] = 0
	}
	r.led = r.led[:0]
}

// air follows the running mean of air temperature that hardens plants.
func (r *runner) air(day int) {
	r.s.cool = crop.Trail(r.s.cool, (r.w.TMin[day]+r.w.TMax[day])/2, crop.HardenDays)
}

func (r *runner) mean() float64 { return (r.w.TMin[r.day] + r.w.TMax[r.day]) / 2 }

// need books what was asked and what was had of a need.
func (r *runner) need(n int, want, got float64) {
	r.s.want[n] += want
	r.s.got[n] += got
}
