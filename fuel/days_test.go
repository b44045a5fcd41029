package fuel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestRationStaysUnderTheLimit(t *testing.T) {
	scraps := Feed{VS: 0.225, B0: 0.40, K35: 0.12, Methane: 0.60}
	rapid.Check(t, func(t *rapid.T) {
		temp := rapid.Float64Range(-5, 45).Draw(t, "temp")
		wanted, ready := rapid.Float64Range(0, 3000).Draw(t, "wanted"), rapid.Float64Range(0, 3000).Draw(t, "ready")
		r := RationFor(scraps, wanted, ready, 700, temp)
		if ok, why := LoadCheck(max(0, r.Kg*scraps.VS/0.7-1e-9), temp); r.Kg > 0 && !ok {
			t.Fatalf("%+v at %g °C: %s", r, temp, why)
		}
		got := ready + r.Kg*scraps.NextDay(temp) + r.Short
		if r.Kg < 0 || r.Short < 0 || got < wanted-1e-6 || wanted > ready && math.Abs(got-wanted) > 1e-6 {
			t.Fatalf("%+v gives %g of %g", r, got, wanted)
		}
	})
	if r := RationFor(Feed{}, 500, 0, 700, 30); r.Kg != 0 || r.Short != 500 {
		t.Errorf("water makes gas: %+v", r)
	}
	if r := RationFor(scraps, 500, 0, 700, math.NaN()); r.Kg != 0 || r.Most != 0 || r.Short != 500 {
		t.Errorf("a slurry of unknown warmth is fed: %+v", r)
	}
}

// What a kg gives in a day, day after day, comes to what it gives in the end.
func TestDaysAddUpToTheEnd(t *testing.T) {
	f := Feed{VS: 0.225, B0: 0.40, K35: 0.12, Methane: 0.60}
	sum, vs := 0.0, f.VS
	for range 400 {
		gone := GasStep(vs, f.K35, 35, 1)
		m3, _ := GasOf(gone, f.B0, f.Methane)
		sum, vs = sum+1000*m3, vs-gone
	}
	if math.Abs(sum-f.gas()) > 1e-6 {
		t.Errorf("%g of %g L", sum, f.gas())
	}
	if f.NextDay(3) != 0 || f.Steady(3, 60) != 0 {
		t.Error("gas under 4 °C")
	}
}

// Carbon of the feed's gas: methane and carbon dioxide hold what left the slurry, and
// the mass of gas is theirs.
func TestGasKeepsItsCarbonAndEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs, b0, ch4 := rapid.Float64Range(0, 5).Draw(t, "vs"), rapid.Float64Range(0.05, 0.5).Draw(t, "b0"), rapid.Float64Range(0.4, 0.8).Draw(t, "methane")
		m3, kg := GasOf(vs, b0, ch4)
		mol := m3 * 1000 / MolarVolume
		methane, dioxide := mol*ch4, mol*(1-ch4)
		if !near(kg, (methane*massCH4+dioxide*massCO2)/1000, 1e-9) || !near(methane*MolarVolume/1000, vs*b0, 1e-9) {
			t.Fatalf("%g m3 weigh %g kg", m3, kg)
		}
		if !near(m3*BiogasMJ(ch4), vs*b0*MethaneMJ, 1e-9) {
			t.Fatal("the gas holds another heat than its methane")
		}
	})
}

// Fuel's heat is the pot's and what is lost about it.
func TestFuelHeatAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		heat, eff, mj := rapid.Float64Range(0, 50).Draw(t, "heat"), rapid.Float64Range(0.02, 0.99).Draw(t, "efficiency"), rapid.Float64Range(1, 50).Draw(t, "mj")
		used := FuelFor(heat, eff, mj)
		if lost := used*mj - heat; lost < -1e-9 || !near(heat+lost, used*mj, 1e-9) {
			t.Fatalf("%g MJ lost of %g", lost, used*mj)
		}
		if days := StoreDays(used*10, mj, eff, heat); heat > 0 && !near(days, 10, 1e-9) {
			t.Fatalf("ten days' fuel lasts %g", days)
		}
	})
	if !math.IsInf(StoreDays(5, 15, 0.3, 0), 1) || StoreDays(-5, 15, 0.3, 2) != 0 {
		t.Error("store days at the edges")
	}
}

