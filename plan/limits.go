package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenstead/lp"
	"evenstead/unit"
)

// A Limit is what more of something the plan runs against would be worth, found by
// planning again with more of it.
type Limit struct {
	Name  string  `json:"name"`
	More  Step    `json:"more"`      // of it
	Worth float64 `json:"days"`      // days of the household's food, by the weights of shortfall
	Worst float64 `json:"left_days"` // days still lacking with it
}

// A relief is a limit with the way to loosen it.
type relief struct {
	name  string
	more  Step
	price float64 // by the duals, only to tell which to try
	apply func(g *programme)
}

// A Step is how much more of a limit is looked at, SI.
type Step struct {
	Amount  float64   `json:"amount"`
	Measure unit.Kind `json:"measure"`
	Per     string    `json:"per"` // day, week or year; "": in all
}

// mostTried is how many limits are planned again for.
const mostTried = 4

// leastWorth is the worth below which a limit is not told, days of food.
const leastWorth = 0.25

// Worth plans again with more of each thing that the plan runs against and keeps
// what that brings, the most first. Prices of a linear programme are not unique,
// so none is shown: they only choose what to try.
func (p *Plan) Worth(ctx context.Context) error {
	if p.Why != "" { // nothing is sown, and Why says what must change first
		return nil
	}
	if p.free == nil {
		if err := p.solveFree(ctx); err != nil {
			return fmt.Errorf("worth of limits: %w", err)
		}
	}
	g, base := p.free, p.first
	list := g.reliefs(base, p.wishes)
	list = list[:min(mostTried, len(list))]
	found := make([]Limit, len(list))
	errs := make([]error, len(list))
	var wg sync.WaitGroup
	free := make(chan struct{}, 2)
	for i := range list {
		wg.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			h := p.wide.again(p.wishes)
			list[i].apply(h)
			h.p.Cost = h.stages[0]
			s, err := lp.Solve(ctx, h.p, lp.Options{Tol: nearEnough, Near: base})
			if err != nil {
				errs[i] = err
				return
			}
			found[i] = Limit{list[i].name, list[i].more, base.Objective - s.Objective, s.Objective}
		})
	}
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("worth of %s: %w", list[i].name, err)
		}
	}
	p.Limits = slices.DeleteFunc(found, func(l Limit) bool { return l.Worth < leastWorth })
	slices.SortStableFunc(p.Limits, func(a, b Limit) int { return cmp.Compare(b.Worth, a.Worth) })
	return nil
}

// solveFree finds the least shortfall of the year planned for, which a plan for
// several years did not need.
func (p *Plan) solveFree(ctx context.Context) (err error) {
	p.free = p.wide.again(p.wishes)
	p.free.p.Cost = p.free.stages[0]
	p.first, err = lp.Solve(ctx, p.free.p, lp.Options{Tol: nearEnough, Near: p.poor.s})
	return err
}

// again lays out the programme with tables of its own, so that several may be
// laid out at once.
func (y *years) again(wishes []Wish) *programme {
	z := *y
	z.comes, z.offers = nil, slices.Clone(z.offers)
	return z.programme(wishes, nil)
}

// Steps in which limits are loosened.
const (
	moreGround  = 10   // m2
	moreTank    = 1000 // L
	moreFreezer = 10   // L
	moreShelf   = 100  // L
	moreHours   = 1    // a week
	moreKg      = 1    // of a nutrient for the beds
)

// reliefs lists the limits that the plan runs against, the most promising first.
func (g *programme) reliefs(s *lp.Solution, wishes []Wish) []relief {
	out := slices.Concat(g.groundReliefs(s), g.storeReliefs(s), g.soilReliefs(s), g.loopReliefs(s))
	out = append(out, relief{"hours", Step{moreHours, unit.Time, "week"}, price(s, g.rows.hours, 2*moreHours), func(h *programme) {
		loosen(h, h.rows.hours, 2*moreHours)
	}})
	for i, w := range wishes {
		if w.Kind == AtMost {
			out = append(out, relief{"for the wish: " + w.String(), Step{moreGround, unit.Area, ""}, price(s, g.ground.wish[i:i+1], moreGround), func(h *programme) {
				loosen(h, h.ground.wish[i:i+1], moreGround)
			}})
		}
	}
	out = slices.DeleteFunc(out, func(r relief) bool { return r.price < leastWorth/2 })
	slices.SortStableFunc(out, func(a, b relief) int { return cmp.Compare(b.price, a.price) })
	return out
}

// price is what the duals of rows say that a step is worth.
func price(s *lp.Solution, rows []int, step float64) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += math.Abs(s.Y[r]) * step
	}
	return sum
}

// loosen raises the upper side of rows.
func loosen(h *programme, rows []int, step float64) {
	for _, r := range rows {
		h.p.RowUp[r] += step
	}
}

// groundReliefs widen each kind of bed, for every family.
func (g *programme) groundReliefs(s *lp.Solution) []relief {
	var out []relief
	for i := range g.y.grounds {
		worth := price(s, g.families(i), moreGround)
		for _, c := range g.used[i] {
			worth += math.Abs(s.D[c]) * moreGround
		}
		out = append(out, relief{g.y.groundName(i), Step{moreGround, unit.Area, ""}, worth, func(h *programme) {
			for _, c := range h.used[i] {
				h.p.ColUp[c] += moreGround
			}
			loosen(h, h.families(i), moreGround)
		}})
	}
	return out
}

// families are the rows of rotation on a kind of bed.
func (g *programme) families(ground int) []int {
	var rows []int
	for key, row := range g.ground.family {
		if on(key) == ground {
			rows = append(rows, row)
		}
	}
	slices.Sort(rows)
	return rows
}

// storeReliefs widen places and tanks.
func (g *programme) storeReliefs(s *lp.Solution) []relief {
	var out []relief
	for l, place := range g.y.frame.Places {
		step := float64(moreShelf)
		if place.Freezer {
			step = moreFreezer
		}
		out = append(out, relief{"room in " + place.Name, Step{step, unit.Volume, ""}, price(s, g.rows.place[l], step), func(h *programme) {
			loosen(h, h.rows.place[l], step)
		}})
	}
	for t, tank := range g.y.frame.Tanks {
		const m3 = moreTank / 1000
		out = append(out, relief{"water in " + tank.Name, Step{moreTank, unit.Volume, ""}, price(s, g.rows.water[t][:1], m3), func(h *programme) {
			loosen(h, h.rows.water[t][:1], m3)
			for _, c := range h.level[t] {
				h.p.ColUp[c] += m3
			}
		}})
	}
	return out
}

// soilReliefs bring more to the beds.
func (g *programme) soilReliefs(s *lp.Solution) []relief {
	var out []relief
	for k, name := range nutrients {
		worth := 0.0
		for i := range g.ground.npk {
			worth = max(worth, price(s, g.ground.npk[i][k:k+1], moreKg))
		}
		out = append(out, relief{name + " for the beds", Step{moreKg, unit.Mass, "year"}, worth, func(h *programme) { h.giveMore(k, moreKg) }})
	}
	return out
}

// on is the ground of a family row's key.
func on(key string) int {
	i := 0
	_, err := fmt.Sscanf(key, "%d", &i)
	if err != nil {
		return -1
	}
	return i
}

// groundName says what kind of bed a ground is.
func (y *years) groundName(i int) string {
	g := &y.grounds[i]
	name := "beds"
	if len(y.grounds) > 1 {
		name = "unwatered beds"
		if g.irrigated {
			name = "watered beds"
		}
		if g.mulch > 0 {
			name += " under mulch"
		}
	}
	return name
}
