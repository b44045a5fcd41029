package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/data"
	"evenstead/unit"
)

// kindsOf are the kinds of food an entry may mean: by food, form and place; the
// likeliest is made when there is none yet.
func (b *builder) kindsOf(e *book.Entry) ([]int, error) {
	src, err := b.sourceOf(e.Body.What)
	if err != nil {
		return nil, err
	}
	at := b.placeNamed(e.Body.Where)
	var found []int
	for _, k := range b.kindsBy[src.food.ID] {
		kd := &b.m.kinds[k]
		if (e.Body.Form == "" || kd.form == e.Body.Form || e.Body.Form == "fresh" && kd.form == "dry") && (at < 0 || kd.place == at) {
			found = append(found, k)
		}
	}
	if len(found) > 0 {
		return found, nil
	}
	form := e.Body.Form
	if form == "" {
		form = "fresh"
		if at >= 0 && b.m.places[at].freezer {
			form = "frozen"
		}
	}
	k, err := b.kindAt(e.Body.What, form, at)
	return []int{k}, err
}

// usualJar is what a jar holds where only jars are counted, L: a quart, the jar
// of most tested recipes (common practice).
const usualJar = 0.946

// kgOf is an entry's amount in kg of a kind as stored.
func (b *builder) kgOf(e *book.Entry, k int) (float64, error) {
	kd := &b.m.kinds[k]
	switch e.Body.Measure {
	case unit.Mass:
		return e.Body.Amount, nil
	case unit.Volume:
		return e.Body.Amount / kd.litres, nil
	}
	word := e.Body.Extra[book.Piece]
	if kg, source := b.pieceOf(kd, word); kg > 0 {
		if b.m.assumed == nil {
			b.m.assumed = map[uuid.UUID]string{}
		}
		b.m.assumed[e.ID] = fmt.Sprintf("one is taken to weigh %s (%s); where yours does not, write as in 6 of 1.8 kg each, or a [[piece]] into the description",
			unit.Format(kg, unit.Mass, unit.Metric), source)
		return e.Body.Amount * kg, nil
	}
	if kd.form == "jarred" && word == "" {
		return e.Body.Amount * usualJar / kd.litres, nil
	}
	one, name := cmp.Or(word, "piece"), kd.name
	if kd.form != "fresh" && kd.form != "dry" {
		name = kd.form + " " + name
	}
	return 0, fmt.Errorf("what one %s of %s weighs is not on record: write how much in kg or lb, or as in %g of 1.8 kg each, or add [[piece]] with food = %q and what it weighs to the description",
		one, name, e.Body.Amount, kd.food)
}

// pieceOf is what one piece of a kind weighs as it is stored, kg, and by which
// source; 0 when none is known. Only what is whole and fresh is counted so.
func (b *builder) pieceOf(kd *kind, word string) (kg float64, source string) {
	if kd.form != "fresh" && kd.form != "dry" {
		return 0, ""
	}
	if p, ok := b.tab.Piece(kd.food, word); ok {
		if p.Edible && kd.edible > 0 {
			return p.Kg / kd.edible, p.Source
		}
		return p.Kg, p.Source
	}
	for i := range b.tab.Livestock {
		if a := &b.tab.Livestock[i]; a.Food == kd.food && strings.Contains(a.YieldUnit, "egg") && (word == "" || word == "egg") {
			return a.UnitKg, "with its shell, of the livestock table"
		}
	}
	return 0, ""
}

// cropOf finds the crop a picking or a sowing is of: by its own name, or by its food's.
func (b *builder) cropOf(id string) (*data.Crop, bool) {
	if c, ok := b.tab.Crop(id); ok {
		return c, true
	}
	i := slices.IndexFunc(b.tab.Crops, func(c data.Crop) bool { return c.Food == id })
	if i < 0 {
		return nil, false
	}
	return &b.tab.Crops[i], true
}

func (b *builder) pickedDeed(e *book.Entry) (func(*runner), error) {
	c, ok := b.cropOf(e.Body.What)
	if !ok {
		return nil, fmt.Errorf("%s is not a crop that is picked here: for wild food write foraged", e.Body.What)
	}
	if c.Food == "" {
		return nil, nil // a cover crop is not eaten
	}
	k, err := b.kind(c.ID, "fresh")
	if err != nil {
		return nil, err
	}
	kg, err := b.kgOf(e, k)
	if err != nil {
		return nil, err
	}
	var stands []int
	plot, on := b.plotNamed(e.Body.Where), int(e.Day-b.m.start)
	for q := range b.m.plantings {
		g := &b.m.plantings[q]
		if g.crop.ID == c.ID && (plot < 0 || g.plot == plot) && g.sow <= on && float64(on-g.sow) < g.longest() {
			stands = append(stands, q)
			b.quietly(&g.told, quietSeason)
		}
	}
	return func(r *runner) { r.pickTold(stands, k, kg) }, nil
}

// longest is how many days after its sowing a stand may still be picked.
func (g *planting) longest() float64 {
	if g.tree {
		return g.days + g.span + quietSeason
	}
	return 2 * (g.days + g.span)
}

