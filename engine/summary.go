package engine

import (
	"math"
	"slices"

	"evenstead/day"
)

// Outlook sums a result up. Notes on the weather, defaults and cautions are the
// caller's to add.
func (r *Result) Outlook() *Outlook {
	m := r.m
	o := &Outlook{Stead: m.name, Today: m.today, Days: m.days - m.skip, Members: r.members, Seed: m.seed}
	for n := range m.needs() {
		if m.applies(n) {
			o.Needs = append(o.Needs, r.need(n))
		}
	}
	for g := range m.gauges {
		o.Stores = append(o.Stores, r.store(g))
	}
	o.Crops = r.crops()
	o.Loops = r.loops()
	o.Defaults = m.notes
	return o
}

// applies tells whether a stead has a need at all.
func (m *Model) applies(n int) bool {
	switch n {
	case needDrinking, needWashing:
		return slices.ContainsFunc(m.uses, func(u use) bool { return u.need == n })
	case needBeds:
		return slices.ContainsFunc(m.plots, func(p plot) bool { return p.irrigated })
	case m.after(needCooking):
		return len(m.cookers) > 0
	case m.after(needLight):
		return m.light != nil
	case m.after(needNitrogen):
		return len(m.plantings) > 0
	case m.after(needCover), m.after(needDrums):
		return m.toilet != nil
	case m.after(needFreezer):
		return m.freezer >= 0
	case m.after(needShelf):
		return len(m.places) > 0
	}
	if k := n - needFirstNutrient; k >= 0 && k < m.nutrientNeeds {
		return m.hasTarget(k)
	}
	return true
}

func (m *Model) hasTarget(k int) bool {
	for i := k; i < len(m.targets); i += m.nutrientNeeds {
		if m.targets[i] > 0 {
			return true
		}
	}
	return false
}

// mainNutrients are shown before the others.
var mainNutrients = []string{"energy_mj", "protein_g", "fat_g"}

// unknownShare is the share of energy eaten from foods that have no figure for a
// nutrient above which its outlook is not told.
const unknownShare = 1.0 / 3

// title is a need's id, name, group, and what counts as short.
func (m *Model) title(n int) (id, name, group, note string, shown bool) {
	daily := "short on a day with less than 95 in 100 of what is asked"
	switch n {
	case needDrinking:
		return "drinking", "Drinking and cooking water", Water, daily + "; the stated emergency amount is enough", true
	case needWashing:
		return "washing", "Washing and yard water", Water, daily + "; emergency amounts count as short", true
	case needBeds:
		return "beds", "Bed water", Water, daily + " by the irrigated beds", true
	}
	if k := n - needFirstNutrient; k < m.nutrientNeeds {
		nut := m.nutrients[k]
		if k == 0 {
			return "energy", "Food energy", Food, daily, true
		}
		return nut.ID, capital(nut.Name), Food, "short when four weeks give less than 90 in 100 of the target", slices.Contains(mainNutrients, nut.ID)
	}
	switch n - m.after(0) {
	case needCooking:
		return "cooking", "Cooking heat", Heat, daily, true
	case needLight:
		return "light", "Light", Heat, daily, false
	case needNitrogen:
		return "nitrogen", "Nitrogen", Soil, "short when standing crops have had less than 80 in 100 of what their growth asked", true
	case needCover:
		return "cover", "Cover material", Soil, daily, false
	case needDrums:
		return "drums", "Drums", Soil, "short when no drum is free", false
	case needFreezer:
		return "freezer", "Freezer room", Room, "short in a week in which food to freeze found no room", false
	case needShelf:
		return "shelves", "Shelf room", Room, "short in a week in which the shelves are over full", false
	}
	return "hours", "Hours", Hours, "short in a week with less than 95 in 100 of the hours the work asks", true
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]&^0x20) + s[1:]
}

// need sums up one need over the members.
func (r *Result) need(n int) NeedOutlook {
	m := r.m
	id, name, group, note, shown := m.title(n)
	o := NeedOutlook{ID: id, Name: name, Group: group, Note: note, Main: shown, Known: true}
	first := r.column16(r.first, m.needs(), n)
	slices.Sort(first)
	horizon := m.days - m.skip
	for i, q := range []float64{0.1, 0.5, 0.9} {
		v := int(first[int(q*float64(len(first)-1))])
		o.Open[i] = v >= horizon
		switch i {
		case 0:
			o.Sure = v
		case 1:
			o.Middle = v
		case 2:
			o.Long = v
		}
	}
	o.Covered = covered(first, m.weeks)
	o.Short = make([]float64, m.weeks)
	for w := range o.Short {
		o.Short[w] = float64(r.short[n*m.weeks+w]) / float64(r.members)
		if o.Short[w] > o.Short[o.WorstWeek] {
			o.WorstWeek = w
		}
	}
	failed, _ := slices.BinarySearch(first, int16(horizon))
	o.ShareShort = float64(failed) / float64(len(first))
	if failed > 0 {
		d := m.today + day.Day(first[failed/2])
		o.FirstShort = &d
	}
	met := r.column32(r.met, m.needs(), n)
	o.Met = [3]float64{quantile(met, 0.1), quantile(met, 0.5), quantile(met, 0.9)}
	if k := n - needFirstNutrient; k > 0 && k < m.nutrientNeeds {
		r.knowledge(&o, k)
	}
	return o
}

