package sense

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenstead/book"
	"evenstead/unit"
)

// A Panel is all the sensors of a stead. The zero value is ready. It is not for
// use by several at once.
type Panel struct {
	Gauges map[string]*Gauge // by store and measure
}

// What an event is.
type What int

// The events.
const (
	Write What = iota // an entry for the book
	Tell              // a sensor's trouble, or its end
	Ring              // the freezer's alarm, its repetition or its end
)

// An Event is something to be done about a reading.
type Event struct {
	What  What
	Say   string     // a sentence
	Entry book.Entry // to be written
}

// A Verdict is what became of a reading.
type Verdict struct {
	Store    string // the book's name of it
	Used     bool
	Why      string // why it is not; "" when it is
	Events   []Event
	Unusable bool // no sensor of this stead could say it: a fault of the sender
}

// Oldest and earliest a reading may be dated. Common practice: a sensor without
// signal keeps a day at most, and clocks differ by minutes.
const (
	oldest = 24 * time.Hour
	ahead  = 5 * time.Minute
)

// Take judges a reading that came now. c tells the stores' names; now is in the
// household's zone. The error tells that the reading is of nothing there is.
func (p *Panel) Take(r Reading, c book.Context, now time.Time) Verdict {
	g, rule, size, err := p.gauge(r, c)
	if err != nil {
		return Verdict{Store: r.Store, Why: err.Error(), Unusable: true}
	}
	if r.At.IsZero() {
		r.At = now
	}
	r.At = r.At.In(now.Location())
	v := Verdict{Store: g.Store}
	switch g.Heard = now; {
	case r.At.After(now.Add(ahead)), r.At.Before(now.Add(-oldest)):
		v.Why = fmt.Sprintf("is dated %s: set the sensor's clock, or leave the time out", r.At.Format("2006-01-02 15:04"))
		return v
	case !r.At.After(g.At):
		v.Why = "is no newer than the last one"
		return v
	}
	trouble, why := g.judge(r, rule, size)
	v.Events = g.tell(trouble, why, now)
	if trouble != Sound {
		v.Why = why
		return v
	}
	v.Used = true
	v.Events = append(v.Events, g.use(r, now)...)
	return v
}

// use takes a believed reading into the book's day and the alarm.
func (g *Gauge) use(r Reading, now time.Time) []Event {
	events := g.turn(r, now)
	if e, ok := g.dip(r); ok {
		events = append(events, Event{What: Write, Entry: e})
	}
	g.believe(r)
	return append(events, g.watch(now)...)
}

// turn closes the day before a reading's.
func (g *Gauge) turn(r Reading, now time.Time) (events []Event) {
	d := localDay(r.At, now)
	if d > g.Day {
		events = g.close()
		g.Day = d
	}
	return events
}

// close makes the entry of the day that was summed.
func (g *Gauge) close() (events []Event) {
	if g.N > 0 {
		if e, ok := g.sum(); ok {
			events = []Event{{What: Write, Entry: e}}
		}
	}
	g.N, g.Sum = 0, 0
	return events
}

// Tick does what time alone brings: days that are over, sensors that fell silent,
// alarms that stand. Call it every minute or so.
func (p *Panel) Tick(now time.Time) (events []Event) {
	for _, g := range p.sorted() {
		if today := localDay(now, now); g.N > 0 && g.Day < today {
			events = append(events, g.close()...)
			g.Day = today
		}
		rule := g.rule()
		if quiet := now.Sub(g.At); g.Trouble == Sound && quiet > rule.Silent {
			events = append(events, g.tell(Quiet, fmt.Sprintf("has not been heard from for %s", span(quiet)), now)...)
			if g.Sort == book.Freezer {
				g.Rung = now
				events = append(events, Event{What: Ring, Say: fmt.Sprintf("Freezer %s: no reading for %s. Look whether it has current.", g.Store, span(quiet))})
			}
		}
		events = append(events, g.watch(now)...)
	}
	return events
}

