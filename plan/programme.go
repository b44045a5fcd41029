package plan

import (
	"fmt"
	"math"
	"slices"

	"evenstead/engine"
	"evenstead/lp"
)

// Weights of a day's need of one nutrient that goes unmet, in days of food energy
// (common practice: hunger first, then what the body can't make, then the rest).
const (
	weightProtein  = 0.5
	weightFat      = 0.3
	weightOther    = 0.03
	weightThin     = 0.25  // of the weight of a lack: less than the margin over it
	weightCarry    = 0.3   // a day's food less in store at the end than at the beginning
	weightHour     = 0.02  // an hour more than there is
	weightHelping  = 0.002 // a kg more of a class than people like
	moreHelping    = 2     // how many times more of a class may be eaten than people like
	moreOfOne      = 1.5   // how many times the cap of one food may be eaten
	leastCarryLife = 21    // days: what keeps less is eaten or put up in its period
	treeTending    = 0.125 // of a mixed bed's hours (as the engine has it)
)

// programme is the linear programme of a plan, with where its parts stand.
type programme struct {
	p      *lp.Problem
	y      *years
	sow    []int   // column of each sowing
	eat    [][]int // food by period; -1: none
	stock  [][]int // food by period: at its end; -1: none
	buy    [][]int // of Frame.Bought by period
	put    []putting
	short  [][]int // nutrient by period; -1: no need
	over   []int   // by fortnight: hours lacking
	more   []int   // kg of a class eaten beyond what people like
	used   [][]int // ground by fortnight, m2
	level  [][]int // tank by fortnight, m3
	lack   int     // MJ of carry-over lacking; -1: none asked
	stages [][]float64
	rows   rowsAt
	size   []int // ground: m2 of it; nil: the ground is what it is
}

// putting is a column that puts a food up.
type putting struct{ food, way, period, col int }

// rowsAt tells where the limits stand that are told by name.
type rowsAt struct {
	balance [][]int // food by period
	bed     [][]int // ground by fortnight
	place   [][]int // place by period
	hours   []int
	water   [][]int // tank by fortnight
	npk     [3]int
	soil    [][3]int // ground
	need    [][]int
	wish    []int // -1: none
	family  map[string]int
	class   [][]int
	dry     []int
	carry   int
	size    [][]int // ground by fortnight: in use, no more than its size; nil likewise
	laid    []int   // by sowing; -1: none of it was laid; nil: nothing is held
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

// programme lays out the rows, then the columns. laid, which may be
// nil, holds every sowing to what was laid of it.
func (y *years) programme(wishes []Wish, list []laid) *programme {
	g := &programme{p: &lp.Problem{Name: "plan"}, y: y, lack: -1}
	g.layFood()
	g.layGround(wishes)
	g.layHours()
	g.layLaid(list)
	g.addSowings(wishes)
	g.addGround(wishes)
	g.addTable()
	g.addStock()
	g.addWater()
	if g.y.sizing {
		g.addSizes()
	}
	g.addSlack()
	g.p.Cost = make([]float64, len(g.p.ColLo))
	for i := range g.stages {
		for len(g.stages[i]) < len(g.p.Cost) {
			g.stages[i] = append(g.stages[i], 0)
		}
	}
	return g
}

// column adds a column with its cost in each stage: shortfall, bought, hours.
func (g *programme) column(name string, lo, up float64, c column, cost ...float64) int {
	j := g.p.AddColumn(name, 0, lo, up, c.rows, c.values)
	if g.stages == nil {
		g.stages = make([][]float64, 3)
	}
	for i := range g.stages {
		v := 0.0
		if i < len(cost) {
			v = cost[i]
		}
		g.stages[i] = append(g.stages[i], v)
	}
	return j
}

// layFood adds the rows of food balances, needs, classes, places and carry-over.
func (g *programme) layFood() {
	f := g.y.frame
	r := &g.rows
	for k := range f.Foods {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if !g.y.there(k, p) {
				continue
			}
			come := g.y.come[k][2*p] + g.y.come[k][2*p+1] + g.y.stood(k, p)
			if p == 0 {
				come += g.y.larder[k]
			}
			row[p] = g.p.AddRow(fmt.Sprintf("food %d %d", k, p), -come, inf)
		}
		r.balance = append(r.balance, row)
	}
	g.layNeeds()
	for l := range f.Places {
		row := make([]int, periods)
		for p := range row {
			row[p] = g.p.AddRow(fmt.Sprintf("room %s %d", f.Places[l].Name, p), -inf, f.Places[l].Holds)
		}
		r.place = append(r.place, row)
	}
	r.carry = -1
	if e := g.y.carried(); e > 0 {
		r.carry = g.p.AddRow("carry over", e, inf)
	}
}

