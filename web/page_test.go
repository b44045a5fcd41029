package web

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"evenstead/engine"
	"evenstead/unit"
)

const mostBytes = 100_000 // a page, before compression

func TestHeaders(t *testing.T) {
	h := newSite(t, Options{})
	for _, path := range []string{"/", "/stores", "/outlook.json", "/nowhere"} {
		head := get(t, h, "GET", path).Header()
		for key, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff",
			"X-Frame-Options": "DENY", "Referrer-Policy": "no-referrer", "Cache-Control": "no-cache",
			"Cross-Origin-Resource-Policy": "same-origin",
		} {
			if !strings.Contains(head.Get(key), want) {
				t.Errorf("%s: %s is %q, want %q in it", path, key, head.Get(key), want)
			}
		}
		if csp := head.Get("Content-Security-Policy"); strings.Contains(csp, "unsafe") || strings.Contains(csp, "script-src") {
			t.Errorf("%s: policy %q lets script or inline style in", path, csp)
		}
	}
}

func TestStatus(t *testing.T) {
	h := newSite(t, Options{})
	for _, c := range []struct {
		method, path string
		want         int
	}{
		{"GET", "/", 200}, {"HEAD", "/", 200}, {"GET", "/stores", 200}, {"HEAD", "/stores", 200},
		{"GET", "/stores?from=9", 200}, {"GET", "/stores?from=no", 200}, {"GET", "/outlook.json", 200},
		{"GET", "/nowhere", 404}, {"GET", "/static/style.css", 404}, {"GET", "/static/../web.go", 404},
		{"POST", "/", 405}, {"DELETE", "/stores", 405},
	} {
		if w := get(t, h, c.method, c.path); w.Code != c.want {
			t.Errorf("%s %s: status %d, want %d", c.method, c.path, w.Code, c.want)
		}
	}
	if allow := get(t, h, "POST", "/").Header().Get("Allow"); !strings.Contains(allow, "GET") {
		t.Errorf("405 allows %q, want GET", allow)
	}
}

func TestErrorPagesLookLikeTheOthers(t *testing.T) {
	h := newSite(t, Options{Stead: "Quernfold"})
	for _, c := range []struct{ method, path string }{{"GET", "/nowhere"}, {"PUT", "/"}} {
		page := parsePage(t, get(t, h, c.method, c.path).Body.String())
		if len(page.find("a.brand")) != 1 || len(page.find("nav.bar")) != 1 || len(page.find("h1")) != 1 {
			t.Errorf("%s %s lacks the mark, the bar or a sentence", c.method, c.path)
		}
	}
}

// TestForeignWrites proves that a page elsewhere cannot send a form here.
func TestForeignWrites(t *testing.T) {
	r := httptest.NewRequest("POST", "/", nil)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	w := httptest.NewRecorder()
	newSite(t, Options{}).ServeHTTP(w, r)
	if w.Code != http.StatusForbidden {
		t.Errorf("a foreign form got status %d, want 403", w.Code)
	}
}

func TestStaticFilesAreHashedAndKept(t *testing.T) {
	h := newSite(t, Options{})
	page := parsePage(t, get(t, h, "GET", "/").Body.String())
	for _, link := range page.find("link") {
		href := link.attrs["href"]
		if link.attrs["rel"] == "manifest" {
			continue // known to the browser by its address, which must stay
		}
		if !regexp.MustCompile(`^/static/[\w-]+\.[0-9a-f]{12}\.\w+$`).MatchString(href) {
			t.Errorf("%s carries no hash", href)
		}
		w := get(t, h, "GET", href)
		if cache := w.Header().Get("Cache-Control"); w.Code != 200 || !strings.Contains(cache, "immutable") {
			t.Errorf("%s: status %d, cache %q", href, w.Code, cache)
		}
	}
	if n := len(page.find("link")); n != 4 {
		t.Errorf("%d files are linked, want style, two icons and the manifest", n)
	}
}

func TestNothingInline(t *testing.T) {
	h := newSite(t, Options{Rain: fixtureRain})
	for _, path := range []string{"/", "/stores", "/nowhere"} {
		page := parsePage(t, get(t, h, "GET", path).Body.String())
		if n := len(page.find("script")) + len(page.find("style")); n > 0 {
			t.Errorf("%s: %d script or style elements", path, n)
		}
		for _, e := range page.find("") {
			for name, value := range e.attrs {
				if name == "style" || strings.HasPrefix(name, "on") || strings.HasPrefix(value, "javascript:") {
					t.Errorf("%s: <%s %s=%q>", path, e.tag, name, value)
				}
			}
		}
	}
}

