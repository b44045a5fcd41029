package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/device"
)

// phoneID is an id as a phone makes it, of a moment by its clock.
func phoneID(t testing.TB, at time.Time, n byte) uuid.UUID {
	t.Helper()
	id, err := book.NewID(at, bytes.NewReader(bytes.Repeat([]byte{n}, 10)))
	deskMust(t, err)
	return id
}

// waited is a form of a page that waited on a phone.
func waited(t testing.TB, at time.Time, n byte, way string, fields url.Values) outItem {
	t.Helper()
	return outItem{phoneID(t, at, n), at.UnixMilli(), way, fields}
}

func noteItem(t testing.TB, n byte, text string) outItem {
	t.Helper()
	return waited(t, deskNoon, n, "/note", url.Values{"text": {text}, "who": {"Sorrel"}})
}

// sendOut posts forms to a site and reads what it says.
func sendOut(t testing.TB, h http.Handler, in outRequest) (*httptest.ResponseRecorder, outAnswer) {
	t.Helper()
	b, err := json.Marshal(in)
	deskMust(t, err)
	r := httptest.NewRequest("POST", "/outbox", bytes.NewReader(b))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	var out outAnswer
	if w.Code == http.StatusOK {
		deskMust(t, json.Unmarshal(w.Body.Bytes(), &out))
	}
	return w, out
}

func liveOf(t testing.TB, d *Desk) []book.Entry {
	t.Helper()
	list, err := d.Home().Entries(t.Context())
	deskMust(t, err)
	return list
}

func TestWaitedIsWrittenOnce(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	in := outRequest{Now: deskNoon.UnixMilli()}
	for n := range byte(10) {
		in.Items = append(in.Items, noteItem(t, n, fmt.Sprintf("picked %d g kale, B1", 100+int(n))))
	}
	_, first := sendOut(t, h, in)
	for _, told := range first.Items {
		if told.State != "written" || !strings.Contains(told.Said, "icked") {
			t.Errorf("told %+v", told)
		}
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			w, again := sendOut(t, h, in)
			if w.Code != http.StatusOK || len(again.Items) != 10 {
				t.Errorf("sent again: %d, %d told", w.Code, len(again.Items))
			}
			for _, told := range again.Items {
				if told.State != "written" {
					t.Errorf("sent again: %+v", told)
				}
			}
		})
	}
	all.Wait()
	list := liveOf(t, d)
	if len(list) != 10 {
		t.Fatalf("%d entries stand, want 10", len(list))
	}
	seen := map[uuid.UUID]bool{}
	for _, e := range list {
		seen[e.ID] = true
		if e.Received.IsZero() || !book.MadeAt(e.ID).Equal(deskNoon) {
			t.Errorf("entry %s: received %s, made %s", e.ID, e.Received, book.MadeAt(e.ID))
		}
	}
	for _, item := range in.Items {
		if !seen[item.ID] {
			t.Errorf("form %s is not in the book", item.ID)
		}
	}
}

