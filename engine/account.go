package engine

import (
	"math"
	"slices"

	"evenstead/book"
	"evenstead/day"
)

// A Span is a stretch of days, first and last in it.
type Span struct {
	From day.Day `json:"from"`
	To   day.Day `json:"to"`
}

func (s Span) has(d day.Day) bool { return d >= s.From && d <= s.To }

// A Part is an amount split by how it is known: told by the book, or filled in by
// the engine.
type Part struct {
	Told   float64 `json:"told"`
	Filled float64 `json:"filled"`
}

// All is the whole amount.
func (p Part) All() float64 { return p.Told + p.Filled }

func (p Part) times(f float64) Part { return Part{p.Told * f, p.Filled * f} }
func (p *Part) add(o Part)          { p.Told += o.Told; p.Filled += o.Filled }

// An Origin is where what a household lives on came from.
type Origin int

// The origins. Grown and Foraged are what a place carries; the next four came
// from outside or were there before; of what was NotRecorded nobody knows.
const (
	Grown Origin = iota // beds, trees, hens, bees
	Foraged
	Given
	Exchanged // for work, with one named under [[exchange]]
	Bought
	Held // in store on the first day of the stay
	NotRecorded
	Origins // how many there are
)

var originNames = [Origins]string{"own", "foraged", "given", "exchanged", "bought", "in store at the start", "not recorded"}

// String is the origin in a word or few.
func (o Origin) String() string { return originNames[o] }

// A Use is an amount the household used over a span, by where it came from. In By,
// Told is what the book tells the coming of; in Used, what it tells the using of.
type Use struct {
	ID   string        `json:"id"` // "energy_mj", "drinking"
	Name string        `json:"name"`
	Unit string        `json:"unit"`
	Need float64       `json:"need"` // over the span; 0: none is stated
	Met  float64       `json:"met"`  // of the need: no day's plenty of water or energy, and no week's of a nutrient, makes up for another's want
	By   [Origins]Part `json:"by"`
	Used Part          `json:"used"`
}

// Carried is the share of the amount that the place carried (grown and foraged),
// and the bounds between which the book holds it: at the low none of what the
// engine filled in or nobody recorded came from the place, at the high all of it.
// low <= share <= high to the last digit. NaN when nothing was used.
func (u *Use) Carried() (share, low, high float64) {
	own, sure, all, open := 0.0, 0.0, 0.0, 0.0
	for o := range Origins {
		p := u.By[o]
		all += p.All()
		switch {
		case o == Grown || o == Foraged:
			own += p.All()
			sure += p.Told
			open += p.Filled
		case o == NotRecorded:
			open += p.All()
		case o != Held: // what stood there on the first day is known by the description
			open += p.Filled
		}
	}
	share = min(own/all, 1)
	return share, min(sure/all, share), min(max((sure+open)/all, share), 1)
}

// An AccountFlow is an amount of a material that moved between two nodes.
type AccountFlow struct {
	From string `json:"from"`
	To   string `json:"to"`
	Part
}

// A Balance is one material over the span: flows, and what each store held. For
// every store After = Before + Described + all in - all out.
type Balance struct {
	Material string        `json:"material"`
	Unit     string        `json:"unit"`
	Flows    []AccountFlow `json:"flows"` // nonzero only
	Stores   []StoreChange `json:"stores"`
}

// A StoreChange is what a node held on the span's first morning and last evening.
type StoreChange struct {
	Node      string  `json:"node"`
	Before    float64 `json:"before"`
	After     float64 `json:"after"`
	Described float64 `json:"described"` // put in or taken out by a new description
}

// A Fuel is the useful heat of one way of cooking, MJ.
type Fuel struct {
	Kind    string `json:"kind"`
	Carried bool   `json:"carried"` // from the place: sun, own gas, wood
	Heat    Part   `json:"heat"`
}

