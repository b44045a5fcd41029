package engine

import (
	"math"
	"math/bits"

	"evenstead/crop"
)

// Stands are in the ground for months and for most of that time only come nearer to
// their harvest, all of a crop at one pace. So paces are summed by crop, and a stand is
// looked at only when something may befall it: when it is fed, picked, watered, or a
// night or a day harms it. Its life is then brought up to date by what the sum has
// grown since.

// A stood is a stand that is in the ground, with what most of its days ask for.
type stood struct {
	q, plot      int
	sizes        int     // day on which it is next sized up
	pace         int     // of the model's paces; -1: timed by the calendar
	thirsts      bool    // its plot is watered
	share, p     float64 // as of the planting
	kc           float64 // as last sized up
	taw          float64
	f1, f2       float64
	easy         float64 // mm of deficit that no crop feels
	t1, t2, area float64 // as of the plot
	heat         float64 // °C that it can't bear
	kills        float64 // °C below which frost may harm it
	at           float64 // sum of its pace up to which its life is reckoned,
	seen         int     // or of a perennial the day
}

// A wax is what days brought to the stands on a pace.
type wax struct {
	pacing
	perDegree float64 // 1 / (optLow - base)
	way       float64 // sum of the shares of the way to first harvest
	warm      float64 // sum of the paces of ripening, while a stand bears
	watch     float64 // way by which the next stand comes into harvest, but for rounding
	goes      bool    // a stand is on it
	ripe      bool    // a stand on it bears
}

// grow adds a day's paces, as pacing.on and pacing.ripens have them.
func (x *wax) grow(tmin, tmax, mean float64) {
	warm := 1.0
	if x.optLow > x.base {
		warm = lesser(1, greater(0, (mean-x.base)*x.perDegree))
	}
	if x.perGDD > 0 {
		x.way += lesser(crop.ModifiedAverage(tmin, tmax, x.base, x.upper)*x.perGDD, x.leastPace)
	} else {
		x.way += warm / x.days
	}
	if x.ripe {
		x.warm += greater(0.25, warm)
	}
}

// awaits notes the way by which a stand comes into harvest.
func (x *wax) awaits(way float64) { x.watch = min(x.watch, way-nearly) }

// makeStands makes room for the stands of the model.
func (r *runner) makeStands() {
	n, paces := len(r.m.plantings), len(r.m.paces)
	r.stood, r.here, r.due = make([]stood, n), make([]int32, 0, n), make([]int32, 0, n)
	r.waxes, r.paced = make([]wax, paces), make([]int, 0, paces)
	for i, p := range r.m.paces {
		r.waxes[i] = wax{pacing: p, perDegree: 1 / (p.optLow - p.base)}
	}
	r.alive, r.bears, r.minds, r.calls = newSet(n), newSet(n), newSet(n), newSet(n)
	r.leads = make([]int32, len(r.m.plots))
}

// still sets every pace to nothing.
func (r *runner) still() {
	for i := range r.waxes {
		x := &r.waxes[i]
		x.way, x.warm, x.watch, x.goes, x.ripe = 0, 0, math.Inf(1), false, false
	}
}

// noStands takes all stands off the list.
func (r *runner) noStands() {
	r.here, r.paced = r.here[:0], r.paced[:0]
	r.still()
	clear(r.calls)
}

// muster lists the stands that are in the ground today, in the order of plots.
func (r *runner) muster() {
	m := r.m
	r.upTo(r.day - 1)
	r.here, r.paced, r.sown = r.here[:0], r.paced[:0], 0
	r.kills, r.hot, r.opens = math.Inf(-1), math.Inf(1), math.MaxInt
	r.still()
	clear(r.alive)
	clear(r.bears)
	clear(r.minds)
	for q := range m.plantings {
		if r.stands(q) {
			r.here = append(r.here, int32(q))
			r.enter(q)
		}
	}
	for r.sown < len(m.sowings) && m.plantings[m.sowings[r.sown]].sow <= r.day {
		r.sown++
	}
	for i := range m.plots {
		r.lead(i)
	}
}

// sow lists what is sown today.
func (r *runner) sow() {
	m := r.m
	for ; r.sown < len(m.sowings) && m.plantings[m.sowings[r.sown]].sow <= r.day; r.sown++ {
		q := m.sowings[r.sown]
		if !r.stands(q) {
			continue
		}
		at := len(r.here)
		r.here = append(r.here, int32(q))
		for ; at > 0 && int(r.here[at-1]) > q; at-- {
			r.here[at] = r.here[at-1]
		}
		r.here[at] = int32(q)
		r.enter(q)
		r.lead(m.plantings[q].plot)
	}
}

