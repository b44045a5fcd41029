package fertility

import (
	"math"
	"testing"
)

func TestPublishedCover(t *testing.T) {
	sawdust := Material{Moisture: 0.39, C: 511 * 0.0011, N: 0.0011}
	const bulk, gotaas = 0.243, "Gotaas 1956, cover, computed" // kg/L
	kg := func(waste Material, years float64) float64 {
		v, err := Cover(waste, years, sawdust, 30)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{gotaas, "urine apart, kg wet", kg(AdultFaeces, 1), 37, 0.5},
		{gotaas, "urine apart, L", kg(AdultFaeces, 1) / bulk, 154, 0.5},
		{gotaas, "together, kg dry", 0.61 * kg(AdultToilet, 1), 244, 0.5},
		{gotaas, "together, m3", kg(AdultToilet, 1) / bulk / 1000, 1.6, 0.05},
		{gotaas, "two adults for half a year, kg wet", kg(AdultFaeces, 2*0.5), 37, 0.5},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
