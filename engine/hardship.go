package engine

import (
	"slices"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// A Hardship is a hardship that befalls every member alike, over its own weather and
// luck. Days count from today.
type Hardship struct {
	ID, Name string
	From     int     // the first day of it
	Days     int     // how long; 0: to the end
	Without  Without // what is not to be had on those days
	CutHours float64 // a power cut on the first day
	Ill      int     // people who can't work on those days
	Fails    string  // id of a crop lost to pests but for a tenth
	Spoils   float64 // factor on keeping losses of the whole horizon; 0: none
	// Weather changes a copy of the members; nil leaves them.
	Weather func(*weather.Ensemble)
	// Stead changes a copy of the description; nil leaves it.
	Stead func(*stead.Stead)
}

// taken is what a hardship takes away on a day of the horizon.
func (t *Hardship) taken(day int) Without {
	if t == nil || !t.on(day) {
		return 0
	}
	return t.Without
}

func (t *Hardship) on(day int) bool {
	return day >= t.From && (t.Days == 0 || day < t.From+t.Days)
}

// befall lays a hardship over a member's luck.
func (t *Hardship) befall(m *Model, l *luck) {
	if t == nil {
		return
	}
	from := m.skip + t.From
	to := from + t.Days
	if t.Days == 0 {
		to = m.days
	}
	for range t.Ill {
		l.ill = append(l.ill, spell{from, to})
	}
	if t.CutHours > 0 {
		l.cuts = append(l.cuts, cut{from, t.CutHours})
		slices.SortStableFunc(l.cuts, func(a, b cut) int { return a.day - b.day })
	}
	for q := range m.plantings {
		if m.plantings[q].crop.ID == t.Fails {
			l.pest[q] = failLeaves
		}
	}
	if t.Spoils > 0 {
		l.hazard *= t.Spoils
	}
}

// Lengths and strengths of the named hardships.
const (
	noTrailer  = 30  // days
	freezerOut = 72  // h
	longIll    = 28  // days
	hotNights  = 3.0 // °C more
	hotDays    = 2.0
	hotSpoils  = 1.5 // humid heat keeps food less well (common practice)
	hotSpell   = 90  // days
	frostTo    = -5  // °C: takes open blossom of every fruit tree in the tables
)

// Hardships lists the hardships that can befall a stead: a dry year of ten, no
// trailer, the freezer out in the heat, the staple lost, a long illness, the
// largest roof gone, a hot and humid summer, a killing frost in blossom. base is
// its outlook, climate the usual year.
func (m *Model) Hardships(st *stead.Stead, tab *data.Tables, base *Outlook, climate weather.Climate) []Hardship {
	list := []Hardship{{ID: "dry", Name: "the driest year of ten", Weather: driest}}
	if len(st.Hauls) > 0 || len(st.Digesters) > 0 {
		list = append(list, Hardship{ID: "trailer", Name: "no trailer for a month", Days: noTrailer, Without: NoHauling})
	}
	hot := m.warmest(climate)
	if m.freezer >= 0 {
		list = append(list, Hardship{ID: "freezer", Name: "the freezer out for three days in the hottest week", From: hot, CutHours: freezerOut})
	}
	if id, name := m.staple(tab, base); id != "" {
		list = append(list, Hardship{ID: "staple", Name: "the " + name + " lost to pests", Fails: id})
	}
	list = append(list, Hardship{ID: "ill", Name: "one of the household ill for four weeks when work presses most", From: max(0, 7*worstWeek(base, "hours")-7), Days: longIll, Ill: 1})
	if at := largest(st.Roofs); at >= 0 {
		name := st.Roofs[at].Name
		list = append(list, Hardship{ID: "roof", Name: name + " gone", Stead: func(s *stead.Stead) {
			s.Roofs = slices.DeleteFunc(slices.Clone(s.Roofs), func(r stead.Roof) bool { return r.Name == name })
		}})
	}
	list = append(list, Hardship{ID: "summer", Name: "a hot and humid summer", Spoils: hotSpoils, Weather: func(e *weather.Ensemble) { warm(e, m.today+day.Day(hot-hotSpell/2), hotSpell) }})
	if at, ok := m.blossom(); ok {
		list = append(list, Hardship{ID: "blossom", Name: "a killing frost in blossom", Weather: func(e *weather.Ensemble) { freeze(e, m.today+day.Day(at-7), 14) }})
	}
	return list
}

// warmest is the day of the horizon about which the usual year is warmest.
func (m *Model) warmest(c weather.Climate) int {
	best, at := -100.0, 0
	for d := range m.days - m.skip {
		slot := dayOfYear(m.today + day.Day(d))
		if v := c.TMin[slot] + c.TMax[slot]; v > best {
			best, at = v, d
		}
	}
	return at
}

// staple is the crop that brings most energy in the middle year.
func (m *Model) staple(tab *data.Tables, base *Outlook) (id, name string) {
	most := 0.0
	for _, c := range base.Crops {
		for q := range m.plantings {
			if g := &m.plantings[q]; g.crop.ID == c.Crop && g.kind >= 0 && !g.tree {
				if mj := c.Kg.P50 * m.kinds[g.kind].mj; mj > most {
					most, id, name = mj, c.Crop, c.Name
				}
				break
			}
		}
	}
	return id, name
}

func worstWeek(o *Outlook, need string) int {
	if n := o.find(need); n != nil {
		return n.WorstWeek
	}
	return 0
}

func largest(roofs []stead.Roof) int {
	at := -1
	for i := range roofs {
		if at < 0 || roofs[i].Area > roofs[at].Area {
			at = i
		}
	}
	return at
}

// blossom is the day of the horizon on which most fruit stands in blossom.
func (m *Model) blossom() (int, bool) {
	area := map[int]float64{}
	best, at := 0.0, 0
	for q := range m.plantings {
		g := &m.plantings[q]
		if d := (g.bloomFrom+g.bloomTo)/2 - m.skip; g.tree && d >= 7 && d < m.days-m.skip {
			area[d] += g.area
			if area[d] > best || area[d] == best && d < at {
				best, at = area[d], d
			}
		}
	}
	return at, best > 0
}

// driest keeps the tenth of the members with the least rain.
func driest(e *weather.Ensemble) {
	sum := func(m weather.Member) (mm float64) {
		for _, v := range m.Rain {
			mm += v
		}
		return mm
	}
	byRain := slices.Clone(e.Members)
	slices.SortStableFunc(byRain, func(a, b weather.Member) int { return cmpFloat(sum(a), sum(b)) })
	e.Members = byRain[:max(1, len(byRain)/10)]
}

// warm lays warmer days over every member.
func warm(e *weather.Ensemble, from day.Day, days int) {
	e.Change(from, days, func(m *weather.Member, t int) {
		m.TMin[t] += hotNights
		m.TMax[t] = max(m.TMax[t]+hotDays, m.TMin[t])
	})
}

// freeze lays a killing frost over three nights of every member.
func freeze(e *weather.Ensemble, from day.Day, days int) {
	first := int(from - e.Start)
	e.Change(from, days, func(m *weather.Member, t int) {
		if (t-first)%5 == 0 {
			m.TMin[t] = min(m.TMin[t], frostTo)
		}
	})
}
