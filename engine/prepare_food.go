package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/diet"
	"evenstead/larder"
	"evenstead/stead"
)

// proteinN is the nitrogen in protein, kg per kg: 1/6.25.
const proteinN = 0.16

// places sets up shelves and freezers, with their temperature through the year.
func (b *builder) places() error {
	m := b.m
	for _, s := range b.st.Shelves {
		temps, err := b.temps(s)
		if err != nil {
			return fmt.Errorf("shelf %q: %w", s.Name, err)
		}
		m.places = append(m.places, place{name: s.Name, kind: s.Kind, holds: s.Holds, temps: temps, rh: humidity(s)})
	}
	for _, f := range b.st.Freezers {
		temps, err := b.temps(stead.Shelf{Kind: larder.Room})
		if err != nil {
			return fmt.Errorf("freezer %q: %w", f.Name, err)
		}
		p := place{name: f.Name, kind: larder.Freezer, holds: f.Holds, freezer: true, temps: temps, rh: math.NaN()}
		if m.freezer < 0 {
			m.freezer = len(m.places)
		}
		m.places = append(m.places, p)
		m.freezerDay += f.Daily
		m.outages = f.Outages
		m.longShare = f.LongCut
	}
	return nil
}

// temps is a shelf's temperature by month: as described, or from the weather.
func (b *builder) temps(s stead.Shelf) (t [12]float64, err error) {
	for i := range t {
		switch len(s.Temps) {
		case 12:
			t[i] = s.Temps[i]
		case 1:
			t[i] = s.Temps[0]
		default:
			doy := i*365/12 + 15
			air := (b.clim.TMin[doy] + b.clim.TMax[doy]) / 2
			if t[i], err = larder.StoreTemp(s.Kind, air, b.wave(), float64(doy+1)); err != nil {
				return t, err
			}
		}
	}
	return t, nil
}

// humidity is what is written of a shelf's air, a share; NaN where nothing is.
func humidity(s stead.Shelf) float64 {
	if s.RH > 0 {
		return s.RH
	}
	return math.NaN()
}

// wave is the usual year's wave of air temperature.
func (b *builder) wave() larder.Wave {
	lo, hi := math.Inf(1), math.Inf(-1)
	coldest := 0
	for i := range b.clim.TMin {
		t := (b.clim.TMin[i] + b.clim.TMax[i]) / 2
		if t < lo {
			lo, coldest = t, i
		}
		hi = max(hi, t)
	}
	return larder.Wave{Mean: b.m.meanTemp, Amplitude: (hi - lo) / 2, Coldest: float64(coldest + 1)}
}

// placesFor are the kinds of place that fit a form of food, best first.
var placesFor = map[string][]string{
	"jarred": {"jars", "cellar", "room"}, "fermented": {"crocks", "cellar", "room"},
	"dried": {"dry", "room", "cellar"}, "dry": {"dry", "room", "cellar"},
	"frozen": {"freezer"}, "fresh": {"cellar", "room", "dry"},
}

// placeFor is where a form of food lies: the first place of a fitting kind.
func (b *builder) placeFor(form string) int {
	for _, kind := range placesFor[form] {
		for i := range b.m.places {
			if b.m.places[i].kind == kind {
				return i
			}
		}
	}
	return -1
}

// placeNamed finds a shelf or freezer by name; -1 when none has it.
func (b *builder) placeNamed(name string) int {
	for i := range b.m.places {
		if b.m.places[i].name == name && name != "" {
			return i
		}
	}
	return -1
}

// source is where a kind of food comes from, to settle its edible share and nutrients.
type source struct {
	food   *data.Food
	edible float64
	crop   *data.Crop // nil when not grown here
}

// sourceOf finds what a food, crop or wild id stands for.
func (b *builder) sourceOf(id string) (source, error) {
	if src, ok := b.sources[id]; ok {
		return src, nil
	}
	src, err := b.findSource(id)
	if err == nil {
		b.sources[id] = src
	}
	return src, err
}

