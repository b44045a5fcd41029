package web

import (
	"context"
	"encoding/csv"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"evenstead/demo"
	"evenstead/unit"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// lately is a week of the invented book: what the pages of standing show.
const lately = `dipped barn at 9000 L
counted potatoes 18 kg
counted wood 380 kg 3 days ago
rain 14 mm 4 days ago
rain 6 mm 12 days ago
`

// deskPage asks a desk's site for a page that must be there.
func deskPage(t *testing.T, h http.Handler, path string) string {
	t.Helper()
	w := get(t, h, "GET", path)
	if w.Code != http.StatusOK {
		t.Fatalf("%s: status %d: %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

// post sends a form as a page of our own does.
func post(t testing.TB, h http.Handler, path string, form url.Values) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestStoresAsTheyStand(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	write(t, d, lately)
	page := deskPage(t, deskSite(t, d), "/stores")
	root := parsePage(t, page)
	text := root.words()
	for _, want := range []string{"Barn", "9,000 of 34,000" + nbsp + "L", "Dipped today", "less than reckoned", "eat first", "Potato", "18" + nbsp + "kg, banked store", "banked store",
		"Drum 1 stays shut until", "Drum 2", "Cover material", "Gas in the bag", "Wood", "Urine in cans", "Room left", "act within"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := len(root.find("h1")); n != 1 {
		t.Errorf("%d h1", n)
	}
	if n := len(root.find("li.lot")); n != lotsDrawn {
		t.Errorf("%d lots are drawn, want %d", n, lotsDrawn)
	}
	if n := len(root.find("svg.tank")); n != 2 {
		t.Errorf("%d groups of tanks are drawn, want 2", n)
	}
}

// TestLotsStandSoonestFirst: the dates at the right do not go back.
func TestLotsStandSoonestFirst(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	var st *standing
	s := deskInside(t, d)
	s.withStanding(httptest.NewRecorder(), httptest.NewRequest("GET", "/stores", nil), func(x *standing) { st = x })
	for i := 1; i < len(st.now.Lots); i++ {
		if a, b := st.now.Lots[i-1].Quarter, st.now.Lots[i].Quarter; b != 0 && (a == 0 || a > b) {
			t.Errorf("%s goes by %s and stands before %s, %s", st.now.Lots[i-1].Name, a, st.now.Lots[i].Name, b)
		}
	}
}

// deskInside is the site behind the handler.
func deskInside(t *testing.T, d *Desk) *site {
	t.Helper()
	w, err := readWords("")
	must(t, err)
	a, err := readAssets()
	must(t, err)
	s := &site{src: d.source, desk: d, drafts: newDrafts(), words: w, assets: a}
	s.opt.Units = d.opt.Units
	s.pages, err = s.parse()
	must(t, err)
	return s
}

func TestDipAndCountAreWritten(t *testing.T) {
	for _, c := range []struct{ path, what, amount, who, says, shows string }{
		{"/stores/dip", "barn", "9000 L", "Rook", "by Rook", "9,000 of 34,000" + nbsp + "L"},
		{"/stores/dip", "cabin", "60 %", "", "Written:", "2,400 of 4,000" + nbsp + "L"},
		{"/stores/dip", "barn", "8,000", "", "8,000" + nbsp + "L", "8,000 of 34,000" + nbsp + "L"},
		{"/stores/count", "potato|fresh|banked store", "18", "Sorrel", "counted 18 kg of fresh potato in banked store", "18" + nbsp + "kg, banked store"},
		{"/stores/count", "apple|dried|dry room", "2 lb", "", "dried", "0.91" + nbsp + "kg"},
		{"/stores/count", "fuel|wood", "300 kg", "", "wood", "300" + nbsp + "kg"},
	} {
		d := deskOf(t, demo.Quernfold())
		_, page := walk(t, deskSite(t, d), c.path, url.Values{"what": {c.what}, "amount": {c.amount}, "who": {c.who}})
		text := strings.ReplaceAll(page.words(), nbsp, " ")
		for _, want := range []string{c.says, c.shows} {
			if !strings.Contains(text, strings.ReplaceAll(want, nbsp, " ")) {
				t.Errorf("%s %s %s: the page lacks %q", c.path, c.what, c.amount, want)
			}
		}
		if all, err := d.Home().All(t.Context()); err != nil || len(all) != 1 {
			t.Errorf("%d entries, %v", len(all), err)
		}
	}
}

// TestWhatCannotBeWritten stays in the form with the reason beside it.
func TestWhatCannotBeWritten(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	for _, c := range []struct{ path, what, amount, who, says string }{
		{"/stores/dip", "barn", "275 gsl", "", "gsl"},
		{"/stores/dip", "barn", "90000 L", "", "cannot hold"},
		{"/stores/dip", "barn", "-3 L", "", ""},
		{"/stores/dip", "nowhere", "3 L", "", "No tank of this name"},
		{"/stores/dip", "barn", "", "", ""},
		{"/stores/dip", "barn", "900 L", "Robin", "Robin"},
		{"/stores/count", "potato|fresh|banked store", "many", "", "many"},
		{"/stores/count", "potato|fresh|attic", "3 kg", "", "attic"},
		{"/stores/count", "gold", "3 kg", "", "No such food"},
		{"/stores/count", "gold|fresh|banked store", "3 kg", "", "gold"},
	} {
		_, page := walk(t, h, c.path, url.Values{"what": {c.what}, "amount": {c.amount}, "who": {c.who}})
		wrong := page.find("p.wrong")
		if len(wrong) != 1 || !strings.Contains(wrong[0].words(), c.says) {
			t.Errorf("%s %s %q: %d faults told, want one with %q", c.path, c.what, c.amount, len(wrong), c.says)
			continue
		}
		kept := false
		for _, in := range page.find("input") {
			kept = kept || in.attrs["value"] == c.amount && in.attrs["aria-invalid"] == "true"
		}
		if !kept {
			t.Errorf("%s %q is not kept in its field", c.path, c.amount)
		}
	}
	if all, err := d.Home().All(t.Context()); err != nil || len(all) != 0 {
		t.Errorf("%d entries after refusals, %v", len(all), err)
	}
}

func TestForeignFormsAreRefused(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	r := httptest.NewRequest("POST", "/stores/dip", strings.NewReader("what=barn&amount=1+L"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	if w.Code != http.StatusForbidden {
		t.Errorf("status %d", w.Code)
	}
	large := post(t, h, "/stores/dip", url.Values{"amount": {strings.Repeat("9", mostForm+1)}})
	if large.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("too large a form: status %d", large.Code)
	}
}

// steads are descriptions that the pages of standing must bear.
func steads() map[string]string {
	quern := string(demo.Quernfold())
	bare := "place.latitude = 50\npeople = 1\n" + normalsText(quern)
	return map[string]string{"demo": quern, "four lines": string(demo.FourLines()) + normalsText(quern), "bare": bare,
		"south": strings.Replace(quern, `"40.1 N"`, `"40.1 S"`, 1), "hostile": hostileStead(quern)}
}

// normalsText is the weather of a description, for those that have none.
func normalsText(text string) string {
	at := strings.Index(text, "[place.normals]")
	end := strings.Index(text[at+2:], "\n[")
	return "\n" + text[at:at+2+end] + "\n"
}

// hostileStead has names that must not leave their place.
func hostileStead(text string) string {
	return strings.NewReplacer(`"barn"`, `"<b>\"barn'&"`, `"banked store"`, `"=store|<i>"`, `"B1"`, `"<script>"`, `"cistern"`, `"</svg>"`).Replace(text)
}

// TestStandingOfAnyStead: the pages are well formed, small and said in words.
func TestStandingOfAnyStead(t *testing.T) {
	for name, text := range steads() {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			t.Run(fmt.Sprintf("%s-%d", name, sys), func(t *testing.T) {
				d := deskOf(t, []byte(text))
				d.opt.Units = sys
				h := deskSite(t, d)
				for _, path := range []string{"/stores", "/ground"} {
					page := deskPage(t, h, path)
					if len(page) > mostBytes {
						t.Errorf("%s is %d bytes", path, len(page))
					}
					root := parsePage(t, page)
					soundPage(t, root, path)
				}
				for _, path := range []string{"/stores.csv", "/ground.csv"} {
					table(t, deskPage(t, h, path))
				}
			})
		}
	}
}

var leftKey = regexp.MustCompile(`(^|[\s(])[a-z]+\.[a-z]+($|[\s)])|%!`)

// soundPage checks ids, labels, words and tables of a page.
func soundPage(t *testing.T, root *element, path string) {
	t.Helper()
	ids := map[string]bool{}
	var walk func(e *element)
	walk = func(e *element) {
		if id := e.attrs["id"]; id != "" {
			if ids[id] {
				t.Errorf("%s: id %q is there twice", path, id)
			}
			ids[id] = true
		}
		if e.attrs["style"] != "" || e.tag == "script" && e.attrs["src"] == "" || e.tag == "i" {
			t.Errorf("%s: inline style or foreign element %s", path, e.tag)
		}
		if m := leftKey.FindString(e.text); m != "" && e.tag != "style" {
			t.Errorf("%s: %s says %q", path, e.tag, strings.TrimSpace(e.text))
		}
		for _, k := range e.kids {
			walk(k)
		}
	}
	walk(root)
	for _, l := range root.find("label") {
		if !ids[l.attrs["for"]] {
			t.Errorf("%s: label %q meets no field", path, l.words())
		}
	}
	if n := len(root.find("h1")); n != 1 {
		t.Errorf("%s: %d h1", path, n)
	}
}

// table reads a CSV: every row as wide as its head, no cell a formula.
func table(t *testing.T, text string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	must(t, err)
	for _, row := range rows {
		for _, cell := range row {
			if plainCell(cell) != cell {
				t.Errorf("cell %q may be taken for a formula", cell)
			}
		}
	}
	return rows
}

func TestStoresCSV(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	write(t, d, lately)
	rows := table(t, deskPage(t, deskSite(t, d), "/stores.csv"))
	got := map[string][]string{}
	for _, r := range rows[1:] {
		got[r[0]+"/"+r[1]+"/"+r[2]] = r
	}
	if r := got["tanks/barn/"]; r == nil || r[4] != "9000" || r[5] != "L" || r[8] != "2026-11-25" || r[9] != "dipped" {
		t.Errorf("barn: %v", r)
	}
	if r := got["food/potato/fresh"]; r == nil || r[4] != "18" || r[9] != "counted" || r[10] == "" || r[12] == "" {
		t.Errorf("potatoes: %v", r)
	}
	if r := got["drum/1/"]; r == nil || r[13] == "" {
		t.Errorf("drum 1: %v", r)
	}
}

// TestStandingInBrowser looks at the pages of standing as TestInBrowser does.
func TestStandingInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	d := deskOf(t, demo.Quernfold())
	write(t, d, lately)
	settled(t, d)
	srv := httptest.NewServer(deskSite(t, d))
	defer srv.Close()
	for _, page := range []string{"stores", "ground"} {
		for _, theme := range []string{"light", "dark"} {
			for _, width := range []int64{320, 390, 1280} {
				if width == 320 && theme == "dark" {
					continue
				}
				name := fmt.Sprintf("%s-desk-%d-%s", page, width, theme)
				t.Run(name, func(t *testing.T) {
					tab := open(t, ctx, srv.URL+"/"+page, width, theme)
					quiet(t, tab, "/"+page)
					noSideways(t, tab)
					drawn(t, tab)
					targets(t, tab)
					controls(t, tab)
					shoot(t, tab, name)
					axe(t, tab)
				})
			}
		}
	}
}

// TestDipAndCountInBrowser walks the two forms with script off: a fault stays
// beside its field, then the mended line is written.
func TestDipAndCountInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	d := deskOf(t, demo.Quernfold())
	srv := httptest.NewServer(deskSite(t, d))
	defer srv.Close()
	for _, c := range []struct{ field, wrong, right, says string }{
		{"#dipa", "90000 L", "9000 L", "dipped 9,000 L in barn"},
		{"#cnta", "many", "12 kg", "counted 12 kg of"},
	} {
		tab := open(t, ctx, srv.URL+"/stores", 390, "light")
		fill := func(text, then string) {
			must(t, chromedp.Do(tab, chromedp.SetValue(c.field, text), chromedp.Submit(c.field), chromedp.WaitVisible(then)))
		}
		fill(c.wrong, c.field+"[aria-invalid]")
		if kept := ask[string](t, tab, `document.querySelector("`+c.field+`").value`); kept != c.wrong {
			t.Errorf("%s keeps %q, %q was typed", c.field, kept, c.wrong)
		}
		axe(t, tab)
		fill(c.right, "p.wrote")
		if said := ask[string](t, tab, `document.querySelector("p.wrote").textContent`); !strings.Contains(strings.ReplaceAll(said, nbsp, " "), c.says) {
			t.Errorf("%s: the page says %q", c.field, said)
		}
	}
	if all, err := d.Home().All(t.Context()); err != nil || len(all) != 2 {
		t.Errorf("%d entries, %v", len(all), err)
	}
}

// TestStandingPrintsBlack: no hue on paper, no form.
func TestStandingPrintsBlack(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	srv := httptest.NewServer(deskSite(t, deskOf(t, demo.Quernfold())))
	defer srv.Close()
	for _, path := range []string{"/stores", "/ground"} {
		tab := open(t, ctx, srv.URL+path, 794, "dark")
		must(t, chromedp.Do(tab, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
			_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			return err
		})))
		hues := ask[[]string](t, tab, `[...new Set([...document.querySelectorAll("main *")].filter(e => e.getClientRects().length).flatMap(e => {
			const s = getComputedStyle(e); return [s.color, s.fill, s.stroke];
		}).filter(c => /^rgb/.test(c)).filter(c => { const [r, g, b] = c.match(/\d+/g); return r !== g || g !== b; }))]`)
		if len(hues) > 0 {
			t.Errorf("%s on paper shows %v", path, hues)
		}
		if n := ask[int](t, tab, `[...document.querySelectorAll("form")].filter(f => f.getClientRects().length).length`); n > 0 {
			t.Errorf("%s prints %d forms", path, n)
		}
		shoot(t, tab, strings.TrimPrefix(path, "/")+"-print-794")
	}
}

func BenchmarkShelves(b *testing.B) {
	d := deskOf(b, demo.Quernfold())
	h := deskSite(b, d)
	for b.Loop() {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest("GET", "/stores", nil))
		if w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
