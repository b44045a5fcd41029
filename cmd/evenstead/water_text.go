package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"evenstead/unit"
)

// waterMethod says where the reckoning comes from.
const waterMethod = "A day's uses are met from what stood in the tank the evening before, and rain that finds no room spills " +
	"first (yield after spillage: Jenkins and others 1978; Fewkes 1999). The volume that never failed is by sequent peak " +
	"(Loucks and van Beek), with a day's rain used the same day; the other order needs up to two days' use more. Dry years " +
	"and returns are by Weibull plotting positions (from memory). The record says what was, not what will be."

// writeWater prints a sizing for a terminal.
func writeWater(w io.Writer, s *waterSheet, sys unit.System) error {
	p := &waterPrinter{printer{w: w}, sys}
	p.line("%s: how much store is enough, from %d years of daily weather", s.Stead, s.Years)
	for i := range s.Groups {
		p.group(s, &s.Groups[i])
	}
	p.section("Weather and method", append(append([]string(nil), s.Weather...), waterMethod))
	p.section("Left out", s.Left)
	p.section("Taken for what was not written", s.Defaults)
	p.section("Cautions", s.Cautions)
	return p.err
}

// waterPrinter prints amounts of water in one unit system.
type waterPrinter struct {
	printer
	sys unit.System
}

func (p *waterPrinter) volume(l float64) string { return unit.Format(l, unit.Volume, p.sys) }
func (p *waterPrinter) flow(l float64) string   { return unit.Format(l, unit.Flow, p.sys) }

// most prints an amount that may not be reached.
func (p *waterPrinter) most(l *float64) string {
	if l == nil {
		return "none"
	}
	return p.volume(*l)
}

func (p *waterPrinter) group(s *waterSheet, g *waterGroup) {
	p.line("")
	dead := ""
	if g.Dead > 0 {
		dead = p.volume(g.Dead) + " of it below the tap, "
	}
	p.wrap("", fmt.Sprintf("%s: %s, %s at the brim, %s%s in it on %s", g.Name, count(g.Tanks, "tank"), p.volume(g.Holds), dead, p.volume(g.Level), s.Today.Long()))
	for _, r := range g.Roofs {
		p.wrap("  - ", fmt.Sprintf("%s: %s, %s, %.0f %% runs off, the first %s after a dry day turned away", r.Name,
			unit.Format(r.Area, unit.Area, p.sys), r.Surface, 100*r.Coef, p.volume(r.Flush)))
	}
	p.line("")
	p.stands(s, g)
	if g.Asked == 0 {
		return
	}
	p.met(g)
	p.needed(g)
	p.worth(g)
	p.ladder(s, g)
	p.beds(g)
}

// stands prints what comes, what is asked and how the group serves as it is.
func (p *waterPrinter) stands(s *waterSheet, g *waterGroup) {
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	defer p.flush(tw)
	row := func(name, said string) { fmt.Fprintf(tw, "  %s\t%s\n", name, said) }
	caught := p.volume(g.Mean)
	if g.Piped > 0 {
		caught += ", " + p.volume(g.Piped) + " of it from another group's overflow"
	}
	row("Comes in a mean year", caught)
	row(dryName(s.Years), p.volume(g.Dry))
	row("Spills in a mean year", p.volume(g.Spilt))
	if g.Asked == 0 {
		row("Asked", "nothing: no use draws on it but, perhaps, the beds")
		return
	}
	row("Asked", p.flow(g.Asked)+", "+p.volume(g.Asked*365.25)+" a year")
	row("Days met in full", fmt.Sprintf("%s (%s if a day's rain is used the same day)", percent(g.Rt), percent(g.RtBefore)))
	row("Water met", fmt.Sprintf("%s (%s)", percent(g.Rv), percent(g.RvBefore)))
	row("Longest time short", longest(g))
	if when := months(g.ByMonth); when != "" {
		row("Short days a year", when)
	}
	row("From full, no rain", dry(g.FromFull))
	row("Never failed", p.noFail(g))
}

// months names the months that are ever short, with their days a year.
func months(short []float64) string {
	var said []string
	for m, d := range short {
		if d >= 0.05 {
			said = append(said, fmt.Sprintf("%s %.1f", time.Month(m + 1).String()[:3], d))
		}
	}
	return strings.Join(said, ", ")
}

