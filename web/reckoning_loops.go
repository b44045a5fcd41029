package web

import (
	"maps"
	"slices"

	"evenstead/engine"
	"evenstead/reckon"
)

// loopOf is a balance as a loop, its span's sum in the place of a mean.
func loopOf(b *engine.Balance) engine.LoopOutlook {
	l := engine.LoopOutlook{Material: b.Material, Unit: b.Unit}
	at := func(name string) int {
		i := slices.Index(l.Nodes, name)
		if i < 0 {
			i = len(l.Nodes)
			l.Nodes = append(l.Nodes, name)
		}
		return i
	}
	for _, st := range b.Stores {
		at(st.Node)
	}
	for _, f := range b.Flows {
		l.Flows = append(l.Flows, engine.LoopFlow{From: at(f.From), To: at(f.To), Amount: f.All()})
	}
	return l
}

// loops draws every material of the span that goes round, then lists the rest.
func (a *audited) loops() []loopView {
	o := engine.Outlook{Today: a.r.From, Days: int(a.r.To-a.r.From) + 1}
	for i := range a.r.Balances {
		o.Loops = append(o.Loops, loopOf(&a.r.Balances[i]))
	}
	v := a.view(&o)
	v.summed = true
	var drawn, bare []loopView
	for i := range o.Loops {
		if l := v.loopView(&o.Loops[i], ids("l", i)); l.Belt != "" {
			drawn = append(drawn, l)
		} else {
			bare = append(bare, l)
		}
	}
	return append(drawn, bare...)
}

func (a *audited) rings() []ringRow { return a.site.rings(a.r.Balances) }

// rings are loops in figures that add up: what came in is what left, was lost and
// was laid by.
func (s *site) rings(all []engine.Balance) (out []ringRow) {
	for i := range all {
		r := reckon.RingOf(&all[i])
		m := s.opt.measure(r.Unit)
		fig := func(v float64) string { return s.words.figure(v * m.per) }
		row := ringRow{Name: upperFirst(s.words.or("material."+r.Material, r.Material)) + ", " + m.unit, In: fig(r.In), Round: fig(r.Round), Out: fig(r.Out), Lost: fig(r.Lost), Stored: fig(r.Stored), Again: "–", Path: "–"}
		if r.Why == "" {
			row.Again, row.Path = share(&r.Cycling), s.words.decimals(r.Path, 1)
		}
		row.Sum = s.words.say("ring.yes")
		if off := r.Off(); off > 1e-6 || off < -1e-6 {
			row.Sum = s.words.say("ring.no", s.words.figure(100*off))
		}
		out = append(out, row)
	}
	return out
}

// passing tells what came over the bounds and left, of each nutrient and carbon.
func (a *audited) passing() (out []string) {
	for i := range a.r.Loops {
		c := &a.r.Loops[i]
		switch c.Material {
		case "nitrogen", "phosphorus", "potassium", "carbon":
			name := upperFirst(a.words.or("material."+c.Material, c.Material))
			out = append(out, a.words.say("reck.passing", name, a.moved(c.Brought, c.Unit), a.moved(c.Left, c.Unit)))
		}
	}
	return out
}

func (a *audited) moved(list []reckon.Moved, in string) string {
	var said []string
	for _, m := range list {
		said = append(said, a.words.or("node."+m.Node, m.Node)+" "+a.amount(m.All(), in))
	}
	if len(said) == 0 {
		return a.words.say("reck.nothing")
	}
	return a.words.list(said)
}

// Rows of what was planned, forecast and found that the page has room for; the
// command's JSON has all.
const (
	thenCrops  = 24
	thenStores = 24
)

func (a *audited) then() *thenPart {
	t := a.r.Then
	if t == nil {
		return nil
	}
	p := &thenPart{Said: t.Verdict.Lead + " " + t.Verdict.Rest,
		Second: a.words.say("then.second", a.words.long(t.On), count(t.Entries), count(t.Members), count(int(t.Seed)))}
	if t.Late > 0 {
		p.Second += " " + a.words.say("then.late", count(t.Late))
	}
	kg := func(v float64) string { return a.amount(v, "kg") }
	for i, c := range t.Crops {
		if i == thenCrops {
			p.MoreCrops = a.words.say("then.more", count(len(t.Crops)-i))
			break
		}
		p.Crops = append(p.Crops, thenRow{Name: upperFirst(a.words.name("food", c.Food, c.Name)), Planned: kg(c.Planned), Range: a.span(c.Range, "kg"), Middle: kg(c.Range.Middle), Told: kg(c.Found.Told), Filled: kg(c.Found.Filled)})
	}
	for _, n := range t.Needs {
		if n.Range.Low < 0.9995 || n.Found < 0.9995 {
			p.Needs = append(p.Needs, thenRow{Name: upperFirst(a.words.name("need", n.ID, n.Name)), Range: share(&n.Range.Low) + "–" + share(&n.Range.High), Middle: share(&n.Range.Middle), Found: share(&n.Found)})
		}
	}
	for _, s := range t.Stores[:min(len(t.Stores), thenStores)] {
		p.Stores = append(p.Stores, thenRow{Name: upperFirst(s.Name), Range: a.span(s.Range, s.Unit), Middle: a.amount(s.Range.Middle, s.Unit), Found: a.amount(s.Found, s.Unit)})
	}
	p.Inside = a.words.say("then.inside", count(t.Inside), count(t.Of))
	return p
}

// span writes a range in its unit.
func (a *audited) span(r reckon.Range, in string) string {
	m := a.opt.measure(in)
	return a.words.figure(r.Low*m.per) + "–" + a.words.figure(r.High*m.per)
}

func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
