package larder

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestBrineSaltIsItsShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		water, share := rapid.Float64Range(0.1, 50).Draw(t, "water"), rapid.Float64Range(0, 0.26).Draw(t, "share")
		salt := BrineSalt(water, share)
		if got := salt / (salt + water); math.Abs(got-share) > 1e-12 {
			t.Fatalf("brine of %g for %g", got, share)
		}
	})
}

func TestKrautDays(t *testing.T) {
	lo, hi, err := KrautDays(19.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least, between the published spans", lo, 28, 1e-12)
	near(t, "most", hi, 35, 1e-12)
	for _, c := range []float64{15.9, 24.1, math.NaN()} {
		if _, _, err := KrautDays(c); err == nil {
			t.Errorf("%g °C passed", c)
		}
	}
}

func TestStrengthRisesWithSugar(t *testing.T) {
	for name, abv := range map[string]func(og, fg float64) float64{"plain": ABV, "Hall": ABVHall, "Balling": ABVBalling, "wine": ABVWine} {
		near(t, name+": nothing fermented", abv(1.05, 1.05), 0, 1e-9)
		if abv(1.06, 1.0) <= abv(1.05, 1.0) {
			t.Errorf("%s: more sugar gave less alcohol", name)
		}
	}
	near(t, "water", Plato(1), 0, 0.01)
}
