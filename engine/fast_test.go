package engine

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestStepIsTheReference: the demo's days come out as by the plain equations.
func TestStepIsTheReference(t *testing.T) {
	r := readyDemo(t, 3, 365)
	m := r.model(t)
	fast, plain := newRunner(m), newReference(m)
	for i, w := range r.ens.Members {
		fast.begin(i, w)
		plain.begin(i, w)
		sameDays(t, fast, plain)
	}
}

// TestStepIsTheReferenceWithLoopsAway: with any loop or limit away, too.
func TestStepIsTheReferenceWithLoopsAway(t *testing.T) {
	r := readyDemo(t, 1, 250)
	for i, w := range withoutNames {
		with := r
		with.opt.Without = 1 << i
		m := with.model(t)
		fast, plain := newRunner(m), newReference(m)
		fast.begin(0, r.ens.Members[0])
		plain.begin(0, r.ens.Members[0])
		t.Run(w.id, func(t *testing.T) { sameDays(t, fast, plain) })
	}
}

// TestStepIsTheReferenceOnRandomSteads: on drawn steads under drawn weather, too.
func TestStepIsTheReferenceOnRandomSteads(t *testing.T) {
	tab := load(t)
	rapid.Check(t, func(t *rapid.T) {
		r := drawnStead(t, tab)
		m, err := Prepare(r.st, r.tab, r.opt)
		if err != nil {
			t.Fatal(err)
		}
		fast, plain := newRunner(m), newReference(m)
		fast.begin(0, r.ens.Members[0])
		plain.begin(0, r.ens.Members[0])
		sameDays(t, fast, plain)
	})
}

// sameTol is how far rounding may drive a year apart, as a share.
const sameTol = 1e-9

// sameDays steps both to the end and compares all that they hold, at times a week
// apart, at times months, for the runner puts off what it can.
func sameDays(t failer, fast *runner, plain *reference) {
	for d := range fast.m.days {
		fast.pass(d)
		plain.step(d)
		if week := d / 7; d != fast.m.days-1 && (d%7 != 6 || week > 5 && week < 15 || week > 20 && week < 40) {
			continue
		}
		fast.upTo(d)
		a, b := fast.shows(), plain.shows()
		for i := range a {
			if !(math.Abs(a[i].v-b[i].v) <= sameTol*(1e-3+math.Abs(b[i].v))) {
				t.Fatalf("day %d: %s is %.15g; by the plain equations %.15g", d, a[i].name, a[i].v, b[i].v)
			}
		}
		clear(fast.s.eaten)
		clear(plain.s.eaten)
	}
}

type shown1 struct {
	name string
	v    float64
}

// shows lists all that a runner holds.
func (r *runner) shows() (out []shown1) {
	m, s := r.m, r.s
	add := func(name string, v ...float64) {
		for _, v := range v {
			out = append(out, shown1{name, v})
		}
	}
	three := func(name string, v npk) { add(name, v.n, v.p, v.k) }
	for i := range m.plots {
		name := m.plots[i].name
		add("water of "+name, s.top[i], s.sub[i])
		three("mineral of "+name, s.mineral[i])
		three("organic of "+name, s.organic[i])
		add("humus and litter of "+name, s.humus[i], s.litter[i])
	}
	for q := range m.plantings {
		c := &s.crop[q]
		name := fmt.Sprintf("%s %d", m.plantings[q].crop.ID, q)
		add("life of "+name, c.frac, c.picked, c.ripe, c.heat, float64(c.waited), float64(c.first), float64(c.cause), c.bloom)
		three("pool of "+name, c.pool)
		three("got of "+name, c.got)
		add("harvest of "+name, c.kg, c.seed)
	}
	for k := range m.kinds {
		name := m.kinds[k].name + " " + m.kinds[k].form
		if s.kg[k] > 0 {
			add("age of "+name, s.age[k])
		} else {
			add("age of "+name, 0)
		}
		add("store of "+name, s.kg[k], s.seed[k], s.eaten[k])
	}
	add("tanks", s.level...)
	add("asked", s.want...)
	add("had", s.got...)
	add("scraps, gas, urine, cover", s.scrapKg, s.gas, s.urine, s.cover)
	add("fuel", s.wood, s.bottle, s.battery)
	add("compost", s.freshKg, s.ripeKg)
	add("hours", s.bank, s.tended)
	for mat := range s.led {
		for from := range s.led[mat] {
			add(fmt.Sprintf("%s from %s", materialNames[mat], nodeNames[from]), s.led[mat][from][:]...)
		}
	}
	return out
}
