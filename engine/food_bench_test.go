package engine

import (
	"fmt"
	"testing"

	"evenstead/larder"
	"evenstead/stead"
)

// manyLots gives the demo household so many lots, each a food of its own that can
// be kept dry or fresh, and no ground, birds or wild food.
func manyLots(tb testing.TB, lots int) ready {
	tb.Helper()
	r := readyDemo(tb, 1, 365)
	st := r.st
	st.Plantings, st.Trees, st.Forage, st.Hives, st.Flocks, st.Lots = nil, nil, nil, nil, nil, nil
	for i := range r.tab.Foods {
		f := &r.tab.Foods[i]
		if len(st.Lots) == lots {
			break
		}
		if _, ok := r.tab.Eaten(f.Category); !ok || f.Refuse >= 1 || len(r.tab.HazardsOf(f.ID)) > 0 {
			continue
		}
		form := larder.Fresh
		if len(r.tab.KeepingOf(f, larder.Dry)) > 0 {
			form = larder.Dry
		}
		st.Lots = append(st.Lots, stead.Lot{Food: f.ID, Form: form, Mass: 20})
	}
	if len(st.Lots) < lots {
		tb.Fatalf("only %d foods for %d lots", len(st.Lots), lots)
	}
	return r
}

// BenchmarkEating is what the table adds to a day of a member: eating from so many
// lots, their ranking once a week and the week's sum of every nutrient. The lots
// are filled up again each day, which is counted too. With the nutrients'
// targets, 33 rows of the requirements table stand behind its 30 sums: three are
// shares of energy.
func BenchmarkEating(b *testing.B) {
	for _, lots := range []int{26, 120} {
		b.Run(fmt.Sprintf("lots=%d", lots), func(b *testing.B) {
			r := manyLots(b, lots)
			m := r.model(b)
			run := newRunner(m)
			run.begin(0, r.ens.Members[0])
			rec := recorder{runner: run, res: m.newResult(1)}
			full := append([]float64(nil), run.s.kg...)
			day := 0
			b.ResetTimer()
			for b.Loop() {
				plan := &m.cal[day]
				copy(run.s.kg, full)
				run.stale = plan.wd == 0
				if plan.wd == 0 {
					run.crave()
					run.rank(plan)
				}
				run.eat(plan)
				if plan.wd == 6 {
					rec.nutrition(day)
					clear(run.s.eaten)
				}
				day = (day + 1) % m.days
			}
			b.ReportMetric(float64(len(m.nutrients)), "nutrients")
		})
	}
}

// The lots of the benchmark feed the household, or it would measure an empty table.
func TestManyLotsAreEaten(t *testing.T) {
	r := manyLots(t, 120)
	m := r.model(t)
	run := newRunner(m)
	run.begin(0, r.ens.Members[0])
	run.rank(&m.cal[0])
	run.eat(&m.cal[0])
	got := 0.0
	for k, kg := range run.s.eaten {
		got += kg * m.kinds[k].mj
	}
	if want := m.cal[0].energy; got < 0.999*want {
		t.Errorf("%g MJ eaten of %g from 120 lots", got, want)
	}
}
