package plan

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenstead/lp"
)

// wide looks at the two beds with all the water they could want, so that every
// sowing can stand in every year, and keeps the sowings that any year would have.
func wide(t *testing.T, n int) (*years, []chance) {
	t.Helper()
	y, err := ask(reckoning(t, text(t, "testdata/two-beds.toml"), "", "", 30, 3)).look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	f := *y.frame
	y.frame = &f
	f.Tanks = slices.Clone(f.Tanks)
	f.Tanks[0].Holds, f.Tanks[0].Level = 1e5, 1e5
	y = y.without(nil)
	of := y.chances(n)
	alone, err := y.alone(context.Background(), of, nil)
	if err != nil {
		t.Fatal(err)
	}
	y = y.thoseUsed(alone)
	return y, y.in(of)
}

// least solves a programme's first stage.
func least(t *testing.T, g *programme) *lp.Solution {
	t.Helper()
	g.p.Cost = g.stages[0]
	s, err := lp.Solve(context.Background(), g.p, lp.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Status != lp.Optimal {
		t.Fatalf("status %v", s.Status)
	}
	return s
}

func same(a, b, tol float64) bool { return math.Abs(a-b) <= tol*(1+math.Abs(b)) }

// TestSownOnce tries sowings that are decided once for several possible years.
func TestSownOnce(t *testing.T) {
	y, of := wide(t, 3)
	t.Run("equal years are one", func(t *testing.T) { equalYears(t, y) })
	t.Run("to know the year is worth something", func(t *testing.T) { knowing(t, y, of) })
	t.Run("the tail is the worst years' mean", func(t *testing.T) { tails(t, y, of) })
	t.Run("foresight is worth something", func(t *testing.T) { foresight(t, y, of) })
}

// equalYears: several years that are all alike are planned for as one.
func equalYears(t *testing.T, y *years) {
	want := least(t, y.programme(nil, nil)).Objective
	of := []chance{{y, 0.5, -1}, {y, 0.25, -1}, {y, 0.25, -1}}
	for _, tl := range []*tail{nil, {0.2, 0.5}} {
		if got := least(t, y.programmeOver(of, tl, nil, nil)).Objective; !same(got, want, 1e-6) {
			t.Errorf("equal years, %v: %.9f, one alone %.9f", tl, got, want)
		}
	}
}

// meanYear is the year in which every sowing brings and asks the mean of the chances.
func meanYear(y *years, of []chance) *years {
	z := *y
	z.comes = nil
	z.sowings, z.standing, z.come, z.water = slices.Clone(y.sowings), slices.Clone(y.standing), make([][slots]float64, len(y.come)), make([][slots]float64, len(y.water))
	for j := range z.sowings {
		z.sowings[j].kg, z.sowings[j].litres, z.sowings[j].total = [slots]float64{}, [slots]float64{}, 0
	}
	for j := range z.standing {
		z.standing[j].kg, z.standing[j].litres = [slots]float64{}, [slots]float64{}
	}
	for _, c := range of {
		for s := range slots {
			for j := range z.sowings {
				z.sowings[j].kg[s] += c.weight * c.sowings[j].kg[s]
				z.sowings[j].litres[s] += c.weight * c.sowings[j].litres[s]
				z.sowings[j].total += c.weight * c.sowings[j].kg[s]
			}
			for j := range z.standing {
				z.standing[j].kg[s] += c.weight * c.standing[j].kg[s]
				z.standing[j].litres[s] += c.weight * c.standing[j].litres[s]
			}
			for k := range z.come {
				z.come[k][s] += c.weight * c.come[k][s]
			}
			for g := range z.water {
				z.water[g][s] += c.weight * c.water[g][s]
			}
		}
	}
	return &z
}

// knowing: to know the year before sowing is worth no less
// than nothing, and so is to sow for all years and not for their mean (wait and
// see <= sown once <= the mean year's sowings in all years: Madansky 1960, Birge
// and Louveaux 1997, ch. 4, eq. 2.4 and 2.5).
func knowing(t *testing.T, y *years, of []chance) {
	wait := 0.0
	for _, c := range of {
		wait += c.weight * least(t, c.programme(nil, nil)).Objective
	}
	once := least(t, y.programmeOver(of, nil, nil, nil)).Objective
	mean := meanYear(y, of).programme(nil, nil)
	x := least(t, mean).X
	g := y.programmeOver(of, nil, nil, nil)
	for j, c := range g.sow {
		g.p.ColLo[c], g.p.ColUp[c] = x[mean.sow[j]], x[mean.sow[j]]
	}
	held := least(t, g).Objective
	const tol = 1e-6
	t.Logf("each year known %.4f, sown once %.4f, the mean year's sowings %.4f days", wait, once, held)
	if wait > once+tol {
		t.Errorf("to know the year costs %.9f days", wait-once)
	}
	if once > held+tol {
		t.Errorf("to sow for all years costs %.9f days beside their mean's sowings", once-held)
	}
	if held-wait < 1e-3 {
		t.Errorf("the years are all alike: nothing is tried")
	}
}

// tails: with weight on the poorest share of years the cost
// is what the years' shortfalls, sorted, say by hand.
func tails(t *testing.T, y *years, of []chance) {
	plain := least(t, y.programmeOver(of, nil, nil, nil)).Objective
	for _, tl := range []tail{{0.4, 0.5}, {1, 0.7}} {
		g := y.programmeOver(of, &tl, nil, nil)
		s := least(t, g)
		mean, worst := g.shortfalls(s.X, tl.share)
		want := (1-tl.part)*mean + tl.part*worst
		if !same(s.Objective, want, 1e-6) {
			t.Errorf("%+v: the cost is %.9f, by hand %.9f", tl, s.Objective, want)
		}
		if s.Objective < plain-1e-6 || tl.share == 1 && !same(s.Objective, plain, 1e-6) {
			t.Errorf("%+v: %.9f, the mean alone %.9f", tl, s.Objective, plain)
		}
	}
}

// foresight: the longer one table has to do for all years, the more lacks.
func foresight(t *testing.T, y *years, of []chance) {
	before := 0.0
	for _, upto := range []int{0, 6, periods} {
		g := y.programmeOver(of, nil, nil, nil)
		g.oneTable(upto)
		now := least(t, g).Objective
		t.Logf("one table for all years through %d weeks: %.4f days lack", 4*upto, now)
		if now < before-1e-5 {
			t.Errorf("one table through %d weeks is better by %.9f days than a shorter time of it", 4*upto, before-now)
		}
		before = now
	}
}

// oneTable has the same eaten in every year through the first periods.
func (g *programme) oneTable(upto int) {
	type entry struct {
		row int
		v   float64
	}
	p, more := g.p, map[int][]entry{}
	for i := 1; i < len(g.seasons); i++ {
		before, now := g.seasons[i-1].eat, g.seasons[i].eat
		for k := range now {
			for q := range upto {
				a, b := before[k][q], now[k][q]
				switch {
				case a >= 0 && b >= 0:
					row := p.AddRow("", 0, 0)
					more[a], more[b] = append(more[a], entry{row, 1}), append(more[b], entry{row, -1})
				case a >= 0 || b >= 0: // what one year has not got no year eats
					p.ColUp[max(a, b)] = 0
				}
			}
		}
	}
	wide := lp.Problem{Name: p.Name, RowLo: p.RowLo, RowUp: p.RowUp, RowNames: p.RowNames}
	for j := range p.Cost {
		rows, values := slices.Clone(p.Row[p.Start[j]:p.Start[j+1]]), slices.Clone(p.Value[p.Start[j]:p.Start[j+1]])
		for _, e := range more[j] {
			rows, values = append(rows, e.row), append(values, e.v)
		}
		wide.AddColumn(p.ColNames[j], p.Cost[j], p.ColLo[j], p.ColUp[j], rows, values)
	}
	*p = wide
}

// TestBetterOfTwo: of a plan for several years and one for the poor year the one is
// taken that leaves less hardship in the years learned from, and it says which.
func TestBetterOfTwo(t *testing.T) {
	taken := map[bool]bool{}
	for _, seed := range []uint64{1, 2, 3, 4} {
		a := ask(reckoning(t, text(t, "testdata/two-beds.toml"), "", "", 30, seed))
		a.Years = 3
		p := made(t, a)
		a.Alone = true
		many := made(t, a)
		if p.hard > many.hard {
			t.Errorf("seed %d: a plan of hardship %.2f was taken, though sowing once leaves %.2f", seed, p.hard, many.hard)
		}
		if (p.Once == nil) != (p.Beside == 3) || p.Once == nil && p.hard == many.hard {
			t.Errorf("seed %d: sown for %v, beside %d years", seed, p.Once, p.Beside)
		}
		taken[p.Once == nil] = true
	}
	t.Logf("the poor year's plan was taken, of several years: %v", taken)
}
