package fertility

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/data"
	"evenstead/day"
)

func rules(t testing.TB, own ...Local) Rulebook {
	t.Helper()
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	b, err := Rules(tab.Gates, own)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// halves are a harvest in the northern and in the southern summer, the second over
// a new year and a leap day.
var halves = map[string]day.Day{"north": day.Of(2027, time.July, 20), "south": day.Of(2028, time.March, 10)}

// good is an act that every gate lets pass, with a harvest far off.
func good(d Deed, k Kind, harvest day.Day) Act {
	return Act{Deed: d, Today: harvest - 400, Kind: k, Harvest: harvest, Closed: harvest - 400 - 1000, MeanTemp: 14, Water: 10, Season: 1, Covered: true,
		Shut: 400, ShutAt: 21, Age: 2, LitresDay: 100, Well: 50, Rotted: 200, SoilPH: 6, AshYear: 0.05, Clean: true}
}

// TestTruthTable holds every limit just before, on and after it, in both halves of
// the world.
func TestTruthTable(t *testing.T) {
	type row struct {
		name    string
		deed    Deed
		kind    Kind
		set     func(a *Act)
		allowed bool
	}
	var rows []row
	// edge adds three rows: a wait of days before harvest, a day short, met and over.
	wait := func(d Deed, k Kind, days int, set func(*Act)) {
		for _, by := range []int{-1, 0, 1} {
			rows = append(rows, row{d.String() + " on " + k.String(), d, k, func(a *Act) {
				a.Today = a.Harvest - day.Day(days+by)
				if set != nil {
					set(a)
				}
			}, by >= 0})
		}
	}
	// value adds three rows of a figure at its limit: most tells that more is too much.
	value := func(name string, d Deed, k Kind, limit, step float64, most bool, set func(a *Act, v float64)) {
		for _, by := range []float64{-step, 0, step} {
			rows = append(rows, row{name, d, k, func(a *Act) { set(a, limit+by) }, by == 0 || (by < 0) == most})
		}
		rows = append(rows, row{name + ", not known", d, k, func(a *Act) { set(a, math.NaN()) }, false})
	}
	for _, k := range []Kind{Tree, High, Low, Raw, Root} {
		wait(SpreadUrine, k, 30, nil)
		wait(UrineForOthers, k, 30, nil)
	}
	for _, k := range []Kind{Tree, High} {
		wait(DigManure, k, 90, nil)
		wait(SpreadDigestate, k, 90, nil)
		wait(SpreadCompost, k, 90, func(a *Act) { a.Rotted = 0 })
	}
	for _, k := range []Kind{Low, Raw, Root} {
		wait(DigManure, k, 120, nil)
		wait(SpreadCompost, k, 120, func(a *Act) { a.Rotted = math.NaN() })
	}
	wait(SpreadDigestate, Low, 120, nil)
	value("urine's water", SpreadUrine, Low, 3, 0.01, false, func(a *Act, v float64) { a.Water = v })
	value("urine in a season", SpreadUrine, Low, 3, 0.01, true, func(a *Act, v float64) { a.Season = v })
	value("urine shut for others", UrineForOthers, Low, 183, 1, false, func(a *Act, v float64) { a.Shut = v })
	value("urine shut for a hedge", UrineForOthers, NotEaten, 30, 1, false, func(a *Act, v float64) { a.Shut = v })
	value("urine kept warm", UrineForOthers, Low, 20, 0.1, false, func(a *Act, v float64) { a.ShutAt = v })
	value("washing water's age", PourGreywater, Tree, 24, 0.1, true, func(a *Act, v float64) { a.Age = v })
	value("heap left", SpreadCompost, Raw, 90, 1, false, func(a *Act, v float64) { a.Rotted, a.Today = v, a.Harvest-5 })
	value("ash in a year", SpreadAsh, Low, 0.1, 0.001, true, func(a *Act, v float64) { a.AshYear = v })
	drum := func(temp float64, years, by int) row {
		return row{"drum", OpenDrum, Tree, func(a *Act) {
			a.MeanTemp, a.Closed = temp, day.Of(2025, time.May, 4)
			a.Today = day.Of(2025+years, time.May, 4) + day.Day(by)
		}, by >= 0}
	}
	for _, by := range []int{-1, 0, 1} {
		rows = append(rows, drum(20, 1, by), drum(25, 1, by), drum(19.99, 2, by), drum(math.NaN(), 2, by), drum(math.Inf(1), 2, by))
	}
	for _, by := range []int{-1, 0, 1} { // what was in a drum, and digestate with toilet waste, at trees
		rested := func(a *Act) {
			a.Human, a.Rotted, a.Closed = true, 0, day.Of(2026, time.February, 28)
			a.Today = day.Of(2028, time.February, 28) + day.Day(by)
			a.Harvest = a.Today + 400
		}
		rows = append(rows, row{"drum at trees", SpreadDrum, Tree, rested, by >= 0}, row{"digestate with toilet waste", SpreadDigestate, Tree, rested, by >= 0},
			row{"heap with toilet waste", SpreadCompost, Tree, rested, by >= 0}, row{"drum on a bed", SpreadDrum, Low, rested, false})
	}
	no := func(name string, d Deed, k Kind, set func(a *Act)) { rows = append(rows, row{name, d, k, set, false}) }
	yes := func(name string, d Deed, k Kind, set func(a *Act)) { rows = append(rows, row{name, d, k, set, true}) }
	no("drum without a date", OpenDrum, Tree, func(a *Act) { a.Closed = 0 })
	no("pH 7", SpreadAsh, Low, func(a *Act) { a.SoilPH = 7 })
	yes("pH 6.99", SpreadAsh, Low, func(a *Act) { a.SoilPH = 6.99 })
	no("pH 7.01", SpreadAsh, Low, func(a *Act) { a.SoilPH = 7.01 })
	no("pH not known", SpreadAsh, Low, func(a *Act) { a.SoilPH = math.NaN() })
	no("painted wood", SpreadAsh, Low, func(a *Act) { a.Clean = false })
	no("urine on top of lettuce", SpreadUrine, Raw, func(a *Act) { a.Covered = false })
	no("harvest not known", SpreadUrine, Low, func(a *Act) { a.Harvest = 0 })
	no("harvest past", DigManure, Low, func(a *Act) { a.Today = a.Harvest + 1 })
	yes("hedge, no harvest", SpreadUrine, NotEaten, func(a *Act) { a.Harvest = 0 })
	no("digestate on lettuce", SpreadDigestate, Raw, nil)
	no("digestate on roots", SpreadDigestate, Root, nil)
	no("digestate with toilet waste, no date", SpreadDigestate, Tree, func(a *Act) { a.Human, a.Closed = true, 0 })
	yes("digestate with toilet waste, two years", SpreadDigestate, Tree, func(a *Act) { a.Human, a.Closed = true, a.Today-731 })
	no("digestate with toilet waste, two years less a day", SpreadDigestate, Tree, func(a *Act) { a.Human, a.Closed = true, a.Today-729 })
	no("digestate with toilet waste, on a bed", SpreadDigestate, Low, func(a *Act) { a.Human = true })
	yes("hot heap at once", SpreadCompost, Raw, func(a *Act) { a.Hot, a.Rotted, a.Today = true, 0, a.Harvest })
	no("heap with toilet waste on a bed", SpreadCompost, Low, func(a *Act) { a.Human = true })
	for _, k := range kinds {
		place := k == NotEaten || k == Tree
		rows = append(rows, row{"toilet compost on " + k.String(), SpreadDrum, k, nil, place},
			row{"washing water on " + k.String(), PourGreywater, k, nil, place || k == High})
	}
	for _, d := range []Deed{SpreadDrum, SpreadUrine, UrineForOthers, PourGreywater, DigManure, SpreadDigestate} {
		no("crop not known", d, Unknown, nil)
		no("no such kind", d, Root+1, nil)
	}
	no("no deed", NoDeed, Tree, nil)
	no("no such deed", SpreadAsh+1, Tree, nil)

	b := rules(t)
	for half, harvest := range halves {
		for _, r := range rows {
			a := good(r.deed, r.kind, harvest)
			if r.set != nil {
				r.set(&a)
			}
			check(t, half+": "+r.name, b.Gate(a), r.allowed)
		}
	}
	t.Logf("%d rows in each half of the world", len(rows))
}

// Every deed but the first passes as good, so that a no in the table comes from its line.
func TestGoodActsPass(t *testing.T) {
	b := rules(t)
	for _, d := range Deeds() {
		check(t, d.String(), b.Gate(good(d, Tree, halves["south"])), true)
	}
	if len(Deeds()) != len(deedNames)-1 || (SpreadAsh+1).String() != "nothing" {
		t.Error("a deed has no name")
	}
}

// The table and the gates that take no table say the same.
func TestTableAgreesWithGates(t *testing.T) {
	b := rules(t)
	for id, want := range map[string]float64{"urine_withhold": UrineWithhold, "greywater_hours": GreywaterHours, "ash_rate": AshYear} {
		if l, ok := b.Limit(id); !ok || l.Value != want {
			t.Errorf("%s is %g in the table, %g in the gate", id, l.Value, want)
		}
	}
	for _, k := range []Kind{Tree, High, Low, Raw, Root} {
		if days, _ := ManureDays(k); float64(days) != b.manure(k).Value {
			t.Errorf("%v: %d days and %g", k, days, b.manure(k).Value)
		}
	}
	for _, temp := range []float64{-5, 19.99, 20, 30, unknown} {
		if years, _ := CureYears(temp); years != b.DrumYears(temp).Value {
			t.Errorf("%g °C: %g years and %g", temp, years, b.DrumYears(temp).Value)
		}
	}
}

// The stricter of the table and the household's own rule holds, whichever it is.
func TestStricterWins(t *testing.T) {
	for _, k := range LocalKinds() {
		for _, id := range k.rows {
			was, ok := rules(t).Limit(id)
			if !ok {
				was.Value = 100 // a row of one place: the first local rule brings it
			}
			for _, by := range []float64{0.5, 1, 2} {
				own := Local{Kind: k.Name, Value: was.Value * by, Text: "the county says so", Source: "county code 7"}
				got, _ := rules(t, own).Limit(id)
				want := max(was.Value, own.Value)
				if !k.Least {
					want = min(was.Value, own.Value)
				}
				if !ok {
					want = own.Value
				}
				if got.Value != want || got.Local != (want != was.Value || !ok) {
					t.Errorf("%s at %g with %g of its own: %+v", id, was.Value, own.Value, got)
				}
			}
		}
	}
}

func TestLocalRulesAreToldByName(t *testing.T) {
	b := rules(t, Local{"drum_cure", 3, "three years in this county", "county code 7"}, Local{"no_urine", 0, "no urine on the plot", "lease, point 4"})
	a := good(OpenDrum, Tree, halves["north"])
	a.Closed = a.Today - 1000
	r := b.Gate(a)
	check(t, "a drum at 1,000 days", r, false)
	if r.Source != "county code 7" || !strings.Contains(r.Rule, "three years in this county") || r.From != DrumReady(a.Closed, 3) {
		t.Errorf("%+v", r)
	}
	r = b.Gate(good(SpreadUrine, Tree, halves["north"]))
	check(t, "urine where it is banned", r, false)
	if r.Source != "lease, point 4" {
		t.Errorf("%+v", r)
	}
	if !b.Forbids(SpreadUrine) || !b.Forbids(UrineForOthers) || b.Forbids(SpreadDigestate) || b.Forbids(OpenDrum) || b.Forbids(SpreadAsh+1) {
		t.Error("Forbids")
	}
	check(t, "digestate is not banned", b.Gate(good(SpreadDigestate, Tree, halves["north"])), true)
	// A wait between the trees' and the beds' still counts at the trees.
	b = rules(t, Local{"digestate_wait", 100, "a hundred days", "lease"})
	a = good(SpreadDigestate, Tree, halves["north"])
	a.Today = a.Harvest - 99
	check(t, "digestate at 99 days of 100", b.Gate(a), false)
	a.Today--
	check(t, "digestate at 100 days", b.Gate(a), true)
}

func TestPlaceRulesNeedTheirReading(t *testing.T) {
	b := rules(t, Local{"greywater_well", 30, "100 feet from a well", "town code"}, Local{"greywater_most", 946, "250 gallons", "state rule"})
	for _, c := range []struct {
		litres, well float64
		allowed      bool
	}{{946, 30, true}, {945, 31, true}, {947, 30, false}, {946, 29.9, false}, {unknown, 40, false}, {100, unknown, false}} {
		for half, harvest := range halves {
			a := good(PourGreywater, Tree, harvest)
			a.LitresDay, a.Well = c.litres, c.well
			check(t, half+": greywater", b.Gate(a), c.allowed)
		}
	}
}

func TestRulesRefuse(t *testing.T) {
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		own  Local
		want string
	}{
		{Local{Kind: "moon"}, "write one of drum_cure"},
		{Local{Kind: "drum_cure", Value: -1}, "write a number of year"},
		{Local{Kind: "urine_wait", Value: unknown}, "not an amount"},
		{Local{Kind: "ash_most", Value: math.Inf(1)}, "not an amount"},
	} {
		if _, err := Rules(tab.Gates, []Local{c.own}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v", c.own, err)
		}
	}
	for i := range tab.Gates {
		short := slices.Delete(slices.Clone(tab.Gates), i, i+1)
		if _, err := Rules(short, nil); (err != nil) != slices.Contains(needed, tab.Gates[i].ID) {
			t.Errorf("without %s: %v", tab.Gates[i].ID, err)
		}
	}
}