// Slurry comes nearer to the air and never past it: heat only flows down the gap.
func TestSlurryNeverOvershoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		was, air := rapid.Float64Range(-5, 40).Draw(t, "was"), rapid.Float64Range(-20, 40).Draw(t, "air")
		now := SlurryTemp(was, air, rapid.Float64Range(50, 20000).Draw(t, "litres"))
		if now < min(was, air)-1e-9 || now > max(was, air)+1e-9 {
			t.Fatalf("%g between %g and %g", now, was, air)
		}
	})
}

func TestSunHeight(t *testing.T) {
	for _, lat := range []float64{-60, -35, 0, 35, 60} {
		for day := 1; day <= 365; day += 13 {
			if h := HoursAbove(lat, 0, day); math.Abs(h-DayLength(SunsetAngle(lat*rad, Declination(day)))) > 1e-9 {
				t.Errorf("%g° on day %d: %g h above the horizon", lat, day, h)
			}
			high := NoonHeight(lat, day)
			if HoursAbove(lat, high+0.1, day) > 1e-6 || high > 1 && !(HoursAbove(lat, high-1, day) > 0) {
				t.Errorf("%g° on day %d: noon at %g", lat, day, high)
			}
			if a, b := HoursAbove(lat, 20, day), HoursAbove(lat, 40, day); b > a {
				t.Errorf("longer above 40° than above 20°: %g and %g", b, a)
			}
		}
	}
	if HoursAbove(80, 0, 172) != 24 || HoursAbove(80, 0, 355) != 0 {
		t.Error("polar day and night")
	}
}

func TestSunDaysAndLamp(t *testing.T) {
	if n := SunDays([]float64{9.9, 10, 10.1, math.NaN(), 0}); n != 2 {
		t.Errorf("%d days", n)
	}
	l := Lamp{Panel: 10, Battery: 0.1, Load: 4, Hours: 4} // 0.0576 MJ an evening
	if lit, dark := l.Through([]float64{0, 0, 0, 0, 20, 0}); dark != 3 || lit >= 1 || lit <= 0.4 {
		t.Errorf("lit %g, dark for %d days", lit, dark)
	}
	if lit, dark := l.Through(nil); lit != 1 || dark != 0 {
		t.Errorf("no days: %g, %d", lit, dark)
	}
	if lit, dark := (Lamp{Panel: 50, Battery: 1, Load: 4, Hours: 4}).Through([]float64{15, 15, 15}); lit != 1 || dark != 0 {
		t.Errorf("sunny: %g, %d", lit, dark)
	}
	if !math.IsInf(Lamp{Battery: 1}.Dark(), 1) {
		t.Error("a lamp of no load goes out")
	}
}

func TestPotCoolerNeedsDryAir(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp, rh := rapid.Float64Range(5, 45).Draw(t, "temp"), rapid.Float64Range(0.1, 0.95).Draw(t, "rh")
		if in := PotCooler(temp, rh); in > temp+1e-9 || in < WetBulb(temp, rh)-1e-9 {
			t.Fatalf("%g in air of %g", in, temp)
		}
		if PotCooler(temp, rh+0.04) < PotCooler(temp, rh)-0.5 {
			t.Fatal("cooler in damper air")
		}
	})
	if Humidity(15, 20) != 1 || !(Humidity(30, 10) < Humidity(30, 20)) {
		t.Error("humidity")
	}
}

func TestSmallThings(t *testing.T) {
	if BurnerMinutes(150, 300) != 30 || BurnerMinutes(-1, 300) != 0 || BurnerMinutes(10, 0) != 0 {
		t.Error("burner minutes")
	}
	if _, ok := GasFor("peat"); ok {
		t.Error("peat has an equal")
	}
}

func BenchmarkRation(b *testing.B) {
	b.ReportAllocs()
	f := Feed{VS: 0.225, B0: 0.40, K35: 0.12, Methane: 0.60}
	for b.Loop() {
		RationFor(f, 900, 300, 700, 22)
	}
}