// HoursSpent are what the work of the span took.
type HoursSpent struct {
	Asked   float64            `json:"asked"`   // by the engine's reckoning
	Had     float64            `json:"had"`     // of that, within the hours there are
	Owed    float64            `json:"owed"`    // to the landowner, by the description
	Written map[string]float64 `json:"written"` // by the book's "worked", by for whom or what
}

// An Arrival is a food that came in over the span, kg.
type Arrival struct {
	Food string        `json:"food"`
	By   [Origins]Part `json:"by"`
	Seed float64       `json:"seed"` // kg beside it that the engine set aside to be sown
}

// An Account is the ledger of a span, told apart into what the book says and
// what the engine filled in. It sums the replay's own flows.
type Account struct {
	Span
	Entries   int       `json:"entries"` // of the span, that are reckoned with
	DaysTold  int       `json:"days_told"`
	RainKnown int       `json:"rain_known"` // days
	Heads     float64   `json:"heads"`      // person-days of residents
	Food      []Use     `json:"food"`       // mass eaten, then energy, protein and every other nutrient
	Water     []Use     `json:"water"`      // by class
	Heat      []Fuel    `json:"heat"`
	HeatNeed  float64   `json:"heat_need"` // MJ
	Balances  []Balance `json:"balances"`
	Arrivals  []Arrival `json:"arrivals"`
	Noted     Noted     `json:"noted"`

	Hours HoursSpent `json:"hours"`
}

// account keeps an Account through the replay.
type account struct {
	out   Account
	past  *Past
	hosts []string // with whom work is exchanged
	r     *runner
	on    bool // the day at hand is in the span
	begun bool
	told  ledger
	all   ledger
	day   ledger // as the day, or the part, began
	start [materials][nodes]float64
	end   [materials][nodes]float64
	moved [materials][nodes]float64 // by descriptions
	foods foodAccount
	water waterAccount
	heat  heatAccount
}

func newAccount(h *History, p *Past) *account {
	if h.Span == nil {
		return nil
	}
	a := &account{past: p, out: Account{Span: *h.Span}}
	a.out.From = max(a.out.From, h.first())
	a.out.To = min(a.out.To, p.Today-1) // today is not over
	for _, v := range h.Versions {
		for _, x := range v.Stead.Exchange {
			a.hosts = append(a.hosts, hostOf(x.With))
		}
	}
	a.foods.pools = map[string]*pool{}
	a.foods.came, a.foods.seeds = map[string]*[Origins]Part{}, map[string]float64{}
	return a
}

// turn takes up the runner of the next part of the replay.
func (a *account) turn(r *runner) {
	if a == nil {
		return
	}
	if at := r.m.stocks(r.s); r.m.start <= a.out.To {
		for m := range at {
			for n := range at[m] {
				if a.begun {
					a.moved[m][n] += at[m][n] - a.end[m][n]
				}
			}
		}
		a.end = at
	}
	a.r = r
	a.foods.turn(r)
	a.water.turn(r)
}

// morning begins a day, before the book speaks.
func (a *account) morning(d int) {
	if a == nil {
		return
	}
	on := a.out.Span.has(a.r.m.start + day.Day(d))
	if on && !a.begun {
		a.begun, a.start = true, a.r.m.stocks(a.r.s)
	}
	a.on = on
	a.day = a.r.s.led
	a.foods.morning(a.r)
	a.water.morning(a.r)
	a.heat.morning(a.r)
}

// entry comes before each entry that moves something: what the one before did is
// taken down.
func (a *account) entry(i int) {
	if a != nil && a.r != nil {
		a.foods.close(a)
		a.foods.open(a.r, &a.past.entries[i])
	}
}

// heard comes when the book has spoken for the day.
func (a *account) heard(d int) {
	if a == nil {
		return
	}
	a.foods.close(a)
	a.heat.heard(a)
	a.water.heard(a)
	if a.on && a.r.m.speaks(d) {
		a.told.gain(&a.r.s.led, &a.day)
	}
}

