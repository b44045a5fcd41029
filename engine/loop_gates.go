package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/fertility"
	"evenstead/fuel"
	"evenstead/stead"
)

// A PlotGate is what a gate says today of one thing on one plot.
type PlotGate struct {
	Plot    string
	Deed    fertility.Deed
	Crop    string         // the crop that decides, by name; "": none is known
	Kind    fertility.Kind // of that crop
	Harvest day.Day        // its next picking, at the quickest; 0: not known
	Told    string         // what else must be so for a yes; ""
	fertility.Ruling
}

// A DrumGate is what the gate says today of one drum.
type DrumGate struct {
	DrumNow
	fertility.Ruling
}

// A HeapGate is how far the readings of a heap or drum meet each rule of heat.
type HeapGate struct {
	Name     string
	Readings int
	Highest  float64 // °C
	Rules    []fertility.HeatRule
}

// A HeldPlot is a plot that something was spread on lately, and what follows.
type HeldPlot struct {
	Plot   string
	What   string
	On     day.Day
	Free   day.Day // first day of picking by the rule
	Rule   string
	Source string
	Reason string    // kept with the entry against the gate; ""
	Early  []day.Day // pickings from the plot before Free
}

// rulesOf lays the rules of a description over the table.
func rulesOf(st *stead.Stead, tab *data.Tables) (fertility.Rulebook, error) {
	own := make([]fertility.Local, len(st.Rules))
	for i, r := range st.Rules {
		own[i] = fertility.Local{Kind: r.Kind, Value: r.Value, Text: r.Text, Source: r.Source}
	}
	b, err := fertility.Rules(tab.Gates, own)
	if err != nil {
		return b, fmt.Errorf("rules of the description: %w", err)
	}
	return b, nil
}

// gatekeeper answers for one morning.
type gatekeeper struct {
	p     *Past
	v     *viewer
	rules fertility.Rulebook
	book  *gateBook
}

func (p *Past) gatekeeper() (*gatekeeper, error) {
	rules, err := rulesOf(p.Stead, p.tab)
	if err != nil {
		return nil, err
	}
	at := int(p.Today - p.end.start)
	g := &gatekeeper{p: p, v: &viewer{past: p, r: p.end.glance(p.ended, at), month: int(p.Today.Month()) - 1}, rules: rules}
	p.gates.once.Do(func() { p.gates.book = g.read() })
	g.book = &p.gates.book
	return g, nil
}

// DrumGates tells of every drum that is in use or shut whether it may be opened today.
func (p *Past) DrumGates() ([]DrumGate, error) {
	g, err := p.gatekeeper()
	if err != nil || p.end.toilet == nil {
		return nil, err
	}
	var out []DrumGate
	for _, d := range g.v.toilet().Drums {
		if d.Litres > 0 {
			out = append(out, DrumGate{d, g.drum(d)})
		}
	}
	return out, nil
}

func (g *gatekeeper) drum(d DrumNow) fertility.Ruling {
	return g.rules.Gate(fertility.Act{Deed: fertility.OpenDrum, Today: g.p.Today, Closed: d.Closed, MeanTemp: g.p.end.meanTemp})
}

// spread are the deeds that a plot is asked about.
var spreadDeeds = []fertility.Deed{fertility.SpreadUrine, fertility.SpreadDigestate, fertility.DigManure, fertility.SpreadCompost, fertility.SpreadDrum,
	fertility.PourGreywater, fertility.SpreadAsh}

// PlotGates tells of every plot what may go on it today, each thing that the
// household has, by the strictest of the crops that stand or come next.
func (p *Past) PlotGates() ([]PlotGate, error) {
	g, err := p.gatekeeper()
	if err != nil {
		return nil, err
	}
	var out []PlotGate
	for i := range p.end.plots {
		for _, d := range spreadDeeds {
			if g.has(d) {
				out = append(out, g.plot(i, d))
			}
		}
	}
	return out, nil
}

// has tells whether the household has a thing to spread.
func (g *gatekeeper) has(d fertility.Deed) bool {
	m, st := g.p.end, g.p.Stead
	switch d {
	case fertility.SpreadUrine:
		return m.toilet != nil && m.toilet.apart
	case fertility.SpreadDrum:
		return m.toilet != nil
	case fertility.SpreadDigestate:
		return m.dig != nil
	case fertility.DigManure:
		return len(m.flocks) > 0
	case fertility.PourGreywater:
		return slices.ContainsFunc(st.Uses, func(u stead.Use) bool { return u.Returned > 0 })
	case fertility.SpreadCompost: // what went on the heap besides plants and kitchen waste
		return len(m.flocks) > 0 || m.dig != nil || m.toilet != nil && m.toilet.apart
	case fertility.SpreadAsh:
		return slices.ContainsFunc(st.Cookers, func(c stead.Cooker) bool { return c.Kind == "wood" })
	}
	return true
}

