package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/day"
)

// A Drift is what a count or a dip found against what was reckoned.
type Drift struct {
	Entry    string  `json:"entry"` // id
	Day      day.Day `json:"day"`
	Store    string  `json:"store"`    // "barn water", "potato"
	Unit     string  `json:"unit"`     // L or kg
	Reckoned float64 `json:"reckoned"` // on the morning of the day
	Found    float64 `json:"found"`
	Days     int     `json:"days"`   // since it was last seen, or described
	Likely   string  `json:"likely"` // what the difference may come from; empty when it is small
}

// Seen is how old the knowledge of a store is.
type Seen struct {
	Store string  `json:"store"`
	Unit  string  `json:"unit"`
	Now   float64 `json:"now"`
	Day   day.Day `json:"day"`
	How   string  `json:"how"` // "dipped", "counted" or "described"
}

// tally sums what a group of tanks did since it was last dipped, L; catch and use
// are by the handbook, the place's factors left out.
type tally struct {
	from          day.Day
	caught, used  float64
	spilled, open float64 // open is m2
	dry           bool    // the tap ran dry by the reckoning
}

// kept is what a replay keeps beside the state.
type kept struct {
	m        *Model
	past     *Past
	handbook bool
	asked    []bool // by entry
	told     map[int][]Flow
	entry    int
	since    []tally
	drifts   []Drift
	last     map[string]Seen
	water    map[string]*pair
	dips     map[string]int // that taught something, by group
	yields   map[string]*yieldEvidence
	tracks   []Track
	account  *account // nil when none is wanted
}

// A Track is what the replay had of one store, a week apart up to today. The id
// is that of the outlook's store.
type Track struct {
	ID     string    `json:"id"`
	Days   []day.Day `json:"days"`
	Levels []float64 `json:"levels"`
}

// look reads every gauge of a day.
func (k *kept) look(r *runner, d day.Day) {
	for i := range k.m.gauges {
		g := &k.m.gauges[i]
		at := slices.IndexFunc(k.tracks, func(t Track) bool { return t.ID == g.id })
		if at < 0 {
			at = len(k.tracks)
			k.tracks = append(k.tracks, Track{ID: g.id})
		}
		t := &k.tracks[at]
		if n := len(t.Days); n > 0 && t.Days[n-1] == d {
			t.Levels[n-1] = g.read(r.s)
			continue
		}
		t.Days = append(t.Days, d)
		t.Levels = append(t.Levels, g.read(r.s))
	}
}

func newKept(h *History, p *Past) *kept {
	k := &kept{past: p, handbook: h.Handbook, asked: make([]bool, len(h.Entries)), told: map[int][]Flow{},
		last: map[string]Seen{}, water: map[string]*pair{}, dips: map[string]int{}, yields: map[string]*yieldEvidence{}, account: newAccount(h, p)}
	if h.Tell != nil {
		for i := range h.Entries {
			k.asked[i] = h.Tell(h.Entries[i])
		}
	}
	return k
}

// tells tells whether an entry's flows are wanted, and notes that it is at hand.
func (k *kept) tells(entry int) bool {
	k.entry = entry
	k.account.entry(entry)
	return k.asked[entry]
}

// turn takes up the model of the next part; tanks keep their tallies by name.
func (k *kept) turn(m *Model) {
	since := make([]tally, len(m.groups))
	for g := range since {
		since[g].from = m.start
		for o := range k.since {
			if k.m.groups[o].name == m.groups[g].name {
				since[g] = k.since[o]
			}
		}
	}
	k.m, k.since = m, since
}

// leave ends a part.
func (k *kept) leave(r *runner) {
	r.kept = nil
}

func (k *kept) drift(store, unit string, reckoned, found float64, how, likely string) {
	e := &k.past.entries[k.entry]
	from := k.past.Known.Start
	if s, ok := k.last[store]; ok {
		from = s.Day
	}
	k.drifts = append(k.drifts, Drift{e.ID.String(), e.Day, store, unit, reckoned, found, int(e.Day - from), likely})
	k.last[store] = Seen{store, unit, found, e.Day, how}
}

// dipped keeps what a dip of a group showed, and learns from it.
func (k *kept) dipped(r *runner, g int, was float64) {
	m, t := k.m, k.since[g]
	name, found := m.groups[g].name, r.s.level[g]
	today := m.start + day.Day(r.day)
	days := int(today - t.from)
	t.open = m.groups[g].openWater
	k.drift(name+" water", "L", was, found, "dipped", t.likely(found-was, days, m.groups[g].holds))
	if days > 0 && t.spilled == 0 && !t.dry && t.caught+t.used > 0 && m.between(g, found) {
		k.learnWater(name, g, &t, found-was)
	}
	k.since[g] = tally{from: today}
}

