package plan

import (
	"slices"
)

// A chance is a possible year with the share of years that it stands for.
type chance struct {
	*years
	weight float64
	member int // of those tried; -1: none
}

// chances are n possible years, or as many as were tried, that stand for all of
// them: the years by the food energy that all sowings would bring, cut into n runs,
// of each the middle one.
func (y *years) chances(n int) []chance {
	of := y.full.Members
	n = min(n, of)
	mj := make([]float64, of)
	for j := range y.sowings {
		w := &y.sowings[j]
		each := y.frame.Foods[w.food].Nutrient[0] * w.feeds
		for i := range mj {
			for s := range slots {
				mj[i] += each * float64(w.tried.Kg[i*y.full.Slots+s])
			}
		}
	}
	order := make([]int, of)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case mj[a] < mj[b]:
			return -1
		case mj[a] > mj[b]:
			return 1
		}
		return 0
	})
	out := make([]chance, n)
	for r := range out {
		from, to := r*of/n, (r+1)*of/n
		i := order[(from+to)/2]
		out[r] = chance{y.inMember(i), float64(to-from) / float64(of), i}
	}
	return out
}

// in are the same chances of a year with other sowings.
func (y *years) in(of []chance) []chance {
	out := slices.Clone(of)
	for i := range out {
		out[i].years = y.inMember(out[i].member)
	}
	return out
}

// inMember is what one of the years tried brings of the same sowings.
func (y *years) inMember(i int) *years {
	z := *y
	z.comes = nil
	slot := func(from []float32, share float64) (out [slots]float64) {
		for s := range out {
			out[s] = float64(from[i*y.full.Slots+s]) * share
		}
		return out
	}
	z.sowings = slices.Clone(y.sowings)
	for j := range z.sowings {
		w := &z.sowings[j]
		w.kg, w.litres = slot(w.tried.Kg, w.feeds), slot(w.tried.Litres, 1)
		w.total = sum(w.kg[:])
		w.tidy()
	}
	z.standing = slices.Clone(y.standing)
	for j := range z.standing {
		s := &z.standing[j]
		s.kg, s.litres = slot(s.tried.Kg, s.feeds), slot(s.tried.Litres, 1)
	}
	z.come = make([][slots]float64, len(y.come))
	for k := range z.come {
		for s := range slots {
			z.come[k][s] = float64(y.full.Come[(i*len(z.come)+k)*y.full.Slots+s])
		}
	}
	z.water = make([][slots]float64, len(y.water))
	for g := range z.water {
		copy(z.water[g][:], y.nets[i][g])
	}
	return &z
}
