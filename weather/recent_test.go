package weather

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"evenstead/day"
)

// warming is a record whose every year is a tenth of a kelvin warmer than the one
// before, with a wet day in three and a swing of a week.
func warming() *Record {
	r := steady(day.Of(1970, 1, 1), day.Of(2019, 12, 31))
	for i := range r.Rain {
		d := r.Start + day.Day(i)
		by := 0.1*float64(d.Year()-1970) + math.Sin(float64(i)/7)
		r.TMin[i], r.TMax[i] = 10+by, 20+by
		r.Rain[i] = float64(i % 3 / 2 * 5)
	}
	return r
}

func meanMax(e *Ensemble) float64 {
	total, n := 0.0, 0
	for i := range e.Members {
		for _, v := range e.Members[i].TMax[:e.Days] {
			total += v
			n++
		}
	}
	return total / float64(n)
}

// TestNewerYearsWeighMore: over a record that warms, the mean of the members moves
// from the mean of all years to that of the weighted years.
func TestNewerYearsWeighMore(t *testing.T) {
	r, start := warming(), day.Of(2020, time.March, 1)
	draw := func(half float64) float64 {
		e, err := FromRecent(r, rain42, start, 300, 600, 7, Recent{HalfLife: half})
		if err != nil {
			t.Fatal(err)
		}
		return meanMax(e)
	}
	weighted := func(half float64) float64 {
		sum, total := 0.0, 0.0
		for age := range 50 {
			w := Recent{half}.weight(age + 1)
			sum += w * (20 + 0.1*float64(49-age))
			total += w
		}
		return sum / total
	}
	plain := draw(0)
	near(t, "all alike", plain, weighted(1000), 0.25)
	for _, half := range []float64{10, 20} {
		got, want := draw(half), weighted(half)
		// Likeness draws towards alike years, and so slows the weights a little.
		if got < plain+0.6*(want-plain) || got > want+0.4 {
			t.Errorf("half-life %g: mean %.2f, the weighted years' %.2f, all years' %.2f", half, got, want, plain)
		}
	}
}

func TestNoWeightsChangeNothing(t *testing.T) {
	start := day.Of(2026, 3, 1)
	a, err := FromRecord(seattle(t), rain42, start, 120, 40, 3)
	if err != nil {
		t.Fatal(err)
	}
	b, err := FromRecent(seattle(t), rain42, start, 120, 40, 3, Recent{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Members {
		if !slices.Equal(a.Members[i].Rain, b.Members[i].Rain) || a.Members[i].Label != b.Members[i].Label {
			t.Fatalf("member %d differs", i)
		}
	}
	if _, err := FromRecent(seattle(t), rain42, start, 120, 40, 3, Recent{HalfLife: 2}); err == nil || !strings.Contains(err.Error(), "half-life of 2 years") {
		t.Errorf("a half-life of 2: %v", err)
	}
}
