package main

import (
	"context"
	"fmt"
	"slices"
	"text/tabwriter"
	"time"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/water"
)

// thirstMembers is how many possible years the beds' asking is the mean of.
const thirstMembers = 30

// thirst is what the beds of each group ask, by the engine; nil without any.
func (q *request) thirst(st *stead.Stead, a hearth.Ask) ([][365]float64, error) {
	if !slices.ContainsFunc(st.Beds, func(b stead.Bed) bool { return b.Irrigated }) {
		return nil, nil
	}
	a.Members, a.Days = thirstMembers, 365
	fresh := *st
	fresh.Plantings = slices.Clone(st.Plantings)
	r, err := hearth.Plain(&fresh, a)
	if err != nil {
		return nil, err
	}
	return engine.Thirst(context.Background(), r.Members, r.Options, func(o engine.Options) (*engine.Model, error) {
		return engine.Prepare(r.Stead, r.Tables, o)
	})
}

// beds sizes the group for house and beds together.
func (s *sizer) beds(out *waterGroup, i int, c *water.Case) *waterBeds {
	if s.thirst == nil {
		return nil
	}
	b := &waterBeds{}
	var months [12]float64
	for slot, litres := range s.thirst[i] {
		b.Asked += litres
		months[(day.Of(2023, 1, 1)+day.Day(slot)).Month()-1] += litres
	}
	if b.Asked < 1 {
		return nil
	}
	for m, litres := range months {
		if each := litres / float64(time.Date(2023, time.Month(m+2), 0, 0, 0, 0, 0, time.UTC).Day()); each > b.Peak {
			b.Peak, b.Month = each, m+1
		}
	}
	with := *c
	with.Demand = s.past.daily(s.thirst[i], c.Demand[0])
	course := with.Run()
	b.Rt, b.Rv = course.Total.Rt, course.Total.Rv
	b.Given = mean(s.past.years(course.Drawn))
	b.NoFail = finite(with.NoFail())
	b.Worth = s.bedWorth(&with, b.Given)
	return b
}

// daily is a steady use with a yearly course on top, for every day of the past.
func (p *past) daily(course [365]float64, steady float64) []float64 {
	out := make([]float64, len(p.rain))
	for y, from := range p.first {
		to := len(p.rain)
		if y+1 < len(p.first) {
			to = p.first[y+1]
		}
		for t := from; t < to; t++ {
			out[t] = steady + course[min(364, t-from)]
		}
	}
	return out
}

// bedWorth is what more store and more roof would bring, L a year.
func (s *sizer) bedWorth(c *water.Case, given float64) []waterWorth {
	more := func(what string, amount float64, kind changeKind, change func(*water.Case)) waterWorth {
		with := *c
		change(&with)
		course := with.Run()
		return waterWorth{Change: what, Amount: amount, kind: kind, Litres: mean(s.past.years(course.Drawn)) - given,
			Days: 365.25 * (course.Total.Rt - c.Run().Total.Rt)}
	}
	out := []waterWorth{
		more("a tote more", tote, changeStore, func(w *water.Case) { w.Store.Size += tote }),
		more("ten totes more", 10*tote, changeStore, func(w *water.Case) { w.Store.Size += 10 * tote }),
	}
	if len(c.Roofs) > 0 {
		out = append(out, more("10 m² more roof", moreRoof, changeRoof, func(w *water.Case) {
			w.Roofs = slices.Clone(w.Roofs)
			w.Roofs[0].Area += moreRoof
		}))
	}
	return out
}

// beds prints how the group serves with the beds.
func (p *waterPrinter) beds(g *waterGroup) {
	b := g.Beds
	if b == nil {
		return
	}
	p.line("")
	noFail := "no volume would: less comes in than is asked"
	if b.NoFail != nil {
		noFail = p.volume(*b.NoFail) + " would never have failed"
	}
	p.wrap("  ", fmt.Sprintf("With the beds watered as well, after the house: they ask %s in the mean year, %s in %s. House and beds have all they ask on %.0f %% of the days, and %.0f %% of the water; %s.",
		p.volume(b.Asked), p.flow(b.Peak), time.Month(b.Month), 100*b.Rt, 100*b.Rv, noFail))
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	for _, w := range b.Worth {
		fmt.Fprintf(tw, "    %s\t%s more in the mean year\t  %.1f days more met in full\n", fill(w.Change, 24), plain(p.volume(w.Litres)), w.Days)
	}
	p.flush(tw)
}
