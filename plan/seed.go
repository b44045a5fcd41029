package plan

import (
	"cmp"
	"slices"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
)

// A Keep is what is set aside of a crop's harvests, to sow the same ground again.
type Keep struct {
	Crop string  `json:"crop"`
	Name string  `json:"name"`
	From day.Day `json:"from"`    // the fortnight in which it begins
	Kg   float64 `json:"kg"`      // beside what the plan counts as harvest; the mean of the years tried
	Area float64 `json:"area_m2"` // that it sows
}

// leastKept is the seed below which none is told, kg.
const leastKept = 0.0005

// readKeep lists the seed that sowings and stands leave aside, first come first.
func (p *Plan) readKeep(list []laid) {
	y := p.years
	p.Keep = nil
	for _, l := range list {
		w := &y.sowings[l.of[0]]
		p.keeps(w.crop, &w.seed, l.area, l.area)
	}
	for i := range y.standing {
		if s := &y.standing[i]; s.bed >= 0 {
			p.keeps(s.tried.Crop, &s.seed, 1, s.tried.Area)
		}
	}
	slices.SortStableFunc(p.Keep, func(u, v Keep) int { return cmp.Or(cmp.Compare(u.From, v.From), cmp.Compare(u.Crop, v.Crop)) })
}

// keeps adds the seed of a course of a year, so many times.
func (p *Plan) keeps(c *data.Crop, seed *[slots]float64, times, area float64) {
	kg := times * sum(seed[:])
	if kg < leastKept {
		return
	}
	from := p.years.fortnight(firstOf(seed))
	i := slices.IndexFunc(p.Keep, func(k Keep) bool { return k.Crop == c.ID })
	if i < 0 {
		i = len(p.Keep)
		p.Keep = append(p.Keep, Keep{Crop: c.ID, Name: c.Name, From: from})
	}
	k := &p.Keep[i]
	k.From, k.Kg, k.Area = min(k.From, from), k.Kg+kg, k.Area+area
}

// firstPicked is the fortnight of the first harvest, of food or of seed.
func firstPicked(kg, seed *[slots]float64) int { return min(firstOf(kg), firstOf(seed)) }

// rareSeed is the share of a year's seed below which a fortnight's is left out: that
// of the odd year which is far ahead or behind.
const rareSeed = 0.1

// usual is the mean course of the year over the members, without what is rare.
func usual(t *engine.Tries, of []float32) (out [slots]float64) {
	for i := range t.Members {
		for s := range out {
			out[s] += float64(of[i*t.Slots+s]) / float64(t.Members)
		}
	}
	all, left := sum(out[:]), 0.0
	for s := range out {
		if out[s] < rareSeed*all {
			out[s] = 0
		}
		left += out[s]
	}
	for s := range out {
		if left > 0 {
			out[s] *= all / left
		}
	}
	return out
}
