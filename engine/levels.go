package engine

import "slices"

// Levels returns what a store holds in every member at the start of each week:
// a function of member and week (week 0 is today), and whether there is such a store.
func (r *Result) Levels(store string) (at func(member, week int) float64, ok bool) {
	m := r.m
	g := slices.IndexFunc(m.gauges, func(g gauge) bool { return g.id == store })
	if g < 0 {
		return nil, false
	}
	wide := m.weeks + 1
	return func(member, week int) float64 {
		return float64(r.level[member*len(m.gauges)*wide+g*wide+week])
	}, true
}

// FirstPickings returns the days from today to a crop's first picking in every
// member, the horizon where there is none, and whether the crop stands here.
func (r *Result) FirstPickings(crop string) (at func(member int) int, ok bool) {
	m := r.m
	var stands []int
	for q := range m.plantings {
		if m.plantings[q].crop.ID == crop {
			stands = append(stands, q)
		}
	}
	return func(member int) int {
		first := m.days - m.skip
		for _, q := range stands {
			if d := int(r.picked[member*len(m.plantings)+q]); d >= 0 {
				first = min(first, d)
			}
		}
		return first
	}, len(stands) > 0
}

// Met returns the share of a need of the whole horizon that is met in every
// member, and whether there is such a need.
func (r *Result) Met(need string) (at func(member int) float64, ok bool) {
	n := 0
	for n < r.m.needs() {
		if id, _, _, _, _ := r.m.title(n); id == need {
			break
		}
		n++
	}
	if n == r.m.needs() {
		return nil, false
	}
	return func(member int) float64 { return float64(r.met[member*r.m.needs()+n]) }, true
}

// Weeks is the number of whole weeks of the horizon.
func (r *Result) Weeks() int { return r.m.weeks }
