package web

import (
	"encoding/csv"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/lever"
	"evenstead/stead"
	"evenstead/unit"
)

// tried asks for a page until what it wants tried is.
func tried(t *testing.T, h http.Handler, path string) string {
	t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		page := get(t, h, "GET", path).Body.String()
		if !strings.Contains(page, `id="again"`) {
			return page
		}
	}
	t.Fatalf("%s was never tried", path)
	return ""
}

// lived is a desk in February, with dips and counts in its book, and its page.
func lived(t *testing.T, sys unit.System) (*Desk, http.Handler) {
	t.Helper()
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{Members: 12, Today: day.Of(2027, time.February, 10), Units: sys})
	t.Cleanup(d.Close)
	write(t, d, "dipped cistern at 12000 L on 2026-12-10\ndipped cistern at 22000 L on 2027-01-30\ndipped tote 1 at 700 L on 2026-12-20\ncounted potatoes 11 kg on 2027-01-20\nrain 14 mm on 2027-02-08")
	h := deskSite(t, d)
	settled(t, d)
	ranked(t, d)
	return d, h
}

// TestAheadOfALivedStead looks at one stead with a book from all sides.
func TestAheadOfALivedStead(t *testing.T) {
	d, h := lived(t, unit.Metric)
	for _, c := range []struct {
		name string
		look func(*testing.T, *Desk, http.Handler)
	}{
		{"shows what is known", aheadShows}, {"tries a change", triesAChange}, {"numbers are the engine's", triedNumbers},
		{"bad changes keep what was typed", badChanges}, {"tables agree", aheadTablesAgree}, {"in a browser", aheadInBrowser},
	} {
		t.Run(c.name, func(t *testing.T) { c.look(t, d, h) })
	}
}

func aheadShows(t *testing.T, _ *Desk, h http.Handler) {
	body := get(t, h, "GET", "/ahead").Body.String()
	page := parsePage(t, body)
	if n := len(page.find("h1")); n != 1 {
		t.Errorf("%d h1", n)
	}
	if len(body) >= mostBytes {
		t.Errorf("%d bytes", len(body))
	}
	t.Logf("/ahead: %d bytes", len(body))
	rows := page.find("section.levers")[0].find("ol")[0].find("li")
	if len(rows) == 0 || len(rows) > leversShown || !strings.Contains(rows[0].words(), "sunflower oil") || !strings.Contains(rows[0].words(), "→") {
		t.Errorf("%d levers, the first: %q", len(rows), rows[0].words())
	}
	text := page.words()
	for _, want := range []string{"What a look would settle", "Rain caught into barn", "from 2 dips", "No difference that shows", "reckoned that day", "Found against reckoned"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	barn := fanOf(t, page, "Barn water")
	if len(barn.find("path.track")) != 1 || len(barn.find("circle.ring")) != 2 || len(barn.find("line.stem")) != 2 || len(barn.find("circle.ink")) != 2 {
		t.Errorf("the barn's fan: %d tracks, %d rings", len(barn.find("path.track")), len(barn.find("circle.ring")))
	}
	for _, c := range barn.find("circle.ring") {
		if x, err := strconv.ParseFloat(strings.TrimSuffix(c.attrs["cx"], "%"), 64); err != nil || x >= 0 || x < -25 {
			t.Errorf("a dip stands at %s", c.attrs["cx"])
		}
	}
}

func fanOf(t *testing.T, page *element, name string) *element {
	t.Helper()
	for _, a := range page.find("article.store") {
		if strings.Contains(a.find("h3")[0].words(), name) {
			return a
		}
	}
	t.Fatalf("no fan of %s", name)
	return nil
}

func TestFiguresPageHasEveryNeed(t *testing.T) {
	d, h := lived(t, unit.US)
	w := get(t, h, "GET", "/ahead/figures")
	page := parsePage(t, w.Body.String())
	s, err := d.Now(t.Context())
	must(t, err)
	if n := len(page.find("svg.strip")) - 1; n != len(s.Outlook.Needs) || w.Code != 200 {
		t.Errorf("%d strips of %d needs, status %d", n, len(s.Outlook.Needs), w.Code)
	}
	if n := w.Body.Len(); n >= mostBytes {
		t.Errorf("%d bytes", n)
	}
	if !strings.Contains(page.words(), "lb as carried home") {
		t.Error("the harvest is not in pounds")
	}
}

func triesAChange(t *testing.T, d *Desk, h http.Handler) {
	path := "/ahead?" + url.Values{"tank": {"cabin"}, "litres": {"3"}, "use": {"shower"}, "bed": {"10 m2"}, "away": {"7"}, "rain": {"80"}}.Encode()
	page := parsePage(t, tried(t, h, path))
	part := page.find("section.try")[0]
	text := part.words()
	for _, want := range []string{"One more tank of 1,000 L at cabin, 3 L less a person-day for shower, 10 m² more ground", "Rook away for 7 days from 11 Feb", "20 in 100 less rain", "Same 12 years, same luck, these things changed together.", "As it stands", "With the change"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q: %s", want, text)
		}
	}
	if n := len(part.find("svg.ribbon")); n < 3 {
		t.Errorf("%d drawings: an axis and two ribbons a need", n)
	}
	for name, value := range map[string]string{"litres": "3", "bed": "10 m2", "away": "7"} {
		if got := part.find("#try-" + name)[0].attrs["value"]; got != value {
			t.Errorf("%s holds %q", name, got)
		}
	}
	if len(tried(t, h, path)) >= mostBytes {
		t.Error("the page with a change is too large")
	}
	rank := ranked(t, d)
	one := parsePage(t, tried(t, h, "/ahead?"+url.Values{"lever": {rank.Trials[0].ID}}.Encode())).find("section.try")[0].words()
	if !strings.Contains(one, upperFirst(rank.Trials[0].Name)) || !strings.Contains(one, "one thing changed") {
		t.Errorf("the first lever by itself: %s", one)
	}
	if gone := tried(t, h, "/ahead?lever=moon"); !strings.Contains(gone, "No lever &#34;moon&#34; is offered here.") {
		t.Error("a lever that is not there")
	}
}

