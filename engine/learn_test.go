package engine

import (
	"math"
	"math/rand/v2"
	"testing"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
	"evenstead/weather"

	"github.com/google/uuid"
)

// within tells whether hits of n lie within three standard errors of a chance
// (normal bounds of a binomial).
func binomial(hits, n int, p float64) bool {
	return math.Abs(float64(hits)-p*float64(n)) <= 3*math.Sqrt(float64(n)*p*(1-p))
}

// TestYieldBeliefIsCalibrated draws places and harvests as the belief supposes
// them: four in five true factors lie in the range, and the middle lies nearer
// the truth than the handbook does.
func TestYieldBeliefIsCalibrated(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	crop := &data.Crop{YieldLo: 1, YieldTyp: 2, YieldHi: 4}
	s0 := priorYield(crop)
	const places = 2000
	inside, off, handbook := 0, 0.0, 0.0
	for range places {
		truth := rng.NormFloat64() * s0
		y := &yieldEvidence{crop: crop}
		_, bed := y.spread()
		for year := range 1 + rng.IntN(4) {
			luck := logNormal(rng, cvYear)
			for plot := range 1 + rng.IntN(3) {
				room := 0.5 + 2*rng.Float64()
				could := min(math.Exp(truth), room) / min(1, room)
				*y.of(year, plot) = harvest{plot: plot, had: 10 * could * luck * logNormal(rng, math.Sqrt(math.Exp(bed)-1)), due: 10, room: room}
			}
		}
		mean, sd := y.belief()
		if math.Abs(truth-mean) < z80*sd {
			inside++
		}
		off += math.Abs(truth - mean)
		handbook += math.Abs(truth)
	}
	if !binomial(inside, places, 0.8) {
		t.Errorf("%d of %d true factors lie in the range that should hold four in five", inside, places)
	}
	if off > 0.7*handbook {
		t.Errorf("mean error %.3f, by the handbook alone %.3f", off/places, handbook/places)
	}
}

// TestWaterBeliefIsCalibrated does the same for catch and use.
func TestWaterBeliefIsCalibrated(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	const places, holds = 2000, 4000.0
	inCatch, inUse := 0, 0
	for range places {
		a, b := 1+rng.NormFloat64()*sdCatch, 1+rng.NormFloat64()*sdUse
		p := newPair()
		for range 3 + rng.IntN(10) {
			x, y := rng.Float64()*1500, 300+rng.Float64()*300
			sd := dipError(holds, x, y)
			p.see(x, y, a*x-b*y+rng.NormFloat64()*sd, sd)
		}
		sa, sb := p.sd()
		if math.Abs(a-p.a) < z80*sa {
			inCatch++
		}
		if math.Abs(b-p.b) < z80*sb {
			inUse++
		}
	}
	if !binomial(inCatch, places, 0.8) || !binomial(inUse, places, 0.8) {
		t.Errorf("of %d places %d catch and %d use factors lie in the range that should hold four in five", places, inCatch, inUse)
	}
}

// TestPairIsTheNormalPosterior checks two observations against the solution of the
// normal equations by hand: with no noise to speak of, two dips tell both factors.
func TestPairIsTheNormalPosterior(t *testing.T) {
	p := newPair()
	p.see(100, 50, 0.7*100-1.2*50, 0.01)
	p.see(20, 60, 0.7*20-1.2*60, 0.01)
	if math.Abs(p.a-0.7) > 1e-3 || math.Abs(p.b-1.2) > 1e-3 {
		t.Errorf("factors %g and %g, want 0.7 and 1.2", p.a, p.b)
	}
}

// A trueYear is what a place with factors of its own would really have done.
type trueYear struct {
	entries []book.Entry
	known   *weather.Record
}

// live carries a stead through its days with factors and luck of its own, picks
// noted as they come home and tanks dipped every so many days.
func (r ready) live(tb testing.TB, member, days, every int, set func(*Model), rng *rand.Rand) trueYear {
	tb.Helper()
	m := r.model(tb)
	set(m)
	run := newRunner(m)
	w := r.ens.Members[member]
	run.begin(member, w)
	run.luck.ill = nil
	var out trueYear
	had := make([]float64, len(m.plantings))
	add := func(d int, kind book.Kind, what, where string, v float64, k unit.Kind) {
		e := book.Entry{Day: m.start + day.Day(d), Kind: kind, Body: book.Body{What: what, Where: where, Amount: v, Measure: k}}
		n := len(out.entries)
		e.ID = uuid.UUID{6: 0x70, 8: 0x80, 14: byte(n >> 8), 15: byte(n)}
		out.entries = append(out.entries, e)
	}
	for d := range days {
		if every > 0 && d > 0 && d%every == 0 {
			for g := range m.groups {
				v := max(0, run.s.level[g]+rng.NormFloat64()*stickError*m.groups[g].holds)
				add(d, book.Dipped, "", m.groups[g].name, min(v, m.groups[g].holds), unit.Volume)
			}
		}
		run.step(d)
		for q := range m.plantings {
			if kg := run.s.crop[q].kg; kg > had[q]+1e-6 {
				add(d+1, book.Picked, m.plantings[q].crop.ID, m.plots[m.plantings[q].plot].name, kg-had[q], unit.Mass)
				had[q] = kg
			}
		}
	}
	out.known = &weather.Record{Start: m.start, Rain: w.Rain[:days], TMin: w.TMin[:days], TMax: w.TMax[:days]}
	return out
}

