package plan

import (
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/lp"
	"evenstead/unit"
)

// fire is a cooker's part of a season.
type fire struct {
	of    *engine.FrameCooker
	burn  []int // by period: days of heat; nil: what it gives is in the limits, or in the rounds
	limit int   // row of what there is of it in the year; -1: it burns none that is stored
}

// cooked tells whether heat is reckoned with.
func (y *years) cooked() bool {
	return !y.sizing && len(y.rounds) > 0 && len(y.rounds[0].year.Cookers) > 0 && sum(y.rounds[0].year.Asked) > 0
}

// heatUnit is the mean day's heat, MJ in the pot, that heat is counted in.
func (y *years) heatUnit() float64 {
	return sum(y.rounds[0].year.Asked[:slots]) / (slots * engine.Fortnight)
}

// gas is what the gas of a round gives in a period, MJ in the pot.
func (y *years) gas(o *round, p int) float64 { return heatOf(o.year, "biogas", p) }

func heatOf(year *engine.LoopYear, kind string, p int) float64 {
	for i := range year.Cookers {
		if c := &year.Cookers[i]; c.Kind == kind {
			return c.Heat[2*p] + c.Heat[2*p+1]
		}
	}
	return 0
}

// given is the heat of a period that no decision changes, MJ in the pot: the sun's
// and, of one round alone, the gas's.
func (s *season) given(p int) float64 {
	o := &s.y.rounds[0]
	mj := heatOf(o.year, "sun", p)
	if len(s.y.rounds) == 1 {
		mj += s.y.gas(o, p)
	}
	return mj
}

// layHeat adds the rows of heat: what is cooked, put up, drunk hot and boiled is no
// more than the fires give.
func (s *season) layHeat() {
	if !s.y.cooked() {
		return
	}
	year := s.y.rounds[0].year
	for p := range periods {
		other := year.Other[2*p] + year.Other[2*p+1]
		s.rows.heat = append(s.rows.heat, s.row(fmt.Sprintf("heat %d", p), -inf, (s.given(p)-other)/s.y.heatUnit()))
	}
	for i := range year.Cookers {
		f := fire{of: &year.Cookers[i], limit: -1}
		if f.of.MJ > 0 {
			f.limit = s.row(f.of.Kind, -inf, f.of.PerYear)
		}
		s.fires = append(s.fires, f)
	}
}

// cooks fills in the heat that a kg asks in a period.
func (s *season) cooks(c *column, p int, mj float64) {
	if s.rows.heat != nil {
		c.add(s.rows.heat[p], mj/s.y.heatUnit())
	}
}

// Hours and prices of fires: what is bought counts by its weight, current by that of
// the bottled gas that gives as much heat. Wood is split and carried (data work.csv
// split_wood, common practice, at 450 kg a stacked cubic metre).
const (
	woodHours = 2.22 / 450 // a kg
	gasMJ     = 46         // a kg of bottled gas
)

// addFires adds what each stored fuel and the cord give, the stocks of fuel, and days
// without heat.
func (s *season) addFires() {
	if s.rows.heat == nil {
		return
	}
	for i := range s.fires {
		s.addFire(&s.fires[i])
	}
	for p, row := range s.rows.heat {
		var c column
		c.add(row, -1)
		s.cold = append(s.cold, s.column(fmt.Sprintf("cold %d", p), 0, inf, c, weightCold))
	}
}

func (s *season) addFire(f *fire) {
	if f.of.MJ == 0 && f.of.Kind != "electric" {
		return
	}
	unit := s.y.heatUnit()
	for p, row := range s.rows.heat {
		var c column
		c.add(row, -1)
		up, bought, work := inf, unit/gasMJ, 0.0
		if f.of.MJ > 0 {
			kg := unit / f.of.MJ
			c.add(f.limit, kg)
			bought = kg
			if may := (f.of.May[2*p] + f.of.May[2*p+1]) / 2; may < 1 {
				up = may * mostHeat * 2 * engine.Fortnight
			}
			if f.of.Kind == "wood" {
				bought, work = 0, kg*woodHours
			}
		}
		f.burn = append(f.burn, s.column(fmt.Sprintf("burn %s %d", f.of.Kind, p), 0, up, c, 0, bought, work))
	}
	if f.of.MJ > 0 && f.of.Stock > 0 {
		s.draw(f)
	}
}

