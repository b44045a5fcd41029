package book

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"evenstead/day"
	"evenstead/unit"
)

// id makes the nth id of a fixed row.
func id(n int) uuid.UUID {
	seed := [32]byte{byte(n), byte(n >> 8)}
	u, err := NewID(time.UnixMilli(1_790_000_000_000+int64(n)), rand.NewChaCha8(seed))
	if err != nil {
		panic(err)
	}
	return u
}

func rain(n int, mm float64) Entry {
	return Entry{ID: id(n), Day: today, Kind: Rain, Body: Body{Amount: mm, Measure: unit.Depth}}
}

func striking(e Entry, n int) Entry { e.Strikes = id(n); return e }

func TestNewIDIsVersionSevenInOrderOfTime(t *testing.T) {
	a, b := id(1), id(2)
	if a.Version() != 7 || a.Variant() != uuid.RFC4122 || bytes.Compare(a[:], b[:]) >= 0 {
		t.Errorf("%s %s", a, b)
	}
	if sec, ns := a.Time().UnixTime(); sec*1000+ns/1e6 != 1_790_000_000_001 {
		t.Errorf("the id holds %d s %d ns", sec, ns)
	}
	if _, err := NewID(time.Now(), strings.NewReader("few")); err == nil {
		t.Error("an id of too few random bytes was made")
	}
}

func TestLineIsAsDocumented(t *testing.T) {
	doc, err := os.ReadFile("format.md")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for line := range strings.Lines(string(doc)) {
		if line = strings.TrimSpace(line); !strings.HasPrefix(line, `{"id"`) {
			continue
		}
		n++
		e, err := ParseLine([]byte(line))
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := e.Line(); string(got) != line {
			t.Errorf("got %s\nwant %s", got, line)
		}
	}
	if n == 0 {
		t.Error("format.md shows no entry")
	}
	for _, k := range Kinds() {
		if !strings.Contains(strings.ReplaceAll(string(doc), "\n", " "), string(k)) {
			t.Errorf("format.md does not name the kind %s", k)
		}
	}
}

// anEntry draws a well-formed entry of any kind.
func anEntry(t *rapid.T) Entry {
	r := rapid.SampledFrom(rules).Draw(t, "rule")
	text := rapid.StringMatching(`[a-zé<&"\\,;:' ]{1,12}`)
	e := Entry{ID: id(rapid.IntRange(1, 4000).Draw(t, "id")), Day: day.Day(rapid.IntRange(0, 40000).Draw(t, "day")), Kind: r.Kind, Who: text.Draw(t, "who")}
	e.Note = text.Draw(t, "note") + rapid.SampledFrom([]string{"", "\nmore", "\n\n"}).Draw(t, "end")
	if r.What != nil {
		e.Body.What = text.Draw(t, "what")
	}
	if r.Where != nil {
		e.Body.Where = text.Draw(t, "where")
	}
	if r.Measures != nil {
		e.Body.Measure = rapid.SampledFrom(r.Measures).Draw(t, "measure")
		e.Body.Amount = rapid.Float64Range(1e-9, r.Most(e.Body.Measure)).Draw(t, "amount")
	}
	if rapid.Bool().Draw(t, "more") || r.Kind == Struck {
		e.Time, e.Body.Form, e.Strikes = "23:59", "dried", id(5000)
		e.Body.Extra = map[string]string{"to": text.Draw(t, "to"), "a": ""}
		e.Received = time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "s"), rapid.Int64Range(0, 1e9-1).Draw(t, "ns")).UTC()
	}
	return e
}

func TestLineAndCSVComeBackToTheByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anEntry(t)
		line, err := e.Line()
		if err != nil {
			t.Fatal(err)
		}
		back, err := ParseLine(line)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if again, _ := back.Line(); !bytes.Equal(line, again) || bytes.ContainsRune(line, '\n') {
			t.Fatalf("%s\n%s", line, again)
		}
		var first, second bytes.Buffer
		if err := WriteCSV(&first, []Entry{e, e}); err != nil {
			t.Fatal(err)
		}
		rows, err := ReadCSV(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Fatalf("%s: %v", first.String(), err)
		}
		if err := WriteCSV(&second, rows); err != nil || first.String() != second.String() {
			t.Fatalf("%q\n%q %v", first.String(), second.String(), err)
		}
		if got, _ := rows[1].Line(); !bytes.Equal(got, line) {
			t.Fatalf("CSV gave %s, want %s", got, line)
		}
	})
}

