package plan

import (
	"context"
	"math"
	"testing"

	"evenstead/crop"
)

// TestSeedComesOffOnce: of every sowing that is fed the plan counts what is left of
// the harvest when its square metre's seed is set aside, and no less.
func TestSeedComesOffOnce(t *testing.T) {
	r := reckoning(t, text(t, "testdata/two-beds.toml"), "", "", 12, 1)
	look := func(keep bool) *years {
		a, st := ask(r), *r.Stead
		st.Terms.KeepSeed = keep
		a.Stead = &st
		y, err := a.look(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		return y
	}
	kept, bought := look(true), look(false)
	type key struct {
		crop    string
		day, on int
		watered bool
	}
	all, seen := map[key]float64{}, 0
	for _, w := range bought.sowings {
		if w.fed {
			all[key{w.crop.ID, int(w.day), w.on, w.watered}] = w.total
		}
		if sum(w.seed[:]) != 0 {
			t.Errorf("%s: seed is bought, and %g kg a m2 set aside", w.crop.ID, sum(w.seed[:]))
		}
	}
	for i := range kept.sowings {
		w := &kept.sowings[i]
		whole, ok := all[key{w.crop.ID, int(w.day), w.on, w.watered}]
		want := crop.KeptOfHarvest(w.crop, 1)
		if !ok || !w.fed || whole < 3*want {
			continue
		}
		if want > 0 {
			seen++
		}
		if math.Abs(whole-w.total-want) > 0.02*want+1e-3*whole || sum(w.seed[:]) > want*1.001 || sum(w.seed[:]) < 0.5*want { // less where a year brings nothing
			t.Errorf("%s sown %s: %.4f kg a m2 and %.4f of seed, %.4f with seed bought; its seed is %.4f", w.crop.ID, w.day, w.total, sum(w.seed[:]), whole, want)
		}
	}
	if seen < 10 {
		t.Errorf("only %d sowings compared", seen)
	}
}

// TestSeedToKeepIsTold: a plan tells what to keep of each harvest and from when: by
// hand 0.2 kg of potatoes for each square metre set.
func TestSeedToKeepIsTold(t *testing.T) {
	r := reckoning(t, text(t, "testdata/two-beds.toml"), "", "", 12, 1)
	p := made(t, ask(r, Wish{Kind: AtLeast, What: "potato", Area: 12}))
	area, first := map[string]float64{}, p.Today+364
	for _, l := range p.Sowings {
		area[l.Crop] += l.Area
		if l.Crop == "potato" {
			first = min(first, l.First)
		}
	}
	if area["potato"] < 12 {
		t.Fatalf("%.1f m2 of potatoes", area["potato"])
	}
	for _, k := range p.Keep {
		c, _ := r.Tables.Crop(k.Crop)
		if k.Kg > crop.KeptOfHarvest(c, k.Area)*1.001 || k.Area != area[k.Crop] || k.From < p.Today {
			t.Errorf("%+v is kept of %.1f m2", k, area[k.Crop])
		}
		if k.Crop == "potato" && (k.Kg < 0.9*0.2*k.Area || k.From != first) {
			t.Errorf("%.2f kg of potatoes are kept from %s for %.1f m2, first lifted %s", k.Kg, k.From, k.Area, first)
		}
		delete(area, k.Crop)
	}
	for id := range area {
		if c, _ := r.Tables.Crop(id); crop.KeptOfHarvest(c, 1) > 0 {
			t.Errorf("nothing is told to be kept of %s", id)
		}
	}
}
