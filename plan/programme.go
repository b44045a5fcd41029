package plan

import (
	"fmt"
	"math"
	"slices"

	"evenstead/engine"
	"evenstead/lp"
)

// programme is the linear programme of a plan, with where its parts stand: what is
// sown, once, and a season for each possible year that it is to serve.
type programme struct {
	*season // the first; of a plan for one year the only one
	seasons []*season
	p       *lp.Problem
	y       *years
	sow     []int   // column of each sowing
	used    [][]int // ground by fortnight, m2
	dry     []int   // ground: m2 of it that need little tending
	size    []int   // ground: m2 of it; nil: the ground is what it is
	rounds  []int   // column of each round; nil: there is but one
	spread  [][]int // carrier by ground: share of what the carrier brings in a year; -1: none
	tail    *tail   // what a poor year counts beyond its share; nil: nothing
	poor    int     // column of the level of shortfall that the poorest years stay above
	stages  [][]float64
	ground  groundRows
}

// groundRows tells where the limits of ground and sowings stand.
type groundRows struct {
	bed    [][]int  // ground by fortnight
	npk    [][3]int // ground
	supply [carriers]int
	round  int      // -1: there is but one
	soil   [][3]int // ground
	wish   []int    // -1: none
	family map[string]int
	dry    []int
	size   [][]int // ground by fortnight: in use, no more than its size; nil: the ground is what it is
	laid   []int   // by sowing; -1: none of it was laid; nil: nothing is held
}

// column gathers the entries of a column.
type column struct {
	rows   []int
	values []float64
}

func (c *column) add(row int, v float64) {
	if row < 0 || v == 0 {
		return
	}
	if i := slices.Index(c.rows, row); i >= 0 {
		c.values[i] += v
		return
	}
	c.rows, c.values = append(c.rows, row), append(c.values, v)
}

var inf = math.Inf(1)

// programme lays out one year's rows, then the columns. list, which may be nil,
// holds every sowing to what was laid of it.
func (y *years) programme(wishes []Wish, list []laid) *programme {
	return y.programmeOver([]chance{{y, 1, -1}}, nil, wishes, list)
}

// programmeOver lays out what is sown once and the season that each possible year
// makes of it. The years have the same sowings, in the same order.
func (y *years) programmeOver(of []chance, t *tail, wishes []Wish, list []laid) *programme {
	g := &programme{p: &lp.Problem{Name: "plan"}, y: y, tail: t, stages: make([][]float64, 3)}
	for i, c := range of {
		g.seasons = append(g.seasons, g.newSeason(i, len(of), c))
	}
	g.season = g.seasons[0]
	g.each((*season).layFood)
	g.layGround(wishes)
	g.each((*season).layHours)
	g.each((*season).layHeat)
	g.layLaid(list)
	g.addSowings(wishes)
	g.addGround(wishes)
	g.each((*season).addTable)
	g.each((*season).addStock)
	g.each((*season).addWater)
	if g.y.sizing {
		g.addSizes()
	}
	g.each((*season).addSlack)
	g.addDry()
	g.addRounds()
	g.addSpread()
	g.each((*season).addLack)
	g.each((*season).addFires)
	g.addTail()
	g.p.Cost = make([]float64, len(g.p.ColLo))
	return g
}

func (g *programme) each(do func(*season)) {
	for _, s := range g.seasons {
		do(s)
	}
}

// column adds a column with its cost in each stage: shortfall, bought, hours.
func (g *programme) column(name string, lo, up float64, c column, cost ...float64) int {
	j := g.p.AddColumn(name, 0, lo, up, c.rows, c.values)
	for i := range g.stages {
		v := 0.0
		if i < len(cost) {
			v = cost[i]
		}
		g.stages[i] = append(g.stages[i], v)
	}
	return j
}

// layGround adds the rows of beds, rotation, feeding, tending and wishes.
func (g *programme) layGround(wishes []Wish) {
	r := &g.ground
	r.family = map[string]int{}
	for i := range g.y.grounds {
		row := make([]int, slots)
		for s := range row { // what is in use is what was in use, and begun, less cleared
			row[s] = g.p.AddRow(fmt.Sprintf("bed %d %d", i, s), 0, 0)
		}
		r.bed = append(r.bed, row)
		var soil [3]int
		for k := range soil {
			soil[k] = g.p.AddRow(fmt.Sprintf("soil %d %d", i, k), -inf, g.y.soil[k]*g.y.grounds[i].area)
		}
		r.soil = append(r.soil, soil)
		var npk [3]int
		for k, name := range nutrients {
			npk[k] = g.p.AddRow(fmt.Sprintf("%s %d", name, i), -inf, 0)
		}
		r.npk = append(r.npk, npk)
		r.dry = append(r.dry, g.p.AddRow(fmt.Sprintf("dry %d", i), -inf, g.y.dryStanding(i)))
	}
	if g.y.sizing {
		g.laySizes()
	}
	for j := range g.y.sowings {
		w := &g.y.sowings[j]
		key := familyOf(w)
		if _, ok := r.family[key]; !ok {
			area := g.y.open(w.on, wishes)
			r.family[key] = g.p.AddRow("family "+key, -inf, max(0, area-g.y.familyHeld(w.on, w.crop.Family)))
		}
	}
	g.layRounds()
	for _, w := range wishes {
		row := -1
		switch w.Kind {
		case AtMost:
			row = g.p.AddRow(w.String(), -inf, w.Area)
		case AtLeast:
			row = g.p.AddRow(w.String(), w.Area, inf)
		}
		r.wish = append(r.wish, row)
	}
}

