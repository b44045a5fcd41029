package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/engine"
	"evenstead/stead"
	"evenstead/unit"
)

const (
	gallon = 3.785411784 // L (NIST Handbook 44, appendix C)
	inch   = 0.0254      // m, exact
)

// tanks is a card of rungs for each tank, to hang beside it.
func tanks(f *Facts) *Sheet {
	s := f.sheet("tanks")
	s.Lead, s.Rest = f.say("tanks.lead"), f.say("tanks.rest")
	for i := range f.Standing.Tanks {
		g := &f.Standing.Tanks[i]
		for _, alike := range f.alikeTanks(g) {
			s.add(Part{Title: upper(f.tankNames(alike)), Note: f.tankNote(alike[0], g), Column: true, Rungs: f.rungs(alike[0], g)})
		}
	}
	if len(s.Parts) == 0 {
		s.Rest = f.say("tanks.none")
		return s
	}
	if f.has("treated") {
		s.add(Part{Title: f.say("care"), Lines: []Line{{f.say("shut.tank"), f.say("tanks.care")}}})
	}
	return s
}

func (f *Facts) tankNamed(name string) *stead.Tank {
	for i := range f.Stead.Tanks {
		if f.Stead.Tanks[i].Name == name {
			return &f.Stead.Tanks[i]
		}
	}
	return nil
}

// alikeTanks are the tanks of a group, those that one card serves together.
func (f *Facts) alikeTanks(g *engine.TankGroup) (out [][]*stead.Tank) {
	for _, now := range g.Tanks {
		t := f.tankNamed(now.Name)
		if t == nil {
			continue
		}
		i := slices.IndexFunc(out, func(o []*stead.Tank) bool {
			a := o[0]
			return a.Holds == t.Holds && a.Height == t.Height && a.Shape == t.Shape && a.Dead == t.Dead
		})
		if i < 0 {
			out = append(out, nil)
			i = len(out) - 1
		}
		out[i] = append(out[i], t)
	}
	return out
}

func (f *Facts) tankNames(list []*stead.Tank) string {
	var names []string
	for _, t := range list {
		names = append(names, t.Name)
	}
	return f.listed(names, 6)
}

func (f *Facts) tankNote(t *stead.Tank, g *engine.TankGroup) string {
	shape := t.Shape
	if shape == "" {
		shape = "upright"
	}
	note := f.say("tanks.shape."+shape, f.litres(t.Holds))
	if t.Height > 0 {
		note += " " + f.say("tanks.high", f.amount(t.Height, unit.Length))
	} else {
		note += " " + f.say("tanks.nohigh")
	}
	if len(g.Tanks) > 1 {
		note += " " + f.say("tanks.joined", g.Name, f.litres(g.Holds))
	}
	return note
}

// rungs are the marks of a tank: every 10 cm, or 4 in, of its height and the brim;
// tenths of the full tank where no height is described.
func (f *Facts) rungs(t *stead.Tank, g *engine.TankGroup) *Rungs {
	r := &Rungs{Height: t.Height}
	if t.Height == 0 {
		for i := 10; i >= 1; i-- {
			r.Marks = append(r.Marks, f.rung(t, g, float64(i)/10, float64(i)/10, fmt.Sprintf("%d/10", i)))
		}
	} else {
		step := f.rungStep(t.Height)
		for i := int(t.Height/step + 1e-9); i >= 1; i-- {
			depth := float64(i) * step
			r.Marks = append(r.Marks, f.rung(t, g, depth/t.Height, engine.Filled(t, depth), f.depth(depth)))
		}
		if n := len(r.Marks); n == 0 || r.Marks[0].At < 0.97 {
			r.Marks = append([]Rung{f.rung(t, g, 1, 1, f.say("brim"))}, r.Marks...)
		}
	}
	if g.Reserve > g.Dead {
		r.under(f.heightAt(t, g.Reserve/g.Holds), f.say("tanks.reserve", f.litres(g.Reserve)))
	}
	r.under(f.heightAt(t, g.Dead/g.Holds), f.say("tanks.tap", f.litres(t.Dead)))
	return r
}

// under puts words beneath the last rung that is not below a share of the height.
func (r *Rungs) under(at float64, words string) {
	if at <= 0 {
		return
	}
	for i := range slices.Backward(r.Marks) {
		if r.Marks[i].At >= at {
			r.Marks[i].Under = strings.TrimSpace(r.Marks[i].Under + " " + words)
			return
		}
	}
}

// rungStep is the distance of the rungs, m: the least of the usual ones that makes
// no more than twenty.
func (f *Facts) rungStep(height float64) float64 {
	steps := []float64{0.05, 0.1, 0.2, 0.25, 0.5, 1}
	if f.Units == unit.US {
		steps = []float64{2 * inch, 4 * inch, 6 * inch, 12 * inch, 24 * inch, 36 * inch}
	}
	for _, s := range steps {
		if height/s <= 20 {
			return s
		}
	}
	return steps[len(steps)-1]
}

// depth words a depth by the stick's own marks.
func (f *Facts) depth(m float64) string {
	if f.Units == unit.US {
		return whole(m/inch) + "\u00a0in"
	}
	return fmt.Sprintf("%.2f\u00a0m", m)
}

// rung is a mark at a share of the height, where a share of the tank is full.
func (f *Facts) rung(t *stead.Tank, g *engine.TankGroup, at, full float64, name string) Rung {
	r := Rung{At: at, Name: name, Litres: grouped(full * t.Holds), Gallons: grouped(full * t.Holds / gallon)}
	if len(g.Tanks) > 1 {
		r.Group = grouped(full * g.Holds)
		if f.Units == unit.US {
			r.Group = grouped(full * g.Holds / gallon)
		}
	}
	if g.Use > 0 {
		r.Days = whole(math.Floor(math.Max(0, full*g.Holds-g.Dead) / g.Use))
	}
	return r
}

// heightAt is the share of a tank's height at which a share of it is full.
func (f *Facts) heightAt(t *stead.Tank, full float64) float64 {
	if t.Height == 0 {
		return full
	}
	lo, hi := 0.0, t.Height
	for range 40 {
		if mid := (lo + hi) / 2; engine.Filled(t, mid) < full {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi / t.Height
}

// grouped is a whole number with commas.
func grouped(v float64) string {
	s := whole(v)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