func triedNumbers(t *testing.T, d *Desk, h http.Handler) {
	page := parsePage(t, tried(t, h, "/ahead?rain=60"))
	a, err := d.try(t.Context(), change{rain: 60})
	must(t, err)
	if !a.done || a.err != nil || a.trial.Relief >= 0 {
		t.Fatalf("%+v", a)
	}
	text := page.find("section.try")[0].words()
	for _, c := range a.trial.Changes {
		want := decimals(c.Before.Weeks, 1) + " → " + decimals(c.After.Weeks, 1)
		if !strings.Contains(text, c.Name) || !strings.Contains(text, want) {
			t.Errorf("%s %s is not told", c.Name, want)
		}
	}
	if !strings.Contains(text, lowerFirst(a.trial.Verdict.Lead)[1:]) {
		t.Errorf("the changed verdict %q is not told", a.trial.Verdict.Lead)
	}
}

func badChanges(t *testing.T, _ *Desk, h http.Handler) {
	w := get(t, h, "GET", "/ahead?"+url.Values{"tank": {"moat"}, "litres": {"3 kg"}, "bed": {"-4"}, "away": {"many"}, "rain": {"x"}}.Encode())
	page := parsePage(t, w.Body.String())
	if w.Code != 422 {
		t.Errorf("status %d", w.Code)
	}
	for name, typed := range map[string]string{"litres": "3 kg", "bed": "-4", "away": "many"} {
		in := page.find("#try-" + name)[0]
		if in.attrs["value"] != typed || in.attrs["aria-invalid"] != "true" || len(page.find("#bad-"+name)) != 1 {
			t.Errorf("%s: %v", name, in.attrs)
		}
		for _, id := range strings.Fields(in.attrs["aria-describedby"]) {
			if len(page.find("#"+id)) != 1 {
				t.Errorf("%s is described by %s, which is not there once", name, id)
			}
		}
	}
}

