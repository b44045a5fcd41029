package reckon

import "evenstead/engine"

// BalanceOf is a loop of the outlook as a balance, its stores' changes being what
// came into them less what left.
func BalanceOf(l *engine.LoopOutlook) engine.Balance {
	b := engine.Balance{Material: l.Material, Unit: l.Unit}
	gain := make([]float64, len(l.Nodes))
	for _, f := range l.Flows {
		gain[f.To] += f.Amount
		gain[f.From] -= f.Amount
		b.Flows = append(b.Flows, engine.AccountFlow{From: l.Nodes[f.From], To: l.Nodes[f.To], Part: engine.Part{Filled: f.Amount}})
	}
	outside := map[string]bool{}
	for _, n := range engine.OutsideNodes() {
		outside[n] = true
	}
	for i, n := range l.Nodes {
		if !outside[n] {
			b.Stores = append(b.Stores, engine.StoreChange{Node: n, After: gain[i]})
		}
	}
	return b
}

// A Ring is one material's loop in five figures that add up: what came in is what
// left, was lost and was laid by.
type Ring struct {
	Closure
	In, Round, Out, Lost float64
}

// RingOf sums up a balance; what only passes from outside to outside is left out.
func RingOf(b *engine.Balance) Ring {
	r := Ring{Closure: ClosureOf(b)}
	outside, lost := map[string]bool{}, map[string]bool{}
	for _, n := range engine.OutsideNodes() {
		outside[n] = true
	}
	for _, n := range engine.LostNodes() {
		lost[n] = true
	}
	for _, f := range b.Flows {
		switch v := f.All(); {
		case outside[f.From] && outside[f.To]: // past the stead
		case outside[f.From]:
			r.In += v
		case lost[f.To]:
			r.Lost += v
		case outside[f.To]:
			r.Out += v
		default:
			r.Round += v
		}
	}
	return r
}

// Off is how far the five figures are from adding up, as a share of what came in.
func (r Ring) Off() float64 {
	if r.In == 0 {
		return 0
	}
	return (r.In - r.Out - r.Lost - r.Stored) / r.In
}
