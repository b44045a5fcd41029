package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"evenstead/unit"
)

const kcalMJ = 0.004184 // the thermochemical kilocalorie of food tables

// writeNeed prints a household's need for a terminal.
func writeNeed(w io.Writer, s *needSheet, sys unit.System) error {
	p := &printer{w: w}
	p.line("%s, %s: what its people need of food", s.Stead, plain(s.Today.Long()))
	p.needEnergy(s)
	p.needHousehold(s)
	p.needBought(s, sys)
	for i := range s.People {
		p.needPerson(&s.People[i])
	}
	p.needScarce(s)
	p.section("Notes", s.Notes)
	p.section("Taken for what was not written", s.Defaults)
	p.section("Cautions", s.Cautions)
	return p.err
}

// kcalWords prints an energy of a day both ways.
func kcalWords(mj float64) string {
	return fmt.Sprintf("%.1f MJ (%s kcal)", mj, thousands(int(mj/kcalMJ+0.5)))
}

func (p *printer) needEnergy(s *needSheet) {
	p.line("")
	p.line("Energy a day")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	fmt.Fprintln(tw, "  \tby NASEM 2023\tby IOM 2005\tby work\twho")
	for _, m := range s.People {
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\n", m.Name, kcalWords(m.Energy.EER2023), kcalWords(m.Energy.EER2005), kcalWords(m.Energy.ByWork), m.Said)
	}
	p.flush(tw)
	for _, m := range s.People {
		e := m.Energy
		p.wrap("  ", fmt.Sprintf("%s works %.1f hours a day in the mean, %.1f MET-hours, %s above rest, from %s.", m.Name, e.Hours, e.METh, kcalWords(e.Work), m.WorkFrom))
		if e.Growth > 0 {
			p.wrap("  ", fmt.Sprintf("%s of %s's need is for growth.", kcalWords(e.Growth), m.Name))
		}
		if e.Bearing != 0 {
			p.wrap("  ", fmt.Sprintf("%s of %s's need is for the child: ask a midwife or clinician.", kcalWords(e.Bearing), m.Name))
		}
		if m.Away > 0 {
			p.wrap("  ", fmt.Sprintf("%s is away %s of the coming year.", m.Name, counted(m.Away, "day", "days")))
		}
	}
	if s.Guests > 0 {
		p.wrap("  ", fmt.Sprintf("Guests eat %.0f days a year, as the household does.", s.Guests))
	}
}

// figure prints an amount of a nutrient to three figures, "unknown" for none.
func figure(v *float64) string {
	switch {
	case v == nil:
		return "unknown"
	case *v >= 1000:
		return thousands(int(*v + 0.5))
	}
	return fmt.Sprintf("%.3g", *v)
}

// noLimit prints an upper limit.
func noLimit(v *float64) string {
	if v == nil {
		return "-"
	}
	return figure(v)
}

func (p *printer) needHousehold(s *needSheet) {
	p.line("")
	p.line("The household, a day and a year, and what is bought of it")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  \tunit\ta day\ta year\tat most a day\tbought a day\tof need\t ")
	for _, n := range s.Household {
		share, bought := "-", "-"
		if len(s.Bought) > 0 {
			bought = figure(n.Bought)
		}
		if n.Share != nil {
			share = fmt.Sprintf("%.0f %%", 100**n.Share)
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t \n", fill(n.name, 22), n.Unit, figure(n.Day), figure(n.Year), noLimit(n.Upper), bought, share)
	}
	p.flush(tw)
}

func (p *printer) needBought(s *needSheet, sys unit.System) {
	if len(s.Bought) == 0 {
		p.wrap("", "The terms let no food in from outside.")
		return
	}
	var said []string
	for _, b := range s.Bought {
		said = append(said, fmt.Sprintf("%s of %s", unit.Format(b.Day*365, unit.Mass, sys), strings.ToLower(b.Name)))
	}
	p.wrap("", "The terms let in, a year: "+strings.Join(said, "; ")+".")
}

func (p *printer) needPerson(m *needPerson) {
	p.line("")
	p.line("%s, a day: %s", m.Name, m.Said)
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, l := range m.Lines {
		upper := ""
		switch {
		case l.Upper != nil && l.Binds:
			upper = "at most " + figure(l.Upper)
		case l.Upper != nil:
			upper = fmt.Sprintf("(%s: %s)", figure(l.Upper), strings.ReplaceAll(l.Scope, ";", ","))
		}
		target := "no target"
		if l.Target != nil {
			target = figure(l.Target) + " " + l.Unit
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\n", l.name, target, l.Kind, upper, l.Source)
	}
	p.flush(tw)
}

func (p *printer) needScarce(s *needSheet) {
	p.line("")
	p.line("Known sources of what home-grown food is short of, or has no figures for")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, c := range s.Scarce {
		n := s.tab.Nutrients[s.tab.NutrientIndex(c.Nutrient)]
		fmt.Fprintf(tw, "  %s\t%s\t%g %s in %s\t%s\n", n.Name, c.Food, c.Amount, n.Unit, c.Of, c.Note)
	}
	p.flush(tw)
}
