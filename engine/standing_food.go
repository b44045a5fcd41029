package engine

import (
	"slices"
	"strings"

	"evenstead/day"
	"evenstead/larder"
)

// LotNow is a food of one form in one place.
type LotNow struct {
	Food, Form, Place string // id of the food, form, name of the place
	Name              string // in words, without the form
	Kg, Litres, MJ    float64
	Edible            float64   // share of the mass that is eaten
	Aged              float64   // of its life, 0 fresh, 1 where a quarter is lost; may go beyond
	Quarter, Half     day.Day   // by when a quarter and half of what is there is lost, uneaten; 0: not within KeepDays
	Sound             []float64 // share of what is there still sound, a week apart from today, over a year
	Sight
}

// KeepDays is how far ahead keeping is looked at.
const KeepDays = 3 * 365

// lots lists what is in store, soonest to lose a quarter first.
func (v *viewer) lots() []LotNow {
	m, s := v.r.m, v.r.s
	full := v.crowd()
	var out []LotNow
	for k := range m.kinds {
		kd := &m.kinds[k]
		if s.kg[k] <= lastBite {
			continue
		}
		l := LotNow{Food: kd.food, Form: kd.form, Place: m.places[kd.place].name, Name: kd.name, Kg: s.kg[k],
			Litres: s.kg[k] * kd.litres, MJ: s.kg[k] * kd.mj, Edible: kd.edible, Aged: s.age[k], Sight: v.sight(kd.label())}
		v.keeps(&l, kd, s.age[k], full[kd.place])
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b LotNow) int {
		if c := lastly(a.Quarter) - lastly(b.Quarter); c != 0 {
			return c
		}
		return strings.Compare(a.Name, b.Name)
	})
	return out
}

// lastly sorts a day that is not known behind every other.
func lastly(d day.Day) int {
	if d == 0 {
		return 1 << 30
	}
	return int(d)
}

// crowd is how much faster food ages in each place for being overfull.
func (v *viewer) crowd() []float64 {
	out := make([]float64, len(v.r.m.places))
	used := v.places()
	for i := range out {
		out[i] = 1
		if p := &v.r.m.places[i]; !p.freezer && p.holds > 0 {
			out[i] = max(1, used[i].Used/p.holds)
		}
	}
	return out
}

// keeps follows a lot through the months at its place's temperatures, as the
// engine's days do, without anyone eating of it.
func (v *viewer) keeps(l *LotNow, kd *kind, age, crowding float64) {
	l.Sound = make([]float64, 0, 53)
	x, left := age, 1.0
	for i := 0; i < KeepDays && (l.Half == 0 || len(l.Sound) < cap(l.Sound)); i++ {
		if i%7 == 0 && len(l.Sound) < cap(l.Sound) {
			l.Sound = append(l.Sound, left)
		}
		d := v.past.Today + day.Day(i)
		x += crowding / kd.life[int(d.Month())-1]
		left = 1 - larder.Lost(age, x)
		if l.Quarter == 0 && left <= 0.75 {
			l.Quarter = d + 1
		}
		if l.Half == 0 && left <= 0.5 {
			l.Half = d + 1
		}
	}
}