func (b *builder) findSource(id string) (source, error) {
	if c, ok := b.tab.Crop(id); ok {
		f, ok := b.tab.Food(c.Food)
		if !ok {
			return source{}, fmt.Errorf("crop %s has no food to be eaten as", id)
		}
		return source{f, c.EdibleFraction, c}, nil
	}
	if w, ok := b.tab.WildFood(id); ok {
		if f, ok := b.tab.Food(w.Food); ok {
			return source{f, 1 - f.Refuse, nil}, nil
		}
		if _, ok := b.tab.Food(id); !ok { // a food of the same name has its own row
			return source{}, fmt.Errorf("wild food %s has no composition on record: leave it out or choose another", id)
		}
	}
	f, ok := b.tab.Food(id)
	if !ok {
		return source{}, fmt.Errorf("food %q is not known", id)
	}
	for i := range b.tab.Crops { // a food that is a crop here is kept in its garden form
		if c := &b.tab.Crops[i]; c.Food == id {
			return source{f, c.EdibleFraction, c}, nil
		}
	}
	return source{f, 1 - f.Refuse, nil}, nil
}

// kind finds or makes the kind of a food in a form where it usually lies.
func (b *builder) kind(id, form string) (int, error) { return b.kindAt(id, form, -1) }

// kindAt finds or makes the kind of a food in a form at a place, -1 the usual
// one, and the ways it can be put up.
func (b *builder) kindAt(id, form string, at int) (int, error) {
	src, err := b.sourceOf(id)
	if err != nil {
		return 0, err
	}
	if src.crop != nil && src.crop.Keeps == "dry" && form == "fresh" {
		form = "dry"
	}
	if at < 0 || b.m.places[at].freezer != (form == "frozen") {
		at = b.placeFor(form)
	}
	key := fmt.Sprintf("%s/%s/%d", src.food.ID, form, at)
	if k, ok := b.kinds[key]; ok {
		return k, nil
	}
	k, err := b.makeKind(src, form, at)
	if err != nil {
		return 0, err
	}
	b.m.kinds[k].id = id
	b.kinds[key] = k
	if form == "fresh" {
		b.ways(k, src)
	}
	return k, nil
}

func (b *builder) makeKind(src source, form string, at int) (int, error) {
	eat, ok := b.tab.Eaten(src.food.Category)
	if !ok {
		return 0, fmt.Errorf("food %s: category %s has no row in the eating table", src.food.ID, src.food.Category)
	}
	food, ratio := b.tab.FoodForm(src.food, form)
	kd := kind{food: src.food.ID, form: form, name: strings.ReplaceAll(src.food.ID, "_", " "), class: b.class(eat), each: 1}
	kd.edible = 1
	if form == "fresh" || form == "dry" {
		kd.edible = src.edible
	}
	if at < 0 {
		return 0, fmt.Errorf("%s, %s: no %s is described to keep it in", src.food.Name, form, map[bool]string{true: "freezer", false: "shelf"}[form == "frozen"])
	}
	kd.place = at
	kd.heat = eat.Heat * kd.edible
	kd.cap, kd.tires = eat.Cap/kd.edible/max(1, ratio), eat.Tires
	kd.likes = kd.cap
	if most := src.food.Most; most > 0 {
		kd.cap = min(kd.cap, most/kd.edible)
	}
	kd.litres = roomPerKg(form, src)
	b.lives(&kd, src.food)
	b.compose(&kd, food, ratio, eat)
	if c := src.crop; c != nil && (form == "fresh" || form == "dry") {
		kd.has = npk{max(kd.eats.n, c.N/1000), max(kd.eats.p, c.P/1000), max(kd.eats.k, c.K/1000)}
	}
	kd.perEdible = 1 / kd.edible
	if kd.mj > 0 {
		kd.perMJ = 1 / kd.mj
	}
	b.kindsBy[kd.food] = append(b.kindsBy[kd.food], len(b.m.kinds))
	b.m.kinds = append(b.m.kinds, kd)
	return len(b.m.kinds) - 1, nil
}

// roomPerKg is the shelf room of a kg, L (common practice: roots and fruit in
// boxes 0.6 kg/L, grain and pulses 0.75, nuts in shell 0.4, dried fruit 0.5,
// jars and freezer packs 0.9).
func roomPerKg(form string, src source) float64 {
	switch {
	case form == "dry" && src.food.Category == "nut":
		return 1 / 0.4
	case form == "dry":
		return 1 / 0.75
	case form == "dried":
		return 1 / 0.5
	case form == "fresh":
		return 1 / 0.6
	}
	return 1 / 0.9
}

