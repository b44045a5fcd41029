package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"evenstead/day"
)

// A Generator makes daily weather of a place's kind, after Richardson (1981):
// rain comes and goes as a first-order Markov chain, wet days' amounts are gamma,
// and both temperatures are seasonal means, apart for wet and dry days, plus
// lagged residuals that hang together. A factor common to each year's amounts
// gives whole years their spread.
type Generator struct {
	p01, p11   [12]float64
	amount     [12]float64 // mean of a wet day, mm
	shape      [12]float64
	yearSpread float64 // coefficient of variation of the year's factor
	tmin, tmax Curve
	sdMin      [12]float64 // of residuals, °C
	sdMax      [12]float64
	wetMin     float64 // wet days' mean less dry days' mean, °C
	wetMax     float64
	residual   pair
	notes      []string

	mu     sync.Mutex // guards what follows
	site   Site
	summed *usual // of the site; nil: not yet
}

// What normals do not tell.
const (
	usualShape  = 0.7  // gamma shape of wet days; fitted at Gainesville, Florida, it runs from 0.60 to 0.73 (computed, method of Thom)
	usualWetMax = -1.4 // °C, tmax of wet days less dry days, Seattle 2012-2015 (computed)
	usualWetMin = 1.3  // °C, the same of tmin (computed)
)

// The average correlations of the United States behind the matrices of Richardson
// and Wright (1984), WGEN, ARS-8 (from memory): tmax with tmin, then tmax and tmin
// (rows) with both on the day before.
const usualCross = 0.633

var usualLag = [2][2]float64{{0.621, 0.445}, {0.563, 0.674}}

// NewGenerator makes a generator from normals. Chances of rain follow from the
// share of wet days π and the persistence r: P01 = π(1 - r), P11 = P01 + r. The
// gamma shape is 0.7 and the residuals' correlations are the average ones of the
// United States; wet days are 1.4 °C cooler at their warmest and 1.3 °C warmer at
// their coldest than dry ones. It errs on normals that cannot be, naming the month.
func NewGenerator(n Normals) (*Generator, error) {
	if err := n.check(); err != nil {
		return nil, err
	}
	residual, err := newPair(usualCross, usualLag)
	if err != nil {
		return nil, err
	}
	g := &Generator{tmin: MonthCurve(n.TMin), tmax: MonthCurve(n.TMax),
		wetMin: usualWetMin, wetMax: usualWetMax, residual: residual}
	for m := range 12 {
		π := n.WetDays[m] / float64(monthDays[m])
		g.p01[m] = π * (1 - n.Persistence)
		g.p11[m] = g.p01[m] + n.Persistence
		g.shape[m] = usualShape
		if n.WetDays[m] > 0 {
			g.amount[m] = n.Rain[m] / n.WetDays[m]
		}
	}
	g.sdMin = g.residuals(n.TMinSD, g.wetMin, &g.tmin)
	g.sdMax = g.residuals(n.TMaxSD, g.wetMax, &g.tmax)
	g.spreadYears(n.RainCV)
	g.notes = append(g.notes, fmt.Sprintf("Weather made from monthly normals: first-order chain of wet and dry days, "+
		"gamma amounts of shape %g, two lagged temperatures.", usualShape))
	return g, nil
}

// residuals takes from the daily spread about a month's mean what the season
// within the month and the wet and dry days make of it; a quarter is always left.
func (g *Generator) residuals(sd, wet float64, c *Curve) (out [12]float64) {
	months := c.Months()
	var season [12]mean
	for slot, v := range c {
		d := v - months[monthOf[slot]]
		season[monthOf[slot]].add(d * d)
	}
	for m := range out {
		π := WetShare(g.p01[m], g.p11[m])
		rest := sd*sd - season[m].value() - wet*wet*π*(1-π)
		out[m] = math.Sqrt(max(sd*sd/4, rest))
	}
	return out
}

// spreadYears sets the year's factor so that, with what chain and amounts give by
// themselves, yearly rain varies by cv. For independent factors the squares of the
// coefficients of variation obey 1 + cv² = (1 + cv0²)(1 + cvF²).
func (g *Generator) spreadYears(cv float64) {
	total, variance := 0.0, 0.0
	for m, days := range monthDays {
		π := WetShare(g.p01[m], g.p11[m])
		wet := float64(days) * π
		total += wet * g.amount[m]
		variance += g.amount[m] * g.amount[m] * (wet/g.shape[m] + WetDaysVariance(float64(days), g.p01[m], g.p11[m]))
	}
	if total == 0 {
		return
	}
	own := variance / (total * total)
	g.yearSpread = math.Sqrt(max(0, (cv*cv-own)/(1+own)))
	if g.yearSpread == 0 && cv > 0 {
		g.notes = append(g.notes, fmt.Sprintf("Daily chance alone makes yearly rain vary by %.0f %%, more than the %.0f %% asked for.",
			100*math.Sqrt(own), 100*cv))
	}
}

