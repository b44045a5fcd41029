package wire

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/sense"
	"evenstead/unit"
)

const token = "a-token-for-tests"

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.Local)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// watch is a clock that is set by hand and a log that is kept.
type watch struct {
	mu    sync.Mutex
	at    time.Time
	lines []string
}

func (w *watch) now() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.at
}

func (w *watch) pass(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.at = w.at.Add(d)
}

func (w *watch) log(s string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.lines = append(w.lines, s)
}

func (w *watch) logged() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return strings.Join(w.lines, "\n")
}

// house is a hub over the invented stead.
func house(t testing.TB, o Options) (*Hub, *hearth.Home, *watch) {
	t.Helper()
	w := &watch{at: noon}
	h, err := hearth.Open(t.Context(), filepath.Join(t.TempDir(), "test.stead"), w.now)
	must(t, err)
	t.Cleanup(func() { h.Close() })
	must(t, h.Describe(t.Context(), day.Of(2026, 11, 1), "quernfold.toml", demo.Quernfold()))
	if o.Log == nil {
		o.Log = w.log
	}
	hub, err := NewHub(h, w.now, o)
	must(t, err)
	return hub, h, w
}

func say(t testing.TB, h *Hub, topic, payload string) sense.Verdict {
	t.Helper()
	r, err := sense.Parse(sense.Root+"/"+topic, []byte(payload))
	must(t, err)
	return h.Take(t.Context(), r)
}

func written(t testing.TB, h *hearth.Home) (out []string) {
	t.Helper()
	all, err := h.Entries(t.Context())
	must(t, err)
	for _, e := range all {
		out = append(out, strings.ReplaceAll(e.Sentence(unit.Metric), "\u00a0", " "))
	}
	return out
}

