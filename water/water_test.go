package water

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestNoRainShedsNothing(t *testing.T) {
	for _, p := range []float64{0, -3, math.NaN()} {
		near(t, "catch", Catch(p, 50, 0.9), 0, 0)
	}
	near(t, "evaporation of negative ET0", OpenEvaporation(-1, 4), 0, 0)
}

func TestFlushSplitsEveryLitre(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := rapid.Float64Range(0, 300).Draw(r, "rain")
		room := rapid.Float64Range(-5, 200).Draw(r, "room")
		caught, flushed := CatchAfterFlush(p, 80, 0.85, room)
		if caught < 0 || flushed < 0 || flushed > math.Max(room, 0) {
			r.Fatalf("caught %v, flushed %v of room %v", caught, flushed, room)
		}
		if d := caught + flushed - Catch(p, 80, 0.85); math.Abs(d) > 1e-9 {
			r.Fatalf("balance out by %v", d)
		}
	})
}

func TestSlowDiverterResetsOnADryDay(t *testing.T) {
	room := 30.0
	for i, c := range []struct{ rain, caught, room float64 }{
		{0.2, 0, 22}, {0.2, 0, 14}, {1, 26, 0}, {1, 40, 0}, {0, 0, 30}, {1, 10, 0},
	} {
		caught, flushed := CatchAfterFlush(c.rain, 40, 1, room)
		room = FlushReset(room, flushed, 30, c.rain)
		near(t, "caught", caught, c.caught, 1e-9)
		near(t, "room", room, c.room, 1e-9)
		if t.Failed() {
			t.Fatalf("day %d", i)
		}
	}
}

func TestStepsBalanceAndStayInBounds(t *testing.T) {
	for name, rule := range map[string]Rule{"YAS": YAS, "YBS": YBS} {
		t.Run(name, rapid.MakeCheck(func(r *rapid.T) {
			size := rapid.Float64Range(0, 5000).Draw(r, "size")
			level := rapid.Float64Range(0, 1.2*size).Draw(r, "level")
			q := rapid.Float64Range(0, 9000).Draw(r, "inflow")
			d := rapid.Float64Range(0, 6000).Draw(r, "demand")
			s := rule(level, q, d, size)
			if e := level + q - s.Yield - s.Spill - s.End; math.Abs(e) > 1e-8 {
				r.Fatalf("balance out by %v: %+v", e, s)
			}
			if s.Yield < 0 || s.Yield > d || s.Spill < -1e-9 || s.End < 0 || s.End > size+1e-9 {
				r.Fatalf("out of bounds: %+v", s)
			}
		}))
	}
}

func TestBeforeSpillageYieldsNoLess(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		in := rapid.SliceOfN(rapid.Float64Range(0, 500), 1, 90).Draw(r, "inflow")
		size := rapid.Float64Range(1, 2000).Draw(r, "size")
		d := rapid.Float64Range(0, 200).Draw(r, "demand")
		a, b := Simulate(in, d, size, 0, YAS), Simulate(in, d, size, 0, YBS)
		if a.Yield > b.Yield+1e-6 {
			r.Fatalf("YAS yields %v, YBS %v", a.Yield, b.Yield)
		}
		for _, x := range []Result{a, b} {
			if e := x.Inflow - x.Yield - x.Spill - x.End; math.Abs(e) > 1e-6 {
				r.Fatalf("balance out by %v", e)
			}
		}
	})
}

func TestNothingAskedIsAllMet(t *testing.T) {
	r := Simulate([]float64{5, 0, 9}, 0, 10, 0, YAS)
	if r.Rv != 1 || r.Rt != 1 || r.Full != 3 || r.Longest != 0 {
		t.Errorf("%+v", r)
	}
	if r := Simulate(nil, 50, 10, 4, YAS); r.End != 4 || r.Rt != 1 {
		t.Errorf("no days: %+v", r)
	}
}

func TestSequentPeakNeverFails(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		in := rapid.SliceOfN(rapid.Float64Range(0, 100), 2, 60).Draw(r, "inflow")
		draft := rapid.Float64Range(0, 1).Draw(r, "share") * sum(in) / float64(len(in))
		k := SequentPeak(in, []float64{draft})
		if res := Simulate(in, draft, k+1e-6, k+1e-6, YBS); res.Rv < 1-1e-6 {
			r.Fatalf("a store of %v starting full fails: %+v", k, res)
		}
	})
}

func TestSequentPeakEdges(t *testing.T) {
	if k := SequentPeak([]float64{1, 2}, []float64{2}); !math.IsInf(k, 1) {
		t.Errorf("draft above the mean inflow: %v", k)
	}
	near(t, "no record", SequentPeak(nil, []float64{2}), 0, 0)
	near(t, "no demand", SequentPeak([]float64{2}, nil), 0, 0)
	near(t, "demand by day", SequentPeak([]float64{0, 4}, []float64{3, 1}), 3, 0)
}

func TestIntermediateRuleTakesTheLesser(t *testing.T) {
	near(t, "by demand", IntermediateRule(125, 650, 0.8, 0.95, 50), 912.5, 1e-9)
}