// TestNothingThatWaitedIsLost: what can't be read or is shut by a gate stays as a
// note with the words that were sent, and holds up no other.
func TestNothingThatWaitedIsLost(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	in := outRequest{Now: deskNoon.UnixMilli(), Items: []outItem{
		noteItem(t, 1, "blorp the thing"),
		noteItem(t, 2, "picked 3000 kg kale, B1"),
		noteItem(t, 3, "rain 4 mm\nwobbled about\nrain 5 mm"),
		noteItem(t, 4, "rain 6 mm"),
		waited(t, deskNoon, 5, "/stores/dip", url.Values{"what": {"no such tank"}, "amount": {"12"}}),
		waited(t, deskNoon, 6, "/boots", url.Values{"do": {"picked"}, "thing.picked": {"kale|||B1"}, "amount.picked": {"a lot"}}),
		waited(t, deskNoon, 7, "/week/done", url.Values{"task": {"gone"}, "title": {"Turn the heap"}}),
		noteItem(t, 8, strings.Repeat("blorp ", 1200)),
	}}
	for range 2 {
		w, out := sendOut(t, h, in)
		if w.Code != http.StatusOK || len(out.Items) != len(in.Items) {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		for i, want := range []string{"plain", "plain", "plain", "written", "plain", "plain", "plain", "plain"} {
			if out.Items[i].State != want {
				t.Errorf("form %d: %+v, want %s", i, out.Items[i], want)
			}
		}
	}
	var notes, rain []string
	for _, e := range liveOf(t, d) {
		switch e.Kind {
		case book.Noted:
			notes = append(notes, e.Note)
		case book.Rain:
			rain = append(rain, fmt.Sprint(e.Body.Amount))
		}
	}
	if len(notes) != 7 || len(rain) != 3 {
		t.Fatalf("%d notes and %d rains", len(notes), len(rain))
	}
	all := strings.Join(notes, "\n")
	for _, want := range []string{"blorp the thing", "picked 3000 kg kale", "wobbled about", "no such tank 12", "picked kale B1 a lot", "Turn the heap"} {
		if !strings.Contains(all, want) {
			t.Errorf("no note has %q", want)
		}
	}
}

func TestLiveFormIsToldWhatIsWrong(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	bad := outRequest{Now: deskNoon.UnixMilli(), Live: true, Items: []outItem{noteItem(t, 1, "rain 4 mm\nblorp the thing")}}
	if _, out := sendOut(t, h, bad); out.Items[0].State != "mend" || out.Items[0].Said == "" {
		t.Errorf("told %+v", out.Items[0])
	}
	if n := len(liveOf(t, d)); n != 0 {
		t.Errorf("%d entries were written", n)
	}
	good := outRequest{Now: deskNoon.UnixMilli(), Live: true, Items: []outItem{waited(t, deskNoon, 2, "/stores/dip", url.Values{"what": {"barn"}, "amount": {"9000"}})}}
	_, out := sendOut(t, h, good)
	page := asked(h, "GET", strings.Split(out.Items[0].Then, "#")[0], nil).Body.String()
	if out.Items[0].State != "written" || !strings.Contains(page, `class="wrote"`) {
		t.Errorf("told %+v, and the page does not say it", out.Items[0])
	}
}

// TestWrongClocks: a phone whose clock is years off, or was set while forms waited,
// is told and never refused, and its days are home's.
func TestWrongClocks(t *testing.T) {
	year := 365 * 24 * time.Hour
	for _, c := range []struct {
		name     string
		off, age time.Duration // of the phone's clock at sending; how long the form waited
		at       time.Duration // off by this when it was filled in
		day      day.Day
		told     string
	}{
		{"right", 0, 0, 0, deskToday, ""},
		{"a minute off", time.Minute, time.Hour, time.Minute, deskToday, ""},
		{"waited three days", 0, 3 * 24 * time.Hour, 0, deskToday - 3, ""},
		{"three years behind", -3 * year, 2 * 24 * time.Hour, -3 * year, deskToday - 2, "3 years behind"},
		{"eight years ahead", 8 * year, 24 * time.Hour, 8 * year, deskToday - 1, "8 years ahead"},
		{"an hour behind", -time.Hour, 0, -time.Hour, deskToday, "60 min behind"},
		{"since 1970, set while it waited", 0, time.Hour, -56 * year, deskToday, ""},
		{"put back while it waited", 0, time.Hour, 5 * year, deskToday, ""},
		{"before the stay", 0, 90 * 24 * time.Hour, 0, deskBegun, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := deskOf(t, demo.Quernfold())
			h := deskSite(t, d)
			at := deskNoon.Add(-c.age).Add(c.at)
			in := outRequest{Now: deskNoon.Add(c.off).UnixMilli(), Items: []outItem{waited(t, at, 1, "/note", url.Values{"text": {"rain 4 mm"}})}}
			_, out := sendOut(t, h, in)
			list := liveOf(t, d)
			if len(list) != 1 || list[0].Day != c.day || list[0].Kind != book.Rain {
				t.Fatalf("the book has %+v, want rain on %s", list, c.day)
			}
			if !strings.Contains(out.Clock, c.told) || c.told == "" && out.Clock != "" {
				t.Errorf("told %q, want %q", out.Clock, c.told)
			}
			if !book.MadeAt(list[0].ID).Equal(at) || list[0].Received.IsZero() {
				t.Errorf("made %s, received %s", book.MadeAt(list[0].ID), list[0].Received)
			}
			page := asked(h, "GET", "/book/"+list[0].ID.String(), nil).Body.String()
			if !strings.Contains(page, "by the clock of the device") {
				t.Error("the entry's page does not tell when the device made it")
			}
		})
	}
}

