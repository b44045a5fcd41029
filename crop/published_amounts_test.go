package crop

import (
	"math"
	"testing"
)

func TestPublishedAmounts(t *testing.T) {
	const pimentel = "Pimentel, maize by hand, Mexico"
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{pimentel, "1,944 kg of maize, m2", GroundFor(1944, 0.1944, 0), 10000, 1e-6},
		{pimentel, "seed of a hectare, kg", SeedToKeep(1e4, 0.00104, 0, 1), 10.4, 0.05},
		{pimentel, "share of the crop, %", 100 * SeedToKeep(1e4, 0.00104, 0, 1) / 1944, 0.5, 0.05},
		{"912,500 kcal of potato, 25 % lost (computed)", "m2", GroundFor(912500/1463., 1, 0.25), 832, 0.5},
		{"two seasons' seed (common practice)", "potato, 20 m2, kg", SeedToKeep(20, 0.2, 1, 1), 8, 1e-9},
		{"seed that half comes up (computed)", "times as much", SeedToKeep(1, 1, 0, 0.5), 2, 1e-12},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