// layNeeds adds the rows of needs and classes of food.
func (g *programme) layNeeds() {
	f := g.y.frame
	r := &g.rows
	for n := range f.Nutrients {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if t := g.y.target(n, p); t > 0 && g.y.known(n) {
				row[p] = g.p.AddRow(fmt.Sprintf("need %s %d", f.Nutrients[n], p), t/g.y.unitOf(n)*(1+margin(n)), inf)
			}
		}
		r.need = append(r.need, row)
	}
	for c, most := range f.Classes {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if most > 0 && g.y.served(c, p) {
				row[p] = g.p.AddRow(fmt.Sprintf("class %d %d", c, p), -inf, most*g.y.mouths(p))
			}
		}
		r.class = append(r.class, row)
	}
}

// layGround adds the rows of beds, rotation, feeding, tending and wishes.
func (g *programme) layGround(wishes []Wish) {
	r := &g.rows
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
	for k, name := range [3]string{"nitrogen", "phosphorus", "potassium"} {
		r.npk[k] = g.p.AddRow(name, -inf, g.y.gift[k])
	}
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

func (g *programme) layHours() {
	r := &g.rows
	for s := range slots {
		r.hours = append(r.hours, g.p.AddRow(fmt.Sprintf("hours %d", s), -inf, g.y.freeHours(s)))
	}
	for t := range g.y.frame.Tanks {
		row := make([]int, slots)
		for s := range row {
			net := g.y.water[t][s] - g.y.drawnStanding(t, s)
			if s == 0 {
				net += g.y.frame.Tanks[t].Level
			}
			row[s] = g.p.AddRow(fmt.Sprintf("water %d %d", t, s), -inf, net/1000)
		}
		r.water = append(r.water, row)
	}
}

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
	g.rows.laid = at
}

// addSowings adds a column for each sowing, m2.
func (g *programme) addSowings(wishes []Wish) {
	y, r := g.y, &g.rows
	for j := range y.sowings {
		w := &y.sowings[j]
		var c column
		work := g.seasonOf(w, &c)
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

// seasonOf fills in what a sowing brings and asks through the year and returns
// the hours it takes.
func (g *programme) seasonOf(w *sowing, c *column) (work float64) {
	r, gr := &g.rows, &g.y.grounds[w.on]
	for s := range slots {
		h := w.kg[s]*w.crop.PickMinKg/60 + w.litres[s]*gr.litreHours
		c.add(r.hours[s], h)
		work += h
		if w.watered {
			c.add(r.water[gr.tank][s], w.litres[s]/1000)
		}
	}
	for p := range periods {
		c.add(r.balance[w.food][p], w.kg[2*p]+w.kg[2*p+1])
	}
	return work
}

// groundOf fills in the ground a sowing holds and what it takes from it.
func (g *programme) groundOf(w *sowing, c *column) {
	r := &g.rows
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
			c.add(r.npk[k], w.gap[k])
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
			c.add(g.rows.bed[i][s], 1)
			if s+1 < slots {
				c.add(g.rows.bed[i][s+1], -1)
			}
			if g.y.sizing {
				c.add(g.rows.size[i][s], 1)
				up = inf
			}
			cols[s] = g.column(fmt.Sprintf("ground %d %d", i, s), 0, up, c)
		}
		g.used = append(g.used, cols)
		for k := range g.rows.npk { // what its own ground no longer has is brought
			var c column
			c.add(g.rows.soil[i][k], -1)
			c.add(g.rows.npk[k], 1)
			g.column(fmt.Sprintf("bring %d %d", i, k), 0, inf, c)
		}
	}
}