// plot rules on one deed on one plot: no where any of its crops says no, until
// the earliest of their last days.
func (g *gatekeeper) plot(i int, d fertility.Deed) PlotGate {
	p := &g.p.end.plots[i]
	out := PlotGate{Plot: p.name, Deed: d}
	for n, c := range g.crops(i) {
		r := g.rules.Gate(g.act(i, d, c))
		if n > 0 && !stricter(r, out.Ruling) {
			continue
		}
		out.Crop, out.Kind, out.Harvest, out.Ruling = c.name, c.kind, c.harvest, r
	}
	switch {
	case !out.Allowed:
	case d == fertility.SpreadUrine && out.Kind == fertility.Raw:
		out.Told = "under the soil, not on leaves"
	case d == fertility.SpreadAsh:
		out.Told = "ash of clean wood only"
	case d == fertility.PourGreywater:
		out.Told = "the day it is made, under mulch"
	}
	return out
}

// stricter tells whether a ruling leaves less than another.
func stricter(a, b fertility.Ruling) bool {
	last := func(r fertility.Ruling) day.Day { return cmp.Or(r.Until, math.MaxInt32) }
	if a.Allowed != b.Allowed {
		return !a.Allowed
	}
	return last(a) < last(b)
}

// act is a deed with what the place, the description and the book tell of it.
func (g *gatekeeper) act(i int, d fertility.Deed, c comingCrop) fertility.Act {
	st := g.p.Stead
	a := fertility.Act{Deed: d, Today: g.p.Today, Kind: c.kind, Harvest: c.harvest, MeanTemp: g.p.end.meanTemp, Covered: true, Clean: true,
		Age: 0, LitresDay: g.book.grey, Well: math.NaN(), SoilPH: g.soilPH(), Rotted: g.book.rotted, Hot: g.book.proved}
	if len(st.Toilets) > 0 {
		a.Water = st.Toilets[0].Dilution
	}
	a.Season = g.given(i, "urine", season) + leastDose
	a.AshYear = g.given(i, "ash", 365) + leastAsh
	if d == fertility.SpreadDrum {
		a.Closed = 1 // the drum's own gate asks for its rest
		a.Today = max(a.Today, fertility.DrumReady(1, 100))
	}
	return a
}

const (
	season    = 180   // days over which urine on a plot is added up
	leastDose = 0.1   // L/m2 of urine, a light dose
	leastAsh  = 0.005 // kg/m2, a handful
)

func (g *gatekeeper) greyLitres() float64 {
	sum := 0.0
	for _, u := range g.p.Stead.Uses {
		sum += (u.PerPerson*float64(g.p.end.people) + u.PerDay) * u.Returned
	}
	return sum
}

// soilPH is the soil's as written; one that was only taken is not known.
func (g *gatekeeper) soilPH() float64 {
	for _, d := range g.p.Stead.Taken {
		if d.Part == "place" && d.Key == "soil_ph" {
			return math.NaN()
		}
	}
	return g.p.Stead.Place.SoilPH
}

func (g *gatekeeper) isHeap(name string) bool {
	return slices.ContainsFunc(g.p.Stead.Composts, func(c stead.Compost) bool { return c.Name == name })
}

// A comingCrop is a crop that stands on a plot or is the next to.
type comingCrop struct {
	name    string
	kind    fertility.Kind
	harvest day.Day // at the quickest; 0: not known
}

// crops are those that stand on a plot, else the next there; one of which nothing
// is known where none is.
func (g *gatekeeper) crops(i int) []comingCrop {
	m, s := g.p.end, g.p.ended
	p := &m.plots[i]
	var out []comingCrop
	for q := p.first; q < p.last; q++ {
		if g.v.r.stands(q) {
			out = append(out, comingCrop{m.plantings[q].crop.Name, g.kind(m.plantings[q].crop.ID), g.picks(q, &s.crop[q])})
		}
	}
	if len(out) == 0 {
		out = append(out, g.next(p))
	}
	return out
}

func (g *gatekeeper) kind(crop string) fertility.Kind {
	return kindOf(g.p.tab, crop)
}

// picks is the soonest that a stand may be picked: as quick as its crop can be.
func (g *gatekeeper) picks(q int, c *cropState) day.Day {
	stand := &g.p.end.plantings[q]
	if stand.tree {
		return max(g.p.Today, g.p.end.start+day.Day(stand.begins))
	}
	return g.p.Today + day.Day(max(0, 1-c.frac)*stand.least+nearly)
}