// speaks tells whether the book moves something on a day.
func (m *Model) speaks(d int) bool { return d < len(m.deedAt)-1 && m.deedAt[d] < m.deedAt[d+1] }

// evening ends a day.
func (a *account) evening(d int) {
	if a == nil {
		return
	}
	a.foods.evening(a, d)
	a.water.evening(a)
	a.heat.evening(a)
	if !a.on {
		return
	}
	a.all.gain(&a.r.s.led, &a.day)
	plan := &a.r.m.cal[d]
	a.out.Heads += plan.heads
	a.out.Hours.Owed += plan.owed
	if at := a.past.Known.At(a.r.m.start + day.Day(d)); at >= 0 && !math.IsNaN(a.past.Known.Rain[at]) {
		a.out.RainKnown++
	}
	a.end = a.r.m.stocks(a.r.s)
}

// done ends the replay's days: entries of today are not in the span.
func (a *account) done() {
	if a != nil {
		a.r = nil
	}
}

// gain adds what a ledger grew by.
func (l *ledger) gain(after, before *ledger) {
	for m := range l {
		for i := range l[m] {
			for j := range l[m][i] {
				l[m][i][j] += after[m][i][j] - before[m][i][j]
			}
		}
	}
}

// close makes the account of the replay.
func (a *account) close() *Account {
	if a == nil {
		return nil
	}
	out := &a.out
	out.Food, out.Arrivals = a.foods.uses(), a.foods.arrivals()
	out.Water = a.water.uses()
	out.Heat, out.HeatNeed = a.heat.fuels(), a.heat.asked
	out.Hours.Asked, out.Hours.Had = a.heat.hoursAsked, a.heat.hoursHad
	a.noted()
	for mat := range materials {
		out.Balances = append(out.Balances, a.balance(mat))
	}
	return out
}

func (a *account) balance(m material) Balance {
	b := Balance{Material: materialNames[m], Unit: materialUnits[m], Flows: []AccountFlow{}}
	for from := range nodes {
		for to := range nodes {
			if all := a.all[m][from][to]; all != 0 {
				told := a.told[m][from][to]
				b.Flows = append(b.Flows, AccountFlow{nodeNames[from], nodeNames[to], Part{told, all - told}})
			}
		}
	}
	for n := atTanks; n < nodes; n++ {
		b.Stores = append(b.Stores, StoreChange{nodeNames[n], a.start[m][n], a.end[m][n], a.moved[m][n]})
	}
	return b
}

// noted sums what the entries of the span say that moves nothing reckoned.
func (a *account) noted() {
	n := &a.out.Noted
	a.out.Hours.Written = map[string]float64{}
	var days []day.Day
	for i := range a.past.entries {
		e := &a.past.entries[i]
		if !a.out.has(e.Day) || a.past.refused(e) {
			continue
		}
		a.out.Entries++
		if len(days) == 0 || days[len(days)-1] != e.Day {
			days = append(days, e.Day)
		}
		n.take(e, a.past)
		if e.Kind == book.Worked {
			a.out.Hours.Written[workedFor(e)] += e.Body.Amount
		}
	}
	a.out.DaysTold = len(days)
	slices.SortFunc(n.Spent, func(x, y Spending) int { return int(x.Day - y.Day) })
}

// workedFor is whom or what an entry's hours were for.
func workedFor(e *book.Entry) string {
	if to := e.Body.Extra["for"]; to != "" {
		return to
	}
	if e.Body.What != "" {
		return e.Body.What
	}
	return "the place"
}

// OutsideNodes names the nodes that have no store of their own.
func OutsideNodes() []string { return slices.Clone(nodeNames[:atTanks]) }

// LostNodes names the outsides where a material is of no more use to anyone: air
// and the ground below the roots.
func LostNodes() []string { return []string{nodeNames[atAir], nodeNames[atDeep]} }
