package engine

import (
	"testing"

	"evenstead/stead"
)

// TestLoopsMatter takes loops away one at a time and looks for the effect a
// grower would expect on the demo.
func TestLoopsMatter(t *testing.T) {
	r := readyDemo(t, 40, 365)
	base := r.run(t)
	short := func(o *Outlook, id string) float64 { return o.must(t, id).lack() }
	for _, c := range []struct {
		why  string
		take Without
		id   string
		more bool // the lack grows
	}{
		{"no bought oil and salt: less fat", NoBought, "fat_g", true},
		{"nothing gathered, less food", NoForage | NoFlock | NoBees, "energy", true},
		{"no wood and bottle: cold pots", NoWood | NoBottle, "cooking", true},
		{"tanks without limit: beds drink", NoTankLimit, "beds", false},
		{"urine not returned: hungrier ground", NoUrine | NoCompost | NoDigester, "nitrogen", true},
		{"no drought: more food", NoDryStress, "energy", false},
	} {
		t.Run(c.why, func(t *testing.T) {
			with := r
			with.opt.Without = c.take
			got, was := short(with.run(t), c.id), short(base, c.id)
			if c.more && got < was || !c.more && got > was {
				t.Fatalf("%s: lack of %s went from %.4f to %.4f", c.take.Say(), c.id, was, got)
			}
		})
	}
}

// TestDrierIsWorse: half the rain never lengthens the cover of drinking or bed water.
func TestDrierIsWorse(t *testing.T) {
	r := readyDemo(t, 30, 365)
	base := r.run(t)
	for i := range r.ens.Members {
		w := &r.ens.Members[i]
		dry := make([]float64, len(w.Rain))
		for d, mm := range w.Rain {
			dry[d] = mm / 2
		}
		w.Rain = dry
	}
	half := r.run(t)
	for _, id := range []string{"drinking", "washing", "beds"} {
		if half.must(t, id).Middle > base.must(t, id).Middle {
			t.Errorf("%s: half the rain covers %d days, all of it %d", id, half.must(t, id).Middle, base.must(t, id).Middle)
		}
	}
}

func TestParseWithout(t *testing.T) {
	w, err := ParseWithout("greywater, hens")
	if err != nil || w != NoGreywater|NoFlock {
		t.Fatalf("got %v, %v", w, err)
	}
	if _, err := ParseWithout("hen"); err == nil {
		t.Fatal("an unknown loop was taken")
	}
	if len(WithoutNames()) != len(withoutNames) {
		t.Fatal("a loop has no name")
	}
}

func TestYearsInWords(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{{0, "no year"}, {0.02, "2 years of 100"}, {0.1, "1 year of 10"}, {0.62, "6 years of 10"}, {0.97, "more than 9 years of 10"}, {1, "every year"}} {
		if got := Years(c.p); got != c.want {
			t.Errorf("Years(%g) = %q, want %q", c.p, got, c.want)
		}
	}
}

// TestYoungPerennialsGiveNothing: asparagus planted this spring is not picked
// this spring, and an established bed is.
func TestYoungPerennialsGiveNothing(t *testing.T) {
	for _, c := range []struct {
		sow   string
		bears bool
	}{{"sow = \"2026-03-05\"\n", false}, {"", true}} {
		text := "place.latitude = 40\nperson = [{name=\"A\", sex=\"female\", age=30}]\nstay = {from = 2026-03-01}\n" +
			"[[bed]]\nname = \"b\"\narea = \"10 m2\"\nirrigated = false\n[[planting]]\nbed = \"b\"\ncrop = \"asparagus\"\n" + c.sow
		st, err := stead.Read("asparagus", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		o := readyFor(t, st, 5, 300).run(t)
		if kg := o.Crops[0].Kg.P50; (kg > 0.01) != c.bears {
			t.Errorf("%q gave %.2f kg", c.sow, kg)
		}
	}
}
