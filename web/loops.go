package web

import (
	"html/template"

	"evenstead/engine"
)

// loopView is one material going round: a sentence, a drawing where its network
// folds to a belt, and every flow in figures.
type loopView struct {
	label
	Lead, Rest string
	Belt       template.HTML
	Unit       string
	Rows       []flowRow
}

// flowRow is one flow in words.
type flowRow struct{ From, To, Amount string }

// loopGroup is the need whose hue a material takes.
var loopGroup = map[string]string{
	"water": engine.Water, "energy": engine.Heat, "mass": engine.Food,
	"nitrogen": engine.Soil, "phosphorus": engine.Soil, "potassium": engine.Soil, "carbon": engine.Soil,
}

const (
	upperMost  = 4    // branches above a belt that still leave room for their words
	lowerMost  = 3    // below
	leastShare = 0.01 // of the intake; less is left to the table
)

// aheadLoops are the materials drawn on Ahead; the others stand with the stores.
var aheadLoops = map[string]bool{"water": true, "energy": true, "nitrogen": true}

// loopViews are the loops of a screen; those without a drawing come last.
func (v *view) loopViews(ahead bool) []loopView {
	var drawn, bare []loopView
	for i := range v.o.Loops {
		if aheadLoops[v.o.Loops[i].Material] != ahead {
			continue
		}
		if l := v.loopView(&v.o.Loops[i], ids("l", i)); l.Belt != "" {
			drawn = append(drawn, l)
		} else {
			bare = append(bare, l)
		}
	}
	return append(drawn, bare...)
}

func (v *view) loopView(l *engine.LoopOutlook, id string) loopView {
	m := v.opt.measure(l.Unit)
	view := loopView{label: v.label(loopGroup[l.Material], v.words.or("material."+l.Material, l.Material)), Unit: m.unit}
	for _, f := range l.Flows {
		if f.From < 0 || f.From >= len(l.Nodes) || f.To < 0 || f.To >= len(l.Nodes) {
			continue
		}
		view.Rows = append(view.Rows, flowRow{v.nodeName("", l.Nodes[f.From]), v.nodeName("", l.Nodes[f.To]), v.words.figure(f.Amount * m.per)})
	}
	if f, ok := fold(l); ok {
		round, into := figure(f.Round*m.per), v.opt.amount(f.Into, l.Unit)
		if view.Lead = v.words.say("loop.lead", round, into); round == "0" {
			view.Lead = v.words.say("loop.none", into)
		}
		rest := "loop.rest"
		if v.summed {
			rest = "loop.rest.sum"
		}
		view.Rest = v.words.say(rest, m.unit, count(v.o.Days))
		b := v.belt(l, f, id)
		if b.narrowed() {
			view.Rest += " " + v.words.say("loop.narrow")
		}
		view.Belt = b.draw()
	}
	return view
}

func (v *view) belt(l *engine.LoopOutlook, f folded, id string) belt {
	least := leastShare * f.Into
	joins := foremostParts(f.Joins, upperMost-min(1, len(f.Leaves)), least)
	leaves := foremostParts(f.Leaves, max(1, upperMost-len(joins)), least)
	return belt{
		id:    id,
		title: v.words.say("belt.title", v.words.or("material."+l.Material, l.Material)),
		desc:  v.words.say("belt.desc", v.opt.amount(f.Round, l.Unit), v.opt.amount(f.Into, l.Unit)),
		far:   v.nodeName(l.Material, f.Far), house: v.nodeName(l.Material, "house"),
		round: f.Round, into: f.Into,
		joins: v.branches(joins, l, "from"), leaves: v.branches(leaves, l, "to"),
		lost: v.branches(foremostParts(f.Lost, lowerMost, least), l, "to"),
	}
}

func (v *view) branches(parts []part, l *engine.LoopOutlook, way string) []branch {
	list := make([]branch, len(parts))
	per := v.opt.measure(l.Unit).per
	for i, p := range parts {
		name := v.nodeName(l.Material+"."+way, p.node)
		if p.kept {
			name = v.words.say("kept."+way, v.nodeName("", p.node))
		}
		list[i] = branch{name, v.words.figure(p.amount * per), p.amount}
	}
	return list
}

// nodeName says a node as its material meets it ("rain" for water from the sky),
// or by its plain name.
func (v *view) nodeName(material, node string) string {
	plain := v.words.name("node", node, node)
	if material == "" {
		return plain
	}
	return v.words.or("node."+material+"."+node, plain)
}