// next is the crop that is to come on a bare plot: of the description, or the
// trees' own.
func (g *gatekeeper) next(p *plot) comingCrop {
	best := comingCrop{}
	for _, t := range g.p.Stead.Trees {
		if t.Name == p.name {
			best = g.coming(t.Crop, 0)
		}
	}
	for _, pl := range g.p.Stead.Plantings {
		if pl.Bed != p.name {
			continue
		}
		sow := pl.Sow.In(g.p.Today.Year())
		if sow < g.p.Today && pl.Sow.Year == 0 {
			sow = pl.Sow.In(g.p.Today.Year() + 1)
		}
		if c := g.coming(pl.Crop, sow); sow >= g.p.Today && (best.harvest == 0 || c.harvest < best.harvest) {
			best = c
		}
	}
	return best
}

// coming dates the first harvest of a crop: by its season for what bears year by
// year, by its days from sowing for the rest.
func (g *gatekeeper) coming(id string, sow day.Day) comingCrop {
	c, ok := g.p.tab.Crop(id)
	if !ok {
		return comingCrop{name: id}
	}
	out := comingCrop{name: c.Name, kind: g.kind(id)}
	if !perennial(c) {
		out.harvest = sow + day.Day(max(14, c.DaysFirst))
		return out
	}
	month := c.HarvestFrom
	if g.p.end.south {
		month = (month+5)%12 + 1
	}
	out.harvest = day.Of(g.p.Today.Year(), month, 1)
	if out.harvest < g.p.Today {
		out.harvest = day.Of(g.p.Today.Year()+1, month, 1)
	}
	return out
}

// HeapGates tells how far the book's heat readings of each heap and drum go.
func (p *Past) HeapGates() ([]HeapGate, error) {
	g, err := p.gatekeeper()
	if err != nil {
		return nil, err
	}
	var names []string
	for i := range p.entries {
		e := &p.entries[i]
		where := e.Body.Where
		if e.Kind == book.Heat && !slices.Contains(names, where) && (g.isHeap(where) || strings.HasPrefix(where, "drum ")) {
			names = append(names, where)
		}
	}
	slices.Sort(names)
	var out []HeapGate
	for _, name := range names {
		spots := g.spots(name)
		h := HeapGate{Name: name, Readings: len(spots), Highest: math.Inf(-1), Rules: g.rules.Heat(fertility.Spans(spots))}
		for _, s := range spots {
			h.Highest = max(h.Highest, s.TempC)
		}
		out = append(out, h)
	}
	return out, nil
}

// hourOf reads "07:30"; noon where no time is said.
func hourOf(text string) float64 {
	var h, m float64
	if n, err := fmt.Sscanf(text, "%g:%g", &h, &m); n != 2 || err != nil {
		return 12
	}
	return h + m/60
}

// Held tells what the book says was spread within 400 days, and from which day
// each plot may be picked by the rule; what was picked sooner, and the reason kept.
func (p *Past) Held() ([]HeldPlot, error) {
	g, err := p.gatekeeper()
	if err != nil {
		return nil, err
	}
	return g.heldAll(), nil
}

func (g *gatekeeper) heldAll() []HeldPlot {
	var out []HeldPlot
	for _, e := range g.book.moved {
		m := book.Moves(*e)
		i := plotIn(g.p.end, m.To)
		if i < 0 {
			continue
		}
		if h, ok := g.held(i, m, e); ok {
			out = append(out, h)
		}
	}
	return out
}

func (g *gatekeeper) held(i int, m book.Move, e *book.Entry) (HeldPlot, bool) {
	d, ok := deedOf[m.What]
	if strings.HasPrefix(m.What, "drum ") {
		d, ok = fertility.SpreadDrum, true
	}
	if !ok || d == fertility.SpreadAsh {
		return HeldPlot{}, false
	}
	h := HeldPlot{Plot: m.To, What: m.What, On: e.Day, Free: e.Day, Reason: e.Body.Extra["reason"]}
	for _, c := range g.crops(i) {
		if c.kind == fertility.Unknown {
			c.kind = fertility.Raw
		}
		a := g.act(i, d, c)
		a.Today, a.Harvest, a.Season = e.Day, e.Day+4000, leastDose
		r := g.rules.Gate(a)
		h.Rule, h.Source = r.Rule, r.Source
		if r.Until != 0 {
			h.Free = max(h.Free, e.Day+(a.Harvest-r.Until))
		}
	}
	h.Early = g.book.early(m.To, e.Day, h.Free)
	return h, true
}

var deedOf = map[string]fertility.Deed{"urine": fertility.SpreadUrine, "digestate": fertility.SpreadDigestate, "manure": fertility.DigManure,
	"compost": fertility.SpreadCompost, "ash": fertility.SpreadAsh, "greywater": fertility.PourGreywater}

