package fertility

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestClassARefusesBelowFifty(t *testing.T) {
	for _, c := range []struct {
		temp float64
		ok   bool
	}{{49, false}, {49.99, false}, {50, true}, {51, true}, {math.NaN(), false}, {math.Inf(-1), false}} {
		if _, ok := ClassADays(c.temp); ok != c.ok {
			t.Errorf("thick at %g: ok %v", c.temp, ok)
		}
		if _, ok := ClassAThinDays(c.temp); ok != c.ok {
			t.Errorf("thin at %g: ok %v", c.temp, ok)
		}
	}
}

func TestClassAFloors(t *testing.T) {
	if d, _ := ClassADays(95); d != 20*minute {
		t.Errorf("thick at 95 °C: %g d, want 20 min", d)
	}
	if d, _ := ClassAThinDays(75); math.Abs(d-thick(75)) > 1e-12 {
		t.Errorf("thin at 75 °C: %g d, want the first equation", d)
	}
	if d, _ := ClassAThinDays(120); d != 15*second {
		t.Errorf("thin at 120 °C: %g d, want 15 s", d)
	}
}

func TestHotterNeverTakesLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(50, 100).Draw(t, "a")
		b := rapid.Float64Range(a, 100).Draw(t, "b")
		for _, f := range []func(float64) (float64, bool){ClassADays, ClassAThinDays} {
			cool, _ := f(a)
			if hot, _ := f(b); hot > cool {
				t.Fatalf("%g °C takes %g d, %g °C takes %g d", a, cool, b, hot)
			}
		}
	})
}

func TestHeatTime(t *testing.T) {
	var h HeatTime
	h.Add(49.9, 100)
	h.Add(math.NaN(), 100)
	h.Add(55, -1)
	if h.Share != 0 || h.Met() || h.Warmth != 49.9 {
		t.Errorf("cool, missing and negative readings counted: %+v", h)
	}
	need, _ := ClassADays(55)
	h.Add(55, 0.99*need)
	if h.Met() {
		t.Error("met before the time")
	}
	h.Add(55, 0.02*need)
	if !h.Met() || math.Abs(h.Hot-1.01*need) > 1e-9 {
		t.Errorf("not met after the time: %+v", h)
	}
}

// hold is n hourly readings at a temperature.
func hold(n int, temp float64) []Reading {
	log := make([]Reading, n)
	for i := range log {
		log[i] = Reading{Hours: 1, TempC: temp}
	}
	return log
}

// turned marks n readings, evenly spread, as turned.
func turned(log []Reading, n int) []Reading {
	for i := range n {
		log[i*len(log)/n].Turned = true
	}
	return log
}

func TestReductionRules(t *testing.T) {
	gap := append(append(hold(71, 60), Reading{1, math.NaN(), false}), hold(71, 60)...)
	spike := append(append(hold(100, 41), hold(4, 56)...), hold(16, 41)...)
	for _, c := range []struct {
		name string
		rule func([]Reading) bool
		log  []Reading
		want bool
	}{
		{"vessel 71 h", FurtherVessel, hold(71, 55), false},
		{"vessel 72 h", FurtherVessel, hold(72, 55), true},
		{"vessel 73 h", FurtherVessel, hold(73, 55), true},
		{"vessel 54.9 °C", FurtherVessel, hold(200, 54.9), false},
		{"vessel with a gap", FurtherVessel, gap, false},
		{"vessel without readings", FurtherVessel, nil, false},
		{"windrow 359 h", FurtherWindrow, turned(hold(359, 55), 6), false},
		{"windrow 360 h, 5 turns", FurtherWindrow, turned(hold(360, 55), 5), true},
		{"windrow 360 h, 4 turns", FurtherWindrow, turned(hold(360, 55), 4), false},
		{"windrow 361 h, 6 turns", FurtherWindrow, turned(hold(361, 55), 6), true},
		{"hot week, at 50", HotWeek, hold(400, 50), false},
		{"hot week, 168 h", HotWeek, hold(168, 50.1), false},
		{"hot week, 169 h", HotWeek, hold(169, 50.1), true},
		{"significant 119 h", Significant, hold(119, 60), false},
		{"significant 120 h", Significant, hold(120, 60), true},
		{"significant without the hot hours", Significant, hold(200, 54), false},
		{"significant with 4 hot hours", Significant, spike, true},
		{"significant with 3 hot hours", Significant, append(hold(3, 56), hold(120, 41)...), false},
		{"significant at 39", Significant, hold(400, 39), false},
	} {
		if got := c.rule(c.log); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func BenchmarkHeatTime(b *testing.B) {
	b.ReportAllocs()
	var h HeatTime
	for b.Loop() {
		h.Add(55, 1.0/24)
	}
}
