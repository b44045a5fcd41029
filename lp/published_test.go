package lp

import (
	"context"
	"math"
	"slices"
	"testing"
)

// published is one outside check.
type published struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	cases := slices.Concat(stiglerCases(t), transportCases(t), blendCases(t), productCases(t), cyclingCases(t),
		kleeMintyCases(t), netlibCases(t))
	for _, c := range cases {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.9g, printed %.9g (tolerance %g)", c.got, c.want, c.tol)
			}
		})
	}
}

// optimum solves a problem that has one.
func optimum(t testing.TB, p *Problem) *Solution {
	t.Helper()
	s, err := Solve(context.Background(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Status != Optimal {
		t.Fatalf("status %v, want optimal", s.Status)
	}
	return s
}

// dense builds a problem with nonnegative columns from rows of coefficients.
func dense(cost []float64, rows [][]float64, lo, up []float64) *Problem {
	p := &Problem{Start: []int{0}}
	for i := range rows {
		p.AddRow("", lo[i], up[i])
	}
	for j, c := range cost {
		var at []int
		var v []float64
		for i := range rows {
			if rows[i][j] != 0 {
				at, v = append(at, i), append(v, rows[i][j])
			}
		}
		p.AddColumn("", c, 0, math.Inf(1), at, v)
	}
	return p
}

func none(n int, sign int) []float64 { return filled(n, math.Inf(sign)) }

var stiglerNutrients = []string{"energy_mcal", "protein_g", "calcium_g", "iron_mg", "vit_a_kiu", "thiamin_mg",
	"riboflavin_mg", "niacin_mg", "vit_c_mg"}

// stigler is the diet of least cost: dollars spent a day on each food, one row
// for each nutrient. It returns the rows of the table by kind beside it.
func stigler(t testing.TB) (p *Problem, foods []map[string]string, other map[string]map[string]string) {
	other = map[string]map[string]string{}
	for _, row := range table(t, "stigler.csv") {
		if row["row"] == "food" {
			foods = append(foods, row)
		} else {
			other[row["row"]] = row
		}
	}
	p = &Problem{Start: []int{0}}
	var at []int
	for _, n := range stiglerNutrients {
		at = append(at, p.AddRow(n, number64(t, other["minimum"][n+"_per_dollar"]), math.Inf(1)))
	}
	for _, f := range foods {
		var v []float64
		for _, n := range stiglerNutrients {
			v = append(v, number64(t, f[n+"_per_dollar"]))
		}
		p.AddColumn(f["item"], 1, 0, math.Inf(1), at, v)
	}
	return p, foods, other
}

func stiglerCases(t testing.TB) []published {
	const source, computed = "Stigler 1945, J. Farm Economics 27:303-314", "Stigler 1945, Table A (computed)"
	p, foods, other := stigler(t)
	s, err := Solve(context.Background(), p, Options{Tol: 1e-12}) // the table has ten digits
	if err != nil {
		t.Fatal(err)
	}
	out := []published{
		{source, "least cost, $/year of 365 days", 365 * s.Objective, 39.66, 0.005},
		{source, "least cost, $/year of 365.25 days", 365.25 * s.Objective, 39.69, 0.005},
		{computed, "least cost, $/day", s.Objective, 0.1086622782, 5e-11},
	}
	for j, f := range foods {
		out = append(out, published{computed, "$/day on " + f["item"], s.X[j], number64(t, f["optimum_dollars_per_day"]), 5e-9})
	}
	for i, n := range stiglerNutrients {
		price := number64(t, other["dual"][n+"_per_dollar"])
		intake := number64(t, other["optimum"][n+"_per_dollar"])
		out = append(out, published{computed, "shadow price of " + n, s.Y[i], price, 6e-6*price + 1e-9},
			published{computed, "intake of " + n, s.Row[i], intake, 6e-6 * intake})
	}
	return out
}

// Two canneries ship to three markets; cases, miles in thousands at $90.
func transportCases(t testing.TB) []published {
	const source = "Dantzig 1963, Linear Programming and Extensions, ch. 3.3 (from memory)"
	miles := []float64{2.5, 1.7, 1.8, 2.5, 1.8, 1.4}
	cost := scaled(miles, 0.09)
	s := optimum(t, dense(cost, [][]float64{
		{1, 1, 1, 0, 0, 0}, {0, 0, 0, 1, 1, 1}, {1, 0, 0, 1, 0, 0}, {0, 1, 0, 0, 1, 0}, {0, 0, 1, 0, 0, 1}},
		[]float64{math.Inf(-1), math.Inf(-1), 325, 300, 275}, []float64{350, 600, math.Inf(1), math.Inf(1), math.Inf(1)}))
	const solved = "Dantzig 1963, ch. 3.3 (computed)"
	return []published{
		{source, "cost, thousand dollars", s.Objective, 153.675, 5e-4},
		{solved, "first plant to second market", s.X[1], 300, 1e-4},
		{solved, "second plant to third market", s.X[5], 275, 1e-4},
		{solved, "price of a case at the second market", s.Y[3], 0.153, 1e-6},
		{solved, "price of a case at the third market", s.Y[4], 0.126, 1e-6},
	}
}

// A feed of maize and soya: 800 lb, at least 30 % protein, at most 5 % fibre.
func blendCases(t testing.TB) []published {
	const source = "Taha, Operations Research: An Introduction, diet example, ch. 2 (from memory)"
	s := optimum(t, dense([]float64{0.3, 0.9}, [][]float64{{1, 1}, {0.21, -0.30}, {0.03, -0.01}},
		[]float64{800, math.Inf(-1), 0}, []float64{math.Inf(1), 0, math.Inf(1)}))
	const hand = "feed of 100 kg at 18 % protein (computed by hand)"
	h := optimum(t, dense([]float64{0.3, 0.9}, [][]float64{{1, 1}, {0.09, 0.45}, {0.02, 0.06}},
		[]float64{100, 18, math.Inf(-1)}, []float64{100, math.Inf(1), 5}))
	return []published{
		{source, "maize, lb", s.X[0], 470.6, 0.05},
		{source, "soya, lb", s.X[1], 329.4, 0.05},
		{source, "cost, $", s.Objective, 437.64, 0.01},
		{hand, "maize, kg", h.X[0], 75, 1e-5},
		{hand, "soya, kg", h.X[1], 25, 1e-5},
		{hand, "cost", h.Objective, 45, 1e-6},
		{hand, "price of a kg of protein", h.Y[1], 5.0 / 3, 1e-6},
		{hand, "price of a kg of feed", h.Y[0], 0.15, 1e-6},
		{hand, "price of the fibre limit, slack", h.Y[2], 0, 1e-6},
	}
}

// Doors and windows from three shops, profit in thousands a batch.
func productCases(t testing.TB) []published {
	const source = "Hillier and Lieberman, Introduction to Operations Research, product mix, ch. 3 (from memory)"
	s := optimum(t, dense([]float64{-3, -5}, [][]float64{{1, 0}, {0, 2}, {3, 2}}, none(3, -1), []float64{4, 12, 18}))
	return []published{
		{source, "doors", s.X[0], 2, 1e-6}, {source, "windows", s.X[1], 6, 1e-6}, {source, "profit", -s.Objective, 36, 1e-6},
		{source, "price of shop 1", -s.Y[0], 0, 1e-6}, {source, "price of shop 2", -s.Y[1], 1.5, 1e-6},
		{source, "price of shop 3", -s.Y[2], 1, 1e-6},
	}
}

func cyclingCases(t testing.TB) []published {
	s := optimum(t, dense([]float64{-0.75, 20, -0.5, 6},
		[][]float64{{0.25, -8, -1, 9}, {0.5, -12, -0.5, 3}, {0, 0, 1, 0}}, none(3, -1), []float64{0, 0, 1}))
	return []published{{"Beale 1955, Naval Res. Logist. Q. 2:269 (from memory)", "optimum", s.Objective, -1.25, 1e-7}}
}

// The cube that makes the textbook simplex visit all its corners.
func kleeMintyCases(t testing.TB) []published {
	const n = 8
	cost, up := make([]float64, n), make([]float64, n)
	rows := make([][]float64, n)
	for i := range n {
		cost[i], up[i], rows[i] = -math.Pow(10, float64(n-1-i)), math.Pow(100, float64(i)), make([]float64, n)
		rows[i][i] = 1
		for j := range i {
			rows[i][j] = 2 * math.Pow(10, float64(i-j))
		}
	}
	s := optimum(t, dense(cost, rows, none(n, -1), up))
	return []published{{"Klee and Minty 1972, Inequalities III 159-175 (from memory)", "optimum, 100^7", -s.Objective / 1e14, 1, 1e-8}}
}

func netlibCases(t testing.TB) []published {
	s := optimum(t, instance(t, "afiro.mps"))
	return []published{{"Gay 1985, COAL Newsletter 13:10-12 (Netlib)", "AFIRO", s.Objective, -464.75314286, 5e-7}}
}