// compose fills a kind's nutrients, energy and N, P, K per kg as stored.
func (b *builder) compose(kd *kind, food *data.Food, ratio float64, eat *data.Eating) {
	b.m.composition = slices.Grow(b.m.composition, len(b.tab.Nutrients))
	values := food.Nutrient
	losses := []string{eat.Retain}
	if food.ID == kd.food { // a row of its own has the losses of its form in its figures
		losses = append(losses, "preserved/"+kd.form)
	}
	for _, name := range losses {
		if ret, ok := b.tab.Retention(name); ok {
			values = diet.Retained(values, b.tab.Nutrients, ret)
		}
	}
	at := func(id string) float64 {
		if j := b.tab.NutrientIndex(id); j >= 0 && !math.IsNaN(food.Nutrient[j]) {
			return food.Nutrient[j] * kd.edible * ratio
		}
		return 0
	}
	for j := range b.tab.Nutrients {
		v := values[j] * kd.edible * ratio
		b.m.blank = append(b.m.blank, math.IsNaN(v))
		if math.IsNaN(v) { // counted as none; Result.knowledge tells how much that is
			v = 0
		}
		b.m.composition = append(b.m.composition, v)
	}
	kd.mj = at("energy_mj")
	kd.eats = npk{at("protein_g") / 1000 * proteinN, at("phosphorus_mg") / 1e6, at("potassium_mg") / 1e6}
	kd.has = kd.eats
	if kd.edible < 1 { // peel and pods carry as much as what is eaten, kg for kg
		kd.has = kd.eats.times(1 / kd.edible)
	}
}

// class is the index of a row's class.
func (b *builder) class(eat *data.Eating) int {
	i := slices.Index(b.classes, eat.Class)
	b.m.classCap[i] = max(b.m.classCap[i], eat.CapAll)
	b.m.classWith[i] = max(b.m.classWith[i], eat.With)
	return i
}

// listClasses lists the eating classes in the table's order.
func (b *builder) listClasses() error {
	for _, e := range b.tab.Eating {
		if !slices.Contains(b.classes, e.Class) {
			b.classes = append(b.classes, e.Class)
		}
	}
	if len(b.classes) > classes {
		return fmt.Errorf("the eating table names %d classes; %d fit", len(b.classes), classes)
	}
	return nil
}

// lives sets how long a kind lasts in its place, month by month.
func (b *builder) lives(kd *kind, food *data.Food) {
	rows := b.tab.KeepingOf(food, kd.form)
	p := b.m.places[kd.place]
	for i := range kd.life {
		temp := p.temps[i]
		if kd.form == "frozen" {
			temp = -18
		}
		kd.life[i] = max(1, larder.LifeIn(rows, temp, p.rh))
	}
	switch least := slices.Min(kd.life[:]); {
	case least > 60:
		kd.each = longEach
	case least > 14:
		kd.each = shortEach
	}
}

// ways lists how a fresh kind can be put up here, best rank first. A product
// keeps the edible part's nutrients; its mass can't hold more energy than went in.
func (b *builder) ways(k int, src source) {
	for _, row := range b.tab.PutUps(src.food) {
		if b.placeFor(row.Method) < 0 {
			continue
		}
		to, err := b.kind(src.food.ID, row.Method)
		if err != nil {
			continue
		}
		from, made := &b.m.kinds[k], &b.m.kinds[to]
		out := from.edible * b.tab.MassOut(src.food, row.Method)
		if made.mj > 0 {
			out = min(out, from.mj/made.mj)
		}
		if out <= 0 {
			continue
		}
		made.has = from.eats.times(1 / out)
		made.eats = made.has
		made.litres = max(row.Litres, 0.5)
		from.putUp = append(from.putUp, putUp{to: to, out: out, refuse: 1 - from.edible,
			hours: row.Hours * from.edible, heat: row.Heat * from.edible, litres: made.litres})
	}
}

// lay lays out what every day asks of each plot and of each kind of food, once all
// are known.
func (b *builder) lay() error {
	m := b.m
	for i := range m.plots {
		m.soils = append(m.soils, m.plots[i].soil())
		if m.plots[i].rinsed > 0 {
			m.rinsed = append(m.rinsed, i)
		}
	}
	for i := range m.uses {
		u, g := &m.uses[i], &m.groups[m.uses[i].group]
		g.perHead, g.perDay = g.perHead+u.perHead, g.perDay+u.perDay
	}
	for month := range m.lives {
		m.lives[month], m.ages[month] = make([]float64, len(m.kinds)), make([]float64, len(m.kinds))
	}
	for k := range m.kinds {
		kd := &m.kinds[k]
		kd.refuse = kd.has.sub(kd.eats)
		for month, days := range kd.life {
			m.lives[month][k], m.ages[month][k] = days, float64(kd.each)/days
		}
	}
	return nil
}
