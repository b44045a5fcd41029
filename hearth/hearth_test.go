package hearth

import (
	"bytes"
	"errors"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

var (
	begun = day.Of(2026, time.November, 1)
	today = day.Of(2026, time.November, 25)
	noon  = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// empty is a home without a description.
func empty(t testing.TB) *Home {
	t.Helper()
	h, err := Open(t.Context(), filepath.Join(t.TempDir(), "evenstead.stead"), func() time.Time { return noon })
	must(t, err)
	t.Cleanup(func() { h.Close() })
	return h
}

// home is one that holds the demo stead from the day its stay began.
func home(t testing.TB) *Home {
	t.Helper()
	h := empty(t)
	must(t, h.Describe(t.Context(), begun, "demo", demo.Quernfold()))
	return h
}

func read(t testing.TB, h *Home, note string) []book.Reading {
	t.Helper()
	c, err := h.Context(t.Context(), today, "Sorrel", unit.Metric)
	must(t, err)
	return book.Read(note, c)
}

func add(t testing.TB, h *Home, note string) []book.Entry {
	t.Helper()
	got, err := h.Add(t.Context(), read(t, h, note))
	must(t, err)
	return got
}

func says(t *testing.T, err error, say string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), say) {
		t.Errorf("want %q, got %v", say, err)
	}
}

func TestDescribeKeepsNothingOfABadText(t *testing.T) {
	h, ctx := empty(t), t.Context()
	err := h.Describe(ctx, begun, "bad.toml", []byte("place.latitude = 95\npeeple = 2\n"))
	if faults := (stead.Errors)(nil); !errors.As(err, &faults) || len(faults) < 2 {
		t.Errorf("all faults at once: %v", err)
	}
	if all, err := h.Steads(ctx); err != nil || len(all) != 0 {
		t.Errorf("%d descriptions kept, %v", len(all), err)
	}
	if _, err := h.Context(ctx, today, "", unit.Metric); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("without a description: %v", err)
	}
}

func TestSteadsInOrderOfTheirDays(t *testing.T) {
	h, ctx := empty(t), t.Context()
	text := func(name string) []byte { return append([]byte("name = \""+name+"\"\n"), demo.FourLines()...) }
	must(t, h.Describe(ctx, begun+100, "a", text("spring")))
	must(t, h.Describe(ctx, begun, "b", text("autumn")))
	must(t, h.Describe(ctx, begun, "c", text("autumn, mended")))
	all, err := h.Steads(ctx)
	if err != nil || len(all) != 2 || all[0].Stead.Name != "autumn, mended" || all[1].Stead.Name != "spring" || all[1].From != begun+100 {
		t.Fatalf("%+v %v", all, err)
	}
	for d, want := range map[day.Day]string{begun: "autumn, mended", begun + 99: "autumn, mended", begun + 100: "spring"} {
		if got, err := h.On(ctx, d); err != nil || got.Stead.Name != want {
			t.Errorf("on %s: %s %v, want %s", d, got.Stead.Name, err, want)
		}
	}
	_, err = h.On(ctx, begun-1)
	says(t, err, "the first begins 2026-11-01")
	c, err := h.Context(ctx, begun+200, "", unit.Metric)
	if err != nil || c.From != begun {
		t.Errorf("without stay.from the stay begins with the first description: %s %v", c.From, err)
	}
}

func TestWeatherComesBackAsMeasured(t *testing.T) {
	h, ctx := empty(t), t.Context()
	if rec, err := h.Record(ctx); rec != nil || err != nil {
		t.Errorf("no weather is no record: %v %v", rec, err)
	}
	nan := math.NaN()
	given := &weather.Record{Start: begun, Rain: []float64{1, nan, nan, 0}, TMin: []float64{2, nan, 3, nan}, TMax: []float64{9, nan, nan, 11}}
	if n, err := h.KeepWeather(ctx, given); n != 3 || err != nil {
		t.Errorf("%d days kept, %v", n, err)
	}
	rec, err := h.Record(ctx)
	must(t, err)
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	if rec.Start != begun || !slices.EqualFunc(rec.Rain, given.Rain, same) || !slices.EqualFunc(rec.TMin, given.TMin, same) || !slices.EqualFunc(rec.TMax, given.TMax, same) {
		t.Errorf("%+v", rec)
	}
	if !math.IsNaN(rec.Lat) || len(rec.Notes) != 1 || !strings.Contains(rec.Notes[0], "3 days") {
		t.Errorf("latitude %g, notes %q", rec.Lat, rec.Notes)
	}
}

func TestContextKnowsWho(t *testing.T) {
	h, ctx := home(t), t.Context()
	c, err := h.Context(ctx, today, "rook", unit.US)
	if err != nil || c.Who != "Rook" || c.System != unit.US || c.From != begun {
		t.Errorf("%q %s %v", c.Who, c.From, err)
	}
	_, err = h.Context(ctx, today, "Robin", unit.Metric)
	says(t, err, "there is Sorrel, Rook")
	lone := empty(t)
	must(t, lone.Describe(ctx, begun, "lone", []byte("place.latitude = 50\n[[person]]\nname = \"Wren\"\nsex = \"female\"\nage = 50\n")))
	if c, err := lone.Context(ctx, today, "", unit.Metric); err != nil || c.Who != "Wren" {
		t.Errorf("a household of one: %q %v", c.Who, err)
	}
}

