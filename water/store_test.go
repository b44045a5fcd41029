package water

import (
	"math"
	"runtime"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawRain is a run of days, half of them dry.
func drawRain(r *rapid.T, least int) []float64 {
	days := rapid.IntRange(least, 90).Draw(r, "days")
	rain := make([]float64, days)
	for t := range rain {
		rain[t] = max(0, rapid.Float64Range(-40, 40).Draw(r, "rain"))
	}
	return rain
}

func drawRoof(r *rapid.T) Roof {
	return Roof{
		Area: rapid.Float64Range(1, 200).Draw(r, "area"), Coef: rapid.Float64Range(0, 1).Draw(r, "coef"),
		Gutter: rapid.Float64Range(0, 0.5).Draw(r, "gutter"), Flush: rapid.Float64Range(0, 100).Draw(r, "flush"),
		Drains: rapid.IntRange(0, 4).Draw(r, "drains"),
	}
}

func drawStore(r *rapid.T) Store {
	size := rapid.Float64Range(1, 4000).Draw(r, "size")
	return Store{
		Size: size, Dead: size * rapid.Float64Range(0, 1).Draw(r, "dead"),
		Open: rapid.Float64Range(0, 4).Draw(r, "open"), Leak: rapid.Float64Range(0, 20).Draw(r, "leak"),
	}
}

func rules(r *rapid.T) Rule {
	return []Rule{YAS, YBS}[rapid.IntRange(0, 1).Draw(r, "rule")]
}

func TestRoofPartsEveryLitre(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		roof, rain := drawRoof(r), drawRain(r, 1)
		var d Diverter
		for _, p := range rain {
			s := roof.Day(p, &d)
			if e := s.Caught + s.Flushed + s.Lost - Catch(p, roof.Area, roof.Coef); math.Abs(e) > 1e-9 {
				r.Fatalf("balance out by %v: %+v", e, s)
			}
			if s.Caught < 0 || s.Flushed < 0 || s.Lost < 0 || d.held > roof.Flush+1e-9 {
				r.Fatalf("out of bounds: %+v, diverter %+v", s, d)
			}
		}
	})
}

// TestRoofAgreesWithFlushReset holds the roof to the two-function form of a
// diverter that one dry day empties.
func TestRoofAgreesWithFlushReset(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		roof, rain := drawRoof(r), drawRain(r, 1)
		roof.Gutter, roof.Drains = 0, 1
		room := roof.Flush
		for t, q := range roof.Inflow(rain) {
			caught, flushed := CatchAfterFlush(rain[t], roof.Area, roof.Coef, room)
			room = FlushReset(room, flushed, roof.Flush, rain[t])
			if math.Abs(caught-q) > 1e-9 {
				r.Fatalf("day %d: %v and %v", t, caught, q)
			}
		}
	})
}

func TestDiverterFillsOnceInAWetSpell(t *testing.T) {
	roof := Roof{Area: 40, Coef: 1, Flush: 30, Drains: 2}
	rain := []float64{0.5, 0.5, math.NaN(), 1, 0, 0, 1, 0, 1}
	want := []float64{0, 10, 0, 40, 0, 0, 10, 0, 40} // two dry days empty it, one or an unknown day does not
	for i, got := range roof.Inflow(rain) {
		near(t, "caught", got, want[i], 1e-9)
	}
	leaky := Roof{Area: 40, Coef: 1, Gutter: 0.25}
	near(t, "past a leaking gutter", leaky.Inflow([]float64{2})[0], 60, 1e-9)
}

