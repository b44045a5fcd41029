package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/fertility"
	"evenstead/larder"
	"evenstead/weather"
)

// Chores are what the coming work asks beside a Standing: hours, times and the
// amounts that the engine's own days would move.
type Chores struct {
	Start    day.Day     // of the stay
	Hands    []float64   // h the household can give, by day from today
	Owed     []float64   // h of exchange work, by day
	Heads    []float64   // residents on the place, by day
	Garden   [12]float64 // h a day of tending the beds, January first
	Kitchen  float64     // h a person-day
	Toilet   float64     // h a day
	Digester float64     // h a day, fetching left out
	Birds    float64     // h a day
	Bees     float64     // h a week
	CanHour  float64     // h to carry a litre by can
	Filter   float64     // L left in the filter and its spares; 0: none
	Drinks   float64     // L of treated water a day

	LitreHours map[string]float64 // h a litre led to a plot
	Hauls      []HaulNow
	Gluts      []Glut
	Doses      []Dose
	Written    []Written
}

// A HaulNow is a trip made again and again.
type HaulNow struct {
	Name    string
	Hours   float64 // a trip
	PerWeek float64
	Load    float64 // kg
	Last    day.Day // by the book; 0: none is written
}

// A Glut is fresh food that can't be eaten before it spoils, and a way to keep it.
type Glut struct {
	Food, Name, From string  // id, name in words, place it lies in
	Form, To         string  // of the product, and its place
	Kg, Makes        float64 // kg taken and made
	Hours, Heat      float64 // h, MJ
	Short            float64 // kg that no way has room for
	By               day.Day // a quarter is lost by then
	Cautions         []larder.Caution
}

// A Dose is what urine a plot may take this week, or why it may have none.
type Dose struct {
	Plot         string
	Area, Litres float64 // m2, L neat
	Open         bool
	Rule, Source string
	Why          string // not open
	Until        day.Day
}

// A Written is the last entry of a kind about a thing at a place.
type Written struct {
	Kind, What, Where, For string
	Day                    day.Day
	Times                  int
	Hours                  float64 // of all, where the amount is a time
}

// Last is the last day that the book tells of a deed; empty words match all.
func (c *Chores) Last(kind, what, where string) day.Day {
	var last day.Day
	for i := range c.Written {
		w := &c.Written[i]
		if w.Kind == kind && (what == "" || w.What == what) && (where == "" || w.Where == where) {
			last = max(last, w.Day)
		}
	}
	return last
}

// Times is how often the book tells of a deed.
func (c *Chores) Times(kind, what, where string) (n int) {
	for i := range c.Written {
		w := &c.Written[i]
		if w.Kind == kind && (what == "" || w.What == what) && (where == "" || w.Where == where) {
			n += w.Times
		}
	}
	return n
}

// Chores reads the work of the coming days, as many as asked for, up to a year.
func (p *Past) Chores(tab *data.Tables, usual weather.Climate, days int) (*Chores, error) {
	step := *p
	step.From, step.at, step.state, step.done = p.Today, p.end, p.ended, true
	m, err := Prepare(p.Stead, tab, Options{Today: p.Today, Days: max(leastHorizon, min(days, 365)), Climate: usual, Past: &step})
	if err != nil {
		return nil, fmt.Errorf("the work of the coming weeks: %w", err)
	}
	c := &Chores{Start: p.Known.Start, Garden: m.gardenDay, Kitchen: hoursKitchen, CanHour: hoursCan, LitreHours: map[string]float64{}, Filter: m.first.filterLeft}
	for d := range min(days, m.days) {
		plan := &m.cal[d]
		c.Hands, c.Owed, c.Heads = append(c.Hands, plan.hours), append(c.Owed, plan.owed), append(c.Heads, plan.heads)
	}
	for i := range m.plots {
		c.LitreHours[m.plots[i].name] = m.plots[i].litreHours
	}
	c.rounds(m)
	c.hauls(p, m, tab)
	c.written(p.entries)
	c.gluts(m, p)
	return c, c.doses(p)
}

// rounds are the hours of what is done day by day.
func (c *Chores) rounds(m *Model) {
	for i := range m.flocks {
		c.Birds += m.flocks[i].hoursDay
	}
	for i := range m.hives {
		c.Bees += m.hives[i].hoursWeek
	}
	if m.dig != nil {
		c.Digester = m.dig.hoursDay
	}
	if m.toilet != nil {
		c.Toilet = hoursToilet
	}
	for i := range m.uses {
		if u := &m.uses[i]; u.treated {
			c.Drinks += u.perHead*float64(m.people) + u.perDay
		}
	}
}

func (c *Chores) hauls(p *Past, m *Model, tab *data.Tables) {
	b := &builder{m: m, st: p.Stead, tab: tab}
	for i := range p.Stead.Hauls {
		h := &p.Stead.Hauls[i]
		now := HaulNow{Name: h.Name, Hours: b.tripHours(h), PerWeek: h.Trips / 52, Load: h.Load}
		for j := range p.entries {
			if e := &p.entries[j]; e.Kind == book.Hauled && (e.Body.Where == h.Name || e.Body.Extra["from"] == h.Name) {
				now.Last = e.Day
			}
		}
		c.Hauls = append(c.Hauls, now)
	}
}

