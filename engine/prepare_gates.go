package engine

import (
	"evenstead/data"
	"evenstead/day"
	"evenstead/fertility"
)

// What the engine itself spreads on the ground.
const (
	ofUrine = iota
	ofDigestate
	ofCompost
	spreadings
)

// never is a wait that no harvest is far enough for.
const never = 1 << 29

// waits are the least days from spreading each thing to the next harvest of a
// stand; never where it may not go to that crop at all.
type waits [spreadings]int32

// gates asks the rules, the household's own with them, how long each stand's
// ground must wait, and how much urine it may have in a season.
func (b *builder) gates() error {
	rules, err := rulesOf(b.st, b.tab)
	if err != nil {
		return err
	}
	if l, ok := rules.Limit("urine_max"); ok {
		b.m.urineMost = l.Value
	}
	by := map[string]waits{}
	for i := range b.m.plantings {
		c := b.m.plantings[i].crop
		w, seen := by[c.ID]
		if !seen {
			w = b.waitsOf(rules, c)
			by[c.ID] = w
		}
		b.m.waits = append(b.m.waits, w)
	}
	b.m.bare = b.waitsOf(rules, nil)
	return nil
}

// waitsOf asks every gate about one crop, nil for ground on which none is to come.
func (b *builder) waitsOf(rules fertility.Rulebook, c *data.Crop) (w waits) {
	const on = day.Day(20000) // any day: only the days between count
	for what, deed := range [spreadings]fertility.Deed{ofUrine: fertility.SpreadUrine, ofDigestate: fertility.SpreadDigestate, ofCompost: fertility.SpreadCompost} {
		if deed == fertility.SpreadCompost && !b.fouled() {
			continue // plants and kitchen waste alone wait for nothing
		}
		a := fertility.Act{Deed: deed, Today: on, Harvest: on + never/2, Covered: true, Season: leastDose, Water: b.dilution(), Rotted: -1, Kind: fertility.NotEaten}
		if c != nil {
			a.Kind = kindOf(b.tab, c.ID)
		}
		switch r := rules.Gate(a); {
		case !r.Allowed:
			w[what] = never
		case r.Until != 0:
			w[what] = int32(a.Harvest - r.Until)
		}
	}
	return w
}

// fouled tells whether more than plants and kitchen waste goes on the heap.
func (b *builder) fouled() bool {
	return len(b.st.Flocks) > 0 || len(b.st.Digesters) > 0 || len(b.st.Toilets) > 0 && b.st.Toilets[0].Apart
}

func (b *builder) dilution() float64 {
	if len(b.st.Toilets) == 0 {
		return 0
	}
	return b.st.Toilets[0].Dilution
}

// kindOf is how a crop's eaten part stands to the soil.
func kindOf(tab *data.Tables, crop string) fertility.Kind {
	row, ok := tab.EatenPart(crop)
	if !ok {
		return fertility.Unknown
	}
	return fertility.KindOf(row.Part)
}

// may tells whether a thing may go on a plot today by its gate: what stands there
// is picked late enough, or what comes next where nothing stands. What a stand keeps
// off its plot it keeps off as long as it stands.
func (r *runner) may(p, what int) bool {
	m := r.m
	by := &r.blocked[what][p]
	if *by > 0 && r.stands(int(*by)-1) {
		return false
	}
	*by = 0
	standing := false
	for q := m.plots[p].first; q < m.plots[p].last; q++ {
		if r.stands(q) {
			standing = true
			if wait := m.waits[q][what]; wait > 0 && r.untilPicked(q) < wait {
				*by = int32(q) + 1
				return false
			}
		}
	}
	if standing {
		return true
	}
	for q := m.plots[p].first; q < m.plots[p].last; q++ { // in the order of sowing
		if m.plantings[q].sow > r.day {
			return r.untilPicked(q) >= m.waits[q][what]
		}
	}
	return m.bare[what] == 0
}

// untilPicked is the days to a stand's next picking at the quickest it may come.
func (r *runner) untilPicked(q int) int32 {
	g := &r.m.plantings[q]
	switch {
	case g.tree:
		return int32(max(0, g.begins-r.day))
	case r.day < g.sow:
		return int32(g.sow-r.day) + int32(g.least)
	}
	return int32(max(0, 1-r.toward(q))*g.least + nearly)
}

// urineRing is how many spells of urineSpell days a season's urine is kept by, so
// that no season of days ever holds more than the rule allows.
const (
	urineRing  = 4
	urineSpell = 60 // a third of a season
)

// urineRoom is the neat urine that a plot may still have this season, L.
func (r *runner) urineRoom(p int) float64 {
	sum := 0.0
	for _, l := range r.s.poured[p] {
		sum += l
	}
	return max(0, r.m.urineMost*r.m.plots[p].area-sum)
}

// turnUrine forgets the oldest spell.
func (r *runner) turnUrine() {
	if r.day%urineSpell != 0 {
		return
	}
	for p := range r.s.poured {
		ring := &r.s.poured[p]
		*ring = [urineRing]float64{0, ring[0], ring[1], ring[2]}
	}
}
