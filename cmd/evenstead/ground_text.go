package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"evenstead/unit"
)

// writeGround prints the ground for a terminal.
func writeGround(w io.Writer, b *groundBook, sys unit.System) error {
	p := &printer{w: w}
	p.line("%s: the ground, %s; frost may take a sowing in %.0f %% of years", b.Stead, plain(b.Today.Long()), 100*b.Risk)
	if b.Crop != nil {
		p.cropCard(b.Crop, sys)
	} else {
		p.nightList(b, sys)
		p.dryList(b, sys)
		p.stands(b, sys)
		p.bedYear(b)
		p.groundWater(b, sys)
		p.section("Rotation", b.Clashes)
		p.offers(b, sys)
		p.seedTable(b, sys)
	}
	p.section("Reckoned from", b.From)
	p.section("Taken for what was not written", b.Defaults)
	return p.err
}

func (p *printer) flush(tw *tabwriter.Writer) {
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

func (p *printer) stands(b *groundBook, sys unit.System) {
	p.line("")
	p.line("What stands: sown, its window here, first and last harvest of a usual year")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	for _, s := range b.Stands {
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\n", s.Bed, s.Crop, unit.Format(s.Area, unit.Area, sys), orDash(s.Sown),
			windowCell(&s), orDash(s.First), orDash(s.Last))
	}
	p.flush(tw)
	var odd []string
	for _, s := range b.Stands {
		switch {
		case s.Fits:
		case len(s.Windows) == 0:
			odd = append(odd, fmt.Sprintf("%s: %s has no window here: %s.", s.Bed, s.Crop, s.Why))
		default:
			odd = append(odd, fmt.Sprintf("%s: %s sown %s lies outside its window (%s): %s.", s.Bed, s.Crop, s.Sown, strings.Join(s.Windows, "; "), s.Why))
		}
	}
	p.section("Outside their windows", odd)
}

func windowCell(s *groundStand) string {
	switch {
	case s.c.HarvestFrom != 0:
		return "perennial"
	case len(s.Windows) == 0:
		return "none"
	}
	return strings.Join(s.Windows, "; ")
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// bedYear draws the year, a row a stand.
func (p *printer) bedYear(b *groundBook) {
	p.line("")
	p.line("The year by half months: s sown or set, - growing, H harvest")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	fmt.Fprintf(tw, "  \t\tJ F M A M J J A S O N D \n")
	for i := range b.Stands {
		s := &b.Stands[i]
		fmt.Fprintf(tw, "  %s\t%s\t%s\n", s.Bed, s.Crop, s.yearRow())
	}
	p.flush(tw)
}

// groundWater prints what each stand asks in a usual year, and the sum by month.
func (p *printer) groundWater(b *groundBook, sys unit.System) {
	depth := func(mm float64) string { return unit.Format(mm, unit.Depth, sys) }
	p.line("")
	p.line("What a usual year asks: drawn, of it from rain, to be given; carrying by can over %s; nitrogen", unit.Format(tapMetres, unit.Length, sys))
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	var months [12]float64
	var litres, minutes, n float64
	for _, s := range b.Stands {
		given := "not watered"
		if s.Watered {
			given = unit.Format(s.Litres, unit.Volume, sys)
			litres, minutes = litres+s.Litres, minutes+s.Minutes
			for m := range months {
				months[m] += s.Water[m] * s.Area
			}
		}
		n += s.N
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%.0f min\t%.0f g N\t\n", fill("  "+s.Bed+", "+s.Crop, 38), depth(total(s.ETc)), depth(total(s.Rain)),
			depth(total(s.Water)), given, s.Minutes, s.N)
	}
	p.flush(tw)
	p.wrap("", fmt.Sprintf("Watered beds in all: %s and %.1f hours of carrying a year; nitrogen asked of all ground %s.",
		unit.Format(litres, unit.Volume, sys), minutes/60, unit.Format(n/1000, unit.Mass, sys)))
	var by []string
	for m, l := range months {
		if l >= 0.5 {
			by = append(by, monthName(m)+" "+unit.Format(l, unit.Volume, sys))
		}
	}
	if len(by) > 0 {
		p.wrap("", "By month: "+strings.Join(by, ", ")+".")
	}
}

func total(v [12]float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

func monthName(m int) string {
	return []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}[m]
}

