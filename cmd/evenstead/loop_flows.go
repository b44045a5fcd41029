package main

import (
	"fmt"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/reckon"
)

func (s *loopSheet) nutrients(p *printer) error {
	p.head(fmt.Sprintf("Loops over the year ahead, the mean of %d possible years", s.ahead.Members))
	var ahead []engine.Balance
	for i := range s.ahead.Loops {
		ahead = append(ahead, reckon.BalanceOf(&s.ahead.Loops[i]))
	}
	rings(p, ahead)
	if s.kept && s.past.Account != nil && s.past.Account.From <= s.past.Account.To {
		acc := s.past.Account
		p.head(fmt.Sprintf("Loops from %s to %s, by the book and the reckoning", plain(acc.From.Long()), plain(acc.To.Long())))
		rings(p, acc.Balances)
	}
	p.wrap("", "In, out and lost pass the bounds of the place; round goes from store to store; what came in less what left was laid by. Round again is Finn's index: the share of all flow that has been through the same store before.")
	s.persons(p)
	s.passing(p, ahead)
	return nil
}

func rings(p *printer, all []engine.Balance) {
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tin\tround\tout\tlost\tlaid by\tround again\tadds up\t ")
	for i := range all {
		r := reckon.RingOf(&all[i])
		again := r.Why
		if r.Why == "" {
			again = fmt.Sprintf("%.0f %%", 100*r.Cycling)
		}
		sum := "yes"
		if off := r.Off(); off > 1e-6 || off < -1e-6 {
			sum = fmt.Sprintf("off by %.2g %%", 100*off)
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t \n", fill(r.Material+", "+r.Unit, 28), three(r.In), three(r.Round), three(r.Out), three(r.Lost), three(r.Stored), again, sum)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

// three writes an amount to three figures, without exponents.
func three(v float64) string {
	switch a := max(v, -v); {
	case a >= 100:
		return fmt.Sprintf("%.0f", v)
	case a >= 10:
		return fmt.Sprintf("%.1f", v)
	case a < 0.0005:
		return "0"
	}
	return fmt.Sprintf("%.3g", v)
}

// between sums the flows of a material from nodes to nodes.
func (s *loopSheet) between(material string, from, to []string) (sum float64) {
	has := func(list []string, n string) bool {
		for _, l := range list {
			if l == n {
				return true
			}
		}
		return false
	}
	for i := range s.ahead.Loops {
		l := &s.ahead.Loops[i]
		for _, f := range l.Flows {
			if l.Material == material && has(from, l.Nodes[f.From]) && has(to, l.Nodes[f.To]) {
				sum += f.Amount
			}
		}
	}
	return sum
}

// persons tells what one person passes in a year and where it goes.
func (s *loopSheet) persons(p *printer) {
	heads := float64(max(1, s.now.People))
	p.head("One person in a year, kg")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tnitrogen\tphosphorus\tpotassium\t ")
	for _, row := range []struct {
		name     string
		from, to []string
	}{
		{"passed", []string{"house"}, []string{"toilet", "trade", "compost", "soil", "tanks"}},
		{"of it into the toilet's cans and drums", []string{"house"}, []string{"toilet"}},
		{"from there to the ground", []string{"toilet"}, []string{"soil"}},
		{"to the compost", []string{"toilet"}, []string{"compost"}},
		{"lost to the air", []string{"toilet"}, []string{"air"}},
		{"carried off", []string{"toilet", "house"}, []string{"trade"}},
	} {
		cells := ""
		for _, m := range []string{"nitrogen", "phosphorus", "potassium"} {
			cells += three(s.between(m, row.from, row.to)/heads) + "\t"
		}
		fmt.Fprintf(tw, "%s\t%s \n", fill(row.name, 40), cells)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

// passing lists what passes the bounds of the place, of each nutrient.
func (s *loopSheet) passing(p *printer, all []engine.Balance) {
	var lines []string
	for i := range all {
		b := &all[i]
		if b.Material != "nitrogen" && b.Material != "phosphorus" && b.Material != "potassium" {
			continue
		}
		c := reckon.ClosureOf(b)
		lines = append(lines, fmt.Sprintf("%s: in %s; out or lost %s", b.Material, movedList(c.Brought), movedList(c.Left)))
	}
	p.section("What passes the bounds in the year ahead, kg", lines)
}

func movedList(list []reckon.Moved) string {
	out := ""
	for i, m := range list {
		if i > 0 {
			out += ", "
		}
		out += m.Node + " " + three(m.All())
	}
	if out == "" {
		return "nothing"
	}
	return out
}