func TestStoreKeepsEveryLitre(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, rule := drawStore(r), rules(r)
		d := Days{Inflow: drawRoof(r).Inflow(drawRain(r, 1)), Demand: []float64{30, 0, 400}, ET0: []float64{2, 9}}
		start := rapid.Float64Range(0, s.Size).Draw(r, "start")
		c := s.Run(d, start, rule)
		level := start
		for t, q := range d.Inflow {
			out := level + q - c.Drawn[t] - c.Spilt[t] - c.Levels[t]
			if out < -1e-9 || out > s.Leak+1.05*9*s.Open+1e-9 {
				r.Fatalf("day %d loses %v", t, out)
			}
			if c.Levels[t] < 0 || c.Levels[t] > s.Size+1e-9 || c.Drawn[t] < 0 || c.Spilt[t] < -1e-9 {
				r.Fatalf("day %d out of bounds", t)
			}
			level = c.Levels[t]
		}
		sum := c.Total
		if e := start + sum.Inflow - sum.Yield - sum.Spill - sum.Lost - sum.End; math.Abs(e) > 1e-6 {
			r.Fatalf("balance out by %v: %+v", e, sum)
		}
		if tally := s.Tally(d, start, rule); tally != sum {
			r.Fatalf("a tally differs from its course: %+v, %+v", tally, sum)
		}
	})
}

// TestChainKeepsEveryLitre follows rain off two roofs through an upper store that
// spills into a lower one.
func TestChainKeepsEveryLitre(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rain := drawRain(r, 1)
		above := Case{Rain: rain, ET0: []float64{5}, Roofs: []Roof{drawRoof(r)}, Store: drawStore(r), Demand: []float64{25}, Rule: rules(r)}
		top := above.Store.Run(above.Days(), 0, above.Rule)
		below := Case{Rain: rain, ET0: []float64{5}, Roofs: []Roof{drawRoof(r)}, Piped: top.Spilt, Store: drawStore(r), Demand: []float64{60}, Rule: above.Rule}
		foot := below.Store.Run(below.Days(), 0, below.Rule)
		shed, turned := 0.0, 0.0
		for _, roof := range append(above.Roofs, below.Roofs...) {
			var d Diverter
			for _, p := range rain {
				s := roof.Day(p, &d)
				shed += Catch(p, roof.Area, roof.Coef)
				turned += s.Flushed + s.Lost
			}
		}
		a, b := top.Total, foot.Total
		out := turned + a.Yield + a.Lost + a.End + b.Yield + b.Lost + b.End + b.Spill
		if math.Abs(shed-out) > 1e-6 {
			r.Fatalf("%v L shed, %v L found again", shed, out)
		}
	})
}

func TestDeadWaterIsNotDrawn(t *testing.T) {
	s := Store{Size: 100, Dead: 40}
	st, _ := s.Day(30, 5, 20, 0, YAS)
	near(t, "below the tap", st.Yield, 0, 0)
	near(t, "kept", st.End, 35, 1e-9)
	st, _ = s.Day(30, 50, 20, 0, YBS)
	near(t, "same day, dead part filled first", st.Yield, 20, 0)
	near(t, "end", st.End, 60, 1e-9)
	st, _ = s.Day(50, 90, 20, 0, YAS)
	near(t, "spilt", st.Spill, 40, 1e-9)
	near(t, "full less the draw", st.End, 90, 1e-9)
	all := Store{Size: 100, Dead: 300}
	st, _ = all.Day(50, 80, 20, 0, YAS)
	near(t, "a tap above the brim", st.Yield, 0, 0)
	near(t, "holds no more", st.End, 100, 1e-9)
}

func TestLossesTakeWhatThereIs(t *testing.T) {
	s := Store{Size: 100, Open: 2, Leak: 3}
	st, lost := s.Day(50, 0, 0, 10, YAS)
	near(t, "lost", lost, 24, 1e-9)
	near(t, "end", st.End, 26, 1e-9)
	_, lost = s.Day(4, 0, 0, 10, YAS)
	near(t, "no more than there is", lost, 4, 0)
}

