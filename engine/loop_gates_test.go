package engine

import (
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/fertility"
	"evenstead/stead"
)

// gated is a stead with everything that a gate stands before, in either half of
// the world: lettuce sown so that it is near its harvest on the day asked about.
func gated(t *testing.T, latitude, sow string, more string) ready {
	t.Helper()
	st, err := stead.Read("small.toml", []byte(`
stay.from = 2026-11-01
place.latitude = `+latitude+`
place.soil_ph = 6.2
people = 2
roof = [{ area = "60 m2", tank = "4000 L" }]
bed = [{ name = "salad", area = "10 m2" }, { name = "grain", area = "30 m2" }, { name = "bare", area = "5 m2" }]
tree = [{ name = "figs", crop = "fig", area = "20 m2" }]
planting = [{ bed = "salad", crop = "lettuce", sow = "`+sow+`" }]
compost = [{ name = "bin" }]
flock = [{ count = 3 }]
toilet = [{ drums = 4 }]
digester = [{ liquid = "700 L", bag = "500 L", feed = "2 kg/day" }]
drum = [{ closed = 2025-03-01 }, { filled = "50 %" }]
cooker = [{ kind = "wood" }]
fuel = [{ kind = "wood", stock = "300 kg" }]
`+more))
	if err != nil {
		t.Fatal(err)
	}
	return readyFor(t, st, 1, 400)
}

func gateOf(t *testing.T, p *Past, plot string, d fertility.Deed) PlotGate {
	t.Helper()
	all, err := p.PlotGates()
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range all {
		if g.Plot == plot && g.Deed == d {
			if g.Rule == "" || g.Source == "" || g.Allowed == (g.Why != "") {
				t.Errorf("%s on %s: %+v", d, plot, g)
			}
			return g
		}
	}
	t.Fatalf("no gate of %s on %s", d, plot)
	return PlotGate{}
}

// In both halves of the world lettuce near its harvest takes nothing, and figs far
// from theirs take all.
func TestPlotGates(t *testing.T) {
	for _, half := range []struct{ latitude, sow string }{{"40", "2026-11-03"}, {"-35", "2026-11-03"}} {
		r := gated(t, half.latitude, half.sow, "")
		today := day.Of(2026, time.December, 15)
		p := r.replay(t, today, nil)
		for _, d := range []fertility.Deed{fertility.SpreadUrine, fertility.SpreadDigestate, fertility.DigManure, fertility.SpreadCompost, fertility.SpreadDrum} {
			g := gateOf(t, p, "salad", d)
			if g.Allowed || g.Kind != fertility.Raw || g.Crop != "lettuce" {
				t.Errorf("%s: %s on lettuce: %+v", half.latitude, d, g)
			}
			if g := gateOf(t, p, "bare", d); g.Allowed || g.Kind != fertility.Unknown {
				t.Errorf("%s: %s where nothing is known to come: %+v", half.latitude, d, g)
			}
		}
		for _, d := range []fertility.Deed{fertility.SpreadUrine, fertility.SpreadDigestate, fertility.DigManure, fertility.SpreadDrum, fertility.SpreadAsh} {
			g := gateOf(t, p, "figs", d)
			far := g.Harvest-today >= 90
			if g.Kind != fertility.Tree || !g.Allowed && far {
				t.Errorf("%s: %s on figs: %+v", half.latitude, d, g)
			}
		}
	}
}

// The last day allowed is as far before the harvest as the rule says.
func TestPlotGateCountsFromHarvest(t *testing.T) {
	p := gated(t, "40", "2027-03-10", "").replay(t, day.Of(2026, time.December, 1), nil)
	g := gateOf(t, p, "salad", fertility.SpreadUrine)
	if !g.Allowed || g.Harvest == 0 || g.Until != g.Harvest-30 || g.Told == "" {
		t.Errorf("%+v", g)
	}
	if g := gateOf(t, p, "salad", fertility.DigManure); g.Until != g.Harvest-120 {
		t.Errorf("%+v", g)
	}
}

func TestDrumGates(t *testing.T) {
	for _, c := range []struct {
		today day.Day
		more  string
		open  bool
	}{
		{day.Of(2027, time.February, 28), "", false},
		{day.Of(2027, time.March, 1), "", true}, // 2 years where the mean of the demo's climate is under 20 °C
		{day.Of(2027, time.March, 1), "[[rule]]\nkind = \"drum_cure\"\nvalue = 3\ntext = \"three years\"\nsource = \"county\"\n", false},
	} {
		p := gated(t, "40", "2026-11-03", c.more).replay(t, c.today, nil)
		gates, err := p.DrumGates()
		if err != nil || len(gates) < 2 {
			t.Fatal(gates, err)
		}
		if gates[0].Allowed != c.open || gates[1].Allowed {
			t.Errorf("%v with %q: %+v", c.today, c.more, gates[:2])
		}
		if gates[1].From != 0 || !strings.Contains(gates[1].Why, "no closing date") {
			t.Errorf("a drum in use: %+v", gates[1])
		}
	}
}

func TestHeapGates(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := day.Of(2026, time.November, 20)
	hot := `
heat 58 C in bin on 2026-11-05
heat 60 C in bin on 2026-11-06
heat 57 C in bin on 2026-11-07
heat 56 C in bin on 2026-11-08
`
	gap := strings.Replace(hot, "heat 57 C in bin on 2026-11-07\n", "", 1)
	for _, c := range []struct {
		book string
		pile bool
	}{{hot, true}, {gap, false}} {
		gates, err := r.replay(t, today, notes(t, r, today, c.book)).HeapGates()
		if err != nil || len(gates) != 1 || gates[0].Highest != 60 {
			t.Fatal(gates, err)
		}
		for _, rule := range gates[0].Rules {
			if rule.ID == "pile" && rule.Allowed != c.pile {
				t.Errorf("%+v", rule)
			}
		}
	}
}

