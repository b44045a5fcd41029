package lever

import (
	"fmt"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

func TestTmp(t *testing.T) {
	st, err := stead.Read("demo", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	r, err := hearth.Plain(st, hearth.Ask{Members: 100, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	t0 := time.Now()
	p, err := Run(t.Context(), r, unit.Metric, Members)
	if err != nil {
		t.Fatal(err)
	}
	rank, err := p.Rank(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println(time.Since(t0))
	for _, x := range rank.Trials {
		fmt.Printf("%7.3f %-20s %s | %.1f h, %.2f h/w, %s | %s\n", x.Relief, x.ID, x.Name, x.Cost.Once, x.Cost.Week, x.Cost.Needs, x.Care)
		for i, c := range x.Changes {
			if i < 4 {
				fmt.Printf("          %s %.0f→%.0f in 100; %.1f→%.1f wk; %d→%d d; met %.3f→%.3f\n", c.Name, 100*c.Before.Short, 100*c.After.Short, c.Before.Weeks, c.After.Weeks, c.Before.Days, c.After.Days, c.Before.Met, c.After.Met)
			}
		}
	}
}
