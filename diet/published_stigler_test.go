package diet

import (
	"context"
	"math"
	"testing"

	"evenstead/data"
	"evenstead/lp"
)

// cheapest solves the diet of 1939 as a linear program: dollars' worth of each
// food, at least cost, so that every minimum is met. It returns the intake as the
// ordinary code adds it up, the dollars by food and the shadow prices.
func cheapest(t *testing.T, s stiglerTable) (Intake, map[string]float64, []float64) {
	t.Helper()
	p := &lp.Problem{}
	rows := make([]int, len(s.names))
	for i, name := range s.names {
		rows[i] = p.AddRow(name, s.minimum[i], math.Inf(1))
	}
	for _, f := range s.foods {
		p.AddColumn(f.name, 1, 0, math.Inf(1), rows, f.content)
	}
	got, err := lp.Solve(context.Background(), p, lp.Options{})
	if err != nil {
		t.Fatal(err)
	}
	in := NewIntake(len(s.names))
	dollars := map[string]float64{}
	for j, x := range got.X {
		if x > 1e-9 {
			in.Add(x, s.foods[j].content)
			dollars[s.foods[j].name] = x
		}
	}
	return in, dollars, got.Y
}

func TestPublishedStiglerProgram(t *testing.T) {
	s := readStigler(t)
	in, dollars, price := cheapest(t, s)
	const source = "Stigler 1945, table A, solved as a linear program"
	cases := []check{
		{source, "dollars of 365 days", 365 * in.Mass, 39.66, 0.005},
		{source, "dollars of 365.25 days", 365.25 * in.Mass, 39.69, 0.005},
		{source, "dollars a day", in.Mass, 0.1086622782, 5e-10},
		{source, "foods in the optimum", float64(len(dollars)), 5, 0},
		{source, "wheat flour, dollars a year", 365.25 * dollars["Wheat Flour (Enriched)"], 10.78, 0.005},
		{source, "beef liver, dollars a year", 365.25 * dollars["Liver (Beef)"], 0.69, 0.005},
		{source, "cabbage, dollars a year", 365.25 * dollars["Cabbage"], 4.10, 0.005},
		{source, "spinach, dollars a year", 365.25 * dollars["Spinach"], 1.83, 0.005},
		{source, "navy beans, dollars a year", 365.25 * dollars["Navy Beans, Dried"], 22.29, 0.005},
		{source, "protein g", in.Amount[1], 147.414, 0.0005},
		{source, "iron mg", in.Amount[3], 60.4669, 0.00005},
		{source, "thiamin mg", in.Amount[5], 4.12044, 0.000005},
		{source, "niacin mg", in.Amount[7], 27.316, 0.0005},
		{source, "shadow price of energy, $/Mcal", price[0], 0.00876515, 5e-9},
		{source, "shadow price of calcium, $/g", price[2], 0.0317377, 5e-8},
		{source, "shadow price of vitamin A, $/kIU", price[4], 0.000400233, 5e-10},
		{source, "shadow price of riboflavin, $/mg", price[6], 0.016358, 5e-7},
		{source, "shadow price of vitamin C, $/mg", price[8], 0.000144118, 5e-10},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.9g, printed %.9g ± %g", c.got, c.want, c.tol)
			}
		})
	}
	need := Need{Target: s.minimum, Upper: make([]float64, len(s.names))}
	nutrients := make([]data.Nutrient, len(s.names))
	for i := range nutrients {
		nutrients[i].ID, need.Upper[i] = s.names[i], math.NaN()
	}
	for _, g := range Assess(in, need, nutrients) {
		if g.Share < 1-1e-7 || g.Unknown != 0 {
			t.Errorf("%s: %.9g of the minimum", g.Nutrient, g.Share)
		}
	}
}