// More of what is asked for never turns a yes into a no.
func TestStricterNeverAllowsMore(t *testing.T) {
	plain := rules(t)
	rapid.Check(t, func(r *rapid.T) {
		k := rapid.SampledFrom(LocalKinds()).Draw(r, "kind")
		strict := rules(t, Local{Kind: k.Name, Value: rapid.Float64Range(0, 400).Draw(r, "value"), Text: "own", Source: "own"})
		a := good(rapid.SampledFrom(Deeds()).Draw(r, "deed"), rapid.SampledFrom(kinds).Draw(r, "crop"), 20000)
		a.Today = a.Harvest - day.Day(rapid.IntRange(-10, 400).Draw(r, "before"))
		a.Closed = a.Today - day.Day(rapid.IntRange(0, 1500).Draw(r, "closed"))
		a.Water = rapid.Float64Range(0, 20).Draw(r, "water")
		a.Rotted = rapid.Float64Range(0, 200).Draw(r, "rotted")
		if got := strict.Gate(a); got.Allowed && !plain.Gate(a).Allowed {
			r.Fatalf("%+v with %s", a, k.Name)
		}
	})
}

func TestKindOf(t *testing.T) {
	for part, want := range map[string]Kind{"not_eaten": NotEaten, "tree": Tree, "high": High, "low": Low, "raw": Raw, "root": Root, "": Unknown, "leaf": Unknown} {
		if got := KindOf(part); got != want {
			t.Errorf("%q is %v", part, got)
		}
	}
}

