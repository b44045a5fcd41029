package fuel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestWoodEdges(t *testing.T) {
	if WoodMJ(0) != woodDryMJ || WoodMJ(-1) != woodDryMJ || WoodMJ(1) != 0 || WoodMJ(0.95) != 0 {
		t.Error("wood outside its range")
	}
	if got := WetBasis(0.25); got != 0.2 {
		t.Errorf("25 %% of dry mass is %g of wet", got)
	}
	// The dry wood in a kg holds the same however wet it is weighed, less its water's heat.
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(0, 0.85).Draw(t, "moisture")
		if got := WoodMJ(m) + woodWaterMJ*m; !near(got, woodDryMJ*(1-m), 1e-12) {
			t.Fatalf("%g", got)
		}
	})
}

func TestFuelFor(t *testing.T) {
	if got := FuelFor(1, 0.5, 10); got != 0.2 {
		t.Errorf("fuel %g", got)
	}
	for _, c := range [][2]float64{{0, 10}, {0.5, 0}, {-1, 10}, {math.NaN(), 10}} {
		if got := FuelFor(1, c[0], c[1]); !math.IsInf(got, 1) {
			t.Errorf("%v needs %g", c, got)
		}
	}
	if BoilMJ(1, 100, 20) != 0 {
		t.Error("cooling takes heat")
	}
}

func TestBoxCooker(t *testing.T) {
	for _, c := range [][2]float64{{9.99, 0}, {10, 0.625}, {10.01, 0.625625}, {20, 1.25}, {math.NaN(), 0}} {
		if got := BoxCooker(0.25, 0.25, c[0]); !near(got, c[1], 1e-9) {
			t.Errorf("sun %g gives %g, want %g", c[0], got, c[1])
		}
	}
}

func TestRateCookerRefuses(t *testing.T) {
	for _, c := range [][2][]float64{
		{{1, 2}, {1, 2}}, {{1, 2, 3}, {1, 2}}, {{5, 5, 5}, {1, 2, 3}}, {{1, math.NaN(), 3}, {1, 2, 3}}, {nil, nil},
	} {
		if r, err := RateCooker(c[0], c[1]); err == nil {
			t.Errorf("%v gave %+v", c, r)
		}
	}
}

func TestKeptCools(t *testing.T) {
	if got := Kept(100, 20, 0.6, 11.4, 0); got != 100 {
		t.Errorf("at once %g", got)
	}
	if got := Kept(100, 20, 0.6, 11.4, 1e4); !near(got, 20, 1e-9) {
		t.Errorf("in the end %g", got)
	}
}

func TestHigherBoilsCooler(t *testing.T) {
	for z := 0.0; z < 4000; z += 100 {
		if BoilingPoint(z+100) >= BoilingPoint(z) {
			t.Errorf("no cooler at %g m", z+100)
		}
	}
}

func TestPanelAndBatteryRefuse(t *testing.T) {
	for _, c := range [][3]float64{{-1, 3, 0.7}, {100, 0, 0.7}, {100, 3, 0}, {100, math.NaN(), 0.7}} {
		if _, err := PanelW(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v passed", c)
		}
	}
	good := Battery{100, 3, 12, 0.5, 1, 1}
	for _, spoil := range []func(*Battery){
		func(b *Battery) { b.Wh = -1 }, func(b *Battery) { b.Volts = 0 }, func(b *Battery) { b.Depth = 0 },
		func(b *Battery) { b.Inverter = 0 }, func(b *Battery) { b.Cold = 0.9 }, func(b *Battery) { b.Days = math.NaN() },
	} {
		b := good
		spoil(&b)
		if _, err := b.AmpHours(); err == nil {
			t.Errorf("%+v passed", b)
		}
	}
	if ah, err := good.AmpHours(); err != nil || ah != 50 {
		t.Errorf("%g Ah, %v", ah, err)
	}
}

func TestColdFactorFalls(t *testing.T) {
	if ColdFactor(-40) != 1.59 || ColdFactor(40) != 1 || ColdFactor(math.NaN()) != 1.59 {
		t.Error("outside the table")
	}
	for temp := -10.0; temp < 30; temp += 0.1 {
		if ColdFactor(temp+0.1) > ColdFactor(temp)+1e-12 {
			t.Errorf("warmer at %g needs more", temp+0.1)
		}
	}
}

// What comes in is lit, left or lost; nothing is made, and nothing is lost before the
// battery is full.
func TestLightStepCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity := rapid.Float64Range(0, 5).Draw(t, "capacity")
		charge := rapid.Float64Range(0, capacity).Draw(t, "charge")
		panel := rapid.Float64Range(0, 200).Draw(t, "panel")
		sun := rapid.Float64Range(0, 8).Draw(t, "sun")
		load := rapid.Float64Range(0.5, 50).Draw(t, "load")
		hours := rapid.Float64Range(0, 12).Draw(t, "hours")
		left, lit := LightStep(charge, panel, sun, Derate, load, hours, capacity)
		in, used := panel*sun*Derate*wattHour, lit*load*wattHour
		lost := charge + in - used - left
		switch {
		case left < 0 || left > capacity || lit < 0 || lit > hours:
			t.Fatalf("left %g, lit %g", left, lit)
		case lost < -1e-12:
			t.Fatalf("%g MJ from nowhere", -lost)
		case charge+in <= capacity && lost > 1e-12:
			t.Fatalf("%g MJ lost from a battery that was not full", lost)
		case lit < hours && left > 1e-12:
			t.Fatalf("dark with %g MJ left", left)
		}
	})
}

func TestLightStepEdges(t *testing.T) {
	if left, lit := LightStep(1, 0, 0, 0.75, 0, 4, 2); left != 1 || lit != 4 {
		t.Errorf("a load of nothing: %g, %g", left, lit)
	}
	if left, lit := LightStep(-1, -5, 3, 0.75, 6, 4, -2); left != 0 || lit != 0 {
		t.Errorf("negative parts: %g, %g", left, lit)
	}
}
