package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/reckon"
	"evenstead/unit"
)

// writeReckoning prints a reckoning for a terminal or for paper.
func writeReckoning(w io.Writer, r *reckon.Report, sys unit.System) error {
	p := &printer{w: w}
	p.line("Reckoning of %s, %s to %s", r.Stead, plain(r.From.Long()), plain(r.To.Long()))
	p.line("%s, %s person-days of the household.", counted(int(r.To-r.From)+1, "day", "days"), plain(unit.Format(r.Heads, unit.Number, sys)))
	p.completeness(r)
	p.carried("Food: what of it this place carried (grown and gathered)", r.Food, r.Shares, sys)
	p.origins(r.Food[1], sys)
	p.carried("Water: what of it fell on the roofs or came from a well here", r.Water, r.Shares[len(r.Food):], sys)
	p.cooking(r, sys)
	p.nutrients(r, sys)
	p.loopsClosed(r)
	p.hours(r)
	p.notedDown(r, sys)
	p.exceptions(r)
	p.then(r, sys)
	p.section("How to read it", []string{
		"Carried is the share of what was used that came from the place. Low counts only what the book tells; high also counts all that the engine filled in or nobody wrote down. The truth, as far as entries and description are true, lies between.",
		"Food of several origins is taken to be eaten in the proportions in which it lies in store. What lay there on the first day counts for neither side, and stands apart.",
		"Of life is what the place carried of the need, where less was used than needed: what people eat elsewhere, or go without, no place here carried.",
		"Written is the share of the use itself that the book tells. Eating, drawing and cooking that nobody wrote down are the engine's, and the shares are of those.",
		"A day without an entry is not a day without work: the engine's reckoning stands in, with middling luck and the usual year's weather where none is known.",
		fmt.Sprintf("The book this rests on: %s, digest %s; evenstead verify --digest tells whether it was changed since.", chained(r.Book), r.Book.Sum),
	})
	return p.err
}

// completeness says first how much of what follows was written down.
func (p *printer) completeness(r *reckon.Report) {
	energy, came := r.Shares[1], "none"
	if energy.Came != nil {
		came = inHundred(energy.Came)
	}
	days := int(r.To-r.From) + 1
	p.section("How much of it is written", []string{
		fmt.Sprintf("%s on %d of %d days are reckoned with.", counted(r.Entries, "entry", "entries"), r.DaysTold, days),
		fmt.Sprintf("Of the food energy eaten, the book tells the eating of %s, and the book or the first day's description the coming of %s; the engine filled in the rest.", inHundred(energy.Written), came),
		fmt.Sprintf("Rain was measured on %d of %d days.", r.RainKnown, days),
	})
}

// inHundred prints a share of one, a dash where it is not known. What rounds to
// all or nothing without being it is told so.
func inHundred(v *float64) string {
	switch {
	case v == nil:
		return "-"
	case *v < 1 && *v > 0.995:
		return "over 99 %"
	case *v > 0 && *v < 0.005:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100**v)
}

func (p *printer) carried(title string, uses []engine.Use, shares []reckon.Share, sys unit.System) {
	p.line("")
	p.line("%s", title)
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("", 26)+"\tused\tof need\tcarried\tlow\thigh\tof life\twritten\t ")
	var dark []string
	for i := range uses {
		s := &shares[i]
		if s.Carried == nil {
			dark = append(dark, uses[i].Name)
			continue
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t \n", fill(s.Name, 26), used(uses[i].Used.All(), uses[i].Unit, sys),
			inHundred(s.OfNeed), inHundred(s.Carried), inHundred(s.Low), inHundred(s.High), inHundred(s.Life), inHundred(s.Written))
	}
	p.flush(tw)
	if len(dark) > 0 {
		p.wrap("  ", "None was used of: "+strings.Join(dark, ", ")+".")
	}
}

// origins tells where the food energy came from.
func (p *printer) origins(u engine.Use, sys unit.System) {
	p.line("")
	p.line("Food energy by where it came from")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("", 26)+"\tin all\twritten\tfilled in\t ")
	for o, part := range u.By {
		if part.All() > 0 {
			fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t \n", fill(engine.Origin(o).String(), 26), amount(part.All(), u.Unit, sys), amount(part.Told, u.Unit, sys), amount(part.Filled, u.Unit, sys))
		}
	}
	p.flush(tw)
}

var cookedWith = map[string]string{"sun": "sun", "biogas": "own gas", "wood": "wood", "bottle": "bottled gas", "electric": "current"}

