package engine

import (
	"fmt"
	"math"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/diet"
	"evenstead/stead"
	"evenstead/weather"
)

// maxDays bounds a run: spin-up and horizon together.
const maxDays = 12 * 366

// Prepare turns a described stead into a model that begins on the day it was
// described and looks ahead from o.Today. It refuses what the description can't
// carry: a planting that the usual frost kills, a today before the description.
func Prepare(st *stead.Stead, tab *data.Tables, o Options) (*Model, error) {
	m := &Model{name: st.Name, start: st.Stay.From, today: o.Today, seed: o.Seed, without: o.Without, trial: o.Hardship,
		south: st.Place.Latitude < 0, freezer: -1, nutrients: tab.Nutrients, nutrientNeeds: len(tab.Nutrients)}
	if o.Past != nil {
		m.start = o.Past.From
	}
	if err := m.spell(st, o); err != nil {
		return nil, err
	}
	m.meanTemp = mean(o.Climate.TMin[:])/2 + mean(o.Climate.TMax[:])/2
	m.uptake = layUptake()
	b := newBuilder(m, st, tab, o.Climate)
	b.past = o.Past
	if b.past != nil {
		b.absences = b.past.absences()
	}
	steps := []func() error{b.listClasses, b.people, b.calendar, b.water, b.places, b.ground, b.yard, b.loops, b.gates, b.heat, b.hear, b.lay}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	m.first = b.firstState()
	if b.past != nil && b.past.state != nil {
		b.carry(m.first)
	}
	m.makeNeeds()
	m.makeGauges()
	return m, nil
}

// spell sets the days of the run.
func (m *Model) spell(st *stead.Stead, o Options) error {
	if m.start == 0 {
		m.start = m.today
	}
	if m.today == 0 {
		m.today = m.start
	}
	horizon := o.Days
	if horizon == 0 {
		horizon = 365
	}
	m.skip = int(m.today - m.start)
	if m.skip < 0 {
		return fmt.Errorf("today, %s, is before the stead was described, %s: give a later day, or set stay.from", m.today, m.start)
	}
	m.days = m.skip + horizon
	if horizon < 7 || m.days > maxDays {
		return fmt.Errorf("%d days ahead from %s can't be run: ask for 7 to %d", horizon, m.today, maxDays-m.skip)
	}
	m.weeks = horizon / 7
	return nil
}

// Start is the first day the weather must cover, and Days how many.
func (m *Model) Start() day.Day { return m.start }

// Days is the number of days the weather must cover.
func (m *Model) Days() int { return m.days }

// Notes are what was assumed while preparing, one sentence each.
func (m *Model) Notes() []string { return m.notes }

// builder holds what is needed only while preparing.
type builder struct {
	m       *Model
	st      *stead.Stead
	tab     *data.Tables
	clim    weather.Climate
	kinds   map[string]int // food/form to kind
	lots    []lotAt
	classes []string
	past    *Past       // nil: the stead is as described
	carried [][2]int    // kinds of the replay's model and of this one
	entry   *book.Entry // at hand

	absences []absent
	groups   []stead.Group     // of tanks; nil: not gathered yet
	sources  map[string]source // of foods, as they were asked for
	kindsBy  map[string][]int  // kinds by food, in order
}

func newBuilder(m *Model, st *stead.Stead, tab *data.Tables, clim weather.Climate) *builder {
	return &builder{m: m, st: st, tab: tab, clim: clim, kinds: map[string]int{}, sources: map[string]source{}, kindsBy: map[string][]int{}}
}

// tankGroups are the stead's groups of tanks.
func (b *builder) tankGroups() []stead.Group {
	if b.groups == nil {
		b.groups = b.st.Groups()
	}
	return b.groups
}

type lotAt struct {
	kind int
	kg   float64
	born day.Day
}

// people reckons what each resident needs.
func (b *builder) people() error {
	if len(b.st.People) == 0 {
		return fmt.Errorf("no person is described: add one, such as [[person]] with name, sex and age")
	}
	b.m.people = len(b.st.People)
	hours := 0.0
	for _, p := range b.st.People {
		hours += p.Hours / 7
	}
	b.m.hoursPerPerson = hours / float64(len(b.st.People))
	return nil
}

