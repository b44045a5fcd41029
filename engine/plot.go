package engine

import "evenstead/data"

// plot is a bed or a stand of trees: ground with a root zone of two layers.
type plot struct {
	area        float64
	t1, t2      float64 // mm of available water in the upper 0.3 m and below it
	first, last int     // plantings, half open
	bareKc      float64
	rinsed      float64 // how many times rinse and dilution water is led to it
	irrigated   bool
	tree        bool
	held        float64 // mm of water at field capacity in both, for leaching
	deepM       float64 // m, depth of both layers
	name        string
	group       int
	litreHours  float64
	humusN      float64 // kg of nitrogen in the slow store at the start
	watered     spells  // days on which the book alone speaks of its watering
}

// soil is what every day asks of a plot's ground.
type soil struct {
	area, perM2 float64 // m2, and 1 / area
	t1, perT1   float64 // mm of available water in the upper layer, and 1 / t1
	rinsed      float64 // how many times rinse and dilution water is led to it
	held        float64 // mm of water at field capacity in both layers
	humusN      float64 // kg of nitrogen in the slow store at the start
}

func (p *plot) soil() soil {
	return soil{area: p.area, perM2: 1 / p.area, t1: p.t1, perT1: 1 / p.t1, rinsed: p.rinsed, held: p.held, humusN: p.humusN}
}

// upperM is the depth of the upper layer, m.
const upperM = 0.3

// planting is one crop's stand on a plot, once.
type planting struct {
	pacing
	pace                         int // of the model's paces; -1: timed by the calendar
	sow                          int // day of the run; may be below 0
	plot                         int
	share                        float64 // of the plot
	tree                         bool    // perennial: timed by the calendar
	p                            float64
	least                        float64 // days to first harvest at best
	span                         float64
	toFirst                      float64 // share of the season before first harvest
	killG                        float64
	killH                        float64
	heatLimit                    float64
	crop                         *data.Crop
	kind                         int
	area                         float64
	begins                       int // first picking by the calendar: perennials
	ends                         int // last picking by the calendar: perennials
	kcIni, kcMid, kcEnd          float64
	shareIni, shareDev, shareMid float64
	roots                        float64 // m
	yield                        float64 // kg of a usual year on this area
	seed                         float64 // kg of the harvest that sow this area again; 0: it is not sown from what is eaten, or seed is bought
	asks                         npk     // kg in the whole plant at that yield
	fixed                        float64
	ky                           float64
	bolts                        float64 // h of daylight at which it runs to seed; 0: never
	bloomFrom                    int
	bloomTo                      int
	residue                      float64
	pickHours                    float64 // h a kg
	frac0                        float64 // as the run begins
	picked0                      float64
	year                         int    // of the run in which it is first picked, from 0
	over                         bool   // by the usual year, before the run begins
	told                         spells // days on which it is picked by the book alone
}

// area sums the plots' area, m2.
func (m *Model) area(plots []int) float64 {
	sum := 0.0
	for _, p := range plots {
		sum += m.plots[p].area
	}
	return sum
}
