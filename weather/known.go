package weather

import (
	"math"

	"evenstead/day"
)

// Past returns the course of a record's days with its gaps filled from the usual
// year: temperatures as the mean of the date, rain in whole falls of the usual
// size, so that first flush and overflow see rain as it comes.
func (e *Ensemble) Past(known *Record) Member {
	clim, fall := e.Climate(), e.usualFall()
	n := known.Days()
	var m Member
	m.take(make([]float64, 5*n), n)
	gathered := fall / 2
	for t := range n {
		slot := Slot(known.Start + day.Day(t))
		m.Rain[t], m.TMin[t], m.TMax[t] = known.Rain[t], known.TMin[t], known.TMax[t]
		gathered += clim.Rain[slot]
		if math.IsNaN(m.Rain[t]) {
			m.Rain[t] = 0
			if gathered >= fall {
				m.Rain[t] = gathered
			}
		}
		if gathered >= fall {
			gathered = 0
		}
		m.fillTemps(t, clim.TMin[slot], clim.TMax[slot])
	}
	fillSun(&m, e.site.lights(known.Start, n), e.site.KRs())
	m.Label = "as known"
	return m
}

// fillTemps sets what is not known of a day's temperatures, and keeps the low
// below the high.
func (m *Member) fillTemps(t int, tmin, tmax float64) {
	switch lowKnown, highKnown := !math.IsNaN(m.TMin[t]), !math.IsNaN(m.TMax[t]); {
	case !lowKnown && !highKnown:
		m.TMin[t], m.TMax[t] = tmin, tmax
	case !lowKnown:
		m.TMin[t] = min(tmin, m.TMax[t])
	case !highKnown:
		m.TMax[t] = max(tmax, m.TMin[t])
	}
}

// usualFall is the mean rain of a wet day, mm, of the record or the years that the
// climate is read from; 1 where it never rains.
func (e *Ensemble) usualFall() float64 {
	if e.generator != nil && e.record == nil && !e.long() {
		return e.generator.usualAt(e.site).fall
	}
	return e.meanFall()
}

func (e *Ensemble) meanFall() float64 {
	sum, wet := 0.0, 0
	add := func(rain []float64) {
		for _, mm := range rain {
			if mm > 0 { // NaN is not
				sum += mm
				wet++
			}
		}
	}
	if e.record != nil {
		add(e.record.Rain)
	} else {
		for _, m := range e.Members {
			add(m.Rain)
		}
	}
	if wet == 0 {
		return 1
	}
	return sum / float64(wet)
}

// Overlay lays what a record knows over every member, on the days that both have;
// where it knows nothing each member keeps its own. The members' slices are
// copied first.
func (e *Ensemble) Overlay(known *Record) { e.overlay(known, (*Member).clone) }

// Settle is Overlay for an ensemble just drawn, whose members nobody else has yet: a
// copy is made only of those that are years of a record, which share its slices.
func (e *Ensemble) Settle(known *Record) {
	e.overlay(known, func(m *Member) Member {
		if m.year != 0 {
			return m.clone()
		}
		return *m
	})
}

func (e *Ensemble) overlay(known *Record, of func(*Member) Member) {
	from, to := max(e.Start, known.Start), min(e.Start+day.Day(e.Days), known.End()+1)
	if from >= to {
		return
	}
	e.change(from, int(to-from), of, func(m *Member, t int) {
		m.lay(t, known, int(e.Start+day.Day(t)-known.Start))
	})
}

// lay sets day t to what day k of the record knows.
func (m *Member) lay(t int, known *Record, k int) {
	if v := known.Rain[k]; !math.IsNaN(v) {
		m.Rain[t] = v
	}
	tmin, tmax := m.TMin[t], m.TMax[t]
	m.TMin[t], m.TMax[t] = known.TMin[k], known.TMax[k]
	m.fillTemps(t, tmin, tmax)
}

func (m *Member) clone() Member {
	n := len(m.Rain)
	c := Member{Label: m.Label}
	c.take(make([]float64, 5*n), n)
	copy(c.Rain, m.Rain)
	copy(c.TMin, m.TMin)
	copy(c.TMax, m.TMax)
	copy(c.ET0, m.ET0)
	copy(c.Sun, m.Sun)
	return c
}

// cut is the days from a through b-1 of a member, sharing its slices.
func (m *Member) cut(a, b int) Member {
	return Member{Rain: m.Rain[a:b], TMin: m.TMin[a:b], TMax: m.TMax[a:b], ET0: m.ET0[a:b], Sun: m.Sun[a:b]}
}

// Unknown is a record of days on which nothing is known yet.
func Unknown(start day.Day, days int) *Record {
	r := &Record{Lat: math.NaN(), Lon: math.NaN(), Elev: math.NaN(), Start: start}
	for _, v := range []*[]float64{&r.Rain, &r.TMin, &r.TMax} {
		*v = make([]float64, days)
		for i := range *v {
			(*v)[i] = math.NaN()
		}
	}
	return r
}

// Take lays what another record knows over this one, on the days that both have.
func (r *Record) Take(o *Record) {
	for i := range r.Rain {
		k := o.At(r.Start + day.Day(i))
		if k < 0 {
			continue
		}
		for _, v := range [...]struct{ to, from []float64 }{{r.Rain, o.Rain}, {r.TMin, o.TMin}, {r.TMax, o.TMax}} {
			if !math.IsNaN(v.from[k]) {
				v.to[i] = v.from[k]
			}
		}
	}
}

// From returns the member from day i on, sharing its slices.
func (m *Member) From(i int) Member { return m.cut(i, len(m.Rain)) }

// Before is the record up to the day before d.
func (r *Record) Before(d day.Day) *Record {
	n := min(r.Days(), max(0, int(d-r.Start)))
	cut := *r
	cut.Rain, cut.TMin, cut.TMax = r.Rain[:n], r.TMin[:n], r.TMax[:n]
	if r.Wind != nil {
		cut.Wind = r.Wind[:n]
	}
	return &cut
}

// Change lets f alter a copy of every member on each of some days; sun and
// reference evapotranspiration follow the new temperatures.
func (e *Ensemble) Change(from day.Day, days int, f func(m *Member, t int)) {
	e.change(from, days, (*Member).clone, f)
}

// change is Change of what is made of every member.
func (e *Ensemble) change(from day.Day, days int, of func(*Member) Member, f func(m *Member, t int)) {
	a, z := max(from, e.Start), min(from+day.Day(days), e.Start+day.Day(e.Days))
	if a >= z {
		return
	}
	lights, krs := e.site.lights(a, int(z-a)), e.site.KRs()
	members := make([]Member, len(e.Members))
	each(len(members), func(i int) {
		m := of(&e.Members[i])
		for d := a; d < z; d++ {
			f(&m, int(d-e.Start))
		}
		part := m.cut(int(a-e.Start), int(z-e.Start))
		fillSun(&part, lights, krs)
		members[i] = m
	})
	e.Members = members
}