// offers tells the empty ground and what may go on it, and what nowhere fits.
func (p *printer) offers(b *groundBook, sys unit.System) {
	var beds []string
	for _, e := range b.Empty {
		said := e.Bed + " " + unit.Format(e.Area, unit.Area, sys)
		if e.Rest != "" {
			said += " (it carries " + e.Rest + ")"
		}
		beds = append(beds, said)
	}
	p.line("")
	if len(beds) == 0 {
		p.line("No ground lies empty for the coming %d days.", soonDays)
	} else {
		p.wrap("", fmt.Sprintf("Empty for the coming %d days: %s.", soonDays, strings.Join(beds, ", ")))
	}
	p.offer(b, "To sow in the coming weeks, with the first harvest of the day named", func(k *cropCard) bool { return k.Start != "set" })
	p.offer(b, "To set out as plants", func(k *cropCard) bool { return k.Start == "set" })
	var none []string
	for _, x := range b.None {
		none = append(none, strings.Join(x.Crops, ", ")+": "+x.Why+".")
	}
	p.section("No window here (evenstead ground --crop NAME tells what fits instead)", none)
}

func (p *printer) offer(b *groundBook, title string, fits func(*cropCard) bool) {
	var said []string
	for i := range b.Soon {
		k := &b.Soon[i]
		if fits(k) && k.SowNow != "" {
			said = append(said, fmt.Sprintf("%s from %s (%s)", k.Crop, k.SowNow, k.First))
		}
	}
	if len(said) > 0 {
		p.section(title, []string{strings.Join(said, ", ") + "."})
	}
}

func (p *printer) seedTable(b *groundBook, sys unit.System) {
	if len(b.Seed) == 0 {
		return
	}
	p.line("")
	p.line("Seed to keep: for the same ground next year and one failure (share of a typical harvest for one sowing)")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	for _, k := range b.Seed {
		kept := "seed"
		switch {
		case k.Stock:
			kept = "planting stock"
		case k.Life > 0:
			kept = "keeps " + yearsWord(k.Life)
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%.1f %%\t%s\t\n", fill("  "+k.Crop, 28), unit.Format(k.Area, unit.Area, sys), unit.Format(k.Grams/1000, unit.Mass, sys), 100*k.Share, kept)
	}
	p.flush(tw)
}

func yearsWord(n float64) string {
	if n == 1 {
		return "1 year"
	}
	return fmt.Sprintf("%g years", n)
}

// cropCard prints one crop.
func (p *printer) cropCard(k *cropCard, sys unit.System) {
	p.line("")
	p.line("%s (%s), %s", k.Crop, k.ID, k.Family)
	if len(k.Windows) > 0 {
		p.wrap("- ", "Window here: "+strings.Join(k.Windows, "; ")+".")
	} else {
		p.wrap("- ", "No window here: "+k.Why+".")
	}
	if len(k.Nearest) > 0 {
		p.wrap("- ", "Nearest that fit: "+strings.Join(k.Nearest, ", ")+".")
	}
	if k.SowNow != "" {
		p.wrap("- ", "In the coming weeks: from "+k.SowNow+", first harvest about "+k.First+".")
	}
	if k.RaiseDays > 0 {
		p.wrap("- ", fmt.Sprintf("Raised under cover for %.0f days before setting out.", k.RaiseDays))
	}
	if len(k.Sowings) > 1 {
		p.wrap("- ", fmt.Sprintf("For a steady supply %d sowings: %s.", len(k.Sowings), strings.Join(k.Sowings, ", ")))
	}
	p.wrap("- ", fmt.Sprintf("Its family rests %.0f years on a bed (common practice).", k.Rest))
	for _, with := range k.With {
		p.wrap("- ", "Grown with "+with+" (common practice).")
	}
	if k.SeedG > 0 {
		per := func(g float64) string { return unit.Format(g/1000, unit.ArealMass, sys) }
		p.wrap("- ", fmt.Sprintf("Seed: %s to sow; keep %s for next year and one failure.", per(k.SeedG), per(k.KeepG)))
	}
	if k.SaltFrom > 0 {
		p.wrap("- ", fmt.Sprintf("Yield falls in soil saltier than %.1f dS/m (Maas 1990): mind greywater.", k.SaltFrom))
	}
}
