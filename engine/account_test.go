package engine

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/day"

	"github.com/google/uuid"
	"pgregory.net/rapid"
)

// accountOf replays a book with an account of a span.
func (r ready) accountOf(t failer, today day.Day, span Span, entries []book.Entry, more ...Version) *Account {
	o := r.opt
	o.Today = today
	h := History{Versions: append([]Version{{r.st.Stay.From, r.st}}, more...), Entries: entries, Span: &span}
	p, err := Replay(context.Background(), r.tab, h, r.ens, o)
	if err != nil {
		t.Fatalf("replay: %v", err)
	}
	return p.Account
}

func (a *Account) of(mat material) *Balance { return &a.Balances[mat] }

// flow is what went between two nodes.
func (b *Balance) flow(from, to node) (p Part) {
	for _, f := range b.Flows {
		if f.From == nodeNames[from] && f.To == nodeNames[to] {
			p.add(f.Part)
		}
	}
	return p
}

func (u *Use) all() (sum float64) {
	for _, p := range u.By {
		sum += p.All()
	}
	return sum
}

// drawnBook draws a book over the first 90 days of the demo.
func drawnBook(t *rapid.T, r ready, today day.Day) []book.Entry {
	lines := strings.Split(strings.TrimSpace(week), "\n")
	var text []string
	for range rapid.IntRange(1, 60).Draw(t, "entries") {
		line, _, _ := strings.Cut(rapid.SampledFrom(lines).Draw(t, "line"), " on 2026")
		text = append(text, fmt.Sprintf("%s on %s", line, r.st.Stay.From+day.Day(rapid.IntRange(0, 90).Draw(t, "day"))))
	}
	c := book.Of(r.st, r.tab)
	c.Today, c.From = today, r.st.Stay.From
	var entries []book.Entry
	for i, got := range book.Read(strings.Join(text, "\n"), c) {
		if got.Err == nil {
			got.Entry.ID = uuid.UUID{6: 0x70, 8: 0x80, 15: byte(i)}
			entries = append(entries, got.Entry)
		}
	}
	live, err := book.Live(entries)
	if err != nil {
		t.Fatal(err)
	}
	return live
}

// TestAccountTotalsAreTheSumOfFlows: over any book and span, what each store
// gained is what came in less what went out; what was eaten, drunk and burnt by
// origin adds up to what the ledger moved.
func TestAccountTotalsAreTheSumOfFlows(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 100
	rapid.Check(t, func(t *rapid.T) {
		entries := drawnBook(t, r, today)
		from := rapid.IntRange(0, 95).Draw(t, "from")
		span := Span{r.st.Stay.From + day.Day(from), r.st.Stay.From + day.Day(rapid.IntRange(from, 99).Draw(t, "to"))}
		a := r.accountOf(t, today, span, entries)
		checkStores(t, a)
		checkUses(t, a)
	})
}

func checkStores(t failer, a *Account) {
	for _, b := range a.Balances {
		for _, s := range b.Stores {
			net := s.Before + s.Described - s.After
			size := math.Abs(s.Before) + math.Abs(s.After)
			for _, f := range b.Flows {
				if f.To == s.Node {
					net += f.All()
					size += f.All()
				}
				if f.From == s.Node {
					net -= f.All()
				}
			}
			if math.Abs(net) > 1e-8*(1+size) {
				t.Fatalf("%s, %s of %s: %g is missing of %g to %g", a.Span, b.Material, s.Node, net, s.Before, s.After)
			}
		}
	}
}