// enter readies a stand for the list.
func (r *runner) enter(q int) {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	p := &r.m.plots[g.plot]
	t := &r.stood[q]
	*t = stood{q: q, plot: g.plot, sizes: r.day, pace: g.pace, seen: r.day - 1,
		thirsts: p.irrigated, share: g.share, p: g.p, kc: c.kc, taw: c.z.taw, f1: c.z.f1, f2: c.z.f2, easy: leastDepletion * c.z.taw,
		t1: p.t1, t2: p.t2, area: p.area, heat: math.Inf(1), kills: g.killG}
	if c.z.taw > 0 {
		t.sizes += (sizeDays - (r.day+q)%sizeDays) % sizeDays
	}
	if g.sow == r.day {
		r.useSeed(g, c)
	}
	r.alive.set(q)
	r.kills = max(r.kills, t.kills)
	if g.tree {
		r.opens = min(r.opens, g.begins)
	} else {
		r.paces(t, g, c)
	}
	r.mind(q, g, c)
}

// paces puts an annual on its crop's pace.
func (r *runner) paces(t *stood, g *planting, c *cropState) {
	if !math.IsNaN(g.heatLimit) {
		t.heat = g.heatLimit
		r.hot = min(r.hot, t.heat)
	}
	x := &r.waxes[g.pace]
	if !x.goes {
		x.goes = true
		r.paced = append(r.paced, g.pace)
	}
	if t.at = x.warm; c.frac >= 1 {
		x.ripe = true
	} else {
		t.at = x.way
		x.awaits(t.at + 1 - c.frac)
	}
}

// mind notes how often a stand is to be looked at: each day as its harvest ends and
// where long days may end it, when it is picked while it bears, else when it is fed.
func (r *runner) mind(q int, g *planting, c *cropState) {
	bears := c.frac >= 1
	if bears {
		r.bears.set(q)
	}
	if g.bolts > 0 || bears && (1-c.picked)*g.span <= visitDays {
		r.minds.set(q)
	}
}

// thin takes the stands off the list that have ended.
func (r *runner) thin() {
	r.ended = false
	kept := 0
	for _, q := range r.here {
		if r.s.crop[q].done {
			r.alive.unset(int(q))
			r.bears.unset(int(q))
			r.minds.unset(int(q))
			r.lead(r.m.plantings[q].plot)
			continue
		}
		r.here[kept] = q
		kept++
	}
	r.here = r.here[:kept]
}

// lead finds the first stand of a plot and the ground that its stands leave bare.
func (r *runner) lead(i int) {
	p, bare := &r.m.plots[i], 1.0
	r.leads[i] = -1
	for q := p.last - 1; q >= p.first; q-- {
		if r.stands(q) {
			r.leads[i] = int32(q)
			bare -= r.stood[q].share
		}
	}
	r.bare[i], r.rebare = max(0, bare), true
}

// growAll carries the stands through the day in the order of plots, for they draw on
// tanks and hours: watering, growth, harvest and death.
func (r *runner) growAll() {
	r.goOn()
	for _, q := range r.wake() {
		r.water(int(q))
		r.grow(int(q))
	}
	if r.ended {
		r.thin()
	}
}

// goOn sums the day's paces, and finds what comes into harvest by them.
func (r *runner) goOn() {
	tmin, tmax := r.w.TMin[r.day], r.w.TMax[r.day]
	if tmax > r.hot {
		r.scorch(tmax)
	}
	t, waxes := (tmin+tmax)/2, r.waxes
	for _, i := range r.paced {
		if uint(i) >= uint(len(waxes)) {
			break
		}
		x := &waxes[i]
		x.grow(tmin, tmax, t)
		if x.way >= x.watch {
			r.turn(i)
		}
	}
	if r.day >= r.opens {
		r.bear()
	}
}

// scorch counts a hot day for the stands that it harms.
func (r *runner) scorch(tmax float64) {
	for _, q := range r.here {
		if t := &r.stood[q]; tmax > t.heat && !r.bears.has(int(q)) && r.toward(int(q)) > heads+nearly {
			r.s.crop[q].heat++
		}
	}
}