func TestReadingsBecomeEntries(t *testing.T) {
	hub, home, w := house(t, Options{})
	for i := range 200 {
		say(t, hub, "barn/level", fmt.Sprint(9000-i))
		say(t, hub, "chest/temperature", fmt.Sprint(-20+float64(i%7)/10))
		w.pass(10 * time.Minute)
		hub.Tick(t.Context())
	}
	got := written(t, home)
	want := []string{
		"heat −19.4 °C in chest, 25 Nov 2026: by sensor, the warmest of 72 readings",
		"dipped 9,000 L in barn, 25 Nov 2026 12:00: by sensor",
		"dipped 8,928 L in barn, 26 Nov 2026 00:00: by sensor",
	}
	if !slices.Equal(got, want) {
		t.Errorf("wrote\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestHandGoesBeforeSensor: what was dipped by hand that day stands alone.
func TestHandGoesBeforeSensor(t *testing.T) {
	hub, home, w := house(t, Options{})
	c, err := home.Context(t.Context(), day.Today(noon), "", unit.Metric)
	must(t, err)
	_, err = home.Add(t.Context(), book.Read("dipped barn 5000 L", c))
	must(t, err)
	say(t, hub, "barn/level", "5100")
	if got := written(t, home); len(got) != 1 || strings.Contains(got[0], "sensor") {
		t.Errorf("wrote %v", got)
	}
	if !strings.Contains(w.logged(), "left out") {
		t.Errorf("logged %s", w.logged())
	}
}

// TestStateIsKeptOverARestart: rain before and after a restart is one day's rain,
// and no entry is made twice.
func TestStateIsKeptOverARestart(t *testing.T) {
	state := filepath.Join(t.TempDir(), "sensors")
	hub, home, w := house(t, Options{State: state})
	say(t, hub, "gauge/rain", "100")
	say(t, hub, "barn/level", "5000")
	w.pass(time.Hour)
	say(t, hub, "gauge/rain", "104")
	hub.Tick(t.Context())
	again, err := NewHub(home, w.now, Options{State: state, Log: w.log})
	must(t, err)
	w.pass(time.Hour)
	say(t, again, "gauge/rain", "109")
	say(t, again, "barn/level", "5001")
	w.pass(24 * time.Hour)
	again.Tick(t.Context())
	got := written(t, home)
	if len(got) != 2 || !strings.HasPrefix(got[0], "rain 9 mm, 25 Nov 2026") {
		t.Errorf("wrote %v", got)
	}
	must(t, os.WriteFile(state, []byte("{half"), 0o600))
	if _, err := NewHub(home, w.now, Options{State: state}); err == nil || !strings.Contains(err.Error(), "begin anew") {
		t.Errorf("a damaged state: %v", err)
	}
	must(t, os.WriteFile(state, []byte(`{"gauges":{"x":null}}`), 0o600))
	odd, err := NewHub(home, w.now, Options{State: state})
	must(t, err)
	odd.Tick(t.Context())
}

// TestWithoutItsStateNothingIsDoubled: a hub that begins anew on the same day makes
// the same entry, which is there already.
func TestWithoutItsStateNothingIsDoubled(t *testing.T) {
	hub, home, w := house(t, Options{})
	say(t, hub, "barn/level", "5000")
	anew, err := NewHub(home, w.now, Options{Log: w.log})
	must(t, err)
	w.pass(time.Hour)
	say(t, anew, "barn/level", "4900")
	if got := written(t, home); len(got) != 1 {
		t.Errorf("wrote %v", got)
	}
}

// TestAnEntryWaitsForTheDisk: what could not be written is written later.
func TestAnEntryWaitsForTheDisk(t *testing.T) {
	hub, home, w := house(t, Options{})
	gone, stop := context.WithCancel(t.Context())
	r, err := sense.Parse("evenstead/barn/level", []byte("5000"))
	must(t, err)
	_, err = hub.context(t.Context(), w.now()) // the names are known; only the writing fails
	must(t, err)
	stop()
	hub.Take(gone, r)
	if got := written(t, home); len(got) != 0 || !strings.Contains(w.logged(), "an entry waits") {
		t.Fatalf("wrote %v, logged %s", got, w.logged())
	}
	hub.Tick(t.Context())
	if got := written(t, home); len(got) != 1 {
		t.Errorf("wrote %v", got)
	}
}

func TestFaultsOfSendersAreBounded(t *testing.T) {
	hub, _, w := house(t, Options{})
	for i := range 10000 {
		hub.Message(t.Context(), fmt.Sprintf("evenstead/x%d/level", i), []byte("1"), false)
		hub.Message(t.Context(), "evenstead/barn/level", fmt.Appendf(nil, "rubbish %d", i), false)
	}
	if n := strings.Count(w.logged(), "\n"); n > mostFaults || len(hub.faults) > mostFaults {
		t.Errorf("%d lines, %d faults kept", n, len(hub.faults))
	}
	w.pass(2 * time.Hour)
	hub.Message(t.Context(), "evenstead/new/level", []byte("1"), false)
	if !strings.Contains(w.logged(), `"new"`) {
		t.Error("a fault after the flood is not told")
	}
}

func TestRetainedReadingsWithoutATimeAreNotUsed(t *testing.T) {
	hub, home, w := house(t, Options{})
	hub.Message(t.Context(), "evenstead/barn/level", []byte("5000"), true)
	if len(written(t, home)) != 0 {
		t.Error("a reading of nobody knows when was used")
	}
	hub.Message(t.Context(), "evenstead/barn/level", fmt.Appendf(nil, `{"value": 5000, "at": %q}`, w.now().Add(-time.Hour).Format(time.RFC3339)), true)
	if len(written(t, home)) != 1 {
		t.Error("a reading with its time was not used")
	}
}

func TestTokens(t *testing.T) {
	hub, _, _ := house(t, Options{Token: token})
	none, _, _ := house(t, Options{})
	for given, want := range map[string]bool{token: true, "": false, token + "x": false, token[1:]: false} {
		if hub.Allowed(given) != want || none.Allowed(given) {
			t.Errorf("%q: %v, without a token %v", given, hub.Allowed(given), none.Allowed(given))
		}
	}
}
