package main

import (
	"context"
	"math"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/engine"
)

// TestTwoUnitSystemsOneOutlook reads the same station in tenths of metric units
// and in US units: over the years both hold, the outlooks agree to rounding. A tenth
// of a degree can tip a night to frost or a day past a wait, so the share met is held
// in the mean of three draws of luck.
func TestTwoUnitSystemsOneOutlook(t *testing.T) {
	const draws = 3
	met := map[string]float64{}
	for seed := uint64(3); seed < 3+draws; seed++ {
		metric := outlookOf(t, "../../weather/testdata/gainesville-1960-2026.csv.gz", seed)
		us := outlookOf(t, "../../weather/testdata/gainesville-1960-2020.csv.gz", seed)
		if len(metric.Needs) != len(us.Needs) {
			t.Fatalf("%d needs in one, %d in the other", len(metric.Needs), len(us.Needs))
		}
		for i, a := range metric.Needs {
			b := us.Needs[i]
			if d := a.Middle - b.Middle; d > 7 || d < -7 {
				t.Errorf("%s: middle cover %d days in metric, %d in US units", a.Name, a.Middle, b.Middle)
			}
			if d := apart(a.Short, b.Short); d > 0.02 {
				t.Errorf("%s: the weekly chances lie %.3f apart on average", a.Name, d)
			}
			if math.Abs(a.ShareShort-b.ShareShort) > 0.1 {
				t.Errorf("%s: short in %.2f of years in metric, %.2f in US units", a.Name, a.ShareShort, b.ShareShort)
			}
			met[a.Name] += (a.Met[1] - b.Met[1]) / draws
		}
	}
	for name, d := range met {
		if math.Abs(d) > 0.01 {
			t.Errorf("%s: the share met lies %.3f apart", name, d)
		}
	}
}

// apart is the mean distance of two lists of chances.
func apart(a, b []float64) float64 {
	if len(a) == 0 || len(a) != len(b) {
		return 0
	}
	sum := 0.0
	for i := range a {
		sum += math.Abs(a[i] - b[i])
	}
	return sum / float64(len(a))
}

// outlookOf runs the demo over the real years 1985 to 2019 of a record.
func outlookOf(t *testing.T, file string, seed uint64) *engine.Outlook {
	t.Helper()
	q := request{name: "quernfold.toml", text: demo.Quernfold(), weather: file, units: "auto", years: "1985-2019",
		days: 365, members: 33, seed: seed}
	r, err := q.prepare(time.Now)
	if err != nil {
		t.Fatal(err)
	}
	o, err := bare(context.Background(), r, r.Options)
	if err != nil {
		t.Fatal(err)
	}
	return o
}