func TestParseLineRefuses(t *testing.T) {
	good, _ := rain(1, 4).Line()
	for _, c := range []struct{ from, to, say string }{
		{`"kind":"rain"`, `"kind":"snow"`, `kind "snow" is not known`},
		{`"amount":4`, `"amount":4,"colour":"red"`, "unknown field"},
		{`"amount":4,`, ``, "amount and measure stand together"},
		{`"amount":4`, `"amount":-4`, "above nothing"},
		{`"measure":"depth"`, `"measure":"mass"`, "measured in depth, not in mass"},
		{`"day":"2026-11-25"`, `"day":"2026-13-25"`, "not a date"},
		{`}`, `}{}`, "goes on"},
		{`-7`, `-4`, "not a version 7 id"},
		{`{`, ``, "not an entry"},
	} {
		line := strings.Replace(string(good), c.from, c.to, 1)
		if _, err := ParseLine([]byte(line)); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: want %q, got %v", line, c.say, err)
		}
	}
}

func TestValidRefuses(t *testing.T) {
	for _, c := range []struct {
		say    string
		change func(*Entry)
	}{
		{"strikes itself", func(e *Entry) { e.Strikes = e.ID }},
		{"not a time of day", func(e *Entry) { e.Time = "7:30" }},
		{"not a time of day", func(e *Entry) { e.Time = "25:30" }},
		{"out of range", func(e *Entry) { e.Day = 1 << 30 }},
		{"out of range", func(e *Entry) { e.Received = time.Unix(-5, 0) }},
		{"not a number", func(e *Entry) { e.Body.Amount = math.NaN() }},
		{"the most in one entry", func(e *Entry) { e.Body.Amount = math.MaxFloat64 }},
		{"takes no place", func(e *Entry) { e.Body.Where = "roof" }},
		{"takes no thing", func(e *Entry) { e.Body.What = "hail" }},
		{"control character", func(e *Entry) { e.Who = "a\nb" }},
		{"control character", func(e *Entry) { e.Note = "a\rb" }},
		{"not UTF-8", func(e *Entry) { e.Note = "\xff" }},
		{"too long", func(e *Entry) { e.Note = strings.Repeat("x", 4001) }},
		{"form \"raw\"", func(e *Entry) { e.Body.Form = "raw" }},
		{"needs an amount, such as 3 mm", func(e *Entry) { e.Body.Measure, e.Body.Amount = "", 0 }},
		{"has no measure", func(e *Entry) { e.Body.Measure = "" }},
		{"needs the entry to strike", func(e *Entry) { e.Kind, e.Body = Struck, Body{} }},
		{"kind \"\" is not known", func(e *Entry) { e.Kind, e.Body = "", Body{} }},
		{"needs where (drum or", func(e *Entry) { e.Kind, e.Body = Closed, Body{} }},
	} {
		e := rain(1, 4)
		c.change(&e)
		if err := e.Valid(); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("want %q, got %v", c.say, err)
		}
	}
}

func TestCheckKnowsTheStead(t *testing.T) {
	c := place()
	spread := Entry{ID: id(1), Day: today, Kind: Spread, Body: Body{What: "drum 1", Where: "fig", Amount: 100, Measure: unit.Volume}}
	if err := Check(spread, c); err == nil || !strings.Contains(err.Error(), "must stay closed") {
		t.Errorf("an early drum: %v", err)
	}
	spread.Body.Extra = map[string]string{"reason": "tested by a laboratory"}
	if err := Check(spread, c); err != nil {
		t.Errorf("with a reason: %v", err)
	}
	dip := Entry{ID: id(1), Day: today, Kind: Dipped, Body: Body{Where: "tote 9", Amount: 10, Measure: unit.Volume}}
	if err := Check(dip, c); err == nil || !strings.Contains(err.Error(), `no tank is called "tote 9"`) {
		t.Errorf("an unknown tank: %v", err)
	}
}

func TestLiveAppliesStrikes(t *testing.T) {
	for _, c := range []struct {
		name string
		in   []Entry
		want []int
	}{
		{"none struck", []Entry{rain(2, 2), rain(1, 1)}, []int{1, 2}},
		{"sent twice is one", []Entry{rain(1, 1), rain(1, 1)}, []int{1}},
		{"a correction replaces", []Entry{rain(1, 1), striking(rain(2, 2), 1)}, []int{2}},
		{"a correction before its entry", []Entry{striking(rain(2, 2), 1), rain(1, 1)}, []int{2}},
		{"a strike leaves nothing", []Entry{rain(1, 1), {ID: id(2), Day: today, Kind: Struck, Strikes: id(1)}}, nil},
		{"a struck strike has no effect", []Entry{rain(1, 1), striking(rain(2, 2), 1), {ID: id(3), Day: today, Kind: Struck, Strikes: id(2)}}, []int{1}},
		{"two corrections of one", []Entry{rain(1, 1), striking(rain(2, 2), 1), striking(rain(3, 3), 1)}, []int{2, 3}},
		{"a strike of what is not known", []Entry{striking(rain(2, 2), 9)}, []int{2}},
	} {
		got, err := Live(c.in)
		var have []int
		for _, e := range got {
			have = append(have, int(e.Body.Amount))
		}
		if err != nil || !slices.Equal(have, c.want) {
			t.Errorf("%s: %v %v, want %v", c.name, have, err, c.want)
		}
	}
}

