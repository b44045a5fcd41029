package skill

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

type printed struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	for _, c := range cases() {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.10g, want %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// normalCRPS is the closed form of a normal forecast.
func normalCRPS(mean, sd, y float64) float64 {
	z := (y - mean) / sd
	pdf := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	cdf := math.Erfc(-z/math.Sqrt2) / 2
	return sd * (z*(2*cdf-1) + 2*pdf - 1/math.Sqrt(math.Pi))
}

// normal is n members at the middles of equal shares of a normal.
func normal(mean, sd float64, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		p := (float64(i) + 0.5) / float64(n)
		v[i] = mean + sd*math.Sqrt2*math.Erfinv(2*p-1)
	}
	return v
}

func cases() []printed {
	const (
		gneiting = "Gneiting and Raftery 2007, eq. 21, computed by hand"
		closed   = "Gneiting et al. 2005 (Mon. Wea. Rev. 133), eq. 5, computed"
		brier    = "Brier 1950, eq. 2 for one of two outcomes, computed by hand"
		hyndman  = "Hyndman and Fan 1996, type 7 (from memory), computed by hand"
	)
	return []printed{
		{gneiting, "one member is the absolute error", CRPS([]float64{3}, 5), 2, 1e-12},
		{gneiting, "members 0 and 1, found 0", CRPS([]float64{0, 1}, 0), 0.25, 1e-12},
		{gneiting, "members 0 and 1, found a half", CRPS([]float64{1, 0}, 0.5), 0.25, 1e-12},
		{gneiting, "members 1, 2 and 4, found 3", CRPS([]float64{4, 1, 2}, 3), 4.0/3 - 2.0/3, 1e-12},
		{gneiting, "members 0, 0 and 3, found 0", CRPS([]float64{0, 0, 3}, 0), 1 - 2.0/3, 1e-12},
		{closed, "standard normal, found at its mean", normalCRPS(0, 1, 0), 0.23369, 1e-5},
		{closed, "2,000 members of a normal, found a deviation off", CRPS(normal(0, 1, 2000), 1), normalCRPS(0, 1, 1), 1e-3},
		{closed, "2,000 members of a wide normal, found in the tail", CRPS(normal(10, 4, 2000), 20), normalCRPS(10, 4, 20), 4e-3},
		{brier, "certain and right", Brier(1, true), 0, 0},
		{brier, "certain and wrong", Brier(1, false), 1, 0},
		{brier, "3 in 10 and it came", Brier(0.3, true), 0.49, 1e-12},
		{hyndman, "quarter of 1, 2, 3, 4", Quantile([]float64{1, 2, 3, 4}, 0.25), 1.75, 1e-12},
		{hyndman, "middle of 1, 2, 3, 10", Quantile([]float64{1, 2, 3, 10}, 0.5), 2.5, 1e-12},
	}
}

// TestCRPSRewardsHonesty: no forecast scores better on the mean than the one the
// values are drawn from (the score is proper: Gneiting and Raftery 2007, sec. 4.2).
func TestCRPSRewardsHonesty(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	honest, narrow, wide, off := 0.0, 0.0, 0.0, 0.0
	for range 4000 {
		y := rng.NormFloat64()
		honest += CRPS(normal(0, 1, 200), y)
		narrow += CRPS(normal(0, 0.5, 200), y)
		wide += CRPS(normal(0, 2, 200), y)
		off += CRPS(normal(0.5, 1, 200), y)
	}
	if honest >= narrow || honest >= wide || honest >= off {
		t.Errorf("honest %.1f, narrow %.1f, wide %.1f, off %.1f", honest, narrow, wide, off)
	}
}

// TestCRPSIsTheSumOverPairs holds the sorted form to the plain one.
func TestCRPSIsTheSumOverPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1, 30).Draw(t, "members")
		y := rapid.Float64Range(-100, 100).Draw(t, "found")
		off, among := 0.0, 0.0
		for _, a := range x {
			off += math.Abs(a-y) / float64(len(x))
			for _, b := range x {
				among += math.Abs(a-b) / 2 / float64(len(x)*len(x))
			}
		}
		if got := CRPS(append([]float64(nil), x...), y); math.Abs(got-(off-among)) > 1e-9 {
			t.Fatalf("%g, by pairs %g", got, off-among)
		}
	})
}
