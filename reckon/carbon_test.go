package reckon

import (
	"math"
	"testing"

	"evenstead/engine"

	"pgregory.net/rapid"
)

func part(v float64) engine.Part { return engine.Part{Filled: v} }

// byHand is a household that eats 100 MJ of starch grown here and sets 10 MJ aside for
// seed, 10 kg going to the pail as peels, a quarter of which feed the digester.
func byHand() []engine.Balance {
	flow := func(from, to string, v float64) engine.AccountFlow {
		return engine.AccountFlow{From: from, To: to, Part: part(v)}
	}
	store := func(node string, before, after float64) engine.StoreChange {
		return engine.StoreChange{Node: node, Before: before, After: after}
	}
	nodes := []engine.StoreChange{store("house", 0, 0), store("soil", 0, 0), store("plants", 0, 0), store("larder", 0, 0), store("seed", 0, 2), store("scraps", 0, 0),
		store("digester", 0, 1.5), store("compost", 0, 7.5), store("toilet", 0, 0), store("hens and bees", 0, 0), store("fuel", 0, 0)}
	return []engine.Balance{
		{Material: "mass", Unit: "kg", Stores: nodes, Flows: []engine.AccountFlow{flow("air", "plants", 52), flow("plants", "larder", 50), flow("plants", "seed", 2), flow("larder", "scraps", 10),
			flow("larder", "house", 40), flow("house", "air", 40), flow("scraps", "compost", 7.5), flow("scraps", "digester", 2.5), flow("digester", "air", 0.1), flow("digester", "soil", 0.9)}},
		{Material: "energy", Unit: "MJ", Stores: []engine.StoreChange{store("larder", 0, 0), store("seed", 0, 10), store("fuel", 0, 0)}, Flows: []engine.AccountFlow{
			flow("sky", "plants", 110), flow("plants", "larder", 100), flow("plants", "seed", 10), flow("larder", "house", 100), flow("house", "air", 100), flow("wild land", "fuel", 1000), flow("fuel", "air", 1000)}},
	}
}

func TestCarbonByHand(t *testing.T) {
	b, ok := Carbon(byHand(), Mix{})
	if !ok {
		t.Fatal("no carbon of mass and energy")
	}
	eaten := 100 * (72.066 / 162.141) / 17 // 2.615 kg
	for _, c := range []struct {
		from, to string
		want     float64
	}{
		{"larder", "house", eaten},
		{"house", "air", eaten},                  // nothing goes to a toilet
		{"larder", "scraps", 0.95},               // 10 kg, a quarter dry, 38 in 100 of it carbon
		{"plants", "larder", eaten + 0.95},       // peels came in with the food
		{"plants", "seed", eaten / 10},           // seed is the same food
		{"air", "plants", 1.1*eaten + 0.95},      // and all was bound by the plants
		{"scraps", "compost", 0.75 * 0.95},       // in proportion of mass
		{"digester", "fuel", 0.1 * 0.38 / 0.9},   // 100 g of volatile solids
		{"digester", "soil", 0.9 / 2.4 * 0.1953}, // of the 0.2375 - 0.0422 left in 2.4 kg
		{"wild land", "fuel", 30.5},
		{"fuel", "air", 30.5 + 0.1*0.38/0.9},
	} {
		if got := of(&b, c.from, c.to).All(); math.Abs(got-c.want) > 1e-3 {
			t.Errorf("from %s to %s: %g kg, by hand %g", c.from, c.to, got, c.want)
		}
	}
	closes(t, &b)
	if _, ok := Carbon(byHand()[:1], Mix{}); ok {
		t.Error("carbon without energy")
	}
}

// closes checks that what a store gained is what came in less what left.
func closes(t interface {
	Errorf(string, ...any)
	Helper()
}, b *engine.Balance) {
	t.Helper()
	for _, s := range b.Stores {
		net, through := 0.0, 1.0
		for _, f := range b.Flows {
			if f.All() < -1e-9 {
				t.Errorf("%s to %s: %g", f.From, f.To, f.All())
			}
			if f.To == s.Node {
				net += f.All()
				through += f.All()
			}
			if f.From == s.Node {
				net -= f.All()
			}
		}
		if math.Abs(s.Before+net-s.After) > 1e-9*(through+s.Before) || s.Before < -1e-9 || s.After < -1e-9*through {
			t.Errorf("%s: %g before, %g more, %g after", s.Node, s.Before, net, s.After)
		}
	}
}

// TestCarbonCloses: whatever moves, every store's carbon adds up and none is made.
func TestCarbonCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := byHand()
		mass, energy := &all[0], &all[1]
		for _, way := range [][2]string{{"wild land", "larder"}, {"trade", "digester"}, {"trade", "hens and bees"}, {"hens and bees", "larder"}, {"hens and bees", "soil"},
			{"wild land", "toilet"}, {"house", "toilet"}, {"toilet", "air"}, {"toilet", "soil"}, {"compost", "soil"}, {"compost", "air"}, {"plants", "soil"}, {"soil", "air"},
			{"digester", "compost"}, {"larder", "not recorded"}, {"not recorded", "larder"}, {"larder", "hens and bees"}} {
			mass.Flows = append(mass.Flows, engine.AccountFlow{From: way[0], To: way[1], Part: engine.Part{Told: rapid.Float64Range(0, 40).Draw(t, "told"), Filled: rapid.Float64Range(0, 40).Draw(t, "filled")}})
		}
		for _, way := range [][2]string{{"trade", "larder"}, {"hens and bees", "larder"}, {"larder", "air"}, {"plants", "seed"}, {"seed", "air"}, {"trade", "fuel"}, {"fuel", "house"}, {"not recorded", "fuel"}} {
			energy.Flows = append(energy.Flows, engine.AccountFlow{From: way[0], To: way[1], Part: part(rapid.Float64Range(0, 400).Draw(t, "mj"))})
		}
		// Stores follow from what moved, as in any balance of the engine's.
		for _, b := range []*engine.Balance{mass, energy} {
			for i := range b.Stores {
				s := &b.Stores[i]
				s.Before, s.After = rapid.Float64Range(0, 50).Draw(t, "before"), 0
				s.After = s.Before
				for _, f := range b.Flows {
					if f.To == s.Node {
						s.After += f.All()
					}
					if f.From == s.Node {
						s.After -= f.All()
					}
				}
			}
		}
		b, _ := Carbon(all, Mix{rapid.Float64Range(0, 0.4).Draw(t, "protein"), rapid.Float64Range(0, 0.5).Draw(t, "fat")})
		closes(t, &b)
		r := RingOf(&b)
		if math.Abs(r.Off()) > 1e-9 {
			t.Errorf("what came in is off by %g", r.Off())
		}
	})
}

func TestMixOf(t *testing.T) {
	used := func(id string, v float64) engine.Use { return engine.Use{ID: id, Used: part(v)} }
	a := &engine.Account{Food: []engine.Use{used("energy_mj", 100), used("protein_g", 500), used("fat_g", 1000)}}
	if m := MixOf(a); math.Abs(m.Protein-0.085) > 1e-12 || math.Abs(m.Fat-0.37) > 1e-12 {
		t.Errorf("the mix %+v", m)
	}
	if m := MixOf(&engine.Account{}); m != UsualMix {
		t.Errorf("the mix of nothing %+v", m)
	}
}
