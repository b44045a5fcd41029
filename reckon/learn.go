package reckon

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
)

// A Lesson is a default for the next description that the book speaks for: never
// taken up by itself.
type Lesson struct {
	Kind  string   `json:"kind"` // yield, catch, use, bought, hours, keeping
	What  string   `json:"what"`
	Unit  string   `json:"unit"`
	Old   float64  `json:"old"`
	New   float64  `json:"new"`
	Low   float64  `json:"low"` // of New: four beliefs of five, or the least and most seen
	High  float64  `json:"high"`
	N     int      `json:"n"`
	Of    string   `json:"of"`    // what was seen N times
	Lines []string `json:"lines"` // to be put into the description; empty where no line says it
	Why   string   `json:"why"`
}

// leastMove is the least change worth a line.
const leastMove = 0.02

// Learn reads the next description's defaults out of a replayed book: yields, what
// roofs catch and uses draw, as the replay has learned them; food bought and hours
// worked over the account's span; and how food kept. Yields, catch and use are the
// posterior of the engine's own learning, which the outlook of this book already
// goes by: their lines are for a description with a book of its own.
func Learn(past *engine.Past, tab *data.Tables, acc *engine.Account) []Lesson {
	l := &learner{past: past, st: past.Stead, tab: tab, acc: acc, out: []Lesson{}}
	for i := range past.Learned {
		l.factor(&past.Learned[i])
	}
	l.bought()
	l.hours()
	l.keeping()
	return l.out
}

type learner struct {
	past *engine.Past
	st   *stead.Stead
	tab  *data.Tables
	acc  *engine.Account
	out  []Lesson
}

func (l *learner) add(x Lesson) {
	if x.N > 0 && (x.Old == 0 || math.Abs(x.New/x.Old-1) >= leastMove) {
		l.out = append(l.out, x)
	}
}

// factor turns a learned factor into the figures it is a factor of.
func (l *learner) factor(f *engine.Learned) {
	if name, ok := strings.CutPrefix(f.What, "yield of "); ok {
		l.yield(name, f)
	}
	if name, ok := strings.CutPrefix(f.What, "rain caught into "); ok {
		l.catch(name, f)
	}
	if name, ok := strings.CutPrefix(f.What, "water drawn from "); ok {
		l.use(name, f)
	}
}

// leastFactor is the least that the engine lets a place's factor be.
const leastFactor = 0.2

// scaledBy is a lesson of an old figure times a factor.
func scaledBy(kind, what, unit, of string, old float64, f *engine.Learned, most float64) Lesson {
	return Lesson{Kind: kind, What: what, Unit: unit, Old: old, New: min(most, old*max(leastFactor, f.Result[1])), Low: min(most, old*f.Result[0]), High: min(most, old*f.Result[2]), N: f.Evidence, Of: of,
		Why: fmt.Sprintf("%s; %s", f.What, f.Weight)}
}

func (l *learner) yield(name string, f *engine.Learned) {
	at := slices.IndexFunc(l.tab.Crops, func(c data.Crop) bool { return strings.EqualFold(c.Name, name) })
	if at < 0 {
		return
	}
	c := &l.tab.Crops[at]
	olds := map[float64][]string{}
	var order []float64
	for i := range l.st.Plantings {
		p := &l.st.Plantings[i]
		if p.Crop != c.ID {
			continue
		}
		old := p.Yield
		if old == 0 {
			old = c.YieldTyp
		}
		if olds[old] == nil {
			order = append(order, old)
		}
		olds[old] = append(olds[old], p.Bed)
	}
	if len(order) == 0 {
		x := scaledBy("yield", "yield of "+name, "kg/m2", "harvests", c.YieldTyp, f, math.Inf(1))
		x.Lines = []string{fmt.Sprintf("yield = %q # for a [[planting]] of %s", perM2(x.New), c.ID)}
		l.add(x)
		return
	}
	for _, old := range order {
		x := scaledBy("yield", "yield of "+name, "kg/m2", "harvests", old, f, math.Inf(1))
		x.Lines = []string{fmt.Sprintf("yield = %q # in each [[planting]] of %s on %s", perM2(x.New), c.ID, strings.Join(distinct(olds[old]), ", "))}
		l.add(x)
	}
}

