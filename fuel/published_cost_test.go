package fuel

import (
	"math"
	"testing"
)

func TestPublishedCost(t *testing.T) {
	const own = "arithmetic, computed"
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{own, "sun: 300 and a battery of 150 lasting 4 years, 10 years", SunCost(300, 150, 4, 10), 750, 0},
		{own, "sun: two years on one battery", SunCost(300, 150, 4, 2), 450, 0},
		{own, "sun: exactly one life is one battery", SunCost(300, 150, 4, 4), 450, 0},
		{own, "sun: a battery that never ends", SunCost(300, 150, 0, 50), 450, 0},
		{own, "cord: 60 and 0.9 kWh a day at 0.15, 2 years", CordCost(60, 0.15, 0.9, 2), 158.62, 0.005},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, want %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
