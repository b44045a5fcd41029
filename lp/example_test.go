package lp_test

import (
	"context"
	"fmt"
	"math"

	"evenstead/lp"
)

// 100 kg of feed with at least 18 kg of protein, from maize and soya.
func ExampleSolve() {
	p := &lp.Problem{}
	weight := p.AddRow("weight", 100, 100)
	protein := p.AddRow("protein", 18, math.Inf(1))
	p.AddColumn("maize", 0.30, 0, math.Inf(1), []int{weight, protein}, []float64{1, 0.09})
	p.AddColumn("soya", 0.90, 0, math.Inf(1), []int{weight, protein}, []float64{1, 0.45})
	s, err := lp.Solve(context.Background(), p, lp.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for j, x := range s.X {
		fmt.Printf("%s %.2f kg\n", p.ColName(j), x)
	}
	fmt.Printf("cost %.2f, one more kg of protein %.2f\n", s.Objective, s.Y[protein])
	// Output:
	// maize 75.00 kg
	// soya 25.00 kg
	// cost 45.00, one more kg of protein 1.67
}

// First as little of a as may be, then of b.
func ExampleStages() {
	p := &lp.Problem{}
	all := p.AddRow("all", 6, 6)
	for _, name := range []string{"a", "b", "c"} {
		p.AddColumn(name, 0, 0, 4, []int{all}, []float64{1})
	}
	s, err := lp.Stages(context.Background(), p, [][]float64{{1, 0, 0}, {0, 1, 0}}, lp.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for j, x := range s[len(s)-1].X {
		fmt.Printf("%s %.2f\n", p.ColName(j), math.Abs(x))
	}
	// Output:
	// a 0.00
	// b 2.00
	// c 4.00
}
