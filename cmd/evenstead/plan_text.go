package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/plan"
	"evenstead/unit"
)

// plan prints a plan for a terminal.
func (p *printer) plan(pl *plan.Plan, sys unit.System) {
	p.line("%s, plan from %s for 364 days", pl.Stead, plain(pl.Today.Long()))
	p.line("")
	p.wrap("", sownFor(pl)+coversWhat(pl))
	p.measured(pl)
	p.sowings(pl, sys)
	p.seed(pl, sys)
	p.keep(pl, sys)
	p.fourWeeks(pl, sys)
	p.rations(pl, sys)
	p.putUps(pl, sys)
	p.works(pl, sys)
	p.round(pl, sys)
	p.limits(pl, sys)
}

// sownFor says which years the sowings are for, and the year that is told of.
func sownFor(pl *plan.Plan) string {
	o := pl.Once
	switch {
	case pl.Beside > 0:
		return fmt.Sprintf("Planned for a year that %s is poorer than: in the years learned from that left less short than sowing once for %d possible years. ", oneIn(pl.Risk), pl.Beside)
	case o == nil:
		return "Planned for a year that " + oneIn(pl.Risk) + " is poorer than. "
	}
	return fmt.Sprintf("Sown once for %d possible years, each with a table of its own: weighed by what it is worth, food for %.1f days lacks in their mean and for %.1f in the poorest, %s. What follows is the year that as many are poorer than. ",
		o.Years, o.Mean, o.Poor, oneIn(pl.Risk))
}

// oneIn words a share of years.
func oneIn(risk float64) string {
	if n := 1 / risk; n == float64(int(n)) {
		return fmt.Sprintf("one in %.0f", n)
	}
	return fmt.Sprintf("%.0f in 100", 100*risk)
}

// coversWhat says what the plan leaves short in the year planned for: what feeds
// first, the rest briefly.
func coversWhat(pl *plan.Plan) string {
	if len(pl.Short) == 0 {
		return "In that year it covers every need of the table."
	}
	var first, rest []string
	for _, s := range pl.Short {
		switch s.Nutrient {
		case "energy_mj", "protein_g", "fat_g":
			first = append(first, fmt.Sprintf("%s for %.0f days (most about %s)", s.Name, s.Days, s.Worst.Short()))
		default:
			rest = append(rest, fmt.Sprintf("%s %.0f", s.Name, s.Days))
		}
	}
	said := "In that year it covers food energy, protein and fat"
	if len(first) > 0 {
		said = "In that year it is short of " + strings.Join(first, ", ")
	}
	if len(rest) > 0 {
		said += "; days short of other needs: " + strings.Join(rest, ", ")
	}
	return said + ". A day is one day's need of the whole household."
}

// measured prints today's garden beside the plan's.
func (p *printer) measured(pl *plan.Plan) {
	m := pl.Measured
	if m == nil {
		return
	}
	p.line("")
	p.wrap("", fmt.Sprintf("Over %d years the plan has not seen (seed %d), with the same luck:", m.Members, m.Seed))
	p.line("  %-50s %14s %10s", "", "today's garden", "the plan's")
	row := func(name, format string, b, a float64) {
		p.line("  %-50s %14s %10s", name, fmt.Sprintf(format, b), fmt.Sprintf(format, a))
	}
	b, a := &m.Before, &m.After
	row("years with food energy never short, of 100", "%.0f", 100*b.Covered, 100*a.Covered)
	row("food energy met in the middle year, of 100", "%.0f", 100*b.Met[1], 100*a.Met[1])
	row("and in the poorest tenth", "%.0f", 100*b.Met[0], 100*a.Met[0])
	row("weeks short of energy, mean", "%.1f", b.Lean, a.Lean)
	row("weeks short: energy, protein, fat, mean of them", "%.1f", b.AnyLean, a.AnyLean)
	row("weeks short: every nutrient, mean of them", "%.1f", b.Table, a.Table)
	row("weeks short of hours, mean", "%.1f", b.Hours, a.Hours)
	p.wrap("Today's: ", m.Before.Verdict.Lead)
	p.wrap("Planned: ", m.After.Verdict.Lead)
}

