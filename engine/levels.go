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

// Weeks is the number of whole weeks of the horizon.
func (r *Result) Weeks() int { return r.m.weeks }