func distinct(names []string) []string {
	slices.Sort(names)
	return slices.Compact(names)
}

func perM2(v float64) string { return fmt.Sprintf("%.3g kg/m2", v) }

// catch is the share of rain that the roofs of a group bring to it.
func (l *learner) catch(group string, f *engine.Learned) {
	for i := range l.st.Roofs {
		r := &l.st.Roofs[i]
		if l.group(r.To) != group {
			continue
		}
		old := r.Coefficient
		if row, ok := l.tab.Roof(r.Surface); ok && old == 0 {
			old = row.Coefficient
		}
		x := scaledBy("catch", "rain caught by "+named(r.Name, "roof", i), "", "dips", old, f, 1)
		x.Lines = []string{fmt.Sprintf("coefficient = %.2f # in [[roof]] %s", x.New, named(r.Name, "roof", i))}
		l.add(x)
	}
}

// use is what each use draws.
func (l *learner) use(group string, f *engine.Learned) {
	for i := range l.st.Uses {
		u := &l.st.Uses[i]
		if l.group(u.From) != group {
			continue
		}
		key, old := "per_day", u.PerDay
		if u.PerPerson > 0 {
			key, old = "per_person", u.PerPerson
		}
		x := scaledBy("use", "water for "+named(u.Name, "use", i), "L/day", "dips", old, f, math.Inf(1))
		x.Lines = []string{fmt.Sprintf("%s = \"%.3g L/day\" # in [[use]] %s", key, x.New, named(u.Name, "use", i))}
		l.add(x)
	}
}

func named(name, part string, i int) string {
	if name == "" {
		return fmt.Sprintf("%s %d", part, i+1)
	}
	return name
}

// group is the group of tanks that a part names; nothing names the first.
func (l *learner) group(name string) string {
	groups := l.st.Groups()
	for _, g := range groups {
		for _, t := range g.Tanks {
			if l.st.Tanks[t].Name == name {
				return g.Name
			}
		}
		if g.Name == name {
			return name
		}
	}
	if name == "" && len(groups) > 0 {
		return groups[0].Name
	}
	return ""
}

// Least evidence: entries of a food bought, weeks with work written, counts of a food.
const (
	leastBought = 3
	leastWeeks  = 4
	leastCounts = 2
)

// bought sets what was bought against the terms, a person and day.
func (l *learner) bought() {
	if l.acc.Heads <= 0 {
		return
	}
	days := float64(l.acc.To-l.acc.From) + 1
	for _, food := range l.boughtFoods() {
		kg, n := 0.0, 0
		low, high := math.Inf(1), 0.0
		for _, v := range l.months(food, &kg, &n) {
			low, high = min(low, v), max(high, v)
		}
		if n < leastBought {
			continue
		}
		rate, key := kg/l.acc.Heads, "g a person and day"
		at := slices.IndexFunc(l.st.Terms.Bought, func(b stead.Bought) bool { return b.Food == food })
		x := Lesson{Kind: "bought", What: strings.ReplaceAll(food, "_", " ") + " bought", Unit: key, N: n, Of: "entries"}
		heads := l.acc.Heads / days
		if at >= 0 {
			x.Old = 1000 * l.st.Terms.Bought[at].Rate
			if !l.st.Terms.Bought[at].PerPerson {
				rate, heads, x.Unit = kg/days, 1, "g a day"
			}
		}
		x.New, x.Low, x.High = 1000*rate, 1000*low/heads, 1000*high/heads
		x.Why = fmt.Sprintf("%.3g kg over %.0f days; the range is that of calendar months", kg, days)
		line := fmt.Sprintf("rate = \"%.3g g/day\"", x.New)
		x.Lines = []string{"[[terms.bought]]", fmt.Sprintf("food = %q", food), line}
		if at >= 0 {
			x.Lines = []string{line + " # in [[terms.bought]] of " + food}
		}
		l.add(x)
	}
}

