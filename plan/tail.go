package plan

import (
	"cmp"
	"slices"
)

// A tail has a poor year count beyond its share: a part of the weight goes to the
// mean of the poorest share of years (Rockafellar and Uryasev 2000, J. Risk
// 2(3):21-41: the tail mean is the least over a level of level + mean excess / share).
type tail struct {
	share float64 // of years, the poorest
	part  float64 // of the weight
}

// plain is the part of the weight that every year has alike.
func (t *tail) plain() float64 {
	if t == nil {
		return 1
	}
	return 1 - t.part
}

// addTail adds the level that the poorest share of years stays above, and by how
// much each does.
func (g *programme) addTail() {
	if g.tail == nil {
		return
	}
	var level column
	for _, s := range g.seasons {
		level.add(s.rows.loss, 1)
		var c column
		c.add(s.rows.loss, 1)
		g.column(s.name+"beyond", 0, inf, c, g.tail.part*s.weight/g.tail.share)
	}
	g.poor = g.column("level of the poor", 0, inf, level, g.tail.part)
}

// shortfalls are the mean of what goes unmet over the years and its mean over the
// poorest share of them.
func (g *programme) shortfalls(x []float64, share float64) (mean, poorest float64) {
	type year struct{ days, weight float64 }
	var all []year
	for _, s := range g.seasons {
		days := s.shortfall(x)
		mean += s.weight * days
		all = append(all, year{days, s.weight})
	}
	slices.SortFunc(all, func(a, b year) int { return cmp.Compare(b.days, a.days) })
	left := share
	for _, a := range all {
		part := min(left, a.weight)
		poorest += part * a.days / share
		left -= part
	}
	return mean, poorest
}

// shared are the columns that tie seasons to each other and to the ground.
func (g *programme) shared() []int {
	if len(g.seasons) < 2 {
		return nil
	}
	out := slices.Concat(g.sow, g.dry, g.rounds)
	if g.tail != nil {
		out = append(out, g.poor)
	}
	return out
}

// tail is what the ask gives the poorest years beyond their share.
func (a *Ask) tail() *tail {
	if a.Poor <= 0 {
		return nil
	}
	return &tail{share: a.risk(), part: a.Poor}
}
