package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"evenstead/day"
	"evenstead/larder"
	"evenstead/unit"
)

// writeLarder prints the larder for a terminal.
func writeLarder(w io.Writer, b *larderBook, sys unit.System) error {
	if sys == unit.US {
		b.inUS()
	}
	p := &printer{w: w}
	p.line("%s, %s: the larder", b.Stead, plain(b.Today.Long()))
	p.larderLots(b, sys)
	p.larderPlaces(b, sys)
	p.larderFreezers(b, sys)
	p.larderOutage(b, sys)
	for i := range b.Batches {
		p.line("")
		p.batch(&b.Batches[i], sys)
	}
	for i := range b.Gluts {
		p.glut(&b.Gluts[i], sys)
	}
	p.larderGap(b, sys)
	p.section("Guards", b.Guards)
	p.section("Reckoned from", b.From)
	p.section("Taken for what was not written", b.Defaults)
	return p.err
}

func shortDay(d *day.Day) string {
	if d == nil {
		return "-"
	}
	return plain(d.Short())
}

// cullLeast is the least cull that is told, kg.
const cullLeast = 0.05

// useFirst is how many lots are named as those to use first.
const useFirst = 5

func (p *printer) larderLots(b *larderBook, sys unit.System) {
	p.line("")
	if len(b.Lots) == 0 {
		p.line("Nothing is in store: describe it with [[lot]], or note what is put up.")
		return
	}
	p.line("In store, soonest to go first: go over by and cull about, a quarter lost by, half by")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  lot\tfood\t\twhere\tage\tgo over\tcull\tquarter\thalf\tseen\t ")
	for _, l := range b.Lots {
		amount := unit.Format(l.Kg, unit.Mass, sys)
		if l.Jars > 0 {
			amount += fmt.Sprintf(", %s", counted(l.Jars, "jar", "jars"))
		}
		quarter, half := longDay(l.Quarter), longDay(l.Half)
		cull := "-"
		if l.Cull >= cullLeast {
			cull = unit.Format(l.Cull, unit.Mass, sys)
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%.0f %%\t%s\t%s\t%s\t%s\t%s %s\t \n", l.Number, l.Name+", "+l.Form, amount, l.Place, 100*l.Aged, shortDay(l.GoOver), cull, quarter, half, l.How, plain(l.Seen.Short()))
	}
	p.flush(tw)
	var first []string
	for _, l := range b.Lots[:min(useFirst, len(b.Lots))] {
		if l.Quarter != nil {
			first = append(first, fmt.Sprintf("%s %s from %s by %s", l.Form, l.Name, l.Place, shortDay(l.Quarter)))
		}
	}
	if len(first) > 0 {
		p.wrap("", "Use first: "+strings.Join(first, "; ")+".")
	}
	for _, l := range b.Lots {
		if l.Air != "" {
			p.wrap("", capital(l.Air)+".")
		}
	}
	p.wrap("", "Age is the share of its life lived: at 100 % a quarter of it is taken as lost, little before half of it. Dates are at the places' temperatures, with nobody eating.")
}

// longDay is a day with its year, or that it lies beyond what is looked at.
func longDay(d *day.Day) string {
	if d == nil {
		return "3 years+"
	}
	return plain(d.Long())
}

func (p *printer) larderPlaces(b *larderBook, sys unit.System) {
	if len(b.Places) == 0 {
		return
	}
	p.line("")
	p.line("Room")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, at := range b.Places {
		jars := ""
		if at.Jars > 0 {
			jars = fmt.Sprintf("room for %s of a quart", counted(at.Jars, "jar", "jars"))
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s of %s full\t%s left\t%s\n", at.Name, at.Kind, unit.Format(at.TempC, unit.Temperature, sys),
			unit.Format(at.Used, unit.Volume, sys), unit.Format(at.Holds, unit.Volume, sys), unit.Format(at.Left, unit.Volume, sys), jars)
	}
	p.flush(tw)
}

func (p *printer) larderFreezers(b *larderBook, sys unit.System) {
	for _, f := range b.Freezers {
		p.line("")
		seen := ""
		if f.Seen != "" {
			seen = fmt.Sprintf(" Last seen: %s.", f.Seen)
		}
		p.wrap("", fmt.Sprintf("Freezer %s: %.0f %% full in a room of %s. If the current stops, act within %.0f hours, lid shut till then. It uses about %s a day now and %s a year; US rules allow a full-size chest of its size %s a day.%s",
			f.Name, 100*f.Fill, unit.Format(f.RoomC, unit.Temperature, sys), math.Floor(f.Hold), unit.Format(f.Daily, unit.Energy, sys), unit.Format(f.Year, unit.Energy, sys), unit.Format(f.Limit, unit.Energy, sys), seen))
	}
}

func (p *printer) larderOutage(b *larderBook, sys unit.System) {
	if b.Outage == nil {
		return
	}
	p.line("")
	for _, f := range b.Outage.Left {
		if f.Hours > 0 {
			p.wrap("", fmt.Sprintf("Freezer %s: the current has been off %.0f hours; about %.0f hours are left, lid shut. Then look.", f.Name, b.Outage.Hours, math.Floor(f.Hours)))
		} else {
			p.wrap("", fmt.Sprintf("Freezer %s: the current has been off %.0f hours, %.0f past what it holds. Look at every pack now, with a thermometer.", f.Name, b.Outage.Hours, -f.Hours))
		}
	}
	p.line("Keep or throw")
	line := plain(unit.Format(4, unit.Temperature, sys))
	for _, t := range b.Outage.List {
		warm := "above " + line
		if t.Hours != nil {
			warm = fmt.Sprintf("above %s for %g hours", line, *t.Hours)
		}
		here := ""
		if len(t.Foods) > 0 {
			here = " Here: " + strings.Join(t.Foods, ", ") + "."
		}
		p.wrap("  ", fmt.Sprintf("%s: ice left or %s and under, %s; %s, %s.%s", capital(t.Group), line, t.Cold, warm, t.Warm, here))
	}
	if len(b.Outage.List) > 0 {
		p.wrap("  ", "Nobody measured it and no ice is left: throw out, untasted. ("+b.Outage.List[0].Source+")")
	}
}

func (p *printer) batch(b *larderBatch, sys unit.System) {
	what := capital(b.Kind)
	if b.What != "" {
		what += ", " + b.What + " (" + b.Number + ")"
	}
	p.line("%s, begun %s at %s", what, plain(b.Began.Long()), plain(unit.Format(b.TempC, unit.Temperature, sys)))
	p.wrap("  ", "In: "+partWords(b.In, sys))
	for i, s := range b.Stages {
		mark := "  "
		if i == b.Now {
			mark = "> "
		}
		span := plain(s.From.Short())
		if s.To > s.From {
			span += " to " + plain(s.To.Short())
		}
		p.wrap(mark, fmt.Sprintf("%s, %s: %s", s.Name, span, s.Do))
	}
	if b.Next != nil {
		p.line("  Next: %s, %s", b.Stages[b.Now+1].Name, plain(b.Next.Long()))
	}
	p.wrap("  ", "("+b.Source+")")
}

func partWords(parts []larderPart, sys unit.System) string {
	var said []string
	for _, x := range parts {
		said = append(said, fmt.Sprintf("%s of %s", plain(unit.Format(x.Kg, unit.Mass, sys)), strings.ReplaceAll(x.What, "_", " ")))
	}
	return strings.Join(said, ", ")
}

func (p *printer) glut(g *larderGlut, sys unit.System) {
	p.line("")
	p.wrap("", fmt.Sprintf("A glut: %s of %s (%s)", unit.Format(g.Kg, unit.Mass, sys), strings.ToLower(g.Name), g.Why))
	if g.brief {
		p.glutBrief(g, sys)
		return
	}
	for _, s := range g.Guards {
		p.wrap("  ! ", s)
	}
	var keeps []string
	for _, k := range g.Keeps {
		keeps = append(keeps, fmt.Sprintf("%.0f days in %s at %s", k.Days, k.Place, plain(unit.Format(k.TempC, unit.Temperature, sys))))
	}
	if len(keeps) > 0 {
		p.wrap("  ", "As it is it keeps "+strings.Join(keeps, ", ")+", to a quarter lost.")
	}
	for i := range g.Ways {
		p.way(&g.Ways[i], sys)
	}
	said := map[string]bool{}
	for _, w := range g.Ways {
		for _, c := range w.Care {
			if !said[c] {
				said[c] = true
				p.wrap("  ! ", c)
			}
		}
	}
	p.wrap("  ", larder.Advice)
}

// glutBrief tells each way in a few words.
func (p *printer) glutBrief(g *larderGlut, sys unit.System) {
	var ways []string
	for i := range g.Ways {
		w := &g.Ways[i]
		if w.Stop != "" {
			continue
		}
		said := fmt.Sprintf("%s (%s, %.0f minutes", w.Name, plain(unit.Format(w.Out[0].Kg, unit.Mass, sys)), w.Minutes)
		if w.Jars > 0 {
			said += ", " + counted(w.Jars, w.Jar+" jar", w.Jar+" jars")
		}
		ways = append(ways, said+")")
	}
	if len(ways) == 0 {
		ways = []string{"eat more of it, give it away, or feed it to hens or heap"}
	}
	p.wrap("  ", capital(strings.Join(ways, "; "))+".")
	p.line("  How: evenstead larder --glut %q", strings.ReplaceAll(g.Food, "_", " ")+" "+plain(unit.Format(g.Kg, unit.Mass, sys)))
}

func (p *printer) way(w *larderWay, sys unit.System) {
	if w.Stop != "" {
		p.wrap("  ", fmt.Sprintf("Not to %s: %s.", w.Name, strings.TrimSuffix(w.Stop, ".")))
		return
	}
	p.wrap("  ", fmt.Sprintf("%s: %s in; %s out.", capital(w.Name), partWords(w.In, sys), partWords(w.Out, sys)))
	cost := []string{fmt.Sprintf("%.0f minutes of hands", w.Minutes)}
	if w.Heat > 0 {
		heat := unit.Format(w.Heat, unit.Energy, sys) + " in the pot"
		if len(w.Fuel) > 0 {
			heat += " (" + strings.Join(w.Fuel, ", or ") + ")"
		}
		cost = append(cost, heat)
	}
	if w.Water > 0 {
		cost = append(cost, unit.Format(w.Water, unit.Volume, sys)+" of water")
	}
	if w.Jars > 0 {
		cost = append(cost, counted(w.Jars, w.Jar+" jar", w.Jar+" jars"))
	}
	cost = append(cost, unit.Format(w.Litres, unit.Volume, sys)+" of room")
	if w.Room != "" {
		cost[len(cost)-1] += " (" + w.Room + ")"
	}
	p.wrap("    ", capital(strings.Join(cost, ", "))+".")
	if w.Keeps > 0 {
		p.wrap("    ", fmt.Sprintf("Then it keeps about %s.", spanWords(w.Keeps)))
	}
	for _, line := range testedLines(w.Tested, sys) {
		p.wrap("    ", line)
	}
	for _, s := range w.Do {
		p.wrap("    ", s)
	}
}

// testedLines tells tested times, those of one food and method in one line.
func testedLines(list []larderProcess, sys unit.System) (lines []string) {
	for i := 0; i < len(list); {
		first := list[i]
		var times []string
		for ; i < len(list) && list[i].Food == first.Food && list[i].Method == first.Method; i++ {
			t := list[i]
			times = append(times, fmt.Sprintf("%s pack %ss %g minutes%s", t.Pack, t.Jar, t.Minutes, pressureWords(t.KPa, sys)))
		}
		note := ""
		if first.Note != "" {
			note = " " + capital(first.Note) + "."
		}
		lines = append(lines, fmt.Sprintf("Tested: %s, %s: %s.%s (%s)", first.Food, first.Method, strings.Join(times, ", "), note, first.Source))
	}
	return lines
}

func pressureWords(kPa float64, sys unit.System) string {
	switch {
	case kPa == 0:
		return ""
	case sys == unit.US:
		return fmt.Sprintf(" at %.0f psi", kPa/6.894757)
	}
	return fmt.Sprintf(" at %.1f kPa", kPa)
}

// spanWords prints days as people say them.
func spanWords(days float64) string {
	switch {
	case days >= 700:
		return fmt.Sprintf("%.0f years", days/365)
	case days >= 60:
		return fmt.Sprintf("%.0f months", days/30.4)
	}
	return fmt.Sprintf("%.0f days", days)
}