func TestReadChange(t *testing.T) {
	st, err := stead.Read("demo", demo.Quernfold())
	must(t, err)
	for _, c := range []struct {
		query string
		sys   unit.System
		want  change
		bad   string
	}{
		{"", unit.Metric, change{}, ""},
		{"rain=100&tank=&use=&litres=&bed=&away=", unit.Metric, change{}, ""},
		{"tank=barn", unit.Metric, change{tank: "barn"}, ""},
		{"litres=2&use=shower", unit.Metric, change{litres: 2, use: "shower"}, ""},
		{"litres=1&use=shower", unit.US, change{litres: 3.785411784, use: "shower"}, ""},
		{"litres=1+gal&use=shower", unit.Metric, change{litres: 3.785411784, use: "shower"}, ""},
		{"litres=2", unit.Metric, change{litres: 2}, "use"},
		{"litres=2&use=drinking", unit.Metric, change{litres: 2}, "use"},
		{"litres=900&use=shower", unit.Metric, change{}, "litres"},
		{"bed=100+ft2", unit.Metric, change{bed: 9.290304}, ""},
		{"bed=0", unit.Metric, change{}, ""},
		{"bed=9e99", unit.Metric, change{}, "bed"},
		{"away=14", unit.Metric, change{away: 14}, ""},
		{"away=181", unit.Metric, change{}, "away"},
		{"away=-1", unit.Metric, change{}, "away"},
		{"rain=70", unit.Metric, change{rain: 70}, ""},
		{"rain=201", unit.Metric, change{}, "rain"},
	} {
		q, err := url.ParseQuery(c.query)
		must(t, err)
		got, bad := english(t).readChange(q, st, c.sys)
		if got.litres-c.want.litres > 1e-9 || c.want.litres-got.litres > 1e-9 || got.bed-c.want.bed > 1e-9 || c.want.bed-got.bed > 1e-9 {
			t.Errorf("%s: %+v", c.query, got)
		}
		got.litres, got.bed = c.want.litres, c.want.bed
		if got != c.want || (c.bad != "") != (len(bad) > 0) || c.bad != "" && bad[c.bad] == "" {
			t.Errorf("%s: %+v, faults %v, want %+v, %q", c.query, got, bad, c.want, c.bad)
		}
	}
}

func FuzzReadChange(f *testing.F) {
	for _, s := range []string{"tank=barn&litres=2&use=shower&bed=10&away=3&rain=80", "litres=%31e308", "bed=+1+m2", "away=٣", "lever=use:shower"} {
		f.Add(s)
	}
	st, err := stead.Read("demo", demo.Quernfold())
	if err != nil {
		f.Fatal(err)
	}
	words, err := readWords("")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, query string) {
		q, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			c, bad := english(t).readChange(q, st, sys)
			if !(c.litres >= 0 && c.litres <= 200) || !(c.bed >= 0 && c.bed <= 10000) || c.away < 0 || c.away > 180 || c.rain < 0 || c.rain > 200 {
				t.Errorf("%q: %+v", query, c)
			}
			for _, key := range bad {
				if words[key] == "" {
					t.Errorf("no words for %s", key)
				}
			}
		}
	})
}

// TestAnAddressIsOneChange: what differs has another key, what is the same has one.
func TestAnAddressIsOneChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) change {
			return change{tank: rapid.SampledFrom([]string{"", "barn", "a b"}).Draw(t, name+"tank"), use: rapid.SampledFrom([]string{"", "b", "barn"}).Draw(t, name+"use"),
				litres: rapid.SampledFrom([]float64{0, 1, 2}).Draw(t, name+"l"), away: rapid.IntRange(0, 2).Draw(t, name+"away"), rain: rapid.IntRange(0, 2).Draw(t, name+"rain")}
		}
		a, b := draw("a"), draw("b")
		if (a == b) != (a.key() == b.key()) {
			t.Fatalf("%s\n%s", a.key(), b.key())
		}
	})
}

