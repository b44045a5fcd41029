package main

import (
	"context"
	"fmt"
	"time"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/plan"
	"evenstead/stead"
	"evenstead/unit"
)

// sizeMembers is how many years a size is reckoned from.
const sizeMembers = 60

// size finds how much land and water the people of a description would need. The
// year of one that is not lived at yet begins in autumn, so that what is sown then
// comes in.
func (q *planAsk) size(ctx context.Context, words []string, step func(string)) (*plan.Size, error) {
	var z *plan.Size
	q.members = sizeMembers
	err := q.reckoned(ctx, words, func(r *hearth.Reckoning) error {
		if r.Past == nil && q.today == "" {
			var err error
			if r, err = q.inAutumn(r.Options.Today); err != nil {
				return err
			}
		}
		ask := plan.Of(r)
		ask.Risk, ask.Report = q.risk, step
		var err error
		if z, err = plan.SizeUp(ctx, ask); err != nil {
			return given(err)
		}
		return nil
	})
	return z, err
}

// inAutumn readies the description over a year from the first of October, or of
// April where that is autumn, next to a day.
func (q *planAsk) inAutumn(after day.Day) (*hearth.Reckoning, error) {
	st, err := stead.Read(q.name, q.text)
	if err != nil {
		return nil, given(err)
	}
	month := time.October
	if st.Place.Latitude < 0 {
		month = time.April
	}
	begin := day.Of(after.Year(), month, 1)
	if begin < after {
		begin = day.Of(after.Year()+1, month, 1)
	}
	ask, err := q.ask(time.Now)
	if err != nil {
		return nil, err
	}
	st.Stay.From, st.Stay.To, ask.Today = begin, 0, begin
	r, err := hearth.Plain(st, ask)
	if err != nil {
		return nil, given(err)
	}
	return r, nil
}

// size prints it.
func (p *printer) size(z *plan.Size, sys unit.System) {
	p.line("%s: land and water for %.1f at the table", z.Stead, z.People)
	p.line("")
	p.wrap("", fmt.Sprintf("The least ground in beds that covers food energy and protein, or fat as well, in a year that %s is poorer than, from %s: fed as needed, put up without a freezer, the store at its end that of its beginning. No animals, trees or wild food are counted, nor what is described of ground, roofs and tanks.",
		oneIn(z.Risk), plain(z.Today.Long())))
	p.line("")
	p.line("  %-36s %25s %25s", "", "by the rain alone", "watered")
	p.line("  %-36s %12s %12s %12s %12s", "", "", "with fat", "", "with fat")
	p.sizes(z, "beds", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Ground, unit.Area })
	p.sizes(z, "beds for each", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Each, unit.Area })
	p.sizes(z, "water to beds in the year", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Water, unit.Volume })
	p.sizes(z, "and in the thirstiest two weeks", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Most, unit.Volume })
	p.sizes(z, "roof that catches it and the house's", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Roof, unit.Area })
	p.sizes(z, "tank under it", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Tank, unit.Volume })
	p.sizes(z, "tank under twice the roof", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Tank2, unit.Volume })
	for k, name := range [3]string{"nitrogen", "phosphorus", "potassium"} {
		p.sizes(z, name+" to bring", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Bring[k], unit.Mass })
	}
	p.sizes(z, "seed kept off the harvest", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Seed, unit.Mass })
	p.sizes(z, "hours a week, mean", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Hours, unit.Number })
	p.sizes(z, "and in the busiest", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Busiest, unit.Number })
	p.sizes(z, "food in store at most", sys, func(w *plan.Sized) (float64, unit.Kind) { return w.Room, unit.Volume })
	p.line("")
	for i := range z.Ways {
		p.sizeCrops(&z.Ways[i], sys)
	}
	p.wrap("", fmt.Sprintf("The house is taken to draw %s a year; in that year %s of rain falls. Paths and edges add a third to a half of the beds, and ground that rests adds to that (common practice). A whole diet of plants lacks vitamin B12 and little else is sure: gaps are for a clinician.",
		plain(unit.Format(z.House, unit.Volume, sys)), plain(unit.Format(z.Rain, unit.Depth, sys))))
}

// sizes prints one row of the ways.
func (p *printer) sizes(z *plan.Size, name string, sys unit.System, of func(*plan.Sized) (float64, unit.Kind)) {
	said := []any{name}
	for i := range z.Ways {
		v, kind := of(&z.Ways[i])
		text := "-"
		switch {
		case kind == unit.Number:
			text = fmt.Sprintf("%.0f", v)
		case v > 0:
			text = plain(unit.Format(v, kind, sys))
		}
		said = append(said, text)
	}
	p.line("  %-36s %12s %12s %12s %12s", said...)
}

// mostCrops is how many crops of a way are told.
const mostCrops = 7

func (p *printer) sizeCrops(w *plan.Sized, sys unit.System) {
	name := "By the rain alone"
	if w.Watered {
		name = "Watered"
	}
	if w.WithFat {
		name += ", with fat"
	}
	said := name + ": "
	for i, l := range w.Crops[:min(mostCrops, len(w.Crops))] {
		if i > 0 {
			said += ", "
		}
		said += plain(unit.Format(l.Area, unit.Area, sys)) + " " + l.Name
	}
	if len(w.Crops) == 0 {
		said += "nothing grows here"
	}
	if w.Lacking > 0.5 || w.Protein > 0.5 {
		said += fmt.Sprintf("; still lacking %.0f days of food energy and %.0f of protein, which no ground brings", w.Lacking, w.Protein)
	}
	if w.WithFat && w.Fat > 0.5 {
		said += fmt.Sprintf("; fat for %.0f days still lacks", w.Fat)
	}
	p.wrap("", said+".")
}
