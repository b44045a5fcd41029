package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/plan"
	"evenstead/unit"
)

// round prints what is fetched for the digester, what is brought back to the beds
// and what is burned.
func (p *printer) round(pl *plan.Plan, sys unit.System) {
	if pl.Fetch == nil && len(pl.Spread) == 0 && len(pl.Heat) == 0 {
		return
	}
	p.line("")
	p.line("Fetch, spread and burn")
	if f := pl.Fetch; f != nil {
		now := "as now"
		if f.Kg != f.Now {
			now = "now " + plain(unit.Format(f.Now, unit.MassRate, sys))
		}
		p.wrap("  ", fmt.Sprintf("Scraps for the digester: %s (%s), %.0f trips and %.0f h a year.", plain(unit.Format(f.Kg, unit.MassRate, sys)), now, f.Trips, f.Hours))
	}
	gram := func(kg float64) string { return plain(unit.Format(kg, unit.Mass, sys)) }
	for _, s := range pl.Spread {
		where := "where it goes now"
		if s.Other {
			where = "to " + strings.Join(s.Places(), ", ")
		}
		p.wrap("  ", fmt.Sprintf("%s %s: it brings beds %s of nitrogen, %s of phosphorus and %s of potassium a year.", capital(s.What), where, gram(s.Kg[0]), gram(s.Kg[1]), gram(s.Kg[2])))
	}
	if len(pl.Spread) > 0 {
		p.wrap("  ", "Each only as its gate leaves it (evenstead gate); your local code may ask more.")
	}
	p.heat(pl, sys)
}

// heat prints the fires, four weeks at a time.
func (p *printer) heat(pl *plan.Plan, sys unit.System) {
	if len(pl.Heat) == 0 {
		return
	}
	p.line("")
	p.line("Heat to cook, put up and boil with, four weeks at a time: what is asked, what gives it")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "  from\tasked")
	for _, f := range pl.Heat[0].Fires {
		fmt.Fprintf(tw, "\t%s", cookedWith[f.Kind])
	}
	lacks := slices.ContainsFunc(pl.Heat, func(h plan.Heat) bool { return h.Lacks >= plan.LeastHeat })
	if lacks {
		fmt.Fprint(tw, "\tlacking")
	}
	fmt.Fprint(tw, "\t \n")
	mj := func(v float64) string {
		if v < plan.LeastHeat {
			return "\t-"
		}
		return "\t" + plain(unit.Format(v, unit.Energy, sys))
	}
	for _, h := range pl.Heat {
		fmt.Fprint(tw, "  "+plain(h.From.Short())+mj(h.Asked))
		for _, f := range h.Fires {
			if f.Kg > 0 && f.MJ >= plan.LeastHeat {
				fmt.Fprint(tw, "\t"+plain(unit.Format(f.Kg, unit.Mass, sys)))
				continue
			}
			fmt.Fprint(tw, mj(f.MJ))
		}
		if lacks {
			fmt.Fprint(tw, mj(h.Lacks))
		}
		fmt.Fprint(tw, "\t \n")
	}
	p.flush(tw)
}
