package engine

import (
	"evenstead/crop"
	"evenstead/weather"
)

// A runner carries one member at a time through its days; each worker has one.
type runner struct {
	m         *Model
	s         *state
	luck      luck
	w         weather.Member
	in        []float64 // L led to each plot today beside rain
	here      []int     // stands in the plot at hand
	have      []int32   // kinds in store, soonest to go first
	stale     bool      // a kind came in since have was listed
	listed    []bool    // kinds in have
	left      []float64 // days left by kind, as last ranked
	daily     []float64 // share of a kind that uses it up over those days
	eatenHas  npk       // today
	eatenKg   float64
	refuseHas npk // today, of what was eaten
	refuseKg  float64
	ready     []int   // plots that may take what is to be spread
	drunk     float64 // L today
	drawn     float64 // L from outside today
	vapour    float64 // L gone from the ground today
	thirst    float64 // mm the driest stand of the plot at hand lacks; 0: none is thirsty
	heat      float64 // MJ asked of the cookers today
	day       int
	member    int
	without   Without // loops away today
	cuts      int
	said      said      // what the book says of today
	kept      *kept     // what a replay keeps; nil in a run ahead
	beds      *bedBook  // what moves to and from each plot; nil: nobody asks
	poured    []float64 // L watered from each group today; nil: nobody asks
}

func newRunner(m *Model) *runner {
	return &runner{m: m, s: m.first.clone(), in: make([]float64, len(m.plots)), left: make([]float64, len(m.kinds)), daily: make([]float64, len(m.kinds)),
		here: make([]int, 0, len(m.plantings)), have: make([]int32, 0, len(m.kinds)), listed: make([]bool, len(m.kinds)), ready: make([]int, 0, len(m.plots)),
		said: said{laid: make([]float64, len(m.flocks))}}
}

// begin sets the runner to the first morning of a member.
func (r *runner) begin(member int, w weather.Member) {
	r.s.copyFrom(r.m.first)
	r.w = w
	r.member = member
	r.luck.draw(r.m, member)
	r.cuts = 0
	r.stale = true
	r.eatenHas, r.eatenKg = npk{}, 0
	r.endDay()
}

// endDay clears what holds for one day only.
func (r *runner) endDay() {
	r.heat, r.drunk, r.drawn = 0, 0, 0
	r.said.clear()
}

// step carries the stead through one day, in the order of docs/model.md.
func (r *runner) step(day int) {
	r.day = day
	if day > 0 && day%365 == 0 && r.kept == nil {
		r.luck.turn(r.m, r.member, day/365)
	}
	r.without = r.m.without | r.m.trial.taken(day-r.m.skip)
	plan := &r.m.cal[day]
	clear(r.in)
	r.openWeek(plan)
	r.air(day)
	r.hands(plan)
	r.catch()
	r.draw(plan)
	r.ground()
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
