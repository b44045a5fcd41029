package plan

import (
	"math"

	"evenstead/day"
	"evenstead/engine"
)

// target is what the household needs of a nutrient in a period.
func (y *years) target(n, p int) float64 {
	t := 0.0
	for w := 4 * p; w < min(4*p+4, len(y.frame.Target)); w++ {
		t += y.frame.Target[w][n]
	}
	return t
}

// unitOf is a mean day's need of a nutrient, the unit it is counted in.
func (y *years) unitOf(n int) float64 {
	t := 0.0
	for p := range periods {
		t += y.target(n, p)
	}
	return t / (periods * 2 * engine.Fortnight)
}

// leastKnown is the share of foods that must have a figure for a nutrient to be
// planned for.
const leastKnown = 0.5

// known tells whether enough of the foods offered have a figure for a nutrient that
// is looked at.
func (y *years) known(n int) bool {
	if y.aside != nil && y.aside[n] {
		return false
	}
	all, have := 0, 0
	for k := range y.frame.Foods {
		if y.offered(k) {
			all++
			if !y.frame.Foods[k].Blank[n] {
				have++
			}
		}
	}
	return float64(have) >= leastKnown*float64(all)
}

// offered tells whether a food can come to the table at all.
func (y *years) offered(k int) bool {
	if y.offers == nil {
		y.offers = make([]bool, len(y.frame.Foods))
		for i := range y.sowings {
			y.offers[y.sowings[i].food] = true
		}
		for i := range y.standing {
			if f := y.standing[i].tried.Food; f >= 0 {
				y.offers[f] = true
			}
		}
		for _, b := range y.frame.Bought {
			y.offers[b.Food] = true
		}
		for i := range y.offers {
			y.offers[i] = y.offers[i] || y.larder[i] > 0 || sum(y.come[i][:]) > 0
		}
		for i := range y.offers {
			for _, w := range y.ways(i) {
				y.offers[w.To] = y.offers[w.To] || y.offers[i]
			}
		}
	}
	return y.offers[k]
}

// mouths is the person-days of a period.
func (y *years) mouths(p int) float64 {
	days := 2 * engine.Fortnight
	return sum(y.frame.Mouths[p*days : (p+1)*days])
}

// month is the month in the middle of a period, from 0.
func (y *years) month(p int) int {
	return int((y.frame.Today + day.Day(p*28+14)).Month()) - 1
}

// kept is the share of a food in store that is sound a period later. A quarter is
// lost by the end of a life, but little before half of it and nearly all by two
// and a half (larder.Lost); a steady loss of two in five a life lies between.
func (y *years) kept(k, p int) float64 {
	return math.Exp(-0.5 * 2 * engine.Fortnight / y.frame.Foods[k].Life[y.month(p)])
}

// keeps tells whether a food stands in store from one period to the next.
func (y *years) keeps(k, p int) bool {
	return y.frame.Foods[k].Life[y.month(p)] >= leastCarryLife
}

// fresh tells whether a food may come in within a period: harvested, gathered,
// bought or put up.
func (y *years) fresh(k, p int) bool {
	if y.comes == nil {
		y.comes = make([][periods]bool, len(y.frame.Foods))
		y.listFresh()
	}
	return y.comes[k][p]
}

func (y *years) listFresh() {
	mark := func(k int, kg *[slots]float64) {
		for p := range periods {
			y.comes[k][p] = y.comes[k][p] || kg[2*p]+kg[2*p+1] > 0
		}
	}
	for i := range y.sowings {
		mark(y.sowings[i].food, &y.sowings[i].kg)
	}
	for i := range y.standing {
		if s := &y.standing[i]; s.tried.Food >= 0 {
			mark(s.tried.Food, &s.kg)
		}
	}
	for k := range y.come {
		mark(k, &y.come[k])
		y.comes[k][0] = y.comes[k][0] || y.larder[k] > 0
	}
	for _, b := range y.frame.Bought {
		for p := range periods {
			y.comes[b.Food][p] = true
		}
	}
	for k := range y.frame.Foods {
		for _, w := range y.ways(k) {
			for p := range periods {
				y.comes[w.To][p] = y.comes[w.To][p] || y.comes[k][p]
			}
		}
	}
}

