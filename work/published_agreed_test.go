package work

import (
	"math"
	"testing"
)

func TestPublishedAgreed(t *testing.T) {
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{"arithmetic, computed", "6 h a week for 4 weeks", Agreed{6, 4}.Hours(), 24, 0},
		{"arithmetic, computed", "less 5, 7 and 6.5", Agreed{6, 4}.Left(5, 7, 6.5), 5.5, 0},
		{"arithmetic, computed", "done more than agreed", Agreed{6, 1}.Left(8), -2, 0},
		{"rolling and air at 15 km/h, 150 kg (computed)", "power on the way home", Haul{Load: 45, Speed: 15 / 3.6}.Watts(), 88.2, 0.05},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, want %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