// TestPublishedLevels are the printed bands of activity and increments of growth.
func TestPublishedLevels(t *testing.T) {
	pal := func(age float64, activity string, high bool) float64 {
		lo, hi, err := PAL(age, activity)
		if err != nil {
			t.Fatal(err)
		}
		if high {
			return hi
		}
		return lo
	}
	grown := func(sex string, years float64) float64 {
		p := Person{Sex: sex, Age: years, Height: 1.0, Mass: 15, Activity: Active}
		growth, _, err := Added(p)
		if err != nil {
			t.Fatal(err)
		}
		return growth / kcal
	}
	bearing := func(state string, week int) float64 {
		p := Person{Sex: "female", Age: 30, Height: 1.65, Mass: 60, Activity: Active, State: state, Week: week}
		with, err := EER2005(p)
		if err != nil {
			t.Fatal(err)
		}
		p.State, p.Week = None, 0
		without, err := EER2005(p)
		if err != nil {
			t.Fatal(err)
		}
		return (with - without) / kcal
	}
	mother := func(week int) float64 {
		_, b, err := Added(Person{Sex: "female", Age: 30, Height: 1.65, Mass: 60, Activity: Active, State: Lactating, Week: week})
		if err != nil {
			t.Fatal(err)
		}
		return b / kcal
	}
	week := NewIntake(1) // a week's fruit and vegetables for four, by the printed lines
	for _, dollars := range []float64{25.42, 4.43, 10.47, 9.18, 6.70, 3.00} {
		week.Add(1, []float64{dollars})
	}
	const bands, growth = "NASEM 2023, physical activity level by age, as on canada.ca", "NASEM 2023, energy of growth, kcal a day"
	for _, c := range []check{
		{bands, "3-8 low active from", pal(5, LowActive, false), 1.31, 0},
		{bands, "3-8 active from", pal(5, Active, false), 1.44, 0},
		{bands, "3-8 very active from", pal(5, VeryActive, false), 1.59, 0},
		{bands, "9-13 low active from", pal(10, LowActive, false), 1.44, 0},
		{bands, "9-13 active from", pal(10, Active, false), 1.59, 0},
		{bands, "9-13 very active from", pal(10, VeryActive, false), 1.77, 0},
		{bands, "14-18 low active from", pal(16, LowActive, false), 1.56, 0},
		{bands, "14-18 active from", pal(16, Active, false), 1.73, 0},
		{bands, "14-18 very active from", pal(16, VeryActive, false), 1.92, 0},
		{bands, "19 on inactive to", pal(30, Inactive, true), 1.53, 0},
		{bands, "19 on low active to", pal(30, LowActive, true), 1.68, 0},
		{bands, "19 on active to", pal(30, Active, true), 1.85, 0},
		{bands, "19 on very active to", pal(30, VeryActive, true), 2.50, 0},
		{growth, "boy of 1 month", grown("male", 1.0/12), 200, 1e-9},
		{growth, "girl of 1 month", grown("female", 1.0/12), 180, 1e-9},
		{growth, "boy of 4 months", grown("male", 4.0/12), 50, 1e-9},
		{growth, "girl of 4 months", grown("female", 4.0/12), 60, 1e-9},
		{growth, "girl of 8 months", grown("female", 8.0/12), 20, 1e-9},
		{growth, "girl of 2", grown("female", 2), 15, 1e-9},
		{growth, "boy of 2", grown("male", 2), 20, 1e-9},
		{growth, "boy of 6", grown("male", 6), 15, 1e-9},
		{growth, "girl of 11", grown("female", 11), 30, 1e-9},
		{growth, "boy of 11", grown("male", 11), 25, 1e-9},
		{growth, "girl of 16", grown("female", 16), 20, 1e-9},
		{"NASEM 2023, lactation, kcal a day", "first half year", mother(10), 400, 1e-9},
		{"NASEM 2023, lactation (from memory), kcal a day", "second half year", mother(40), 380, 1e-9},
		{"IOM 2002/2005, pregnancy, kcal a day", "second trimester", bearing(Pregnant, 20), 340, 1e-9},
		{"IOM 2002/2005, pregnancy, kcal a day", "third trimester", bearing(Pregnant, 35), 452, 1e-9},
		{"IOM 2002/2005, lactation, kcal a day", "first half year", bearing(Lactating, 10), 330, 1e-9},
		// The lines are rounded in print and add to 59.20.
		{"Public Health Nutrition 2020, 24:1841, table 5", "fruit and vegetables for four, dollars a week", week.Amount[0], 59.18, 0.03},
		{"IOM 2002/2005, lactation, kcal a day", "second half year", bearing(Lactating, 40), 400, 1e-9},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}
