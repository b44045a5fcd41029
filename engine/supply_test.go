package engine

import (
	"math"
	"testing"

	"evenstead/stead"
)

// TestLeakRunsOut: a tank that leaks loses so much a day, while there is water.
func TestLeakRunsOut(t *testing.T) {
	r := readyDemo(t, 1, 60)
	dry := r.st.Tanks
	sound := r.run(t)
	r.st.Tanks = append([]stead.Tank(nil), dry...)
	r.st.Tanks[0].Leak = 100
	leaky := r.run(t)
	at := func(o *Outlook) float64 {
		for _, s := range o.Stores {
			if s.ID == "tank:barn" {
				return s.Weeks[4].P50
			}
		}
		return math.NaN()
	}
	if lost := at(sound) - at(leaky); math.Abs(lost-2800) > 300 {
		t.Errorf("28 days at 100 L: %.0f L fewer", lost)
	}
}

// TestGutterLosesItsShare of what the roof sheds.
func TestGutterLosesItsShare(t *testing.T) {
	r := readyDemo(t, 1, 30)
	r.st.Roofs[0].Gutter = 0.25
	m := r.model(t)
	if got, want := m.roofs[0].coefficient, 0.85*0.75; math.Abs(got-want) > 1e-12 {
		t.Errorf("the roof's coefficient is %g, want %g", got, want)
	}
}

// TestWellOnlyByTheTerms: a well meets what the tanks lack, and only where the
// terms count it.
func TestWellOnlyByTheTerms(t *testing.T) {
	r := readyDemo(t, 10, 365)
	for i := range r.st.Tanks {
		r.st.Tanks[i].Level = r.st.Tanks[i].Dead
	}
	for i := range r.st.Roofs {
		r.st.Roofs[i].Area = 1
	}
	r.st.Supplies = []stead.Supply{{Name: "well", Kind: "well", Most: 5000}}
	shut := r.run(t).must(t, "drinking")
	if shut.ShareShort < 1 {
		t.Errorf("without the well drinking water fell short in %g of the years", shut.ShareShort)
	}
	r.st.Terms.Water = true
	if open := r.run(t).must(t, "drinking"); open.ShareShort > 0 {
		t.Errorf("with the well drinking water fell short in %g of the years", open.ShareShort)
	}
	r.st.Supplies[0].Most = 2
	if low := r.run(t).must(t, "drinking"); low.ShareShort < 1 {
		t.Errorf("a well of 2 L a day met it in %g of the years", 1-low.ShareShort)
	}
}

// TestDipByDepth: a depth becomes litres by the tank's shape; half of a lying
// drum is half of it, a quarter of its height is 0.196 of it (segment of a circle).
func TestDipByDepth(t *testing.T) {
	r := readyDemo(t, 2, 60)
	for i := range r.st.Tanks {
		if r.st.Tanks[i].Group == "cabin" {
			r.st.Tanks[i].Shape, r.st.Tanks[i].Height = "lying", 1
		}
	}
	today := r.st.Stay.From + 3
	for depth, share := range map[string]float64{"50 cm": 0.5, "25 cm": 0.19550, "1 m": 1} {
		p := r.replay(t, today, notes(t, r, today, "dipped tote 2 at "+depth))
		var holds float64
		for _, g := range p.end.groups {
			if g.name == "cabin" {
				holds = g.holds
			}
		}
		if got := p.level(t, "cabin") / holds; math.Abs(got-share) > 1e-5 {
			t.Errorf("dipped at %s: %.5f full, want %.5f", depth, got, share)
		}
	}
}

// TestTreesAlternate: of one stand's seasons a good year comes before a poor one
// more often than not, and the mean stays.
func TestTreesAlternate(t *testing.T) {
	r := readyDemo(t, 1, 1400)
	m := r.model(t)
	var l luck
	n, sum, with := 0, 0.0, 0.0
	for member := range 3000 {
		l.draw(m, member)
		for i := 1; i < len(m.plantings); i++ {
			g, b := &m.plantings[i], &m.plantings[i-1]
			if g.tree && g.plot == b.plot && g.crop.Form == "tree" {
				n++
				sum += l.crop[i]
				with += math.Log(l.crop[i]) * math.Log(l.crop[i-1])
			}
		}
	}
	if n == 0 || math.Abs(sum/float64(n)-1) > 0.01 {
		t.Errorf("mean of %d seasons %.4f, want 1", n, sum/float64(n))
	}
	if with > 0 {
		t.Error("a good year comes before a good one")
	}
}

