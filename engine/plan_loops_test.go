package engine

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenstead/stead"
)

// TestLoopYearAddsUp: the fires of a loop year give what the run's cooking was given,
// and carriers bring beds what the ledgers of the beds say, which are kept apart.
func TestLoopYearAddsUp(t *testing.T) {
	r := readyDemo(t, 2, 364)
	m := r.model(t)
	y, err := m.LoopYear(context.Background(), r.ens, 2)
	if err != nil {
		t.Fatal(err)
	}
	asked, given := 0.0, 0.0
	for s := range y.Asked {
		asked += y.Asked[s]
		of := 0.0
		for _, c := range y.Cookers {
			of += c.Heat[s]
		}
		if given += of; of > y.Asked[s]+1e-6 || y.Other[s] > y.Asked[s]+1e-6 {
			t.Errorf("fortnight %d: %.3f MJ given, %.3f beside the plates, %.3f asked", s, of, y.Other[s], y.Asked[s])
		}
	}
	if short := 1 - given/asked; math.Abs(short-y.Short) > 0.002 { // a share of each member's own
		t.Errorf("%.4f of the heat lacks by the fires, %.4f by the need", short, y.Short)
	}
	ledgers, err := m.BedsAhead(context.Background(), r.ens, 2)
	if err != nil {
		t.Fatal(err)
	}
	var want [len(Carriers)]float64
	for _, l := range ledgers {
		for _, mv := range l.Moves {
			for c, name := range Carriers {
				if mv.Way == name && slices.ContainsFunc(r.st.Beds, func(b stead.Bed) bool { return b.Name == l.Plot }) {
					want[c] += mv.Has.N * 365 / 364
				}
			}
		}
	}
	for c, name := range Carriers {
		if math.Abs(want[c]-y.ToBeds[c][0]) > 1e-9 {
			t.Errorf("%s brings beds %.6f kg of nitrogen, %.6f by the ledgers", name, y.ToBeds[c][0], want[c])
		}
	}
	if y.ToBeds[0][0] < 1 {
		t.Errorf("urine brings %.3f kg", y.ToBeds[0][0])
	}
}

// TestLoopYearFetching: twice the scraps make more gas and digestate and longer trips.
func TestLoopYearFetching(t *testing.T) {
	year := func(fetched float64) *LoopYear {
		r := readyDemo(t, 1, 364)
		d := &r.st.Digesters[0]
		d.Feed += fetched - d.Fetched
		d.Fetched, d.To = fetched, nil
		r.st.Hauls[0].Trips = 104 * fetched / 1.5
		y, err := r.model(t).LoopYear(context.Background(), r.ens, 1)
		if err != nil {
			t.Fatal(err)
		}
		return y
	}
	less, more := year(0.5), year(3)
	gas := func(y *LoopYear) (mj float64) {
		for _, v := range y.cooker("biogas").Heat {
			mj += v
		}
		return mj
	}
	if gas(more) < 1.5*gas(less) || more.Fetch < 5.9*less.Fetch || more.Wet < less.Wet {
		t.Errorf("0.5 kg: %.0f MJ, %.3f h, %.2f L; 3 kg: %.0f MJ, %.3f h, %.2f L", gas(less), less.Fetch, less.Wet, gas(more), more.Fetch, more.Wet)
	}
}