func TestTriesFollowTheState(t *testing.T) {
	d := fewYears(t)
	first := ranked(t, d)
	if again := ranked(t, d); again != first {
		t.Error("they are tried twice for one state")
	}
	write(t, d, "dipped cistern at 26000 L")
	if rank, _, err := d.Levers(t.Context()); err != nil || rank != nil {
		t.Errorf("of an earlier state: %v %v", rank != nil, err)
	}
	if next := ranked(t, d); next == first {
		t.Error("a note changes nothing")
	}
	for i := range mostAttempts + 5 {
		_, err := d.try(t.Context(), change{away: i + 1})
		must(t, err)
	}
	d.tries.mu.Lock()
	defer d.tries.mu.Unlock()
	if len(d.tries.by) != mostAttempts || len(d.tries.order) != mostAttempts {
		t.Errorf("%d attempts are kept", len(d.tries.by))
	}
}

func TestTriesWithoutWeather(t *testing.T) {
	d := deskOf(t, []byte("place.latitude = 50\npeople = 2\n"))
	if rank, p, err := d.Levers(t.Context()); rank != nil || err != nil || p.Err == nil {
		t.Errorf("%v %+v %v", rank, p, err)
	}
	if a, err := d.try(t.Context(), change{away: 3}); err != nil || !a.done || a.err == nil {
		t.Errorf("%+v %v", a, err)
	}
}

func aheadTablesAgree(t *testing.T, d *Desk, h http.Handler) {
	s, err := d.Now(t.Context())
	must(t, err)
	all := rowsOf(t, get(t, h, "GET", "/ahead.csv"))
	seen := map[string]bool{}
	for _, row := range all[1:] {
		seen[row[0]] = true
	}
	for _, table := range aheadTables {
		rows := rowsOf(t, get(t, h, "GET", "/ahead.csv?table="+table.name))
		if len(rows) < 2 && seen[table.name] || len(rows) >= 2 && !seen[table.name] {
			t.Errorf("%s: %d rows, in the long form %v", table.name, len(rows), seen[table.name])
		}
		for _, row := range rows {
			if len(row) != len(rows[0]) {
				t.Errorf("%s: a row of %d of %d columns", table.name, len(row), len(rows[0]))
			}
		}
	}
	needs := rowsOf(t, get(t, h, "GET", "/ahead.csv?table=needs"))
	if len(needs)-1 != len(s.Outlook.Needs) {
		t.Errorf("%d needs", len(needs)-1)
	}
	stores := rowsOf(t, get(t, h, "GET", "/ahead.csv?table=stores"))
	i := slices.IndexFunc(stores, func(r []string) bool { return r[0] == "tank:barn" })
	if i < 0 || stores[i][6] != si(storeOf(s.Outlook, "tank:barn").Weeks[0].P50) {
		t.Errorf("the barn: %v", stores[i])
	}
	if w := get(t, h, "GET", "/ahead.csv?table=moon"); w.Code != 404 {
		t.Errorf("a table that is not there: %d", w.Code)
	}
}

func storeOf(o *engine.Outlook, id string) *engine.StoreOutlook {
	i := slices.IndexFunc(o.Stores, func(s engine.StoreOutlook) bool { return s.ID == id })
	return &o.Stores[i]
}

func rowsOf(t *testing.T, w *httptest.ResponseRecorder) [][]string {
	t.Helper()
	rows, err := csv.NewReader(w.Body).ReadAll()
	if err != nil || len(rows) == 0 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/csv") {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	return rows
}

// TestTrailStaysLeftOfToday draws made pasts and looks where they come to lie.
func TestTrailStaysLeftOfToday(t *testing.T) {
	v := &view{ruler: ruler{deskToday, 52}, past: &engine.Past{}}
	st := &engine.StoreOutlook{ID: "tank:a", Name: "a water", Unit: "L"}
	tr := engine.Track{ID: "tank:a"}
	for d := deskToday - 200; d <= deskToday+20; d += 7 {
		tr.Days, tr.Levels = append(tr.Days, d), append(tr.Levels, float64(d%9))
	}
	v.past.Tracks = []engine.Track{{ID: "wood"}, tr}
	v.past.Drifts = []engine.Drift{
		{Store: "a water", Unit: "L", Day: deskToday - 10, Reckoned: 5, Found: 40},
		{Store: "a water", Unit: "L", Day: deskToday - 150, Found: 900},
		{Store: "b water", Unit: "L", Day: deskToday - 10, Found: 900},
	}
	got := v.trail(st)
	if len(got.track) != 13 || len(got.found) != 1 || got.highest() != 40 {
		t.Fatalf("%d points, %d looks, %g high", len(got.track), len(got.found), got.highest())
	}
	for _, p := range got.track {
		if p.week > 0 || p.week < -13 {
			t.Errorf("a point at week %g", p.week)
		}
	}
	if none := v.trail(&engine.StoreOutlook{ID: rootZone}); len(none.track) != 0 {
		t.Error("the root zone has a trail")
	}
}

