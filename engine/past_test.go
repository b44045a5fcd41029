package engine

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/day"
	"evenstead/weather"

	"github.com/google/uuid"
	"pgregory.net/rapid"
)

// notes reads quick notes about a stead, as of a day.
func notes(tb testing.TB, r ready, today day.Day, text string) []book.Entry {
	tb.Helper()
	c := book.Of(r.st, r.tab)
	c.Today, c.From, c.Who = today, r.st.Stay.From, r.st.People[0].Name
	var out []book.Entry
	for i, got := range book.Read(text, c) {
		if got.Err != nil {
			tb.Fatalf("%q: %v", got.Text, got.Err)
		}
		got.Entry.ID = uuid.UUID{6: 0x70, 8: 0x80, 15: byte(i), 14: byte(i >> 8)}
		out = append(out, got.Entry)
	}
	live, err := book.Live(out)
	if err != nil {
		tb.Fatal(err)
	}
	return live
}

// replay runs a book on a stead up to a day.
func (r ready) replay(tb testing.TB, today day.Day, entries []book.Entry) *Past {
	tb.Helper()
	return r.replayOf(tb, today, History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: entries})
}

func (r ready) replayOf(tb testing.TB, today day.Day, h History) *Past {
	tb.Helper()
	o := r.opt
	o.Today = today
	h.Tell = func(book.Entry) bool { return true }
	p, err := Replay(tb.Context(), r.tab, h, r.ens, o)
	if err != nil {
		tb.Fatal(err)
	}
	for _, t := range p.Told {
		if t.Err != nil {
			tb.Fatalf("refused: %v", t.Err)
		}
	}
	return p
}

func (p *Past) level(tb testing.TB, group string) float64 {
	tb.Helper()
	for g := range p.end.groups {
		if p.end.groups[g].name == group {
			return p.ended.level[g]
		}
	}
	tb.Fatalf("no group %q", group)
	return 0
}

func (p *Past) kg(food string) float64 {
	sum := 0.0
	for k := range p.end.kinds {
		if p.end.kinds[k].food == food {
			sum += p.ended.kg[k]
		}
	}
	return sum
}

// week is a book of one week that touches most kinds of entry.
const week = `
picked 3.2 lb kale, F1 on 2026-11-02
foraged 2 kg acorns on 2026-11-03
took 12 eggs on 2026-11-03
put up 2 quarts apples on 2026-11-03
ate 1 kg potatoes on 2026-11-04
gave 2 kg potatoes to the neighbour on 2026-11-04
lost 0.5 kg apples on 2026-11-04
received 3 kg walnuts from the neighbour on 2026-11-04
bought 1 kg salt on 2026-11-04
rain 14 mm on 2026-11-04
dipped barn at 9000 L on 2026-11-05
watered F1 with 40 L on 2026-11-05
moved 200 L from barn to cabin on 2026-11-05
treated 20 L on 2026-11-05
fed digester 4 kg scraps on 2026-11-05
fed compost 3 kg leaves on 2026-11-05
spread 10 L urine, plums on 2026-11-06
spread 5 kg compost on F1 on 2026-11-06
cooked 1.5 kg wood on 2026-11-06
fuel in 20 kg wood on 2026-11-06
hauled 10 kg scraps on 2026-11-06
closed drum 2 on 2026-11-06
worked 3 h for the landowner on 2026-11-06
Rook ill on 2026-11-06
counted potatoes 18 kg on 2026-11-07
counted wood 380 kg on 2026-11-07
weighed Sorrel 60 kg on 2026-11-07
note: frost in the hollow on 2026-11-07
`

