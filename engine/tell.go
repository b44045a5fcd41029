package engine

import (
	"cmp"
	"fmt"
	"slices"

	"evenstead/book"
	"evenstead/day"
	"evenstead/unit"
)

// tell is what entry i did, or why it did nothing.
func (p *Past) tell(i int, k *kept) Told {
	e := &p.entries[i]
	t := Told{Entry: e.ID.String(), Flows: k.told[i], Err: p.refusals[e.ID]}
	if t.Err != nil {
		return t
	}
	switch {
	case p.end.assumed[e.ID] != "":
		t.Remark = p.end.assumed[e.ID]
	case e.Body.Form == "jarred" && e.Body.Measure == unit.Number:
		t.Remark = "a jar is taken as a quart, " + unit.Format(usualJar, unit.Volume, unit.Metric)
	case e.Kind == book.Worked:
		t.Flows = []Flow{{"hours", "h", cmp.Or(e.Who, "household"), cmp.Or(e.Body.Extra["for"], e.Body.What, "the place"), e.Body.Amount}}
	case e.Kind == book.Rain:
		t.Remark = "it stands for the rain of that day at the roofs and on the ground"
	case e.Kind == book.Away || e.Kind == book.Ill:
		t.Remark = "the household's need and hours of those days follow it"
	case e.Kind == book.Weighed:
		t.Remark = "the need for food follows it"
	case e.Kind == book.Sown || e.Kind == book.SetOut:
		t.Remark = p.stood(e)
	case e.Kind == book.Picked && len(t.Flows) > 0 && !from(t.Flows, atPlants):
		t.Remark = "no stand of it is known to the reckoning there: if one grows, note when it was sown"
	case e.Kind == book.Closed || e.Kind == book.Opened:
		t.Remark = p.rests(e)
	case e.Kind == book.PutUp && len(t.Flows) == 0:
		t.Remark = "it is laid by as it is: a count tells where it lies"
	case len(t.Flows) == 0:
		t.Remark = "kept in the book; it moves nothing that is reckoned"
	}
	return t
}

// from tells whether any flow comes from a store.
func from(flows []Flow, at node) bool {
	return slices.ContainsFunc(flows, func(f Flow) bool { return f.From == nodeNames[at] })
}

// rests says until when a drum stays shut.
func (p *Past) rests(e *book.Entry) string {
	if i, ok := p.end.drumOf(e.Body.Where); ok {
		if d := p.ended.drums[i]; d.closed != notClosed {
			return "it rests until " + p.end.toilet.opens(p.end.start+day.Day(d.closed)).Long() + " at the least"
		}
	}
	return "kept in the book; it moves nothing that is reckoned"
}

// stood says which stand a sowing made.
func (p *Past) stood(e *book.Entry) string {
	m := p.end
	on := int(e.Day - m.start)
	q := slices.IndexFunc(m.plantings, func(g planting) bool {
		return (g.crop.ID == e.Body.What || g.crop.Food == e.Body.What) && (g.sow == on || g.tree && g.sow >= on)
	})
	if q < 0 {
		return "no bed is named, so no stand is reckoned: note it again as set out, with the bed"
	}
	g := &m.plantings[q]
	return fmt.Sprintf("it stands on %s of %s", unit.Format(g.area, unit.Area, unit.Metric), m.plots[g.plot].name)
}

// Refused lists why entries can't be reckoned with, a line each; empty when all can.
func (p *Past) Refused() []string {
	var out []string
	for i := range p.entries {
		if err := p.refusals[p.entries[i].ID]; err != nil {
			out = append(out, fmt.Sprintf("%s: %s: %v", p.entries[i].Day, p.entries[i].Sentence(unit.Metric), err))
		}
	}
	return out
}
