package engine

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/water"
)

// Days before and after an entry on which the book alone speaks of what it is
// about: the rhythm in which such things are done, doubled (common practice).
const (
	quietSeason = 21  // picking, foraging, eggs, honey, putting up, spreading
	quietDaily  = 7   // feeding, watering
	quietMonth  = 45  // buying
	quietYear   = 180 // wood and bottles
)

// hear makes the deeds of the entries that fall within the days of the model up
// to today. It never fails: an entry that moves nothing, or can't be reckoned,
// is remarked on.
func (b *builder) hear() error {
	m := b.m
	m.deedAt = nil
	if b.past == nil {
		return nil
	}
	for i := range b.past.entries {
		e := &b.past.entries[i]
		if e.Day >= m.start-quietYear && e.Day <= m.today { // what was done just before is still spoken of
			b.entry = e
			if _, err := b.understand(e); err != nil {
				b.past.refuse(i, err)
			}
		}
	}
	m.deedAt = make([]int32, 1, m.skip+2)
	for i := range b.past.entries {
		e := &b.past.entries[i]
		if e.Day < m.start || e.Day > m.today || b.past.refused(i) || b.past.done {
			continue
		}
		for len(m.deedAt) <= int(e.Day-m.start) {
			m.deedAt = append(m.deedAt, int32(len(m.deeds)))
		}
		b.entry = e
		if do, err := b.understand(e); err == nil && do != nil {
			m.deeds = append(m.deeds, deed{i, do})
		}
	}
	for len(m.deedAt) < m.skip+2 {
		m.deedAt = append(m.deedAt, int32(len(m.deeds)))
	}
	return nil
}

// understand is what an entry does; nil when it moves nothing that is reckoned.
// It is asked twice: first so that every kind of food has its place, then for good.
func (b *builder) understand(e *book.Entry) (func(*runner), error) {
	switch e.Kind {
	case book.Picked:
		return b.pickedDeed(e)
	case book.Foraged, book.Taken, book.Received, book.Bought:
		return b.broughtDeed(e)
	case book.PutUp:
		return b.putUpDeed(e)
	case book.Eaten, book.Lost, book.Given:
		return b.takenDeed(e)
	case book.Counted:
		return b.countedDeed(e)
	case book.Dipped, book.Watered, book.Moved, book.Treated:
		return b.waterDeed(e)
	case book.Fed:
		return b.fedDeed(e)
	case book.Spread, book.Emptied, book.Opened, book.Closed:
		return b.wasteDeed(e)
	case book.Cooked, book.FuelIn:
		return b.fuelDeed(e)
	case book.Hauled:
		return b.hauledDeed(e)
	}
	return nil, nil
}

// quietly widens the spells of a thing by those about the entry at hand.
func (b *builder) quietly(t *spells, within int) {
	*t = t.about(int(b.entry.Day-b.m.start), within)
}

