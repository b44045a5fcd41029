package engine

import (
	"slices"
	"strings"
	"testing"

	"evenstead/stead"
)

// After the stay nobody eats, drinks or works here, and the outlook says so.
func TestNobodyIsHereAfterTheStay(t *testing.T) {
	r := readyDemo(t, 2, 120)
	r.st.Stay.To = r.st.Stay.From + 60
	m := r.model(t)
	for d, plan := range m.cal {
		here := d <= 60
		if (plan.mouths > 0) != here || (plan.energy > 0) != here || !here && (plan.hours > 0 || plan.owed > 0) {
			t.Fatalf("day %d: %g mouths, %g MJ, %g hours, %g owed", d, plan.mouths, plan.energy, plan.hours, plan.owed)
		}
	}
	if !slices.ContainsFunc(m.Notes(), func(n string) bool { return strings.Contains(n, "the stay ends on") }) {
		t.Errorf("no note tells of the end: %q", m.Notes())
	}
	out := r.run(t)
	for _, n := range out.Needs {
		for w := 10; w < len(n.Short); w++ {
			if n.Short[w] != 0 && (n.ID == "energy" || n.ID == "drinking") {
				t.Errorf("%s falls short in week %d, when nobody is here", n.ID, w)
			}
		}
	}
	r.st.Stay.To = r.st.Stay.From - 1 // over before today: says nothing of the days ahead
	if m := r.model(t); m.cal[5].mouths == 0 {
		t.Error("a stay that ended before today sends everybody away")
	}
}

// Own heat comes first where the terms say so, each kind in its written order.
func TestOwnHeatFirst(t *testing.T) {
	r := readyDemo(t, 1, 30)
	r.st.Cookers = []stead.Cooker{{Kind: "bottle"}, {Kind: "wood"}, {Kind: "electric"}, {Kind: "sun", Aperture: 1}}
	if got := r.model(t).Cooks(); !slices.Equal(got, []string{"bottle", "wood", "electric", "sun"}) {
		t.Errorf("as written: %q", got)
	}
	r.st.Terms.OwnHeat = true
	if got := r.model(t).Cooks(); !slices.Equal(got, []string{"wood", "sun", "bottle", "electric"}) {
		t.Errorf("own heat first: %q", got)
	}
}

// Worms bring compost sooner, never more of it than was there.
func TestWormsRipenCompost(t *testing.T) {
	ripe := func(worms float64) float64 {
		r := readyDemo(t, 1, 100)
		r.st.Composts[0].Worms = worms
		run := newRunner(r.model(t))
		run.begin(0, r.ens.Members[0])
		run.s.freshKg, run.s.freshHas = 100, npk{1, 0.2, 0.5}
		run.s.ripeKg, run.s.ripeHas = 0, npk{}
		run.day, run.w.TMin[0], run.w.TMax[0] = 0, 15, 25
		before := run.s.freshHas.n
		run.rot()
		if run.s.ripeHas.n+run.s.freshHas.n > before+1e-12 {
			t.Fatalf("%g of nitrogen out of %g", run.s.ripeHas.n+run.s.freshHas.n, before)
		}
		return run.s.ripeKg
	}
	none, some, all := ripe(0), ripe(10), ripe(1000)
	if !(none < some && some < all) {
		t.Errorf("ripe %g, %g, %g kg with none, 10 and 1,000 kg of worms", none, some, all)
	}
}