// TestEveryEntryBalances walks a book day by day: each material that an entry
// moves leaves one store and comes into another, and the stores hold the rest.
func TestEveryEntryBalances(t *testing.T) {
	r := readyDemo(t, 3, 365)
	today := r.st.Stay.From + 10
	p := r.replay(t, today, notes(t, r, today, week))
	if len(p.Told) != 28 {
		t.Fatalf("%d entries told, want 28", len(p.Told))
	}
	moved := 0
	for _, x := range p.Told {
		if len(x.Flows) > 0 {
			moved++
		} else if x.Remark == "" {
			t.Errorf("entry %s moved nothing and says nothing of why", x.Entry)
		}
		for _, f := range x.Flows {
			if !(f.Amount > 0) {
				t.Errorf("entry %s: %g %s of %s from %s to %s", x.Entry, f.Amount, f.Unit, f.Material, f.From, f.To)
			}
		}
	}
	if moved < 21 {
		t.Errorf("%d entries moved something, want at least 21", moved)
	}
	checkBook(t, r, p, notes(t, r, today, week))
}

// checkBook runs the days of a book again and holds every node to its balance.
func checkBook(t failer, r ready, p *Past, entries []book.Entry) {
	o := r.opt
	o.Today = p.Today
	o.Past = &Past{From: p.Known.Start, Today: p.Today, Known: p.Known, entries: entries, refusals: map[uuid.UUID]error{}, places: newPlaceFactors()}
	m, err := Prepare(r.st, r.tab, o)
	if err != nil {
		t.Fatalf("prepare: %v", err)
	}
	run := newRunner(m)
	run.begin(0, r.ens.Past(p.Known))
	run.luck.middle(m)
	before := m.stocks(run.s)
	for d := range m.skip {
		run.hear(d)
		run.step(d)
		now := m.stocks(run.s)
		for mat := range materials {
			for n := node(0); n < nodes; n++ {
				gained := now[mat][n] - before[mat][n]
				if net := run.s.led.net(mat, n); !n.outside() && math.Abs(gained-net) > 1e-9*(1+run.s.led.through(mat, n)) {
					t.Fatalf("%s, %s at %s: gained %g, the ledger says %g", m.start+day.Day(d), materialNames[mat], nodeNames[n], gained, net)
				}
			}
		}
		if !run.s.sound() {
			t.Fatalf("%s: a stock is below zero or not a number", m.start+day.Day(d))
		}
	}
}

// TestAnyBookBalances writes books at random.
func TestAnyBookBalances(t *testing.T) {
	r := readyDemo(t, 2, 365)
	lines := strings.Split(strings.TrimSpace(week), "\n")
	rapid.Check(t, func(t *rapid.T) {
		var text []string
		for range rapid.IntRange(1, 60).Draw(t, "entries") {
			line := rapid.SampledFrom(lines).Draw(t, "line")
			line, _, _ = strings.Cut(line, " on 2026")
			text = append(text, fmt.Sprintf("%s on %s", line, r.st.Stay.From+day.Day(rapid.IntRange(0, 90).Draw(t, "day"))))
		}
		today := r.st.Stay.From + 100
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
		known := known(&History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: live}, today)
		checkBook(t, r, &Past{Today: today, Known: known}, live)
	})
}

// TestCountsAndDipsAreFound: what was found stands the next morning, and the
// difference is kept with what may be behind it.
func TestCountsAndDipsAreFound(t *testing.T) {
	r := readyDemo(t, 3, 365)
	today := r.st.Stay.From + 12
	p := r.replay(t, today, notes(t, r, today, `
dipped barn at 9000 L
counted potatoes 18 kg
`))
	if got := p.level(t, "barn"); math.Abs(got-9000) > 1e-9 {
		t.Errorf("barn holds %g L, dipped at 9000", got)
	}
	if got := p.kg("potato"); math.Abs(got-18) > 1e-9 {
		t.Errorf("%g kg of potatoes, counted 18", got)
	}
	if len(p.Drifts) != 2 {
		t.Fatalf("%d drifts, want 2", len(p.Drifts))
	}
	for _, d := range p.Drifts {
		if d.Days != 12 || d.Likely == "" || d.Reckoned == d.Found {
			t.Errorf("drift %+v", d)
		}
	}
	ages := map[string]string{}
	for _, s := range p.Seen {
		ages[s.Store] = s.How
	}
	if ages["barn water"] != "dipped" || ages["cabin water"] != "described" {
		t.Errorf("how the tanks are known: %v", ages)
	}
}

