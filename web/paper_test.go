package web

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/paper"
	"evenstead/unit"
)

// sheetPaths are all pages that are made to be printed.
func sheetPaths() []string {
	var out []string
	for _, id := range paper.Sheets() {
		out = append(out, "/paper/"+id)
	}
	return append(out, "/handover", "/openday")
}

// unsaid finds phrases that are not there, and those given too much or too little.
var unsaid = regexp.MustCompile(`\bpaper\.[a-z]+[a-z0-9.-]*|\bcalendar\.(title|lead|rest|here|away|made|what)[a-z.]*|%!|%s|&lt;nil|NaN|Inf\b`)

func soundSheet(t *testing.T, path string, code int, body string) {
	t.Helper()
	if code != http.StatusOK {
		t.Fatalf("%s: %d", path, code)
	}
	if len(body) >= mostBytes {
		t.Errorf("%s: %d bytes", path, len(body))
	}
	page := regexp.MustCompile(`href="[^"]*"`).ReplaceAllString(body, "")
	if bad := unsaid.FindAllString(page, 3); bad != nil {
		t.Errorf("%s says %q", path, bad)
	}
	if n := strings.Count(body, "<h1"); n != 1 {
		t.Errorf("%s has %d first headings", path, n)
	}
}

// TestEverySheetOfEveryStead: full, small, southern and bare steads, in both
// systems of units, with and without an outlook.
func TestEverySheetOfEveryStead(t *testing.T) {
	for name, text := range map[string]string{
		"full": string(demo.Quernfold()), "four lines": string(demo.FourLines()) + bareNormals,
		"south": strings.Replace(string(demo.Quernfold()), `"40.1 N"`, `"40.1 S"`, 1), "bare": "place.latitude = 50\npeople = 1\n" + bareNormals,
	} {
		t.Run(name, func(t *testing.T) {
			d := deskOf(t, []byte(text))
			if name == "full" {
				write(t, d, livedAt)
				settled(t, d)
			}
			for _, u := range map[bool][]unit.System{true: {unit.Metric, unit.US}, false: {unit.US}}[name == "full"] {
				must(t, d.Home().KeepSettings(t.Context(), hearth.Settings{Units: u}))
				d.Changed()
				h := deskSite(t, d)
				for _, path := range append(sheetPaths(), "/paper", "/paper/store/type", "/calendar") {
					w := get(t, h, "GET", path)
					soundSheet(t, path, w.Code, w.Body.String())
				}
			}
		})
	}
}

const bareNormals = `
[[place.normals]]
rain = [50, 40, 50, 45, 55, 50, 45, 50, 50, 60, 60, 55]
wet_days = [11, 9, 10, 9, 9, 8, 8, 8, 8, 10, 11, 11]
tmin = [1, 1, 3, 5, 8, 11, 13, 13, 10, 7, 4, 2]
tmax = [7, 8, 11, 14, 18, 21, 23, 23, 19, 15, 10, 8]
`

// TestSheetSizes: the size follows the units until it is asked for.
func TestSheetSizes(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	is := func(path, class string) {
		t.Helper()
		if body := get(t, h, "GET", path).Body.String(); !strings.Contains(body, `<article class="sheet `+class+`"`) {
			t.Errorf("%s is not for %s", path, class)
		}
	}
	is("/paper/storm", "a4")
	is("/paper/storm?size=letter", "letter")
	is("/paper/storm?size=&quot;a5", "a4")
	must(t, d.Home().KeepSettings(t.Context(), hearth.Settings{Units: unit.US}))
	d.Changed()
	is("/paper/storm", "letter")
	is("/paper/storm?size=a4", "a4")
	if w := get(t, h, "GET", "/paper/nothing"); w.Code != http.StatusNotFound {
		t.Errorf("%d for no sheet", w.Code)
	}
}

