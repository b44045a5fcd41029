package plan

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"evenstead/lp"
)

// Once is how sowings that are decided once stand in the possible years that they
// were decided for, each of which has the table, stores and watering that suit it,
// as if it were known on its first day: days of the household's food that lack, by
// the weights of shortfall.
type Once struct {
	Years int     `json:"years"`
	Mean  float64 `json:"mean_days"`
	Poor  float64 `json:"poor_days"` // mean of the poorest of them, as large a share as the risk
}

// Shares of the later wishes beside a day's food lacking, where the stages of
// several years are weighed in one: a kg bought, and an hour of work, of which a
// lack of hours counts two hundred times as much.
const (
	shareBought = 1e-3
	shareWork   = 1e-4
)

// weighed is the cost of all stages in one.
func (g *programme) weighed() []float64 {
	cost := make([]float64, len(g.p.Cost))
	bought, work := shareBought, shareWork
	if g.y.workFirst {
		bought, work = shareWork, shareBought
	}
	for j := range cost {
		cost[j] = g.stages[0][j] + bought*g.stages[1][j] + work*g.stages[2][j]
	}
	return cost
}

// nearEnough is the relative residual to which several years are solved.
const nearEnough = 1e-6

// chooseOver decides the sowings for several possible years at once, of which each
// then has the table that suits it. Looked at are the sowings that the one planned
// for, or one of every third of these years, would have if it alone were to come.
// Where that can't be certified, or the years have no plan in common, the one year
// is planned for; Once then stays nil.
func (p *Plan) chooseOver(ctx context.Context, all *years, a *Ask) error {
	y := p.years
	chances := y.chances(a.Years)
	alone, err := y.alone(ctx, everyThird(chances), a.Wishes)
	switch {
	case errors.Is(err, ErrWishes):
		return clash(ctx, all, a.Wishes)
	case errors.Is(err, lp.ErrUncertified):
		return p.choose(ctx, all, a.Wishes)
	case err != nil:
		return fmt.Errorf("plan: %w", err)
	}
	p.wide, p.poor = y, alone[len(alone)-1]
	p.years = y.thoseUsed(alone)
	p.prog = p.years.programmeOver(p.years.in(chances), a.tail(), a.Wishes, nil)
	p.prog.p.Cost = p.prog.weighed()
	s, err := lp.Solve(ctx, p.prog.p, lp.Options{Tol: nearEnough, Shared: p.prog.shared(), Workers: runtime.GOMAXPROCS(0)})
	switch {
	case errors.Is(err, lp.ErrUncertified) || err == nil && s.Status != lp.Optimal:
		p.years = y
		return p.choose(ctx, all, a.Wishes)
	case err != nil:
		return fmt.Errorf("plan for %d years: %w", len(chances), err)
	}
	p.sol = []*lp.Solution{s}
	p.Once = &Once{Years: len(chances)}
	p.Once.Mean, p.Once.Poor = p.prog.shortfalls(s.X, p.Risk)
	return nil
}

// everyThird keeps the second of every three chances, or the only one.
func everyThird(of []chance) []chance {
	var out []chance
	for i := min(1, len(of)-1); i < len(of); i += 3 {
		out = append(out, of[i])
	}
	return out
}

// loneYear is what a year planned for alone would have.
type loneYear struct {
	used  []bool // by sowing
	eaten []bool // by food: eaten, kept or put up
	ample []bool // by nutrient: it is never near to lacking
	g     *programme
	s     *lp.Solution
}

const (
	leastUsed = 0.2 // m2 of ground from which a sowing counts as used by a year
	ample     = 1.1 // times what is looked for of a nutrient, from which it is not near to lacking
)

// alone plans for each of the chances alone, and last for the year planned for.
// The error is ErrWishes when one can't be.
func (y *years) alone(ctx context.Context, of []chance, wishes []Wish) ([]loneYear, error) {
	each := append(of[:len(of):len(of)], chance{y, 1, -1})
	out := make([]loneYear, len(each))
	errs := make([]error, len(each))
	var wg sync.WaitGroup
	free := make(chan struct{}, 2)
	for i, c := range each {
		wg.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			out[i], errs[i] = c.loneYear(ctx, wishes)
		})
	}
	wg.Wait()
	return out, errors.Join(errs...)
}

func (y *years) loneYear(ctx context.Context, wishes []Wish) (loneYear, error) {
	g := y.again(wishes)
	g.p.Cost = g.weighed()
	s, err := lp.Solve(ctx, g.p, lp.Options{Tol: nearEnough})
	switch {
	case err != nil:
		return loneYear{}, err
	case s.Status != lp.Optimal:
		return loneYear{}, ErrWishes
	}
	out := loneYear{make([]bool, len(g.sow)), make([]bool, len(y.frame.Foods)), make([]bool, len(y.frame.Nutrients)), g, s}
	for j, c := range g.sow {
		out.used[j] = s.X[c] > leastUsed
	}
	for k := range out.eaten {
		some := func(c int) bool { return c >= 0 && s.X[c] > leastTold }
		out.eaten[k] = slices.ContainsFunc(g.eat[k], some) || slices.ContainsFunc(g.stock[k], some)
	}
	for _, put := range g.put {
		if s.X[put.col] > leastTold {
			out.eaten[put.food] = true
			out.eaten[y.ways(put.food)[put.way].To] = true
		}
	}
	for n, rows := range g.rows.need {
		out.ample[n] = !slices.ContainsFunc(rows, func(r int) bool { return r >= 0 && s.Row[r] < ample*g.p.RowLo[r] })
	}
	return out, nil
}

// thoseUsed is the same year with the sowings and foods that some year would have,
// and without the needs that every one has plenty of.
func (y *years) thoseUsed(alone []loneYear) *years {
	z := *y
	z.comes, z.sowings = nil, nil
	z.aside, z.shunned = make([]bool, len(y.frame.Nutrients)), make([]bool, len(y.frame.Foods))
	for n := range z.aside {
		z.aside[n] = !slices.ContainsFunc(alone, func(a loneYear) bool { return !a.ample[n] })
	}
	for k := range z.shunned {
		z.shunned[k] = !slices.ContainsFunc(alone, func(a loneYear) bool { return a.eaten[k] })
	}
	for j, w := range y.sowings {
		for _, a := range alone {
			if a.used[j] {
				z.sowings = append(z.sowings, w)
				break
			}
		}
	}
	return &z
}