func TestLiveRefuses(t *testing.T) {
	if _, err := Live([]Entry{rain(1, 1), rain(1, 2)}); !errors.Is(err, ErrConflict) {
		t.Errorf("two bodies under one id: %v", err)
	}
	ring := []Entry{striking(rain(1, 1), 3), striking(rain(2, 2), 1), striking(rain(3, 3), 2)}
	if _, err := Live(ring); err == nil || !strings.Contains(err.Error(), "strikes itself by way of others") {
		t.Errorf("a ring of strikes: %v", err)
	}
}

// TestARingIsMendedByAStrike holds the way out that a ring's error tells: whichever
// of it is struck by another entry, the rest has its turn.
func TestARingIsMendedByAStrike(t *testing.T) {
	ring := []Entry{striking(rain(1, 1), 3), striking(rain(2, 2), 1), striking(rain(3, 3), 2)}
	for struck, want := range map[int][]int{1: {3, 9}, 2: {1, 9}, 3: {2, 9}} {
		mended := slices.Concat(ring, []Entry{striking(rain(9, 9), struck)})
		for _, w := range []*Whole{NewWhole(mended), NewWhole(ring).With(mended[3:]), NewWhole(mended[1:]).With(mended[:1])} {
			got, err := w.Live()
			var have []int
			for _, e := range got {
				have = append(have, int(e.Body.Amount))
			}
			if err != nil || !slices.Equal(have, want) {
				t.Errorf("%d struck: %v %v, want %v", struck, have, err, want)
			}
		}
	}
}

func TestReceivedDoesNotMakeAnotherBody(t *testing.T) {
	a, b := rain(1, 1), rain(1, 1)
	b.Received = time.Unix(1e9, 0)
	if got, err := Live([]Entry{a, b}); err != nil || len(got) != 1 {
		t.Errorf("%v %v", got, err)
	}
}

// TestLiveDoesNotDependOnOrder holds that the order of arrival changes nothing.
func TestLiveDoesNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		var all []Entry
		for i := 1; i <= n; i++ {
			e := rain(i, float64(i))
			if j := rapid.IntRange(0, i-1).Draw(t, "strikes"); j > 0 {
				e.Strikes = id(j)
			}
			all = append(all, e)
		}
		want, err := Live(all)
		got, err2 := Live(rapid.Permutation(append(all, all[0])).Draw(t, "order"))
		if err != nil || err2 != nil || len(want) == 0 {
			t.Fatal(err, err2, len(want))
		}
		if !slices.EqualFunc(want, got, Same) {
			t.Fatalf("%v\n%v", want, got)
		}
	})
}

func FuzzParseLine(f *testing.F) {
	line, _ := rain(1, 4).Line()
	f.Add(line)
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := ParseLine(b)
		if err != nil {
			return
		}
		one, err := e.Line()
		if err != nil {
			t.Fatal(err)
		}
		back, err := ParseLine(one)
		if err != nil {
			t.Fatal(err)
		}
		if two, _ := back.Line(); !bytes.Equal(one, two) {
			t.Fatalf("%s\n%s", one, two)
		}
	})
}

func FuzzReadCSV(f *testing.F) {
	var b bytes.Buffer
	if err := WriteCSV(&b, []Entry{rain(1, 4)}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Fuzz(func(t *testing.T, s string) {
		rows, err := ReadCSV(strings.NewReader(s))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := WriteCSV(&out, rows); err != nil {
			t.Fatal(err)
		}
		if back, err := ReadCSV(&out); err != nil || len(back) != len(rows) {
			t.Fatal(err)
		}
	})
}

func BenchmarkParseLine(b *testing.B) {
	line, _ := rain(1, 4).Line()
	for b.Loop() {
		if _, err := ParseLine(line); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLive100k(b *testing.B) {
	all := make([]Entry, 100_000)
	for i := range all {
		all[i] = rain(i+1, 3)
		all[i].ID[15], all[i].ID[14], all[i].ID[13] = byte(i), byte(i>>8), byte(i>>16)
	}
	for b.Loop() {
		if _, err := Live(all); err != nil {
			b.Fatal(err)
		}
	}
}