func familyOf(w *sowing) string { return fmt.Sprintf("%d %s", w.on, w.crop.Family) }

// layLaid adds a row for each sowing that was laid: what it may be, fed or not,
// is no more than its pieces.
func (g *programme) layLaid(list []laid) {
	if list == nil {
		return
	}
	at := make([]int, len(g.y.sowings))
	for j := range at {
		at[j] = -1
	}
	for _, l := range list {
		if at[l.of[0]] < 0 {
			row := g.p.AddRow(fmt.Sprintf("laid %d", l.of[0]), -inf, 0)
			for _, j := range l.of {
				at[j] = row
			}
		}
		g.p.RowUp[at[l.of[0]]] += l.area
	}
	g.ground.laid = at
}

// addSowings adds a column for each sowing, m2.
func (g *programme) addSowings(wishes []Wish) {
	y, r := g.y, &g.ground
	for j := range y.sowings {
		w := &y.sowings[j]
		var c column
		work := 0.0
		for _, s := range g.seasons {
			work += s.weight * s.bring(j, &c)
		}
		g.groundOf(w, &c)
		up := inf
		for i, wish := range wishes {
			if r.wish[i] >= 0 && wish.What == w.crop.ID {
				c.add(r.wish[i], 1)
			}
		}
		if r.laid != nil {
			if r.laid[j] < 0 {
				up = 0
			}
			c.add(r.laid[j], 1)
		}
		g.sow = append(g.sow, g.column(fmt.Sprintf("sow %s %s %d", w.crop.ID, w.day, j), 0, up, c, 0, 0, work+groundWork))
	}
}

// groundOf fills in the ground a sowing holds and what it takes from it.
func (g *programme) groundOf(w *sowing, c *column) {
	r := &g.ground
	c.add(r.bed[w.on][w.from], -1)
	if w.to < slots {
		c.add(r.bed[w.on][w.to], 1)
	}
	c.add(r.family[familyOf(w)], 1)
	if w.crop.Keeps == "dry" {
		c.add(r.dry[w.on], -1)
	}
	for k := range w.own {
		c.add(r.soil[w.on][k], w.own[k])
		if w.fed {
			c.add(r.npk[w.on][k], w.gap[k])
		}
	}
}

// addGround adds the ground in use in each fortnight.
func (g *programme) addGround(wishes []Wish) {
	for i := range g.y.grounds {
		area := g.y.open(i, wishes)
		cols := make([]int, slots)
		for s := range cols {
			var c column
			up := max(0, area-g.y.held(i, s))
			c.add(g.ground.bed[i][s], 1)
			if s+1 < slots {
				c.add(g.ground.bed[i][s+1], -1)
			}
			if g.y.sizing {
				c.add(g.ground.size[i][s], 1)
				up = inf
			}
			cols[s] = g.column(fmt.Sprintf("ground %d %d", i, s), 0, up, c)
		}
		g.used = append(g.used, cols)
		for k := range g.ground.npk[i] { // what its own ground no longer has is brought
			var c column
			c.add(g.ground.soil[i][k], -1)
			c.add(g.ground.npk[i][k], 1)
			g.column(fmt.Sprintf("bring %d %d", i, k), 0, inf, c)
		}
	}
}

// groundWork is what a square metre more is worth leaving, hours: the bed made
// ready and sown (data work.csv fork_bed and sow, common practice).
const groundWork = 0.16

// addDry adds the ground that needs little tending, in whatever year.
func (g *programme) addDry() {
	for i := range g.y.grounds {
		var c column
		c.add(g.ground.dry[i], 1)
		for _, in := range g.seasons {
			for s := range slots {
				c.add(in.rows.hours[s], -(1-engine.DryTending)*g.y.tending(s))
			}
		}
		up := g.y.grounds[i].area
		if g.y.sizing {
			up = inf
		}
		g.dry = append(g.dry, g.column(fmt.Sprintf("dry ground %d", i), 0, up, c))
	}
}