func TestWhatCanNeverBeWrittenIsRefused(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	four := outItem{uuid.MustParse("7b1c6c1e-9a34-4f7e-8f1e-0d3c4b5a6978"), deskNoon.UnixMilli(), "/note", url.Values{"text": {"rain 4 mm"}}}
	_, out := sendOut(t, h, outRequest{Now: deskNoon.UnixMilli(), Items: []outItem{
		four, waited(t, deskNoon, 2, "/settings", url.Values{"units": {"us"}}), waited(t, deskNoon, 3, "/note", url.Values{"text": {" "}}), noteItem(t, 4, "rain 4 mm"),
	}})
	for i, want := range []string{"refused", "refused", "refused", "written"} {
		if out.Items[i].State != want || out.Items[i].Said == "" {
			t.Errorf("form %d: %+v, want %s", i, out.Items[i], want)
		}
	}
	if n := len(liveOf(t, d)); n != 1 {
		t.Errorf("%d entries", n)
	}
	for body, want := range map[string]int{`{`: 400, `{"items":[{"id":"x"}]}`: 400, `{"more":1}`: 400, `[]`: 400, strings.Repeat(" ", 2<<20) + `{}`: 413} {
		r := httptest.NewRequest("POST", "/outbox", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		if h.ServeHTTP(w, r); w.Code != want {
			t.Errorf("%.30s answers %d, want %d", body, w.Code, want)
		}
	}
	many := outRequest{Items: make([]outItem, mostItems+1)}
	if w, _ := sendOut(t, h, many); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("%d forms answer %d", mostItems+1, w.Code)
	}
	if w, _ := sendOut(t, deskSite(t, deskOf(t, nil)), outRequest{Items: []outItem{noteItem(t, 1, "rain 4 mm")}}); w.Code != http.StatusServiceUnavailable {
		t.Errorf("before the stead is described: %d", w.Code)
	}
}

// TestEveryFormCanWait sends the forms of all pages as their scripts do.
func TestEveryFormCanWait(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	week := parsePage(t, asked(h, "GET", "/week", nil).Body.String())
	var tick url.Values
	for _, f := range week.find("form.tick") {
		fields := url.Values{}
		for _, in := range f.find("input") {
			if in.attrs["type"] == "hidden" {
				fields.Set(in.attrs["name"], in.attrs["value"])
			}
		}
		if len(f.find(".line")) == 1 && len(f.find("input")) == 2 && f.attrs["data-wait"] == "now" {
			tick = fields
			tick.Set("title", f.attrs["data-title"])
			break
		}
	}
	if tick == nil {
		t.Fatal("no task of the week is ticked off by a tap alone")
	}
	_, out := sendOut(t, h, outRequest{Now: deskNoon.UnixMilli(), Items: []outItem{
		waited(t, deskNoon, 1, "/week/done", tick),
		waited(t, deskNoon, 2, "/stores/dip", url.Values{"what": {"barn"}, "amount": {"40%"}}),
		waited(t, deskNoon, 3, "/stores/count", url.Values{"what": {"fuel|wood"}, "amount": {"120 kg"}, "who": {"Rook"}}),
		waited(t, deskNoon, 4, "/boots", url.Values{"do": {"picked"}, "thing.picked": {"kale|||B1"}, "amount.picked": {"1.5"}, "who": {"Sorrel"}, "once": {"x"}}),
		waited(t, deskNoon, 5, "/boots", url.Values{"do": {"other"}, "text": {"worked 2 h weeding"}}),
	}})
	for i, told := range out.Items {
		if told.State != "written" {
			t.Errorf("form %d: %+v", i, told)
		}
	}
}