// shift is what a wet or a dry day adds to the month's mean, so that the mean is kept.
func (g *Generator) shift(m int, isWet bool, wet float64) float64 {
	π := WetShare(g.p01[m], g.p11[m])
	if isWet {
		return wet * (1 - π)
	}
	return -wet * π
}

// A step is what the generator needs of one day, laid out before the members run.
type step struct {
	p01, p11, scale float64
	amount          gamma
	hi, lo          [2]float64 // means of dry and wet days
	sdHi, sdLo      float64
}

func (g *Generator) steps(h *horizon) []step {
	out := make([]step, h.days)
	for t := range out {
		slot := h.slot[t]
		m := monthOf[slot]
		s := &out[t]
		s.p01, s.p11 = g.p01[m], g.p11[m]
		s.amount, s.scale = newGamma(g.shape[m]), g.amount[m]/g.shape[m]
		s.sdHi, s.sdLo = g.sdMax[m], g.sdMin[m]
		for wet := range 2 {
			s.hi[wet] = g.tmax[slot] + g.shift(m, wet == 1, g.wetMax)
			s.lo[wet] = g.tmin[slot] + g.shift(m, wet == 1, g.wetMin)
		}
	}
	return out
}

// leastRange parts the extremes of a made day, °C.
const leastRange = 0.2

// run makes one member's rain and temperatures.
func (g *Generator) run(steps []step, rng *rand.Rand, m *Member) {
	year := g.yearFactor()
	factor := year(rng)
	p := WetShare(steps[0].p01, steps[0].p11)
	hi, lo := g.residual.start(rng.NormFloat64(), rng.NormFloat64())
	for t := range steps {
		s := &steps[t]
		if t > 0 {
			hi, lo = g.residual.next(hi, lo, rng.NormFloat64(), rng.NormFloat64())
		}
		if t > 0 && t%YearSlots == 0 {
			factor = year(rng)
		}
		wet := 0
		if m.Rain[t] = 0; rng.Float64() < p {
			wet = 1
			m.Rain[t] = factor * s.scale * s.amount.draw(rng)
		}
		p = s.after(steps, t, wet)
		m.TMax[t], m.TMin[t] = s.hi[wet]+s.sdHi*hi, s.lo[wet]+s.sdLo*lo
		part(m, t)
	}
}

// after is the chance of rain on the next day.
func (s *step) after(steps []step, t, wet int) float64 {
	if t+1 < len(steps) {
		s = &steps[t+1]
	}
	if wet == 1 {
		return s.p11
	}
	return s.p01
}

// part keeps tmin below tmax without moving their mean.
func part(m *Member, t int) {
	if m.TMax[t]-m.TMin[t] < leastRange {
		mid := MeanTemp(m.TMin[t], m.TMax[t])
		m.TMin[t], m.TMax[t] = mid-leastRange/2, mid+leastRange/2
	}
}

// yearFactor draws the factor of a year's amounts: gamma of mean 1.
func (g *Generator) yearFactor() func(*rand.Rand) float64 {
	if g.yearSpread == 0 {
		return func(*rand.Rand) float64 { return 1 }
	}
	shape := 1 / (g.yearSpread * g.yearSpread)
	draws := newGamma(shape)
	return func(rng *rand.Rand) float64 { return draws.draw(rng) / shape }
}

// Ensemble makes n possible courses of the days from start. Member i depends only
// on the seed and i.
func (g *Generator) Ensemble(site Site, start day.Day, days, n int, seed uint64) (*Ensemble, error) {
	h, err := newHorizon(site, start, days, n)
	if err != nil {
		return nil, err
	}
	e := h.ensemble(n)
	e.generator = g
	e.Notes = append(e.Notes, g.notes...)
	e.Notes = append(e.Notes, site.note())
	steps := g.steps(h)
	each(n, func(i int) {
		m := &e.Members[i]
		m.Label = fmt.Sprintf("made %d", i+1)
		g.run(steps, source(seed, i), m)
		h.finish(m)
	})
	return e, nil
}

// FromNormals makes n possible courses of the days from start out of monthly
// normals. The same seed gives the same bytes.
func FromNormals(n Normals, site Site, start day.Day, days, members int, seed uint64) (*Ensemble, error) {
	g, err := NewGenerator(n)
	if err != nil {
		return nil, err
	}
	return g.Ensemble(site, start, days, members, seed)
}