// origins are where what is brought in comes from.
var origins = map[book.Kind]node{book.Foraged: atWild, book.Taken: atWild, book.Received: atTrade, book.Bought: atTrade}

func (b *builder) broughtDeed(e *book.Entry) (func(*runner), error) {
	kinds, err := b.kindsOf(e)
	if err != nil {
		return nil, err
	}
	k, from := kinds[0], origins[e.Kind]
	kg, err := b.kgOf(e, k)
	if err != nil {
		return nil, err
	}
	m := b.m
	for i := range m.patches {
		if p := &m.patches[i]; e.Kind == book.Foraged && m.kinds[p.kind].food == m.kinds[k].food {
			b.quietly(&p.told, quietSeason)
		}
	}
	for i := range m.bought {
		if x := &m.bought[i]; e.Kind == book.Bought && m.kinds[x.kind].food == m.kinds[k].food {
			b.quietly(&x.told, quietMonth)
		}
	}
	if e.Kind == book.Taken {
		return b.stockDeed(e, k, kg)
	}
	return func(r *runner) { r.bring(k, kg, from) }, nil
}

// stockDeed takes eggs from a flock, or honey from hives.
func (b *builder) stockDeed(e *book.Entry, k int, kg float64) (func(*runner), error) {
	m, food := b.m, b.m.kinds[k].food
	for i := range m.flocks {
		if f := &m.flocks[i]; m.kinds[f.kind].food == food {
			b.quietly(&f.told, quietSeason)
			return func(r *runner) { r.layTold(i, kg) }, nil
		}
	}
	for i := range m.hives {
		if h := &m.hives[i]; m.kinds[h.kind].food == food {
			b.quietly(&h.told, quietSeason)
			return func(r *runner) { r.bring(h.kind, kg, atWild) }, nil
		}
	}
	return nil, fmt.Errorf("no flock or hive that gives %s is described: add [[flock]] or [[hive]], or write received", m.kinds[k].name)
}

func (b *builder) putUpDeed(e *book.Entry) (func(*runner), error) {
	form := e.Body.Form
	if form == "" || form == "fresh" || form == "dry" {
		return nil, nil // laid by as it is: nothing is made of it
	}
	from, err := b.kind(e.Body.What, "fresh")
	if err != nil {
		return nil, err
	}
	to, err := b.kindAt(e.Body.What, form, b.placeNamed(e.Body.Where))
	if err != nil {
		return nil, err
	}
	kg, err := b.kgOf(e, to)
	if err != nil {
		return nil, err
	}
	way, err := b.wayTo(e.Body.What, from, to)
	if err != nil {
		return nil, err
	}
	b.quietly(&b.m.kinds[from].told, quietSeason)
	return func(r *runner) { r.madeTold(from, way, kg) }, nil
}

// wayTo is how a fresh kind becomes a kept one.
func (b *builder) wayTo(id string, from, to int) (putUp, error) {
	fresh, kept := &b.m.kinds[from], &b.m.kinds[to]
	for _, w := range fresh.putUp {
		if b.m.kinds[w.to].form == kept.form {
			w.to = to
			return w, nil
		}
	}
	src, err := b.sourceOf(id)
	if err != nil {
		return putUp{}, err
	}
	out := fresh.edible * b.tab.MassOut(src.food, kept.form)
	if kept.mj > 0 {
		out = min(out, fresh.mj/kept.mj)
	}
	if !(out > 0) {
		return putUp{}, fmt.Errorf("no figures are at hand for %s, %s: note what went in as lost and what came out as received", fresh.name, kept.form)
	}
	kept.has = fresh.eats.times(1 / out)
	kept.eats = kept.has
	return putUp{to: to, out: out, refuse: 1 - fresh.edible}, nil
}

func (b *builder) takenDeed(e *book.Entry) (func(*runner), error) {
	kinds, err := b.kindsOf(e)
	if err != nil {
		return nil, err
	}
	kg, err := b.kgOf(e, kinds[0])
	if err != nil {
		return nil, err
	}
	kind := e.Kind
	return func(r *runner) {
		k := r.fullest(kinds)
		switch kind {
		case book.Eaten:
			r.ate(k, kg)
		case book.Lost:
			r.holds(k, kg)
			r.waste(k, kg)
		default:
			r.holds(k, kg)
			r.remove(k, kg, atTrade)
		}
	}, nil
}

func (b *builder) countedDeed(e *book.Entry) (func(*runner), error) {
	if e.Body.What == "cover" {
		return b.coverDeed(e)
	}
	if store, name := b.fuelStore(e.Body.What); store != nil {
		kg := e.Body.Amount
		if e.Body.Measure != unit.Mass {
			return nil, fmt.Errorf("%s is counted by weight: write kg or lb", name)
		}
		return func(r *runner) { r.setFuel(store(r.s), name, kg) }, nil
	}
	kinds, err := b.kindsOf(e)
	if err != nil {
		return nil, err
	}
	kg, err := b.kgOf(e, kinds[0])
	if err != nil {
		return nil, err
	}
	return func(r *runner) { r.setStock(kinds, kg) }, nil
}
