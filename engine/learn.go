package engine

import (
	"fmt"
	"math"
	"slices"

	"evenstead/data"
	"evenstead/day"
)

// What a place teaches: its harvests move a factor on each crop's yield, its dips
// move a factor on the rain that each group catches and on the water that is
// drawn from it. Each begins at the handbook, as a belief with a stated width, and
// moves by the evidence (a normal prior and normal errors: for yields of the
// factor's logarithm).

// placeFactors are what was learned, by name.
type placeFactors struct {
	catch, use map[string]float64 // by tank group
	yield      map[string]float64 // by crop
}

func newPlaceFactors() placeFactors {
	return placeFactors{map[string]float64{}, map[string]float64{}, map[string]float64{}}
}

// factor is a factor by name, one where nothing was learned.
func factor(by map[string]float64, name string) float64 {
	if f, ok := by[name]; ok {
		return f
	}
	return 1
}

// A Learned is one factor: what the handbook says, what was seen and what is
// believed now. Ranges hold four beliefs of five.
type Learned struct {
	What     string     `json:"what"`     // "yield of potato", "rain caught into barn"
	Prior    [3]float64 `json:"prior"`    // low, middle, high
	Result   [3]float64 `json:"result"`   // low, middle, high
	Evidence int        `json:"evidence"` // harvests, or dips
	Weight   string     `json:"weight"`   // how much the handbook still counts
}

// z80 is the standard normal value that leaves a tenth on each side.
const z80 = 1.2816

// A pair is a belief about two factors together: their means, and their precision.
type pair struct {
	a, b          float64
	paa, pab, pbb float64
}

// Spread of the two factors before anything is seen (common practice: roofs of
// one kind differ by a quarter in what reaches the tank, households by two fifths
// in what they draw).
const (
	sdCatch = 0.25
	sdUse   = 0.40
)

func newPair() *pair {
	return &pair{a: 1, b: 1, paa: 1 / (sdCatch * sdCatch), pbb: 1 / (sdUse * sdUse)}
}

// see moves the belief by one observation z = x a - y b with an error of sd.
func (p *pair) see(x, y, z, sd float64) {
	w := 1 / (sd * sd)
	off := z - (x*p.a - y*p.b)
	p.paa += w * x * x
	p.pab -= w * x * y
	p.pbb += w * y * y
	det := p.paa*p.pbb - p.pab*p.pab
	p.a += (p.pbb*x + p.pab*y) * w * off / det
	p.b += (-p.pab*x - p.paa*y) * w * off / det
}

// sd is the standard error of each factor.
func (p *pair) sd() (a, b float64) {
	det := p.paa*p.pbb - p.pab*p.pab
	return math.Sqrt(p.pbb / det), math.Sqrt(p.paa / det)
}

// Errors of a dip (common practice): the stick, twice, each a hundredth of the
// tanks; rain at the gauge against rain on the roof, a tenth; days of more and
// less use, three twentieths.
const (
	stickError = 0.01
	rainError  = 0.10
	useError   = 0.15
)

// learnWater moves a group's factors by what a dip found more than reckoned.
func (k *kept) learnWater(name string, g int, t *tally, more float64) {
	p := k.water[name]
	if p == nil {
		p = newPair()
		k.water[name] = p
	}
	m := k.m
	z := more + m.catchBy[g]*t.caught - m.useBy[g]*t.used
	p.see(t.caught, t.used, z, dipError(m.groups[g].holds, t.caught, t.used))
	k.dips[name]++
	if k.handbook {
		return
	}
	m.catchBy[g] = clamp(p.a, 0.2, 2)
	m.useBy[g] = clamp(p.b, 0.2, 3)
	k.past.places.catch[name], k.past.places.use[name] = m.catchBy[g], m.useBy[g]
}

// dipError is the standard error of a group's change between two dips, L.
func dipError(holds, caught, used float64) float64 {
	return math.Sqrt(2*stickError*stickError*holds*holds + rainError*rainError*caught*caught + useError*useError*used*used)
}

