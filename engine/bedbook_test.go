package engine

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// adds checks that what was, what came and what left make what is, of every plot.
func adds(t failer, of []BedLedger) {
	for i := range of {
		l := &of[i]
		in, out := l.Sum(true), l.Sum(false)
		for name, v := range map[string][2]float64{
			"nitrogen":   {l.Before.N + in.N - out.N, l.After.N},
			"phosphorus": {l.Before.P + in.P - out.P, l.After.P},
			"potassium":  {l.Before.K + in.K - out.K, l.After.K},
		} {
			if math.Abs(v[0]-v[1]) > 1e-9*(1+math.Abs(v[1])) {
				t.Fatalf("%s: %s adds up to %g kg and is %g", l.Plot, name, v[0], v[1])
			}
		}
		if l.SodiumGone < 0 || l.SodiumGone > l.SodiumIn*(1+1e-9) {
			t.Fatalf("%s: %g kg of sodium came and %g left", l.Plot, l.SodiumIn, l.SodiumGone)
		}
	}
}

func TestBedLedgersAddUp(t *testing.T) {
	r := readyDemo(t, 3, 365)
	of, err := r.model(t).BedsAhead(t.Context(), r.ens, 3)
	if err != nil {
		t.Fatal(err)
	}
	adds(t, of)
	seen := map[string]float64{}
	for _, l := range of {
		for _, mv := range l.Moves {
			seen[mv.Way] += mv.Has.N + mv.Has.P + mv.Has.K
			if mv.Has.N < 0 || mv.Has.P < 0 || mv.Has.K < 0 {
				t.Errorf("%s: %s is below zero: %+v", l.Plot, mv.Way, mv.Has)
			}
		}
	}
	for _, way := range []string{"urine", "digestate", "compost", "fixed from the air", "harvest", "below the roots"} {
		if seen[way] <= 0 {
			t.Errorf("nothing by %s in a year of the demo", way)
		}
	}
	// The plots together are the soil and plants of the ledger of the whole.
	run := newRunner(r.model(t))
	run.begin(0, r.ens.Members[0])
	for d := range run.m.days {
		run.step(d)
	}
	one := run.m.bedsOf(0, r.ens.Members[0])
	urine := 0.0
	for _, l := range one {
		for _, mv := range l.Moves {
			if mv.Way == "urine" {
				urine += mv.Has.P
			}
		}
	}
	if want := run.s.led[mP][atToilet][atSoil]; math.Abs(urine-want) > 1e-9*(1+want) {
		t.Errorf("the beds had %g kg of phosphorus from urine, the toilet gave %g to the ground", urine, want)
	}
}

// Over any book of the stay, too, each plot adds up.
func TestBedLedgersAddUpByTheBook(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 100
	rapid.Check(t, func(t *rapid.T) {
		h := History{Versions: []Version{{From: r.st.Stay.From, Stead: r.st}}, Entries: drawnBook(t, r, today)}
		opt := r.opt
		opt.Today = today
		p, err := Replay(context.Background(), r.tab, h, r.ens, opt)
		if err != nil {
			t.Fatal(err)
		}
		adds(t, p.Beds)
		if len(p.Beds) != len(p.end.plots) || p.Beds[0].From != r.st.Stay.From || p.Beds[0].To != today {
			t.Fatalf("%d ledgers of %d plots, from %s to %s", len(p.Beds), len(p.end.plots), p.Beds[0].From, p.Beds[0].To)
		}
	})
}
