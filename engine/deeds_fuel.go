package engine

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/unit"
)

// fuelStore is the stock of a fuel that is kept by weight.
func (b *builder) fuelStore(id string) (store func(*state) *float64, name string) {
	switch id {
	case "wood":
		return func(s *state) *float64 { return &s.wood }, "wood"
	case "bottle":
		return func(s *state) *float64 { return &s.bottle }, "bottled gas"
	}
	return nil, ""
}

// setFuel sets a stock of fuel to what was found.
func (r *runner) setFuel(store *float64, name string, kg float64) {
	mj := r.m.woodMJ
	if name != "wood" {
		mj = r.m.bottleMJ
	}
	was := *store
	*store = kg
	r.s.led.settle(mEnergy, atFuels, (kg-was)*mj)
	if r.kept != nil {
		r.kept.weighed(r, name, was, kg)
	}
}

func (b *builder) fuelDeed(e *book.Entry) (func(*runner), error) {
	m, what := b.m, e.Body.What
	store, name := b.fuelStore(what)
	if e.Kind == book.FuelIn {
		if store == nil || e.Body.Measure != unit.Mass {
			return nil, fmt.Errorf("fuel in is wood or bottled gas by weight: write kg or lb, found %s", what)
		}
		mj, from, quiet := m.woodMJ, atWild, &m.woodTold
		if name != "wood" {
			mj, from, quiet = m.bottleMJ, atTrade, &m.bottleTold
		}
		kg := e.Body.Amount
		b.quietly(quiet, quietYear)
		return func(r *runner) {
			*store(r.s) += kg
			r.s.led.flow(mEnergy, from, atFuels, kg*mj)
		}, nil
	}
	fuel, efficiency := b.cookerOf(what)
	if fuel < 0 {
		return nil, fmt.Errorf("no cooker for %s is described: add [[cooker]]", what)
	}
	switch {
	case what == "biogas":
		units := e.Body.Amount
		if e.Body.Measure == unit.Energy {
			units /= m.gasMJ
		}
		if e.Body.Measure == unit.Time {
			units *= b.burnerOf(what) / 24
		}
		return func(r *runner) { r.burnTold(fuel, &r.s.gas, units, m.gasMJ, efficiency) }, nil
	case store != nil:
		mj := m.woodMJ
		if name != "wood" {
			mj = m.bottleMJ
		}
		kg := e.Body.Amount
		if e.Body.Measure == unit.Energy {
			kg /= mj
		} else if e.Body.Measure != unit.Mass {
			return nil, fmt.Errorf("say how much %s by weight: kg or lb", name)
		}
		return func(r *runner) { r.burnTold(fuel, store(r.s), kg, mj, efficiency) }, nil
	case e.Body.Measure == unit.Energy:
		heat := e.Body.Amount * efficiency
		return func(r *runner) { r.cookTold(fuel, heat, efficiency) }, nil
	}
	return nil, nil // hours of sun or current: the engine reckons the heat itself
}

// cookTold counts useful heat from the sun or the cord.
func (r *runner) cookTold(fuel int, heat, efficiency float64) {
	from := atTrade
	if fuelKinds[fuel] == "sun" {
		from, efficiency = atSky, 1
	}
	r.s.led.flow(mEnergy, from, atHouse, heat/efficiency)
	r.s.led.flow(mEnergy, atHouse, atAir, heat/efficiency)
	r.said.cooked += heat
	r.said.burnt[fuel] = true
}

func (b *builder) cookerOf(kind string) (fuel int, efficiency float64) {
	for _, c := range b.m.cookers {
		if c.kind == kind {
			return c.fuel, c.efficiency
		}
	}
	return -1, 0
}

func (b *builder) burnerOf(kind string) float64 {
	i := slices.IndexFunc(b.m.cookers, func(c cooker) bool { return c.kind == kind })
	return b.m.cookers[max(0, i)].burner
}

// hauledDeed brings scraps to the pail, or water to a tank; other loads are not
// stores that the engine reckons.
func (b *builder) hauledDeed(e *book.Entry) (func(*runner), error) {
	what := strings.ToLower(e.Body.What)
	if g, _, err := b.groupOf(e.Body.Extra["to"]); err == nil && strings.Contains(what, "water") && e.Body.Measure == unit.Volume {
		litres := e.Body.Amount
		return func(r *runner) {
			r.s.level[g] += litres
			r.s.led.flow(mWater, atTrade, atTanks, litres)
			r.spill()
		}, nil
	}
	if !strings.Contains(what, "scrap") || b.m.dig == nil || e.Body.Measure == "" || e.Body.Measure == unit.Number || e.Body.Measure == unit.Length {
		return nil, nil
	}
	kg := heavy(e)
	has := b.m.dig.feedHas.times(kg)
	b.quietly(&b.m.dig.fedTold, quietDaily)
	return func(r *runner) {
		s := r.s
		s.scrapKg += kg
		s.scrapHas = s.scrapHas.add(has)
		s.led.flow(mMass, atTrade, atScraps, kg)
		s.led.npk(atTrade, atScraps, has)
	}, nil
}