// groundWork is what a square metre more is worth leaving, hours: the bed made
// ready and sown (data work.csv fork_bed and sow, common practice).
const groundWork = 0.16

// addWater adds what stands in the tanks at the end of each fortnight. A tank
// that the house alone draws below what beds leave may go as low without them.
func (g *programme) addWater() {
	for t, tank := range g.y.frame.Tanks {
		level := tank.Level
		var cols []int
		for s := range slots {
			level = min(tank.Holds, level+g.y.water[t][s]-g.y.drawnStanding(t, s)) // m3 in the programme
			var c column
			c.add(g.rows.water[t][s], 1)
			if s+1 < slots {
				c.add(g.rows.water[t][s+1], -1)
			}
			floor := tank.Leaves
			if level < floor {
				floor = level - lowTank*tank.Holds
			}
			cols = append(cols, g.column(fmt.Sprintf("level %d %d", t, s), floor/1000, tank.Holds/1000, c))
		}
		g.level = append(g.level, cols)
	}
}

// lowTank is how much lower, as a share of the tank, beds may bring a tank that
// the house alone draws below what they should leave.
const lowTank = 0.02

// addSlack adds what may go unmet, and the ground that needs little tending.
func (g *programme) addSlack() {
	y, f := g.y, g.y.frame
	for n := range f.Nutrients {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if g.rows.need[n][p] < 0 {
				continue
			}
			var c column
			c.add(g.rows.need[n][p], 1)
			if m := margin(n); m > 0 {
				g.column(fmt.Sprintf("thin %s %d", f.Nutrients[n], p), 0, m*y.target(n, p)/y.unitOf(n), c, weightThin*weightOf(f.Nutrients[n]))
			}
			// a unit of it is a day of the whole household
			row[p] = g.column(fmt.Sprintf("short %s %d", f.Nutrients[n], p), 0, inf, c, weightOf(f.Nutrients[n]))
		}
		g.short = append(g.short, row)
	}
	g.addMore()
	for i := range y.grounds {
		var c column
		c.add(g.rows.dry[i], 1)
		for s := range slots {
			c.add(g.rows.hours[s], -(1-engine.DryTending)*y.tending(s))
		}
		up := y.grounds[i].area
		if y.sizing {
			up = inf
		}
		g.column(fmt.Sprintf("dry ground %d", i), 0, up, c)
	}
	if g.rows.carry >= 0 {
		var c column
		c.add(g.rows.carry, 1)
		g.lack = g.column("carry lacking", 0, inf, c, weightCarry/y.unitOf(0))
	}
}

// addMore adds what is eaten beyond what people like, and hours there are not.
func (g *programme) addMore() {
	y, f := g.y, g.y.frame
	for c, most := range f.Classes {
		for p := range periods {
			if g.rows.class[c][p] >= 0 {
				var col column
				col.add(g.rows.class[c][p], -1)
				g.more = append(g.more, g.column(fmt.Sprintf("more %d %d", c, p), 0, moreHelping*most*y.mouths(p), col, weightHelping))
			}
		}
	}
	for s := range slots {
		var c column
		c.add(g.rows.hours[s], -1)
		g.over = append(g.over, g.column(fmt.Sprintf("hours lacking %d", s), 0, inf, c, weightHour))
	}
}

// plenty is how much more of each nutrient than its need the plan looks for: a
// household eats what goes soonest, and does not ration vitamins to the day.
const plenty = 0.25

// margin is the share of a need that is looked for beyond it; none of energy,
// which is eaten to the day.
func margin(n int) float64 {
	if n == 0 {
		return 0
	}
	return plenty
}

func weightOf(nutrient string) float64 {
	switch nutrient {
	case "energy_mj":
		return 1
	case "protein_g":
		return weightProtein
	case "fat_g":
		return weightFat
	}
	return weightOther
}