// yieldEvidence is what a crop's harvests showed.
type yieldEvidence struct {
	crop  *data.Crop
	tree  bool
	years []yearEvidence // in order
}

// yearEvidence is what a crop's harvests of a year showed.
type yearEvidence struct {
	year  int
	plots []harvest // in order
}

// A harvest is what a year brought from one plot.
type harvest struct {
	plot     int
	had, due float64 // kg; due is by the handbook
	room     float64 // how many times the handbook's harvest the ground could feed, by what was due
}

// of finds or makes what a year brought from a plot.
func (y *yieldEvidence) of(year, plot int) *harvest {
	i, there := slices.BinarySearchFunc(y.years, year, func(e yearEvidence, year int) int { return e.year - year })
	if !there {
		y.years = slices.Insert(y.years, i, yearEvidence{year: year})
	}
	plots := &y.years[i].plots
	j, there := slices.BinarySearchFunc(*plots, plot, func(h harvest, plot int) int { return h.plot - plot })
	if !there {
		*plots = slices.Insert(*plots, j, harvest{plot: plot})
	}
	return &(*plots)[j]
}

// clone is the same evidence, which may grow by itself.
func (y *yieldEvidence) clone() *yieldEvidence {
	c := *y
	c.years = slices.Clone(y.years)
	for i := range c.years {
		c.years[i].plots = slices.Clone(c.years[i].plots)
	}
	return &c
}

// priorYield is the standard deviation of ln yield between places, from the
// crop's low and high yield (taken as the tenth and ninetieth of a hundred places).
func priorYield(c *data.Crop) float64 {
	if !(c.YieldLo > 0) || !(c.YieldHi > c.YieldLo) {
		return 0.3
	}
	return clamp(math.Log(c.YieldHi/c.YieldLo)/(2*z80), 0.15, 0.7)
}

// cvReckoned is the reckoning's own error in what a bed should have given
// (common practice).
const cvReckoned = 0.15

// spread is the variance of ln yield that a year brings to all beds and that a
// bed brings by itself.
func (y *yieldEvidence) spread() (year, bed float64) {
	cv := cvBed
	if y.tree {
		cv = cvTree
	}
	return math.Log(1 + cvYear*cvYear), math.Log(1 + cv*cv + cvReckoned*cvReckoned)
}

// lostShare is the share of what was due below which a harvest was lost to pests
// and the like: it tells nothing of the place.
const lostShare = 2.5 * failLeaves

// misses is the mean of ln had over ln expected of a year's plots, were the
// place's factor e to the f, and how many there are. Ground that can feed so much
// and no more holds the harvest there.
func misses(plots []harvest, f float64) (mean float64, n int) {
	for i := range plots {
		h := &plots[i]
		if h.due <= 0 || h.had < lostShare*h.due {
			continue
		}
		could := min(math.Exp(f), max(h.room, 0.05)) / min(1, max(h.room, 0.05))
		mean += math.Log(h.had / (h.due * could))
		n++
	}
	return mean / float64(max(1, n)), n
}

// grid is how finely ln of a factor is laid out, over four prior deviations.
const grid = 161

// belief is the mean and standard deviation of ln of the place's factor: the
// prior times the chance of each year's harvests. A year's plots share that
// year's luck, so they count together.
func (y *yieldEvidence) belief() (mean, sd float64) {
	s0 := priorYield(y.crop)
	year, bed := y.spread()
	weights, most := [grid]float64{}, math.Inf(-1)
	at := func(i int) float64 { return (float64(i)/(grid-1)*8 - 4) * s0 }
	for i := range weights {
		f := at(i)
		weights[i] = -f * f / (2 * s0 * s0)
		for j := range y.years {
			x, n := misses(y.years[j].plots, f)
			if n > 0 {
				off := x + (year+bed)/2 // luck has a mean of one, so its logarithm's mean lies below nought
				weights[i] -= off * off / (2 * (year + bed/float64(n)))
			}
		}
		most = max(most, weights[i])
	}
	sum, square := 0.0, 0.0
	total := 0.0
	for i := range weights {
		w := math.Exp(weights[i] - most)
		total += w
		sum += w * at(i)
		square += w * at(i) * at(i)
	}
	mean = sum / total
	return mean, math.Sqrt(max(0, square/total-mean*mean))
}

