package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/sense"
	"evenstead/unit"
	"evenstead/wire"
)

// A soak is a household's day at the pages and its sensors, by a clock that is
// turned.
type soak struct {
	t    *testing.T
	mu   sync.Mutex
	at   time.Time
	home *hearth.Home
	desk *Desk
	hub  *wire.Hub
	h    http.Handler
	n    int // entries written by hand
	dir  string
}

func (s *soak) clock() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.at
}

func newSoak(t *testing.T) *soak {
	t.Helper()
	s := &soak{t: t, at: time.Date(2026, 11, 25, 21, 0, 0, 0, time.Local), dir: t.TempDir()}
	var err error
	s.home, err = hearth.Open(t.Context(), filepath.Join(s.dir, "evenstead.stead"), s.clock)
	must(t, err)
	t.Cleanup(func() { s.home.Close() })
	must(t, s.home.Describe(t.Context(), deskBegun, "demo.toml", demo.Quernfold()))
	s.hub, err = wire.NewHub(s.home, s.clock, wire.Options{State: filepath.Join(s.dir, "sensors"), Token: "the-word-of-sensors"})
	must(t, err)
	s.desk = NewDesk(s.home, s.clock, DeskOptions{Members: 6})
	t.Cleanup(s.desk.Close)
	s.h, err = NewAt(s.desk, Options{Gauges: s.hub})
	must(t, err)
	return s
}

// minute is what sensors say and what serve does every minute.
func (s *soak) minute(i int) {
	for _, r := range []struct {
		store string
		m     sense.Measure
		v     float64
	}{{"barn", sense.Level, 9000 - float64(i)/10}, {"chest", sense.Temperature, -19 + float64(i%17)/10}, {"gauge", sense.Rain, float64(i / 60)}} {
		read, err := sense.New(r.store, r.m, r.v, "", time.Time{})
		must(s.t, err)
		if v := s.hub.Take(s.t.Context(), read); !v.Used {
			s.t.Errorf("minute %d: %s: %s", i, r.store, v.Why)
		}
	}
	s.hub.Tick(s.t.Context())
	s.mu.Lock()
	s.at = s.at.Add(time.Minute)
	s.mu.Unlock()
}

// hour is what people do every hour: write, look at every page, and now and then
// back up and export.
func (s *soak) hour(i int) {
	id, err := book.NewID(s.clock(), strings.NewReader(fmt.Sprintf("hour %05d ", i)))
	must(s.t, err)
	s.asked("POST", apiBase+"/entries", fmt.Sprintf(`{"note": "picked 0.2 kg kale, B1", "who": "Sorrel", "ids": [%q]}`, id))
	s.n++
	for _, path := range []string{"/", "/stores", "/ground", "/ahead", "/book", "/week", "/settings", "/outlook.json", apiBase + "/readings"} {
		s.asked("GET", path, "")
	}
	if i%6 == 0 {
		copied := filepath.Join(s.dir, fmt.Sprintf("copy-%d", i))
		must(s.t, s.home.Store().Backup(s.t.Context(), copied))
		must(s.t, os.Remove(copied))
	}
}

func (s *soak) asked(method, path, body string) {
	s.t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	w := httptest.NewRecorder()
	s.h.ServeHTTP(w, r)
	if w.Code >= 400 && w.Code != http.StatusServiceUnavailable {
		s.t.Errorf("%s %s at %s: %d: %.300s", method, path, s.clock().Format("15:04"), w.Code, w.Body)
	}
}

// idle waits until nothing is reckoned behind the pages.
func idle(t *testing.T, d *Desk) {
	t.Helper()
	busy := func(mu *sync.Mutex, running *bool) bool {
		mu.Lock()
		defer mu.Unlock()
		return *running
	}
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		settled(t, d)
		if !busy(&d.tries.mu, &d.tries.running) && !busy(&d.late.mu, &d.late.running) {
			return
		}
	}
	t.Fatal("it is reckoned for ever")
}

// TestWhatIsSupersededLetsGo: while one thing is reckoned, the book goes on and every
// state's changes are asked for; those of states gone by wait for nothing.
func TestWhatIsSupersededLetsGo(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	idle(t, d)
	d.lane.take(t.Context())
	defer d.lane.free()
	had := runtime.NumGoroutine()
	for i := range 20 {
		noteLater(t, d, i, book.Entry{Day: deskToday, Kind: book.Rain, Body: book.Body{Amount: 1, Measure: unit.Depth}})
		get(t, h, "GET", "/ahead")
		get(t, h, "GET", "/reckoning")
	}
	now := 0
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if now = runtime.NumGoroutine(); now <= had+4 { // the outlook, the changes, the page's own, and a spare one
			return
		}
	}
	t.Errorf("%d goroutines, before %d", now, had)
}

// used is what a long-lived process must not gather: memory in use, goroutines,
// open files.
func used(t *testing.T) (mb float64, goroutines, files int) {
	t.Helper()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	list, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		list = nil // not this kind of system
	}
	return float64(m.HeapAlloc) / (1 << 20), runtime.NumGoroutine(), len(list)
}

// TestSoak lives through a night, in the nightly run a week, in seconds: pages, book
// and sensors go on over midnights, nothing is lost or doubled, nothing is gathered.
func TestSoak(t *testing.T) {
	hours := 6
	if os.Getenv("EVENSTEAD_NIGHTLY") != "" {
		hours = 7 * 24
	}
	s := newSoak(t)
	var mb float64
	var goroutines, files int
	for i := range hours {
		s.hour(i)
		for m := range 60 {
			s.minute(60*i + m)
		}
		if i == 3 {
			idle(t, s.desk)
			mb, goroutines, files = used(t)
		}
	}
	idle(t, s.desk)
	mb2, goroutines2, files2 := used(t)
	t.Logf("%d hours: %.1f, then %.1f MB in use; %d, then %d goroutines; %d, then %d open files", hours, mb, mb2, goroutines, goroutines2, files, files2)
	if mb2 > mb+15 || goroutines2 > goroutines+4 || files2 > files+4 {
		t.Error("something is gathered")
	}
	must(t, s.home.Store().Verify(t.Context()))
	all, err := s.home.Entries(t.Context())
	must(t, err)
	byHand, kinds := 0, map[string]int{}
	for _, e := range all {
		if e.Kind == book.Picked {
			byHand++
		} else {
			kinds[string(e.Kind)+" "+e.Day.String()]++
		}
	}
	days := (hours + 21) / 24 // midnights
	if byHand != s.n || len(kinds) != 3*days+1 {
		t.Errorf("%d of %d entries by hand, of sensors %v", byHand, s.n, kinds)
	}
	for what, n := range kinds {
		if n != 1 {
			t.Errorf("%d of %s", n, what)
		}
	}
}