// there tells whether there may be some of a food in a period, fresh or kept.
func (y *years) there(k, p int) bool {
	if y.shunned != nil && y.shunned[k] {
		return false
	}
	if y.fresh(k, p) {
		return true
	}
	for back := 1; back < periods && (back <= p || y.sizing); back++ {
		q := (p - back + periods) % periods
		if !y.keeps(k, q) {
			return false
		}
		if y.fresh(k, q) {
			return true
		}
	}
	return false
}

// stood is what the stands of today bring of a food in a period, kg.
func (y *years) stood(k, p int) float64 {
	kg := 0.0
	for i := range y.standing {
		if s := &y.standing[i]; s.tried.Food == k {
			kg += s.kg[2*p] + s.kg[2*p+1]
		}
	}
	return kg
}

// held is the ground that today's stands hold in a fortnight, m2.
func (y *years) held(ground, slot int) float64 {
	area := 0.0
	for i := range y.standing {
		if s := &y.standing[i]; s.on == ground && slot < s.to {
			area += s.tried.Area
		}
	}
	return area
}

// familyHeld is the ground that a family may not follow itself on.
func (y *years) familyHeld(ground int, family string) float64 {
	area := 0.0
	for _, b := range y.grounds[ground].beds {
		area += y.restsOn(b, family)
	}
	return area
}

func (y *years) dryStanding(ground int) float64 {
	area := 0.0
	for i := range y.standing {
		if s := &y.standing[i]; s.on == ground && s.tried.Crop.Keeps == "dry" {
			area += s.tried.Area
		}
	}
	return area
}

// open is a ground's area without the beds that wishes leave fallow.
func (y *years) open(ground int, wishes []Wish) float64 {
	area := y.grounds[ground].area
	for _, w := range wishes {
		if w.Kind == Fallow {
			for _, b := range y.grounds[ground].beds {
				if y.beds[b].Name == w.What {
					area -= y.beds[b].Area
				}
			}
		}
	}
	return area
}

// drawnStanding is what today's stands are watered from a tank in a fortnight, L.
func (y *years) drawnStanding(tank, slot int) float64 {
	l := 0.0
	for i := range y.standing {
		if s := &y.standing[i]; s.on >= 0 && y.grounds[s.on].tank == tank {
			l += s.litres[slot]
		}
	}
	return l
}

// tending is the hours that a square metre of mixed bed asks in a fortnight.
func (y *years) tending(slot int) float64 {
	return sum(y.frame.Tending[slot*engine.Fortnight : (slot+1)*engine.Fortnight])
}

// freeHours is what is left in a fortnight for beds, water and the kitchen's
// store when every bed is tended as a mixed one.
func (y *years) freeHours(slot int) float64 {
	h := sum(y.frame.Free[slot*engine.Fortnight:(slot+1)*engine.Fortnight]) - y.gather[slot]
	for i := range y.grounds {
		h -= y.grounds[i].area * y.tending(slot)
	}
	for _, p := range y.frame.Plots {
		if p.Tree {
			h -= p.Area * treeTending * y.tending(slot)
		}
	}
	for i := range y.standing {
		s := &y.standing[i]
		h -= (s.kg[slot] + s.seed[slot]) * s.tried.PickKg
		if s.on >= 0 {
			h -= s.litres[slot] * y.grounds[s.on].litreHours
		}
	}
	return h
}

// carried is the food energy asked for in store at the end, MJ: what is there
// today.
func (y *years) carried() float64 {
	mj := 0.0
	for k, kg := range y.larder {
		mj += kg * y.frame.Foods[k].Nutrient[0]
	}
	return mj
}

// served tells whether two foods of a class may be on the table in a period: one
// alone is held by its own cap.
func (y *years) served(class, p int) bool {
	n := 0
	for k := range y.frame.Foods {
		if y.frame.Foods[k].Class == class && y.there(k, p) {
			n++
		}
	}
	return n > 1
}

// ways are the ways of putting a food up that are looked at: the first by rank
// and, where that wants the freezer, the first that does not.
func (y *years) ways(k int) []engine.FrameWay {
	all := y.frame.Foods[k].Ways
	freezer := func(w engine.FrameWay) bool { return y.frame.Places[y.frame.Foods[w.To].Place].Freezer }
	for i, w := range all {
		if !freezer(w) {
			if i > 0 {
				return []engine.FrameWay{all[0], w}
			}
			return all[:1]
		}
	}
	return all[:min(1, len(all))]
}