func tinyPhoto(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	deskMust(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil))
	return b.Bytes()
}

func TestPhotosFollowTheirEntries(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	item := noteItem(t, 1, "rain 4 mm")
	post := func(body []byte) *httptest.ResponseRecorder {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest("POST", "/outbox/photo/"+item.ID.String(), bytes.NewReader(body)))
		return w
	}
	if w := post(tinyPhoto(t)); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a photo before its entry: %d", w.Code)
	}
	sendOut(t, h, outRequest{Now: deskNoon.UnixMilli(), Items: []outItem{item}})
	for range 2 {
		if w := post(tinyPhoto(t)); w.Code != http.StatusNoContent {
			t.Errorf("a photo: %d %s", w.Code, w.Body)
		}
	}
	for name, bad := range map[string][]byte{"no photo": []byte("GIF89a"), "nothing": nil, "too large": append(tinyPhoto(t), make([]byte, 5<<20)...)} {
		if w := post(bad); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	page := parsePage(t, asked(h, "GET", "/book/"+item.ID.String(), nil).Body.String())
	shown := page.find("img.photo")
	if len(shown) != 1 {
		t.Fatalf("%d photos are shown", len(shown))
	}
	w := asked(h, "GET", shown[0].attrs["src"], nil)
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "image/jpeg" || !bytes.Equal(w.Body.Bytes(), tinyPhoto(t)) {
		t.Errorf("the photo: %d %s", w.Code, w.Header().Get("Content-Type"))
	}
}

// TestTwoHundredPhones: two hundred paired phones come home at once, each with ten
// forms, some of which were sent before and lost their answer.
func TestTwoHundredPhones(t *testing.T) {
	phones := 200
	if testing.Short() {
		phones = 20
	}
	d := deskOf(t, demo.Quernfold())
	house, h := doorOf(t, d)
	toks := make([]string, 20) // a token has several phones: pairing is proved elsewhere
	for i := range toks {
		role := device.Household
		if i%4 == 0 {
			role = device.Helper
		}
		toks[i] = tokenFor(t, house, role)
	}
	began := time.Now()
	var all sync.WaitGroup
	slots := make(chan struct{}, 64)
	for p := range phones {
		in := outRequest{Now: deskNoon.UnixMilli()}
		for n := range 10 {
			id := phoneID(t, deskNoon.Add(time.Duration(p)*time.Second), byte(n))
			in.Items = append(in.Items, outItem{id, deskNoon.UnixMilli(), "/note", url.Values{"text": {fmt.Sprintf("rain %d mm", n+1)}}})
		}
		b, err := json.Marshal(in)
		must(t, err)
		all.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			for range 2 {
				r := httptest.NewRequest("POST", "/outbox", bytes.NewReader(b))
				r.Host, r.RemoteAddr = "192.168.1.20:8043", fmt.Sprintf("192.168.2.%d:5000", p%250)
				r.Header.Set("Content-Type", "application/json")
				r.AddCookie(&http.Cookie{Name: cookieName, Value: toks[p%len(toks)]})
				w := httptest.NewRecorder()
				if h.ServeHTTP(w, r); w.Code != http.StatusOK {
					t.Errorf("phone %d: %d %s", p, w.Code, w.Body)
				}
			}
		})
	}
	all.Wait()
	if n := len(liveOf(t, d)); n != 10*phones {
		t.Errorf("%d entries, want %d", n, 10*phones)
	}
	t.Logf("%d phones, %d forms sent twice, in %s", phones, 10*phones, time.Since(began).Round(time.Millisecond))
}