// between tells whether a level lies clear of a group's tap and brim, where what
// came in and went out can't be told from what could not.
func (m *Model) between(g int, litres float64) bool {
	grp := &m.groups[g]
	return litres > grp.dead+small*grp.holds && litres < grp.holds*(1-small)
}

// small is the share of a group's size below which a difference is a reading's error.
const small = 0.02

// likely words what a dip's difference may come from: each by itself.
func (t *tally) likely(more float64, days int, holds float64) string {
	if math.Abs(more) < small*holds || days < 1 {
		return ""
	}
	var said []string
	if more < 0 {
		if t.open > 0 {
			said = append(said, "more evaporation from the open water")
		}
		said = append(said, fmt.Sprintf("a leak of %.3g L a day", -more/float64(days)))
	}
	if t.used > 0 {
		if share := -more / t.used; share > -0.95 && share < 3 {
			said = append(said, off(share)+" drawn than reckoned")
		}
	}
	if t.caught > 0 {
		if share := more / t.caught; share > -0.95 && share < 3 {
			said = append(said, off(share)+" caught than reckoned")
		}
	} else if more > 0 {
		said = append(said, "rain that was not recorded")
	}
	return strings.Join(said, ", or ")
}

// off words a difference as a share.
func off(share float64) string {
	if share < 0 {
		return fmt.Sprintf("%.0f in 100 less", -share*100)
	}
	return fmt.Sprintf("%.0f in 100 more", share*100)
}

// counted keeps what a count of a food showed.
func (k *kept) counted(r *runner, kinds []int, was, found float64) {
	kd := &k.m.kinds[kinds[0]]
	name := kd.name
	if len(kinds) == 1 {
		name = kd.label()
	}
	k.drift(name, "kg", was, found, "counted", k.foodLikely(kd, found-was, max(was, found)))
}

// foodLikely words what a count's difference may come from.
func (k *kept) foodLikely(kd *kind, more, size float64) string {
	if math.Abs(more) < small*size {
		return ""
	}
	meals := ""
	if kd.mj > 0 && k.m.mouthful > 0 {
		meals = fmt.Sprintf(" (as much as feeds the household %.2g days)", math.Abs(more)*kd.mj/k.m.mouthful)
	}
	if more < 0 {
		return "eaten, given or spoiled and not recorded" + meals
	}
	return "picked, received or not eaten, and not recorded" + meals
}

// weighed keeps what a count of a fuel showed.
func (k *kept) weighed(r *runner, name string, was, found float64) {
	likely := ""
	switch {
	case found < was*(1-small):
		likely = "burnt or given away and not recorded"
	case found > was*(1+small):
		likely = "brought in and not recorded, or less burnt"
	}
	k.drift(name, "kg", was, found, "counted", likely)
}

// seenAll lists the stores with what is known of each: tanks, then food and fuel
// by how much there is.
func (k *kept) seenAll(m *Model, s *state) []Seen {
	var out []Seen
	add := func(store, unit string, now float64) {
		at, ok := k.last[store]
		if !ok {
			at = Seen{Day: k.past.Known.Start, How: "described"}
		}
		out = append(out, Seen{store, unit, now, at.Day, at.How})
	}
	for g := range m.groups {
		add(m.groups[g].name+" water", "L", s.level[g])
	}
	food := len(out)
	for i := range m.kinds {
		kd := &m.kinds[i]
		name := kd.label()
		if _, known := k.last[name]; s.kg[i] > lastBite || known {
			add(name, "kg", s.kg[i])
		}
	}
	slices.SortStableFunc(out[food:], func(a, b Seen) int {
		switch {
		case a.Now > b.Now:
			return -1
		case a.Now < b.Now:
			return 1
		}
		return 0
	})
	if s.wood > 0 {
		add("wood", "kg", s.wood)
	}
	if s.bottle > 0 {
		add("bottled gas", "kg", s.bottle)
	}
	return out
}

// A Flow is an amount of a material that an entry moved between two stores.
type Flow struct {
	Material string  `json:"material"`
	Unit     string  `json:"unit"`
	From     string  `json:"from"`
	To       string  `json:"to"`
	Amount   float64 `json:"amount"`
}

// Told is what an entry did.
type Told struct {
	Entry  string // id
	Flows  []Flow
	Remark string // why nothing moved, or what else it changed; may be empty
	Err    error  // why it can't be reckoned with; nil when it can
}

// flowsBetween lists what a ledger gained.
func flowsBetween(before, after *ledger) []Flow {
	var out []Flow
	for mat := range materials {
		for from := range nodes {
			for to := range nodes {
				if v := after[mat][from][to] - before[mat][from][to]; math.Abs(v) > 1e-12 {
					out = append(out, Flow{materialNames[mat], materialUnits[mat], nodeNames[from], nodeNames[to], v})
				}
			}
		}
	}
	return out
}