func (p *waterPrinter) flush(tw *tabwriter.Writer) {
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

// tenYears are the fewest of which the driest is not wetter than 1 in 10: m/(n+1).
const tenYears = 9

// dryName says how dry the dry year told is.
func dryName(years int) string {
	if years < tenYears {
		return fmt.Sprintf("In the driest of %d", years)
	}
	return "In 1 year of 10 less than"
}

func longest(g *waterGroup) string {
	if g.Longest == 0 {
		return "never short in the record"
	}
	said := count(g.Longest, "day")
	if g.Return != nil {
		said += fmt.Sprintf(" (as long about once in %.0f years)", *g.Return)
	}
	if g.OnceTen != nil {
		said += fmt.Sprintf("; once in 10 years %s", count(*g.OnceTen, "day"))
	}
	return said
}

func (p *waterPrinter) noFail(g *waterGroup) string {
	if g.NoFail == nil {
		return "no volume would: less comes in than is asked"
	}
	return p.volume(*g.NoFail) + " at the brim, had it begun full"
}

// dry tells days without rain.
func dry(days *float64) string {
	if days == nil {
		return "for ever"
	}
	return count(int(*days), "day")
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// percent tells a share; only what is whole is told as 100.
func percent(share float64) string {
	switch {
	case share >= 1:
		return "100 %"
	case share > 0.9995:
		return "99.9 %"
	}
	return fmt.Sprintf("%.1f %%", 100*share)
}

// shown are the volumes of the table, in eighths of the group.
var shown = []int{2, 4, 8, 12, 16, 24, 32}

// met prints days met by volume and demand, as figures and as a drawing.
func (p *waterPrinter) met(g *waterGroup) {
	p.line("")
	p.line("  Share of days met in full, by volume at the brim and daily use (* as it stands)")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "\t")
	for _, k := range shown {
		fmt.Fprintf(tw, "%s\t", p.volume(g.Volumes[k-1])+star(k == stepsOfGroup))
	}
	fmt.Fprintln(tw)
	for j, d := range g.Demands {
		fmt.Fprintf(tw, "  %s\t", p.use(j, d))
		for _, k := range shown {
			fmt.Fprintf(tw, "%s\t", percent(g.Met[j][k-1]))
		}
		fmt.Fprintln(tw)
	}
	p.flush(tw)
	p.line("")
	p.wrap("  ", fmt.Sprintf("The same drawn, %s to %s: ▁ from half the days, ▂ 60 %%, ▃ 70, ▄ 80, ▅ 90, ▆ 95, ▇ 98, █ all",
		p.volume(g.Volumes[0]), p.volume(g.Volumes[len(g.Volumes)-1])))
	for j, d := range g.Demands {
		p.line("  %s |%s|", plain(p.use(j, d)), blocks(g.Met[j]))
	}
}

// use is the name of row j, a demand.
func (p *waterPrinter) use(j int, demand float64) string {
	return fill(p.flow(demand)+star(demandShares[j] == 1), 14)
}

func star(is bool) string {
	if is {
		return "*"
	}
	return ""
}

// blocks draws shares of days met, one character each.
func blocks(shares []float64) string {
	steps := []float64{0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1}
	var b strings.Builder
	for _, s := range shares {
		k := 0
		for k < len(steps) && s >= steps[k] {
			k++
		}
		b.WriteRune([]rune(" ▁▂▃▄▅▆▇█")[k])
	}
	return b.String()
}

func (p *waterPrinter) needed(g *waterGroup) {
	p.line("")
	p.line("  Volume at the brim that meets so many days, by daily use")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "\t")
	for _, s := range neededShares {
		fmt.Fprintf(tw, "%.0f %%\t", 100*s)
	}
	fmt.Fprintln(tw, "never failed\t")
	for j, n := range g.Needed {
		fmt.Fprintf(tw, "  %s\t", p.use(j, n.Demand))
		for _, v := range n.For {
			fmt.Fprintf(tw, "%s\t", p.most(v))
		}
		fmt.Fprintf(tw, "%s\t\n", p.most(n.NoFail))
	}
	p.flush(tw)
}

func (p *waterPrinter) worth(g *waterGroup) {
	p.line("")
	p.line("  What more is worth, a year")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tdays fewer short\tless wanting\t")
	for _, w := range g.Worth {
		fmt.Fprintf(tw, "  %s\t%.1f\t%s\t\n", fill(p.change(w), 38), w.Days, p.volume(w.Litres))
	}
	p.flush(tw)
}

func (p *waterPrinter) change(w waterWorth) string {
	switch w.kind {
	case changeRoof:
		return plain(unit.Format(w.Amount, unit.Area, p.sys)) + " " + w.Change
	case changeUse:
		return plain(p.volume(w.Amount)) + " " + w.Change
	}
	return w.Change + ", " + plain(p.volume(w.Amount))
}

func (p *waterPrinter) ladder(s *waterSheet, g *waterGroup) {
	p.line("")
	p.wrap("  ", fmt.Sprintf("When water is short, cut in this order: days that %s last from %s", p.volume(g.Level), s.Today.Long()))
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(tw, "\tasks\tno rain\t%s\t\n", tenth(s.Years))
	for _, r := range g.Ladder {
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t\n", fill(p.cut(r), 38), p.flow(r.Asks), dry(r.Dry), aYear(r.Poor))
	}
	p.flush(tw)
}

func tenth(years int) string {
	if years < tenYears {
		return fmt.Sprintf("driest of %d years", years)
	}
	return "1 year of 10"
}

func (p *waterPrinter) cut(r waterRung) string {
	switch {
	case r.Cut == "":
		return "nothing cut"
	case r.To == 0:
		return r.Cut + " stopped"
	}
	return r.Cut + " to " + plain(p.flow(r.To))
}

func aYear(days float64) string {
	if days >= 365 {
		return "a year or more"
	}
	return count(int(days), "day")
}