func TestARunOfAPlainStoreIsSimulate(t *testing.T) {
	in := seattleRoof(t, 0)
	got := Store{Size: 3000}.Tally(Days{Inflow: in, Demand: []float64{100}}, 0, YAS)
	if want := Simulate(in, 100, 3000, 0, YAS); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// TestARecordComesRound runs on from where a run ends: nothing is changed by it.
func TestARecordComesRound(t *testing.T) {
	d := Days{Inflow: seattleRoof(t, 0), Demand: []float64{80}}
	s := Store{Size: 2000, Dead: 50}
	start := s.Settled(d, YAS)
	c := s.Run(d, start, YAS)
	near(t, "end", c.Total.End, start, 1e-9)
}

func TestLongerVolumesFailNoOftener(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := Case{Rain: drawRain(r, 2), ET0: []float64{4}, Roofs: []Roof{drawRoof(r)}, Store: drawStore(r), Demand: []float64{20, 90}, Rule: rules(r)}
		was := c.tally(c.Days(), c.Store)
		more := c.sized(c.Store.Size * rapid.Float64Range(1, 4).Draw(r, "times"))
		if is := c.tally(c.Days(), more); is.Full < was.Full || is.Yield < was.Yield-1e-6 {
			r.Fatalf("%v L: %+v; %v L: %+v", c.Store.Size, was, more.Size, is)
		}
	})
}

// TestADayIsMetWhateverTheLastDigit: what ten days brought meets a day that asks for
// all of it, though ten tenths added up are a hair less than one.
func TestADayIsMetWhateverTheLastDigit(t *testing.T) {
	for k := 1; k <= 100; k++ {
		d := Days{Inflow: make([]float64, 11), Demand: make([]float64, 11)}
		for day := range 10 {
			d.Inflow[day] = float64(k) / 10
		}
		d.Demand[10] = float64(k)
		s := Store{Size: 500}
		if got, lasts := s.Tally(d, 0, YAS).Full, s.Lasts(d, 0, YAS); got != 11 || lasts != 11 {
			t.Errorf("%d L asked of ten tenths: %d days met, lasts %d, want 11", k, got, lasts)
		}
	}
}

func TestVolumeForIsTheLeast(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := Case{Rain: drawRain(r, 10), Roofs: []Roof{drawRoof(r)}, Store: drawStore(r), Demand: []float64{30}, Rule: YAS}
		rt := rapid.Float64Range(0.1, 1).Draw(r, "share")
		v, ok := c.VolumeFor(rt)
		if !ok {
			if got := c.tally(c.Days(), c.sized(1e9)).Rt; got >= rt {
				r.Fatalf("none is said to do, and a huge one meets %v of %v", got, rt)
			}
			return
		}
		d := c.Days()
		if got := c.tally(d, c.sized(v)).Rt; got < rt {
			r.Fatalf("%v L meets %v, not %v", v, got, rt)
		}
		if low := v - 1; low > 0 && c.tally(d, c.sized(low)).Rt >= rt {
			r.Fatalf("%v L would do, not %v", low, v)
		}
	})
}

func TestVolumeForWhatCantBeMet(t *testing.T) {
	c := seattleCase(t, 1000, 500)
	if v, ok := c.VolumeFor(0.9); ok {
		t.Errorf("%v L is said to meet three times what falls", v)
	}
	if v := c.NoFail(); !math.IsInf(v, 1) {
		t.Errorf("no failure with %v L", v)
	}
}

// TestNoFailHoldsWithTwoDaysMore starts full at the no-fail volume and two days'
// draft: yield after spillage never fails.
func TestNoFailHoldsWithTwoDaysMore(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := Case{Rain: drawRain(r, 2), Roofs: []Roof{drawRoof(r)}, Store: drawStore(r), Rule: YAS}
		c.Store.Open, c.Store.Leak = 0, 0
		in := c.Days().Inflow
		draft := sum(in) / float64(len(in)) * rapid.Float64Range(0.1, 1).Draw(r, "share")
		c.Demand = []float64{draft}
		k := c.NoFail()
		if math.IsInf(k, 1) {
			return // rounding at a share of 1
		}
		s := c.sized(k + 2*draft + 1e-6)
		if res := s.Tally(c.Days(), s.Size, YAS); res.Rv < 1-1e-6 {
			r.Fatalf("%v L starting full fails: %+v", s.Size, res)
		}
	})
}

