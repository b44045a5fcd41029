package larder

import (
	"math"
	"testing"
)

func TestPublishedAmounts(t *testing.T) {
	const pound, quart = 0.45359237, 0.946352946
	for _, c := range []struct {
		source, name   string
		got, want, tol float64
	}{
		{"USDA AIB 539 (from memory)", "14 lb of snap beans, quarts in a load", float64(JarCount(14*pound, quart)), 7, 0},
		{"USDA AIB 539 (from memory)", "9 lb of snap beans, pints in a load", float64(JarCount(9*pound, quart/2)), 9, 1},
		{"USDA, cucumbers in brine (from memory)", "BrineShare turns BrineSalt back", BrineShare(1, BrineSalt(1, 0.05)), 0.05, 1e-12},
		{"salt in water at 20 °C (from memory)", "g to a litre when saturated", 1000 * BrineSalt(1, Saturated), 359, 0.5},
		{"USDA SR26, potato, refuse 25 % (computed)", "100 g servings in 10 kg", Servings(10, 0.25, 0.1), 75, 1e-9},
		{"half a kilogram a week for 40 weeks (computed)", "kg with 5 % lost", YearOf(0.5, 40, 0.05), 21.05, 0.005},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %g, printed %g within %g", c.got, c.want, c.tol)
			}
		})
	}
}
