package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/reckon"
	"evenstead/unit"
)

// thenCrops is how many harvests a reckoning prints; the JSON has all.
const thenCrops = 12

// then tells what was planned and forecast as the span began, and what was found.
func (p *printer) then(r *reckon.Report, sys unit.System) {
	t := r.Then
	p.line("")
	switch {
	case t == nil && r.ThenWhy != "":
		p.wrap("", "What was forecast on the first morning can't be told: "+r.ThenWhy)
		return
	case t == nil:
		return
	}
	p.line("Planned, forecast and found")
	p.wrap("  ", fmt.Sprintf("No outlook is kept from day to day: this one was run again from the book as it stood on the morning of %s (%s received by then%s), over %d possible years, seed %d. Low and high hold the middle 8 years of 10.",
		plain(t.On.Long()), counted(t.Entries, "entry", "entries"), lateWords(t.Late), t.Members, t.Seed))
	p.wrap("  ", "It said: "+plain(t.Verdict.Lead+" "+t.Verdict.Rest))
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("harvest", 26)+"\tplanned\tlow\tmiddle\thigh\twritten\tfilled in\t ")
	for i, c := range t.Crops {
		if i == thenCrops {
			fmt.Fprintf(tw, "  %s\t\t\t\t\t\t\t \n", fill(fmt.Sprintf("and %d more", len(t.Crops)-i), 26))
			break
		}
		kg := func(v float64) string { return amount(v, "kg", sys) }
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t \n", fill(c.Name, 26), kg(c.Planned), kg(c.Range.Low), kg(c.Range.Middle), kg(c.Range.High), kg(c.Found.Told), kg(c.Found.Filled))
	}
	p.flush(tw)
	tw = tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("share of the need met", 26)+"\tlow\tmiddle\thigh\tfound\t ")
	for _, n := range t.Needs {
		if n.Range.Low < 0.9995 || n.Found < 0.9995 {
			fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t \n", fill(n.Name, 26), inHundred(&n.Range.Low), inHundred(&n.Range.Middle), inHundred(&n.Range.High), inHundred(&n.Found))
		}
	}
	p.flush(tw)
	tw = tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("in store at the end", 26)+"\tlow\tmiddle\thigh\tfound\t ")
	for _, s := range t.Stores {
		say := func(v float64) string { return used(v, s.Unit, sys) }
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t \n", fill(s.Name, 26), say(s.Range.Low), say(s.Range.Middle), say(s.Range.High), say(s.Found))
	}
	p.flush(tw)
	p.wrap("  ", fmt.Sprintf("%d of %d levels lie between low and high. What the book does not tell was filled in by the same model, so only what is written proves anything.", t.Inside, t.Of))
}

func lateWords(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("; %s of days before came later and %s left out", counted(n, "entry", "entries"), map[bool]string{true: "is", false: "are"}[n == 1])
}

// exceptions lists what was done against the terms or a gate.
func (p *printer) exceptions(r *reckon.Report) {
	if len(r.Exceptions) == 0 {
		p.section("Exceptions", []string{"None: nothing was bought outside the terms, and no gate was passed with a reason."})
		return
	}
	var said []string
	for _, x := range r.Exceptions {
		when := ""
		if x.Day != 0 {
			when = plain(x.Day.Long()) + ": "
		}
		said = append(said, when+strings.ReplaceAll(plain(x.What), "_", " ")+": "+plain(x.Why)+".")
	}
	p.section("Exceptions", said)
}