// tell makes the event of a change of trouble, at most once an hour for each.
func (g *Gauge) tell(t Trouble, why string, now time.Time) []Event {
	was := g.Trouble
	g.Trouble, g.Why = t, why
	if t == was || t == Sound && g.Told[was].IsZero() {
		return nil
	}
	key := t
	if t == Sound {
		why = "can be believed again"
	}
	if last := g.Told[key]; !last.IsZero() && now.Sub(last) < time.Hour {
		return nil
	}
	if g.Told == nil {
		g.Told = map[Trouble]time.Time{}
	}
	g.Told[key] = now
	return []Event{{What: Tell, Say: fmt.Sprintf("%s %s %s.", g.Store, g.Measure, why)}}
}

// gauge finds or makes the gauge of a reading, its rule and its scale.
func (p *Panel) gauge(r Reading, c book.Context) (*Gauge, *Rule, float64, error) {
	store, sort, rule, err := place(r, c)
	if err != nil {
		return nil, nil, 0, err
	}
	if p.Gauges == nil {
		p.Gauges = map[string]*Gauge{}
	}
	key := store + "/" + string(r.Measure)
	g := p.Gauges[key]
	if g == nil || g.Kind != r.Kind || g.Sort != sort {
		if g == nil && len(p.Gauges) >= mostGauges {
			return nil, nil, 0, fmt.Errorf("%d sensors are the most that are listened to", mostGauges)
		}
		wrote := book.Entry{}.Day
		if g != nil {
			wrote = g.Wrote
		}
		g = &Gauge{Store: store, Sort: sort, Measure: r.Measure, Kind: r.Kind, Wrote: wrote}
		p.Gauges[key] = g
	}
	return g, rule, scale(r, holds(c, sort, store)), nil
}

// mostGauges bounds what senders with names of their own, such as rain gauges, can fill.
const mostGauges = 200

// place finds the store that a reading names.
func place(r Reading, c book.Context) (string, book.Sort, *Rule, error) {
	if r.Measure == Rain {
		return strings.ToLower(r.Store), "", &rainRule, nil
	}
	var none []error
	for _, s := range sorts[r.Measure] {
		if id, err := c.Named(r.Store, s.sort); err == nil {
			return id, s.sort, s.rule, nil
		}
		if names := named(c, s.sort); names != "" {
			none = append(none, errors.New(names))
		}
	}
	if none == nil {
		return "", "", nil, fmt.Errorf("nothing here has a %s called %.40q: the description has no such store", r.Measure, r.Store)
	}
	return "", "", nil, fmt.Errorf("nothing here has a %s called %.40q: there is %s", r.Measure, r.Store, strings.ReplaceAll(errors.Join(none...).Error(), "\n", "; "))
}

func named(c book.Context, s book.Sort) string {
	var ids []string
	for _, n := range c.Names[s] {
		ids = append(ids, n.ID)
	}
	if ids == nil {
		return ""
	}
	return string(s) + " " + strings.Join(ids, ", ")
}

func holds(c book.Context, s book.Sort, id string) float64 {
	for _, n := range c.Names[s] {
		if n.ID == id {
			return n.Holds
		}
	}
	return 0
}

func (g *Gauge) rule() *Rule {
	for _, s := range sorts[g.Measure] {
		if s.sort == g.Sort {
			return s.rule
		}
	}
	return &rainRule
}

func (p *Panel) sorted() []*Gauge {
	out := make([]*Gauge, 0, len(p.Gauges))
	for _, g := range p.Gauges {
		out = append(out, g)
	}
	slices.SortFunc(out, func(a, b *Gauge) int {
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), cmp.Compare(a.Store, b.Store))
	})
	return out
}

// A Standing is one sensor as it stands.
type Standing struct {
	Store   string
	Measure Measure
	Value   float64 // the last believed, SI
	Kind    unit.Kind
	At      time.Time // of it; zero: none yet
	Trouble Trouble
	Why     string // of the trouble
	Alarm   string // the freezer's, a sentence; "" when there is none
}

// Standing lists the sensors by measure and store.
func (p *Panel) Standing() []Standing {
	var out []Standing
	for _, g := range p.sorted() {
		s := Standing{Store: g.Store, Measure: g.Measure, Value: g.Value, Kind: g.Kind, At: g.At, Trouble: g.Trouble, Why: g.Why}
		if g.Ringing {
			s.Alarm = g.alarm(g.At)
		}
		out = append(out, s)
	}
	return out
}
