package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/fertility"
	"evenstead/hearth"
	"evenstead/unit"
)

var gateCommand = command{"gate", "[flags]", "tells every gate of safety today: drums, heaps, and what may go on which ground, by which rule", showGates}

// A gateSheet is every gate of a stead on a day.
type gateSheet struct {
	Stead string
	Today day.Day
	Drums []engine.DrumGate
	Heaps []engine.HeapGate
	Plots []engine.PlotGate
	Held  []engine.HeldPlot
	Own   []string
	Said  []string
	Grey  []string // salt of washing water
	sys   unit.System
}

func showGates(ctx context.Context, a *args) error {
	var q at
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	us := a.flags.Bool("us", false, "print US units")
	ec := a.flags.Float64("ec", 0, "salinity of the washing water as measured, `dS/m`")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if !(*ec >= 0 && *ec <= 50) {
		return given(fmt.Errorf("--ec %g: dS/m from nought to 50; the sea has about 50", *ec))
	}
	if len(words) > 0 {
		return given(errors.New("gate takes no words; for another file: evenstead gate --stead FILE"))
	}
	today, err := q.day()
	if err != nil {
		return err
	}
	return q.with(ctx, func(h *hearth.Home) error {
		past, err := h.Replay(ctx, hearth.Ask{Today: today})
		if err != nil {
			return blame(err)
		}
		sheet, err := gatesOf(past, system(*us))
		if err != nil {
			return err
		}
		tab, err := data.Load()
		if err != nil {
			return err
		}
		sheet.Grey = greyGround(past, tab, *ec)
		return sheet.write(&printer{w: a.out})
	})
}

func gatesOf(p *engine.Past, sys unit.System) (*gateSheet, error) {
	g := &gateSheet{Stead: p.Stead.Name, Today: p.Today, Said: fertility.Cautions(), sys: sys}
	for _, r := range p.Stead.Rules {
		g.Own = append(g.Own, fmt.Sprintf("%s: %s (%s)", r.Kind, r.Text, r.Source))
	}
	var err error
	if g.Drums, err = p.DrumGates(); err != nil {
		return nil, blame(err)
	}
	if g.Heaps, err = p.HeapGates(); err != nil {
		return nil, blame(err)
	}
	if g.Plots, err = p.PlotGates(); err != nil {
		return nil, blame(err)
	}
	g.Held, err = p.Held()
	return g, blame(err)
}

func (g *gateSheet) write(p *printer) error {
	p.line("%s: gates on %s", g.Stead, plain(g.Today.Long()))
	g.drums(p)
	g.heaps(p)
	g.plots(p)
	g.held(p)
	p.section("Washing water and salt", g.Grey)
	p.section("The household's own rules, of which the stricter wins", g.Own)
	p.section("Cautions", g.Said)
	return p.err
}

func (g *gateSheet) drums(p *printer) {
	var lines []string
	for _, d := range g.Drums {
		state := "in use"
		if d.Closed != 0 {
			state = "shut on " + d.Closed.Long()
		}
		lines = append(lines, fmt.Sprintf("drum %d, %s: %s", d.Number, state, ruled(d.Ruling)))
	}
	p.section("Drums: may they be opened?", lines)
}

// ruled is a ruling in a sentence, with its rule and source.
func ruled(r fertility.Ruling) string {
	by := fmt.Sprintf(" Rule: %s (%s).", r.Rule, r.Source)
	switch {
	case r.Allowed:
		return "yes." + by
	case r.From != 0:
		return fmt.Sprintf("not before %s: %s.", r.From.Long(), r.Why) + by
	}
	return "no: " + r.Why + "." + by
}

func (g *gateSheet) heaps(p *printer) {
	for _, h := range g.Heaps {
		var lines []string
		for _, r := range h.Rules {
			met := "not met: " + r.Why
			if r.Allowed {
				met = "met by the readings"
			}
			lines = append(lines, fmt.Sprintf("%s: %s. Rule: %s (%s).", strings.ReplaceAll(r.ID, "-", " "), met, r.Rule, r.Source))
		}
		p.section(fmt.Sprintf("Heat of %s: %s, the highest %s", h.Name, counted(h.Readings, "reading", "readings"), unit.Format(h.Highest, unit.Temperature, g.sys)), lines)
	}
}

