package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/larder"
)

// A larderLot is a food of one form in one place.
type larderLot struct {
	Number  string    `json:"number"` // the same as long as the food, form and place are
	Food    string    `json:"food"`
	Name    string    `json:"name"`
	Form    string    `json:"form"`
	Place   string    `json:"place"`
	Kg      float64   `json:"kg"`
	Litres  float64   `json:"litres"`
	MJ      float64   `json:"mj"`
	Jars    int       `json:"jars,omitempty"` // of a quart, 0.946 L
	Aged    float64   `json:"aged"`           // share of its life, 1 where a quarter is lost
	Quarter *day.Day  `json:"quarter_lost"`
	Half    *day.Day  `json:"half_lost"`
	GoOver  *day.Day  `json:"go_over"`
	Cull    float64   `json:"cull_kg"` // reckoned spoilt by then, of what is there
	Seen    day.Day   `json:"seen"`
	How     string    `json:"how"`
	Eaten   *float64  `json:"days_eating"`   // at the most people like to eat; null for what is not
	Lost    float64   `json:"lost_kg"`       // uneaten by then, of what can't be
	Sound   []float64 `json:"sound"`         // share, a week apart
	Air     string    `json:"air,omitempty"` // where the place is drier or damper than the food likes
}

// A larderPlace is room for food.
type larderPlace struct {
	Name  string  `json:"name"`
	Kind  string  `json:"kind"`
	Used  float64 `json:"used_l"`
	Holds float64 `json:"holds_l"`
	Left  float64 `json:"left_l"`
	Jars  int     `json:"jars_left,omitempty"` // of a quart
	Kg    float64 `json:"kg"`
	TempC float64 `json:"temp_c"`
}

const quart = 0.946 // L, the jar that room and lots are told in

// Days after which a lot is gone over at the latest, and the loss that calls for
// it sooner (common practice).
const (
	goOverFresh = 28
	goOverKept  = 91
	goOverLoss  = 0.05
)

func (p *pantry) lots() {
	for i := range p.now.Lots {
		p.b.Lots = append(p.b.Lots, p.lot(&p.now.Lots[i]))
	}
}

func (p *pantry) lot(l *engine.LotNow) larderLot {
	out := larderLot{Number: larder.LotNumber(l.Food, l.Form, l.Place), Food: l.Food, Name: l.Name, Form: l.Form, Place: l.Place, Kg: l.Kg, Litres: l.Litres, MJ: l.MJ,
		Aged: l.Aged, Quarter: dayKnown(l.Quarter), Half: dayKnown(l.Half), Seen: l.Day, How: l.How, Sound: l.Sound}
	if l.Form == larder.Jarred {
		out.Jars = larder.JarCount(l.Kg, quart)
	}
	out.GoOver, out.Air = p.goOver(l), p.air(l)
	out.Cull = l.Kg * (1 - soundAt(l.Sound, float64(*out.GoOver-p.now.Today)/7))
	if days, ok := p.eaten(l); ok {
		out.Eaten = &days
		if l.Quarter != 0 {
			keeps := float64(l.Quarter - p.now.Today)
			out.Lost = max(0, l.Kg*(1-keeps/days))
		}
	}
	return out
}

func dayKnown(d day.Day) *day.Day {
	if d == 0 {
		return nil
	}
	return &d
}

// goOver is the day by which a lot should be looked through: when another
// twentieth is lost by the reckoning, and within 4 weeks fresh or 13 otherwise.
func (p *pantry) goOver(l *engine.LotNow) *day.Day {
	most := goOverKept
	if l.Form == larder.Fresh {
		most = goOverFresh
	}
	for w, s := range l.Sound {
		if 7*w >= most {
			break
		}
		if s <= 1-goOverLoss {
			most = max(1, 7*w)
			break
		}
	}
	d := p.now.Today + day.Day(most)
	if l.Quarter != 0 {
		d = min(d, l.Quarter)
	}
	return &d
}

// soundAt reads the share still sound so many weeks on, between the weeks given.
func soundAt(sound []float64, weeks float64) float64 {
	if len(sound) == 0 {
		return 1
	}
	w := min(int(weeks), len(sound)-1)
	if w+1 >= len(sound) {
		return sound[w]
	}
	return sound[w] + (weeks-float64(w))*(sound[w+1]-sound[w])
}

// airTold is the share of its printed life below which a food's air is told
// (common practice).
const airTold = 0.9

