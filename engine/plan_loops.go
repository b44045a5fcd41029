package engine

import (
	"context"
	"slices"

	"evenstead/weather"
)

// Carriers bring nutrients back to the ground. Drums go to trees, and are none.
var Carriers = [...]string{"urine", "digestate", "compost"}

var carrierWays = [len(Carriers)]int{byUrine, byDigestate, byCompost}

// A LoopYear is what fire, digester, toilet and heap do from today on in a run of
// the whole stead, by whole fortnights: the mean of its members.
type LoopYear struct {
	Cookers []FrameCooker
	Asked   []float64 // MJ in the pot
	Other   []float64 // of it, for drinks and water that is boiled
	Short   float64   // share of the heat asked that lacks
	Fetch   float64   // h a day that fetching for the digester takes
	Wet     float64   // L of water a day that the digester is fed with,
	WetFrom int       // from this group of tanks; -1: there is no digester
	// ToBeds is the N, P and K that each of Carriers brings to beds, kg a year; what
	// trees have of it is not in it.
	ToBeds [len(Carriers)][3]float64
}

// A FrameCooker is a kind of fire, its fuel and what it gave.
type FrameCooker struct {
	Kind    string
	Heat    []float64 // MJ in the pot that it gave, by fortnight
	MJ      float64   // in the pot from a kg of its fuel; 0: it burns none that is stored
	Stock   float64   // kg of fuel today
	PerYear float64   // kg of it that come in
	May     []float64 // share of a fortnight's days on which it may burn
}

// LoopYear runs the first n members.
func (m *Model) LoopYear(ctx context.Context, ens *weather.Ensemble, n int) (*LoopYear, error) {
	y := m.newLoopYear()
	n = min(n, len(ens.Members))
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		y.run(m, i, ens.Members[i], 1/float64(n))
	}
	return y, nil
}

func (m *Model) newLoopYear() *LoopYear {
	slots := (m.days - m.skip) / Fortnight
	y := &LoopYear{Asked: make([]float64, slots), Other: make([]float64, slots)}
	y.WetFrom = -1
	if m.dig != nil {
		y.Fetch, y.Wet, y.WetFrom = m.dig.haulHours, m.dig.water, m.dig.group
	}
	for i := range m.cookers {
		c := &m.cookers[i]
		if y.cooker(c.kind) != nil {
			continue // the ledger knows fires by their fuel
		}
		f := FrameCooker{Kind: c.kind, Heat: make([]float64, slots), May: make([]float64, slots)}
		switch c.kind {
		case "wood":
			f.MJ, f.PerYear = m.woodMJ*c.efficiency, m.woodYear
		case "bottle":
			f.MJ, f.PerYear = m.bottleMJ*c.efficiency, m.bottleYear
		}
		for d := range slots * Fortnight {
			if !(c.open && m.cal[m.skip+d].fireBan) {
				f.May[d/Fortnight] += 1.0 / Fortnight
			}
		}
		y.Cookers = append(y.Cookers, f)
	}
	return y
}

func (y *LoopYear) cooker(kind string) *FrameCooker {
	i := slices.IndexFunc(y.Cookers, func(c FrameCooker) bool { return c.Kind == kind })
	if i < 0 {
		return nil
	}
	return &y.Cookers[i]
}

// fuelOf is the kg of a stored fuel.
func (s *state) fuelOf(kind string) float64 {
	switch kind {
	case "wood":
		return s.wood
	case "bottle":
		return s.bottle
	}
	return 0
}

// run adds a share of what one member does.
func (y *LoopYear) run(m *Model, i int, w weather.Member, share float64) {
	r := newRunner(m)
	r.beds = newBedBook(m)
	r.begin(i, w)
	var fires heatAccount
	asked, got := 0.0, 0.0
	for d := range m.days {
		r.hear(d)
		if d == m.skip {
			r.beds.clear()
			for i := range y.Cookers {
				y.Cookers[i].Stock += share * r.s.fuelOf(y.Cookers[i].Kind)
			}
		}
		fires.morning(r)
		boiled := r.boiled
		r.step(d)
		slot := (d - m.skip) / Fortnight
		if d < m.skip || slot >= len(y.Asked) {
			continue
		}
		ask := r.s.want[m.after(needCooking)] - fires.mark[0]
		had := r.s.got[m.after(needCooking)] - fires.mark[1]
		asked, got = asked+ask, got+had
		y.Asked[slot] += share * ask
		y.Other[slot] += share * (r.boiled - boiled + drinksMJ*m.cal[d].heads)
		y.fires(slot, had, fires.burnt(r), share)
	}
	if asked > 0 {
		y.Short += share * (1 - got/asked)
	}
	y.give(m, r.beds, share*365/float64(m.days-m.skip))
}

// fires adds what each cooker gave of a day's heat.
func (y *LoopYear) fires(slot int, had float64, by [len(fuelKinds)]float64, share float64) {
	rest := had
	for i, mj := range by {
		rest -= mj
		if c := y.cooker(fuelKinds[i]); c != nil {
			c.Heat[slot] += share * mj
		}
	}
	if c := y.cooker("electric"); c != nil { // the freezer's current is not heat for the pot
		c.Heat[slot] += share * max(0, rest)
	}
}

// give adds what a book of beds says that came to beds.
func (y *LoopYear) give(m *Model, b *bedBook, share float64) {
	for p := range b.moved {
		if m.plots[p].tree {
			continue
		}
		for c, way := range carrierWays {
			has := b.moved[p][way].times(share)
			for k, kg := range [3]float64{has.n, has.p, has.k} {
				y.ToBeds[c][k] += kg
			}
		}
	}
}
