package fertility

import (
	"math"
	"testing"
)

func TestWormFeed(t *testing.T) {
	for _, c := range []struct{ worms, temp, want float64 }{
		{2, 20, 1}, {2, 15, 1}, {2, 25, 1}, {2, 9.5, 0.5}, {2, 30, 0.5}, {2, 4, 0}, {2, -5, 0}, {2, 35, 0}, {2, 40, 0}, {-1, 20, 0}, {2, math.NaN(), 0},
	} {
		if got := WormFeed(c.worms, c.temp); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g kg at %g °C eat %g, want %g", c.worms, c.temp, got, c.want)
		}
	}
	worms, bed := WormsFor(1)
	if worms != 2 || bed != 0.4 {
		t.Errorf("a kg a day wants %g kg on %g m2", worms, bed)
	}
}

// A pound of worms to half a pound of scraps, on a square foot: the usual sheet.
func TestPublishedWorms(t *testing.T) {
	type check struct {
		source, name   string
		got, want, tol float64
	}
	const pound, foot2 = 0.45359237, 0.09290304
	worms, bed := WormsFor(0.5 * pound)
	for _, c := range []check{
		{"US extension sheets on worm bins (from memory)", "pounds of worms for half a pound of scraps a day", worms / pound, 1, 1e-9},
		{"US extension sheets on worm bins (from memory)", "square feet of bed for a pound of worms", bed / foot2, 1, 0.03},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %g, printed %g", c.name, c.got, c.want)
		}
	}
}
