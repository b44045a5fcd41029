package engine

import (
	"math"
	"math/rand/v2"
)

// luck is what chance gives one member beside its weather. It depends on the
// seed and the member's number alone, so that two runs that differ in one thing
// share the rest.
type luck struct {
	years  []float64 // shared factor on the yields of each year of the run; in crop already
	crop   []float64 // factor on each planting's yield, its year's in it
	pest   []float64 // share of each planting that pests leave
	wild   []float64 // factor on each patch
	hive   []float64 // factor on each apiary; 0 when the colonies were lost
	ill    []spell
	cuts   []cut
	hazard float64 // factor on keeping losses
}

type spell struct{ from, to int }

type cut struct {
	day   int
	hours float64
}

// Spreads of yield: coefficients of variation of one garden and crop between
// seasons, and the share of plantings that mostly fail (common practice; the
// ranges printed for vegetables are 0.25 to 0.35, for tree crops 0.4 to 0.6).
const (
	cvYear     = 0.12
	cvBed      = 0.25
	cvTree     = 0.45
	cvMast     = 0.80
	failChance = 0.04
	failLeaves = 0.10
	// A small keeper loses nearly two colonies of five in a year (bee survey,
	// practice sheet B03); losses here fall before the flow.
	colonyLoss = 0.38
	illSpells  = 0.8  // a person-year
	illDays    = 5.0  // mean of a usual spell
	illLong    = 0.06 // share of spells that last a month
)

// The streams of chance: each kind of luck has its own, so that taking a loop
// away leaves the luck of the others as it was.
const (
	yieldLuck = iota
	wildLuck
	hiveLuck
	illLuck
	cutLuck
	keepLuck
	streams
)

// draw fills the luck of a member.
func (l *luck) draw(m *Model, member int) {
	stream := func(kind int) *rand.Rand {
		return rand.New(rand.NewPCG(m.seed, 0x9e3779b97f4a7c15*uint64(member*streams+kind+1)))
	}
	l.drawYields(m, member, stream(yieldLuck))
	for i, f := range m.placeBy {
		l.crop[i] *= f
	}
	l.drawSeason(m, stream(wildLuck), stream(hiveLuck))
	l.drawIll(m, stream(illLuck))
	l.drawCuts(m, stream(cutLuck))
	l.hazard = logNormal(stream(keepLuck), 0.3)
	m.trial.befall(m, l)
}

// Middling luck: a patch gives this share of its most (the median of wildLuck),
// and of the colonies those that are usually left.
const middleWild = 0.78

// middle is the luck of the years gone by, which nobody drew: usual yields,
// nobody ill, no cuts beyond what the book says.
func (l *luck) middle(m *Model) {
	l.hazard = 1
	l.crop = append(l.crop[:0], m.placeBy...)
	l.pest = filled(l.pest, len(m.plantings), 1)
	l.wild = filled(l.wild, len(m.patches), middleWild)
	l.hive = filled(l.hive, len(m.hives), 1-colonyLoss)
	l.ill, l.cuts = l.ill[:0], l.cuts[:0]
}

func filled(v []float64, n int, x float64) []float64 {
	v = sized(v, n)
	for i := range v {
		v[i] = x
	}
	return v
}

func (l *luck) drawYields(m *Model, member int, r *rand.Rand) {
	years := l.years[:0]
	years = append(years, logNormal(r, cvYear))
	l.crop = sized(l.crop, len(m.plantings))
	l.pest = sized(l.pest, len(m.plantings))
	if m.drawn == nil {
		for i := range m.plantings {
			l.drawStand(m, i, r)
		}
	}
	for _, i := range m.drawn {
		l.drawStand(m, i, r)
	}
	l.alternate(m)
	later := rand.New(rand.NewPCG(^m.seed, uint64(member)))
	for i := range m.plantings {
		for len(years) <= m.plantings[i].year {
			years = append(years, logNormal(later, cvYear))
		}
		l.crop[i] *= years[m.plantings[i].year]
	}
	l.years = years
}