// Bars are the gates as they stand against entries of the book: what may not go
// where, drums without a closing date, pickings too soon after something was spread,
// and more feed than a digester takes in a week.
func (p *Past) Bars() ([]book.Bar, error) {
	g, err := p.gatekeeper()
	if err != nil {
		return nil, err
	}
	var out []book.Bar
	for i := range p.end.plots {
		for _, what := range []string{"urine", "digestate", "manure", "compost", "ash", "greywater"} {
			if b, stands := g.bar(i, what); stands {
				out = append(out, b)
			}
		}
		out = append(out, g.dose(i, "urine", "urine_max", season), g.dose(i, "ash", "ash_rate", 365))
	}
	out = append(out, g.drumBars()...)
	for _, h := range g.heldAll() {
		if h.Free > h.On {
			out = append(out, h.bar())
		}
	}
	return append(out, g.feedBars()...), nil
}

// bar stands against a picking before the plot is free, and says what was done there.
func (h HeldPlot) bar() book.Bar {
	why := fmt.Sprintf("%s went on it on %s, and by the rule it is picked from %s on", h.What, h.On, h.Free)
	if h.Reason != "" {
		why += "; it was done against the gate: " + h.Reason
	}
	return book.Bar{What: "picking", At: h.Plot, From: h.On, Free: h.Free, Why: why, Rule: h.Rule, Source: h.Source}
}

// bar is the gate of one thing on one plot: a day in the past is free as long as
// it lies before the last day allowed.
func (g *gatekeeper) bar(i int, what string) (book.Bar, bool) {
	if what == "compost" && !g.has(fertility.SpreadCompost) {
		return book.Bar{}, false
	}
	r := g.plot(i, deedOf[what])
	b := book.Bar{What: what, At: r.Plot, Last: r.Until, Why: r.Why, Rule: r.Rule, Source: r.Source}
	switch {
	case r.Allowed:
		return b, false
	case r.Crop != "" && r.Harvest != 0:
		b.Why = fmt.Sprintf("%s: %s there may be picked from %s", r.Why, r.Crop, r.Harvest)
	case r.Kind == fertility.Unknown && !g.rules.Forbids(r.Deed):
		return b, false // bare ground: what comes next is not written, and waits its time by then
	}
	return b, true
}

// dose is the bar against more on a plot than the rule allows over some days, L or kg.
func (g *gatekeeper) dose(i int, what, row string, days day.Day) book.Bar {
	p := &g.p.end.plots[i]
	l, _ := g.rules.Limit(row)
	left := max(0, l.Value-g.given(i, what, days)) * p.area
	return book.Bar{What: what, At: p.name, Most: max(left, 1e-9), Rule: l.Rule, Source: l.Source,
		Why: fmt.Sprintf("more than %.3g %s: by the book %.3g may still go on its %.0f m2", l.Value, l.Unit, left, p.area)}
}

func (g *gatekeeper) drumBars() []book.Bar {
	var out []book.Bar
	t := g.v.toilet()
	if t == nil {
		return nil
	}
	for _, d := range t.Drums {
		name := fmt.Sprintf("drum %d", d.Number)
		if r := g.drum(d); d.Litres > 0 && d.Closed == 0 {
			out = append(out, book.Bar{What: name, Why: r.Why + "; when it was shut note closed " + name, Rule: r.Rule, Source: r.Source})
		}
		for i := range g.p.end.plots {
			if r := g.plot(i, fertility.SpreadDrum); !r.Allowed && r.Kind != fertility.Unknown {
				out = append(out, book.Bar{What: name, At: r.Plot, Why: r.Why, Rule: r.Rule, Source: r.Source})
			}
		}
	}
	return out
}

// weekFeed is how many days' feed at the limit may go in at once.
const weekFeed = 7

func (g *gatekeeper) feedBars() []book.Bar {
	d := g.p.end.dig
	if d == nil || len(g.p.Stead.Digesters) == 0 {
		return nil
	}
	most := MostFeed(d.liquid, g.p.ended.slurry, d.vs)
	why := fmt.Sprintf("more than the slurry takes in a week at %.0f °C: %.1f kg of scraps a day is the limit", g.p.ended.slurry, most)
	if most == 0 {
		most, why = 1e-9/weekFeed, "the slurry is too cold or too hot to digest: do not feed"
	}
	return []book.Bar{{What: "feed", At: g.p.Stead.Digesters[0].Name, Most: weekFeed * most, Why: why,
		Rule: "at most 1.5 kg of volatile solids a m3 and day at 25 °C, less where cooler; overfed slurry turns sour", Source: "Werner et al. 1989"}}
}

// MostFeed is the most a digester of so many litres takes a day [kg fresh] with
// slurry at tempC and feed of vs kg of volatile solids a kg.
func MostFeed(liquid, tempC, vs float64) float64 {
	if !(vs > 0) {
		return 0
	}
	return fuel.LoadLimit(tempC) * liquid / 1000 / vs
}
