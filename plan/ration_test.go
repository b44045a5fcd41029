package plan

import (
	"slices"
	"testing"

	"evenstead/demo"
	"evenstead/stead"
)

// TestRationsMakeItLast: over years not seen, the planned garden of the demo is
// short of fat for fewer weeks with its rations than without them, the table
// keeps to them, and the household's own ration stands.
func TestRationsMakeItLast(t *testing.T) {
	r := reckoning(t, demo.Quernfold(), "", "", 60, 1)
	own := *r.Stead
	own.Rations = []stead.Ration{{Food: "almond", Most: 0.004}}
	tab, err := own.Tables(r.Tables)
	if err != nil {
		t.Fatal(err)
	}
	a := ask(r)
	a.Stead, a.Tables = &own, tab
	p := made(t, a)
	if len(p.Rations) == 0 {
		t.Fatal("nothing is rationed")
	}
	for k, f := range p.years.frame.Foods {
		i := slices.IndexFunc(p.st.Rations, func(o stead.Ration) bool { return o.Food == f.Food })
		for per, c := range p.prog.eat[k] {
			if i >= 0 && c >= 0 && p.x()[c]*f.Edible > p.st.Rations[i].Most*p.years.mouths(per)+1e-4 {
				t.Errorf("%s, period %d: %.2f kg eaten, the ration is %.3f a day", f.Name, per, p.x()[c], p.st.Rations[i].Most)
			}
		}
	}
	if i := slices.IndexFunc(p.st.Rations, func(o stead.Ration) bool { return o.Food == "almond" }); p.st.Rations[i].Most != 0.004 {
		t.Errorf("the household's own ration became %v", p.st.Rations[i])
	}
	other := reckoning(t, demo.Quernfold(), "", "", 60, 2)
	measured(t, p, a, other)
	with := p.Measured.After.AnyLean
	loose := *p.st
	loose.Rations = own.Rations
	p.st = &loose
	measured(t, p, a, other)
	if without := p.Measured.After.AnyLean; with > without-1 {
		t.Errorf("%.1f weeks short with rations, %.1f without", with, without)
	}
}
