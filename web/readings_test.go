package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/demo"
	"evenstead/sense"
)

// panel is the sensors of a test: what a hub is without its file.
type panel struct {
	mu sync.Mutex
	sense.Panel
	c   book.Context
	now time.Time
}

func (p *panel) Allowed(token string) bool { return token == "the-word" }

func (p *panel) Take(_ context.Context, r sense.Reading) sense.Verdict {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.Panel.Take(r, p.c, p.now)
}

func (p *panel) Standing() []sense.Standing {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.Panel.Standing()
}

func sensed(t testing.TB) (http.Handler, *panel) {
	t.Helper()
	d := fewYears(t)
	snap, err := d.Now(t.Context())
	deskMust(t, err)
	p := &panel{c: snap.Context, now: deskNoon}
	h, err := NewAt(d, Options{Demo: demo.Quernfold(), Gauges: p})
	deskMust(t, err)
	return h, p
}

// bring posts readings with a token.
func bring(h http.Handler, token, media, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", apiBase+"/readings", strings.NewReader(body))
	r.Header.Set("Content-Type", media)
	if token != "" {
		r.Header.Set("Authorization", token)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestReadingsAreTaken(t *testing.T) {
	h, _ := sensed(t)
	const body = `{"readings": [{"store": "barn", "measure": "level", "value": 5000}, {"store": "chest", "measure": "temperature", "value": 0, "unit": "°F"},
		{"store": "chest", "measure": "temperature", "value": 85}, {"store": "attic", "measure": "level", "value": 1}, {"store": "barn", "measure": "level", "value": null},
		{"store": "barn", "measure": "depth", "value": 1}, {"store": "barn", "measure": "level", "value": 5000, "at": "yesterday"}]}`
	w := bring(h, "Bearer the-word", "application/json", body)
	if w.Code != http.StatusOK {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	var got apiTaken
	must(t, json.Unmarshal(w.Body.Bytes(), &got))
	want := []bool{true, true, false, false, false, false, false}
	if len(got.Readings) != len(want) {
		t.Fatalf("%s", w.Body)
	}
	for i, g := range got.Readings {
		if g.Used != want[i] || g.Used != (g.Why == "") {
			t.Errorf("reading %d: %+v", i, g)
		}
	}
	asDescribed(t, "Taken", w)
	seen := call(t, h, "GET", apiBase+"/readings", "")
	asDescribed(t, "Sensors", seen)
	if !strings.Contains(seen.Body.String(), `"value": 5000`) {
		t.Errorf("sensors: %s", seen.Body)
	}
}

// asDescribed holds an answer to a schema of the document.
func asDescribed(t *testing.T, name string, w *httptest.ResponseRecorder) {
	t.Helper()
	doc := readOpenAPI(t)
	var v any
	must(t, json.Unmarshal(w.Body.Bytes(), &v))
	if why := doc.off(doc.Components.Schemas[name], v); why != "" {
		t.Errorf("%s: %s", name, why)
	}
}

func TestReadingsAreGuarded(t *testing.T) {
	h, p := sensed(t)
	const one = `{"readings": [{"store": "barn", "measure": "level", "value": 5000}]}`
	many := `{"readings": [` + strings.TrimSuffix(strings.Repeat(`{"store": "barn", "measure": "level", "value": 1},`, mostReadings+1), ",") + `]}`
	cases := []struct {
		name, token, media, body string
		want                     int
	}{
		{"no token", "", "application/json", one, 401},
		{"a wrong token", "Bearer the-wor", "application/json", one, 401},
		{"a token of another form", "Basic the-word", "application/json", one, 401},
		{"a form", "Bearer the-word", "application/x-www-form-urlencoded", one, 415},
		{"no JSON", "Bearer the-word", "application/json", "5000", 400},
		{"an unknown key", "Bearer the-word", "application/json", `{"reading": []}`, 400},
		{"none", "Bearer the-word", "application/json", `{"readings": []}`, 422},
		{"too many", "Bearer the-word", "application/json", many, 422},
		{"without end", "Bearer the-word", "application/json", `{"readings": [{"store": "` + strings.Repeat("x", mostForm) + `"}]}`, 413},
	}
	for _, c := range cases {
		if w := bring(h, c.token, c.media, c.body); w.Code != c.want {
			t.Errorf("%s: %d, want %d: %s", c.name, w.Code, c.want, w.Body)
		}
	}
	if len(p.Gauges) > 0 {
		t.Error("a refused reading was taken")
	}
	bare := deskSite(t, fewYears(t))
	if w := bring(bare, "Bearer the-word", "application/json", one); w.Code != http.StatusNotFound {
		t.Errorf("without sensors: %d", w.Code)
	}
	if w := call(t, bare, "GET", apiBase+"/readings", ""); w.Code != http.StatusNotFound {
		t.Errorf("without sensors: %d", w.Code)
	}
}

// TestSensorsNeedNoPairing: through the house's door a sensor's word lets in
// readings, and nothing else.
func TestSensorsNeedNoPairing(t *testing.T) {
	d := fewYears(t)
	snap, err := d.Now(t.Context())
	must(t, err)
	p := &panel{c: snap.Context, now: deskNoon}
	h, err := NewDoor(d, houseAt(t, d.clock), Options{Gauges: p})
	must(t, err)
	ask := func(method, path, token string) int {
		r := httptest.NewRequest(method, path, strings.NewReader(`{"readings": [{"store": "barn", "measure": "level", "value": 5000}]}`))
		r.Host, r.RemoteAddr = "192.168.1.20:8043", "192.168.1.9:50000"
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+token)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Code
	}
	for _, c := range []struct {
		method, path, token string
		want                int
	}{
		{"POST", apiBase + "/readings", "the-word", http.StatusOK},
		{"POST", apiBase + "/readings", "another", http.StatusUnauthorized},
		{"GET", apiBase + "/readings", "the-word", http.StatusUnauthorized},
		{"GET", apiBase + "/stores", "the-word", http.StatusUnauthorized},
		{"POST", apiBase + "/entries", "the-word", http.StatusUnauthorized},
	} {
		if got := ask(c.method, c.path, c.token); got != c.want {
			t.Errorf("%s %s with %s: %d, want %d", c.method, c.path, c.token, got, c.want)
		}
	}
}

// TestNowShowsAlarmsAndTroubles: a warm freezer stands first, a sensor that can't
// be believed with what changed.
func TestNowShowsAlarmsAndTroubles(t *testing.T) {
	h, p := sensed(t)
	for i := range 8 {
		p.now = deskNoon.Add(time.Duration(i) * 10 * time.Minute)
		bring(h, "Bearer the-word", "application/json", fmt.Sprintf(`{"readings": [{"store": "chest", "measure": "temperature", "value": %v}]}`, -9+float64(i)/10))
	}
	bring(h, "Bearer the-word", "application/json", `{"readings": [{"store": "barn", "measure": "level", "value": 900000}]}`)
	page := parsePage(t, get(t, h, "GET", "/").Body.String())
	alarm := page.find("p.wrong")
	if len(alarm) != 1 || !strings.HasPrefix(alarm[0].words(), "Freezer chest is at") || alarm[0].attrs["role"] != "alert" {
		t.Errorf("%d alarms", len(alarm))
	}
	if said := page.words(); !strings.Contains(said, "Sensor of barn, level:") || !strings.Contains(said, "believable are") {
		t.Error("the sensor's trouble is not told")
	}
}

// FuzzReadings: whatever is posted, the answer is one that is described.
func FuzzReadings(f *testing.F) {
	h, _ := sensed(f)
	for _, s := range []string{`{"readings": [{"store": "barn", "measure": "level", "value": 5e3, "unit": "L", "at": "2026-11-25T07:30:00Z"}]}`, `{"readings": [{"store": "x", "measure": "rain", "value": -1e308}]}`, `{`, `null`, `{"readings": [{}]}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		w := bring(h, "Bearer the-word", "application/json", string(body))
		var v any
		if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil || w.Code >= 500 {
			t.Fatalf("%d: %v: %.200s", w.Code, err, w.Body)
		}
	})
}

// FuzzEntries: whatever is posted to the book, nothing breaks, and what was
// written is there once, however often it is sent.
func FuzzEntries(f *testing.F) {
	h := deskSite(f, fewYears(f))
	for _, s := range []string{
		`{"note": "picked 3.2 kg kale, B1", "who": "Sorrel", "ids": ["019aba2c-8000-7000-8000-000000000001"]}`,
		`{"entries": [{"id": "019aba2c-8000-7000-8000-000000000002", "day": "2026-11-24", "kind": "rain", "amount": 14, "measure": "depth"}]}`,
		`{"note": "rain 3 mm\nrain 4 mm", "ids": ["019aba2c-8000-7000-8000-000000000003"], "sure": true}`,
		`{"entries": [{"id": "019aba2c-8000-7000-8000-000000000004", "day": "2026-11-24", "kind": "struck", "strikes": "019aba2c-8000-7000-8000-000000000002"}]}`,
		`{"entries": [{}]}`, `{"note": "\u0000", "ids": []}`, `[]`, `{"day": "0000-00-00"}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		w := call(t, h, "POST", apiBase+"/entries", string(body))
		if w.Code >= 500 {
			t.Fatalf("%d: %.300s", w.Code, w.Body)
		}
		if w.Code != http.StatusOK && w.Code != http.StatusCreated {
			return
		}
		before := call(t, h, "GET", apiBase+"/entries?struck=true", "").Body.String()
		if again := call(t, h, "POST", apiBase+"/entries", string(body)); again.Code != http.StatusOK {
			t.Fatalf("sent again: %d: %.300s", again.Code, again.Body)
		}
		if after := call(t, h, "GET", apiBase+"/entries?struck=true", "").Body.String(); after != before {
			t.Fatal("sent again, the book is another")
		}
	})
}