func (y *yieldEvidence) count() int {
	n := 0
	for i := range y.years {
		_, k := misses(y.years[i].plots, 0)
		n += k
	}
	return n
}

// harvested learns from a stand whose harvest is over.
func (k *kept) harvested(r *runner, q int) {
	c := &r.s.crop[q]
	if c.told <= 0 || c.due <= 0 {
		return
	}
	g := &k.m.plantings[q]
	k.add(r, q)
	if k.handbook {
		return
	}
	mean, _ := k.yields[g.crop.ID].belief()
	k.past.places.yield[g.crop.ID] = math.Exp(mean)
	for i := range k.m.plantings {
		if k.m.plantings[i].crop == g.crop && !r.s.crop[i].done && r.s.crop[i].told == 0 {
			k.m.placeBy[i] = math.Exp(mean)
			r.luck.crop[i] = k.m.placeBy[i]
		}
	}
}

// half is the share of its harvest from which a stand still picked tells something.
const half = 0.5

// underWay learns from the stands that are past half their harvest today.
func (k *kept) underWay(r *runner) {
	for q := range k.m.plantings {
		if c := &r.s.crop[q]; !c.done && c.picked >= half && r.stands(q) {
			k.harvested(r, q)
		}
	}
}

// add notes one stand's harvest.
func (k *kept) add(r *runner, q int) {
	g, c := &k.m.plantings[q], &r.s.crop[q]
	y := k.yields[g.crop.ID]
	if y == nil {
		y = &yieldEvidence{crop: g.crop, tree: g.tree}
		k.yields[g.crop.ID] = y
	}
	h := y.of((k.m.start + day.Day(r.day)).Year(), g.plot)
	h.room = (h.room*h.due + c.room*c.due) / (h.due + c.due)
	h.had += c.told
	h.due += c.due
}

// feeds is how many times its handbook harvest a stand could be fed: what it has
// had and what lies free for it, over what it asks at a factor of one.
func (r *runner) feeds(q int) float64 {
	g, c := &r.m.plantings[q], &r.s.crop[q]
	free := r.s.mineral[g.plot].times(g.share)
	if g.fixed < 1 {
		free.n /= 1 - g.fixed
	}
	asked := c.asked.times(1 / r.m.place(q))
	return c.got.add(free).most(asked)
}

// learned lists every factor that has evidence: water by group, then yields.
func (k *kept) learned() []Learned {
	var out []Learned
	for _, name := range sortedKeys(k.water) {
		p := k.water[name]
		sa, sb := p.sd()
		weight := "a width of %.0f in 100 before, %.0f in 100 now"
		out = append(out,
			Learned{"rain caught into " + name, normalRange(1, sdCatch), normalRange(p.a, sa), k.dips[name], fmt.Sprintf(weight, sdCatch*100, sa*100)},
			Learned{"water drawn from " + name, normalRange(1, sdUse), normalRange(p.b, sb), k.dips[name], fmt.Sprintf(weight, sdUse*100, sb*100)})
	}
	for _, id := range sortedKeys(k.yields) {
		y := k.yields[id]
		mean, sd := y.belief()
		s0 := priorYield(y.crop)
		year, bed := y.spread()
		out = append(out, Learned{"yield of " + lower(y.crop.Name), logRange(0, s0), logRange(mean, sd), y.count(),
			fmt.Sprintf("the handbook counts as %.1f years' harvests", (year+bed)/(s0*s0))})
	}
	return out
}

func normalRange(mean, sd float64) [3]float64 {
	return [3]float64{max(0, mean-z80*sd), mean, mean + z80*sd}
}

func logRange(mean, sd float64) [3]float64 {
	return [3]float64{math.Exp(mean - z80*sd), math.Exp(mean), math.Exp(mean + z80*sd)}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
