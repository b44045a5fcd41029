package plan

import "fmt"

// Weights of a day's need of one nutrient that goes unmet, in days of food energy
// (common practice: hunger first, then what the body can't make, then the rest).
const (
	weightProtein  = 0.5
	weightFat      = 0.3
	weightOther    = 0.03
	weightThin     = 0.25  // of the weight of a lack: less than the margin over it
	weightCarry    = 0.3   // a day's food less in store at the end than at the beginning
	weightHour     = 0.02  // an hour more than there is
	weightCold     = 0.2   // a day without heat to cook with: much can be eaten raw or cold for a while
	weightHelping  = 0.002 // a kg more of a class than people like
	moreHelping    = 2     // how many times more of a class may be eaten than people like
	moreOfOne      = 1.5   // how many times the cap of one food may be eaten
	leastCarryLife = 21    // days: what keeps less is eaten or put up in its period
	treeTending    = 0.125 // of a mixed bed's hours (as the engine has it)
)

// season is one possible year's part of a programme: eating, stores, water, hours
// and what goes unmet. Only sowings and ground tie seasons to each other.
type season struct {
	g      *programme
	y      *years // of this year
	name   string // before its rows and columns
	weight float64
	eat    [][]int // food by period; -1: none
	stock  [][]int // food by period: at its end; -1: none
	buy    [][]int // of Frame.Bought by period
	put    []putting
	short  [][]int // nutrient by period; -1: no need
	over   []int   // by fortnight: hours lacking
	more   []int   // kg of a class eaten beyond what people like
	level  [][]int // tank by fortnight, m3
	fires  []fire  // by cooker
	cold   []int   // by period: days without heat; nil: no heat is reckoned
	lack   int     // MJ of carry-over lacking; -1: none asked
	unmet  column  // columns of what goes unmet, with what a unit of each counts
	rows   seasonRows
}

// putting is a column that puts a food up.
type putting struct{ food, way, period, col int }

// seasonRows tells where the limits of a year stand.
type seasonRows struct {
	balance [][]int // food by period
	place   [][]int // place by period
	hours   []int
	water   [][]int // tank by fortnight
	need    [][]int
	class   [][]int
	heat    []int // by period; nil: none
	carry   int
	loss    int // what goes unmet in all; -1: not told apart
}

// newSeason names the parts of the i-th of n years.
func (g *programme) newSeason(i, n int, c chance) *season {
	s := &season{g: g, y: c.years, weight: c.weight, lack: -1}
	s.rows.loss = -1
	if n > 1 {
		s.name = fmt.Sprintf("year %d ", i+1)
	}
	return s
}

func (s *season) row(name string, lo, up float64) int { return s.g.p.AddRow(s.name+name, lo, up) }

// column adds a column with what it costs in this year.
func (s *season) column(name string, lo, up float64, c column, cost ...float64) int {
	if len(cost) == 0 {
		return s.g.column(s.name+name, lo, up, c)
	}
	lacks := cost[0]
	c.add(s.rows.loss, -lacks) // which the tail counts
	cost[0] *= s.g.tail.plain()
	for i := range cost {
		cost[i] *= s.weight
	}
	j := s.g.column(s.name+name, lo, up, c, cost...)
	s.unmet.rows, s.unmet.values = append(s.unmet.rows, j), append(s.unmet.values, lacks)
	return j
}

// shortfall is what goes unmet in this year, days of food by the weights.
func (s *season) shortfall(x []float64) float64 {
	days := 0.0
	for i, j := range s.unmet.rows {
		days += s.unmet.values[i] * x[j]
	}
	return days
}

// layFood adds the rows of food balances, needs, classes, places and carry-over.
func (s *season) layFood() {
	f := s.y.frame
	r := &s.rows
	for k := range f.Foods {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if !s.y.there(k, p) {
				continue
			}
			come := s.y.come[k][2*p] + s.y.come[k][2*p+1] + s.y.stood(k, p)
			if p == 0 {
				come += s.y.larder[k]
			}
			row[p] = s.row(fmt.Sprintf("food %d %d", k, p), -come, inf)
		}
		r.balance = append(r.balance, row)
	}
	s.layNeeds()
	for l := range f.Places {
		row := make([]int, periods)
		for p := range row {
			row[p] = s.row(fmt.Sprintf("room %s %d", f.Places[l].Name, p), -inf, f.Places[l].Holds)
		}
		r.place = append(r.place, row)
	}
	r.carry = -1
	if e := s.y.carried(); e > 0 {
		r.carry = s.row("carry over", e, inf)
	}
	if s.g.tail != nil {
		r.loss = s.row("loss", 0, inf)
	}
}