// needOf is a resident's daily targets.
func (b *builder) needOf(p stead.Person) (diet.Need, error) {
	who := diet.Person{Sex: p.Sex, Age: p.Age, Height: p.Height, Mass: b.massOf(p), Activity: p.Activity, State: p.State}
	need, err := diet.NeedOf(who, b.tab.Nutrients, b.tab.Requirements)
	if err != nil {
		return need, fmt.Errorf("need of %s: %w", p.Name, err)
	}
	return need, nil
}

// calendar fixes who is here, what they need and what is owed on each day.
func (b *builder) calendar() error {
	m, k := b.m, len(b.tab.Nutrients)
	off := (7 - m.skip%7) % 7
	m.cal = make([]dayPlan, m.days)
	m.daylight = make([]float64, m.days)
	m.targets = make([]float64, ((m.days+off)/7+1)*k)
	needs := make([]diet.Need, len(b.st.People))
	for i, p := range b.st.People {
		var err error
		if needs[i], err = b.needOf(p); err != nil {
			return err
		}
	}
	guests := 0.0
	for _, g := range b.st.Guests {
		guests += g.PersonDays / 365
	}
	gone, fires := b.absentDays(), bans(b.st.Place.FireBan)
	for i := range m.cal {
		d := m.start + day.Day(i)
		plan := &m.cal[i]
		plan.month = int(d.Month()) - 1
		plan.week, plan.wd = (i+off)/7, (i+off)%7
		plan.fireBan = away(fires, d)
		m.daylight[i] = weather.Daylight(b.st.Place.Latitude, d.YearDay())
		row := m.targets[plan.week*k : (plan.week+1)*k]
		mouth := 1 + guests/float64(len(needs)) // guests eat as the household does
		for j, p := range b.st.People {
			off, ill := gone[p.Name].off[d], gone[p.Name].ill[d]
			if off || away(p.Away, d) || b.left(d) {
				continue
			}
			plan.heads++
			plan.mouths += mouth
			if !ill {
				plan.hours += p.Hours / 7
			}
			plan.energy += needs[j].Target[0] * mouth
			for n, t := range needs[j].Target {
				if !math.IsNaN(t) {
					row[n] += t * mouth
				}
			}
		}
		for _, x := range b.st.Exchange {
			if b.left(d) {
				break
			}
			plan.owed += x.Hours / 7 * monthly(x.Year, plan.month)
		}
	}
	if to := b.st.Stay.To; to != 0 && b.left(to+1) && to < m.start+day.Day(m.days) {
		m.notes = append(m.notes, "the stay ends on "+to.Long()+": nobody eats, drinks or works here after it, and nothing is owed")
	}
	for _, n := range needs {
		m.mouthful += n.Target[0] * (1 + guests/float64(len(needs)))
	}
	return nil
}

// left tells whether the stay is over on a day; one that was over before today says
// nothing of the days ahead.
func (b *builder) left(d day.Day) bool {
	to := b.st.Stay.To
	return to != 0 && d > to && to >= b.m.today
}

func monthly(by []float64, month int) float64 {
	if len(by) == 12 {
		return by[month]
	}
	return 1
}

func away(spells []stead.Away, d day.Day) bool {
	for _, a := range spells {
		if within(a.From, a.To, d) {
			return true
		}
	}
	return false
}

// within tells whether a day lies in a spell that may recur and may cross the new year.
func within(from, to day.When, d day.Day) bool {
	for _, year := range [...]int{d.Year() - 1, d.Year()} {
		a, z := from.In(year), to.In(year)
		if z < a {
			z = to.In(year + 1)
		}
		if d >= a && d <= z {
			return true
		}
	}
	return false
}

