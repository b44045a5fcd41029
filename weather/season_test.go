package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenstead/day"
)

func TestSlot(t *testing.T) {
	for d, want := range map[day.Day]int{
		day.Of(2011, 1, 1): 0, day.Of(2011, 2, 28): 58, day.Of(2011, 3, 1): 59, day.Of(2011, 12, 31): 364,
		day.Of(2012, 2, 28): 58, day.Of(2012, 2, 29): 58, day.Of(2012, 3, 1): 59, day.Of(2012, 12, 31): 364,
		day.Of(1900, 3, 1): 59, day.Of(2000, 3, 1): 59,
	} {
		if got := Slot(d); got != want {
			t.Errorf("%s: %d, want %d", d, got, want)
		}
	}
}

func TestMonthCurveKeepsMeans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var means [12]float64
		for m := range means {
			means[m] = rapid.Float64Range(-40, 40).Draw(t, "mean")
		}
		c := MonthCurve(means)
		got := c.Months()
		for m := range means {
			if math.Abs(got[m]-means[m]) > 1e-9 {
				t.Fatalf("month %d: %g, want %g", m+1, got[m], means[m])
			}
		}
	})
}

func TestMonthCurveRunsRound(t *testing.T) {
	c := MonthCurve(mild.TMin)
	for slot := range c {
		if step := math.Abs(c[slot] - c[(slot+1)%YearSlots]); step > 0.2 {
			t.Errorf("a step of %g °C after slot %d", step, slot)
		}
	}
	flat := MonthCurve([12]float64{3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3})
	near(t, "flat", flat[200], 3, 1e-12)
}
