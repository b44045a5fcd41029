package fertility

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/day"
)

var (
	may     = day.Of(2027, time.May, 1)
	unknown = math.NaN()
)

// check compares a ruling and that it always names its rule and source, and why when it
// says no.
func check(t *testing.T, name string, r Ruling, allowed bool) {
	t.Helper()
	if r.Allowed != allowed {
		t.Errorf("%s: allowed %v, want %v (%s)", name, r.Allowed, allowed, r.Why)
	}
	if r.Rule == "" || r.Source == "" || r.Allowed == (r.Why != "") {
		t.Errorf("%s: rule %q, source %q, why %q", name, r.Rule, r.Source, r.Why)
	}
}

func TestDrumGate(t *testing.T) {
	closed := day.Of(2026, time.June, 8)
	one, two := day.Of(2027, time.June, 8), day.Of(2028, time.June, 8)
	for _, c := range []struct {
		name    string
		closed  day.Day
		mean    float64
		today   day.Day
		allowed bool
		from    day.Day
	}{
		{"warm, a day early", closed, 20, one - 1, false, one},
		{"warm, on the day", closed, 20, one, true, 0},
		{"warm, a day late", closed, 20, one + 1, true, 0},
		{"just under 20, one year", closed, 19.99, one + 1, false, two},
		{"cool, a day early", closed, 14, two - 1, false, two},
		{"cool, on the day", closed, 14, two, true, 0},
		{"cool, a day late", closed, 14, two + 1, true, 0},
		{"mean not known, one year", closed, unknown, one + 1, false, two},
		{"mean not known, two years", closed, unknown, two, true, 0},
		{"not closed", 0, 25, two, false, 0},
		{"closed in the future", two, 25, one, false, day.Of(2029, time.June, 8)},
	} {
		r := DrumGate(c.closed, c.mean, c.today)
		check(t, c.name, r, c.allowed)
		if r.From != c.from {
			t.Errorf("%s: from %v, want %v", c.name, r.From, c.from)
		}
	}
}

func TestDrumReady(t *testing.T) {
	leap := day.Of(2028, time.February, 29)
	for _, c := range []struct {
		closed day.Day
		years  float64
		want   day.Day
	}{
		{leap, 1, day.Of(2029, time.March, 1)},
		{leap, 4, day.Of(2032, time.February, 29)},
		{may, 1.5, day.Of(2028, time.May, 1) + 183},
		{may, -3, may},
		{may, unknown, day.Of(2127, time.May, 1)},
	} {
		if got := DrumReady(c.closed, c.years); got != c.want {
			t.Errorf("DrumReady(%v, %g) = %v, want %v", c.closed, c.years, got, c.want)
		}
	}
}

// kinds lists every kind and one that does not exist.
var kinds = []Kind{Unknown, NotEaten, Tree, High, Low, Raw, Root, Root + 1}

func TestDrumPlace(t *testing.T) {
	for _, k := range kinds {
		check(t, k.String(), DrumPlaceGate(k), k == NotEaten || k == Tree)
	}
}

func TestUrineGate(t *testing.T) {
	dose := func(days, withhold int, k Kind, covered bool) UrineDose {
		return UrineDose{Today: may, Harvest: may + day.Day(days), Withhold: withhold, Kind: k, Covered: covered}
	}
	for _, c := range []struct {
		name    string
		dose    UrineDose
		allowed bool
	}{
		{"29 days", dose(29, 30, Low, false), false},
		{"30 days", dose(30, 30, Low, false), true},
		{"31 days", dose(31, 30, Low, false), true},
		{"a shorter wait asked for", dose(29, 7, Low, true), false},
		{"a longer wait, 44", dose(44, 45, Root, true), false},
		{"a longer wait, 45", dose(45, 45, Root, true), true},
		{"raw, on top", dose(60, 30, Raw, false), false},
		{"raw, under the soil", dose(60, 30, Raw, true), true},
		{"raw, under the soil, 29", dose(29, 30, Raw, true), false},
		{"harvest not known", UrineDose{Today: may, Kind: Tree}, false},
		{"harvest past", dose(-1, 30, Tree, true), false},
		{"not eaten, no harvest", UrineDose{Today: may, Kind: NotEaten}, true},
		{"crop not known", dose(90, 30, Unknown, true), false},
	} {
		check(t, c.name, UrineGate(c.dose), c.allowed)
	}
	if got, want := UrineGate(dose(90, 30, Low, true)).Until, may+60; got != want {
		t.Errorf("last day %v, want %v", got, want)
	}
}

func TestUrineStoreGate(t *testing.T) {
	for _, c := range []struct {
		name       string
		own        bool
		k          Kind
		temp, days float64
		allowed    bool
	}{
		{"own food, fresh", true, Low, 10, 0, true},
		{"own, crop not known", true, Unknown, 20, 400, false},
		{"others, 182 days", false, Low, 20, 182, false},
		{"others, 183 days", false, Low, 20, 183, true},
		{"others, 184 days", false, Low, 20, 184, true},
		{"others, 19 °C", false, Low, 19, 400, false},
		{"others, temperature not known", false, Low, unknown, 400, false},
		{"others, time not known", false, Low, 25, unknown, false},
		{"hedge, 29 days", false, NotEaten, 5, 29, false},
		{"hedge, 30 days", false, NotEaten, 5, 30, true},
		{"hedge, 31 days", false, NotEaten, 5, 31, true},
	} {
		check(t, c.name, UrineStoreGate(c.own, c.k, c.temp, c.days), c.allowed)
	}
}