// plots prints a line for every group of plots that the gates treat alike.
func (g *gateSheet) plots(p *printer) {
	deeds, names, rows := g.rows()
	if len(rows) == 0 {
		return
	}
	p.line("")
	p.line("Ground: what may go on it today (a date is the last day before the next picking)")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', 0)
	heads := []string{"", "decides", "picked from"}
	for _, d := range deeds {
		heads = append(heads, short(d))
	}
	fmt.Fprintln(tw, "  "+strings.Join(heads, "\t"))
	for _, key := range rows {
		fmt.Fprintln(tw, "  "+someNames(names[key])+"\t"+key)
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
	p.section("Rules of the ground", g.groundRules(deeds))
}

// rows groups the plots by what their gates say, in the order of the plots.
func (g *gateSheet) rows() (deeds []fertility.Deed, names map[string][]string, keys []string) {
	names = map[string][]string{}
	var plots []string
	by := map[string]map[fertility.Deed]engine.PlotGate{}
	for _, r := range g.Plots {
		if by[r.Plot] == nil {
			by[r.Plot] = map[fertility.Deed]engine.PlotGate{}
			plots = append(plots, r.Plot)
		}
		by[r.Plot][r.Deed] = r
		if !slices.Contains(deeds, r.Deed) {
			deeds = append(deeds, r.Deed)
		}
	}
	for _, plot := range plots {
		first := by[plot][deeds[0]]
		cells := []string{crops(first), dayOr(first.Harvest, "not known")}
		for _, d := range deeds {
			cells = append(cells, gateCell(by[plot][d]))
		}
		key := strings.Join(cells, "\t")
		if names[key] == nil {
			keys = append(keys, key)
		}
		names[key] = append(names[key], plot)
	}
	return deeds, names, keys
}

func crops(r engine.PlotGate) string {
	if r.Crop == "" {
		return "nothing known"
	}
	return fmt.Sprintf("%s (%s)", r.Crop, r.Kind)
}

func dayOr(d day.Day, none string) string {
	if d == 0 {
		return none
	}
	return plain(d.Long())
}

func gateCell(r engine.PlotGate) string {
	switch {
	case !r.Allowed:
		return "no"
	case r.Until != 0:
		return "to " + plain(r.Until.Short())
	}
	return "yes"
}

// short names the columns.
func short(d fertility.Deed) string {
	switch d {
	case fertility.SpreadDrum:
		return "rested drum"
	case fertility.DigManure:
		return "manure"
	case fertility.PourGreywater:
		return "washing water"
	case fertility.SpreadAsh:
		return "ash"
	}
	return d.String()
}

// someNames lists a few names and counts the rest.
func someNames(list []string) string {
	const few = 4
	if len(list) > few {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:few-1], ", "), len(list)-few+1)
	}
	return strings.Join(list, ", ")
}

// groundRules are the rules that decided, each once, with why they said no.
func (g *gateSheet) groundRules(deeds []fertility.Deed) []string {
	var out []string
	whys := map[string][]string{}
	for _, d := range deeds {
		for _, r := range g.Plots {
			if r.Deed != d {
				continue
			}
			line := fmt.Sprintf("%s: %s (%s)", short(d), r.Rule, r.Source)
			if !slices.Contains(out, line) {
				out = append(out, line)
			}
			for _, why := range []string{r.Why, r.Told} {
				if why != "" && !slices.Contains(whys[line], why) {
					whys[line] = append(whys[line], why)
				}
			}
		}
	}
	for i, line := range out {
		if w := whys[line]; w != nil {
			out[i] += ": " + strings.Join(w, "; ")
		}
	}
	return out
}

func (g *gateSheet) held(p *printer) {
	var lines []string
	for _, h := range g.Held {
		line := fmt.Sprintf("%s: %s on %s; picked from %s on (%s; %s)", h.Plot, h.What, h.On.Long(), h.Free.Long(), h.Rule, h.Source)
		if h.Free <= h.On {
			line = fmt.Sprintf("%s: %s on %s (%s; %s)", h.Plot, h.What, h.On.Long(), h.Rule, h.Source)
		}
		for _, d := range h.Early {
			line += fmt.Sprintf(". TOO SOON: picked on %s, %d days before: cook it well or leave it", d.Long(), int(math.Round(float64(h.Free-d))))
		}
		if h.Reason != "" {
			line += ". Done against the gate, with the reason: " + h.Reason
		}
		lines = append(lines, line)
	}
	p.section("What was spread, and from when it may be picked", lines)
}