// air tells where the written humidity of a place shortens a lot's life; "" where
// it does not, or nothing is written.
func (p *pantry) air(l *engine.LotNow) string {
	rh := math.NaN()
	for _, at := range p.now.Places {
		if at.Name == l.Place {
			rh = at.RH
		}
	}
	f, ok := p.r.Tables.Food(l.Food)
	if !ok {
		return ""
	}
	rows := p.r.Tables.KeepingOf(f, l.Form)
	share, name := larder.Air(rows, rh), strings.ReplaceAll(l.Name, "_", " ")
	if !(share < airTold) {
		return ""
	}
	lo, hi := larder.Band(rows)
	how, then := "dry", "shrivels"
	if rh > hi {
		how, then = "damp", "moulds or sprouts"
	}
	likes := fmt.Sprintf("%.0f to %.0f", 100*lo, 100*hi)
	if lo == hi {
		likes = fmt.Sprintf("%.0f", 100*lo)
	}
	return fmt.Sprintf("%s lies too %s: %.0f %% where it likes %s, so it %s and keeps %.0f in 100 of its time", name, how, 100*rh, likes, then, 100*share)
}

// eaten is how many days a lot lasts at the most people like to eat of it.
func (p *pantry) eaten(l *engine.LotNow) (days float64, ok bool) {
	f, ok := p.r.Tables.Food(l.Food)
	if !ok {
		return 0, false
	}
	e, ok := p.r.Tables.Eaten(f.Category)
	if !ok || !(l.Edible > 0) || p.now.People == 0 {
		return 0, false
	}
	_, ratio := p.r.Tables.FoodForm(f, l.Form)
	day := e.Cap / max(1, ratio) / l.Edible * float64(p.now.People)
	return l.Kg / day, day > 0
}

func (p *pantry) places() {
	for _, at := range p.now.Places {
		room := larderPlace{Name: at.Name, Kind: at.Kind, Used: at.Used, Holds: at.Holds, Left: math.Max(0, at.Holds-at.Used), Kg: at.Kg, TempC: at.Temp}
		if at.Kind == larder.Freezer {
			room.TempC = -18
		}
		if at.Kind == larder.Jars || at.Kind == larder.Cellar || at.Kind == larder.Room {
			room.Jars = int(room.Left / quart)
		}
		p.b.Places = append(p.b.Places, room)
	}
}

// guards are the hazards of every food in store, on the ground and about to be
// put up, each once.
func (p *pantry) guards() {
	seen := map[string]bool{}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			p.b.Guards = append(p.b.Guards, text)
		}
	}
	if len(p.b.Lots)+len(p.b.Gluts) > 0 {
		add(larder.Advice)
	}
	for _, id := range p.foodsAbout() {
		for _, h := range p.r.Tables.HazardsOf(id) {
			if p.concerns(h, id) {
				add(hazardWords(h))
			}
		}
	}
	for _, form := range []string{larder.Jarred, larder.Frozen, larder.Dried, larder.Fermented} {
		if slices.ContainsFunc(p.b.Lots, func(l larderLot) bool { return l.Form == form }) {
			for _, c := range larder.Cautions(form) {
				add(c.Text + " (" + c.Source + ")")
			}
		}
	}
}

// foodsAbout are the foods in store and what grows and is gathered, once each.
func (p *pantry) foodsAbout() (ids []string) {
	add := func(id string) {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	for _, l := range p.b.Lots {
		add(l.Food)
	}
	for _, g := range p.b.Gluts {
		add(g.Food)
	}
	for _, x := range p.r.Stead.Plantings {
		add(x.Crop)
	}
	for _, x := range p.r.Stead.Trees {
		add(x.Crop)
	}
	for _, x := range p.r.Stead.Forage {
		add(x.Food)
	}
	return ids
}

// concerns tells whether a hazard touches this household: jars where there are
// jars, infants where there are any or honey is in store.
func (p *pantry) concerns(h data.Hazard, id string) bool {
	if h.When != data.InJars {
		return true
	}
	for _, l := range p.b.Lots {
		if l.Food == id && l.Form == larder.Jarred {
			return true
		}
	}
	return slices.ContainsFunc(p.b.Gluts, func(g larderGlut) bool { return g.Food == id })
}

func hazardWords(h data.Hazard) string {
	name := strings.ToUpper(h.Name[:1]) + h.Name[1:]
	if h.Stop {
		return fmt.Sprintf("%s, stop: %s. %s. (%s)", name, h.Hazard, capital(h.Rule), h.Source)
	}
	return fmt.Sprintf("%s: %s. %s. (%s)", name, h.Hazard, capital(h.Rule), h.Source)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