func TestMovedIsToldByWhatMoves(t *testing.T) {
	w, err := readWords("")
	must(t, err)
	f := func(weeks float64, days int, met float64) lever.Figures {
		return lever.Figures{Weeks: weeks, Days: days, Met: met}
	}
	for _, c := range []struct {
		before, after lever.Figures
		want          string
	}{
		{f(9, 100, 0.8), f(4.04, 130, 0.9), "weeks short 9 → 4"},
		{f(9, 100, 0.8), f(9.05, 130, 0.9), "cover 100 days → 130 days"},
		{f(9, 100, 0.8), f(9, 100, 0.9), "met 80 → 90 in 100"},
		{f(9, 100, 0.8), f(9, 100, 0.801), ""},
	} {
		if got := w.moved(&lever.Change{Before: c.before, After: c.after}); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestAheadIsQuick holds the page to its time with a hundred thousand entries in
// the book.
func TestAheadIsQuick(t *testing.T) {
	d := fewYears(t)
	var list []book.Entry
	for i := range 100_000 {
		id, err := book.NewID(deskNoon.Add(time.Duration(i)*time.Millisecond), strings.NewReader(fmt.Sprintf("%010d", i)))
		must(t, err)
		list = append(list, book.Entry{ID: id, Day: deskBegun + day.Day(i%24), Kind: book.Noted, Note: "a note " + strconv.Itoa(i)})
	}
	must(t, d.Home().Store().Add(t.Context(), list))
	d.Changed()
	h := deskSite(t, d)
	settled(t, d)
	ranked(t, d)
	if w := answersIn(t, h, "/ahead", 60*time.Millisecond, nil); w.Code != 200 {
		t.Fatalf("status %d", w.Code)
	}
}

func aheadInBrowser(t *testing.T, _ *Desk, h http.Handler) {
	ctx := browser(t)
	const q = "/ahead?tank=cabin&litres=3&use=shower&rain=80"
	tried(t, h, q)
	srv := httptest.NewServer(h)
	defer srv.Close()
	for _, l := range []struct {
		path  string
		width int64
		theme string
	}{{q, 390, "light"}, {q, 390, "dark"}, {q, 1280, "light"}, {q, 1280, "dark"}, {q, 320, "light"}, {"/ahead/figures", 390, "light"}, {"/ahead/figures", 1280, "dark"}} {
		name := fmt.Sprintf("desk%s-%d-%s", strings.ReplaceAll(strings.SplitN(l.path, "?", 2)[0], "/", "-"), l.width, l.theme)
		t.Run(name, func(t *testing.T) {
			tab := open(t, ctx, srv.URL+l.path, l.width, l.theme)
			quiet(t, tab, l.path)
			noSideways(t, tab)
			drawn(t, tab)
			targets(t, tab)
			small := ask[[]string](t, tab, `[...document.querySelectorAll("main input, main select, main button")].filter(e => {
				const r = e.getBoundingClientRect();
				return r.height > 0 && (r.height < 43.5 || r.width < 44);
			}).map(e => e.outerHTML)`)
			for _, s := range small {
				t.Errorf("too small to press: %s", s)
			}
			shoot(t, tab, name)
			axe(t, tab)
		})
	}
}

func BenchmarkAheadAtADesk(b *testing.B) {
	d := fewYears(b)
	h := deskSite(b, d)
	settled(b, d)
	ranked(b, d)
	r := httptest.NewRequest("GET", "/ahead", nil)
	for b.Loop() {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != 200 {
			b.Fatal(w.Code)
		}
	}
}