func TestHeldTellsPickingsTooSoon(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := day.Of(2026, time.December, 20)
	entries := notes(t, r, today, "spread 4 L urine on salad on 2026-11-10\npicked 1 kg lettuce, salad on 2026-12-05\npicked 1 kg lettuce, salad on 2026-12-11\n")
	entries[0].Body.Extra = map[string]string{"reason": "poured at the edge"}
	held, err := r.replay(t, today, entries).Held()
	if err != nil || len(held) != 1 {
		t.Fatal(held, err)
	}
	h := held[0]
	if h.Free != day.Of(2026, time.December, 10) || len(h.Early) != 1 || h.Early[0] != day.Of(2026, time.December, 5) || h.Reason == "" || h.Source == "" {
		t.Errorf("%+v", h)
	}
}

// A picking too soon is refused with what was spread, the reason that was given for
// it, and the day from which it is free.
func TestPickingTooSoonIsBarred(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := day.Of(2026, time.December, 20)
	entries := notes(t, r, today, "spread 4 L urine on salad on 2026-11-10\n")
	entries[0].Body.Extra = map[string]string{"reason": "poured at the edge"}
	p := r.replay(t, today, entries)
	bars, err := p.Bars()
	if err != nil {
		t.Fatal(err)
	}
	c := book.Of(r.st, r.tab)
	c.Today, c.From, c.Who, c.Bars = today, r.st.Stay.From, r.st.People[0].Name, bars
	for _, x := range []struct {
		on  string
		bar bool
	}{{"2026-11-09", false}, {"2026-11-10", true}, {"2026-12-09", true}, {"2026-12-10", false}} {
		got := book.Read("picked 1 kg lettuce, salad on "+x.on, c)[0]
		if (got.Err != nil) != x.bar {
			t.Errorf("%s: %v", x.on, got.Err)
		}
		if x.bar && (!strings.Contains(got.Err.Error(), "poured at the edge") || !strings.Contains(got.Err.Error(), "2026-12-10")) {
			t.Errorf("%s: %v", x.on, got.Err)
		}
	}
}

// What the issue calls bad input is refused in clear words, and a reason is kept.
func TestBarsStandAgainstTheBook(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := day.Of(2026, time.December, 15)
	p := r.replay(t, today, nil)
	bars, err := p.Bars()
	if err != nil {
		t.Fatal(err)
	}
	c := book.Of(r.st, r.tab)
	c.Today, c.From, c.Who = today, r.st.Stay.From, r.st.People[0].Name
	p.Fill(&c)
	c.Bars = bars
	for _, x := range []struct{ note, want string }{
		{"spread 3 L urine on salad", "lettuce there may be picked"},
		{"spread 20 L digestate on salad", "not on roots or on food eaten raw"},
		{"opened drum 2", "no closing date is known"},
		{"emptied drum 2 to figs", "no closing date is known"},
		{"spread drum 1 40 L on salad", "must stay closed until 2027-03-01"},
		{"fed digester 200 kg scraps", "more than the slurry takes in a week"},
		{"heat 400 C in bin", "the most in one entry is 110"},
		{"spread 3 L urine on figs", ""},
		{"fed digester 2 kg scraps", ""},
		{"spread 70 L urine on figs", "more than 3 L/m2"},
		{"spread 3 kg ash on figs", "more than 0.1 kg/m2"},
		{"spread 1 kg ash on figs", ""},
		{"spread 3 L urine on bare", ""}, // nothing is known to come: told by the gate, not barred
		{"closed drum 2", ""},
	} {
		got := book.Read(x.note, c)[0]
		switch {
		case x.want == "" && got.Err != nil:
			t.Errorf("%q: %v", x.note, got.Err)
		case x.want != "" && (got.Err == nil || !strings.Contains(got.Err.Error(), x.want)):
			t.Errorf("%q: %v, want %q", x.note, got.Err, x.want)
		case x.want != "" && !strings.HasPrefix(x.note, "heat"):
			if got = got.Because("the health office agreed", c); got.Err != nil || got.Entry.Body.Extra["reason"] == "" {
				t.Errorf("%q with a reason: %v", x.note, got.Err)
			}
		}
	}
}

// The words of the description's rules are those that the gates know.
func TestRuleWordsAgree(t *testing.T) {
	for _, k := range fertility.LocalKinds() {
		value := ""
		if k.Unit != "" {
			value = "value = 3\n"
		}
		r := gated(t, "40", "2026-11-03", "[[rule]]\nkind = \""+k.Name+"\"\n"+value+"text = \"own\"\nsource = \"lease\"\n")
		if _, err := r.replay(t, r.st.Stay.From+1, nil).PlotGates(); err != nil {
			t.Errorf("%s: %v", k.Name, err)
		}
	}
}

func TestBansReachTheBook(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "[[rule]]\nkind = \"no_urine\"\ntext = \"none on the plot\"\nsource = \"lease, point 4\"\n")
	bars, err := r.replay(t, r.st.Stay.From+20, nil).Bars()
	if err != nil {
		t.Fatal(err)
	}
	for _, plot := range []string{"salad", "figs", "bare"} {
		found := false
		for _, b := range bars {
			found = found || b.What == "urine" && b.At == plot && b.Last == 0 && b.Source == "lease, point 4"
		}
		if !found {
			t.Errorf("urine is not barred on %s: %+v", plot, bars)
		}
	}
}

func BenchmarkBars(b *testing.B) {
	r := readyDemo(b, 1, 30)
	p := r.replay(b, r.st.Stay.From+10, nil)
	for b.Loop() {
		if _, err := p.Bars(); err != nil {
			b.Fatal(err)
		}
	}
}
