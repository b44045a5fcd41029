package diet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAppetite(t *testing.T) {
	for _, c := range []struct{ lately, want float64 }{
		{0, 1}, {0.5, 1}, {0.75, 0.85}, {1, 0.7}, {3, 0.7}, {-1, 1}, {math.NaN(), 1},
	} {
		if got := Appetite(c.lately); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("eaten to %g of the liking: %g is left, want %g", c.lately, got, c.want)
		}
	}
	if got := Lately(Lately(0, 1), 1); got != 0.75 {
		t.Errorf("two full weeks make %g", got)
	}
}

// Eaten as much as it is liked, week by week, a food settles: it does not swing.
func TestAppetiteSettles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lately := rapid.Float64Range(0, 1).Draw(t, "lately")
		before := lately
		for range 40 {
			before = lately
			lately = Lately(lately, Appetite(lately))
		}
		if math.Abs(lately-Settled) > 1e-4 || math.Abs(lately-before) > 1e-6 || math.Abs(Appetite(lately)-lately) > 1e-3 {
			t.Fatalf("still between %g and %g", before, lately)
		}
	})
}

func TestWithFood(t *testing.T) {
	for _, c := range []struct{ limit, share, plate, want float64 }{
		{0.08, 0, 2, 0.08}, {0.08, 0.06, 0, 0.08}, {0.08, 0.06, 2, 0.08}, {0.08, 0.06, 1, 0.06}, {0.09, 0.06, 0.1, 0.06}, {0.08, 0.06, math.NaN(), 0.08},
	} {
		if got := WithFood(c.limit, c.share, c.plate); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g with %g of a plate of %g kg: %g, want %g", c.limit, c.share, c.plate, got, c.want)
		}
	}
}
