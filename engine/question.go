package engine

import (
	"context"
	"fmt"
	"math"
	"slices"

	"evenstead/day"
	"evenstead/weather"
)

// A Question is a store that a count or a dip would tell more of, and what the
// outlook hangs on it.
type Question struct {
	Store string  `json:"store"`
	Unit  string  `json:"unit"`
	Now   float64 `json:"now"` // as reckoned
	Low   float64 `json:"low"` // four in five lie between
	High  float64 `json:"high"`
	Need  string  `json:"need"` // name of the need that hangs on it most
	// Middle days of cover of that need if the store holds the low, or the high;
	// when it makes no day's difference, the share of the need met decides.
	LowDays  int     `json:"low_days"`
	HighDays int     `json:"high_days"`
	Change   float64 `json:"change"` // days of cover, or hundredths of the need where days are alike
	Said     string  `json:"said"`
}

// Unseen is how far a store that nobody looks at strays from the reckoning in a
// month, as a share of it, growing by the square root of time (common practice).
const unseen = 0.10

// Counts of what Questions looks at.
const (
	askMembers = 60
	askFoods   = 8
)

// a doubt is a store whose amount today is not sure.
type doubt struct {
	store, unit string
	now         float64
	low, high   float64
	weight      float64 // for choosing among foods: MJ between low and high
	set         func(*state, float64)
}

// Questions finds the counts that would sharpen the outlook most, the greatest
// first: it runs every doubtful store at its low and at its high, all else the
// same. o must hold a Past; prepare must make the same stead.
func Questions(ctx context.Context, ens *weather.Ensemble, o Options, prepare func(Options) (*Model, error)) ([]Question, error) {
	if o.Past == nil {
		return nil, fmt.Errorf("nothing is replayed: keep the stead in a file first, with evenstead describe")
	}
	few := *ens
	few.Members = ens.Members[:min(askMembers, len(ens.Members))]
	o.Report = nil
	m, err := prepare(o)
	if err != nil {
		return nil, err
	}
	out := []Question{}
	for _, d := range m.doubts(&few, o.Past) {
		q, err := d.ask(ctx, &few, o, m)
		if err != nil {
			return nil, err
		}
		if q.Change > 0 {
			out = append(out, q)
		}
	}
	slices.SortStableFunc(out, func(a, b Question) int {
		switch {
		case a.Change > b.Change:
			return -1
		case a.Change < b.Change:
			return 1
		}
		return 0
	})
	return out, nil
}

// doubts lists the stores that are not sure today.
func (m *Model) doubts(ens *weather.Ensemble, p *Past) []doubt {
	var states []*state
	r := newRunner(m)
	for i, w := range ens.Members {
		r.begin(i, w)
		for d := range m.skip {
			r.hear(d)
			r.step(d)
		}
		r.hear(m.skip)
		states = append(states, r.s.clone())
	}
	seen := map[string]day.Day{}
	for _, s := range p.Seen {
		seen[s.Store] = s.Day
	}
	var out []doubt
	add := func(name, unit string, top float64, read func(*state) float64, set func(*state, float64)) *doubt {
		since, ok := seen[name]
		if !ok {
			return nil
		}
		d := doubt{store: name, unit: unit, set: set}
		d.spread(states, read, float64(m.today-since), top)
		if d.high-d.low < small*max(d.now, d.high) {
			return nil
		}
		out = append(out, d)
		return &out[len(out)-1]
	}
	for g := range m.groups {
		add(m.groups[g].name+" water", "L", m.groups[g].holds, func(s *state) float64 { return s.level[g] }, func(s *state, v float64) { s.level[g] = v })
	}
	waters := len(out)
	for k := range m.kinds {
		if d := add(m.kinds[k].label(), "kg", math.Inf(1), func(s *state) float64 { return s.kg[k] }, func(s *state, v float64) { s.kg[k] = v }); d != nil {
			d.weight = (d.high - d.low) * m.kinds[k].mj
		}
	}
	foods := out[waters:]
	slices.SortStableFunc(foods, func(a, b doubt) int { return -cmpFloat(a.weight, b.weight) })
	out = out[:waters+min(askFoods, len(foods))]
	add("wood", "kg", math.Inf(1), func(s *state) float64 { return s.wood }, func(s *state, v float64) { s.wood = v })
	add("bottled gas", "kg", math.Inf(1), func(s *state) float64 { return s.bottle }, func(s *state, v float64) { s.bottle = v })
	return out
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// spread sets what a store holds in the middle, and the low and high that four
// in five lie between: by the members, and wider by the days nobody looked.
func (d *doubt) spread(states []*state, read func(*state) float64, days, top float64) {
	v := make([]float64, len(states))
	for i, s := range states {
		v[i] = read(s)
	}
	slices.Sort(v)
	at := func(q float64) float64 { return v[int(q*float64(len(v)-1))] }
	d.now = at(0.5)
	stray := z80 * unseen * math.Sqrt(max(0, days)/30) * d.now
	d.low = max(0, d.now-math.Hypot(d.now-at(0.1), stray))
	d.high = min(top, d.now+math.Hypot(at(0.9)-d.now, stray))
}

// ask runs the outlook at the store's low and high.
func (d *doubt) ask(ctx context.Context, ens *weather.Ensemble, o Options, m *Model) (Question, error) {
	q := Question{Store: d.store, Unit: d.unit, Now: d.now, Low: d.low, High: d.high}
	var outs [2]*Outlook
	for i, v := range [...]float64{d.low, d.high} {
		o.force = func(s *state) { d.set(s, v) }
		res, err := m.Run(ctx, ens, o)
		if err != nil {
			return q, err
		}
		outs[i] = res.Outlook()
	}
	for i := range outs[0].Needs {
		a, b := &outs[0].Needs[i], &outs[1].Needs[i]
		if !a.Known || !a.Main {
			continue
		}
		change := math.Abs(float64(b.Middle - a.Middle))
		if change == 0 {
			change = min(0.99, 100*math.Abs(b.Met[1]-a.Met[1]))
		}
		if change > q.Change {
			q.Change, q.Need, q.LowDays, q.HighDays = change, a.Name, a.Middle, b.Middle
		}
	}
	q.say(o.Today)
	return q, nil
}

// say words what hangs on the store.
func (q *Question) say(today day.Day) {
	if q.LowDays == q.HighDays {
		q.Said = fmt.Sprintf("%s: a little less or more of the need is met", q.Need)
		return
	}
	q.Said = fmt.Sprintf("%s short about %s, or about %s", lower(q.Need), (today + day.Day(q.LowDays)).Short(), (today + day.Day(q.HighDays)).Short())
}

// label is a kind's name among the stores that are counted.
func (k *kind) label() string {
	if k.form == "fresh" || k.form == "dry" {
		return k.name
	}
	return k.name + ", " + k.form
}
