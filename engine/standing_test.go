package engine

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"

	"pgregory.net/rapid"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// sums holds a standing to the state it was read from.
func sums(t failer, p *Past, st *Standing) {
	m, s := p.end, p.ended
	held := m.stocks(s)
	tanks, kg, mj, used, litres := 0.0, 0.0, 0.0, 0.0, 0.0
	for _, g := range st.Tanks {
		each := 0.0
		for _, k := range g.Tanks {
			each += k.Level
		}
		if !near(each, g.Level) {
			t.Fatalf("%s holds %g L, its tanks %g", g.Name, g.Level, each)
		}
		tanks += g.Level
	}
	for _, l := range st.Lots {
		kg, mj, litres = kg+l.Kg, mj+l.MJ, litres+l.Litres
	}
	for _, l := range st.Places {
		used += l.Used
	}
	left := 0.0 // crumbs are no lot
	for k := range m.kinds {
		if s.kg[k] <= lastBite {
			left += s.kg[k]
		}
	}
	if math.Abs(used-litres) > 3*left+1e-6 {
		t.Fatalf("lots take %g L, the places hold %g", litres, used)
	}
	n, water := 0.0, 0.0
	for i, pl := range st.Plots {
		n += pl.Mineral.N * pl.Area / 1000
		water += (pl.Water - pl.Holds) * pl.Area
		n += s.organic[i].n + s.humus[i]
	}
	for what, pair := range map[string][2]float64{
		"water in tanks": {tanks, held[mWater][atTanks]}, "water in the soil": {water, held[mWater][atSoil]},
		"food": {kg + left, held[mMass][atLarder]}, "nitrogen of the soil": {n, held[mN][atSoil]},
		"compost": {st.Compost.Fresh + st.Compost.Ripe, held[mMass][atCompost]}, "its nitrogen": {st.Compost.FreshN + st.Compost.RipeN, held[mN][atCompost]},
	} {
		if !near(pair[0], pair[1]) {
			t.Fatalf("%s: %g shown, %g held", what, pair[0], pair[1])
		}
	}
	if math.Abs(mj-held[mEnergy][atLarder]) > 40*left+1e-6 {
		t.Fatalf("energy in store: %g MJ shown, %g held", mj, held[mEnergy][atLarder])
	}
	loopSums(t, st, &held)
}

func loopSums(t failer, st *Standing, held *[materials][nodes]float64) {
	fuels := 0.0
	for _, f := range st.Fuels {
		fuels += f.MJ
	}
	if st.Digester != nil {
		fuels += st.Digester.GasMJ
	}
	if fuels > held[mEnergy][atFuels]+1e-9 {
		t.Fatalf("fuels: %g MJ shown, %g held with the battery", fuels, held[mEnergy][atFuels])
	}
	if st.Toilet == nil {
		if held[mMass][atToilet] != 0 {
			t.Fatalf("no toilet is shown and it holds %g kg", held[mMass][atToilet])
		}
		return
	}
	if !near(st.Toilet.Urine, held[mWater][atToilet]) {
		t.Fatalf("urine: %g L shown, %g held", st.Toilet.Urine, held[mWater][atToilet])
	}
	for _, d := range st.Toilet.Drums {
		if d.Closed != 0 && d.Opens < d.Closed+365 {
			t.Fatalf("drum %d closed %s opens %s, within a year", d.Number, d.Closed, d.Opens)
		}
	}
}

// TestStandingSumsToTheState on the demo, on days through a year.
func TestStandingSumsToTheState(t *testing.T) {
	r := readyDemo(t, 2, 700)
	for _, days := range []day.Day{0, 12, 150, 300} {
		today := r.st.Stay.From + days
		text := ""
		if days >= 12 {
			text = week
		}
		p := r.replay(t, today, notes(t, r, today, text))
		sums(t, p, p.Standing())
		st, _, err := p.Year(r.tab, r.opt.Climate)
		if err != nil {
			t.Fatal(err)
		}
		sums(t, p, st)
	}
}