func (l *learner) boughtFoods() (out []string) {
	for _, e := range l.past.Entries() {
		if _, food := l.tab.Food(e.Body.What); e.Kind == book.Bought && food && l.in(e.Day) && e.Body.Measure == "mass" {
			out = append(out, e.Body.What)
		}
	}
	return distinct(out)
}

func (l *learner) in(d day.Day) bool { return d >= l.acc.From && d <= l.acc.To }

// months are kg a day of a food bought in each calendar month of the span.
func (l *learner) months(food string, kg *float64, n *int) map[[2]int]float64 {
	by, days := map[[2]int]float64{}, map[[2]int]float64{}
	for d := l.acc.From; d <= l.acc.To; d++ {
		days[[2]int{d.Year(), int(d.Month())}]++
	}
	for _, e := range l.past.Entries() {
		if e.Kind == book.Bought && e.Body.What == food && l.in(e.Day) {
			*kg += e.Body.Amount
			*n++
			by[[2]int{e.Day.Year(), int(e.Day.Month())}] += e.Body.Amount
		}
	}
	for m := range days {
		by[m] /= days[m]
	}
	return by
}

// hours sets what each person wrote down of work against the hours described, over
// the weeks with any.
func (l *learner) hours() {
	for _, p := range l.st.People {
		weeks := map[int]float64{}
		for _, e := range l.past.Entries() {
			if e.Kind == book.Worked && e.Who == p.Name && l.in(e.Day) {
				weeks[(int(e.Day)+3)/7] += e.Body.Amount // weeks from Monday
			}
		}
		if len(weeks) < leastWeeks || p.Name == "" {
			continue
		}
		x := Lesson{Kind: "hours", What: "hours a week of " + p.Name, Unit: "h", Old: p.Hours, Low: math.Inf(1), N: len(weeks), Of: "weeks with work written",
			Why: "the mean of the weeks in which any work is written; work that was not written is not in it"}
		for _, h := range weeks {
			x.New += h / float64(len(weeks))
			x.Low, x.High = min(x.Low, h), max(x.High, h)
		}
		x.Lines = []string{fmt.Sprintf("hours_week = %.0f # in [[person]] %s", x.New, p.Name)}
		l.add(x)
	}
}

// quarter is the loss that a keeping time is told by.
var quarter = math.Log(4.0 / 3)

// keeping tells how long food kept by its counts: were all that was missing spoilt,
// it would keep no longer than this. There is no line for it in a description.
func (l *learner) keeping() {
	for _, lot := range l.past.Standing().Lots {
		if lot.Quarter == 0 || lot.Aged >= 0.95 || lot.How != "counted" {
			continue
		}
		life := float64(lot.Quarter-l.past.Today) / (1 - lot.Aged)
		var rates []float64
		for i := range l.past.Drifts {
			d := &l.past.Drifts[i]
			if lot.Drift != nil && d.Store == lot.Drift.Store && d.Unit == "kg" && d.Days >= 7 && l.in(d.Day) && d.Found > 0 && d.Reckoned > 0 {
				rates = append(rates, math.Log(d.Reckoned/d.Found)/float64(d.Days))
			}
		}
		if len(rates) < leastCounts {
			continue
		}
		lives := make([]float64, len(rates))
		sum := 0.0
		for i, r := range rates {
			sum += r / float64(len(rates))
			lives[i] = keeps(life, r)
		}
		l.add(Lesson{Kind: "keeping", What: lot.Name + " in " + lot.Place, Unit: "days", Old: life, New: keeps(life, sum), Low: slices.Min(lives), High: slices.Max(lives), N: len(rates), Of: "counts",
			Lines: []string{}, Why: "to a quarter lost, were all that counts found missing spoilt; weigh what goes to the pail to know. No line of a description says it"})
	}
}

// keeps is the time to a quarter lost when loss goes on faster by a rate a day; at
// most three times what the table has.
func keeps(life, faster float64) float64 {
	rate := quarter/life + faster
	if rate <= quarter/(3*life) {
		return 3 * life
	}
	return quarter / rate
}
