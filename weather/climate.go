package weather

import (
	"math"
	"time"

	"evenstead/day"
)

// A Climate is what a place's weather is like through the year, on the 365-day
// calendar (see Slot), and when its frosts end and begin.
type Climate struct {
	TMin, TMax  Curve // °C
	Rain        Curve // mm/d
	ET0         Curve // mm/d
	LastSpring  Frosts
	FirstAutumn Frosts // both at 0 °C
}

// smoothing is half the width of the running mean over the calendar, days.
const smoothing = 15

// Climate returns the mean year, each day the mean of the 31 about it, and the
// frosts at 0 °C: of the whole record or of the normals that the members came
// from, or of the members themselves when they came from neither. It may reckon
// anew each time; keep the result.
func (e *Ensemble) Climate() Climate {
	var c Climate
	switch {
	case e.record != nil:
		c = seasonOf(newSource(e.record, e.site))
	case e.generator != nil:
		if !e.long() {
			return e.generator.usualAt(e.site).climate
		}
		c = e.season()
	default:
		c = e.season()
	}
	c.LastSpring, c.FirstAutumn = e.Frosts(0)
	return c
}

// Frosts returns the frost dates at a threshold [°C], of the record or the normals
// that the members came from, or of the members' first 365 days. Members shorter
// than that give none.
func (e *Ensemble) Frosts(threshold float64) (last, first Frosts) {
	south := e.Lat < 0
	if e.record != nil {
		return FrostDates(e.record, threshold, south)
	}
	years := e.wholeYears()
	if years.Days < YearSlots {
		return last, first
	}
	for i := range years.Members {
		last.member(years, &years.Members[i], threshold, south, true)
		first.member(years, &years.Members[i], threshold, south, false)
	}
	return last, first
}

// climateYears is how many made years stand for a place's climate.
const climateYears = 300

// wholeYears returns the ensemble itself when it spans a year, or else one that does.
func (e *Ensemble) wholeYears() *Ensemble {
	if e.generator == nil || e.long() {
		return e
	}
	y, err := e.generator.Ensemble(e.site, day.Of(2001, time.January, 1), YearSlots, climateYears, 1)
	if err != nil {
		return e // the site has made an ensemble before
	}
	return y
}

// long reports whether the members themselves can stand for the climate.
func (e *Ensemble) long() bool { return e.Days >= YearSlots && len(e.Members) >= climateYears }

// A usual is what is asked of a place's made years again and again.
type usual struct {
	climate Climate
	fall    float64 // mm on a wet day
}

// usualAt sums up the made years of a site. The last sum is kept: it is asked for at
// every look, and drawing the years is most of the work.
func (g *Generator) usualAt(site Site) usual {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.summed == nil || g.site != site {
		y := (&Ensemble{site: site, generator: g, Lat: site.Lat}).wholeYears()
		u := usual{y.season(), y.meanFall()}
		u.climate.LastSpring, u.climate.FirstAutumn = y.Frosts(0)
		g.summed, g.site = &u, site
	}
	return *g.summed
}

// member finds the frosts of one member, its first 365 days laid round the calendar.
func (f *Frosts) member(e *Ensemble, m *Member, threshold float64, south, last bool) {
	var round Curve
	for slot := range round {
		round[slot] = math.Inf(1) // the one that a 29 February pushes out
	}
	for t := range YearSlots {
		round[Slot(e.Start+day.Day(t))] = m.TMin[t]
	}
	spring, autumn := seasons(2001, south) // a common year
	s := autumn
	if last {
		s = spring
	}
	f.Seasons++
	at := 0
	for d := s.from; d < s.end; d++ {
		if slot := Slot(d); round[slot] <= threshold && (last || at == 0) {
			at = slot + 1 + YearSlots*(d.Year()-s.from.Year())
		}
	}
	if at > 0 {
		f.Dates = append(f.Dates, at)
	}
}

// season returns the mean year of the members.
func (e *Ensemble) season() Climate {
	var s seasonSum
	for t := range e.Days {
		slot := Slot(e.Start + day.Day(t))
		for i := range e.Members {
			s.add(slot, &e.Members[i], t)
		}
	}
	return s.climate()
}

// seasonOf returns the mean year of a record.
func seasonOf(src *recordSource) Climate {
	var s seasonSum
	for i, slot := range src.slot {
		s.add(slot, &src.all, i)
	}
	return s.climate()
}

type seasonSum struct{ tmin, tmax, rain, et0 [YearSlots]mean }

func (s *seasonSum) add(slot int, m *Member, t int) {
	s.tmin[slot].add(m.TMin[t])
	s.tmax[slot].add(m.TMax[t])
	s.rain[slot].add(m.Rain[t])
	s.et0[slot].add(m.ET0[t])
}

func (s *seasonSum) climate() Climate {
	return Climate{TMin: curveOf(&s.tmin), TMax: curveOf(&s.tmax), Rain: curveOf(&s.rain), ET0: curveOf(&s.et0)}
}

func curveOf(sums *[YearSlots]mean) Curve {
	var c Curve
	for slot, m := range sums {
		c[slot] = math.NaN()
		if m.n > 0 {
			c[slot] = m.value()
		}
	}
	return c.smooth(smoothing)
}
