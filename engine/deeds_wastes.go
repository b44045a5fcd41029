package engine

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/stead"
	"evenstead/unit"
)

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
		r.shareOut([]int{p}, byBrought, kg, has, compostReady)
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

// coverDeed sets the cover material to what was found.
func (b *builder) coverDeed(e *book.Entry) (func(*runner), error) {
	switch {
	case b.m.toilet == nil:
		return nil, errors.New("no toilet is described that uses cover: add [[toilet]]")
	case e.Body.Measure != unit.Volume:
		return nil, errors.New("cover material is counted by its loose volume: write litres or gallons")
	}
	litres := e.Body.Amount
	return func(r *runner) {
		was, t := r.s.cover, r.m.toilet
		r.s.cover = litres
		kg := (litres - was) * t.coverKgL
		r.s.led.settle(mMass, atToilet, kg)
		for mat, v := range map[material]float64{mN: t.coverHas.n, mP: t.coverHas.p, mK: t.coverHas.k} {
			r.s.led.settle(mat, atToilet, kg*v)
		}
		if r.kept != nil {
			r.kept.drift("cover material", "L", was, litres, "counted", "more or less of it to a use than was written, or some that was not recorded")
		}
	}, nil
}