func TestSpans(t *testing.T) {
	spots := []Spot{{0, 56, false}, {1, 58, false}, {2.5, 54, true}, {4.1, 60, false}, {5, unknown, false}, {6, 60, false}}
	got := Spans(spots)
	want := []Reading{{24, 56, false}, {36, 54, true}, {38.4, unknown, false}, {21.6, unknown, false}, {24, unknown, false}}
	if len(got) != len(want) {
		t.Fatalf("%d spans", len(got))
	}
	for i := range got {
		alike := got[i].TempC == want[i].TempC || math.IsNaN(got[i].TempC) && math.IsNaN(want[i].TempC)
		if !near(got[i].Hours, want[i].Hours, 1e-9) || !alike || got[i].Turned != want[i].Turned {
			t.Errorf("span %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if Spans(nil) != nil || Spans(spots[:1]) != nil {
		t.Error("one reading tells of a span")
	}
}

func TestHeat(t *testing.T) {
	b := rules(t)
	for _, c := range []struct {
		name string
		log  []Reading
		met  []string
	}{
		{"no readings", nil, nil},
		{"49.9 °C for a month", hold(720, 49.9), nil},
		{"40 °C and a hot day", append(hold(24, 56), hold(100, 40)...), []string{"significant"}},
		{"55 °C, an hour short of three days", hold(71, 55), []string{"class-a"}}, // 2.63 days by the equation
		{"55 °C for three days", hold(72, 55), []string{"class-a", "pile"}},
		{"51 °C for eight days", hold(192, 51), []string{"week"}},
		{"60 °C for sixteen days, turned", turned(hold(384, 60), 6), []string{"class-a", "pile", "windrow", "week", "significant"}},
	} {
		var met []string
		for _, r := range b.Heat(c.log) {
			if r.Allowed {
				met = append(met, r.ID)
			}
			if r.Allowed != (r.Share >= 1) || r.Rule == "" || r.Source == "" || r.Allowed == (r.Why != "") {
				t.Errorf("%s: %+v", c.name, r)
			}
		}
		if !slices.Equal(met, c.met) {
			t.Errorf("%s meets %v, want %v", c.name, met, c.met)
		}
	}
	if !Proved(hold(72, 55)) || Proved(hold(71, 55)) {
		t.Error("proved")
	}
}

func BenchmarkRulebook(b *testing.B) {
	b.ReportAllocs()
	book := rules(b)
	a := good(SpreadUrine, Low, halves["north"])
	for b.Loop() {
		book.Gate(a)
	}
}