// sowings prints the calendar of sowing, a line for a crop and day.
func (p *printer) sowings(pl *plan.Plan, sys unit.System) {
	p.line("")
	if pl.Why != "" {
		p.wrap("", pl.Why)
		return
	}
	p.line("Sow or set out (plants to raise under cover: the day to begin stands behind)")
	for from := 0; from < len(pl.Sowings); {
		to := from + 1
		for to < len(pl.Sowings) && pl.Sowings[to].Crop == pl.Sowings[from].Crop && pl.Sowings[to].Sow == pl.Sowings[from].Sow {
			to++
		}
		p.sowing(pl.Sowings[from:to], sys)
		from = to
	}
	g := pl.Ground
	p.wrap("", fmt.Sprintf("%s of %s of beds is used at some time; of ground and time together %.0f in 100 is left over.",
		plain(unit.Format(g.Used, unit.Area, sys)), plain(unit.Format(g.Beds, unit.Area, sys)), 100*g.Rest))
	if len(pl.Unwatered) > 0 {
		p.wrap("", "Not watered this year: "+strings.Join(pl.Unwatered, ", ")+".")
	}
	if len(pl.Stands) > 0 {
		p.wrap("", fmt.Sprintf("What stands today stays: %s.", counted(len(pl.Stands), "stand", "stands")))
	}
	p.resting(pl, sys)
}

// mostResting is how many rests are told.
const mostResting = 8

// resting prints which families may not come back to which beds yet.
func (p *printer) resting(pl *plan.Plan, sys unit.System) {
	var said []string
	for _, r := range pl.Rests[:min(mostResting, len(pl.Rests))] {
		said = append(said, fmt.Sprintf("%s on %s of %s until %s", r.Family, plain(unit.Format(r.Area, unit.Area, sys)), r.Bed, plain(r.Until.Long())))
	}
	if len(said) == 0 {
		return
	}
	more := "."
	if n := len(pl.Rests) - len(said); n > 0 {
		more = fmt.Sprintf("; %d more (--json).", n)
	}
	p.wrap("", "Kept off what they stood on, for their years of rest: "+strings.Join(said, "; ")+more)
}

// sowing prints the pieces of one crop on one day.
func (p *printer) sowing(list []plan.Line, sys unit.System) {
	area, plants, kg := 0.0, 0.0, 0.0
	var beds []string
	for _, l := range list {
		area, plants, kg = area+l.Area, plants+l.Plants, kg+l.Kg
		beds = append(beds, l.Bed+" "+plain(unit.Format(l.Area, unit.Area, sys)))
	}
	l := list[0]
	said := fmt.Sprintf("%s %s, %s plants, on %s; %s looked for, ground free about %s", plain(unit.Format(area, unit.Area, sys)), l.Name,
		thousands(int(plants)), strings.Join(beds, ", "), plain(unit.Format(kg, unit.Mass, sys)), l.Free.Short())
	if l.Raise != nil {
		said += ", raised from " + l.Raise.Short()
	}
	p.wrap(fmt.Sprintf("  %-7s ", plain(l.Sow.Short())), said+".")
}

