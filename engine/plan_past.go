package engine

import (
	"maps"

	"evenstead/data"
	"evenstead/day"
)

// A SownStand is what the book says was sown or set out on a plot.
type SownStand struct {
	Plot string
	Crop *data.Crop
	Area float64 // m2; 0: not said
	Day  day.Day
}

// Sown lists every sowing of the book, in its order.
func (p *Past) Sown() []SownStand {
	if p.end == nil {
		return nil
	}
	step := *p
	step.refusals = maps.Clone(p.refusals) // what can't be read is told elsewhere
	b := &builder{m: p.end, st: p.Stead, tab: p.tab, past: &step}
	var out []SownStand
	for _, x := range b.bookSowings() {
		out = append(out, SownStand{p.end.plots[x.plot].name, x.crop, x.area, x.day})
	}
	return out
}
