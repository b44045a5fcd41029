package engine

import (
	"math"

	"evenstead/day"
	"evenstead/fuel"
)

// DigesterNow is the gas plant.
type DigesterNow struct {
	Liquid, Bag, Gas float64 // L
	GasMJ            float64 // in the bag
	Slurry           float64 // °C
	Feed, Fetched    float64 // kg a day, described
	Water            float64 // L a day
	GasDay           float64 // L a day of gas at this slurry temperature; 0 until it is ripe
	Ripe             bool
	RipeOn           day.Day // first day of gas
}

// CompostNow is the heap, all bins together.
type CompostNow struct {
	Fresh, Ripe   float64 // kg
	FreshN, RipeN float64 // kg of nitrogen
	P, K          float64 // kg
}

// ToiletNow is where excreta rest.
type ToiletNow struct {
	Apart       bool
	Drums       []DrumNow
	Holds       float64 // L of a drum
	FillDays    float64 // days that one drum takes to fill with all at home
	CureDays    int
	DrumTo      []string // plots that rested compost goes to
	Urine, Cans float64  // L neat, and what the cans hold
	UrineN      float64  // kg
	UrineDays   float64  // until the cans are full, all at home; 0: they are, or urine is not kept apart
	Dilution    float64  // parts of water to one
	UrineTo     []string
	Cover       float64 // L
	CoverDays   float64 // that it lasts, all at home; +Inf when none is used
}

// DrumNow is one drum.
type DrumNow struct {
	Number  int
	Litres  float64
	Kg      float64
	Filling bool    // in use
	Begun   day.Day // first use, reckoned back at the household's pace; 0: empty
	Closed  day.Day // 0: not closed
	Full    day.Day // in use: when it will be full, at the household's pace
	Opens   day.Day // first day it may be opened; 0: not closed
}

func (v *viewer) digester() *DigesterNow {
	d, s, m := v.r.m.dig, v.r.s, v.r.m
	if d == nil {
		return nil
	}
	out := &DigesterNow{Liquid: d.liquid, Bag: d.bag, Gas: s.gas, GasMJ: s.gas * m.gasMJ, Slurry: s.slurry, Feed: d.feed, Fetched: d.fetched,
		Water: d.water, Ripe: v.r.day >= d.ripeAt, RipeOn: m.start + day.Day(d.ripeAt)}
	if out.Ripe {
		out.GasDay = fuel.GasStep(s.digVS, d.k35, s.slurry, 1) * d.b0 / d.methane * 1000
	}
	return out
}

func (v *viewer) compost() CompostNow {
	s := v.r.s
	both := s.freshHas.add(s.ripeHas)
	return CompostNow{s.freshKg, s.ripeKg, s.freshHas.n, s.ripeHas.n, both.p, both.k}
}

func (v *viewer) toilet() *ToiletNow {
	t, s, m := v.r.m.toilet, v.r.s, v.r.m
	if t == nil {
		return nil
	}
	out := &ToiletNow{Apart: t.apart, Holds: t.drum, CureDays: int(math.Ceil(t.cureYears * 365.25)), Urine: s.urine, Cans: t.cans, UrineN: s.urineHas.n,
		Dilution: t.dilution, Cover: s.cover, DrumTo: v.names(t.drumTo), UrineTo: v.names(t.urineTo)}
	heads := float64(m.people)
	out.CoverDays = s.cover / (t.coverUse * heads)
	if t.apart && s.urine < t.cans {
		out.UrineDays = (t.cans - s.urine) / (t.urineL * heads)
	}
	daily := v.drumPace()
	out.FillDays = t.drum / daily
	for i := range s.drums {
		out.Drums = append(out.Drums, v.drum(i, daily))
	}
	return out
}

// drumPace is what the household puts in a drum in a day with all at home, L.
func (v *viewer) drumPace() float64 {
	t := v.r.m.toilet
	each := t.faecesKg + t.coverUse*coverSettles
	if !t.apart {
		each += t.urineL
	}
	return each * float64(v.r.m.people)
}

func (v *viewer) drum(i int, daily float64) DrumNow {
	t, s := v.r.m.toilet, v.r.s
	d := &s.drums[i]
	out := DrumNow{Number: i + 1, Litres: d.litres, Kg: d.kg, Filling: s.filling == i}
	last := v.past.Today
	if d.closed != notClosed {
		out.Closed = v.r.m.start + day.Day(d.closed)
		out.Opens = t.opens(out.Closed)
		last = out.Closed
	}
	if d.litres > 0 {
		out.Begun = last - day.Day(math.Ceil(d.litres/daily))
	}
	if out.Filling {
		out.Full = v.past.Today + day.Day(math.Ceil(max(0, t.drum-d.litres)/daily))
	}
	return out
}

// names are those of plots.
func (v *viewer) names(plots []int) []string {
	out := make([]string, len(plots))
	for i, p := range plots {
		out[i] = v.r.m.plots[p].name
	}
	return out
}
