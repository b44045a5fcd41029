package plan

import (
	"cmp"
	"math"
	"slices"

	"evenstead/day"
	"evenstead/stead"
)

// laid is a sowing on a bed.
type laid struct {
	bed  int
	of   []int // sowings it may be: alike but for how they are fed
	area float64
}

// turn is what holds a part of a bed.
type turn struct {
	family   string
	from, to int
	area     float64
}

// layout is the beds with their turns.
type layout struct {
	st    *stead.Stead
	turns [][]turn
	rests func(bed int, family string) float64
	wet   []bool // beds that a watered sowing lies on
}

// rowOf is the least piece of a bed that is sown by itself, m2: a twentieth of it.
func rowOf(area float64) float64 { return area / 20 }

// lay puts the chosen areas on the beds, in whole rows: what is watered,
// then the earliest and the largest first, whole beds before parts of them.
func (p *Plan) lay(st *stead.Stead) []laid {
	y, x := p.years, p.x()
	out := layout{st: st, turns: make([][]turn, len(st.Beds)), rests: y.restsOn, wet: make([]bool, len(st.Beds))}
	for i := range y.standing {
		if s := &y.standing[i]; s.bed >= 0 {
			out.turns[s.bed] = append(out.turns[s.bed], turn{"", 0, s.to, s.tried.Area}) // its family rests
		}
	}
	var list []laid
	for _, item := range p.items(x) {
		w := &y.sowings[item.of[0]]
		list = append(list, out.place(item, w, y.grounds[w.on].beds, p.fallow)...)
	}
	return list
}

// idle is the share of what was laid of a sowing below which, used by the table
// of the realised garden, it is not worth its seed and hours.
const idle = 0.1

// needed leaves out the sowings that the settled table has no use for: what they
// bring on these beds, with this water and these hours, is next to nothing, or
// nobody eats it.
func (p *Plan) needed(list []laid) []laid {
	x := p.x()
	used, area := map[int]float64{}, map[int]float64{}
	for _, l := range list {
		if _, ok := used[l.of[0]]; !ok {
			for _, j := range l.of {
				used[l.of[0]] += max(0, x[p.prog.sow[j]])
			}
		}
		area[l.of[0]] += l.area
	}
	return slices.DeleteFunc(slices.Clone(list), func(l laid) bool {
		return (used[l.of[0]] < idle*area[l.of[0]] || p.years.sowings[l.of[0]].total < leastKg) && !p.wished(l)
	})
}

// items gathers the areas of sowings that are the same but for their feeding.
func (p *Plan) items(x []float64) []laid {
	type key struct {
		crop string
		day  day.Day
		on   int
		wet  bool
	}
	at := map[key]int{}
	var out []laid
	for j := range p.years.sowings {
		w := &p.years.sowings[j]
		k := key{w.crop.ID, w.day, w.on, w.watered}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, laid{bed: -1})
		}
		out[i].of = append(out[i].of, j)
		out[i].area += max(0, x[p.prog.sow[j]])
	}
	out = slices.DeleteFunc(out, func(l laid) bool {
		return l.area < max(leastPiece, leastShare*p.years.grounds[p.years.sowings[l.of[0]].on].area) && !p.wished(l)
	})
	slices.SortStableFunc(out, func(a, b laid) int {
		u, v := &p.years.sowings[a.of[0]], &p.years.sowings[b.of[0]]
		return cmp.Or(watering(v)-watering(u), cmp.Compare(u.from, v.from), cmp.Compare(b.area, a.area))
	})
	return out
}

// What is sown of a crop on a day is no less than this, m2 and as a share of its
// kind of ground: less is trouble for little.
const (
	leastPiece = 0.5
	leastShare = 0.01
)

// wished tells whether a wish asks for some of a crop.
func (p *Plan) wished(l laid) bool {
	id := p.years.sowings[l.of[0]].crop.ID
	return l.area > leastRoom && slices.ContainsFunc(p.wishes, func(w Wish) bool { return w.Kind == AtLeast && w.What == id })
}

// watering is 1 for a sowing that is watered.
func watering(w *sowing) int {
	if w.watered {
		return 1
	}
	return 0
}

func (p *Plan) fallow(bed string) bool {
	return slices.ContainsFunc(p.wishes, func(w Wish) bool { return w.Kind == Fallow && w.What == bed })
}

// place lays one item on beds of its ground and returns the pieces.
func (o *layout) place(item laid, w *sowing, beds []int, fallow func(string) bool) []laid {
	var out []laid
	left := item.area
	order := slices.Clone(beds)
	slices.SortStableFunc(order, func(a, b int) int { // beds watered alike, then the one that it fills best
		return cmp.Or(cmp.Compare(o.unlike(a, w), o.unlike(b, w)),
			cmp.Compare(math.Abs(o.free(a, w)-left), math.Abs(o.free(b, w)-left)))
	})
	for _, b := range order {
		if fallow(o.st.Beds[b].Name) || left <= 0 {
			continue
		}
		row := rowOf(o.st.Beds[b].Area)
		rows := min(math.Floor(o.free(b, w)/row+1e-6), math.Round(left/row))
		if rows < 1 {
			continue
		}
		area := rows * row
		left -= area
		o.wet[b] = o.wet[b] || w.watered
		o.turns[b] = append(o.turns[b], turn{w.crop.Family, w.from, w.to, area})
		out = append(out, laid{bed: b, of: item.of, area: area})
	}
	return out
}

// unlike is 1 for a bed whose sowings are watered when this one is not, or the
// other way about; a bed with none is like any.
func (o *layout) unlike(b int, w *sowing) int {
	if o.wet[b] != w.watered && (o.wet[b] || len(o.turns[b]) > 0) {
		return 1
	}
	return 0
}

// free is the part of a bed that a sowing can have: free from its day to its end,
// and not under its family before or after, m2.
func (o *layout) free(b int, w *sowing) float64 {
	area := o.st.Beds[b].Area
	most := 0.0
	for s := w.from; s < w.to; s++ {
		held := 0.0
		for _, t := range o.turns[b] {
			if s >= t.from && s < t.to {
				held += t.area
			}
		}
		most = max(most, held)
	}
	kin := o.rests(b, w.crop.Family)
	for _, t := range o.turns[b] {
		if t.family == w.crop.Family {
			kin += t.area
		}
	}
	return max(0, area-max(most, kin))
}

// only is the same year with no sowings but those that were laid, and the pieces
// by their numbers among those.
func (y *years) only(list []laid) (*years, []laid) {
	z := *y
	z.comes, z.offers, z.aside, z.shunned, z.sowings = nil, nil, nil, nil, nil
	at := map[int]int{}
	out := slices.Clone(list)
	for i := range out {
		of := make([]int, len(out[i].of))
		for n, j := range out[i].of {
			if _, ok := at[j]; !ok {
				at[j] = len(z.sowings)
				z.sowings = append(z.sowings, y.sowings[j])
			}
			of[n] = at[j]
		}
		out[i].of = of
	}
	return &z, out
}