func (p *printer) cooking(r *reckon.Report, sys unit.System) {
	p.line("")
	sum, own := 0.0, 0.0
	for _, f := range r.Heat {
		sum += f.Heat.All()
		if f.Carried {
			own += f.Heat.All()
		}
	}
	if sum == 0 {
		p.line("Cooking heat: none is reckoned; describe a [[cooker]] to see it.")
		return
	}
	ratio, low, high := own/sum, 0.0, 0.0
	told := 0.0
	for _, f := range r.Heat {
		told += f.Heat.Told / sum
		high += f.Heat.Filled / sum
		if f.Carried {
			low += f.Heat.Told / sum
		}
	}
	high += low
	p.wrap("", fmt.Sprintf("Cooking heat in the pot: %s of %s asked; sun, own gas and wood gave %s of it, by what the book tells between %s and %s. The book tells %s.",
		amount(sum, "MJ", sys), amount(r.HeatNeed, "MJ", sys), inHundred(&ratio), inHundred(&low), inHundred(&high), inHundred(&told)))
	for _, f := range r.Heat {
		p.line("  %s %s", fill(cookedWith[f.Kind], 14), plain(amount(f.Heat.All(), "MJ", sys)))
	}
}

// nutrients tells what crossed the bounds of the place in N, P and K.
func (p *printer) nutrients(r *reckon.Report, sys unit.System) {
	p.line("")
	p.line("Over the bounds of the place: what came in and what left")
	for i := range r.Loops {
		c := &r.Loops[i]
		switch c.Material {
		case "nitrogen", "phosphorus", "potassium":
			p.wrap("  "+fill(c.Material, 12), fmt.Sprintf("in: %s; out: %s; the stores gained %s.", passed(c.Brought, c.Unit, sys), passed(c.Left, c.Unit, sys), signed(c.Stored, c.Unit, sys)))
		}
	}
}

func signed(v float64, in string, sys unit.System) string {
	if v < 0 {
		return "minus " + amount(-v, in, sys)
	}
	return amount(v, in, sys)
}

func passed(list []reckon.Moved, in string, sys unit.System) string {
	var said []string
	for _, m := range list {
		said = append(said, m.Node+" "+amount(m.All(), in, sys))
	}
	if len(said) == 0 {
		return "nothing"
	}
	return strings.Join(said, ", ")
}

func (p *printer) loopsClosed(r *reckon.Report) {
	p.line("")
	p.line("How far the loops close (Finn 1976: share of the flow that has been there before)")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "  "+fill("", 14)+"\tcycled\tstores on the way\t ")
	for i := range r.Loops {
		c := &r.Loops[i]
		if c.Why != "" {
			fmt.Fprintf(tw, "  %s\t-\t-\t \n", fill(c.Material, 14))
			continue
		}
		fmt.Fprintf(tw, "  %s\t%.1f %%\t%.2f\t \n", fill(c.Material, 14), 100*c.Cycling, c.Path)
	}
	p.flush(tw)
	p.wrap("  ", "Carbon is reckoned from food energy, mass and fuel by published shares of carbon (docs/reckoning.md).")
}

func (p *printer) hours(r *reckon.Report) {
	said := []string{fmt.Sprintf("The work asked %.0f h by the reckoning, of which %.0f could be had; %.0f h of it were owed for house, ground and water.",
		r.Hours.Asked, r.Hours.Had, r.Hours.Owed)}
	for _, k := range slices.Sorted(maps.Keys(r.Hours.Written)) {
		said = append(said, fmt.Sprintf("Written: %.1f h for %s.", r.Hours.Written[k], k))
	}
	if len(r.Hours.Written) == 0 {
		said = append(said, "No hours are written.")
	}
	p.section("Hours", said)
}

// notedDown tells money, rubbish and fuel.
func (p *printer) notedDown(r *reckon.Report, sys unit.System) {
	n := &r.Noted
	var said []string
	sum, blind := 0.0, 0
	for _, s := range n.Spent {
		sum += s.Amount
		if s.Amount == 0 {
			blind++
		}
	}
	if len(n.Spent) > 0 {
		said = append(said, fmt.Sprintf("Money named in the book: %.2f over %s%s. What was bought without a price is not in it.", sum, counted(len(n.Spent), "entry", "entries"), unread(blind)))
	} else {
		said = append(said, "No entry names a price, so no money is told.")
	}
	for _, w := range n.Rubbish {
		said = append(said, fmt.Sprintf("Rubbish sent off: %s of %s.", unit.Format(w.Amount, unit.Kind(w.Measure), sys), w.What))
	}
	if len(n.Rubbish) == 0 {
		said = append(said, "No rubbish is written.")
	}
	if n.Wood > 0 || n.Bottled > 0 {
		said = append(said, fmt.Sprintf("Fuel brought in by the book: %s of wood, %s of bottled gas.", amount(n.Wood, "kg", sys), amount(n.Bottled, "kg", sys)))
	}
	p.section("Money and rubbish, by the book", said)
}

func unread(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" (%d with no number in it)", n)
}
