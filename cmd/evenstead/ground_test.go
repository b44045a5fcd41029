package main

import (
	"encoding/json"
	"io"
	"strings"
	"testing"

	"evenstead/data"
	"evenstead/demo"
)

func demoGround(t testing.TB, only string) *groundBook {
	t.Helper()
	q := &request{name: "quernfold.toml", text: demo.Quernfold(), days: 365, members: groundYears, seed: 1}
	g, err := groundOf(q, groundAsk{crop: only})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// TestDemoGround: the demo grows what it says, in its seasons.
func TestDemoGround(t *testing.T) {
	g := demoGround(t, "")
	if len(g.Stands) < 60 {
		t.Fatalf("%d stands", len(g.Stands))
	}
	fit := 0
	for i := range g.Stands {
		s := &g.Stands[i]
		if s.Fits {
			fit++
		}
		if row := s.yearRow(); len(row) != 24 || strings.Count(row, "H") == 0 {
			t.Errorf("%s, %s: year drawn as %q", s.Bed, s.Crop, row)
		}
		for m := range 12 {
			if !(s.ETc[m] >= 0 && s.Rain[m] >= 0 && s.Water[m] >= 0 && s.Rain[m] <= s.ETc[m]+200) {
				t.Errorf("%s, %s, month %d: draws %g, rain %g, water %g mm", s.Bed, s.Crop, m+1, s.ETc[m], s.Rain[m], s.Water[m])
			}
		}
	}
	if fit < len(g.Stands)-4 {
		t.Errorf("%d of %d stands fit their windows", fit, len(g.Stands))
	}
}

func TestGroundIsJSON(t *testing.T) {
	b, err := json.Marshal(demoGround(t, ""))
	if err != nil {
		t.Fatal(err)
	}
	var back groundBook
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Stands) == 0 || back.Stands[0].First == "" {
		t.Errorf("%.200s", b)
	}
}

func TestYearRow(t *testing.T) {
	annual := &data.Crop{}
	for _, c := range []struct {
		name string
		s    groundStand
		want string
	}{
		{"spring", groundStand{First: "x", sow: 60, first: 60, last: 75, c: annual}, "....s--HH..............."},
		{"over the new year", groundStand{First: "x", sow: 320, first: 90, last: 100, c: annual}, "--HH.................s--"},
		{"no harvest", groundStand{sow: 100, c: annual}, "......s................."},
	} {
		if got := c.s.yearRow(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func BenchmarkGround(b *testing.B) {
	for b.Loop() {
		if err := writeGround(io.Discard, demoGround(b, ""), system(false)); err != nil {
			b.Fatal(err)
		}
	}
}
