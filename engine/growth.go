package engine

import (
	"math"

	"evenstead/crop"
)

// Greatest causes of a stand's loss.
const (
	causeNone = iota
	causeFrost
	causeHeat
	causeDry
	causeHungry
	causePest
	causeHands
	causeBolted
	causes
)

var causeNames = [causes]string{"", "frost", "heat", "dry ground", "hungry ground", "pests", "hours", "long days"}

// standsRipe is how long a ripe harvest waits for hands, days (common practice:
// three weeks before grain sheds and fruit drops).
const standsRipe = 21

// visitDays is how often a stand is picked; feedDays how often its uptake is
// reckoned until then.
const (
	visitDays = 3
	feedDays  = 6
)

// frostFrom is the air temperature of a night from which frost is looked for, °C.
const frostFrom = 2

// heads is the share of the way to first harvest from which heat harms.
const heads = 0.7

// grow looks at a stand: frost, uptake, picking, and the end of the season.
func (r *runner) grow(q int) {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	r.catchUp(&r.stood[q], g, c, r.day)
	if r.frozen(g, c) {
		c.cause = causeFrost
		r.end(q)
		return
	}
	if (r.day+q)%visitDays == 0 || c.picked >= 1 {
		if (r.day+q)%feedDays == 0 || c.picked > 0 {
			r.feed(q, g, c)
		}
		if c.ripe > 0 {
			c.ripe -= r.harvest(q)
		}
	}
	if r.bolted(g, c) {
		c.cause = causeBolted
		r.end(q)
		return
	}
	if c.picked >= 1 {
		c.waited++
		if !r.quiet(g.told) && (c.ripe < 0.01 || c.waited > standsRipe) {
			r.end(q)
		}
	}
	r.mind(q, g, c)
}

// halfGrown is the share of the way to first harvest from which long days make a
// crop run to seed.
const halfGrown = 0.5

// bolted tells whether a stand runs to seed today: what it has not given is lost.
func (r *runner) bolted(g *planting, c *cropState) bool {
	return g.bolts > 0 && c.frac > halfGrown+nearly && r.m.daylight[r.day] >= g.bolts
}

// frozen applies the night's frost: it kills a stand, or the blossom of a perennial.
func (r *runner) frozen(g *planting, c *cropState) bool {
	tmin := r.w.TMin[r.day]
	if tmin > frostFrom || r.without.has(NoFrost) {
		return false
	}
	if g.tree {
		if r.day >= g.bloomFrom && r.day < g.bloomTo && tmin < g.killG {
			c.bloom *= 0.4 // a night below the limit takes most open blossom (common practice)
			c.cause = causeFrost
		}
		return false
	}
	return crop.Frost(tmin, g.killG, g.killH, crop.Hardening(r.s.cool))
}

// A pacing is how a crop comes on: by degree days, or by days. Stands of a crop share
// one.
type pacing struct {
	perGDD    float64 // share of the way that a degree day brings; 0: by days
	leastPace float64 // the most a day can bring
	base      float64
	upper     float64
	optLow    float64
	days      float64
}

// on is the share of the way from sowing to first harvest that a day brings.
func (g *pacing) on(tmin, tmax float64) float64 {
	if g.perGDD > 0 { // a mild winter does not hurry a crop past its least days
		return lesser(crop.ModifiedAverage(tmin, tmax, g.base, g.upper)*g.perGDD, g.leastPace)
	}
	return warmth((tmin+tmax)/2, g.base, g.optLow) / g.days
}

// ripens is the pace at which a harvest comes ripe, of that in full warmth. What
// stands ripe is picked at a quarter of it even when it is too cold to grow.
func (g *pacing) ripens(t float64) float64 { return greater(0.25, warmth(t, g.base, g.optLow)) }

// warmth is the pace of growth at a temperature: none at the base, full from
// the low end of good growth, straight between (common practice).
func warmth(t, base, opt float64) float64 {
	if opt <= base {
		return 1
	}
	return clamp((t-base)/(opt-base), 0, 1)
}

// feed lets a stand take the nutrients its growth asks for from the plot, and
// fixed nitrogen from the air. What was missed is asked for again.
func (r *runner) feed(q int, g *planting, c *cropState) {
	s, m := r.s, r.m
	i := g.plot
	upto := g.asks.times(m.uptakeBy(g.season(c)) * r.vigour(q))
	ask := upto.sub(c.got).floor()
	c.asked = upto
	air := ask.n * g.fixed
	want := npk{ask.n - air, ask.p, ask.k}
	got := want
	if r.without.has(NoHunger) {
		s.mineral[i] = s.mineral[i].add(want)
		s.led.npk(atTrade, atSoil, want)
	} else {
		got = want.within(s.mineral[i].times(g.share))
	}
	s.mineral[i] = s.mineral[i].sub(got)
	s.led.npk(atSoil, atPlants, got)
	s.led.flow(mN, atAir, atPlants, air)
	all := npk{got.n + air, got.p, got.k}
	r.book(i, byFixing, npk{n: air})
	c.got = c.got.add(all)
	c.pool = c.pool.add(all)
}

// uptakeSteps is how finely the curve of uptake is laid out; between, it is read
// straight.
const uptakeSteps = 256

// layUptake lays out crop.NitrogenUptake once.
func layUptake() (curve [uptakeSteps + 2]float64) {
	for i := range curve {
		curve[i] = crop.NitrogenUptake(min(1, float64(i)/uptakeSteps))
	}
	return curve
}

