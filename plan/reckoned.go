package plan

import (
	"context"
	"slices"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/weather"
)

// Of is an ask for the stead of a reckoning from its today on: what the book has
// shown is in it, and what is sown stays.
func Of(r *hearth.Reckoning) *Ask {
	a := &Ask{Stead: r.Stead, Tables: r.Tables}
	a.Members, a.Options = fromToday(r)
	return a
}

// fromToday is a reckoning's members and options of a run that begins today.
func fromToday(r *hearth.Reckoning) (*weather.Ensemble, engine.Options) {
	ens, opt := *r.Members, r.Options
	opt.Report = nil
	if r.Past == nil {
		return &ens, opt
	}
	opt.Past = r.Past.AtToday()
	lead := int(r.Past.Today - ens.Start)
	ens.Start, ens.Days = r.Past.Today, ens.Days-lead
	ens.Members = make([]weather.Member, len(r.Members.Members))
	for i := range ens.Members {
		ens.Members[i] = r.Members.Members[i].From(lead)
	}
	return &ens, opt
}

// RunUnseen runs the garden of one reckoning as it is over the later half of the
// members of another, of another seed: where there is a record, the first are its
// years as they were, which a plan may have learned from.
func RunUnseen(ctx context.Context, r, other *hearth.Reckoning) (*Garden, error) {
	ens, opt := fromToday(other)
	ens.Members = ens.Members[len(ens.Members)/2:]
	return Run(ctx, r.Stead, r.Tables, ens, opt)
}

// muchHunger is the days of food lacking from which the ways out are told unasked.
const muchHunger = 7

// Hungry tells whether food energy lacks for more than a week of the year.
func (p *Plan) Hungry() bool {
	return slices.ContainsFunc(p.Short, func(s Short) bool { return s.Nutrient == "energy_mj" && s.Days > muchHunger })
}
