package engine

import (
	"math"
	"testing"

	"evenstead/stead"
)

// sandhill is a stead with one tank, so that its ledger is the tank's.
func sandhill(t testing.TB, n, days int) ready {
	t.Helper()
	st, err := stead.Read("sandhill", []byte(`
name = "Sandhill"
place.latitude = 40
people = 2
roof = [{ area = "60 m2", tank = "3000 L" }]
bed = [{ area = "60 m2" }]
planting = [{ bed = "bed 1", crop = "tomato", sow = "20 May" }]
`))
	if err != nil {
		t.Fatal(err)
	}
	return readyFor(t, st, n, days)
}

// TestTraceAddsUp: each week's level is the last one's with what came in and
// without what went out, and the first week short is the one the outlook's
// middle member says.
func TestTraceAddsUp(t *testing.T) {
	r := sandhill(t, 50, 365)
	m := r.model(t)
	tr, err := m.Trace(t.Context(), r.ens, r.opt, "washing")
	if err != nil {
		t.Fatal(err)
	}
	if tr.Short == nil || tr.Of == 0 || len(tr.Weeks) < 3 {
		t.Fatalf("trace %+v", tr)
	}
	sum := func(f []Flow) (v float64) {
		for _, x := range f {
			v += x.Amount
		}
		return v
	}
	for i := 1; i < len(tr.Weeks); i++ {
		w := tr.Weeks[i-1]
		if is, want := tr.Weeks[i].Level, w.Level+sum(w.In)-sum(w.Out); math.Abs(is-want) > 1e-6*(1+want) {
			t.Errorf("week from %s: %.3f L, by the flows %.3f", tr.Weeks[i].From, is, want)
		}
	}
	for _, w := range tr.Weeks {
		shorts := w.Got < w.Want*(1-1e-9)
		if *tr.Short >= w.From+7 && w.Want > 0 && w.Got < w.Want*(1-7*tolerance) {
			t.Errorf("week from %s is short by more than a day's tolerance before %s: %.1f of %.1f", w.From, *tr.Short, w.Got, w.Want)
		}
		if *tr.Short >= w.From && *tr.Short < w.From+7 && !shorts {
			t.Errorf("the week of %s is met", *tr.Short)
		}
	}
}

func TestTraceOfNoSuchNeed(t *testing.T) {
	r := sandhill(t, 2, 60)
	if _, err := r.model(t).Trace(t.Context(), r.ens, r.opt, "gold"); err == nil {
		t.Error("a trace of gold")
	}
}

// TestHardshipsBite: each hardship moves what a grower would expect.
func TestHardshipsBite(t *testing.T) {
	r := readyDemo(t, 40, 365)
	m := r.model(t)
	base := r.run(t)
	list := m.Hardships(r.st, r.tab, base, r.opt.Climate)
	met := map[string]string{"dry": "beds", "staple": "energy", "ill": "hours", "roof": "washing"}
	seen := map[string]bool{}
	for i := range list {
		h := &list[i]
		seen[h.ID] = true
		o := r.opt
		o.Hardship = h
		ens := *r.ens
		if h.Weather != nil {
			h.Weather(&ens)
		}
		st := *r.st
		if h.Stead != nil {
			h.Stead(&st)
		}
		hm, err := Prepare(&st, r.tab, o)
		if err != nil {
			t.Fatalf("%s: %v", h.Name, err)
		}
		res, err := hm.Run(t.Context(), &ens, o)
		if err != nil {
			t.Fatalf("%s: %v", h.Name, err)
		}
		if need := met[h.ID]; need != "" {
			was, is := base.must(t, need), res.Outlook().must(t, need)
			if !(is.Met[1] < was.Met[1] || is.ShareShort > was.ShareShort) {
				t.Errorf("%s: %s is met %.3f in the middle year, was %.3f", h.Name, need, is.Met[1], was.Met[1])
			}
		}
		if h.ID == "blossom" {
			fruit(t, base, res.Outlook())
		}
	}
	for _, id := range []string{"dry", "trailer", "freezer", "staple", "ill", "roof", "summer", "blossom"} {
		if !seen[id] {
			t.Errorf("the demo does not meet the hardship %q", id)
		}
	}
	for i := range r.ens.Members {
		if r.ens.Members[i].TMin[0] < -40 {
			t.Error("a hardship wrote into the shared weather")
		}
	}
}

// fruit tells that a frost in blossom took tree fruit.
func fruit(t *testing.T, base, frost *Outlook) {
	t.Helper()
	lost := 0
	for i, c := range base.Crops {
		if f := frost.Crops[i]; c.Crop == f.Crop && f.Kg.P50 < 0.5*c.Kg.P50 {
			lost++
		}
	}
	if lost == 0 {
		t.Error("a killing frost in blossom took no crop's half")
	}
}

// TestFreezerOut: three days without current lose what is frozen.
func TestFreezerOut(t *testing.T) {
	r := readyDemo(t, 5, 60)
	h := &Hardship{ID: "freezer", From: 3, CutHours: 200}
	r.opt.Hardship = h
	after := r.run(t)
	for _, s := range after.Stores {
		if s.ID == "place:chest" && s.Weeks[1].P90 > 0.2*s.Now {
			t.Errorf("200 hours without current left %.1f of %.1f L in the freezer", s.Weeks[1].P90, s.Now)
		}
	}
}
