package plan

import (
	"context"
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/weather"
)

// realise runs what was laid through the whole engine, with its tanks, hours and
// heaps, over the members the plan learned from, and brings each sowing to what
// it then gives in the year planned for: so that the plan's table is the
// forecast's.
func (p *Plan) realise(ctx context.Context, a *Ask, list []laid) error {
	few := *a.Members
	few.Members = few.Members[:min(learn, len(few.Members))]
	m, res, err := p.runLaid(ctx, a, &few)
	if err != nil {
		return err
	}
	if m, res, err = p.loopsTried(ctx, a, &few, m, res); err != nil {
		return err
	}
	if err := p.ration(ctx, a, res); err != nil {
		return err
	}
	year, err := m.LoopYear(ctx, &few, fewLearn)
	if err != nil {
		return err
	}
	p.years.runs(round{fetched: p.loops.fetched, year: year})
	p.years.capRations(p.Rations)
	got, area := p.years.gave(res), map[sown]float64{}
	for _, l := range list {
		w := &p.years.sowings[l.of[0]]
		area[sown{w.crop.ID, w.day, w.on}] += l.area
	}
	for j := range p.years.sowings {
		w := &p.years.sowings[j]
		k := sown{w.crop.ID, w.day, w.on}
		if kg, ok := got[k]; ok && area[k] > 0 && w.total > 0 {
			w.scale(quantile(kg, p.Risk) / area[k] / w.total)
			w.own, w.gap = [3]float64{}, [3]float64{} // it is fed as the heaps feed it
		}
	}
	return nil
}

// runLaid runs the stead with what was laid and the loops as chosen.
func (p *Plan) runLaid(ctx context.Context, a *Ask, few *weather.Ensemble) (*engine.Model, *engine.Result, error) {
	opt := a.Options
	opt.Report = nil
	m, err := engine.Prepare(p.withPlantings(a.Stead, a.Tables), a.Tables, opt)
	if err != nil {
		return nil, nil, fmt.Errorf("the beds as laid: %w", err)
	}
	res, err := m.Run(ctx, few, opt)
	return m, res, err
}

// loopsTried runs each thing that the programme chose to do otherwise, one after the
// other, and keeps to it where the years learned from fare better.
func (p *Plan) loopsTried(ctx context.Context, a *Ask, few *weather.Ensemble, m *engine.Model, res *engine.Result) (*engine.Model, *engine.Result, error) {
	p.loops = p.chosen.asItIs(a.Stead)
	least := p.years.burden(res.Outlook())
	for _, next := range p.chosen.changes(p.loops) {
		was := p.loops
		p.loops = next(was)
		then, ran, err := p.runLaid(ctx, a, few)
		if err != nil {
			return nil, nil, err
		}
		b := p.years.burden(ran.Outlook())
		if b >= least-leastLighter {
			p.loops = was
			continue
		}
		m, res, least = then, ran, b
	}
	return m, res, nil
}

// leastLighter is the burden that running a loop otherwise must take away.
const leastLighter = 0.02

// sown tells all pieces of a sowing from every other.
type sown struct {
	crop string
	day  day.Day
	on   int
}

// gave sums what the stands of a run gave by sowing, kg by member.
func (y *years) gave(res *engine.Result) map[sown][]float64 {
	got := map[sown][]float64{}
	for _, s := range res.StandKg() {
		k := sown{s.Crop, s.Sown, y.groundOf(s.Plot)}
		if got[k] == nil {
			got[k] = make([]float64, len(s.Kg))
		}
		for i, kg := range s.Kg {
			got[k][i] += kg
		}
	}
	return got
}

func quantile(v []float64, q float64) float64 {
	s := slices.Sorted(slices.Values(v))
	at := q * float64(len(s)-1)
	i := int(at)
	if i+1 >= len(s) {
		return s[len(s)-1]
	}
	return s[i] + (at-float64(i))*(s[i+1]-s[i])
}

// groundOf is the ground that a bed belongs to; -1: none.
func (y *years) groundOf(bed string) int {
	for g := range y.grounds {
		for _, b := range y.grounds[g].beds {
			if y.beds[b].Name == bed {
				return g
			}
		}
	}
	return -1
}
