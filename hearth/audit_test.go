package hearth

import (
	"errors"
	"math"
	"path/filepath"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/unit"
	"evenstead/weather"
)

// TestAuditForecastsFromTheBookAsItStood: entries that came later, though of earlier
// days, and later weather, are not in what was forecast; they are in what was found.
func TestAuditForecastsFromTheBookAsItStood(t *testing.T) {
	now := time.Date(2026, time.November, 10, 9, 0, 0, 0, time.UTC)
	h, err := Open(t.Context(), filepath.Join(t.TempDir(), "a.stead"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer h.Close()
	begun := day.Of(2026, time.November, 1)
	if err := h.Describe(t.Context(), begun, "demo.toml", demo.Quernfold()); err != nil {
		t.Fatal(err)
	}
	note := func(text string) {
		t.Helper()
		c, err := h.Context(t.Context(), day.Today(now), "Sorrel", unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := h.Add(t.Context(), book.Read(text, c)); err != nil {
			t.Fatal(err)
		}
	}
	note("dipped barn at 9000 L on 2026-11-09")
	now = time.Date(2026, time.December, 20, 9, 0, 0, 0, time.UTC)
	note("dipped barn at 900 L on 2026-11-12\npicked 2 kg kale on 2026-12-01\nbought 1 kg honey for 4.20 on 2026-12-02")
	rec := &weather.Record{Start: begun, Rain: make([]float64, 49), TMin: make([]float64, 49), TMax: make([]float64, 49)}
	for i := range rec.Rain {
		rec.TMin[i], rec.TMax[i] = 1, 9
	}
	if _, err := h.KeepWeather(t.Context(), rec); err != nil {
		t.Fatal(err)
	}
	from := day.Of(2026, time.November, 15)
	a := AuditAsk{Today: day.Today(now), Span: engine.Span{From: from, To: from + 27}, Members: 40}
	r, err := h.Audit(t.Context(), a)
	if err != nil || r.Then == nil {
		t.Fatal(err, r.ThenWhy)
	}
	if r.Then.Entries != 1 || r.Then.Late != 1 || r.Then.On != from || r.Entries != 2 {
		t.Errorf("known %d, late %d, on %s; %d entries found", r.Then.Entries, r.Then.Late, r.Then.On, r.Entries)
	}
	for _, s := range r.Then.Stores {
		if s.ID == "tank:barn" && (s.Range.Low < 6000 || s.Found > 3000 || s.Range.Has(s.Found)) {
			t.Errorf("the barn was forecast from the later dip, or found without it: %+v", s)
		}
	}
	kale := false
	for _, c := range r.Then.Crops {
		kale = kale || c.Food == "kale" && c.Found.Told == 2 && c.Planned > 0 && c.Range.High >= c.Range.Low
	}
	if !kale {
		t.Errorf("the kale that was picked: %+v", r.Then.Crops)
	}
	if len(r.Exceptions) != 1 || r.Exceptions[0].Kind != "terms" || len(r.Loops) != 7 {
		t.Errorf("exceptions %+v, %d loops", r.Exceptions, len(r.Loops))
	}
	again, err := h.Audit(t.Context(), a)
	if err != nil || again.Then.Stores[0] != r.Then.Stores[0] {
		t.Errorf("with the same seed another forecast: %v", err)
	}
	a.Members = 0
	if plain, err := h.Audit(t.Context(), a); err != nil || plain.Then != nil || math.Abs(plain.Heads-r.Heads) > 1e-9 {
		t.Errorf("without a forecast: %v", err)
	}
	a.Span = engine.Span{From: a.Today, To: a.Today + 5}
	if _, err := h.Audit(t.Context(), a); !errors.Is(err, ErrNoDays) {
		t.Errorf("a span ahead: %v", err)
	}
}

func TestUntil(t *testing.T) {
	rec := &weather.Record{Start: 100, Rain: make([]float64, 10), TMin: make([]float64, 10), TMax: make([]float64, 10)}
	for end, want := range map[day.Day]int{90: -1, 100: -1, 103: 3, 110: 10, 500: 10} {
		n := -1
		if cut := until(rec, end); cut != nil {
			n = cut.Days()
		}
		if n != want {
			t.Errorf("until %d: %d days, want %d", end, n, want)
		}
	}
	if until(nil, 5) != nil {
		t.Error("a record of nothing")
	}
}