func TestNoFailCountsLossesAndDeadWater(t *testing.T) {
	c := Case{Rain: []float64{10, 0, 0, 0}, Roofs: []Roof{{Area: 10, Coef: 1}}, Store: Store{Size: 500, Dead: 20}, Demand: []float64{10}}
	near(t, "three dry days and the dead part", c.NoFail(), 50, 1e-9)
	c.Store.Leak = 5
	near(t, "with a leak", c.NoFail(), 65, 1e-9)
}

func TestWorthIsNeverBelowNothing(t *testing.T) {
	c := seattleCase(t, 1000, 50)
	c.Store.Dead = 40
	for name, w := range map[string]Worth{"store": c.MoreStore(300), "roof": c.MoreRoof(Roof{Area: 10, Coef: 0.9}), "saved": c.Saved(5), "all saved": c.Saved(90)} {
		if w.Days <= 0 || w.Litres <= 0 {
			t.Errorf("%s: %+v", name, w)
		}
	}
	if len(c.Roofs) != 1 || c.Demand[0] != 50 || c.Store.Size != 1000 {
		t.Errorf("the case was changed: %+v", c)
	}
	var none Case
	if w := none.MoreStore(100); w != (Worth{}) {
		t.Errorf("no record: %+v", w)
	}
}

func TestSurfaceIsTheSameOnOneProcessor(t *testing.T) {
	c := seattleCase(t, 0, 0)
	c.Store.Dead = 30
	sizes, demands := []float64{200, 900, 4000, 20, 7000}, []float64{10, 60, 160}
	many := c.Surface(sizes, demands)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if one := c.Surface(sizes, demands); !slices.Equal(one.cells, many.cells) {
		t.Errorf("one processor: %v, more: %v", one.cells, many.cells)
	}
}

func TestLadderOrdersAndCuts(t *testing.T) {
	cuts := []Cut{{"laundry", 12, 0}, {"hens", 3, 3}, {"shower", 24, 10}, {"drinking", 6, 6}}
	dry := Days{Inflow: make([]float64, 30)}
	rungs := Ladder(cuts, Store{Size: 1000, Dead: 55}, 505, []Days{dry})
	want := []Rung{{"", 0, 45, 10, 10}, {"laundry", 0, 33, 450. / 33, 13}, {"shower", 10, 19, 450. / 19, 23}}
	if !slices.Equal(rungs, want) {
		t.Errorf("got %+v, want %+v", rungs, want)
	}
	all := Ladder([]Cut{{"all", 10, 0}}, Store{Size: 100}, 50, nil)
	if !math.IsInf(all[1].Dry, 1) || !math.IsNaN(all[1].Poor) {
		t.Errorf("nothing asked and no years: %+v", all[1])
	}
	open := Ladder([]Cut{{"all", 10, 10}}, Store{Size: 100, Open: 1, Leak: 1}, 50, []Days{{Inflow: make([]float64, 9), ET0: []float64{10, 0}}})
	near(t, "with leak and evaporation", open[0].Dry, 50/(10+1+10.5*5/9), 1e-9)
}

func TestEachRungLastsNoLess(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var cuts []Cut
		for range rapid.IntRange(1, 5).Draw(r, "uses") {
			full := rapid.Float64Range(0, 60).Draw(r, "full")
			cuts = append(cuts, Cut{"use", full, full * rapid.Float64Range(0, 1).Draw(r, "least")})
		}
		s := drawStore(r)
		runs := []Days{{Inflow: drawRoof(r).Inflow(drawRain(r, 1)), ET0: []float64{3}}}
		rungs := Ladder(cuts, s, rapid.Float64Range(0, s.Size).Draw(r, "level"), runs)
		for i := 1; i < len(rungs); i++ {
			if a, b := rungs[i-1], rungs[i]; b.Asks > a.Asks+1e-9 || b.Dry < a.Dry-1e-9 {
				r.Fatalf("%+v, then %+v", a, b)
			}
		}
	})
}

