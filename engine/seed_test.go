package engine

import (
	"context"
	"math"
	"testing"

	"evenstead/day"
	"evenstead/stead"
)

// seedStead has a bed each of crops that are sown from what is eaten, and of one
// that is not.
const seedStead = `
[place]
latitude = 41.7
[stay]
from = 2027-01-01
[[person]]
name = "A"
sex = "female"
age = 40
[[bed]]
name = "tubers"
area = "10 m2"
[[bed]]
name = "bulbs"
area = "5 m2"
[[bed]]
name = "pulses"
area = "20 m2"
[[bed]]
name = "roots"
area = "10 m2"
[[planting]]
bed = "tubers"
crop = "potato"
sow = "15 Apr"
[[planting]]
bed = "bulbs"
crop = "garlic"
sow = "20 Nov"
[[planting]]
bed = "pulses"
crop = "pea_dry"
sow = "20 Feb"
[[planting]]
bed = "roots"
crop = "carrot"
sow = "1 May"
`

func readySeed(t *testing.T, text string, members, days int) ready {
	t.Helper()
	st, err := stead.Read("seed.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := readyFor(t, st, members, days)
	r.opt.Without = NoHourLimit
	return r
}

// TestSeedComesOffTheHarvest: what is set aside is what sows the ground again, by
// hand; with seed bought the larder gets it all, which is the harvest as it was.
func TestSeedComesOffTheHarvest(t *testing.T) {
	r := readySeed(t, seedStead, 5, 365)
	kept, err := r.model(t).Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	r.st.Terms.KeepSeed = false
	bought, err := r.model(t).Run(context.Background(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{ // m2 times g/m2, of peas what dies within a year beside
		"potato": 10 * 0.200, "garlic": 5 * 0.120, "pea_dry": 20 * 0.018 * 1.022, "carrot": 0,
	}
	had, all, seen := kept.StandKg(), bought.StandKg(), 0
	for q := range had {
		for i := range had[q].Kg {
			gross, seed := float64(kept.kg[i*len(had)+q]), float64(kept.seed[i*len(had)+q])
			if gross == 0 {
				continue
			}
			seen++
			if math.Abs(seed-min(gross, want[had[q].Crop])) > 0.002*seed {
				t.Errorf("%s, member %d: %.3f kg of seed of %.2f, want %.3f", had[q].Crop, i, seed, gross, want[had[q].Crop])
			}
			if math.Abs(all[q].Kg[i]-gross) > 1e-3*gross || math.Abs(all[q].Kg[i]-had[q].Kg[i]-seed) > 1e-3*gross {
				t.Errorf("%s, member %d: %.3f kg come in with seed bought, %.3f and %.3f of seed with seed kept", had[q].Crop, i, all[q].Kg[i], had[q].Kg[i], seed)
			}
		}
	}
	if seen < 15 {
		t.Fatalf("only %d harvests", seen)
	}
	o := kept.Outlook()
	for _, c := range o.Crops {
		if math.Abs(c.Seed-want[c.Crop]) > 0.002*c.Seed {
			t.Errorf("the outlook sets %.3f kg of %s aside, by hand %.3f", c.Seed, c.Crop, want[c.Crop])
		}
	}
	for _, c := range bought.Outlook().Crops {
		if c.Seed != 0 {
			t.Errorf("with seed bought %.3f kg of %s are set aside", c.Seed, c.Crop)
		}
	}
}

// TestSeedIsSown: what a harvest leaves waits apart, is not eaten, and goes into the
// ground when the bed is sown in the next year; by hand its nitrogen is in the plant.
func TestSeedIsSown(t *testing.T) {
	r := readySeed(t, seedStead, 1, 600)
	m := r.model(t)
	run := newRunner(m)
	run.begin(0, r.ens.Members[0])
	potato := -1
	for q := range m.plantings {
		if g := &m.plantings[q]; g.crop.ID == "potato" && m.start+day.Day(g.sow) > day.Of(2028, 1, 1) {
			potato = q
		}
	}
	g := &m.plantings[potato]
	before := m.stocks(run.s)
	for d := range g.sow {
		run.step(d)
	}
	if got := run.s.seed[g.kind]; math.Abs(got-2) > 1e-9 {
		t.Fatalf("%g kg of seed potatoes lie apart on the morning of planting, by hand 2", got)
	}
	run.step(g.sow)
	if got := run.s.seed[g.kind]; got != 0 {
		t.Errorf("%g kg of seed are left after planting", got)
	}
	if got, want := run.s.crop[potato].got.n, 2*m.kinds[g.kind].has.n; math.Abs(got-want) > 0.2*want {
		t.Errorf("the stand has %g kg of nitrogen on its first evening, its seed holds %g", got, want)
	}
	now := m.stocks(run.s)
	for mat := range materials {
		for n := atTanks; n < nodes; n++ {
			if diff := now[mat][n] - before[mat][n] - run.s.led.net(mat, n); math.Abs(diff) > 1e-9*(1+run.s.led.through(mat, n)+math.Abs(before[mat][n])) {
				t.Errorf("%s of %s is out by %g", materialNames[mat], nodeNames[n], diff)
			}
		}
	}
}

// TestWhatIsNotedAsPickedIsFood: an entry says what came in; nothing is taken off it.
// What the engine picks after it owes the seed.
func TestWhatIsNotedAsPickedIsFood(t *testing.T) {
	r := readySeed(t, seedStead, 1, 365)
	today := day.Of(2027, 9, 20)
	span := Span{r.st.Stay.From, today}
	arrival := func(text string) Arrival {
		for _, x := range r.accountOf(t, today, span, notes(t, r, today, text)).Arrivals {
			if x.Food == "potato" {
				return x
			}
		}
		t.Fatal("no potatoes came in")
		return Arrival{}
	}
	if x := arrival("picked 20 kg potatoes, tubers on 2027-08-15"); x.By[Grown] != (Part{Told: 20}) || x.Seed != 0 {
		t.Errorf("of 20 kg noted %+v came in and %g kg are seed", x.By[Grown], x.Seed)
	}
	if x := arrival(""); x.By[Grown].Told != 0 || x.By[Grown].Filled <= 0 || math.Abs(x.Seed-2) > 1e-9 {
		t.Errorf("with no note %+v came in and %g kg are seed, by hand 2", x.By[Grown], x.Seed)
	}
}

// TestTraceTellsSeed: following food through a year tells what of the harvest did not
// come in.
func TestTraceTellsSeed(t *testing.T) {
	r := readySeed(t, seedStead, 1, 365)
	r.opt.Without |= NoFoodLimit // it never falls short, so that the whole year is followed
	m := r.model(t)
	tr, err := m.Trace(t.Context(), r.ens, r.opt, "energy")
	if err != nil {
		t.Fatal(err)
	}
	told, want := 0.0, 0.0
	for _, w := range tr.Weeks {
		told += w.Seed
	}
	res, err := m.Run(t.Context(), r.ens, r.opt)
	if err != nil {
		t.Fatal(err)
	}
	for q, kg := range res.seed {
		want += float64(kg) * m.kinds[m.plantings[q].kind].mj
	}
	if want < 1 || math.Abs(told-want) > 1e-5*want {
		t.Errorf("the trace tells of %g MJ of seed, the harvests left %g", told, want)
	}
}