func TestAddIsAllOrNone(t *testing.T) {
	h, ctx := home(t), t.Context()
	_, err := h.Add(ctx, read(t, h, "rain 14 mm\npicked 3000 kg basil"))
	says(t, err, "line 2 cannot be saved, so none is")
	if all, err := h.All(ctx); err != nil || len(all) != 0 {
		t.Errorf("%d entries after a refusal, %v", len(all), err)
	}
	got := add(t, h, "rain 14 mm\ncounted potatoes 18 kg\nfed digester 4 kg scraps")
	live, err := h.Entries(ctx)
	if err != nil || len(live) != 3 {
		t.Fatalf("%d entries, %v", len(live), err)
	}
	for i, e := range live {
		if !book.Same(e, got[i]) || e.Received != noon || e.ID.Version() != 7 {
			t.Errorf("line %d: %+v", i+1, e)
		}
	}
	if !slices.IsSortedFunc(got, func(a, b book.Entry) int { return bytes.Compare(a.ID[:], b.ID[:]) }) {
		t.Error("ids must rise in the order of the lines")
	}
}

func TestStrikeAndBack(t *testing.T) {
	h, ctx := home(t), t.Context()
	e := add(t, h, "rain 14 mm yesterday")[0]
	s, err := h.Strike(ctx, e.ID, "the can had a leak")
	if err != nil || s.Strikes != e.ID || s.Day != e.Day || s.Note != "the can had a leak" {
		t.Fatalf("%+v %v", s, err)
	}
	if live, _ := h.Entries(ctx); len(live) != 0 {
		t.Errorf("a struck entry stands: %v", live)
	}
	if _, err := h.Strike(ctx, e.ID, ""); !errors.Is(err, ErrStruck) {
		t.Errorf("struck twice: %v", err)
	}
	if _, err := h.Replace(ctx, e.ID, read(t, h, "rain 4 mm")[0]); !errors.Is(err, ErrStruck) {
		t.Errorf("replaced once struck: %v", err)
	}
	_, err = h.Strike(ctx, s.ID, "")
	must(t, err)
	if live, _ := h.Entries(ctx); len(live) != 1 || live[0].ID != e.ID {
		t.Errorf("a strike that is struck has no effect: %v", live)
	}
	if _, err := h.Strike(ctx, uuid.UUID{6: 0x70, 8: 0x80}, ""); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("an entry that is not there: %v", err)
	}
}

func TestReplace(t *testing.T) {
	h, ctx := home(t), t.Context()
	e := add(t, h, "rain 14 mm yesterday")[0]
	_, err := h.Replace(ctx, e.ID, read(t, h, "rain 14 kg")[0])
	says(t, err, "not an amount of depth")
	n, err := h.Replace(ctx, e.ID, read(t, h, "rain 4 mm yesterday")[0])
	must(t, err)
	live, err := h.Entries(ctx)
	if err != nil || len(live) != 1 || live[0].ID != n.ID || live[0].Body.Amount != 4 {
		t.Errorf("%+v %v", live, err)
	}
}

func TestFind(t *testing.T) {
	h, ctx := empty(t), t.Context()
	entry := func(id string) book.Entry {
		return book.Entry{ID: uuid.MustParse(id), Day: today, Kind: book.Rain, Body: book.Body{Amount: 1, Measure: unit.Depth}}
	}
	a, b := entry("019ab3f0-5c00-7000-8000-0000aaaa1234"), entry("019ab3f0-5c00-7000-8000-0000bbbb1234")
	must(t, h.Store().Add(ctx, []book.Entry{a, b}))
	for _, s := range []string{"aa1234", "AAAA1234", " 0000-aaaa1234 ", a.ID.String(), strings.ReplaceAll(a.ID.String(), "-", "")} {
		if e, err := h.Find(ctx, s); err != nil || e.ID != a.ID {
			t.Errorf("%q: %s %v", s, e.ID, err)
		}
	}
	for s, say := range map[string]string{"1234": "2 entries end in 1234: give more digits, such as 0000aaaa1234", "234": "at least the last four",
		"ffff": "no entry's id ends in ffff", "potato": "is no entry's id", "": "is no entry's id", a.ID.String() + "00": "is no entry's id"} {
		_, err := h.Find(ctx, s)
		says(t, err, say)
	}
	if Short(a.ID) != "aa1234" {
		t.Errorf("short id %s", Short(a.ID))
	}
}

func BenchmarkContext(b *testing.B) {
	h := home(b)
	for b.Loop() {
		_, err := h.Context(b.Context(), today, "Sorrel", unit.Metric)
		must(b, err)
	}
}
