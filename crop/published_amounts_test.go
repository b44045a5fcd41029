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
		{"912,500 kcal of potato, 25 % lost (computed)", "m2", GroundFor(912500/1463., 1, 0.25), 832, 0.5},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
