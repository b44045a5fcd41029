package engine

import (
	"evenstead/day"
	"evenstead/stead"
)

// place is the factor on a stand's yield that the place taught.
func (m *Model) place(q int) float64 { return m.placeBy[q] }

func (b *builder) learnedCatch(group string) float64 {
	if b.past == nil {
		return 1
	}
	return factor(b.past.places.catch, group)
}

func (b *builder) learnedUse(group string) float64 {
	if b.past == nil {
		return 1
	}
	return factor(b.past.places.use, group)
}

func (b *builder) learnedYield(crop string) float64 {
	if b.past == nil {
		return 1
	}
	return factor(b.past.places.yield, crop)
}

// stayed is how many days after the description was first true the model begins.
func (b *builder) stayed() int {
	if b.st.Stay.From == 0 {
		return 0
	}
	return int(b.m.start - b.st.Stay.From)
}

// massOf is what a person weighs by the latest weighing, else by the description.
func (b *builder) massOf(p stead.Person) float64 {
	kg := p.Mass
	if b.past == nil {
		return kg
	}
	for _, i := range b.past.list().weighed {
		if e := &b.past.entries[i]; e.Body.What == p.Name && e.Day <= b.m.today {
			kg = e.Body.Amount
		}
	}
	return kg
}

// absence is on which days a person was away, and ill.
type absence struct{ off, ill map[day.Day]bool }

// absentDays lists by person the days of the run on which the book has them away
// or ill.
func (b *builder) absentDays() map[string]absence {
	out := map[string]absence{}
	for _, a := range b.absences {
		if out[a.who].off == nil {
			out[a.who] = absence{map[day.Day]bool{}, map[day.Day]bool{}}
		}
		days := out[a.who].off
		if a.ill {
			days = out[a.who].ill
		}
		for d := max(a.from, b.m.start); d < min(a.to, b.m.start+day.Day(b.m.days)); d++ {
			days[d] = true
		}
	}
	return out
}