func checkUses(t failer, a *Account) {
	for i := range a.Food {
		u := &a.Food[i]
		if !near(u.all(), u.Used.All()) {
			t.Fatalf("%s: %g by origin, %g eaten", u.ID, u.all(), u.Used.All())
		}
	}
	eaten := [...]struct {
		mat material
		use *Use
	}{{mMass, &a.Food[0]}, {mEnergy, &a.Food[1]}}
	for _, e := range eaten {
		if f := a.of(e.mat).flow(atLarder, atHouse); !near(f.Told, e.use.Used.Told) || !near(f.Filled, e.use.Used.Filled) {
			t.Fatalf("%s: eaten %+v, the ledger says %+v", e.use.ID, e.use.Used, f)
		}
	}
	litres := 0.0
	for i := range a.Water {
		u := &a.Water[i]
		if !near(u.all(), u.Used.All()) {
			t.Fatalf("%s: %g L by origin, %g used", u.ID, u.all(), u.Used.All())
		}
		if u.ID == "drinking" || u.ID == "washing" {
			litres += u.Used.All()
		}
		if f := a.of(mWater).flow(atTanks, atSoil); u.ID == "beds" && !near(u.Used.Told, f.Told) {
			t.Fatalf("%g L led to beds by the book, the ledger says %g", u.Used.Told, f.Told)
		}
	}
	if f := a.of(mWater).flow(atTanks, atHouse); !near(f.All(), litres) {
		t.Fatalf("%g L used in the house, the ledger says %g", litres, f.All())
	}
	heat := 0.0
	for _, f := range a.Heat {
		heat += f.Heat.All()
	}
	e := a.of(mEnergy)
	if led := e.flow(atFuels, atHouse).All() + e.flow(atSky, atHouse).All(); !near(heat, led) {
		t.Fatalf("%g MJ by fuel, the ledger says %g", heat, led)
	}
}

// TestSpansAddUp: the accounts of two spans that meet are that of both together,
// also where a new description begins between them.
func TestSpansAddUp(t *testing.T) {
	r := readyDemo(t, 2, 365)
	more := *r.st
	more.Tanks = slices.Clone(more.Tanks)
	more.Tanks[0].Level, more.Tanks[0].Holds = 0, more.Tanks[0].Holds/2
	first, today := r.st.Stay.From, r.st.Stay.From+150
	entries := notes(t, r, today, week)
	change := Version{first + 80, &more}
	whole := r.accountOf(t, today, Span{first, first + 149}, entries, change)
	a := r.accountOf(t, today, Span{first, first + 40}, entries, change)
	b := r.accountOf(t, today, Span{first + 41, first + 149}, entries, change)
	checkStores(t, whole)
	for m := range whole.Balances {
		for _, f := range whole.Balances[m].Flows {
			sum := Part{}
			for _, x := range append(slices.Clone(a.Balances[m].Flows), b.Balances[m].Flows...) {
				if x.From == f.From && x.To == f.To {
					sum.add(x.Part)
				}
			}
			if !near(sum.Told, f.Told) || !near(sum.Filled, f.Filled) {
				t.Errorf("%s from %s to %s: %+v in parts, %+v whole", whole.Balances[m].Material, f.From, f.To, sum, f.Part)
			}
		}
	}
	for i := range whole.Food {
		if w, s := whole.Food[i], a.Food[i].all()+b.Food[i].all(); !near(w.all(), s) || !near(w.Need, a.Food[i].Need+b.Food[i].Need) {
			t.Errorf("%s: %g of %g in parts, %g of %g whole", w.ID, s, a.Food[i].Need+b.Food[i].Need, w.all(), w.Need)
		}
	}
	if whole.Entries != a.Entries+b.Entries || whole.Entries == 0 {
		t.Errorf("%d entries, in parts %d and %d", whole.Entries, a.Entries, b.Entries)
	}
}

// TestBoundsHoldTheShare: the share carried lies between its bounds, and the
// bounds close when the book tells all.
func TestBoundsHoldTheShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var u Use
		for o := range Origins {
			u.By[o] = Part{rapid.Float64Range(0, 10).Draw(t, "told"), rapid.Float64Range(0, 10).Draw(t, "filled")}
		}
		share, low, high := u.Carried()
		if !(low <= share && share <= high && low >= 0 && high <= 1) && u.all() > 0 {
			t.Fatalf("%g is not between %g and %g: %+v", share, low, high, u.By)
		}
		for o := range Origins {
			u.By[o].Filled = 0
		}
		u.By[NotRecorded] = Part{}
		if _, low, high := u.Carried(); u.all() > 0 && high-low > 1e-12 {
			t.Fatalf("all is told, and %g lies apart from %g", low, high)
		}
	})
}