// TestStandingOfAnyBook sums whatever was written.
func TestStandingOfAnyBook(t *testing.T) {
	r := readyDemo(t, 2, 365)
	lines := strings.Split(strings.TrimSpace(week), "\n")
	today := r.st.Stay.From + 12
	rapid.Check(t, func(rt *rapid.T) {
		some := rapid.SliceOfN(rapid.SampledFrom(lines), 0, 30).Draw(rt, "lines")
		p := r.replay(t, today, notes(t, r, today, strings.Join(some, "\n")))
		sums(rt, p, p.Standing())
	})
}

// TestStandingLeavesThePastAlone: it is only read.
func TestStandingLeavesThePastAlone(t *testing.T) {
	r := readyDemo(t, 2, 365)
	p := r.replay(t, r.st.Stay.From+40, nil)
	before := p.ended.clone()
	p.Standing()
	if _, _, err := p.Year(r.tab, r.opt.Climate); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(before.kg, p.ended.kg) || !slices.Equal(before.level, p.ended.level) || !slices.Equal(before.crop, p.ended.crop) || !slices.Equal(before.top, p.ended.top) {
		t.Error("looking changed the state")
	}
}

// TestManyMayLookAtOnce is for the race detector.
func TestManyMayLookAtOnce(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 12
	p := r.replay(t, today, notes(t, r, today, week))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if _, _, err := p.Year(r.tab, r.opt.Climate); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
}

// TestStandingSaysWhatWasFound: counts and dips stand with day and drift.
func TestStandingSaysWhatWasFound(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 12
	st := r.replay(t, today, notes(t, r, today, "dipped barn at 9000 L yesterday\ncounted potatoes 18 kg yesterday\ncounted wood 300 kg yesterday\nrain 14 mm 3 days ago")).Standing()
	barn := st.Tanks[slices.IndexFunc(st.Tanks, func(g TankGroup) bool { return g.Name == "barn" })]
	if barn.How != "dipped" || barn.Day != today-1 || barn.Drift == nil || barn.Drift.Found != 9000 {
		t.Errorf("barn: %+v", barn.Sight)
	}
	if cabin := st.Tanks[slices.IndexFunc(st.Tanks, func(g TankGroup) bool { return g.Name == "cabin" })]; cabin.How != "described" || cabin.Drift != nil {
		t.Errorf("cabin was not dipped: %+v", cabin.Sight)
	}
	pot := st.Lots[slices.IndexFunc(st.Lots, func(l LotNow) bool { return l.Food == "potato" && l.Form == "fresh" })]
	if pot.How != "counted" || pot.Drift == nil || pot.Drift.Found != 18 || pot.Place != "banked store" {
		t.Errorf("potatoes: %+v", pot)
	}
	if st.Rain.MM != 14 || st.Rain.Known != 1 || barn.Caught <= 0 {
		t.Errorf("rain %+v, caught %g L", st.Rain, barn.Caught)
	}
	if st.Fuels[0].Name != "wood" || st.Fuels[0].How != "counted" {
		t.Errorf("fuels: %+v", st.Fuels)
	}
}