// TestWallWeekCanBeFollowed: a stranger finds each piece of the week's work, every
// caution that goes with it, and what is shut.
func TestWallWeekCanBeFollowed(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	snap, err := d.Now(t.Context())
	must(t, err)
	s := &site{desk: d, opt: Options{}}
	s.words, err = readWords("")
	must(t, err)
	s.paper = s.words
	plan, err := s.work(snap, 1)
	must(t, err)
	text := words4(get(t, deskSite(t, d), "GET", "/paper/week").Body.String())
	for i := range plan.Weeks[0].Tasks {
		x := &plan.Weeks[0].Tasks[i]
		if x.Kind == "kitchen" || x.Drop {
			continue
		}
		if !strings.Contains(text, words4(x.Title)) {
			t.Errorf("the wall lacks %q", x.Title)
		}
		if x.Caution != "" && !strings.Contains(text, words4(x.Caution)) {
			t.Errorf("the wall lacks the caution of %q", x.Title)
		}
	}
	for _, want := range []string{"Drum 1", "stays shut until", "Local codes and licensed practice come before"} {
		if !strings.Contains(text, words4(want)) {
			t.Errorf("the wall lacks %q", want)
		}
	}
}

// words4 is a page's words alone, to be looked for: no tags, one blank between.
func words4(page string) string {
	page = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " ")
	page = strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&amp;", "&", "\u00a0", " ").Replace(page)
	return strings.TrimRight(strings.Join(strings.Fields(page), " "), ".")
}

// TestHandoverAnswersTheFirstMonth on its first page: before the first part that
// begins a page stand the four weeks' work and the daily round.
func TestHandoverAnswersTheFirstMonth(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	write(t, d, "made rain shelf from pallets 2026-11-05\nmended freezer cord with a new plug 2026-11-11\nworked 3 h for the landowner 2026-11-12")
	body := get(t, deskSite(t, d), "GET", "/handover").Body.String()
	first, rest, ok := strings.Cut(body, "pbreak")
	if !ok {
		t.Fatal("the hand-over has one page")
	}
	first, rest = words4(first), words4(rest)
	for _, want := range []string{"In the first month:", "Every day", "Hens: feed, water, eggs", "Every week", "Week 1, 25 Nov to 1 Dec", "Before frost", "drum 2"} {
		if !strings.Contains(first, want) {
			t.Errorf("page one lacks %q", want)
		}
	}
	for _, want := range []string{"about 25 years", "Drum 1", "not opened before", "Freezer cord", "mended 11 Nov 2026", "hours a week are agreed", "h are still owed", "Seed to keep", "Winter wheat", "evenstead export", "Wheat"} {
		if !strings.Contains(rest, want) {
			t.Errorf("the hand-over lacks %q", want)
		}
	}
}

// typedIn is the form of the type-in page with its keys in their order.
func typedIn(t *testing.T, d *Desk, h http.Handler, fill map[string][2]string) url.Values {
	t.Helper()
	body := get(t, h, "GET", "/paper/store/type").Body.String()
	form := url.Values{"day": {"2026-11-24"}, "once": {"a"}}
	for i, m := range regexp.MustCompile(`name="key" value="([^"]*)"`).FindAllStringSubmatch(body, -1) {
		form.Add("key", m[1])
		form.Set(fmt.Sprintf("s.%d", i), fill[m[1]][0])
		form.Set(fmt.Sprintf("f.%d", i), fill[m[1]][1])
	}
	if len(form["key"]) < 20 {
		t.Fatalf("%d rows", len(form["key"]))
	}
	return form
}

// TestStoreSheetIsTypedIn: boxes become eaten food, counts are taken as found, in
// one go, once; wrong rows keep what was typed and nothing is written.
func TestStoreSheetIsTypedIn(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	potato, tomato := "potato|fresh|banked store", "tomato|jarred|jar shelf"
	entries := func() []book.Entry {
		t.Helper()
		got, err := d.Home().Entries(t.Context())
		must(t, err)
		return got
	}
	bad := post(t, h, "/paper/store/type", typedIn(t, d, h, map[string][2]string{potato: {"three", ""}, tomato: {"2", "17 jugs"}}))
	page := get(t, h, "GET", bad.Header().Get("Location")).Body.String()
	for _, want := range []string{"2 rows could not be taken", `value="three"`, `value="17 jugs"`, "give a whole number of boxes", `aria-invalid="true"`} {
		if !strings.Contains(page, want) {
			t.Errorf("after a bad form the page lacks %q", want)
		}
	}
	if n := len(entries()); n != 0 {
		t.Fatalf("%d entries of a bad form", n)
	}
	form := typedIn(t, d, h, map[string][2]string{potato: {"3", "28"}, tomato: {"2", ""}})
	done := post(t, h, "/paper/store/type", form)
	if done.Code != http.StatusSeeOther || done.Header().Get("Location") != "/paper/store/type?wrote=3" {
		t.Fatalf("%d %s", done.Code, done.Header().Get("Location"))
	}
	post(t, h, "/paper/store/type", form)
	got := entries()
	if len(got) != 3 {
		t.Fatalf("%d entries, want 3: %v", len(got), got)
	}
	var said []string
	for _, e := range got {
		said = append(said, fmt.Sprintf("%s %s %s %.2f %s", e.Kind, e.Body.What, e.Body.Form, e.Body.Amount, e.Day))
	}
	want := []string{"eaten potato fresh 3.00 2026-11-24", "eaten tomato jarred 1.92 2026-11-24", "counted potato fresh 28.00 2026-11-24"}
	if strings.Join(said, "\n") != strings.Join(want, "\n") {
		t.Errorf("written:\n%s\nwant:\n%s", strings.Join(said, "\n"), strings.Join(want, "\n"))
	}
	if loc := post(t, h, "/paper/store/type", typedIn(t, d, h, nil)).Header().Get("Location"); loc != "/paper/store/type?wrote=0" {
		t.Errorf("an empty form leads to %s", loc)
	}
}

