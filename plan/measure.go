package plan

import (
	"context"
	"fmt"

	"evenstead/engine"
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

// Measure runs the garden as it is and the plan's over an ensemble and keeps the
// figures. The members should be others than the plan learned from, and
// opt.Seed another seed.
func (p *Plan) Measure(ctx context.Context, a *Ask, unseen *weather.Ensemble, opt engine.Options) error {
	opt.Report = nil
	now, err := engine.Prepare(a.Stead, a.Tables, opt)
	if err != nil {
		return fmt.Errorf("the garden as it is: %w", err)
	}
	then, err := engine.Prepare(p.st, a.Tables, opt)
	if err != nil {
		return fmt.Errorf("the garden as planned: %w", err)
	}
	then.LuckOf(now)
	m := &Measured{Members: len(unseen.Members), Seed: opt.Seed}
	a.tell("running today's garden over years the plan has not seen")
	if m.Before, err = figures(ctx, now, unseen, opt); err != nil {
		return err
	}
	a.tell("running the planned garden over the same years")
	if m.After, err = figures(ctx, then, unseen, opt); err != nil {
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
