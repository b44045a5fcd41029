package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestSunAtTheEdges(t *testing.T) {
	near(t, "polar night", Daylight(80, 355), 0, 0)
	near(t, "midnight sun", Daylight(80, 172), 24, 0)
	near(t, "no sun above the air", Extraterrestrial(80, 355), 0, 1e-9)
	near(t, "equator", Daylight(0, 100), 12, 1e-9)
	near(t, "krs inland", Site{}.KRs(), 0.16, 0)
	near(t, "krs at the coast", Site{Coastal: true}.KRs(), 0.19, 0)
	near(t, "island sun", IslandSun(38), 22.6, 1e-9)
	near(t, "dry dew point", DewPoint(12, true), 9.5, 0)
	near(t, "sun held to the clear sky", HargreavesSun(0, 40, 30, 0.19, 22.5), 22.5, 0)
	near(t, "long wave at night", NetLong(5, 15, 1, 0, 0), NetLong(5, 15, 1, 1, 1), 0)
}

func TestEvaporationProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		j := rapid.IntRange(1, 366).Draw(t, "day")
		lo := rapid.Float64Range(-60, 45).Draw(t, "tmin")
		hi := lo + rapid.Float64Range(-1, 30).Draw(t, "range")
		ra, n := Extraterrestrial(lat, j), Daylight(lat, j)
		et, sun := Hargreaves(lo, hi, ra), HargreavesSun(lo, hi, ra, 0.16, ClearSky(ra, 100))
		for _, v := range []float64{ra, n, et, sun} {
			if math.IsNaN(v) || v < 0 {
				t.Fatalf("ra %g, daylight %g, et0 %g, sun %g", ra, n, et, sun)
			}
		}
		if n > 24+1e-9 || ra > 50 || sun > ra {
			t.Fatalf("ra %g, daylight %g, sun %g", ra, n, sun)
		}
		south := Daylight(-lat, j)
		if math.Abs(n+south-24) > 1e-9 {
			t.Fatalf("north %g and south %g do not make a day", n, south)
		}
	})
}

func TestEvaporationGrowsWithWindAndDryness(t *testing.T) {
	a := Air{TMin: 12, TMax: 24, Vapour: 1.4, Wind: 2, Net: 13, Pressure: 100}
	windy, dry := a, a
	windy.Wind, dry.Vapour = 4, 1.0
	base := PenmanMonteith(a, Grass)
	if PenmanMonteith(windy, Grass) <= base || PenmanMonteith(dry, Grass) <= base || PenmanMonteith(a, Alfalfa) <= base {
		t.Errorf("%g, windy %g, dry %g, alfalfa %g", base, PenmanMonteith(windy, Grass), PenmanMonteith(dry, Grass), PenmanMonteith(a, Alfalfa))
	}
}