func TestSurfaceAgreesWithSingleRuns(t *testing.T) {
	in := seattleRoof(t, 0)
	sizes, demands := []float64{500, 3000, 10000}, []float64{40, 100}
	g := Surface(in, sizes, demands, YAS)
	for j, d := range demands {
		curve := SizeCurve(in, sizes, d, YAS)
		for i := range sizes {
			rv, rt := g.At(i, j)
			near(t, "Rv", rv, curve[i].Rv, 0)
			near(t, "Rt", rt, curve[i].Rt, 0)
			if i > 0 && curve[i].Rv < curve[i-1].Rv {
				t.Errorf("a larger tank gives less: %v", curve)
			}
		}
	}
	if s, ok := g.Smallest(1, 0.83); !ok || s != 3000 {
		t.Errorf("smallest for 83 %%: %v %v", s, ok)
	}
	if _, ok := g.Smallest(1, 0.9999); ok {
		t.Error("no size reaches 99.99 %")
	}
}

func TestSurfaceAllocatesByWorkerNotByCell(t *testing.T) {
	in := seattleRoof(t, 0)
	sizes, demands := make([]float64, 20), make([]float64, 20)
	for i := range sizes {
		sizes[i], demands[i] = 500*float64(i+1), 10*float64(i+1)
	}
	if n := testing.AllocsPerRun(2, func() { Surface(in, sizes, demands, YAS) }); n > 100 {
		t.Errorf("%v allocations for 400 cells", n)
	}
}

func TestShapes(t *testing.T) {
	drum := Shape{Kind: Lying, Diameter: 0.6, Length: 0.9}
	near(t, "half a lying drum", drum.Volume(0.3), drum.Full()/2, 1e-9)
	near(t, "lying drum full", drum.Full(), 1000*math.Pi*0.09*0.9, 1e-9)
	near(t, "quarter depth", drum.Volume(0.15)/drum.Full(), 0.1955, 0.0001) // segment table: h/d 0.25
	near(t, "tote", Shape{Kind: Box, Length: 1, Width: 1.2, Height: 1}.Volume(0.5), 600, 1e-9)
	near(t, "over the brim", Shape{Diameter: 1, Height: 1}.Volume(7), 1000*math.Pi/4, 1e-9)
	near(t, "below the floor", Shape{Diameter: 1, Height: 1}.Volume(-2), 0, 0)
	near(t, "nothing", Shape{Kind: Lying}.Full(), 0, 0)
}

func TestDepthUndoesVolume(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := Shape{
			Kind:     rapid.SampledFrom([]Kind{Upright, Lying, Box}).Draw(r, "kind"),
			Diameter: rapid.Float64Range(0.2, 3).Draw(r, "d"), Length: rapid.Float64Range(0.2, 3).Draw(r, "l"),
			Width: rapid.Float64Range(0.2, 3).Draw(r, "w"), Height: rapid.Float64Range(0.2, 3).Draw(r, "h"),
		}
		want := rapid.Float64Range(0, 1).Draw(r, "share") * s.Full()
		if got := s.Volume(s.Depth(want)); math.Abs(got-want) > 1e-6*s.Full()+1e-9 {
			r.Fatalf("%+v: %v L comes back as %v", s, want, got)
		}
	})
}

func TestDaysOfWater(t *testing.T) {
	near(t, "days", DaysOfWater(3400, 120, 40, 8), 102.5, 1e-9)
	near(t, "below the tap", DaysOfWater(90, 120, 40, 0), 0, 0)
	if d := DaysOfWater(100, 0, 10, 10); !math.IsInf(d, 1) {
		t.Errorf("a level that holds lasts %v days", d)
	}
}

func TestUnsafeAsksAreRefused(t *testing.T) {
	refuse := func(what string, err error, want string) {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want one about %q", what, err, want)
		}
	}
	_, err := BleachDrops(10, 0.12, false)
	refuse("pool bleach", err, "5 to 6 %")
	_, err = BleachDrops(0, 0.06, false)
	refuse("no water", err, "above 0")
	_, err = Bottle{Litres: 1, Rain: true}.SunHours()
	refuse("rain", err, "steady rain")
	_, err = Bottle{Litres: 5}.SunHours()
	refuse("carboy", err, "at most 2 L")
	_, err = Bottle{Litres: 1, NTU: 40}.SunHours()
	refuse("mud", err, "settle")
}

func TestPasteurised(t *testing.T) {
	for _, c := range []struct {
		temp, min float64
		want      bool
	}{{65, 5, true}, {64.9, 30, false}, {70, 4, false}, {71, 6, true}} {
		if Pasteurised(c.temp, c.min) != c.want {
			t.Errorf("%v °C for %v min: want %v", c.temp, c.min, c.want)
		}
	}
}

func TestSmallDosesAreNeverNone(t *testing.T) {
	if n, err := BleachDrops(0.1, 0.0825, false); err != nil || n != 1 {
		t.Errorf("a tenth of a litre: %v drops, %v", n, err)
	}
}

func TestEveryCautionNamesItsSource(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Cautions() {
		if !strings.Contains(c, "Source") || seen[c] {
			t.Errorf("no source, or twice: %q", c)
		}
		seen[c] = true
	}
}

func BenchmarkYAS(b *testing.B) {
	b.ReportAllocs()
	level := 0.0
	for b.Loop() {
		level = YAS(level, 30, 25, 1000).End
	}
}

// BenchmarkSurface is 20 sizes by 20 demands over 40 years: at most 0.2 s on two processors.
func BenchmarkSurface(b *testing.B) {
	var in []float64
	for range 10 {
		in = append(in, seattleRoof(b, 0)...)
	}
	sizes, demands := make([]float64, 20), make([]float64, 20)
	for i := range sizes {
		sizes[i], demands[i] = 500*float64(i+1), 10*float64(i+1)
	}
	for b.Loop() {
		Surface(in, sizes, demands, YAS)
	}
}