// TestTypedInOrder: the rows of the page stand in the order of the sheet.
func TestTypedInOrder(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	names := func(path, pattern string) []string {
		var out []string
		for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(get(t, h, "GET", path).Body.String(), -1) {
			out = append(out, strings.TrimSpace(m[1]))
		}
		return out
	}
	sheet := names("/paper/store", `<div class="what">([^<]*) <small>`)
	typed := names("/paper/store/type", `<p id="n\d+"><b>([^<]*)</b>`)
	if len(sheet) < 20 || strings.Join(sheet, "\n") != strings.Join(typed, "\n") {
		t.Errorf("sheet %q\npage %q", sheet, typed)
	}
}

// TestLabelsLead: each code holds an address that opens the page of what it is on.
func TestLabelsLead(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	body := get(t, h, "GET", "/paper/labels").Body.String()
	codes := regexp.MustCompile(`(?s)<svg class="qr".*?</svg>`).FindAllString(body, -1)
	if len(codes) < 30 {
		t.Fatalf("%d labels", len(codes))
	}
	for i, code := range codes {
		if i > 8 && i%9 != 0 {
			continue // reading a code takes time
		}
		way := readQR(t, strings.ReplaceAll(code, "&#39;", "'"))
		path, ok := strings.CutPrefix(way, "http://example.com")
		if !ok {
			t.Fatalf("a code says %q", way)
		}
		if w := get(t, h, "GET", path); w.Code != http.StatusOK {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	for _, path := range []string{"/lot/XXXX", "/drum/99", "/drum/x", "/drum/-1"} {
		if w := get(t, h, "GET", path); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}

// TestPaperStandsAlone: a written sheet asks for nothing outside itself.
func TestPaperStandsAlone(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	snap, err := d.Now(t.Context())
	must(t, err)
	p, err := NewPaper(PaperOptions{Letter: true, Address: "http://192.168.1.20:8040/"})
	must(t, err)
	p.site.desk = d
	f, err := p.site.facts(snap)
	must(t, err)
	for _, id := range paper.Sheets() {
		s, err := paper.Make(id, f)
		must(t, err)
		var b bytes.Buffer
		must(t, p.Write(&b, s))
		text := b.String()
		if bad := regexp.MustCompile(`src=|href="[^#]|url\(|@import|<script`).FindString(text); bad != "" {
			t.Errorf("%s asks for more: %s", id, bad)
		}
		for _, m := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(text, -1) {
			if !strings.Contains(text, `id="`+m[1]+`"`) {
				t.Errorf("%s leans on a drawing that it lacks: %s", id, m[1])
			}
		}
		if !strings.Contains(text, `class="sheet letter"`) || !strings.Contains(text, "@page letter") {
			t.Errorf("%s is not for Letter", id)
		}
	}
	if _, err := paper.Make("nothing", f); err == nil {
		t.Error("a sheet of no name was made")
	}
}

// planted is a description full of words and figures that are nobody else's.
func planted(t *testing.T) []byte {
	t.Helper()
	text := string(demo.Quernfold())
	for _, x := range [][2]string{
		{`name = "Quernfold"`, `name = "Zqstead"`}, {`"Sorrel"`, `"Zqsorrel"`}, {`"Rook"`, `"Zqrook"`}, {`"the landowner"`, `"Zqowner"`}, {`"cistern"`, `"Zqcistern"`},
		{`"barn"`, `"Zqbarn"`}, {`"tote 1"`, `"Zqtote"`}, {`"banked store"`, `"Zqshelf"`}, {`"chest"`, `"Zqchest"`}, {`"F1"`, `"Zqbed"`}, {`"canteen"`, `"Zqtrip"`},
		{`"40.1 N"`, `"41.9137 N"`}, {`"21.0 W"`, `"20.7713 W"`}, {`mass = "61 kg"`, `mass = "63.77 kg"`},
	} {
		if !strings.Contains(text, x[0]) {
			t.Fatalf("the description has no %s", x[0])
		}
		text = strings.ReplaceAll(text, x[0], x[1])
	}
	return []byte(text + "\n[[rule]]\nkind = \"drum_cure\"\nvalue = 3\ntext = \"Zqrule of the lease\"\nsource = \"Zqlease\"\n\n[[food]]\nname = \"Zqfood\"\nlike = \"apple\"\n")
}

const plantedNotes = `note: Zqnote, the knee hurts and the doctor comes on Friday
Zqsorrel: bought salt for 38.91 coins
Zqsorrel weighed 63.77 kg
Zqrook ill 2026-11-20
worked 7.77 h for Zqowner 2026-11-21
gave 2 kg kale to Zqneighbour 2026-11-22
made Zqshelves from Zqpallets 2026-11-10
picked 2 kg kale 2026-11-12 (Zqremark)`

// private are what no visitor may read: the planted words and figures.
var private = regexp.MustCompile(`(?i)zq\w*|41\.91|20\.77|63\.77|38\.91|7\.77|knee|doctor|coins`)

// TestOpenDayHoldsNothingPrivate, neither the page nor the folder, of a book full
// of planted private words.
func TestOpenDayHoldsNothingPrivate(t *testing.T) {
	d := deskOf(t, planted(t))
	c, err := d.Home().Context(t.Context(), d.Today(), "Zqsorrel", unit.Metric)
	must(t, err)
	kept := 0
	for _, line := range strings.Split(plantedNotes, "\n") {
		if got := book.Read(line, c); got[0].Err == nil {
			_, err := d.Home().Add(t.Context(), got)
			must(t, err)
			kept++
		}
	}
	if kept < 6 {
		t.Fatalf("only %d of the notes were taken", kept)
	}
	d.Changed()
	snap := settled(t, d)
	page := get(t, deskSite(t, d), "GET", "/openday")
	clean := func(name, text string) {
		t.Helper()
		if bad := private.FindAllString(text, 5); bad != nil {
			t.Errorf("%s tells %q", name, bad)
		}
	}
	clean("the page", page.Body.String())
	if n := strings.Count(page.Body.String(), `class="ploop`); n < 3 {
		t.Errorf("%d loops are drawn", n)
	}
	p, err := NewPaper(PaperOptions{})
	must(t, err)
	p.site.desk = d
	f, err := p.site.facts(snap)
	must(t, err)
	files, err := p.OpenDay(f)
	must(t, err)
	if len(files) != 3 {
		t.Errorf("%d files", len(files))
	}
	for name, b := range files {
		clean(name, string(b))
		if bad := regexp.MustCompile(`(src|href)="(/|http)|<script|url\(h`).FindString(string(b)); bad != "" {
			t.Errorf("%s leads out of the folder: %s", name, bad)
		}
		for _, m := range regexp.MustCompile(`href="([^"#]+)"`).FindAllStringSubmatch(string(b), -1) {
			if files[m[1]] == nil {
				t.Errorf("%s leads to %s, which is not there", name, m[1])
			}
		}
	}
	// The other sheets do tell them: the words were planted where they can be read.
	if body := get(t, deskSite(t, d), "GET", "/handover").Body.String(); !strings.Contains(body, "Zqowner") || !strings.Contains(body, "Zqrule") {
		t.Error("the planted words are nowhere")
	}
	if dir := os.Getenv("EVENSTEAD_SHOTS"); dir != "" {
		for name, b := range files {
			must(t, os.WriteFile(dir+"/openday-"+name, b, 0o644))
		}
	}
}