// knowledge marks a nutrient as not known when too much of what is eaten has no
// figure for it.
func (r *Result) knowledge(o *NeedOutlook, k int) {
	m := r.m
	sum, blank := 0.0, 0.0
	for i := range r.members {
		for j := range m.kinds {
			v := float64(r.eaten[i*len(m.kinds)+j])
			sum += v
			if m.blank[j*m.nutrientNeeds+k] {
				blank += v
			}
		}
	}
	if sum > 0 {
		blank /= sum
	}
	switch {
	case blank > unknownShare || m.allBlank(k):
		o.Known = false
		o.Note = "not known: too many foods have no figure for it"
		o.Covered, o.Short, o.FirstShort, o.ShareShort = nil, nil, nil, 0
	case blank > 0.01:
		o.Note += "; foods that give " + percent(blank) + " of the energy have no figure and count as none"
	}
}

// allBlank tells whether no kind of food has a figure for a nutrient.
func (m *Model) allBlank(k int) bool {
	for j := k; j < len(m.blank); j += m.nutrientNeeds {
		if !m.blank[j] {
			return false
		}
	}
	return len(m.blank) > 0
}

// covered is the share of members not yet short at the start of each week.
func covered(first []int16, weeks int) []float64 {
	c := make([]float64, weeks+1)
	for w := range c {
		n, _ := slices.BinarySearch(first, int16(w*7))
		c[w] = 1 - float64(n)/float64(len(first))
	}
	return c
}

func (r *Result) column16(v []int16, width, at int) []int16 {
	out := make([]int16, r.members)
	for i := range out {
		out[i] = v[i*width+at]
	}
	return out
}

func (r *Result) column32(v []float32, width, at int) []float64 {
	out := make([]float64, r.members)
	for i := range out {
		out[i] = float64(v[i*width+at])
	}
	slices.Sort(out)
	return out
}

// quantile reads a sorted list, linear between its members.
func quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

func band(sorted []float64) Band {
	return Band{quantile(sorted, 0.1), quantile(sorted, 0.25), quantile(sorted, 0.5), quantile(sorted, 0.75), quantile(sorted, 0.9)}
}

// store sums up one gauge over the members.
func (r *Result) store(g int) StoreOutlook {
	m := r.m
	gg := &m.gauges[g]
	id, _, _, _, _ := m.title(gg.need)
	o := StoreOutlook{ID: gg.id, Name: gg.name, Group: gg.group, Unit: gg.unit, Size: gg.size, Line: gg.line, Need: id}
	width := len(m.gauges) * (m.weeks + 1)
	for w := range m.weeks + 1 {
		o.Weeks = append(o.Weeks, band(r.column32(r.level, width, g*(m.weeks+1)+w)))
	}
	o.Now = o.Weeks[0].P50
	o.Said = r.said(&o)
	return o
}

// said tells where a store stands lowest in the middle year.
func (r *Result) said(o *StoreOutlook) string {
	low := 0
	for w := range o.Weeks {
		if o.Weeks[w].P50 < o.Weeks[low].P50 {
			low = w
		}
	}
	when := r.m.today + day.Day(7*low)
	if low == 0 {
		return "It stands lowest today."
	}
	return "Lowest in the middle year about " + when.Short() + "."
}

// crops sums up the harvest crop by crop.
func (r *Result) crops() []CropOutlook {
	m := r.m
	var out []CropOutlook
	at := map[string]int{}
	var stands [][]int
	for q := range m.plantings {
		id := m.plantings[q].crop.ID
		i, ok := at[id]
		if !ok {
			i = len(out)
			at[id] = i
			out = append(out, CropOutlook{Crop: id, Name: m.plantings[q].crop.Name})
			stands = append(stands, nil)
		}
		stands[i] = append(stands[i], q)
	}
	for i := range out {
		r.crop(&out[i], stands[i])
	}
	return out
}

func (r *Result) crop(o *CropOutlook, stands []int) {
	m := r.m
	n := len(m.plantings)
	kg, seed := make([]float64, r.members), make([]float64, r.members)
	var firsts []float64
	var lost [causes]int
	for i := range r.members {
		first, failed := -1, false
		for _, q := range stands {
			kg[i] += float64(r.kg[i*n+q])
			seed[i] += float64(r.seed[i*n+q])
			if p := int(r.picked[i*n+q]); p >= 0 && (first < 0 || p < first) {
				first = p
			}
			if c := r.cause[i*n+q]; c != causeNone {
				lost[c]++
				failed = failed || float64(r.kg[i*n+q]) < m.plantings[q].yield/3
			}
		}
		if first >= 0 {
			firsts = append(firsts, float64(first))
		}
		if failed {
			o.Failed += 1 / float64(r.members)
		}
	}
	seen := map[int]bool{}
	for _, q := range stands {
		if p := m.plantings[q].plot; !seen[p] {
			o.Area += m.plantings[q].area
			seen[p] = true
		}
	}
	slices.Sort(kg)
	slices.Sort(seed)
	o.Kg, o.Seed = band(kg), quantile(seed, 0.5)
	if len(firsts)*2 > r.members {
		slices.Sort(firsts)
		d := m.today + day.Day(quantile(firsts, 0.5))
		o.First = &d
	}
	worst := causeNone
	for c, k := range lost {
		if c != causeNone && k > lost[worst] {
			worst = c
		}
	}
	o.Cause = causeNames[worst]
}

// loops are the mean flows of each material a year, over the first members.
func (r *Result) loops() []LoopOutlook {
	var out []LoopOutlook
	years := float64(r.m.days-r.m.skip) / 365
	for mat := range materials {
		l := LoopOutlook{Material: materialNames[mat], Unit: materialUnits[mat] + " a year", Nodes: nodeNames[:]}
		for from := range nodes {
			for to := range nodes {
				sum := 0.0
				for i := range r.flows {
					sum += r.flows[i][mat][from][to]
				}
				if v := sum / float64(len(r.flows)) / years; v > 1e-9 {
					l.Flows = append(l.Flows, LoopFlow{int(from), int(to), v})
				}
			}
		}
		out = append(out, l)
	}
	return out
}
