package engine

import (
	"math"
	"testing"

	"evenstead/weather"
)

func (r ready) weeks(t *testing.T) []WorkWeek {
	t.Helper()
	m := r.model(t)
	weeks, err := m.WorkWeeks(t.Context(), r.ens.Past(weather.Unknown(r.ens.Start, r.ens.Days)))
	if err != nil {
		t.Fatal(err)
	}
	return weeks
}

// Every week's tasks come to what is asked, and no more is done than there is.
func TestWorkWeeksAddUp(t *testing.T) {
	r := readyDemo(t, 1, 365)
	weeks := r.weeks(t)
	if len(weeks) != 53 || weeks[0].From != r.opt.Today || weeks[1].From != r.opt.Today+7 {
		t.Fatalf("%d weeks from %v", len(weeks), weeks[0].From)
	}
	for _, w := range weeks {
		sum := 0.0
		for _, task := range w.Tasks {
			if task.Hours < 0 {
				t.Errorf("%v: %+v", w.From, task)
			}
			sum += task.Hours
		}
		if math.Abs(sum-w.Asked) > 1e-6*(1+sum) {
			t.Errorf("%v: tasks come to %g h, %g are asked", w.From, sum, w.Asked)
		}
		if w.Done > w.Have+1e-6 || w.Done > w.Asked+1e-6 {
			t.Errorf("%v: %g h done of %g asked and %g there", w.From, w.Done, w.Asked, w.Have)
		}
	}
}

// The tending of the demo's ground stands in the band of hand-worked beds, 0.6 to 2 h/m2
// a year, its strips at the field's 0.1 to 0.2 (New Alchemy Institute 1976-77; common
// practice).
func TestGardenHoursLieInTheirBand(t *testing.T) {
	r := readyDemo(t, 1, 365)
	garden, ground := 0.0, 0.0
	for _, w := range r.weeks(t) {
		for _, task := range w.Tasks {
			if task.Name == "garden" {
				garden += task.Hours
			}
		}
	}
	for _, b := range r.st.Beds {
		ground += b.Area
	}
	if perM2 := garden / ground; perM2 < 0.1 || perM2 > 2 {
		t.Errorf("%g h on %g m2: %g h/m2", garden, ground, perM2)
	}
}

// A person away takes their hours with them.
func TestAwayWeeksHaveFewerHours(t *testing.T) {
	r := readyDemo(t, 1, 365)
	weeks := r.weeks(t)
	most, least := 0.0, math.Inf(1)
	for _, w := range weeks[:len(weeks)-1] {
		most, least = max(most, w.Have), min(least, w.Have)
	}
	if !(least < 0.7*most) {
		t.Errorf("Rook's nine days and Sorrel's six show in no week: %g to %g h", least, most)
	}
}

func TestWorkWeeksNeedTheirWeather(t *testing.T) {
	if _, err := readyDemo(t, 1, 365).model(t).WorkWeeks(t.Context(), weather.Member{}); err == nil {
		t.Error("no weather was enough")
	}
}

func BenchmarkWorkWeeks(b *testing.B) {
	r := readyDemo(b, 1, 365)
	m := r.model(b)
	w := r.ens.Past(weather.Unknown(r.ens.Start, r.ens.Days))
	for b.Loop() {
		if _, err := m.WorkWeeks(b.Context(), w); err != nil {
			b.Fatal(err)
		}
	}
}