// turn brings stands on a pace into harvest, and finds the next that will be.
func (r *runner) turn(pace int) {
	x := &r.waxes[pace]
	x.watch = math.Inf(1)
	for _, q := range r.here {
		t, g, c := &r.stood[q], &r.m.plantings[q], &r.s.crop[q]
		if t.pace != pace || c.frac >= 1 {
			continue
		}
		if r.catchUp(t, g, c, r.day); c.frac >= 1 {
			r.mind(int(q), g, c)
			continue
		}
		x.awaits(t.at + 1 - c.frac)
	}
}

// bear brings perennials into harvest, and finds the next that will be.
func (r *runner) bear() {
	r.opens = math.MaxInt
	for _, q := range r.here {
		g := &r.m.plantings[q]
		switch {
		case !g.tree || r.bears.has(int(q)):
		case g.begins > r.day:
			r.opens = min(r.opens, g.begins)
		default:
			c := &r.s.crop[q]
			r.catchUp(&r.stood[q], g, c, r.day)
			r.mind(int(q), g, c)
		}
	}
}

// wake lists the stands that are to be looked at today.
func (r *runner) wake() []int32 {
	if tmin := r.w.TMin[r.day]; tmin <= r.kills {
		for _, q := range r.here {
			if tmin <= r.stood[q].kills {
				r.calls.set(int(q))
			}
		}
	}
	r.due = r.due[:0]
	fed, visited := r.m.fed[r.day%feedDays], r.m.visited[r.day%visitDays]
	for w, alive := range r.alive {
		due := alive & (fed[w] | r.minds[w] | r.bears[w]&visited[w] | r.calls[w])
		for r.calls[w] = 0; due != 0; due &= due - 1 {
			r.due = append(r.due, int32(w*64+bits.TrailingZeros64(due)))
		}
	}
	return r.due
}

// upTo brings the life of every stand up to a day.
func (r *runner) upTo(day int) {
	for _, q := range r.here {
		r.catchUp(&r.stood[q], &r.m.plantings[q], &r.s.crop[q], day)
		r.stood[q].at = 0
	}
	for _, i := range r.paced {
		x := &r.waxes[i]
		x.watch -= x.way
		x.way, x.warm = 0, 0
	}
}

// catchUp brings a stand's life up to a day: today, or yesterday while today's paces
// are not summed.
func (r *runner) catchUp(t *stood, g *planting, c *cropState, day int) {
	switch {
	case g.tree:
		c.season(t, g, day)
	case c.frac < 1:
		x := &r.waxes[t.pace]
		c.frac += x.way - t.at
		if t.at = x.way; c.frac >= 1-nearly {
			c.frac, t.at, x.ripe = 1, x.warm, true
		}
	default:
		x := &r.waxes[t.pace]
		c.ripens((x.warm - t.at) / g.span)
		t.at = x.warm
	}
}

// season times a perennial by the dates its harvest is usual here.
func (c *cropState) season(t *stood, g *planting, day int) {
	if day < g.begins {
		c.frac = min(1, float64(day-g.sow+1)/float64(g.begins-g.sow))
		return
	}
	c.frac = 1
	c.ripens(float64(day-max(t.seen, g.begins-1)) / g.span)
	t.seen = day
}

// toward is the share of the way to first harvest that a stand has come.
func (r *runner) toward(q int) float64 {
	c, t := &r.s.crop[q], &r.stood[q]
	if t.pace < 0 || c.frac >= 1 || !r.alive.has(q) {
		return c.frac
	}
	return min(1, c.frac+r.waxes[t.pace].way-t.at)
}

// nearly is what rounding may leave of a whole.
const nearly = 1e-9

// ripens lets a share of a stand's harvest come ripe, no more than is left of it.
func (c *cropState) ripens(share float64) {
	if left := 1 - c.picked; share >= left-nearly {
		c.picked, c.ripe = 1, c.ripe+left
		return
	}
	c.picked += share
	c.ripe += share
}

// A set is of stands, a bit for each.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 != 0 }
func (s set) set(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) unset(i int)    { s[i/64] &^= 1 << (i % 64) }

// turnsOf lays out the stands whose turn it is on each of so many days.
func turnsOf(stands, days int) []set {
	out := make([]set, days)
	for d := range out {
		out[d] = newSet(stands)
		for q := range stands {
			if (d+q)%days == 0 {
				out[d].set(q)
			}
		}
	}
	return out
}