// TestSimulatedTanksAreRecovered: steads whose roofs catch, and whose people
// draw, otherwise than the handbook has it. Dips find the factors out.
func TestSimulatedTanksAreRecovered(t *testing.T) {
	const steads = 60
	r := readyDemo(t, steads, 365)
	rng := rand.New(rand.NewPCG(1, 9))
	inCatch, inUse, seen, off, handbook := 0, 0, 0, 0.0, 0.0
	for i := range steads {
		a, b := clamp(1+rng.NormFloat64()*sdCatch, 0.4, 1.6), clamp(1+rng.NormFloat64()*sdUse, 0.4, 1.8)
		y := r.live(t, i, 330, 10, func(m *Model) {
			for g := range m.groups {
				m.catchBy[g], m.useBy[g] = a, b
			}
		}, rng)
		p := r.replayOf(t, r.st.Stay.From+330, History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: y.entries, Weather: y.known})
		for _, l := range p.Learned {
			switch l.What {
			case "rain caught into cabin":
				seen++
				off += math.Abs(l.Result[1] - a)
				handbook += math.Abs(1 - a)
				if a >= l.Result[0] && a <= l.Result[2] {
					inCatch++
				}
			case "water drawn from cabin":
				if b >= l.Result[0] && b <= l.Result[2] {
					inUse++
				}
			}
		}
	}
	if seen < steads*9/10 {
		t.Fatalf("of %d steads %d taught anything", steads, seen)
	}
	t.Logf("mean error of the catch %.3f (handbook %.3f); in the range of four in five: catch %d, use %d of %d", off/float64(seen), handbook/float64(seen), inCatch, inUse, seen)
	if off > 0.6*handbook {
		t.Errorf("mean error of the catch %.3f, by the handbook %.3f", off/float64(seen), handbook/float64(seen))
	}
	low := 0.8*float64(seen) - 3*math.Sqrt(float64(seen)*0.16)
	if float64(inCatch) < low || float64(inUse) < low {
		t.Errorf("of %d steads %d catch and %d use factors lie in a range that should hold four in five", seen, inCatch, inUse)
	}
}

// TestSimulatedHarvestsAreRecovered: a place that yields otherwise than the
// handbook has it, crop by crop, with the luck of its years.
func TestSimulatedHarvestsAreRecovered(t *testing.T) {
	const steads, days = 25, 420
	r := readyDemo(t, steads, days)
	rng := rand.New(rand.NewPCG(3, 4))
	inside, n, off, handbook := 0, 0, 0.0, 0.0
	for i := range steads {
		truth := map[string]float64{}
		y := r.live(t, i, days-8, 0, func(m *Model) {
			for q := range m.plantings {
				c := m.plantings[q].crop
				if _, ok := truth[c.Name]; !ok {
					truth[c.Name] = math.Exp(rng.NormFloat64() * priorYield(c))
				}
				m.placeBy[q] = truth[c.Name]
			}
		}, rng)
		p := r.replayOf(t, r.st.Stay.From+days-8, History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: y.entries, Weather: y.known})
		for _, l := range p.Learned {
			for name, f := range truth {
				if l.What != "yield of "+lower(name) {
					continue
				}
				n++
				off += math.Abs(math.Log(l.Result[1] / f))
				handbook += math.Abs(math.Log(f))
				if f >= l.Result[0] && f <= l.Result[2] {
					inside++
				}
			}
		}
	}
	t.Logf("%d factors: mean error of ln %.3f (handbook %.3f); %d in the range of four in five", n, off/float64(n), handbook/float64(n), inside)
	if n < steads*15 {
		t.Fatalf("%d factors learned from %d steads", n, steads)
	}
	if off > 0.95*handbook {
		t.Errorf("mean error %.3f, by the handbook %.3f", off/float64(n), handbook/float64(n))
	}
	if float64(inside) < 0.7*float64(n) {
		t.Errorf("%d of %d true factors lie in the range that should hold four in five", inside, n)
	}
}
