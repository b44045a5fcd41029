package plan

import (
	"context"
	"fmt"

	"evenstead/data"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// Measured is what the engine makes of the plan and of the garden as it is, over
// years that the plan did not learn from, with the same luck.
type Measured struct {
	Members int     `json:"members"`
	Seed    uint64  `json:"seed"`
	Before  Figures `json:"today"` // the garden as described
	After   Figures `json:"plan"`
}

// Figures are how a garden stands over the year.
type Figures struct {
	Verdict engine.Verdict  `json:"verdict"`
	Covered float64         `json:"covered"`     // share of years in which food energy never falls short
	Met     [3]float64      `json:"energy_met"`  // share of the year's food energy: 1-in-10 low, middle, 9-in-10
	Lean    float64         `json:"lean_weeks"`  // mean weeks short of food energy
	AnyLean float64         `json:"food_weeks"`  // mean weeks short, over energy, protein and fat
	Table   float64         `json:"table_weeks"` // likewise over every nutrient of which enough is known
	Hours   float64         `json:"hours_weeks"` // mean weeks in which hours fall short
	Outlook *engine.Outlook `json:"-"`
}

// A Garden is the garden as it is, run over years that a plan is to be tried over.
type Garden struct {
	figures Figures
	model   *engine.Model
	unseen  *weather.Ensemble
	opt     engine.Options
}

// Run runs a stead's garden as it is. The members should be others than a plan
// learns from, and opt.Seed another seed.
func Run(ctx context.Context, st *stead.Stead, tab *data.Tables, unseen *weather.Ensemble, opt engine.Options) (*Garden, error) {
	opt.Report = nil
	g := &Garden{unseen: unseen, opt: opt}
	var err error
	if g.model, err = engine.Prepare(st, tab, opt); err != nil {
		return nil, fmt.Errorf("the garden as it is: %w", err)
	}
	g.figures, err = figures(ctx, g.model, unseen, opt)
	return g, err
}

// Measure runs the plan's garden over the same years, with the same luck, and
// keeps the figures of both.
func (p *Plan) Measure(ctx context.Context, a *Ask, now *Garden) error {
	tab, err := p.st.Tables(a.Tables)
	if err != nil {
		return fmt.Errorf("the garden as planned: %w", err)
	}
	then, err := engine.Prepare(p.st, tab, now.opt)
	if err != nil {
		return fmt.Errorf("the garden as planned: %w", err)
	}
	then.LuckOf(now.model)
	a.tell(running)
	m := &Measured{Members: len(now.unseen.Members), Seed: now.opt.Seed, Before: now.figures}
	if m.After, err = figures(ctx, then, now.unseen, now.opt); err != nil {
		return err
	}
	p.Measured = m
	return nil
}

func figures(ctx context.Context, m *engine.Model, ens *weather.Ensemble, opt engine.Options) (Figures, error) {
	res, err := m.Run(ctx, ens, opt)
	if err != nil {
		return Figures{}, err
	}
	o := res.Outlook()
	o.Judge()
	f := Figures{Verdict: o.Verdict, Outlook: o}
	foods, mains := 0.0, 0.0
	for i := range o.Needs {
		n := &o.Needs[i]
		weeks := 0.0
		for _, c := range n.Short {
			weeks += c
		}
		switch {
		case n.ID == "energy":
			f.Covered, f.Met, f.Lean = 1-n.ShareShort, n.Met, weeks
		case n.ID == "hours":
			f.Hours = weeks
		}
		if n.Group == engine.Food && n.Known {
			f.Table += weeks
			foods++
			if n.Main {
				f.AnyLean += weeks
				mains++
			}
		}
	}
	f.Table /= max(1, foods)
	f.AnyLean /= max(1, mains)
	return f, nil
}
