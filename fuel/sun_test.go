package fuel

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/day"
)

func TestPolarDayAndNight(t *testing.T) {
	june, december := day.Of(2027, time.June, 21), day.Of(2027, time.December, 21)
	if _, _, ok := RiseAndSet(75, 20, june, 1); ok {
		t.Error("the midnight sun sets")
	}
	if _, _, ok := RiseAndSet(75, 20, december, 1); ok {
		t.Error("the sun rises in polar night")
	}
	if AboveAir(75, 355) != 0 || AboveAir(75, 172) < 40 {
		t.Errorf("radiation at 75 north: %g and %g", AboveAir(75, 355), AboveAir(75, 172))
	}
	if SunsetAngle(75*rad, Declination(355)) != 0 || SunsetAngle(75*rad, Declination(172)) != math.Pi {
		t.Error("sunset angle at the pole")
	}
	if DayRatio(75, 60, Declination(355)) != 0 || TiltedDay(5, 75, 60, 0.2, 355) != 0 || TiltedDay(0, 40, 60, 0.2, 100) != 0 {
		t.Error("light on a plane in the dark")
	}
}

// The sun found at its own rise and set stands on the horizon.
func TestRiseMeetsPosition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-60, 60).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		d := day.Of(2027, time.January, rapid.IntRange(1, 365).Draw(t, "day"))
		offset := lon / 15
		rise, set, ok := RiseAndSet(lat, lon, d, offset)
		if !ok || rise >= 12.3 || set <= 11.7 {
			t.Fatalf("up %g to %g, %v", rise, set, ok)
		}
		for _, h := range []float64{rise, set} {
			s := SunAt(lat, lon, d, h-offset)
			if math.Abs(s.Elevation+16.0/60) > 0.15 {
				t.Fatalf("at %g h it stands at %g°", h, s.Elevation)
			}
			if east := s.Azimuth < 180; east != (h == rise) {
				t.Fatalf("at %g h it stands at %g° from north", h, s.Azimuth)
			}
		}
	})
}

func TestNoonIsHalfway(t *testing.T) {
	s := SunAt(-40, 0, day.Of(2027, time.December, 21), 12)
	if math.Abs(s.HourAngle) > 1 || math.Abs(s.Elevation-73.4) > 0.1 {
		t.Errorf("southern midsummer noon: %+v", s)
	}
	if north := math.Min(s.Azimuth, 360-s.Azimuth); north > 5 {
		t.Errorf("the southern noon sun stands %g° off north", north)
	}
	night := SunAt(40, 0, day.Of(2027, time.June, 21), 0)
	if night.Elevation > -20 || night.Zenith() < 110 {
		t.Errorf("midnight: %+v", night)
	}
}

func TestHemispheresMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(5, 60).Draw(t, "lat")
		slope := rapid.Float64Range(0, 90).Draw(t, "slope")
		d := rapid.Float64Range(-0.4, 0.4).Draw(t, "decl")
		if n, s := DayRatio(lat, slope, d), DayRatio(-lat, slope, -d); !near(n, s, 1e-12) {
			t.Fatalf("north %g, south %g", n, s)
		}
	})
}

// A flat plane gets what the ground gets, by the hour and by the day.
func TestFlatPlaneIsFlat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-60, 60).Draw(t, "lat")
		n := rapid.IntRange(1, 365).Draw(t, "day")
		flat := rapid.Float64Range(0.1, 0.8).Draw(t, "clear") * AboveAir(lat, n)
		if got := TiltedDay(flat, lat, 0, 0.5, n); !near(got, flat, 1e-9) {
			t.Fatalf("%g on the flat, %g on a flat plane", flat, got)
		}
		el := rapid.Float64Range(1, 89).Draw(t, "elevation")
		if r := (Plane{0, 123}).HourRatio(el, 200); !near(r, 1, 1e-9) {
			t.Fatalf("ratio %g", r)
		}
	})
}

func TestPlaneFacing(t *testing.T) {
	p := Plane{50, 170}
	if got := p.CosIncidence(40, 170); !near(got, 1, 1e-12) {
		t.Errorf("face on %g", got)
	}
	if p.HourRatio(-1, 170) != 0 || p.HourRatio(5, 350) != 0 {
		t.Error("beam from under the ground or behind")
	}
}

// The day ratio is the sum of hour ratios weighted by the beam above the air.
func TestDayRatioSumsHours(t *testing.T) {
	for _, c := range []struct{ lat, slope, decl, face float64 }{
		{43, 60, -20.9, 180}, {40, 30, 10, 180}, {-35, 45, 15, 0}, {-35, 20, -20, 0},
	} {
		var on, flat float64
		p := Plane{c.slope, c.face}
		for h := 0.0; h < 24; h += 0.005 {
			el, az := SolarPlace(c.lat, c.decl*rad, h)
			if el > 0 {
				on += max(0, p.CosIncidence(el, az))
				flat += math.Sin(el * rad)
			}
		}
		if got := DayRatio(c.lat, c.slope, c.decl*rad); !near(got, on/flat, 2e-3) {
			t.Errorf("%+v: %g, by hours %g", c, got, on/flat)
		}
	}
}

func TestDiffuseShare(t *testing.T) {
	winter, summer := 80*rad, 100*rad
	if DiffuseShare(0.1, winter) != DiffuseShare(0.3, winter) || DiffuseShare(0.9, summer) != DiffuseShare(0.8, summer) {
		t.Error("clearness outside 0.3 to 0.8 is not held")
	}
	for k := 0.3; k < 0.79; k += 0.01 {
		if DiffuseShare(k+0.01, winter) >= DiffuseShare(k, winter) || DiffuseShare(k+0.01, summer) >= DiffuseShare(k, summer) {
			t.Errorf("clearer at %g is more diffuse", k+0.01)
		}
	}
	if s := SunHours(3.6); s != 1 {
		t.Errorf("3.6 MJ is %g h", s)
	}
	if ByTemperature(10, 12, 30, 0.16) != 0 {
		t.Error("radiation from a day colder than its night")
	}
}

func BenchmarkSunAt(b *testing.B) {
	b.ReportAllocs()
	d := day.Of(2027, time.May, 1)
	for b.Loop() {
		SunAt(38, -122, d, 18)
	}
}