func TestGreywaterGate(t *testing.T) {
	for _, c := range []struct {
		hours   float64
		allowed bool
	}{{0, true}, {23, true}, {24, true}, {25, false}, {24.01, false}, {-1, false}, {unknown, false}} {
		check(t, "age", GreywaterGate(c.hours, Tree), c.allowed)
	}
	for _, k := range kinds {
		check(t, k.String(), GreywaterGate(1, k), k == NotEaten || k == Tree || k == High)
	}
}

func TestManureGate(t *testing.T) {
	for _, c := range []struct {
		k     Kind
		limit day.Day
	}{{Tree, 90}, {High, 90}, {Low, 120}, {Raw, 120}, {Root, 120}} {
		check(t, c.k.String()+" a day late", ManureGate(may, may+c.limit-1, c.k), false)
		check(t, c.k.String()+" on the day", ManureGate(may, may+c.limit, c.k), true)
		check(t, c.k.String()+" a day early", ManureGate(may, may+c.limit+1, c.k), true)
		check(t, c.k.String()+" no harvest known", ManureGate(may, 0, c.k), false)
	}
	check(t, "not eaten", ManureGate(may, 0, NotEaten), true)
	check(t, "not known", ManureGate(may, may+400, Unknown), false)
	check(t, "no such kind", ManureGate(may, may+400, Root+1), false)
}

func TestDigestateGate(t *testing.T) {
	check(t, "toilet waste, tree", DigestateGate(may, may+400, Tree, true), false)
	check(t, "raw", DigestateGate(may, may+400, Raw, false), false)
	check(t, "root", DigestateGate(may, may+400, Root, false), false)
	check(t, "low, 119", DigestateGate(may, may+119, Low, false), false)
	check(t, "low, 120", DigestateGate(may, may+120, Low, false), true)
	check(t, "low, 121", DigestateGate(may, may+121, Low, false), true)
	check(t, "tree, 89", DigestateGate(may, may+89, Tree, false), false)
	check(t, "tree, 90", DigestateGate(may, may+90, Tree, false), true)
	check(t, "hedge", DigestateGate(may, 0, NotEaten, false), true)
	check(t, "not known", DigestateGate(may, may+400, Unknown, false), false)
}

func TestAshGate(t *testing.T) {
	for _, c := range []struct {
		name      string
		pH, total float64
		clean     bool
		allowed   bool
	}{
		{"pH 6.9", 6.9, 0.05, true, true},
		{"pH 7.0", 7.0, 0.05, true, false},
		{"pH 7.1", 7.1, 0.05, true, false},
		{"pH not known", unknown, 0.05, true, false},
		{"0.09", 6, 0.09, true, true},
		{"0.10", 6, 0.10, true, true},
		{"0.11", 6, 0.11, true, false},
		{"amount not known", 6, unknown, true, false},
		{"painted wood", 6, 0.01, false, false},
	} {
		check(t, c.name, AshGate(c.pH, c.total, c.clean), c.allowed)
	}
}

func TestGatesNamed(t *testing.T) {
	seen := map[string]bool{}
	for _, g := range Gates() {
		if g.ID == "" || g.Rule == "" || g.Source == "" || seen[g.ID] {
			t.Errorf("gate %+v is incomplete or repeats an id", g)
		}
		seen[g.ID] = true
	}
	if len(Cautions()) < 5 {
		t.Error("the usual cautions are missing")
	}
}

// Once open, the drum gate stays open, and it opens on the day it named.
func TestDrumGateOpensOnItsDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		closed := day.Day(rapid.IntRange(1, 60000).Draw(t, "closed"))
		mean := rapid.Float64Range(-10, 35).Draw(t, "mean")
		today := closed + day.Day(rapid.IntRange(0, 1200).Draw(t, "later"))
		r := DrumGate(closed, mean, today)
		if r.Allowed && !DrumGate(closed, mean, today+1).Allowed {
			t.Fatal("shut again")
		}
		if !r.Allowed && (DrumGate(closed, mean, r.From-1).Allowed || !DrumGate(closed, mean, r.From).Allowed) {
			t.Fatalf("does not open on %v", r.From)
		}
		if r.Allowed && today-closed < 365 {
			t.Fatal("open within a year")
		}
	})
}

// A later day never turns a no about harvest into a yes, and Until is the last yes.
func TestHarvestGatesCloseOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		harvest := day.Day(rapid.IntRange(1000, 60000).Draw(t, "harvest"))
		k := rapid.SampledFrom([]Kind{Tree, High, Low, Root, Raw}).Draw(t, "kind")
		today := harvest - day.Day(rapid.IntRange(0, 400).Draw(t, "before"))
		for _, rule := range []func(day.Day) Ruling{
			func(d day.Day) Ruling { return ManureGate(d, harvest, k) },
			func(d day.Day) Ruling {
				return UrineGate(UrineDose{Today: d, Harvest: harvest, Kind: k, Covered: true})
			},
		} {
			r := rule(today)
			if r.Allowed != (today <= r.Until) {
				t.Fatalf("%v: %+v", today, r)
			}
			if !rule(r.Until).Allowed || rule(r.Until+1).Allowed {
				t.Fatalf("does not close after %v", r.Until)
			}
		}
	})
}

func BenchmarkGates(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		DrumGate(may, 14, may+700)
		UrineGate(UrineDose{Today: may, Harvest: may + 40, Kind: Low})
		GreywaterGate(3, Tree)
		DigestateGate(may, may+100, Tree, false)
	}
}