// uptakeBy is the share of a season's nutrients asked for by a share of it.
func (m *Model) uptakeBy(season float64) float64 {
	at := season * uptakeSteps
	i := int(at)
	return m.uptake[i] + (at-float64(i))*(m.uptake[i+1]-m.uptake[i])
}

// vigour is the luck of a stand: its year, its bed, its pests.
func (r *runner) vigour(q int) float64 {
	return r.luck.crop[q] * r.luck.pest[q]
}

// standing is the share of a stand's usual harvest that its season so far
// allows, with the limit that took most.
func (r *runner) standing(g *planting, c *cropState) (share float64, cause int) {
	c.drank(r.s.et0)
	dry, fed := g.watered(c), 1.0
	if !r.without.has(NoHunger) {
		fed = c.got.least(c.asked)
	}
	hot := max(0.2, 1-0.03*c.heat) // each day over the limit at heading costs 3 % (common practice)
	tended := 0.6 + 0.4*r.s.tended // an unweeded bed gives about three fifths (common practice)
	share = dry * fed * hot * c.bloom * tended
	return share, worst(c.bloom, hot, dry, fed, tended)
}

// watered is the share of its yield that want of water leaves a stand: by stage
// where that is printed, the stages multiplied (FAO 33), else by the whole season.
func (g *planting) watered(c *cropState) float64 {
	if g.crop.KyStage[0] == 0 {
		lack, wanted := 0.0, 0.0
		for i := range c.etm {
			lack += c.lack[i]
			wanted += c.etm[i]
		}
		if wanted == 0 {
			return 1
		}
		return crop.YieldResponse(g.ky, 1-lack/wanted)
	}
	share := 1.0
	for i, wanted := range c.etm {
		if wanted > 0 {
			share *= crop.YieldResponse(g.crop.KyStage[i], 1-c.lack[i]/wanted)
		}
	}
	return share
}

// worst names the limit that takes most, none when each leaves 97 in 100.
func worst(bloom, hot, dry, fed, tended float64) int {
	cause, least := causeNone, 0.97
	if bloom < least {
		cause, least = causeFrost, bloom
	}
	if hot < least {
		cause, least = causeHeat, hot
	}
	if dry < least {
		cause, least = causeDry, dry
	}
	if fed < least {
		cause, least = causeHungry, fed
	}
	if tended < least {
		cause = causeHands
	}
	return cause
}

// pick carries home a share of a stand's harvest, as far as hours go, and returns
// the share taken; the rest waits.
func (r *runner) pick(q int, ripe float64) float64 {
	m, s := r.m, r.s
	g, c := &m.plantings[q], &s.crop[q]
	k := &m.kinds[g.kind]
	share, cause := r.standing(g, c)
	if cause != causeNone && c.cause == causeNone {
		c.cause = cause
	}
	if r.luck.pest[q] < 1 {
		c.cause = causePest
	}
	kg := g.yield * r.vigour(q) * share * ripe
	done := r.spend(kg * g.pickHours)
	kg *= done
	kg = min(kg, c.pool.most(k.has))
	out := k.has.times(kg)
	c.pool = c.pool.sub(out).floor()
	r.book(g.plot, byHarvest, out)
	if kg > 0 && c.first < 0 {
		c.first = r.day - m.skip
	}
	c.kg += kg
	s.led.flow(mMass, atAir, atPlants, kg)
	s.led.flow(mEnergy, atSky, atPlants, kg*k.mj)
	kg -= r.setAside(g, c, kg)
	r.bookIn(g.kind, kg, atPlants)
	if g.tree {
		r.give(g.kind, kg*m.landShare)
		kg -= kg * m.landShare
	}
	r.store(g.kind, kg)
	return ripe * done
}

// give hands food to the landowner, straight from the harvest.
func (r *runner) give(k int, kg float64) {
	kind := &r.m.kinds[k]
	r.s.led.flow(mMass, atLarder, atTrade, kg)
	r.s.led.flow(mEnergy, atLarder, atTrade, kg*kind.mj)
	r.s.led.npk(atLarder, atTrade, kind.has.times(kg))
}

// end takes a stand out: what is left of it goes back to its plot as litter.
func (r *runner) end(q int) {
	m, s := r.m, r.s
	g, c := &m.plantings[q], &s.crop[q]
	c.done = true
	r.ended = true
	if r.kept != nil {
		r.kept.harvested(r, q)
	}
	s.organic[g.plot] = s.organic[g.plot].add(c.pool)
	s.led.npk(atPlants, atSoil, c.pool)
	c.pool = npk{}
	straw := g.yield * g.residue * min(1, c.frac)
	s.litter[g.plot] += straw
	s.led.flow(mMass, atAir, atPlants, straw)
	s.led.flow(mMass, atPlants, atSoil, straw)
}

// floor lifts rounding below zero to zero.
func (a npk) floor() npk { return npk{greater(0, a.n), greater(0, a.p), greater(0, a.k)} }

// within is a, no more than b in any part.
func (a npk) within(b npk) npk {
	return npk{lesser(a.n, b.n), lesser(a.p, b.p), lesser(a.k, b.k)}
}

// least is the smallest share of b that a covers, at most 1.
func (a npk) least(b npk) float64 {
	return fewest(a.n, b.n, fewest(a.p, b.p, fewest(a.k, b.k, 1)))
}

// most is how many times each fits into a.
func (a npk) most(each npk) float64 {
	return fewest(a.n, each.n, fewest(a.p, each.p, fewest(a.k, each.k, math.Inf(1))))
}

// fewest is how many times b fits into a, at most so many; without b, so many.
func fewest(a, b, most float64) float64 {
	if b > 0 && a < most*b {
		return a / b
	}
	return most
}