func (p *printer) seed(pl *plan.Plan, sys unit.System) {
	if len(pl.Seed) == 0 {
		return
	}
	p.line("")
	p.line("Seed and sets, by the day they are first needed")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, s := range pl.Seed {
		grams := "-"
		if s.Grams > 0 {
			grams = plain(unit.Format(s.Grams/1000, unit.Mass, sys))
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s plants\n", plain(s.By.Short()), s.Name, grams, thousands(int(s.Plants)))
	}
	p.flush(tw)
}

// keep tells the seed that comes off the harvests.
func (p *printer) keep(pl *plan.Plan, sys unit.System) {
	if len(pl.Keep) == 0 {
		return
	}
	p.line("")
	p.line("Keep back of the harvest to sow the same ground again, beside what is looked for")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, k := range pl.Keep {
		fmt.Fprintf(tw, "  from %s\t%s\t%s\tfor %s\n", plain(k.From.Short()), k.Name, plain(unit.Format(k.Kg, unit.Mass, sys)), plain(unit.Format(k.Area, unit.Area, sys)))
	}
	p.flush(tw)
}

// tops is how many foods of a period are told.
const tops = 5

func (p *printer) fourWeeks(pl *plan.Plan, sys unit.System) {
	p.line("")
	p.line("The table, four weeks at a time: energy eaten of need, then in store, then the foods that bring most")
	for _, t := range pl.Periods {
		var foods []string
		for _, f := range t.Foods[:min(tops, len(t.Foods))] {
			name := f.Food
			if f.Form != "fresh" && f.Form != "dry" {
				name = f.Form + " " + name
			}
			foods = append(foods, plain(unit.Format(f.Kg, unit.Mass, sys))+" "+name)
		}
		days := 0.0
		if t.Need > 0 {
			days = t.Stock / t.Need * 28
		}
		share := 1.0
		if t.Need > 0 {
			share = t.Eaten / t.Need
		}
		p.wrap(fmt.Sprintf("  %-7s %4.0f %% %4.0f days ", plain(t.From.Short()), 100*share, days), strings.Join(foods, ", "))
	}
	var bought []string
	for _, b := range pl.Bought {
		bought = append(bought, plain(unit.Format(b.Kg, unit.Mass, sys))+" of "+b.Food)
	}
	if len(bought) > 0 {
		p.wrap("", "Of what the terms allow from outside it uses "+strings.Join(bought, ", ")+".")
	}
}

// rations prints what is to be eaten sparingly.
func (p *printer) rations(pl *plan.Plan, sys unit.System) {
	if len(pl.Rations) == 0 {
		return
	}
	p.line("")
	p.line("Eat sparingly, so that it lasts to the next harvest: at most, a person and day, shelled and peeled")
	for _, r := range pl.Rations {
		p.line("  %-8s %s", plain(unit.Format(r.Most, unit.Mass, sys)), r.Name)
	}
}

func (p *printer) putUps(pl *plan.Plan, sys unit.System) {
	if len(pl.PutUp) == 0 {
		return
	}
	p.line("")
	p.line("Put up (low-acid food in jars by pressure alone, by the tested time and altitude)")
	for i := 0; i < len(pl.PutUp); {
		from := pl.PutUp[i].From
		var said []string
		hours := 0.0
		for ; i < len(pl.PutUp) && pl.PutUp[i].From == from; i++ {
			u := &pl.PutUp[i]
			said = append(said, fmt.Sprintf("%s %s %s", plain(unit.Format(u.Kg, unit.Mass, sys)), u.Food, u.How))
			hours += u.Hours
		}
		p.wrap(fmt.Sprintf("  %-7s ", plain(from.Short())), fmt.Sprintf("%s; %.0f h", strings.Join(said, ", "), hours))
	}
}

func (p *printer) works(pl *plan.Plan, sys unit.System) {
	p.line("")
	p.line("Hours of beds, picking, watering and putting up, and water to the beds, by fortnight")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "  from\thours\tto give\twater\t \n")
	for _, w := range pl.Works {
		litres := 0.0
		for _, l := range w.Water {
			litres += l
		}
		fmt.Fprintf(tw, "  %s\t%.0f\t%.0f\t%s\t \n", plain(w.From.Short()), w.Hours, w.Free, plain(unit.Format(litres, unit.Volume, sys)))
	}
	p.flush(tw)
}

func (p *printer) limits(pl *plan.Plan, sys unit.System) {
	if len(pl.Limits) == 0 {
		return
	}
	p.line("")
	p.line("What more would be worth, found by planning again (days of the household's food)")
	for _, l := range pl.Limits {
		more := plain(unit.Format(l.More.Amount, l.More.Measure, sys))
		if l.More.Per != "" {
			more += " a " + l.More.Per
		}
		p.wrap("- ", fmt.Sprintf("%s more, %s: %.1f days", more, l.Name, l.Worth))
	}
}