// mostHeat is how many times the mean day's heat a fire gives on a day that it may
// burn.
const mostHeat = 2

// draw adds what is burned of today's stock. Wood of it, which next year's fires want,
// counts half of the bottled gas with as much heat in it.
func (s *season) draw(f *fire) {
	var c column
	c.add(f.limit, -1)
	bought := 0.0
	if f.of.Kind == "wood" {
		bought = f.of.MJ / gasMJ / 2
	}
	s.column(f.of.Kind+" of today", 0, f.of.Stock, c, 0, bought)
}

// Steps in which fuel is loosened.
const (
	moreWood   = 100 // kg
	moreBottle = 5   // kg
)

// fireReliefs are more wood and more bottled gas.
func (g *programme) fireReliefs(s *lp.Solution) []relief {
	var out []relief
	for i := range g.fires {
		f := &g.fires[i]
		if f.limit < 0 {
			continue
		}
		name, step := "bottled gas", float64(moreBottle)
		if f.of.Kind == "wood" {
			name, step = "firewood", moreWood
		}
		out = append(out, relief{name, Step{step, unit.Mass, ""}, price(s, []int{f.limit}, step), func(h *programme) { loosen(h, []int{h.fires[i].limit}, step) }})
	}
	return out
}

// Heat is what four weeks ask to cook with and what gives it, MJ in the pot.
type Heat struct {
	From  day.Day `json:"from"`
	Asked float64 `json:"asked_mj"`
	Fires []Fire  `json:"fires"`
	Lacks float64 `json:"lacking_mj"`
}

// A Fire is one kind's part of it.
type Fire struct {
	Kind string  `json:"kind"` // sun, biogas, wood, bottle or electric
	MJ   float64 `json:"mj"`
	Kg   float64 `json:"kg"` // of stored fuel; 0: none
}

// LeastHeat is the heat below which none is told, MJ in four weeks.
const LeastHeat = 0.5

// readHeat reads the fires off the answer.
func (p *Plan) readHeat() {
	s, y := p.prog.season, p.years
	p.Heat = nil
	if s.rows.heat == nil {
		return
	}
	act, unit := p.prog.p.Activity(p.x()), y.heatUnit()
	for t, row := range s.rows.heat {
		h := Heat{From: y.fortnight(2 * t), Lacks: p.x()[s.cold[t]] * unit}
		supplied := h.Lacks
		for i := range s.fires {
			f := &s.fires[i]
			mj := 0.0
			switch {
			case f.burn != nil:
				mj = max(0, p.x()[f.burn[t]]) * unit
				supplied += mj
			case f.of.Kind == "sun" || f.of.Kind == "biogas":
				mj = heatOf(y.rounds[0].year, f.of.Kind, t)
			}
			one := Fire{Kind: f.of.Kind, MJ: mj}
			if f.of.MJ > 0 {
				one.Kg = mj / f.of.MJ
			}
			h.Fires = append(h.Fires, one)
		}
		year := y.rounds[0].year
		h.Asked = act[row]*unit + supplied + year.Other[2*t] + year.Other[2*t+1]
		h.trim()
		p.Heat = append(p.Heat, h)
	}
}

// trim takes from sun, then gas, what they could give beyond what is asked.
func (h *Heat) trim() {
	over := -h.Asked + h.Lacks
	for _, f := range h.Fires {
		over += f.MJ
	}
	for _, kind := range [...]string{"biogas", "sun"} {
		if i := slices.IndexFunc(h.Fires, func(f Fire) bool { return f.Kind == kind }); i >= 0 && over > 0 {
			less := min(over, h.Fires[i].MJ)
			h.Fires[i].MJ -= less
			over -= less
		}
	}
}