// TestYearsHaveLuckOfTheirOwn: over four years the factor of one year tells
// nothing of the next, and the bees of one winter not of the next.
func TestYearsHaveLuckOfTheirOwn(t *testing.T) {
	r := readyDemo(t, 1, 1400)
	m := r.model(t)
	var l luck
	n, with, one, two := 0.0, 0.0, 0.0, 0.0
	for member := range 4000 {
		l.draw(m, member)
		if len(l.years) < 3 {
			t.Fatalf("%d years of luck in four years", len(l.years))
		}
		a, b := math.Log(l.years[0]), math.Log(l.years[1])
		n++
		with, one, two = with+a*b, one+a*a, two+b*b
	}
	if c := with / math.Sqrt(one*two); math.Abs(c) > 4/math.Sqrt(n) {
		t.Errorf("the factors of two years go together: %.3f", c)
	}
	l.draw(m, 7)
	first := l.hive[0]
	l.turn(m, 7, 1)
	second := l.hive[0]
	l.turn(m, 7, 1)
	if first == second || l.hive[0] != second {
		t.Errorf("hives of two years: %g and %g, drawn again %g", first, second, l.hive[0])
	}
}

// TestStagesAnswerToDrought: a dry flowering costs beans more than a dry start,
// and where no stage is printed the whole season counts (FAO 33, from memory:
// bean 0.2, 1.1, 0.75, 0.2).
func TestStagesAnswerToDrought(t *testing.T) {
	tab := load(t)
	bean, _ := tab.Crop("dry_bean")
	kale, _ := tab.Crop("kale")
	full := [stages]float64{100, 100, 100, 100}
	early, flowering := full, full
	early[0], flowering[1] = 60, 60
	for _, c := range []struct {
		g    planting
		had  [stages]float64
		want float64
	}{
		{planting{crop: bean}, full, 1},
		{planting{crop: bean}, early, 1 - 0.2*0.4},
		{planting{crop: bean}, flowering, 1 - 1.1*0.4},
		{planting{crop: kale, ky: 1}, early, 0.9},
		{planting{crop: kale, ky: 1}, flowering, 0.9},
	} {
		var lack [stages]float64
		for i := range lack {
			lack[i] = full[i] - c.had[i]
		}
		if got := c.g.watered(&cropState{lack: lack, etm: full}); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s with %v: %.3f, want %.3f", c.g.crop.Name, c.had, got, c.want)
		}
	}
	if g := (planting{shareIni: 0.2, shareDev: 0.3, shareMid: 0.3}); g.stage(0.1) != 0 || g.stage(0.55) != 1 || g.stage(0.7) != 2 || g.stage(0.9) != 3 {
		t.Error("stages of the season")
	}
}

// TestSpinachRunsToSeed when the days grow long, and not before.
func TestSpinachRunsToSeed(t *testing.T) {
	of := func(sow string) float64 {
		st, err := stead.Read("spinach", []byte(`
place.latitude = 48
people = 2
roof = [{ area = "200 m2", tank = "20000 L" }]
bed = [{ area = "10 m2" }]
planting = [{ bed = "bed 1", crop = "spinach", sow = "`+sow+`" }]
`))
		if err != nil {
			t.Fatal(err)
		}
		r := readyFor(t, st, 20, 200)
		r.opt.Without = NoHunger | NoPests
		return r.run(t).Crops[0].Kg.P50
	}
	if spring, late := of("15 Mar"), of("5 May"); !(late < 0.6*spring) {
		t.Errorf("sown on 15 March it gives %.1f kg, on 5 May %.1f", spring, late)
	}
}

// TestDripWetsLess: bare ground under drip loses less.
func TestDripWetsLess(t *testing.T) {
	r := readyDemo(t, 1, 30)
	can := r.model(t).plots[0].bareKc
	for i := range r.st.Beds {
		r.st.Beds[i].Irrigated, r.st.Beds[i].How = true, "drip"
	}
	if drip := r.model(t).plots[0].bareKc; math.Abs(drip-can*dripWets) > 1e-12 {
		t.Errorf("bare ground %g under the can, %g under drip", can, drip)
	}
}