// kindsOf are the kinds of food an entry may mean: by food, form and place; the
// likeliest is made when there is none yet.
func (b *builder) kindsOf(e *book.Entry) ([]int, error) {
	src, err := b.sourceOf(e.Body.What)
	if err != nil {
		return nil, err
	}
	at := b.placeNamed(e.Body.Where)
	var found []int
	for k := range b.m.kinds {
		kd := &b.m.kinds[k]
		if kd.food == src.food.ID && (e.Body.Form == "" || kd.form == e.Body.Form || e.Body.Form == "fresh" && kd.form == "dry") && (at < 0 || kd.place == at) {
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
	for i := range b.tab.Livestock {
		if a := &b.tab.Livestock[i]; a.Food == kd.food && strings.Contains(a.YieldUnit, "egg") {
			return e.Body.Amount * a.UnitKg, nil
		}
	}
	if kd.form == "jarred" {
		return e.Body.Amount * usualJar / kd.litres, nil
	}
	return 0, fmt.Errorf("%g pieces of %s can't be weighed from here: say how much in kg, lb, litres or quarts", e.Body.Amount, kd.name)
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

// plotOf finds a bed or stand by name.
func (b *builder) plotOf(name string) (int, error) {
	if p := b.plotNamed(name); p >= 0 {
		return p, nil
	}
	return 0, fmt.Errorf("there is no bed or stand %q", name)
}

// groupOf finds a tank group by its name or a tank's, with the share of the
// group's size that the name stands for.
func (b *builder) groupOf(name string) (g int, share float64, err error) {
	for i, grp := range b.st.Groups() {
		if grp.Name == name {
			return i, 1, nil
		}
		for _, t := range grp.Tanks {
			if b.st.Tanks[t].Name == name {
				return i, b.st.Tanks[t].Holds / grp.Holds, nil
			}
		}
	}
	return 0, 0, fmt.Errorf("there is no tank %q", name)
}

func (b *builder) waterDeed(e *book.Entry) (func(*runner), error) {
	v := e.Body.Amount
	switch e.Kind {
	case book.Treated:
		by := e.Body.Extra["by"] + e.Body.What
		filtered := !strings.Contains(by, "boil") && !strings.Contains(by, "chlor") && !strings.Contains(by, "sun")
		return func(r *runner) {
			r.said.treated += v
			if filtered {
				r.s.filterLeft = max(0, r.s.filterLeft-v)
			}
		}, nil
	case book.Watered:
		return b.wateredDeed(e)
	}
	g, share, err := b.groupOf(e.Body.Where)
	if err != nil {
		return nil, err
	}
	if e.Kind == book.Dipped {
		litres := v / share // joined tanks share a level
		switch e.Body.Measure {
		case unit.Share:
			litres = v * b.m.groups[g].holds
		case unit.Length:
			if litres, err = b.litresAt(e.Body.Where, v); err != nil {
				return nil, err
			}
		}
		return func(r *runner) { r.setLevel(g, litres) }, nil
	}
	to, _, err := b.groupOf(e.Body.Extra["to"])
	if err != nil {
		if p := b.plotNamed(e.Body.Extra["to"]); p >= 0 {
			return func(r *runner) { r.waterTold(g, p, v) }, nil
		}
		return nil, fmt.Errorf("water moved from %s: say to which tank or bed, such as: to cabin", e.Body.Where)
	}
	return func(r *runner) { r.moveWater(g, to, v) }, nil
}

// litresAt is what a tank's group holds when it is dipped at a depth, m: joined
// tanks share the tank's fill.
func (b *builder) litresAt(name string, depth float64) (float64, error) {
	i := slices.IndexFunc(b.st.Tanks, func(t stead.Tank) bool { return t.Name == name })
	if i < 0 {
		return 0, fmt.Errorf("%s is a group of tanks: dip one of them by its name, or say how many litres", name)
	}
	t := &b.st.Tanks[i]
	if t.Height == 0 {
		return 0, fmt.Errorf("%s has no height in the description, so a depth can't be turned to litres: write height = \"1 m\", or dip it in litres", name)
	}
	if depth > t.Height*1.02 {
		return 0, fmt.Errorf("%s is %.2f m high and can't be dipped at %.2f m", name, t.Height, depth)
	}
	shape := map[string]water.Kind{"lying": water.Lying, "box": water.Box}[t.Shape]
	form := water.Shape{Kind: shape, Diameter: t.Height, Length: 1, Width: 1, Height: t.Height}
	g, _, err := b.groupOf(name)
	return form.Volume(depth) / form.Full() * b.m.groups[g].holds, err
}

func (b *builder) wateredDeed(e *book.Entry) (func(*runner), error) {
	p, err := b.plotOf(e.Body.Where)
	if err != nil {
		return nil, err
	}
	plot := &b.m.plots[p]
	g := plot.group
	if from := e.Body.Extra["from"]; from != "" {
		if g, _, err = b.groupOf(from); err != nil {
			return nil, err
		}
	}
	if len(b.m.groups) == 0 {
		g = -1
	}
	litres := e.Body.Amount
	switch e.Body.Measure {
	case unit.Depth:
		litres *= plot.area
	case unit.Time:
		if !(plot.litreHours > 0) {
			return nil, fmt.Errorf("%s is not watered by the description: say how many litres", e.Body.Where)
		}
		litres /= plot.litreHours
	case "":
		return nil, errors.New("say how much water: litres, gallons, mm or minutes")
	}
	b.quietly(&plot.watered, quietDaily)
	return func(r *runner) { r.waterTold(g, p, litres) }, nil
}

// litreKg is the weight of scraps, compost and feed by volume, kg/L (common
// practice: kitchen scraps and finished compost 0.5 to 0.6).
const litreKg = 0.55

// heavy is an entry's amount in kg where no food is meant.
func heavy(e *book.Entry) float64 {
	if e.Body.Measure == unit.Volume {
		return e.Body.Amount * litreKg
	}
	return e.Body.Amount
}

func (b *builder) fedDeed(e *book.Entry) (func(*runner), error) {
	kg := heavy(e)
	switch where := e.Body.Where; {
	case b.isDigester(where):
		if b.m.dig == nil {
			return nil, errors.New("no digester is described: add [[digester]]")
		}
		b.quietly(&b.m.dig.fedTold, quietDaily)
		return func(r *runner) { r.feedTold(kg) }, nil
	case b.isFlock(where):
		return b.fedBirds(e)
	}
	if e.Body.What == "" || strings.Contains(e.Body.What, "scrap") || strings.Contains(e.Body.What, "food") {
		return func(r *runner) { r.scrapsTold(kg) }, nil
	}
	if _, err := b.sourceOf(e.Body.What); err == nil {
		kinds, err := b.kindsOf(e)
		if err != nil {
			return nil, err
		}
		return func(r *runner) {
			k := r.fullest(kinds)
			r.holds(k, kg)
			r.waste(k, kg)
			r.scrapsTold(kg)
		}, nil
	}
	has := b.heapHas(e.Body.What).times(kg)
	return func(r *runner) { r.toCompost(atWild, kg, has) }, nil
}

// heapHas is what a kg of a compost material holds; nothing is known of the rest.
func (b *builder) heapHas(id string) npk {
	for i := range b.tab.CompostMaterials {
		if m := &b.tab.CompostMaterials[i]; m.ID == id && m.N > 0 && m.Moisture >= 0 {
			dry := 1 - m.Moisture
			return npk{m.N * dry, m.N * dry / 8, m.N * dry / 2}
		}
	}
	return npk{}
}

func (b *builder) isDigester(name string) bool {
	return strings.Contains(name, "digester") || len(b.st.Digesters) > 0 && b.st.Digesters[0].Name == name
}

func (b *builder) isFlock(name string) bool {
	return strings.Contains(name, "flock") || strings.Contains(name, "hen") || slices.ContainsFunc(b.st.Flocks, func(f stead.Flock) bool { return f.Kind == name })
}

// fedBirds gives the flock food of one's own; bought feed is in the description.
func (b *builder) fedBirds(e *book.Entry) (func(*runner), error) {
	if len(b.m.flocks) == 0 {
		return nil, errors.New("no flock is described: add [[flock]]")
	}
	if _, err := b.sourceOf(e.Body.What); err != nil {
		return nil, nil
	}
	kinds, err := b.kindsOf(e)
	if err != nil {
		return nil, err
	}
	kg := heavy(e)
	return func(r *runner) {
		k, f := r.fullest(kinds), &r.m.flocks[0]
		kind := &r.m.kinds[k]
		r.holds(k, kg)
		r.s.kg[k] = max(0, r.s.kg[k]-kg)
		has := kind.has.times(kg)
		l := &r.s.led
		l.flow(mMass, atLarder, atStock, kg)
		l.npk(atLarder, atStock, has)
		l.flow(mEnergy, atLarder, atAir, kg*kind.mj)
		r.litter(f, has, kg/2) // half is breathed out (common practice)
		l.flow(mMass, atStock, atAir, kg/2)
	}, nil
}

// drumOf reads "drum 2".
func (m *Model) drumOf(name string) (int, bool) {
	_, n, ok := strings.Cut(name, "drum ")
	i, err := strconv.Atoi(strings.TrimSpace(n))
	if !ok || err != nil || m.toilet == nil || i < 1 || i > m.toilet.drums {
		return 0, false
	}
	return i - 1, true
}

func (b *builder) wasteDeed(e *book.Entry) (func(*runner), error) {
	named := e.Body.Where
	if e.Kind == book.Spread {
		named = e.Body.What
	}
	if i, ok := b.m.drumOf(named); ok {
		return b.drumDeed(e, i)
	}
	switch e.Kind {
	case book.Spread:
		return b.spreadDeed(e)
	case book.Emptied:
		return b.emptiedDeed(e)
	}
	return nil, nil // a bin or a crock shut or opened moves nothing
}

func (b *builder) drumDeed(e *book.Entry, i int) (func(*runner), error) {
	if e.Kind == book.Closed {
		return func(r *runner) { r.closeTold(i) }, nil
	}
	to := b.m.toilet.drumTo
	for _, name := range []string{e.Body.Extra["to"], e.Body.Where} {
		if p := b.plotNamed(name); p >= 0 {
			to = []int{p}
		}
	}
	if e.Kind == book.Opened && e.Body.Extra["to"] == "" {
		return nil, nil // opened to look: it is spread when the book says so
	}
	b.quietly(&b.m.toilet.drumTold, quietSeason)
	return func(r *runner) { r.drumTold(i, to) }, nil
}

func (b *builder) spreadDeed(e *book.Entry) (func(*runner), error) {
	p, err := b.plotOf(e.Body.Where)
	if err != nil {
		return nil, err
	}
	what, litres := strings.ToLower(e.Body.What), e.Body.Amount
	if e.Body.Measure == unit.Number {
		return nil, fmt.Errorf("say how much %s in kg or litres, not in pieces", e.Body.What)
	}
	switch {
	case strings.Contains(what, "urine"):
		if b.m.toilet == nil || !b.m.toilet.apart {
			return nil, errors.New("no urine is kept apart by the description: set urine_apart under [[toilet]]")
		}
		if strings.Contains(what, "dilut") {
			litres /= 1 + b.m.toilet.dilution
		}
		b.quietly(&b.m.toilet.urineTold, quietSeason)
		return func(r *runner) { r.urineTold(p, litres) }, nil
	case strings.Contains(what, "digest") || strings.Contains(what, "slurry"):
		if b.m.dig == nil {
			return nil, errors.New("no digester is described: add [[digester]]")
		}
		b.quietly(&b.m.dig.outTold, quietDaily)
		return func(r *runner) { r.slurryTold([]int{p}, litres) }, nil
	case strings.Contains(what, "compost") || b.isCompost(e.Body.What):
		kg := heavy(e)
		b.quietly(&b.m.compost.told, quietSeason)
		return func(r *runner) { r.compostTold([]int{p}, kg) }, nil
	}
	kg, has := heavy(e), b.heapHas(e.Body.What).times(heavy(e))
	return func(r *runner) { // leaves, straw, ash and the like from beyond the stores
		r.s.led.flow(mMass, atWild, atSoil, kg)
		r.s.led.npk(atWild, atSoil, has)
		r.shareOut([]int{p}, kg, has, compostReady)
	}, nil
}

func (b *builder) isCompost(name string) bool {
	return slices.ContainsFunc(b.st.Composts, func(c stead.Compost) bool { return c.Name == name })
}

func (b *builder) emptiedDeed(e *book.Entry) (func(*runner), error) {
	to := b.m.compost.to
	if p := b.plotNamed(e.Body.Extra["to"]); p >= 0 {
		to = []int{p}
	}
	if b.isDigester(e.Body.Where) && b.m.dig != nil {
		litres := b.m.dig.liquid
		if e.Body.Measure == unit.Volume {
			litres = e.Body.Amount
		}
		b.quietly(&b.m.dig.outTold, quietDaily)
		return func(r *runner) { r.slurryTold(to, litres) }, nil
	}
	if b.isCompost(e.Body.Where) {
		all, kg := e.Body.Measure == "", heavy(e)
		b.quietly(&b.m.compost.told, quietSeason)
		return func(r *runner) {
			out := kg
			if all {
				out = r.s.ripeKg + r.s.freshKg
			}
			if out > 0 {
				r.compostTold(to, out)
			}
		}, nil
	}
	g, share, err := b.groupOf(e.Body.Where)
	if err != nil {
		return nil, nil // a crock
	}
	litres := e.Body.Amount
	return func(r *runner) {
		if litres == 0 {
			r.moveWater(g, -1, r.s.level[g]*share)
			return
		}
		r.moveWater(g, -1, litres)
	}, nil
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

// absent is a spell that the book says a person was away or ill.
type absent struct {
	who      string
	from, to day.Day // to is not in it
	ill      bool
}

// absences lists who was away or ill by the book, and for how long: a day when
// no time is written.
func absences(entries []book.Entry) []absent {
	var out []absent
	for i := range entries {
		e := &entries[i]
		if e.Kind != book.Away && e.Kind != book.Ill {
			continue
		}
		days := max(1, int(math.Round(e.Body.Amount/24)))
		who := e.Body.What
		if who == "" {
			who = e.Who
		}
		out = append(out, absent{who, e.Day, e.Day + day.Day(days), e.Kind == book.Ill})
	}
	return out
}
