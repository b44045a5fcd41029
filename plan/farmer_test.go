package plan

import (
	"context"
	"math"
	"testing"

	"evenstead/lp"
)

// farm is the farmer's problem of two stages: land is given to wheat, corn and
// sugar beets before the yields are known, and the rest bought and sold after.
// yields are t/acre of each, all years alike likely; the second result are the columns of land.
func farm(yields [][3]float64) (*lp.Problem, [3]int) {
	p, none := &lp.Problem{}, math.Inf(1)
	land := p.AddRow("land", -none, 500)
	type year struct{ wheat, corn, beets int }
	var rows []year
	for range yields {
		rows = append(rows, year{p.AddRow("wheat", 200, none), p.AddRow("corn", 240, none), p.AddRow("beets", 0, none)})
	}
	var acres [3]int
	for c, cost := range [3]float64{150, 230, 260} { // $/acre
		at, v := []int{land}, []float64{1}
		for i, y := range yields {
			at, v = append(at, [3]int{rows[i].wheat, rows[i].corn, rows[i].beets}[c]), append(v, y[c])
		}
		acres[c] = p.AddColumn("", cost, 0, none, at, v)
	}
	for _, r := range rows {
		part := 1 / float64(len(yields))
		trade := func(row int, sign, price, most float64) {
			p.AddColumn("", -sign*price*part, 0, most, []int{row}, []float64{-sign})
		}
		trade(r.wheat, -1, 238, none) // bought, $/t
		trade(r.corn, -1, 210, none)
		trade(r.wheat, 1, 170, none) // sold
		trade(r.corn, 1, 150, none)
		trade(r.beets, 1, 36, 6000) // within the quota, t
		trade(r.beets, 1, 10, none)
	}
	return p, acres
}

func solved(t *testing.T, p *lp.Problem) *lp.Solution {
	t.Helper()
	s, err := lp.Solve(context.Background(), p, lp.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// farmerCases are the land and profits of the worked example that textbooks of
// planning under uncertainty begin with.
func farmerCases(t *testing.T) []published {
	const source = "Birge and Louveaux 1997, section 1.1 (figures from memory, and the same in two libraries' examples)"
	years := [][3]float64{{3, 3.6, 24}, {2.5, 3, 20}, {2, 2.4, 16}}
	p, acres := farm(years)
	once := solved(t, p)
	known := 0.0
	for i := range years {
		q, _ := farm(years[i : i+1])
		known += solved(t, q).Objective / 3
	}
	mean, at := farm(years[1:2])
	usual := solved(t, mean)
	held, fixed := farm(years)
	for c := range fixed {
		held.ColLo[fixed[c]], held.ColUp[fixed[c]] = usual.X[at[c]], usual.X[at[c]]
	}
	stuck := solved(t, held).Objective
	return []published{
		{source, "wheat, acres", once.X[acres[0]], 170, 1e-3},
		{source, "corn, acres", once.X[acres[1]], 80, 1e-3},
		{source, "sugar beets, acres", once.X[acres[2]], 250, 1e-3},
		{source, "expected profit, $", -once.Objective, 108390, 0.5},
		{source, "profit of the mean year planned for alone, $", -usual.Objective, 118600, 0.5},
		{source, "expected profit with the mean year's land, $", -stuck, 107240, 0.5},
		{source, "worth of knowing the year, $", once.Objective - known, 7016, 0.5},
		{source, "worth of planning for all years, $", stuck - once.Objective, 1150, 0.5},
	}
}
