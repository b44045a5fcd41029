package plan

import (
	"context"
	"fmt"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/lp"
	"evenstead/stead"
)

func TestDev(t *testing.T) {
	st, err := stead.Read("quernfold.toml", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	r, err := hearth.Plain(st, hearth.Ask{Members: 100, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	a := &Ask{Stead: st, Tables: r.Tables, Members: r.Members, Options: r.Options}
	at := time.Now()
	y, err := a.look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("look", time.Since(at), len(y.sowings), "sowings", len(y.frame.Foods), "foods", len(y.grounds), "grounds", len(y.standing), "standing", y.gift)
	g := y.programme(nil, nil)
	fmt.Println(len(g.p.RowLo), "rows", len(g.p.ColLo), "cols", len(g.p.Value), "nz")
	for n := 1; n <= 3; n++ {
		at = time.Now()
		sols, err := lp.Stages(context.Background(), g.p, g.stages[:n], lp.Options{})
		fmt.Println(n, time.Since(at), err)
		for _, s := range sols {
			fmt.Println(s.Status, s.Objective, s.Iterations, s.Residuals)
		}
		if n == 3 && err == nil {
			x := sols[len(sols)-1].X
			for j, c := range g.sow {
				if x[c] > 0.05 {
					w := &y.sowings[j]
					fmt.Printf("%s %s on %d wet %v fed %v %.1f m2 %.2f kg/m2 %d-%d\n", w.crop.ID, w.day, w.on, w.watered, w.fed, x[c], w.total, w.from, w.to)
				}
			}
			for n, row := range g.short {
				s := 0.0
				for _, c := range row {
					if c >= 0 {
						s += x[c]
					}
				}
				if s > 0.1 {
					fmt.Printf("short %s %.1f days\n", y.frame.Nutrients[n], s)
				}
			}
			for s, c := range g.over {
				if x[c] > 0.1 {
					fmt.Printf("over %d %.1f\n", s, x[c])
				}
			}
			fmt.Println("lack", x[g.lack])
		}
	}
}
