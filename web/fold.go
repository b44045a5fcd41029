package web

import (
	"sort"

	"evenstead/engine"
)

// outsides are the nodes that a material comes from or is lost to; what enters
// them is not followed further.
var outsides = map[string]bool{"sky": true, "air": true, "deep ground": true, "trade": true, "wild land": true}

// A turn names the two ends of a material's belt: the house, and the place its
// leavings come back to. Nodes that end the material's way besides the outsides
// are listed in ends: water that reaches the soil is used, and a harvest begins
// at the plants.
type turn struct {
	far  string
	ends []string
}

var turns = map[string]turn{
	"water":      {"tanks", []string{"soil", "plants"}},
	"energy":     {"digester", []string{"plants", "soil"}},
	"nitrogen":   {far: "soil"},
	"phosphorus": {far: "soil"},
	"potassium":  {far: "soil"},
	"carbon":     {far: "soil"},
}

// A part is an amount that joins or leaves a belt, and the node it comes from or
// goes to. Kept tells that the node itself held it: its stock fell or rose.
type part struct {
	node   string
	kept   bool
	amount float64
}

// A folded loop is a flow network drawn down to two ends. All between them is
// traced through in proportion to the flows, so that in = out at every step:
// Round + sum(Joins) - sum(Leaves) = Into, and Into less Lost = Round.
type folded struct {
	Far    string
	Round  float64 // what comes from the house and back to it
	Into   float64 // what the house takes: the household's need as it was met
	Joins  []part
	Leaves []part // on the way to the house
	Lost   []part // on the way back
}

// Share is the part of the house's intake that has come round, 0..1.
func (f folded) Share() float64 { return clamp(f.Round/f.Into, 0, 1) }

// network holds the flows of a loop while it is folded.
type network struct {
	names   []string
	flow    [][]float64
	in, out []float64
	stop    []bool // traced to here and no further
}

// fold draws a network down to a belt; ok is false when the material has no belt
// or nothing reaches the house.
func fold(l *engine.LoopOutlook) (f folded, ok bool) {
	t, ok := turns[l.Material]
	if !ok {
		return f, false
	}
	n := newNetwork(l, t)
	house, far := n.find("house"), n.find(t.far)
	if house < 0 || far < 0 || n.in[house] <= 0 {
		return f, false
	}
	return n.belt(house, far), true
}

func newNetwork(l *engine.LoopOutlook, t turn) *network {
	k := len(l.Nodes)
	n := &network{names: l.Nodes, flow: make([][]float64, k), in: make([]float64, k), out: make([]float64, k), stop: make([]bool, k)}
	for i, name := range l.Nodes {
		n.flow[i] = make([]float64, k)
		n.stop[i] = outsides[name] || name == "house" || name == t.far
		for _, end := range t.ends {
			n.stop[i] = n.stop[i] || name == end
		}
	}
	for _, fl := range l.Flows {
		if fl.From >= 0 && fl.From < k && fl.To >= 0 && fl.To < k && fl.From != fl.To && fl.Amount > 0 {
			n.flow[fl.From][fl.To] += fl.Amount
			n.out[fl.From] += fl.Amount
			n.in[fl.To] += fl.Amount
		}
	}
	return n
}

func (n *network) find(name string) int {
	for i, have := range n.names {
		if have == name {
			return i
		}
	}
	return -1
}

// trace follows an outflow until it reaches a node where tracing stops, or is
// kept by a node whose stock rises. It splits by the shares of what leaves.
func (n *network) trace(start []float64) (reached, kept []float64) {
	reached, kept = make([]float64, len(n.names)), make([]float64, len(n.names))
	moving := start
	for range 400 {
		next, left := make([]float64, len(n.names)), 0.0
		for i, a := range moving {
			if a <= 0 {
				continue
			}
			if n.stop[i] {
				reached[i] += a
				continue
			}
			through := max(n.in[i], n.out[i])
			for j, fl := range n.flow[i] {
				next[j] += a * fl / through
			}
			kept[i] += a * (through - n.out[i]) / through
			left += a
		}
		if moving = next; left == 0 {
			break
		}
	}
	return reached, kept
}

// belt traces from both ends and from every source.
func (n *network) belt(house, far int) folded {
	f := folded{Far: n.names[far]}
	back, keptBack := n.trace(n.flow[house])
	forth, keptForth := n.trace(n.flow[far])
	f.Round = back[far] + back[house]
	f.Into = back[house] + forth[house]
	f.Lost = n.parts(back, keptBack, house, far)
	f.Leaves = n.parts(forth, keptForth, house, far)
	balance := back[far] + forth[far] - n.sum(forth, keptForth)
	for i := range n.names {
		if i == house || i == far {
			continue
		}
		reached := n.fromSource(i)
		f.Into += reached[house]
		balance += reached[far]
		if a := reached[house] + reached[far]; a > 0 {
			f.Joins = append(f.Joins, part{n.names[i], !n.stop[i], a})
		}
	}
	f.settle(balance, n.in[house]-n.out[house], n.names[house])
	return f
}

// fromSource traces what a node brings in: all it sends when tracing stops
// there, else what its own stock gives up.
func (n *network) fromSource(i int) []float64 {
	start := make([]float64, len(n.names))
	if n.stop[i] {
		copy(start, n.flow[i])
	} else {
		start[i] = max(0, n.out[i]-n.in[i])
	}
	reached, _ := n.trace(start)
	return reached
}

// settle books what the far end gained or gave up of its stock, and what the
// house kept, so that the belt closes.
func (f *folded) settle(farGain, houseGain float64, house string) {
	if farGain > 0 {
		f.Leaves = append(f.Leaves, part{f.Far, true, farGain})
	} else if farGain < 0 {
		f.Joins = append(f.Joins, part{f.Far, true, -farGain})
	}
	if houseGain > 0 {
		f.Lost = append(f.Lost, part{house, true, houseGain})
	}
}

func (n *network) parts(reached, kept []float64, house, far int) []part {
	var list []part
	for i, name := range n.names {
		if reached[i] > 0 && i != house && i != far {
			list = append(list, part{name, false, reached[i]})
		}
		if kept[i] > 0 {
			list = append(list, part{name, true, kept[i]})
		}
	}
	return list
}

func (n *network) sum(lists ...[]float64) float64 {
	all := 0.0
	for _, l := range lists {
		for _, a := range l {
			all += a
		}
	}
	return all
}

// foremostParts keeps the largest parts and adds the rest up under one name.
func foremostParts(list []part, most int, least float64) []part {
	sorted := append([]part{}, list...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].amount > sorted[j].amount })
	var kept []part
	other := part{node: "other"}
	for i, p := range sorted {
		if p.amount < least {
			continue
		}
		if i < most-1 || i == most-1 && i == len(sorted)-1 {
			kept = append(kept, p)
		} else {
			other.amount += p.amount
		}
	}
	if other.amount > 0 {
		kept = append(kept, other)
	}
	return kept
}