// TestAnyOrderOfSending: whatever batches, repeats and restarts happen, each form is
// in the book once.
func TestAnyOrderOfSending(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	rng := rand.New(rand.NewPCG(11, 2))
	texts := []string{"rain 4 mm", "blorp", "picked 900 g kale, B1", "rain 1 mm\nrain 2 mm"}
	lines := 0
	for round := range 15 {
		var items []outItem
		for n := range 1 + rng.IntN(6) {
			text := texts[rng.IntN(len(texts))]
			lines += strings.Count(text, "\n") + 1
			items = append(items, waited(t, deskNoon.Add(time.Duration(round)*time.Second), byte(n), "/note", url.Values{"text": {text}}))
		}
		for range rng.IntN(4) {
			from := rng.IntN(len(items))
			to := from + 1 + rng.IntN(len(items)-from)
			sendOut(t, h, outRequest{Now: deskNoon.UnixMilli() + rng.Int64N(1e6), Items: items[from:to]})
			if rng.IntN(3) == 0 {
				h = deskSite(t, d)
			}
		}
		sendOut(t, h, outRequest{Now: deskNoon.UnixMilli(), Items: items})
		if n := len(liveOf(t, d)); n != lines {
			t.Fatalf("after round %d %d entries, want %d", round, n, lines)
		}
	}
}

// TestScriptIsSmall: all that runs on a phone, as it is sent, together.
func TestScriptIsSmall(t *testing.T) {
	code, err := script("outbox", "page", "worker")
	must(t, err)
	if len(code) > 15<<10 {
		t.Errorf("the scripts have %d bytes, at most 15 KB", len(code))
	}
	d := deskOf(t, demo.Quernfold())
	w := asked(deskSite(t, d), "GET", "/sw.js", nil)
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/javascript") || !strings.Contains(w.Header().Get("Cache-Control"), "no-cache") {
		t.Errorf("the worker: %d %v", w.Code, w.Header())
	}
	for _, way := range []string{`"/"`, `"/week"`, `"/boots"`, `"/stores"`, `"/ground"`, `"/outbox"`} {
		if !strings.Contains(w.Body.String()[:1000], way) {
			t.Errorf("the worker does not keep %s", way)
		}
	}
	if _, err := os.Stat("script/outbox.js"); err != nil {
		t.Error(err)
	}
}

func FuzzOutbox(f *testing.F) {
	f.Add([]byte(`{"now":1795608000000,"live":false,"items":[{"id":"019aba2c-8000-7000-8000-000000000001","at":1795608000000,"way":"/note","fields":{"text":["rain 4 mm"]}}]}`))
	f.Add([]byte(`{"now":-9223372036854775808,"items":[{"id":"019aba2c-8000-7000-8000-000000000001","at":9223372036854775807,"way":"/boots","fields":{"do":["picked"],"thing.picked":["a|b|c|d"],"amount.picked":["1e300"]}}]}`))
	f.Add([]byte(`{"items":[{"id":"019aba2c-8000-7000-8000-000000000001","way":"/week/done","fields":{"task":["x"],"draft":["y"]}},{"id":"019aba2c-8000-7000-8000-000000000002","way":"/stores/count","fields":{"what":["a|b|c"],"amount":["NaN"]}}]}`))
	d := deskOf(f, demo.Quernfold())
	h := deskSite(f, d)
	f.Fuzz(func(t *testing.T, body []byte) {
		r := httptest.NewRequest("POST", "/outbox", bytes.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		if h.ServeHTTP(w, r); w.Code >= 500 {
			t.Errorf("%d: %s", w.Code, w.Body)
		}
	})
}
