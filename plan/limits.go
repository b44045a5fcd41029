package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenstead/lp"
)

// A Limit is what more of something the plan runs against would be worth, found by
// planning again with more of it.
type Limit struct {
	Name  string  `json:"name"`
	More  string  `json:"more"`      // "10 m2"
	Worth float64 `json:"days"`      // days of the household's food, by the weights of shortfall
	Worst float64 `json:"left_days"` // days still lacking with it
}

// A relief is a limit with the way to loosen it.
type relief struct {
	name, more string
	price      float64 // by the duals, only to tell which to try
	apply      func(g *programme)
}

// mostTried is how many limits are planned again for.
const mostTried = 4

// leastWorth is the worth below which a limit is not told, days of food.
const leastWorth = 0.25

// Worth plans again with more of each thing that the plan runs against and keeps
// what that brings, the most first. Prices of a linear programme are not unique,
// so none is shown: they only choose what to try.
func (p *Plan) Worth(ctx context.Context) error {
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
			s, err := lp.Solve(ctx, h.p, lp.Options{})
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

// again lays out the programme with tables of its own, so that several may be
// laid out at once.
func (y *years) again(wishes []Wish) *programme {
	z := *y
	z.comes, z.offers = nil, nil
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
	y := g.y
	var out []relief
	add := func(name, more string, step, price float64, rows []int, apply func(*programme)) {
		for _, r := range rows {
			if r >= 0 {
				price += math.Abs(s.Y[r]) * step
			}
		}
		if price > leastWorth/2 {
			out = append(out, relief{name, more, price, apply})
		}
	}
	for i := range y.grounds {
		var rows []int
		for key, row := range g.rows.family {
			if on(key) == i {
				rows = append(rows, row)
			}
		}
		price := 0.0
		for _, c := range g.used[i] {
			price += math.Abs(s.D[c]) * moreGround
		}
		add(y.groundName(i), fmt.Sprintf("%d m2", moreGround), moreGround, price, rows, func(h *programme) {
			for _, c := range h.used[i] {
				h.p.ColUp[c] += moreGround
			}
			for key, r := range h.rows.family {
				if on(key) == i {
					h.p.RowUp[r] += moreGround
				}
			}
		})
	}
	for l, place := range y.frame.Places {
		step, what := float64(moreShelf), "room in "+place.Name
		if place.Freezer {
			step = moreFreezer
		}
		add(what, fmt.Sprintf("%.0f L", step), step, 0, g.rows.place[l], func(h *programme) {
			for _, r := range h.rows.place[l] {
				h.p.RowUp[r] += step
			}
		})
	}
	for t, tank := range y.frame.Tanks {
		add("water in "+tank.Name, fmt.Sprintf("%d L", moreTank), moreTank/1000, 0, g.rows.water[t][:1], func(h *programme) {
			h.p.RowUp[h.rows.water[t][0]] += moreTank / 1000
			for _, c := range h.level[t] {
				h.p.ColUp[c] += moreTank / 1000
			}
		})
	}
	add("hours", fmt.Sprintf("%d h a week", moreHours), 2*moreHours, 0, g.rows.hours, func(h *programme) {
		for _, r := range h.rows.hours {
			h.p.RowUp[r] += 2 * moreHours
		}
	})
	for k, name := range [3]string{"nitrogen", "phosphorus", "potassium"} {
		add(name+" for the beds", fmt.Sprintf("%d kg a year", moreKg), moreKg, 0, g.rows.npk[k:k+1], func(h *programme) {
			h.p.RowUp[h.rows.npk[k]] += moreKg
		})
	}
	for i, w := range wishes {
		if w.Kind == AtMost {
			add("the wish for "+w.String(), fmt.Sprintf("%d m2", moreGround), moreGround, 0, g.rows.wish[i:i+1], func(h *programme) {
				h.p.RowUp[h.rows.wish[i]] += moreGround
			})
		}
	}
	slices.SortStableFunc(out, func(a, b relief) int { return cmp.Compare(b.price, a.price) })
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
