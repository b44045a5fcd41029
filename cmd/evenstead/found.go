package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/unit"
)

// found prints what the book shows: what was found against the reckoning, what
// the place has taught, how old the knowledge is, and what to count next.
func (p *printer) found(o *engine.Outlook, sys unit.System) {
	f := o.Found
	if f == nil {
		return
	}
	p.section("Entries that can't be reckoned with", f.Refused)
	p.drifts(f.Drifts, sys)
	p.learned(f.Learned)
	p.seen(o, sys)
	p.asks(f.Ask, sys)
}

// stock writes an amount of a store.
func stock(v float64, u string, sys unit.System) string {
	if u == "L" {
		return plain(unit.Format(v, unit.Volume, sys))
	}
	return plain(unit.Format(v, unit.Mass, sys))
}

func (p *printer) drifts(list []engine.Drift, sys unit.System) {
	if len(list) == 0 {
		return
	}
	p.line("")
	p.line("Found against reckoned, the last of each")
	for _, d := range list {
		more := "as reckoned"
		switch {
		case d.Found < d.Reckoned && d.Likely != "":
			more = stock(d.Reckoned-d.Found, d.Unit, sys) + " less"
		case d.Found > d.Reckoned && d.Likely != "":
			more = stock(d.Found-d.Reckoned, d.Unit, sys) + " more"
		}
		said := fmt.Sprintf("%s, %s: found %s, reckoned %s, %s after %s", d.Store, plain(d.Day.Short()),
			stock(d.Found, d.Unit, sys), stock(d.Reckoned, d.Unit, sys), more, counted(d.Days, "day", "days"))
		if d.Likely != "" {
			said += ". It may be: " + d.Likely
		}
		p.wrap("- ", said+".")
	}
}

func (p *printer) learned(list []engine.Learned) {
	if len(list) == 0 {
		return
	}
	p.line("")
	p.line("What the place has taught (factors on the handbook; four in five lie between; --handbook leaves them out)")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "\tbefore\tnow\tfrom\t")
	for _, l := range list {
		fmt.Fprintf(tw, "%s\t%s\t%s\t%d\t %s\n", fill(l.What, 34), factorRange(l.Prior), factorRange(l.Result), l.Evidence, l.Weight)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

func factorRange(f [3]float64) string { return fmt.Sprintf("%.2f (%.2f-%.2f)", f[1], f[0], f[2]) }

// mostSeen is how many stores of one age are named.
const mostSeen = 14

// seen tells how old the knowledge of each store is, the fullest first.
func (p *printer) seen(o *engine.Outlook, sys unit.System) {
	byAge := map[string][]string{}
	var order []string
	for _, s := range o.Found.Seen {
		key := s.How + " " + plain(s.Day.Short())
		if byAge[key] == nil {
			order = append(order, key)
		}
		byAge[key] = append(byAge[key], lowerFirst(s.Store)+" "+stock(s.Now, s.Unit, sys))
	}
	if len(order) == 0 {
		return
	}
	p.line("")
	p.line("What stands on what (reckoned for today)")
	for _, key := range order {
		list, more := byAge[key], ""
		if len(list) > mostSeen {
			more = fmt.Sprintf(" and %d more", len(list)-mostSeen)
			list = list[:mostSeen]
		}
		p.wrap("- ", key+": "+strings.Join(list, ", ")+more+".")
	}
}

// mostAsks is how many looks are proposed.
const mostAsks = 6

func (p *printer) asks(list []engine.Question, sys unit.System) {
	if list == nil {
		return
	}
	p.line("")
	if len(list) == 0 {
		p.wrap("", "A look would settle nothing today: what the outlook hangs on was counted or dipped lately.")
		return
	}
	p.line("What a look would settle, the most telling first")
	for i, q := range list[:min(mostAsks, len(list))] {
		verb := "count"
		if q.Unit == "L" {
			verb = "dip"
		}
		p.wrap(fmt.Sprintf("%d. ", i+1), fmt.Sprintf("%s %s: it may be %s or %s; by that, %s.", verb, lowerFirst(q.Store),
			stock(q.Low, q.Unit, sys), stock(q.High, q.Unit, sys), q.Said))
	}
}

// told prints what an entry moves: what people weigh by in one line; nutrients and
// energy that go along, and what plants made of air, left out.
func (p *printer) told(t *engine.Told, sys unit.System) {
	if t.Remark != "" {
		p.wrap("  ", t.Remark+".")
	}
	var said []string
	for _, f := range t.Flows {
		if s := flow(f, sys); s != "" {
			said = append(said, s)
		}
	}
	if len(said) > 0 {
		p.wrap("  moves ", strings.Join(said, "; "))
	}
}

// flow writes one flow: "1.45 kg plants to larder".
func flow(f engine.Flow, sys unit.System) string {
	kind, ok := map[string]unit.Kind{"L": unit.Volume, "kg": unit.Mass, "h": unit.Time, "MJ": unit.Energy}[f.Unit]
	if !ok || f.To == "plants" || f.Material == "energy" && f.To != "fuel" && f.From != "fuel" || f.Material == "phosphorus" || f.Material == "potassium" || f.Material == "nitrogen" {
		return ""
	}
	amount := plain(unit.Format(f.Amount, kind, sys))
	if f.Material == "water" || f.Material == "energy" {
		amount += " " + f.Material
	}
	return fmt.Sprintf("%s from %s to %s", amount, f.From, f.To)
}