// written gathers the book by kind, thing and place.
func (c *Chores) written(entries []book.Entry) {
	type thing struct{ kind, what, where, by string }
	places := map[thing]int{}
	for i := range entries {
		e := &entries[i]
		of := thing{string(e.Kind), e.Body.What, e.Body.Where, e.Body.Extra["for"]}
		at, there := places[of]
		if !there {
			at = len(c.Written)
			places[of] = at
			c.Written = append(c.Written, Written{Kind: of.kind, What: of.what, Where: of.where, For: of.by})
		}
		w := &c.Written[at]
		w.Day = max(w.Day, e.Day)
		w.Times++
		if e.Kind == book.Worked {
			w.Hours += e.Body.Amount
		}
	}
}

// glutDays is how soon food must spoil to be put up: as the engine's days do.
const glutDays = 60

// gluts finds what can't be eaten in time, as the engine would at its next look.
func (c *Chores) gluts(m *Model, p *Past) {
	s := m.first
	month := int(p.Today.Month()) - 1
	room := make([]float64, len(m.places))
	for i := range room {
		room[i] = m.places[i].holds
	}
	for k := range m.kinds {
		room[m.kinds[k].place] -= s.kg[k] * m.kinds[k].litres
	}
	for k := range m.kinds {
		kd := &m.kinds[k]
		left := max(0, 1-s.age[k]) * kd.life[month]
		spare := s.kg[k] - kd.cap*m.cal[0].mouths*left
		if len(kd.putUp) == 0 || left > glutDays || spare <= leastGlut {
			continue
		}
		c.ways(m, kd, spare, p.Today+day.Day(left), room)
	}
}

// leastGlut is what is not worth a pot, kg (common practice).
const leastGlut = 0.5

// ways parts a spare amount among the ways of keeping it, by the room there is.
func (c *Chores) ways(m *Model, kd *kind, spare float64, by day.Day, room []float64) {
	g := Glut{Food: kd.id, Name: kd.name, From: m.places[kd.place].name, By: by}
	for i := range kd.putUp {
		w := &kd.putUp[i]
		to := &m.kinds[w.to]
		fits := spare
		if w.litres > 0 {
			fits = min(spare, max(0, room[to.place])/(w.litres*w.out))
		}
		if fits <= leastGlut {
			continue
		}
		room[to.place] -= fits * w.out * w.litres
		spare -= fits
		one := g
		one.Form, one.To, one.Kg, one.Makes = to.form, m.places[to.place].name, fits, fits*w.out
		one.Hours, one.Heat, one.Cautions = fits*w.hours, fits*w.heat, larder.Cautions(to.form)
		c.Gluts = append(c.Gluts, one)
		if spare <= leastGlut {
			return
		}
	}
	g.Kg, g.Short = spare, spare
	c.Gluts = append(c.Gluts, g)
}

// doses asks the gates where this week's urine may go.
func (c *Chores) doses(p *Past) error {
	if p.end.toilet == nil || !p.end.toilet.apart {
		return nil
	}
	gates, err := p.PlotGates()
	if err != nil {
		return err
	}
	for _, at := range p.end.toilet.urineTo {
		plot := &p.end.plots[at]
		i := slices.IndexFunc(gates, func(g PlotGate) bool { return g.Plot == plot.name && g.Deed == fertility.SpreadUrine })
		if i < 0 {
			continue
		}
		g := &gates[i]
		d := Dose{Plot: plot.name, Area: plot.area, Rule: g.Rule, Source: g.Source, Why: g.Why, Until: g.Until}
		d.Open = g.Allowed && (plot.tree || p.growsOn(at))
		c.Doses = append(c.Doses, d)
	}
	c.pourOut(p)
	return nil
}

// pourOut parts the urine there is among the open plots, first to the one whose
// stands lack most nitrogen.
func (c *Chores) pourOut(p *Past) {
	lack := map[string]float64{}
	for _, pl := range p.Standing().Plots {
		lack[pl.Name] = pl.Asks.N - pl.Mineral.N
	}
	slices.SortStableFunc(c.Doses, func(a, b Dose) int { return cmp.Compare(lack[b.Plot], lack[a.Plot]) })
	left := p.ended.urine
	for i := range c.Doses {
		if d := &c.Doses[i]; d.Open {
			d.Litres = min(left, d.Area*urineAWeek)
			left -= d.Litres
		}
	}
}

// growsOn tells whether anything stands on a plot.
func (p *Past) growsOn(plot int) bool {
	r := p.end.glance(p.ended, int(p.Today-p.end.start))
	return r.growing(plot)
}

// Sown tells whether the book has a sowing or setting out of a crop on a plot in
// the days since.
func (c *Chores) Sown(crop, plot string, since day.Day) bool {
	for i := range c.Written {
		w := &c.Written[i]
		if (w.Kind == string(book.Sown) || w.Kind == string(book.SetOut)) && w.What == crop && (w.Where == plot || w.Where == "") && w.Day >= since {
			return true
		}
	}
	return false
}

// WorkedFor is the hours that the book tells were worked for someone.
func (c *Chores) WorkedFor(host string) (hours float64) {
	for i := range c.Written {
		if w := &c.Written[i]; w.Kind == string(book.Worked) && hostOf(w.For) == hostOf(host) && strings.TrimSpace(host) != "" {
			hours += w.Hours
		}
	}
	return hours
}