// TestLotsGoInOrder: soonest first, sound shares fall, a quarter before a half.
func TestLotsGoInOrder(t *testing.T) {
	r := readyDemo(t, 2, 365)
	st := r.replay(t, r.st.Stay.From+30, nil).Standing()
	if len(st.Lots) < 20 {
		t.Fatalf("%d lots of a full larder", len(st.Lots))
	}
	for i, l := range st.Lots {
		if i > 0 && lastly(l.Quarter) < lastly(st.Lots[i-1].Quarter) {
			t.Errorf("%s before %s", st.Lots[i-1].Name, l.Name)
		}
		if len(l.Sound) != 53 || l.Sound[0] != 1 || !slices.IsSortedFunc(l.Sound, func(a, b float64) int { return -cmpf(a, b) }) {
			t.Errorf("%s, %s: sound %v", l.Name, l.Form, l.Sound)
		}
		if l.Half != 0 && (l.Quarter == 0 || l.Quarter > l.Half || l.Quarter <= st.Today) {
			t.Errorf("%s: a quarter by %s, half by %s", l.Name, l.Quarter, l.Half)
		}
		if week := int(l.Half-st.Today-1) / 7; l.Half != 0 && week+1 < len(l.Sound) && (l.Sound[week] <= 0.5 || l.Sound[week+1] > 0.5) {
			t.Errorf("%s: half gone by %s, the weeks about it have %g and %g sound", l.Name, l.Half, l.Sound[week], l.Sound[week+1])
		}
	}
}

func cmpf(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// TestYearOfBeds: dates in order, what stands has no planned date, and the
// sowings of the description are there.
func TestYearOfBeds(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 40
	p := r.replay(t, today, nil)
	st, all, err := p.Year(r.tab, r.opt.Climate)
	if err != nil {
		t.Fatal(err)
	}
	potato, standing := false, 0
	for _, g := range all {
		if g.Sown > g.Full || g.Full > g.Last || g.First > g.Last || g.Sown >= g.First {
			t.Errorf("%s on %s: sown %s, full %s, picked %s to %s", g.Name, g.Plot, g.Sown, g.Full, g.First, g.Last)
		}
		if g.Done && g.Last > today || !g.Done && g.Last < today || g.Planned != (g.Sown >= today && !g.Perennial) {
			t.Errorf("on %s: %+v", today, g)
		}
		potato = potato || g.Crop == "potato" && g.Planned && g.Sown == day.Of(2027, 2, 25)
		if !g.Done && !g.Perennial && g.Sown < today {
			standing++
		}
		if g.Crop == "rye" && !g.Feeds {
			t.Error("rye is cut green for the ground")
		}
	}
	if !potato {
		t.Error("no potatoes to be sown on 25 February")
	}
	now := 0
	for _, pl := range st.Plots {
		for _, s := range pl.Stands {
			if !s.Perennial {
				now++
			}
			if s.First == 0 || (s.Toward < 1) != (s.First > today) {
				t.Errorf("%s on %s is %.2f of the way to its first picking, %s", s.Name, pl.Name, s.Toward, s.First)
			}
		}
	}
	if now != standing || now < 35 {
		t.Errorf("%d stands now, %d in the year of the beds", now, standing)
	}
}

// small steads: a description of four lines, the south, and one with nothing.
func TestStandingOfSmallSteads(t *testing.T) {
	texts := map[string]string{
		"four lines": string(demo.FourLines()),
		"south":      strings.Replace(string(demo.Quernfold()), `"40.1 N"`, `"40.1 S"`, 1),
		"bare":       "place.latitude = 50\npeople = 1\n",
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			st, err := stead.Read(name, []byte(text))
			if err != nil {
				t.Fatal(err)
			}
			r := readyFor(t, st, 2, 365)
			if err := Sow(st, r.tab, r.ens, nil); err != nil {
				t.Fatal(err)
			}
			p := r.replay(t, st.Stay.From+90, nil)
			now := p.Standing()
			sums(t, p, now)
			if _, _, err := p.Year(r.tab, r.opt.Climate); err != nil {
				t.Fatal(err)
			}
			if (now.Toilet == nil) != (len(st.Toilets) == 0) || (now.Digester == nil) != (len(st.Digesters) == 0) {
				t.Error("what is not described is shown, or what is described is not")
			}
		})
	}
}

func BenchmarkStanding(b *testing.B) {
	r := readyDemo(b, 2, 365)
	p := r.replay(b, r.st.Stay.From+40, nil)
	for b.Loop() {
		if _, _, err := p.Year(r.tab, r.opt.Climate); err != nil {
			b.Fatal(err)
		}
	}
}
