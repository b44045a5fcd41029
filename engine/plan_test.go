package engine

import (
	"context"
	"math"
	"testing"

	"evenstead/crop"
	"evenstead/day"
	"evenstead/stead"
)

// TestProbeAgreesWithTheRun: what a probe says of the stead's own stands is what
// a run without limits of tank, hours and hunger brings home of them.
func TestProbeAgreesWithTheRun(t *testing.T) {
	r := readyDemo(t, 6, 26*Fortnight)
	r.opt.Without = NoHunger | NoHourLimit | NoTankLimit | NoGreywater | NoUrine | NoCompost | NoDigester
	p, err := NewProbe(r.st, r.tab, r.opt, nil)
	if err != nil {
		t.Fatal(err)
	}
	tr, err := p.Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	res, err := r.model(t).Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	stands := res.StandKg()
	seen := 0
	for q := range tr.Stands {
		d := &tr.Stands[q]
		if d.Tree || d.Plot == "plums" {
			continue // what overflows and is led there is left out of a probe
		}
		for i := range tr.Members {
			sum := 0.0
			for _, kg := range d.Kg[i*tr.Slots : (i+1)*tr.Slots] {
				sum += float64(kg)
			}
			if math.Abs(sum-stands[q].Kg[i]) > 0.02*stands[q].Kg[i]+0.05 {
				t.Errorf("%s on %s, member %d: %.2f kg in the probe, %.2f in the run", d.Crop.ID, d.Plot, i, sum, stands[q].Kg[i])
			}
			seen++
		}
	}
	if seen < 100 {
		t.Errorf("only %d stands compared", seen)
	}
}

// TestProbeTakesSeedOffOnce: of what a stand gives, the probe tells food and seed
// apart, the seed of its square metre; with seed bought the food is more by it.
func TestProbeTakesSeedOffOnce(t *testing.T) {
	r := readyDemo(t, 4, 26*Fortnight)
	from := r.st.Stay.From
	seen := 0
	sums := func(keep bool) (kg, seed []float64, of *Tries) {
		r.st.Terms.KeepSeed = keep
		p, err := NewProbe(r.st, r.tab, r.opt, []Try{{Crop: "potato", Sow: from + 120, Irrigated: true}, {Crop: "barley", Sow: from + 20}, {Crop: "peanut", Sow: from + 200, Irrigated: true}})
		if err != nil {
			t.Fatal(err)
		}
		if of, err = p.Run(context.Background(), r.ens, r.opt); err != nil {
			t.Fatal(err)
		}
		for q := range of.Stands {
			d := &of.Stands[q]
			for i := range of.Members {
				a, b := 0.0, 0.0
				for s := i * of.Slots; s < (i+1)*of.Slots; s++ {
					a, b = a+float64(d.Kg[s]), b+float64(d.Seed[s])
				}
				kg, seed = append(kg, a), append(seed, b)
			}
		}
		return kg, seed, of
	}
	kg, seed, of := sums(true)
	all, none, _ := sums(false)
	for i := range kg {
		d := &of.Stands[i/of.Members]
		if none[i] != 0 || math.Abs(kg[i]+seed[i]-all[i]) > 1e-3*all[i] {
			t.Errorf("%s on %s: %g kg and %g of seed, %g with seed bought and then %g of seed", d.Crop.ID, d.Plot, kg[i], seed[i], all[i], none[i])
		}
		if d.Try >= 0 && kg[i] > 0 {
			seen++
			if want := crop.KeptOfHarvest(d.Crop, 1); math.Abs(seed[i]-want) > 1e-5*want {
				t.Errorf("%s: %g kg of seed a m2, want %g", d.Crop.ID, seed[i], want)
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d harvests of tries", seen)
	}
}

// TestProbeLeavesOutWhatCantGrow: a crop that frost kills, a perennial and one
// that is not known have no bed; a hardy one has.
func TestProbeLeavesOutWhatCantGrow(t *testing.T) {
	r := readyDemo(t, 2, 365)
	from := r.st.Stay.From
	p, err := NewProbe(r.st, r.tab, r.opt, []Try{
		{Crop: "tomato", Sow: from + 20}, {Crop: "apple", Sow: from + 20}, {Crop: "nothing", Sow: from + 20}, {Crop: "barley", Sow: from + 20},
	})
	if err != nil {
		t.Fatal(err)
	}
	tr, err := p.Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	var tries []int
	for i := range tr.Stands {
		if tr.Stands[i].Try >= 0 {
			tries = append(tries, tr.Stands[i].Try)
		}
	}
	if len(tries) != 1 || tries[0] != 3 {
		t.Errorf("tries in the ground: %v, want the barley alone", tries)
	}
}

// TestWaterYearsAddUp: with no beds and no overflow, what a tank gains over the
// year is what the run leaves in it less what it had.
func TestWaterYearsAddUp(t *testing.T) {
	st := &stead.Stead{Place: stead.Place{Latitude: 45, Soil: "loam", SoilDepth: 0.9, Organic: 0.03},
		Stay:   stead.Stay{From: day.Of(2027, 3, 1)},
		People: []stead.Person{{Name: "A", Sex: "female", Age: 30, Height: 1.65, Mass: 60, Activity: "active", State: "none", Hours: 20}},
		Roofs:  []stead.Roof{{Area: 40, Surface: "metal"}},
		Tanks:  []stead.Tank{{Name: "t", Holds: 1e6, Level: 1e4, Overflow: "away"}},
		Uses:   []stead.Use{{Name: "all", Kind: "washing", PerPerson: 20, Class: "any"}}}
	r := readyFor(t, st, 3, 364)
	m := r.model(t)
	w, err := m.WaterYears(context.Background(), r.ens)
	if err != nil {
		t.Fatal(err)
	}
	res, err := m.Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	at, ok := res.Levels("tank:t")
	if !ok {
		t.Fatal("no gauge of the tank")
	}
	if math.Abs(w.Today[0]-1e4) > 1e-6 {
		t.Errorf("today %.1f L, described 10,000", w.Today[0])
	}
	for i := range w.Net {
		gain := 0.0
		for _, v := range w.Net[i][0] {
			gain += v
		}
		if got, want := gain, at(i, 52)-1e4; math.Abs(got-want) > 1 {
			t.Errorf("member %d: gains %.1f L by fortnights, %.1f by the run", i, got, want)
		}
	}
}