// layNeeds adds the rows of needs and classes of food.
func (s *season) layNeeds() {
	f := s.y.frame
	r := &s.rows
	for n := range f.Nutrients {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if t := s.y.target(n, p); t > 0 && s.y.known(n) {
				row[p] = s.row(fmt.Sprintf("need %s %d", f.Nutrients[n], p), t/s.y.unitOf(n)*(1+margin(n)), inf)
			}
		}
		r.need = append(r.need, row)
	}
	for c, most := range f.Classes {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if most > 0 && s.y.served(c, p) {
				row[p] = s.row(fmt.Sprintf("class %d %d", c, p), -inf, most*s.y.mouths(p))
			}
		}
		r.class = append(r.class, row)
	}
}

// layHours adds the rows of hours and water.
func (s *season) layHours() {
	r := &s.rows
	for t := range slots {
		r.hours = append(r.hours, s.row(fmt.Sprintf("hours %d", t), -inf, s.y.freeHours(t)))
	}
	for k := range s.y.frame.Tanks {
		row := make([]int, slots)
		for t := range row {
			net := s.y.water[k][t] - s.y.drawnStanding(k, t)
			if t == 0 {
				net += s.y.frame.Tanks[k].Level
			}
			row[t] = s.row(fmt.Sprintf("water %d %d", k, t), -inf, net/1000)
		}
		r.water = append(r.water, row)
	}
}

// bring fills in what a square metre of the j-th sowing brings and asks through
// this year, and returns the hours it takes.
func (s *season) bring(j int, c *column) (work float64) {
	w := &s.y.sowings[j]
	gr := &s.y.grounds[w.on]
	var own column
	for t := range slots {
		h := (w.kg[t]+w.seed[t])*w.crop.PickMinKg/60 + w.litres[t]*gr.litreHours
		own.add(s.rows.hours[t], h)
		work += h
		if w.watered {
			own.add(s.rows.water[gr.tank][t], w.litres[t]/1000)
		}
	}
	for p := range periods {
		own.add(s.rows.balance[w.food][p], w.kg[2*p]+w.kg[2*p+1])
	}
	c.rows, c.values = append(c.rows, own.rows...), append(c.values, own.values...)
	return work
}

// addWater adds what stands in the tanks at the end of each fortnight. A tank
// that the house alone draws below what beds leave may go as low without them.
func (s *season) addWater() {
	for k, tank := range s.y.frame.Tanks {
		level := tank.Level
		var cols []int
		for t := range slots {
			level = min(tank.Holds, level+s.y.water[k][t]-s.y.drawnStanding(k, t)) // m3 in the programme
			var c column
			c.add(s.rows.water[k][t], 1)
			if t+1 < slots {
				c.add(s.rows.water[k][t+1], -1)
			}
			floor := tank.Leaves
			if level < floor {
				floor = level - lowTank*tank.Holds
			}
			cols = append(cols, s.column(fmt.Sprintf("level %d %d", k, t), floor/1000, tank.Holds/1000, c))
		}
		s.level = append(s.level, cols)
	}
}

// lowTank is how much lower, as a share of the tank, beds may bring a tank that
// the house alone draws below what they should leave.
const lowTank = 0.02

// addSlack adds what may go unmet.
func (s *season) addSlack() {
	y, f := s.y, s.y.frame
	for n := range f.Nutrients {
		row := make([]int, periods)
		for p := range row {
			row[p] = -1
			if s.rows.need[n][p] < 0 {
				continue
			}
			var c column
			c.add(s.rows.need[n][p], 1)
			if m := margin(n); m > 0 {
				s.column(fmt.Sprintf("thin %s %d", f.Nutrients[n], p), 0, m*y.target(n, p)/y.unitOf(n), c, weightThin*y.weight(f.Nutrients[n]))
			}
			// a unit of it is a day of the whole household
			row[p] = s.column(fmt.Sprintf("short %s %d", f.Nutrients[n], p), 0, inf, c, y.weight(f.Nutrients[n]))
		}
		s.short = append(s.short, row)
	}
	s.addMore()
}

// addLack adds what lacks in store at the end.
func (s *season) addLack() {
	if s.rows.carry >= 0 {
		var c column
		c.add(s.rows.carry, 1)
		s.lack = s.column("carry lacking", 0, inf, c, weightCarry/s.y.unitOf(0))
	}
}

// addMore adds what is eaten beyond what people like, and hours there are not.
func (s *season) addMore() {
	y, f := s.y, s.y.frame
	for c, most := range f.Classes {
		for p := range periods {
			if s.rows.class[c][p] >= 0 {
				var col column
				col.add(s.rows.class[c][p], -1)
				s.more = append(s.more, s.column(fmt.Sprintf("more %d %d", c, p), 0, moreHelping*most*y.mouths(p), col, weightHelping))
			}
		}
	}
	for t := range slots {
		var c column
		c.add(s.rows.hours[t], -1)
		s.over = append(s.over, s.column(fmt.Sprintf("hours lacking %d", t), 0, inf, c, weightHour))
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

// weight is what a day's lack of a nutrient counts, as the household weighs it.
func (y *years) weight(nutrient string) float64 {
	for _, w := range y.weighs {
		if w.What == nutrient {
			return w.Weight
		}
	}
	return weightOf(nutrient)
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