func TestPlottedEnds(t *testing.T) {
	v := []float64{30, 10, 20}
	near(t, "middle", Plotted(v, 0.5), 20, 1e-9)
	near(t, "between", Plotted(v, 0.375), 15, 1e-9)
	near(t, "below", Plotted(v, 0.1), 10, 0)
	near(t, "above", Plotted(v, 0.99), 30, 0)
	if v[0] != 30 {
		t.Error("the values were sorted in place")
	}
	if !math.IsNaN(Plotted(nil, 0.5)) {
		t.Error("no values have a middle")
	}
	if !math.IsInf(Return([]int{3}, 10, 4), 1) || RunOnceIn([]int{3}, 19, 10) != 0 || RunOnceIn([]int{3, 8}, 4, 10) != 8 {
		t.Error("returns of few runs")
	}
}

func TestJoinedTanksShareALevel(t *testing.T) {
	barrel := Shape{Kind: Upright, Diameter: 0.6, Height: 0.9}
	tote := Shape{Kind: Box, Length: 1, Width: 1.2, Height: 1}
	j := Joined{{Shape: barrel}, {Shape: tote}, {Shape: Shape{Kind: Lying, Diameter: 0.6, Length: 0.9}, Floor: 0.2}}
	half := barrel.Volume(0.5) + tote.Volume(0.5) + j[2].Shape.Volume(0.3)
	near(t, "at half a metre", j.Volume(0.5), half, 1e-9)
	near(t, "full to the lying drum's top at 0.8 m", j.Full(), j.Volume(0.8), 1e-9)
	near(t, "over the brim", j.Volume(2), j.Full(), 0)
	near(t, "below a tap at 0.1 m", j.Dead(0.1), barrel.Volume(0.1)+tote.Volume(0.1), 1e-9)
	near(t, "no tap so low", j.Dead(-1), 0, 0)
	near(t, "none", Joined{}.Full(), 0, 0)
	near(t, "one alone", Joined{{Shape: tote}}.Full(), tote.Full(), 1e-9)
}

func TestHeightUndoesVolume(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var j Joined
		for range rapid.IntRange(1, 4).Draw(r, "tanks") {
			j = append(j, Stood{Shape{
				Kind:     rapid.SampledFrom([]Kind{Upright, Lying, Box}).Draw(r, "kind"),
				Diameter: rapid.Float64Range(0.3, 3).Draw(r, "d"), Length: rapid.Float64Range(0.3, 3).Draw(r, "l"),
				Width: rapid.Float64Range(0.3, 3).Draw(r, "w"), Height: rapid.Float64Range(0.3, 3).Draw(r, "h"),
			}, rapid.Float64Range(0, 0.2).Draw(r, "floor")})
		}
		want := rapid.Float64Range(0, 1).Draw(r, "share") * j.Full()
		if got := j.Volume(j.Height(want)); math.Abs(got-want) > 1e-6*j.Full()+1e-9 {
			r.Fatalf("%v L comes back as %v", want, got)
		}
	})
}

// BenchmarkCaseSurface is BenchmarkSurface with a roof, dead water and a leak.
func BenchmarkCaseSurface(b *testing.B) {
	c := seattleCase(b, 0, 0)
	c.Store.Dead, c.Store.Leak = 40, 1
	one := c.Rain
	for range 9 {
		c.Rain = append(c.Rain, one...)
	}
	sizes, demands := make([]float64, 20), make([]float64, 20)
	for i := range sizes {
		sizes[i], demands[i] = 500*float64(i+1), 10*float64(i+1)
	}
	for b.Loop() {
		c.Surface(sizes, demands)
	}
}