// TestPastDaysAndStrikesReplay: an entry for a day gone by changes today, and
// without it today is as before.
func TestPastDaysAndStrikesReplay(t *testing.T) {
	r := readyDemo(t, 3, 365)
	today := r.st.Stay.From + 30
	late := r.replay(t, today, notes(t, r, today, "received 50 kg chestnuts from the neighbour 20 days ago"))
	none := r.replay(t, today, nil)
	if a, b := late.end.daysOfFood(late.ended), none.end.daysOfFood(none.ended); a < b+5 {
		t.Errorf("%g days of food with the entry, %g without", a, b)
	}
}

// TestPicksReplaceTheReckoning: a crop that the book picks is not picked by the
// engine as well.
func TestPicksReplaceTheReckoning(t *testing.T) {
	r := readyDemo(t, 3, 365)
	today := r.st.Stay.From + 40
	var text strings.Builder
	for i := range 5 {
		fmt.Fprintf(&text, "picked 1 kg kale on %s\n", r.st.Stay.From+day.Day(2+8*i))
	}
	p := r.replay(t, today, notes(t, r, today, text.String()))
	picked := 0.0
	for q := range p.end.plantings {
		if p.end.plantings[q].crop.ID == "kale" {
			picked += p.ended.crop[q].told
		}
	}
	if math.Abs(picked-5) > 1e-9 {
		t.Errorf("%g kg of kale picked by the book, want 5", picked)
	}
}

// TestNewDescriptionCarriesOn: a version that adds a tank keeps what stands and
// lies in store.
func TestNewDescriptionCarriesOn(t *testing.T) {
	r := readyDemo(t, 3, 365)
	more := *r.st
	more.Tanks = append(more.Tanks[:len(more.Tanks):len(more.Tanks)], more.Tanks[0])
	more.Tanks[len(more.Tanks)-1].Name, more.Tanks[len(more.Tanks)-1].Group = "shed", "shed"
	more.Tanks[len(more.Tanks)-1].Level = 500
	change := r.st.Stay.From + 59
	was := r.replay(t, change, nil)
	p := r.replayOf(t, change, History{Versions: []Version{{r.st.Stay.From, r.st}, {change, &more}}})
	if got := p.level(t, "shed"); math.Abs(got-500) > 1e-9 {
		t.Errorf("the new tank holds %g L, described 500", got)
	}
	if a, b := was.level(t, "barn"), p.level(t, "barn"); math.Abs(a-b) > 1e-9*a {
		t.Errorf("barn: %g L under the old description, %g under the new", a, b)
	}
	if a, b := was.end.daysOfFood(was.ended), p.end.daysOfFood(p.ended); math.Abs(a-b) > 1e-9*a {
		t.Errorf("food: %g days under the old description, %g under the new", a, b)
	}
	for mat := range materials {
		for n := node(0); n < nodes; n++ {
			a, b := was.end.stocks(was.ended)[mat][n], p.end.stocks(p.ended)[mat][n]
			if n == atTanks && mat == mWater {
				b -= 500
			}
			if math.Abs(a-b) > 1e-9*(1+math.Abs(a)) {
				t.Errorf("%s at %s: %g under the old description, %g under the new", materialNames[mat], nodeNames[n], a, b)
			}
		}
	}
}

