package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// A Ration is the most that is eaten of a food in a day, so that it lasts.
type Ration struct {
	Food string  `json:"food"` // key of the foods table
	Name string  `json:"name"`
	Most float64 `json:"kg_a_day"` // edible kg for each person
}

// The household of the engine eats first what goes soonest and does not ration,
// as households do that keep to no plan: nuts are gone by spring, and fat lacks
// until the next harvest although a year's worth came in. What is rich in a
// nutrient, and keeps, is worth rationing.
const (
	rich      = 2  // times as much of the nutrient for its energy as is needed
	leastLife = 90 // days it keeps
)

// paces are the rates tried, in shares of the plan's own mean rate of eating; then
// those a finer step about the best of them.
var paces = [...]float64{0.4, 0.6, 0.9}

const finer = 1.2

// ration looks for the rate of eating what is rich and scarce with which the
// realised garden leaves the least shortfall in the years the plan learned from;
// none where eating as it comes is as good.
func (p *Plan) ration(ctx context.Context, a *Ask, now *engine.Result) error {
	p.hard = p.years.hardship(now.Outlook())
	even := p.evenRates()
	if len(even) == 0 {
		return nil
	}
	a.tell(rationing)
	few := *a.Members
	few.Members = few.Members[:min(learn, len(few.Members))]
	best, found := p.hard-leastEased, 0.0
	try := func(pace float64) error {
		list := slices.Clone(even)
		for i := range list {
			list[i].Most = math.Ceil(list[i].Most*pace*1000) / 1000
		}
		h, err := p.tryRations(ctx, a, list, &few)
		if err == nil && h < best {
			best, found, p.hard, p.Rations = h, pace, h, list
		}
		return err
	}
	for _, pace := range paces {
		if err := try(pace); err != nil {
			return fmt.Errorf("rations: %w", err)
		}
	}
	for _, pace := range [...]float64{found / finer, found * finer} {
		if found == 0 {
			break
		}
		if err := try(pace); err != nil {
			return fmt.Errorf("rations: %w", err)
		}
	}
	return nil
}

// leastEased is the hardship that rations must take away to be worth keeping to.
const leastEased = 0.1

func (p *Plan) tryRations(ctx context.Context, a *Ask, list []Ration, few *weather.Ensemble) (float64, error) {
	st := p.withPlantings(a.Stead, a.Tables)
	st.Rations = described(a.Stead, list)
	tab, err := st.Tables(a.Tables)
	if err != nil {
		return 0, err
	}
	opt := a.Options
	opt.Report = nil
	m, err := engine.Prepare(st, tab, opt)
	if err != nil {
		return 0, err
	}
	res, err := m.Run(ctx, few, opt)
	if err != nil {
		return 0, err
	}
	return p.years.hardship(res.Outlook()), nil
}

// A lack in the first weeks is the surest of all, and no harvest can mend it: it
// counts so many times.
const (
	soonWeeks = 4
	soonTimes = 3
)

// hardship is the mean weeks short of every nutrient, by the weights that the
// plan gives a lack of it.
func (y *years) hardship(o *engine.Outlook) float64 {
	sum := 0.0
	for i := range o.Needs {
		n := &o.Needs[i]
		if n.Group != engine.Food || !n.Known {
			continue
		}
		id := n.ID
		if id == "energy" {
			id = "energy_mj"
		}
		for w, c := range n.Short {
			if w < soonWeeks {
				c *= soonTimes
			}
			sum += y.weight(id) * c
		}
	}
	return sum
}

// burden is hardship with cold pots and weeks in which hours fall short beside it.
func (y *years) burden(o *engine.Outlook) float64 {
	sum := y.hardship(o)
	for i := range o.Needs {
		n, weight := &o.Needs[i], 0.0
		switch n.ID {
		case "cooking":
			weight = weightCold
		case "hours":
			weight = weightHour
		}
		for _, c := range n.Short {
			sum += weight * c
		}
	}
	return sum
}

// evenRates are the foods worth rationing with the rate at which the plan eats
// them from the period they come in to the end, less than what people like.
func (p *Plan) evenRates() []Ration {
	y, x := p.wide, p.x()
	at := map[string]int{}
	var out []Ration
	for k := range y.frame.Foods {
		f := &y.frame.Foods[k]
		if !p.worthRationing(k) {
			continue
		}
		rate := 0.0
		for _, s := range p.prog.seasons {
			rate += s.weight * f.Edible * s.meanEaten(k, x)
		}
		if rate == 0 {
			continue
		}
		if i, ok := at[f.Food]; ok {
			out[i].Most += rate
			continue
		}
		at[f.Food] = len(out)
		out = append(out, Ration{f.Food, f.Name, rate})
	}
	return slices.DeleteFunc(out, func(r Ration) bool { return r.Most < 0.001 })
}

// meanEaten is how much of a food a person eats a day in this year, from the period
// it comes in to the end, kg.
func (s *season) meanEaten(k int, x []float64) float64 {
	kg, mouths := 0.0, 0.0
	for t, c := range s.eat[k] {
		if c >= 0 && (kg > 0 || x[c] > leastTold) {
			kg, mouths = kg+max(0, x[c]), mouths+s.y.mouths(t)
		}
	}
	if mouths == 0 {
		return 0
	}
	return kg / mouths
}

// worthRationing tells whether a food keeps and is rich in protein or fat, and is
// not bought, which comes as evenly as it may.
func (p *Plan) worthRationing(k int) bool {
	y := p.wide
	f := &y.frame.Foods[k]
	if slices.ContainsFunc(y.frame.Bought, func(b engine.FrameBuy) bool { return y.frame.Foods[b.Food].Food == f.Food }) {
		return false
	}
	for _, o := range y.frame.Foods { // eggs of today are not rationed for those in the freezer
		if o.Food == f.Food && slices.Min(o.Life[:]) < leastLife {
			return false
		}
	}
	for n, id := range y.frame.Nutrients {
		if id == "fat_g" && f.Nutrient[0] > 0 && f.Nutrient[n]/f.Nutrient[0] > rich*y.unitOf(n)/y.unitOf(0) {
			return true
		}
	}
	return false
}

// described are the rations that a description is to have: the household's own
// and, of other foods, these.
func described(st *stead.Stead, list []Ration) []stead.Ration {
	out := slices.Clone(st.Rations)
	for _, r := range list {
		if !slices.ContainsFunc(out, func(o stead.Ration) bool { return o.Food == r.Food }) {
			out = append(out, stead.Ration{Food: r.Food, Most: r.Most})
		}
	}
	return out
}

// capRations holds the table to the rations.
func (y *years) capRations(list []Ration) {
	f := *y.frame
	f.Foods = slices.Clone(f.Foods)
	for k := range f.Foods {
		for _, r := range list {
			if r.Food == f.Foods[k].Food {
				f.Foods[k].Cap = min(f.Foods[k].Cap, r.Most/f.Foods[k].Edible/moreOfOne)
			}
		}
	}
	y.frame = &f
}