// bans are the spells in which no open fire is allowed, from pairs of dates.
func bans(pairs []string) (out []stead.Away) {
	for i := 0; i+1 < len(pairs); i += 2 {
		from, err1 := day.ParseWhen(pairs[i])
		to, err2 := day.ParseWhen(pairs[i+1])
		if err1 == nil && err2 == nil {
			out = append(out, stead.Away{From: from, To: to})
		}
	}
	return out
}

// usualFlush is what the first of a rain washes off where nothing is written,
// L/m2 (Texas guidance, 0.4 to 0.8; half a millimetre taken).
const usualFlush = 0.5

// water sets up roofs, groups, uses and treatment.
func (b *builder) water() error {
	m := b.m
	for _, g := range b.st.Groups() {
		m.groups = append(m.groups, group{name: g.Name, holds: g.Holds, dead: g.Dead, reserve: g.Reserve,
			openWater: g.Open, leak: g.Leak, spillGroup: -1, spillPlot: -1})
	}
	for _, r := range b.st.Roofs {
		coef := r.Coefficient
		if row, ok := b.tab.Roof(r.Surface); coef == 0 && ok {
			coef = row.Coefficient
		}
		flush := r.FirstFlush
		if flush == 0 {
			flush = usualFlush * r.Area
		}
		m.roofs = append(m.roofs, roof{r.Area, coef * (1 - r.Gutter), flush, b.group(r.To)})
	}
	for g := range m.groups {
		m.catchBy = append(m.catchBy, b.learnedCatch(m.groups[g].name))
		m.useBy = append(m.useBy, b.learnedUse(m.groups[g].name))
	}
	for _, u := range b.st.Uses {
		need := needWashing
		treated := u.Class == "treated" || u.Kind == "drinking" || u.Kind == "cooking"
		if treated {
			need = needDrinking
		}
		m.uses = append(m.uses, use{name: u.Name, perHead: u.PerPerson, perDay: u.PerDay, least: u.Least,
			group: b.group(u.From), treated: treated, drunk: u.Kind == "drinking",
			toSoil: u.Kind == "soil", returned: u.Returned, greyPlot: -1, need: need})
	}
	b.treatment()
	b.supplies()
	b.reserves()
	return nil
}

// reserveDays of a group's household use are kept from the beds where no reserve
// is written, but no more than a third of what the group holds.
const reserveDays = 14

func (b *builder) reserves() {
	for g := range b.m.groups {
		grp := &b.m.groups[g]
		daily := 0.0
		for i := range b.m.uses {
			if u := &b.m.uses[i]; u.group == g {
				daily += u.perHead*float64(b.m.people) + u.perDay
			}
		}
		if grp.reserve == 0 && daily > 0 {
			grp.reserve = min(grp.dead+reserveDays*daily, grp.holds/3)
			b.m.notes = append(b.m.notes, fmt.Sprintf("%s: beds leave %.0f L for the house (%d days of its use, at most a third of the tanks; no reserve was written)", grp.name, grp.reserve, reserveDays))
		}
	}
}

// supplies lets a well or the mains stand in when the terms allow it.
func (b *builder) supplies() {
	m := b.m
	m.outsideAt = atDeep
	for _, s := range b.st.Supplies {
		if !b.st.Terms.Water {
			m.notes = append(m.notes, s.Name+": the terms do not count water from outside, so it is not drawn on; set terms.outside_water = true if they do")
			continue
		}
		m.outside += s.Most
		if s.Kind == "mains" {
			m.outsideAt = atTrade
		}
	}
}

func (b *builder) treatment() {
	t := &b.m.treat
	for _, w := range b.st.Treatment {
		switch w.Kind {
		case "filter":
			t.filterLeft += w.Left + float64(w.Spare)*w.Litres
		case "boil":
			t.boils = true
		default:
			t.free = true
		}
	}
	if len(b.st.Treatment) == 0 {
		t.boils = true
	}
}

// group finds a tank group by its own name or a tank's; the first when unnamed.
func (b *builder) group(name string) int {
	for i, g := range b.tankGroups() {
		if g.Name == name {
			return i
		}
		for _, t := range g.Tanks {
			if b.st.Tanks[t].Name == name {
				return i
			}
		}
	}
	return 0
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