// drawSeason draws what a year brings wild and to the hives.
func (l *luck) drawSeason(m *Model, wild, hive *rand.Rand) {
	l.wild = sized(l.wild, len(m.patches))
	for i := range l.wild {
		l.wild[i] = min(1, logNormal(wild, cvMast))
	}
	l.drawHives(m, hive)
}

// turn draws the wild food and the hives of another year of the run.
func (l *luck) turn(m *Model, member, year int) {
	at := func(kind int) *rand.Rand {
		return rand.New(rand.NewPCG(m.seed+uint64(year)<<32, 0x9e3779b97f4a7c15*uint64(member*streams+kind+1)))
	}
	l.drawSeason(m, at(wildLuck), at(hiveLuck))
}

// offYear is the correlation, turned about, of a tree's yield with that of the year
// before (common practice: many fruit and nut trees bear every other year).
const offYear = 0.4

// alternate makes a tree's season lean against the one before.
func (l *luck) alternate(m *Model) {
	for i := 1; i < len(m.plantings); i++ {
		g, before := &m.plantings[i], &m.plantings[i-1]
		if g.tree && g.plot == before.plot && g.crop == before.crop && g.crop.Form == "tree" {
			keep := math.Sqrt(1 - offYear*offYear)
			even := math.Exp(-math.Log(1+cvTree*cvTree) / 2 * (1 - keep + offYear)) // holds the mean at one
			l.crop[i] = even * math.Pow(l.crop[i], keep) * math.Pow(l.crop[i-1], -offYear)
		}
	}
}

// drawStand draws one stand's luck; noStand takes its share of chance and no more.
func (l *luck) drawStand(m *Model, i int, r *rand.Rand) {
	cv := cvBed
	if i != noStand && m.plantings[i].tree {
		cv = cvTree
	}
	crop, failed := logNormal(r, cv), r.Float64() < failChance
	if i == noStand {
		return
	}
	l.crop[i], l.pest[i] = crop, 1
	if failed && !m.without.has(NoPests) {
		l.pest[i] = failLeaves
	}
}

func (l *luck) drawHives(m *Model, r *rand.Rand) {
	l.hive = sized(l.hive, len(m.hives))
	for i, h := range m.hives {
		alive := 0.0
		for range int(h.count) {
			if r.Float64() >= colonyLoss {
				alive++
			}
		}
		l.hive[i] = alive / h.count * logNormal(r, cvTree)
	}
}

func (l *luck) drawIll(m *Model, r *rand.Rand) {
	l.ill = l.ill[:0]
	for range m.people {
		for day := 0; ; {
			day += int(r.ExpFloat64() * 365 / illSpells)
			if day >= m.days {
				break
			}
			long := r.ExpFloat64() * illDays
			if r.Float64() < illLong {
				long = 30
			}
			l.ill = append(l.ill, spell{day, day + int(long) + 1})
			day += int(long) + 1
		}
	}
}

func (l *luck) drawCuts(m *Model, r *rand.Rand) {
	l.cuts = l.cuts[:0]
	if m.outages <= 0 || m.without.has(NoOutages) {
		return
	}
	for day := 0; ; {
		day += 1 + int(r.ExpFloat64()*365/m.outages)
		if day >= m.days {
			return
		}
		hours := r.Float64() * 10
		if r.Float64() < m.longShare {
			hours = 10 + r.ExpFloat64()*20
		}
		l.cuts = append(l.cuts, cut{day, hours})
	}
}

// logNormal draws a factor of mean 1 and the given coefficient of variation.
func logNormal(r *rand.Rand, cv float64) float64 {
	s2 := math.Log(1 + cv*cv)
	return math.Exp(r.NormFloat64()*math.Sqrt(s2) - s2/2)
}

func sized(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}
