package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/unit"
)

// textWidth is the widest line of running text.
const textWidth = 88

// writeText prints an outlook for a terminal.
func writeText(w io.Writer, o *engine.Outlook, sys unit.System) error {
	p := &printer{w: w}
	p.line("%s, %s, %d days ahead", o.Stead, plain(o.Today.Long()), o.Days)
	p.line("")
	p.wrap("", o.Verdict.Lead+" "+o.Verdict.Rest)
	if o.Verdict.Why != "" {
		p.wrap("", "Why: "+o.Verdict.Why)
	}
	p.needs(o)
	p.causes(o)
	p.stores(o, sys)
	p.crops(o, sys)
	p.found(o, sys)
	p.line("")
	p.wrap("", fmt.Sprintf("Reckoned over %d possible years with seed %d.", o.Members, o.Seed))
	for _, s := range o.Weather {
		p.wrap("- ", s)
	}
	p.section("Taken for what was not written", o.Defaults)
	p.section("Cautions", o.Cautions)
	return p.err
}

// printer keeps the first error of a run of writes.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, v ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", v...)
	}
}

// plain replaces no-break spaces, which some terminals show as boxes.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// wrap prints running text with a lead on its first line.
func (p *printer) wrap(lead, text string) {
	indent := strings.Repeat(" ", len(lead))
	row := lead
	for _, word := range strings.Fields(plain(text)) {
		if len(row)+1+len(word) > textWidth && strings.TrimSpace(row) != "" && row != lead {
			p.line("%s", strings.TrimRight(row, " "))
			row = indent
		}
		if row != lead && row != indent {
			row += " "
		}
		row += word
	}
	if strings.TrimSpace(row) != "" {
		p.line("%s", row)
	}
}

func (p *printer) section(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.line("")
	p.line("%s", title)
	for _, s := range lines {
		p.wrap("- ", s)
	}
}

func list(w io.Writer, title string, n int, at func(int) string) {
	p := &printer{w: w}
	lines := make([]string, n)
	for i := range lines {
		lines[i] = at(i)
	}
	p.section(title, lines)
}

// needs prints the days of cover and the weekly strip of every need that is
// shown first or ever at risk; the quiet nutrients follow in a sentence.
func (p *printer) needs(o *engine.Outlook) {
	p.line("")
	p.line("Days of cover, and the chance of going short week by week")
	p.line("  (blank under 1 in 20, . to 1 in 5, : to half, # more; sure: 9 years of 10)")
	tw := tabwriter.NewWriter(p, 0, 4, 1, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tsure\tmiddle\tlong\tfirst short\t ")
	var quiet, dark, always []string
	for i := range o.Needs {
		n := &o.Needs[i]
		switch {
		case !n.Known:
			dark = append(dark, lowerFirst(n.Name))
		case !n.Main && n.Long < 28 && n.ShareShort > 0.9:
			always = append(always, lowerFirst(n.Name))
		case !n.Main && n.ShareShort < 0.05:
			quiet = append(quiet, lowerFirst(n.Name))
		default:
			first := "-"
			if n.FirstShort != nil {
				first = plain(n.FirstShort.Short())
			}
			fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t|%s|\n", fill(label(n), 34), days(n.Sure, n.Open[0]), days(n.Middle, n.Open[1]), days(n.Long, n.Open[2]), first, strip(n.Short))
		}
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	if len(always) > 0 {
		p.wrap("", "Short from the first weeks in 9 years of 10 or more: "+strings.Join(always, ", ")+".")
	}
	if len(quiet) > 0 {
		p.wrap("", "Held in more than 19 years of 20: "+strings.Join(quiet, ", ")+".")
	}
	if len(dark) > 0 {
		p.wrap("", "Not known, for want of figures: "+strings.Join(dark, ", ")+".")
	}
}

// Write lets a table print through the printer.
func (p *printer) Write(b []byte) (int, error) {
	if _, err := io.WriteString(p.w, plain(string(b))); err != nil {
		return 0, err
	}
	return len(b), nil
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func label(n *engine.NeedOutlook) string {
	if tag := n.Tag(); tag != "" {
		return n.Name + " [" + tag + "]"
	}
	return n.Name
}

// fill pads to a width so that a right-aligned table keeps its first column left.
func fill(s string, width int) string {
	if n := len([]rune(s)); n < width {
		return s + strings.Repeat(" ", width-n)
	}
	return s
}

func days(n int, open bool) string {
	if open {
		return fmt.Sprintf("%d+", n)
	}
	return fmt.Sprint(n)
}

// strip draws a chance a week as one character.
func strip(chance []float64) string {
	var b strings.Builder
	for _, c := range chance {
		switch {
		case c >= 0.5:
			b.WriteByte('#')
		case c >= 0.2:
			b.WriteByte(':')
		case c >= 0.05:
			b.WriteByte('.')
		default:
			b.WriteByte(' ')
		}
	}
	return b.String()
}

func (p *printer) causes(o *engine.Outlook) {
	var said []string
	for i := range o.Needs {
		if n := &o.Needs[i]; n.Cause != "" {
			said = append(said, n.Name+": "+n.Cause)
		}
	}
	p.section("What stands behind it", said)
}

func (p *printer) stores(o *engine.Outlook, sys unit.System) {
	p.line("")
	p.line("Stores: now, and the lowest week in the middle year and in 1 year of 10")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	for i := range o.Stores {
		s := &o.Stores[i]
		mid, low := s.Weeks[0].P50, s.Weeks[0].P10
		for _, b := range s.Weeks {
			mid, low = min(mid, b.P50), min(low, b.P10)
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t \n", fill(s.Name, 34), amount(s.Now, s.Unit, sys), amount(mid, s.Unit, sys), amount(low, s.Unit, sys))
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

// kinds of amount by the unit an outlook gives them in.
var kindOf = map[string]unit.Kind{"L": unit.Volume, "kg": unit.Mass, "mm": unit.Depth, "MJ": unit.Energy}

func amount(v float64, in string, sys unit.System) string {
	if k, known := kindOf[in]; known {
		return unit.Format(v, k, sys)
	}
	return fmt.Sprintf("%.0f %s", v, in)
}

func (p *printer) crops(o *engine.Outlook, sys unit.System) {
	if len(o.Crops) == 0 {
		return
	}
	p.line("")
	p.line("Harvest: 1 year of 10 brings less than, the middle year, 1 of 10 more than")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	for _, c := range o.Crops {
		first := "-"
		if c.First != nil {
			first = c.First.Short()
		}
		mass := func(kg float64) string { return unit.Format(kg, unit.Mass, sys) }
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\t \n", fill(c.Name, 26), mass(c.Kg.P10), mass(c.Kg.P50), mass(c.Kg.P90), first, c.Cause)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.seedKept(o, sys)
}

// seedKept tells what of the harvest is set aside, the most first.
func (p *printer) seedKept(o *engine.Outlook, sys unit.System) {
	kept := slices.DeleteFunc(slices.Clone(o.Crops), func(c engine.CropOutlook) bool { return c.Seed < engine.LeastSeed })
	if len(kept) == 0 {
		return
	}
	slices.SortStableFunc(kept, func(a, b engine.CropOutlook) int { return cmp.Compare(b.Seed, a.Seed) })
	said := make([]string, len(kept))
	for i, c := range kept {
		said[i] = plain(unit.Format(c.Seed, unit.Mass, sys)) + " " + c.Name
	}
	p.wrap("  ", "Of it, in the middle year, seed to sow the same ground again: "+strings.Join(said, "; ")+".")
}
