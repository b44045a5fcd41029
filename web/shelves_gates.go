package web

import (
	"math"
	"slices"
	"sync"

	"evenstead/engine"
	"evenstead/reckon"
)

// deedGate is where something that lies here may go today, by which rule.
type deedGate struct {
	Lead  string   // where it may go
	Shut  string   // where it may not; empty for nowhere
	Why   string   // there
	Told  string   // what else must be so; empty when nothing
	Rules []string // each with its source
}

// gatesOnce keeps the gates of a state's ground, asked when they are first shown.
type gatesOnce struct {
	once  sync.Once
	plots []engine.PlotGate
	heaps []engine.HeapGate
	held  []engine.HeldPlot
	err   error
}

func (g *gatesOnce) of(p *engine.Past) *gatesOnce {
	g.once.Do(func() {
		if g.plots, g.err = p.PlotGates(); g.err != nil {
			return
		}
		if g.heaps, g.err = p.HeapGates(); g.err == nil {
			g.held, g.err = p.Held()
		}
	})
	return g
}

// of begins a gate with what it is of.
func (g *deedGate) of(what string) *deedGate {
	if g != nil {
		g.Lead = what + " " + g.Lead
	}
	return g
}

// plotsNamed is how many plots a gate names before it counts the rest.
const plotsNamed = 8

// gateOf tells where a deed, by its name, may be done today; nil when the
// household has nothing of it.
func (s *standing) gateOf(deed string) *deedGate {
	g := s.snap.gates.of(s.snap.Past)
	var open, shut []string
	var first *engine.PlotGate
	out := &deedGate{}
	for i := range g.plots {
		p := &g.plots[i]
		if p.Deed.String() != deed {
			continue
		}
		if p.Allowed {
			open, out.Told = append(open, p.Plot), p.Told
		} else {
			if first == nil {
				first = p
			}
			shut = append(shut, p.Plot)
		}
		if rule := s.say("gate.rule", sentenced(p.Rule), p.Source); !slices.Contains(out.Rules, rule) {
			out.Rules = append(out.Rules, rule)
		}
	}
	if len(open)+len(shut) == 0 {
		return nil
	}
	out.Lead = s.say("deed.nowhere")
	if len(open) > 0 {
		out.Lead = s.say("deed.open", s.few(open))
	}
	if first != nil {
		out.Shut, out.Why = s.say("deed.shut", s.few(shut)), sentenced(first.Plot+": "+first.Why)
	}
	out.Told = sentenced(out.Told)
	return out
}

// few lists names, the rest by their number.
func (s *standing) few(names []string) string {
	if len(names) <= plotsNamed {
		return s.words.list(names)
	}
	return s.words.list(append(slices.Clone(names[:plotsNamed]), s.say("deed.more", count(len(names)-plotsNamed))))
}

// heapLines tell how far the readings of each heap meet the rules of heat.
func (s *standing) heapLines() (out []string) {
	for _, h := range s.snap.gates.of(s.snap.Past).heaps {
		if h.Readings == 0 {
			continue
		}
		met := 0
		for _, r := range h.Rules {
			if r.Allowed {
				met++
			}
		}
		out = append(out, s.say("heap.heat", upperFirst(h.Name), count(h.Readings), s.warmth(h.Highest), count(met), count(len(h.Rules))))
	}
	return out
}

// heldLine is ground that something went on lately, and waits for its picking.
type heldLine struct{ Lead, Rest, Early string }

const mostHeld = 12

func (s *standing) held() (out []heldLine) {
	g := s.snap.gates.of(s.snap.Past)
	for _, h := range g.held {
		if h.Free <= s.snap.Today && len(h.Early) == 0 || len(out) == mostHeld {
			continue
		}
		l := heldLine{Lead: s.say("held.lead", upperFirst(h.Plot), h.What, s.date(h.On)), Rest: s.say("held.free", s.date(h.Free), h.Rule, h.Source)}
		if h.Reason != "" {
			l.Early = s.say("held.reason", h.Reason)
		}
		if len(h.Early) > 0 {
			l.Early += " " + s.say("held.early", s.date(h.Early[0]))
		}
		out = append(out, l)
	}
	return out
}

// feeding tells what to feed the digester today for tomorrow's cooking.
func (s *standing) feeding() []string {
	f, ok, err := s.snap.Past.FeedToday(s.now, s.snap.Tables)
	d := s.now.Digester
	if !ok || err != nil || !d.Ripe {
		return nil
	}
	lines := []string{s.say("feed.today", s.amount(f.Kg, "kg"), s.amount(f.Wanted, "L"), count(engine.MealsADay), s.amount(f.Most, "kg")),
		s.say("feed.bag", count(int(math.Round(f.Minutes))))}
	if f.Short > 1 {
		lines = append(lines, s.say("feed.short", s.amount(f.Short, "L")))
	}
	if f.Load > f.Limit {
		lines = append(lines, s.say("feed.over", s.amount(d.Feed, "kg"), s.words.decimals(f.Load, 2), s.words.decimals(f.Limit, 2)))
	}
	return lines
}

// loopRows are the loops of the year ahead in figures that add up, carbon with them.
func (s *standing) loopRows() []ringRow {
	o := s.snap.Outlook
	if o == nil {
		return nil
	}
	var all []engine.Balance
	for i := range o.Loops {
		all = append(all, reckon.BalanceOf(&o.Loops[i]))
	}
	if c, ok := reckon.Carbon(all, reckon.UsualMix); ok {
		all = append(all, c)
	}
	return s.rings(all)
}
