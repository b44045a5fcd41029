package engine

import "slices"

// heatAccount follows the cookers and the hours.
type heatAccount struct {
	asked, hoursAsked, hoursHad float64
	by                          [len(fuelKinds)]Part
	useful                      float64 // MJ from fuels to the house, when last looked at
	wood, bottle                float64 // kg as the morning began
	led                         [2]float64
	mark                        [4]float64 // needs as the day began
	cooked                      float64    // MJ that the book's own fires gave today; the day's need counts it
	sun, trade                  float64
}

func (h *heatAccount) morning(r *runner) {
	s, m := r.s, r.m
	h.mark = [4]float64{s.want[m.after(needCooking)], s.got[m.after(needCooking)], s.want[m.after(needHours)], s.got[m.after(needHours)]}
	h.cooked = 0
	h.look(r)
}

func (h *heatAccount) look(r *runner) {
	e := &r.s.led[mEnergy]
	h.useful, h.sun, h.trade = e[atFuels][atHouse], e[atSky][atHouse], e[atTrade][atHouse]
	h.wood, h.bottle = r.s.wood, r.s.bottle
	h.led = [2]float64{e[atWild][atFuels], e[atTrade][atFuels]}
}

// burnt parts the useful heat since the last look among the cookers. What burnt
// of wood and bottle is what the store lost beside what came; the rest of the
// heat from fuels is gas.
func (h *heatAccount) burnt(r *runner) (by [len(fuelKinds)]float64) {
	m, e := r.m, &r.s.led[mEnergy]
	useful := e[atFuels][atHouse] - h.useful
	of := func(kind string, kg, mj float64) float64 {
		for i := range m.cookers {
			if m.cookers[i].kind == kind {
				heat := min(useful, max(0, kg)*mj*m.cookers[i].efficiency)
				useful -= heat
				return heat
			}
		}
		return 0
	}
	if m.woodMJ > 0 {
		by[slices.Index(fuelKinds[:], "wood")] = of("wood", h.wood-r.s.wood+(e[atWild][atFuels]-h.led[0])/m.woodMJ, m.woodMJ)
	}
	if m.bottleMJ > 0 {
		by[slices.Index(fuelKinds[:], "bottle")] = of("bottle", h.bottle-r.s.bottle+(e[atTrade][atFuels]-h.led[1])/m.bottleMJ, m.bottleMJ)
	}
	by[slices.Index(fuelKinds[:], "biogas")] = max(0, useful)
	by[slices.Index(fuelKinds[:], "sun")] = e[atSky][atHouse] - h.sun
	return by
}

func (h *heatAccount) heard(a *account) {
	h.cooked = a.r.said.cooked
	if a.on && h.cooked > 0 {
		by := h.burnt(a.r)
		at := slices.Index(fuelKinds[:], "electric")
		sum := 0.0
		for i, mj := range by {
			h.by[i].Told += mj
			sum += mj
		}
		h.by[at].Told += max(0, h.cooked-sum)
	}
	h.look(a.r)
}

func (h *heatAccount) evening(a *account) {
	if !a.on {
		return
	}
	s, m := a.r.s, a.r.m
	by := h.burnt(a.r)
	sum := 0.0
	for i, mj := range by {
		h.by[i].Filled += mj
		sum += mj
	}
	got := s.got[m.after(needCooking)] - h.mark[1]
	h.asked += s.want[m.after(needCooking)] - h.mark[0]
	h.hoursAsked += s.want[m.after(needHours)] - h.mark[2]
	h.hoursHad += s.got[m.after(needHours)] - h.mark[3]
	for i := range m.cookers {
		if m.cookers[i].kind == "electric" { // the freezer's current is not heat for the pot
			h.by[m.cookers[i].fuel].Filled += max(0, got-h.cooked-sum)
		}
	}
}

// fuels lists the ways of cooking that gave heat.
func (h *heatAccount) fuels() []Fuel {
	out := []Fuel{}
	for i, p := range h.by {
		if p.All() > 1e-9 {
			kind := fuelKinds[i]
			out = append(out, Fuel{kind, kind == "sun" || kind == "biogas" || kind == "wood", p})
		}
	}
	return out
}