func TestContentInOrder(t *testing.T) {
	h := newSite(t, Options{Rain: fixtureRain})
	body := get(t, h, "GET", "/").Body.String()
	at := 0
	for _, mark := range []string{`class="skip"`, `class="brand"`, `class="almanac"`, `class="year"`, "<h1>", `id="cover-h"`,
		`id="strip-h"`, `id="store-h"`, `id="crop-h"`, `id="loop-h"`, `id="gate-h"`, `id="taken-h"`, `id="weather-h"`, "<footer"} {
		next := strings.Index(body[at:], mark)
		if next < 0 {
			t.Fatalf("%s is missing or out of order", mark)
		}
		at += next
	}
}

func TestEveryPartIsShown(t *testing.T) {
	o := fixture()
	page := parsePage(t, get(t, newSite(t, Options{}), "GET", "/").Body.String())
	for _, c := range []struct {
		selector string
		want     int
	}{
		{"li.cover", 12}, {"svg.strip", len(o.Needs)}, {"svg.fan", storesShown}, {"svg.belt", 3}, // strips: one need holds, and the axis is one
		{"rect.unknown", 3}, {"span.short", 2}, {"svg.year", 0},
	} {
		if got := len(page.find(c.selector)); got != c.want {
			t.Errorf("%d of %s, want %d", got, c.selector, c.want)
		}
	}
	text := page.words()
	for _, want := range append(append(o.Cautions, o.Defaults...), o.Weather...) {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for i := range o.Crops {
		if !strings.Contains(text, o.Crops[i].Name) {
			t.Errorf("crop %s is missing", o.Crops[i].Name)
		}
	}
}

// stripNames are the needs drawn week by week, in their order.
func stripNames(t *testing.T, o *engine.Outlook) (names []string, page *element) {
	t.Helper()
	h, err := New(fixtureSource(o), Options{})
	must(t, err)
	page = parsePage(t, get(t, h, "GET", "/").Body.String())
	for _, h3 := range page.find("ul.strips")[0].find("h3") {
		names = append(names, h3.text) // the group's word is a child
	}
	return names, page
}

func TestNeedsThatHoldStandInASentence(t *testing.T) {
	o := fixture()
	o.Needs = append(o.Needs,
		need("vit_b6", "Vitamin B6", engine.Food, false, shape(0.049, 9, 3)),
		need("zinc", "Zinc", engine.Food, false, shape(0.05, 9, 3)))
	names, page := stripNames(t, o)
	drawn := strings.Join(names, ", ")
	for _, want := range []string{"Drinking", "Protein", "Zinc", "Iodine"} {
		if !strings.Contains(drawn, want) {
			t.Errorf("%s has no strip among %s", want, drawn)
		}
	}
	if strings.Contains(drawn, "Vitamin A") || strings.Contains(drawn, "B6") {
		t.Errorf("needs that hold are drawn: %s", drawn)
	}
	text := page.words()
	if want := "Held in more than 19 years of 20: vitamin A, vitamin B6."; !strings.Contains(text, want) {
		t.Errorf("the page does not say %q", want)
	}
	if n := len(page.find("table")[0].find("tr")) - 1; n != len(o.Needs) {
		t.Errorf("%d needs in figures, want %d", n, len(o.Needs))
	}
}

func TestNoSentenceWhenNothingHolds(t *testing.T) {
	o := fixture()
	o.Needs = o.Needs[:3]
	if _, page := stripNames(t, o); strings.Contains(page.words(), "Held in more than") {
		t.Error("the page names needs that hold, and there are none")
	}
}

func TestAlwaysShortComesLast(t *testing.T) {
	o := fixture()
	always := need("vit_d", "Vitamin D", engine.Food, false, shape(1, 0, 1000))
	late := need("choline", "Choline", engine.Food, false, shape(1, 20, 4))
	known := need("fibre", "Fibre", engine.Food, true, shape(1, 0, 1000))
	o.Needs = append([]engine.NeedOutlook{always, late, known}, o.Needs...)
	names, _ := stripNames(t, o)
	if last := names[len(names)-1]; last != "Vitamin D" {
		t.Errorf("%s comes last, want Vitamin D", last)
	}
	if before := names[len(names)-2]; before != "Hours" {
		t.Errorf("%s comes before the last, want Hours: main and late needs keep their place", before)
	}
}

// TestLoopsWithoutADrawingComeLast keeps the drawn ones side by side.
func TestLoopsWithoutADrawingComeLast(t *testing.T) {
	o := fixture()
	o.Loops = []engine.LoopOutlook{o.Loops[4], o.Loops[3]}
	h, err := New(fixtureSource(o), Options{})
	must(t, err)
	loops := parsePage(t, get(t, h, "GET", "/stores").Body.String()).find("article.loop")
	if len(loops) != 2 || len(loops[0].find("svg.belt")) != 1 || len(loops[1].find("svg.belt")) != 0 {
		t.Error("the loop without a drawing does not come last")
	}
}

func TestNothingComesRound(t *testing.T) {
	o := fixture()
	o.Loops = []engine.LoopOutlook{loop("water", "L a year", "sky", "tanks", 100.0, "tanks", "house", 100.0, "house", "air", 100.0)}
	h, err := New(fixtureSource(o), Options{Units: unit.US})
	must(t, err)
	text := parsePage(t, get(t, h, "GET", "/").Body.String()).words()
	if want := "None of 26\u00a0gal\u00a0a\u00a0year comes round again."; !strings.Contains(text, want) {
		t.Errorf("the page does not say %q", want)
	}
}

func TestTakenIsFoldedAway(t *testing.T) {
	o := fixture()
	for _, d := range parsePage(t, get(t, newSite(t, Options{}), "GET", "/").Body.String()).find("details") {
		if strings.Contains(d.words(), o.Defaults[0]) {
			if s := d.find("summary")[0].words(); s != "All 4, line by line" || len(d.find("li")) != len(o.Defaults) {
				t.Errorf("%q opens %d lines", s, len(d.find("li")))
			}
			return
		}
	}
	t.Error("what was taken is not in a fold")
}

func TestEveryStoreHasADrawing(t *testing.T) {
	o := fixture()
	o.Stores = append(append(o.Stores, o.Stores...), o.Stores...)
	h, err := New(fixtureSource(o), Options{})
	must(t, err)
	seen := 0
	for path := "/stores"; path != ""; {
		page := parsePage(t, get(t, h, "GET", path).Body.String())
		seen += len(page.find("svg.fan"))
		path = ""
		for _, a := range page.find("a.way") {
			if a.text == "More stores" {
				path = a.attrs["href"]
			}
		}
	}
	if seen != len(o.Stores) {
		t.Errorf("%d drawings for %d stores", seen, len(o.Stores))
	}
}

func TestPagesAreSmall(t *testing.T) {
	h := newSite(t, Options{Rain: fixtureRain})
	for _, path := range []string{"/", "/stores"} {
		n := get(t, h, "GET", path).Body.Len()
		t.Logf("%s: %d bytes", path, n)
		if n >= mostBytes {
			t.Errorf("%s has %d bytes, want under %d", path, n, mostBytes)
		}
	}
}

// TestManyNeedsAndCropsStaySmall has about twice the needs, stores and crops of a usual description.
func TestManyNeedsAndCropsStaySmall(t *testing.T) {
	o := fixture()
	for _, n := range o.Needs[3:16] {
		n.Main = false
		o.Needs = append(o.Needs, n)
	}
	o.Crops = append(o.Crops, o.Crops...)
	o.Stores = append(o.Stores, o.Stores...)
	h, err := New(fixtureSource(o), Options{Rain: fixtureRain})
	must(t, err)
	for _, path := range []string{"/", "/stores", "/stores?from=11"} {
		if n := get(t, h, "GET", path).Body.Len(); n >= mostBytes {
			t.Errorf("%s has %d bytes, want under %d", path, n, mostBytes)
		}
	}
}

func TestIDsAreUniqueAndLabelsMeetThem(t *testing.T) {
	h := newSite(t, Options{Rain: fixtureRain})
	for _, path := range []string{"/", "/stores"} {
		page := parsePage(t, get(t, h, "GET", path).Body.String())
		ids := map[string]bool{}
		for _, e := range page.find("") {
			if id := e.attrs["id"]; id != "" && ids[id] {
				t.Errorf("%s: id %s stands twice", path, id)
			} else {
				ids[id] = true
			}
		}
		for _, e := range page.find("") {
			refs := strings.Fields(e.attrs["aria-labelledby"])
			if e.tag == "use" {
				refs = append(refs, strings.TrimPrefix(e.attrs["href"], "#"))
			}
			for _, id := range refs {
				if !ids[id] {
					t.Errorf("%s: <%s> points at %q, which is not there", path, e.tag, id)
				}
			}
		}
	}
}

func TestHostileNames(t *testing.T) {
	const evil = `"><script>alert(1)</script><svg onload='x'>&{{.}}`
	o := fixture()
	o.Stead, o.Verdict = evil, engine.Verdict{Lead: evil, Rest: evil, Why: evil}
	o.Weather, o.Defaults, o.Cautions = []string{evil}, []string{evil}, []string{evil}
	for i := range o.Needs {
		n := &o.Needs[i]
		n.Name, n.Group, n.Note, n.Cause = evil, evil, evil, evil
	}
	for i := range o.Stores {
		s := &o.Stores[i]
		s.ID, s.Name, s.Group, s.Unit, s.Said = evil, evil, evil, evil, evil
	}
	for i := range o.Crops {
		o.Crops[i].Name, o.Crops[i].Cause = evil, evil
	}
	o.Loops[0].Material, o.Loops[1].Unit = evil, evil
	o.Loops[2].Nodes = append([]string{evil}, o.Loops[2].Nodes[1:]...)
	h, err := New(fixtureSource(o), Options{Rain: fixtureRain})
	must(t, err)
	for _, path := range []string{"/", "/stores"} {
		page := parsePage(t, get(t, h, "GET", path).Body.String())
		if n := len(page.find("script")); n > 0 {
			t.Errorf("%s: %d scripts came in", path, n)
		}
		for _, e := range page.find("") {
			if _, ok := e.attrs["onload"]; ok {
				t.Errorf("%s: <%s> took a handler", path, e.tag)
			}
		}
		if !strings.Contains(page.words(), evil) {
			t.Errorf("%s: the name is not shown as it was written", path)
		}
	}
}

func TestThinOutlook(t *testing.T) {
	for name, o := range map[string]*engine.Outlook{
		"empty":      {Stead: "Bare"},
		"one day":    {Days: 1, Needs: []engine.NeedOutlook{{Name: "Drinking", Known: true, Main: true}}},
		"no weeks":   {Days: 30, Stores: []engine.StoreOutlook{{Name: "Tank", Weeks: nil}}, Crops: []engine.CropOutlook{{Name: "Kale"}}},
		"one member": {Days: 7, Members: 1, Needs: []engine.NeedOutlook{{Known: true, Main: true, Covered: []float64{1}, WorstWeek: 9}}},
		"bad loop":   {Days: 7, Loops: []engine.LoopOutlook{{Material: "water", Nodes: []string{"house"}, Flows: []engine.LoopFlow{{From: -1, To: 7, Amount: 2}}}}},
	} {
		h, err := New(fixtureSource(o), Options{})
		must(t, err)
		for _, path := range []string{"/", "/stores"} {
			if w := get(t, h, "GET", path); w.Code != 200 {
				t.Errorf("%s %s: status %d: %s", name, path, w.Code, w.Body)
			} else {
				parsePage(t, w.Body.String())
			}
		}
	}
}

func TestLongHorizonsFit(t *testing.T) {
	o := fixture()
	o.Days = 730
	h, err := New(fixtureSource(o), Options{})
	must(t, err)
	page := parsePage(t, get(t, h, "GET", "/").Body.String())
	axis := page.find("#axis")
	if len(axis) != 1 || len(axis[0].find("text")) > 32 {
		t.Errorf("the axis of two years crowds its months")
	}
}

func TestWaiting(t *testing.T) {
	state, failure := Progress{Done: 4, Total: 10}, error(nil)
	h, err := New(func(context.Context) (*engine.Outlook, Progress) { state.Err = failure; return nil, state }, Options{})
	must(t, err)
	w := get(t, h, "GET", "/")
	page := parsePage(t, w.Body.String())
	if w.Code != 503 || !strings.Contains(page.find("h1")[0].words(), "The first reckoning is 4/10 done") {
		t.Errorf("status %d, sentence %q", w.Code, page.find("h1")[0].words())
	}
	if again := page.find("#again"); len(again) != 1 || len(again[0].find("a.button")) != 1 || again[0].attrs["data-every"] != "10" || w.Header().Get("Evenstead-Waits") == "" {
		t.Error("the waiting page offers no look")
	}
	if w := get(t, h, "GET", "/outlook.json"); w.Code != 503 || !strings.Contains(w.Body.String(), `"done": 4`) {
		t.Errorf("the data say %d %s", w.Code, w.Body)
	}
	failure = errors.New("tank group \"barn\" holds nothing")
	if w := get(t, h, "GET", "/"); w.Code != 500 || !strings.Contains(parsePage(t, w.Body.String()).words(), failure.Error()) {
		t.Errorf("a stopped reckoning: status %d", w.Code)
	}
}

func TestNewReckoningUnderWay(t *testing.T) {
	h, err := New(func(context.Context) (*engine.Outlook, Progress) { return fixture(), Progress{Done: 400, Total: 1000} }, Options{})
	must(t, err)
	if s := parsePage(t, get(t, h, "GET", "/").Body.String()).find("p.rests")[0].words(); !strings.Contains(s, "a new one is 4/10 done") {
		t.Errorf("the page says %q", s)
	}
}

func TestJSONIsTheOutlook(t *testing.T) {
	w := get(t, newSite(t, Options{Units: unit.US}), "GET", "/outlook.json")
	var got engine.Outlook
	must(t, json.Unmarshal(w.Body.Bytes(), &got))
	if got.Stores[0].Now != 10500 || len(got.Needs) != len(fixture().Needs) {
		t.Errorf("the data differ from the outlook: now %g", got.Stores[0].Now)
	}
}

func TestUSUnits(t *testing.T) {
	text := parsePage(t, get(t, newSite(t, Options{Units: unit.US}), "GET", "/").Body.String()).words()
	for _, want := range []string{"2,774 of 8,982\u00a0gal", "129\u00a0ft²", "lb as carried home"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

func TestOnlyScreensThatExistAreLinked(t *testing.T) {
	h := newSite(t, Options{})
	for _, a := range parsePage(t, get(t, h, "GET", "/").Body.String()).find("a") {
		href := a.attrs["href"]
		if !strings.HasPrefix(href, "#") && get(t, h, "GET", href).Code != 200 {
			t.Errorf("%s leads nowhere", href)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	if _, err := New(nil, Options{}); err == nil {
		t.Error("no source, yet no error")
	}
	if _, err := New(fixtureSource(nil), Options{Lang: "xx"}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("an unknown language gives %v", err)
	}
}

// TestEveryWordIsThere reads the templates and the code for keys and looks each up.
func TestEveryWordIsThere(t *testing.T) {
	w, err := readWords("")
	must(t, err)
	key := regexp.MustCompile(`(?:\{\{-? ?(?:if |with )?t |\(t |say\()"([a-z.]+)"`)
	names, err := fs.Glob(files, "templates/*.html")
	must(t, err)
	found := 0
	for _, name := range names {
		b, err := files.ReadFile(name)
		must(t, err)
		for _, m := range key.FindAllStringSubmatch(string(b), -1) {
			found++
			if _, ok := w[m[1]]; !ok {
				t.Errorf("%s: no words for %s", name, m[1])
			}
		}
	}
	if found < 50 {
		t.Errorf("only %d keys were found in the templates", found)
	}
	unsaid := regexp.MustCompile(`\b(?:` + strings.Join(prefixes(w), "|") + `)\.[a-z]+\b`)
	for _, path := range []string{"/", "/stores", "/nowhere"} {
		text := parsePage(t, get(t, newSite(t, Options{Rain: fixtureRain}), "GET", path).Body.String()).words()
		if m := unsaid.FindString(text); m != "" || strings.Contains(text, "%!") {
			t.Errorf("%s shows the key %q in place of words", path, m)
		}
	}
}

// prefixes are the first parts of all keys.
func prefixes(w words) []string {
	seen, list := map[string]bool{}, []string{}
	for k := range w {
		p, _, ok := strings.Cut(k, ".")
		if ok && !seen[p] {
			seen[p] = true
			list = append(list, p)
		}
	}
	return list
}