// TestBoundsHoldTheShareToTheLastDigit adds tenths in the order in which their sum
// comes out a hair more than that of the same tenths in another.
func TestBoundsHoldTheShareToTheLastDigit(t *testing.T) {
	u := Use{By: [Origins]Part{
		Grown: {1, 3.75}, Foraged: {0.5000000000000004, 0.2500000000000002},
		Given: {1, 0}, Exchanged: {1, 0}, Bought: {1, 0}, Held: {1, 1},
	}}
	if share, low, high := u.Carried(); !(low <= share && share <= high) {
		t.Errorf("%v is not between %v and %v", share, low, high)
	}
}

// TestOriginsFollowTheBook: bought food eaten is bought, gathered food gathered,
// and what was there is neither.
func TestOriginsFollowTheBook(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 3
	a := r.accountOf(t, today, Span{r.st.Stay.From, today}, notes(t, r, today, `
bought 2 kg chickpeas for 4.50 on 2026-11-01
ate 1 kg chickpeas on 2026-11-02
foraged 3 kg acorns on 2026-11-01
received 1 kg carrots from the landowner on 2026-11-01
received 1 kg beets from Wren on 2026-11-01
worked 3 h for the landowner on 2026-11-02
binned 2 kg plastic on 2026-11-02
`))
	by := map[string][Origins]Part{}
	for _, x := range a.Arrivals {
		by[x.Food] = x.By
	}
	sum := [Origins]float64{}
	for _, x := range by {
		for o := range sum {
			sum[o] += x[o].Told
		}
	}
	if sum[Bought] != 2 || sum[Foraged] != 3 || sum[Exchanged] != 1 || sum[Given] != 1 {
		t.Errorf("came in by the book, by origin: %v", sum)
	}
	if a.To != today-1 {
		t.Errorf("the span ends %s: today is not over", a.To)
	}
	if n := a.Noted; len(n.Spent) != 1 || n.Spent[0].Amount != 4.5 || len(n.Rubbish) != 1 || n.Rubbish[0].Amount != 2 || len(n.Outside) != 1 {
		t.Errorf("noted %+v", n)
	}
	if a.Hours.Written["the landowner"] != 3 && a.Hours.Written["landowner"] != 3 {
		t.Errorf("hours written %v", a.Hours.Written)
	}
}

func TestMoneyIn(t *testing.T) {
	for text, want := range map[string]float64{"$4.50": 4.5, "4,50": 4.5, "4,5": 4.5, "1,200": 1200, "1,200.25 dollars": 1200.25, "three": 0, "": 0, "12": 12, "about 3.": 3} {
		if got := moneyIn(text); got != want {
			t.Errorf("%q: %g, want %g", text, got, want)
		}
	}
}

// TestAccountLeavesTheReplayAlone: the same stead stands at the end with an account
// and without.
func TestAccountLeavesTheReplayAlone(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 60
	h := History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: notes(t, r, today, week)}
	plain := r.replayOf(t, today, h)
	h.Span = &Span{r.st.Stay.From + 10, r.st.Stay.From + 40}
	kept := r.replayOf(t, today, h)
	if plain.Account != nil || kept.Account == nil {
		t.Fatal("an account is kept when it is asked for, and only then")
	}
	if a, b := fmt.Sprintf("%+v", plain.end.stocks(plain.ended)), fmt.Sprintf("%+v", kept.end.stocks(kept.ended)); a != b {
		t.Errorf("with an account the stead ends otherwise:\n%s\n%s", a, b)
	}
}