// TestOutlookStartsFromThePast: the members begin where the replay ended.
func TestOutlookStartsFromThePast(t *testing.T) {
	r := readyDemo(t, 40, 560)
	today := r.st.Stay.From + 60
	entries := notes(t, r, today, "dipped barn at 2000 L\ncounted wheat 5 kg")
	p := r.replay(t, today, entries)
	o := r.opt
	o.Today, o.Past, o.Days = today, p, 365
	m, err := Prepare(p.Stead, r.tab, o)
	if err != nil {
		t.Fatal(err)
	}
	if m.Start() != p.From || p.From != r.st.Stay.From {
		t.Fatalf("members begin %s, the lead on %s", m.Start(), p.From)
	}
	res, err := m.Run(t.Context(), r.ens, o)
	if err != nil {
		t.Fatal(err)
	}
	out := res.Outlook()
	for _, s := range out.Stores {
		if s.ID == "tank:barn" && (s.Now != 2000 || s.Weeks[0].P10 != 2000 || s.Weeks[0].P90 != 2000) {
			t.Errorf("barn today: %+v, dipped at 2000", s.Weeks[0])
		}
		if s.ID == "tank:cabin" && s.Weeks[0].P10 == s.Weeks[0].P90 {
			t.Error("the cabin's water was not dipped for 60 days, and is known to the litre")
		}
	}
}

// TestBooksOfSameSeedAgree on any number of workers.
func TestBooksOfSameSeedAgree(t *testing.T) {
	r := readyDemo(t, 12, 500)
	today := r.st.Stay.From + 30
	run := func(workers int) string {
		p := r.replay(t, today, notes(t, r, today, week))
		o := r.opt
		o.Today, o.Past, o.Workers, o.Days = today, p, workers, 365
		m, err := Prepare(p.Stead, r.tab, o)
		if err != nil {
			t.Fatal(err)
		}
		res, err := m.Run(t.Context(), r.ens, o)
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("%+v", res.Outlook().Needs)
	}
	if run(1) != run(4) {
		t.Error("the outlook depends on the number of workers")
	}
}

// BenchmarkReplay runs ten busy years: 100,000 entries.
func BenchmarkReplay(b *testing.B) {
	r := readyDemo(b, 2, 365)
	lines := strings.Split(strings.TrimSpace(week), "\n")
	rng := rand.New(rand.NewPCG(1, 2))
	today := r.st.Stay.From + 3652
	c := book.Of(r.st, r.tab)
	c.Today, c.From = today, r.st.Stay.From
	var kinds []book.Entry
	for _, got := range book.Read(strings.Join(lines, "\n"), c) {
		kinds = append(kinds, got.Entry)
	}
	entries := make([]book.Entry, 100_000)
	for i := range entries {
		entries[i] = kinds[rng.IntN(len(kinds))]
		entries[i].Day = r.st.Stay.From + day.Day(rng.IntN(3652))
		entries[i].ID = uuid.UUID{6: 0x70, 8: 0x80, 13: byte(i >> 16), 14: byte(i >> 8), 15: byte(i)}
	}
	o := r.opt
	o.Today = today
	for b.Loop() {
		live, err := book.Live(entries)
		if err != nil {
			b.Fatal(err)
		}
		h := History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: live}
		if _, err := Replay(b.Context(), r.tab, h, r.ens, o); err != nil {
			b.Fatal(err)
		}
	}
}

// TestGaugeReadings: between two readings that lie close, no entry is no rain; a
// lone reading tells of its own day.
func TestGaugeReadings(t *testing.T) {
	r := readyDemo(t, 2, 365)
	today := r.st.Stay.From + 70
	h := History{Versions: []Version{{r.st.Stay.From, r.st}}, Entries: notes(t, r, today, fmt.Sprintf(
		"rain 5 mm on %s\nrain 3 mm on %s\nrain 4 mm on %s\nrain 9 mm on %s",
		r.st.Stay.From+10, r.st.Stay.From+10, r.st.Stay.From+20, r.st.Stay.From+60))}
	h.Weather = weather.Unknown(r.st.Stay.From, 70)
	h.Weather.Rain[15] = 2
	got := known(&h, today)
	for at, want := range map[int]float64{9: math.NaN(), 10: 8, 11: 0, 15: 2, 19: 0, 20: 4, 21: math.NaN(), 59: math.NaN(), 60: 9, 61: math.NaN()} {
		if v := got.Rain[at]; v != want && !(math.IsNaN(v) && math.IsNaN(want)) {
			t.Errorf("day %d: %g mm, want %g", at, v, want)
		}
	}
}
