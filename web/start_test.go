package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"html"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

// starting is a new household's site and the file behind it.
func starting(t testing.TB) (http.Handler, *Desk) {
	t.Helper()
	d := deskOf(t, nil)
	h, err := NewAt(d, Options{Demo: demo.Quernfold()})
	deskMust(t, err)
	return h, d
}

// asked sends a request the way our own pages do.
func asked(h http.Handler, method, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// sent is asked with a file.
func sent(t testing.TB, h http.Handler, path, name string, body []byte, fields url.Values) *httptest.ResponseRecorder {
	t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for k := range fields {
		deskMust(t, m.WriteField(k, fields.Get(k)))
	}
	p, err := m.CreateFormFile("file", name)
	deskMust(t, err)
	_, err = p.Write(body)
	deskMust(t, err)
	deskMust(t, m.Close())
	r := httptest.NewRequest(http.MethodPost, path, &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

var hiddenInput = regexp.MustCompile(`<input type="hidden" name="([^"]+)" value="([^"]*)"/>`)

// carried is the form of a page of the start as a browser would send it on: what
// is hidden in it, without what is typed.
func carried(t testing.TB, page string) url.Values {
	t.Helper()
	form := url.Values{}
	for _, m := range hiddenInput.FindAllStringSubmatch(page[:strings.Index(page, "</form>")], -1) {
		form.Set(m[1], html.UnescapeString(m[2]))
	}
	return form
}

// walkStart answers question after question and returns where the last one leads.
func walkStart(t testing.TB, h http.Handler, answers []url.Values) *httptest.ResponseRecorder {
	t.Helper()
	at := "/start"
	var w *httptest.ResponseRecorder
	for i, a := range answers {
		page := asked(h, "GET", at, nil)
		if page.Code != 200 {
			t.Fatalf("question %d at %s answers %d", i+1, at, page.Code)
		}
		form := carried(t, page.Body.String())
		form.Set("do", "next")
		for k := range a {
			form[k] = a[k]
		}
		w = asked(h, "POST", "/start", form)
		if at = w.Header().Get("Location"); w.Code != http.StatusSeeOther {
			t.Fatalf("question %d answers %d: %s", i+1, w.Code, w.Body)
		}
	}
	return w
}

// wholeStart answers everything.
func wholeStart() []url.Values {
	return []url.Values{
		{"name": {`Fennick "Hollow" \ <b>`}, "units": {"us"}},
		{"lat": {"34.2"}, "ns": {"S"}, "elev": {"460"}},
		{"weather": {"normals"}, "rain": {"4.4 3.8 3.3 2.7 1.8 0.7 0.2 0.3 1.1 3.3 4.6 4.9"}, "wet": {"12 11 11 9 7 3 1 1 4 8 11 12"},
			"low": {"61,60,56,50,44,39,38,39,42,45,50,56"}, "high": {"88; 88; 82; 71; 61; 55; 54; 57; 62; 66; 73; 82"}},
		{"people": {"4"}, "who": {"Ada f 38, Bo m 41, f 9"}},
		{"roof": {"650 ft2"}, "surface": {"tile"}},
		{"tanks": {"3"}, "size": {"275"}, "joined": {"no"}, "full": {"75"}},
		{"beds": {"1/8 acre"}, "crops": {"tomato", "kale", "nonsense"}},
		{"tree.fig": {"2"}, "tree.apple": {"3"}},
		{"lot.oats": {"20 lb"}, "lot.sunflower_oil": {"1.8 kg"}, "lot.potato": {"50"}},
		{"toilet": {"drums"}, "compost": {"yes"}},
		{"cook": {"sun", "wood"}, "wood": {"600 lb"}, "gas": {"20 lb"}},
		{"hours": {"25"}},
	}
}

func TestStartEndsOnNow(t *testing.T) {
	h, d := starting(t)
	if w := walkStart(t, h, wholeStart()); w.Header().Get("Location") != "/" {
		t.Fatalf("the start ends at %s: %s", w.Header().Get("Location"), asked(h, "GET", w.Header().Get("Location"), nil).Body)
	}
	if w := asked(h, "GET", "/", nil); w.Code != 200 || strings.Contains(w.Body.String(), "/start") {
		t.Errorf("Now answers %d after the start", w.Code)
	}
	held, err := d.home.On(t.Context(), deskToday)
	must(t, err)
	st := held.Stead
	if st.Name != `Fennick "Hollow" \ <b>` || st.Place.Latitude != -34.2 || len(st.Tanks) != 3 || len(st.People) != 4 || len(st.Trees) != 2 || len(st.Lots) != 3 {
		t.Errorf("the description:\n%s", held.Text)
	}
	if got := st.Place.Normals[0].TMin[0]; got != 16.1 { // 61 °F
		t.Errorf("January's low is %g °C", got)
	}
	if p := st.People; p[0].Name != "Ada" || p[2].Height != 1.44 || p[2].Hours != 0 || p[1].Hours != 25 || p[3].Age != 35 {
		t.Errorf("people: %+v", p)
	}
	if st.Tanks[0].Overflow != "tank 2" || st.Tanks[2].Level/st.Tanks[2].Holds < 0.749 || len(st.Plantings) != 2 {
		t.Errorf("tanks %+v, plantings %+v", st.Tanks, st.Plantings)
	}
	if !strings.Contains(held.Text, "# ") || !strings.Contains(held.Text, `"275 gal"`) {
		t.Errorf("not what was typed, or no comments:\n%s", held.Text)
	}
	set, err := d.Settings(t.Context())
	if err != nil || set != usualSettings(unit.US) {
		t.Errorf("settings %+v, %v", set, err)
	}
	if s := settled(t, d); s.Outlook == nil {
		t.Errorf("no outlook: %v", s.Progress.Err)
	}
}

func TestEveryPageLeadsToTheStart(t *testing.T) {
	h, _ := starting(t)
	for _, path := range []string{"/", "/ahead", "/stores", "/stores?from=2", "/ground", "/book", "/book/stead", "/book/files", "/settings", "/book/export.csv"} {
		if w := asked(h, "GET", path, nil); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/start" {
			t.Errorf("%s answers %d to %q", path, w.Code, w.Header().Get("Location"))
		}
	}
	h = deskSite(t, deskOf(t, demo.Quernfold()))
	for _, path := range []string{"/start", "/start?q=5&draft=x"} {
		if w := asked(h, "GET", path, nil); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/" {
			t.Errorf("%s of a household that has begun answers %d to %q", path, w.Code, w.Header().Get("Location"))
		}
	}
}

// TestStopEarlyKeepsWhatWasSaid: three answers are enough for a description.
func TestStopEarlyKeepsWhatWasSaid(t *testing.T) {
	for n := 2; n <= 11; n++ {
		h, d := starting(t)
		w := walkStart(t, h, append(wholeStart()[:n:n], url.Values{"do": {"stop"}}))
		if w.Header().Get("Location") != "/" {
			t.Errorf("stopped after %d: %s", n, w.Header().Get("Location"))
			continue
		}
		if _, err := d.Now(t.Context()); err != nil {
			t.Errorf("stopped after %d: %v", n, err)
		}
	}
}

// TestNotSureOfAnything takes what is usual all the way; only the latitude must be
// known.
func TestNotSureOfAnything(t *testing.T) {
	h, d := starting(t)
	var all []url.Values
	for range startQuestions {
		all = append(all, url.Values{"do": {"unsure"}})
	}
	all[1] = url.Values{"lat": {"51"}, "ns": {"N"}}
	if w := walkStart(t, h, all); w.Header().Get("Location") != "/" {
		t.Fatalf("leads to %s", w.Header().Get("Location"))
	}
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Stead.People) != 2 || len(s.Stead.Tanks) != 1 || len(s.Stead.Beds) != 1 || s.Trouble == nil {
		t.Errorf("people %d, tanks %d, beds %d, trouble %v", len(s.Stead.People), len(s.Stead.Tanks), len(s.Stead.Beds), s.Trouble)
	}
}

func TestStartSaysWhatIsWrongBesideTheField(t *testing.T) {
	for _, c := range []struct {
		n     int
		typed url.Values
		says  string
	}{
		{2, url.Values{"lat": {"north"}, "ns": {"N"}}, `id="e-lat"`},
		{2, url.Values{"lat": {"91"}, "ns": {"N"}}, `id="e-lat"`},
		{2, url.Values{"lat": {"34"}, "ns": {"E"}}, `id="e-ns"`},
		{2, url.Values{"lat": {"34"}, "ns": {"N"}, "elev": {"9 km"}}, `id="e-elev"`},
		{3, url.Values{"weather": {"normals"}, "rain": {"1 2 3"}, "wet": {"x"}}, `id="e-wet"`},
		{3, url.Values{"weather": {"normals"}, "rain": {"9 9 9 9 9 9 9 9 9 9 9 9"}, "wet": {"0 1 1 1 1 1 1 1 1 1 1 1"}, "low": {"1 1 1 1 1 1 1 1 1 1 1 1"}, "high": {"9 9 9 9 9 9 9 9 9 9 9 9"}}, `id="e-rain"`},
		{4, url.Values{"people": {"0"}}, `id="e-people"`},
		{4, url.Values{"people": {"1"}, "who": {"Ada 38, Bo 41"}}, `id="e-who"`},
		{4, url.Values{"people": {"2"}, "who": {"Ada 38 41"}}, `id="e-who"`},
		{4, url.Values{"people": {"2"}, "who": {"Ada 38, Ada 41"}}, `id="e-who"`},
		{5, url.Values{"roof": {"3 kg"}, "surface": {"metal"}}, `id="e-roof"`},
		{6, url.Values{"tanks": {"2"}, "joined": {"yes"}, "full": {"50"}}, `id="e-size"`},
		{8, url.Values{"tree.fig": {"1.5"}}, `id="e-tree.fig"`},
	} {
		h, _ := starting(t)
		answers := wholeStart()
		answers[0] = url.Values{"name": {"A"}, "units": {"metric"}}
		answers[2] = url.Values{"weather": {"none"}}
		answers[c.n-1] = c.typed
		answers = answers[:c.n]
		w := walkStart(t, h, answers)
		page := asked(h, "GET", w.Header().Get("Location"), nil).Body.String()
		if !strings.Contains(page, c.says) || !strings.Contains(page, `aria-invalid="true"`) && c.says != `id="e-ns"` {
			t.Errorf("question %d with %v does not say %s", c.n, c.typed, c.says)
		}
		for k := range c.typed {
			if v := c.typed.Get(k); k != "weather" && k != "ns" && !strings.Contains(page, v) {
				t.Errorf("question %d: %q that was typed is gone", c.n, v)
			}
		}
	}
}

// TestStartLosesNothingWithTheDraft: a form sent after the pages were started anew
// still carries all answers.
func TestStartLosesNothingWithTheDraft(t *testing.T) {
	h, d := starting(t)
	w := walkStart(t, h, wholeStart()[:5])
	form := carried(t, asked(h, "GET", w.Header().Get("Location"), nil).Body.String())
	again, err := NewAt(d, Options{})
	must(t, err)
	form.Set("do", "stop")
	if w := asked(again, "POST", "/start", form); w.Header().Get("Location") != "/" {
		t.Errorf("leads to %s", w.Header().Get("Location"))
	}
	h, _ = starting(t)
	if w := asked(h, "GET", "/start?q=6&draft=gone", nil); !strings.Contains(w.Body.String(), "begin again") {
		t.Error("a lost draft is not told")
	}
}

func TestStartIsWrittenOnce(t *testing.T) {
	h, d := starting(t)
	answers := wholeStart()
	w := walkStart(t, h, answers[:11])
	form := carried(t, asked(h, "GET", w.Header().Get("Location"), nil).Body.String())
	form.Set("do", "next")
	form.Set("hours", "20")
	done := make(chan int)
	for range 4 {
		go func() { done <- asked(h, "POST", "/start", form).Code }()
	}
	for range 4 {
		if code := <-done; code != http.StatusSeeOther {
			t.Errorf("answers %d", code)
		}
	}
	if all, err := d.home.Steads(t.Context()); err != nil || len(all) != 1 {
		t.Errorf("%d descriptions, %v", len(all), err)
	}
	if n := strings.Count(exportOf(t, d), `{"stead":`); n != 1 {
		t.Errorf("%d versions were written", n)
	}
}

func exportOf(t testing.TB, d *Desk) string {
	t.Helper()
	var b bytes.Buffer
	deskMust(t, d.home.Store().Export(t.Context(), &b))
	return b.String()
}

func TestStartByDemo(t *testing.T) {
	h, d := starting(t)
	if w := asked(h, "POST", "/start/demo", nil); w.Header().Get("Location") != "/" {
		t.Fatalf("leads to %s", w.Header().Get("Location"))
	}
	held, err := d.home.On(t.Context(), deskToday)
	must(t, err)
	if held.Stead.Name != "Quernfold" || held.Text != string(demo.Quernfold()) {
		t.Error("the demo is not as it was written")
	}
}

// TestDemoFitsAnyYear: whatever the day, the demo's stay holds it and its text is sound.
func TestDemoFitsAnyYear(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		today := day.Of(2015, 1, 1) + day.Day(rapid.IntRange(0, 30*365).Draw(rt, "days"))
		text, from, err := datedFor(demo.Quernfold(), today)
		if err != nil {
			rt.Fatal(err)
		}
		st, err := stead.Read("moved", []byte(text))
		if err != nil || from > today || st.Stay.From != from || st.Stay.To <= today {
			rt.Fatalf("on %s it runs from %s to %s: %v", today, from, st.Stay.To, err)
		}
	})
}

func TestStartByFile(t *testing.T) {
	h, d := starting(t)
	bad := sent(t, h, "/start/file", "bad.toml", []byte("people = 0\nplace.latitude = 95\nbed = [{ area = \"0 m2\" }]\n"), nil)
	page := asked(h, "GET", strings.TrimSuffix(bad.Header().Get("Location"), "#file"), nil).Body.String()
	for _, says := range []string{"Line 1", "Line 2", "Line 3"} {
		if !strings.Contains(strings.ToUpper(page), strings.ToUpper(says)) {
			t.Errorf("a file with three faults does not tell %s", says)
		}
	}
	for name, body := range map[string][]byte{"empty.toml": nil, "big.toml": bytes.Repeat([]byte("# so\n"), 300_000), "cut.jsonl": []byte("{\"evenstead\":1}\n{\"stead\":"), "noise.bin": {0, 1, 2, 0xff}} {
		w := sent(t, h, "/start/file", name, body, nil)
		page := asked(h, "GET", strings.TrimSuffix(w.Header().Get("Location"), "#file"), nil).Body.String()
		if !strings.Contains(page, `id="sfilee"`) {
			t.Errorf("%s is not refused", name)
		}
	}
	if n := len(exportOf(t, d)); n > 40 {
		t.Error("something of a bad file was kept")
	}
	if w := sent(t, h, "/start/file", "my.toml", []byte("place.latitude = 50\npeople = 2\n"), nil); w.Header().Get("Location") != "/" {
		t.Errorf("a sound description leads to %s", w.Header().Get("Location"))
	}
}

func TestStartByExport(t *testing.T) {
	from := deskOf(t, demo.Quernfold())
	write(t, from, "rain 14 mm yesterday")
	h, d := starting(t)
	if w := sent(t, h, "/start/file", "all.jsonl", []byte(exportOf(t, from)), nil); w.Header().Get("Location") != "/" {
		t.Fatalf("leads to %s", w.Header().Get("Location"))
	}
	if exportOf(t, from) != exportOf(t, d) {
		t.Error("what came in is not what went out")
	}
}

func TestStartWithARecord(t *testing.T) {
	h, d := starting(t)
	w := walkStart(t, h, wholeStart()[:2])
	form := carried(t, asked(h, "GET", w.Header().Get("Location"), nil).Body.String())
	var b strings.Builder
	b.WriteString("date,rain_mm,tmin_c,tmax_c\n")
	for d := day.Of(2023, 1, 1); d < day.Of(2026, 1, 1); d++ {
		swing := int(d) * 7 % 11 // as one day differs from the next
		fmt.Fprintf(&b, "%s,%d,%d,%d\n", d, max(0, swing-6)*3, swing, swing+9)
	}
	w = sent(t, h, "/start/weather", "here.csv", []byte(b.String()), form)
	page := asked(h, "GET", w.Header().Get("Location"), nil).Body.String()
	if !strings.Contains(page, "the record that was brought") || !strings.Contains(page, "of rain a year") {
		t.Error("the record is not told of")
	}
	if rec, err := d.home.Record(t.Context()); err != nil || rec == nil || rec.Days() != 3*365+1 {
		t.Errorf("record %v, %v", rec, err)
	}
	if f := carried(t, page); f.Get("lat") != "34.2" {
		t.Errorf("earlier answers are gone: %v", f)
	}
	w = sent(t, h, "/start/weather", "noise.csv", []byte("a,b\n1,2\n"), form)
	if page := asked(h, "GET", w.Header().Get("Location"), nil).Body.String(); !strings.Contains(page, `role="alert"`) {
		t.Error("a file of no weather is not refused")
	}
}

// TestStartTextIsSound: whatever passes the checks makes a description that is read
// and reckoned without fault.
func TestStartTextIsSound(t *testing.T) {
	d := deskOf(t, nil)
	w, err := readWords("")
	must(t, err)
	s := &site{desk: d, words: w, drafts: newDrafts()}
	rapid.Check(t, func(rt *rapid.T) {
		a := url.Values{}
		for i := range startQuestions {
			for j := range startQuestions[i].fields {
				f := &startQuestions[i].fields[j]
				if v := rapid.SampledFrom(possible(f)).Draw(rt, f.name); v != "" {
					a.Set(f.name, v)
				}
			}
		}
		upTo := rapid.IntRange(2, len(startQuestions)).Draw(rt, "answered")
		for i := range upTo {
			q := &startQuestions[i]
			if len(s.faultsIn(q, a)) == 0 {
				continue
			}
			if unsure(q, a); q.key == "place" {
				a.Set("lat", "34.2")
			}
			if faults := s.faultsIn(q, a); len(faults) > 0 {
				rt.Fatalf("what is usual is refused: %v", faults)
			}
		}
		text := s.describe(a, upTo, deskToday, nil)
		st, err := stead.Read("start", []byte(text))
		if err != nil {
			rt.Fatalf("%v\n%s", err, text)
		}
		sown, err := d.home.Sowable(t.Context(), st, deskToday)
		if err != nil {
			rt.Fatal(err)
		}
		if _, err := stead.Read("start", []byte(s.describe(a, upTo, deskToday, sown))); err != nil {
			rt.Fatal(err)
		}
		if s.sentence(a, upTo, sown) == "" {
			rt.Fatal("no sentence")
		}
	})
}

// possible are answers to a field, fair and odd.
func possible(f *startField) []string {
	switch f.form {
	case "choice":
		return append([]string{"", "odd"}, f.keys...)
	case "many":
		return []string{"", "sun", "wood,bottle", "kale,tomato", "x"}
	case "count":
		return []string{"", "0", "1", "3", "20", "1000", "-1", "x"}
	case "amount":
		return []string{"", "0", "12", "40 " + bareUnits[f.kind][0], "7 1/2 " + bareUnits[f.kind][1], "1 " + bareUnits[f.kind][1], "x"}
	case "months":
		return []string{"5 5 5 5 5 5 5 5 5 5 5 5", "14 14 14 14 14 14 14 14 14 14 14 14", "1,2"}
	}
	return []string{"", "34.2", `a "b" \ c`, "é f 3, 77 m", "# x"}
}

func TestWordsOfTheStartAreThere(t *testing.T) {
	h, _ := starting(t)
	at := "/start"
	for i, a := range wholeStart() {
		page := asked(h, "GET", at, nil).Body.String()
		if m := regexp.MustCompile(`>[^<]*(start\.[a-z.]+|%!|%\[)[^<]*<`).FindString(page); m != "" {
			t.Errorf("question %d shows %s", i+1, m)
		}
		if len(page) > 100<<10 {
			t.Errorf("question %d has %d bytes", i+1, len(page))
		}
		form := carried(t, page)
		form.Set("do", "next")
		for k := range a {
			form[k] = a[k]
		}
		at = asked(h, "POST", "/start", form).Header().Get("Location")
	}
}

func TestBombsOfTheStartAreBounded(t *testing.T) {
	h, _ := starting(t)
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := io.CopyN(z, zeros{}, (mostUnpacked+1)<<20)
	must(t, err)
	must(t, z.Close())
	w := sent(t, h, "/start/weather", "bomb.csv.gz", b.Bytes(), url.Values{"name": {"A"}, "lat": {"40"}, "ns": {"N"}})
	if page := asked(h, "GET", w.Header().Get("Location"), nil).Body.String(); !strings.Contains(page, `role="alert"`) {
		t.Error("a bomb is not refused")
	}
}

// zeros are dates without end.
type zeros struct{}

func (zeros) Read(b []byte) (int, error) {
	const line = "2026-01-01,1,2,3\n"
	n := 0
	for n < len(b) {
		n += copy(b[n:], line)
	}
	return n, nil
}

func TestSettingsChangeThePages(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	write(t, d, "Sorrel dipped cistern 8,000 L at 18:30")
	before := asked(h, "GET", "/stores", nil).Body.String()
	form := url.Values{"units": {"us"}, "clock": {"12"}, "week": {"0"}, "language": {"en"}, "risk": {"10"}, "water": {"yes"}}
	if w := asked(h, "POST", "/settings", form); w.Header().Get("Location") != "/settings?kept=1" {
		t.Fatalf("leads to %s", w.Header().Get("Location"))
	}
	after := asked(h, "GET", "/stores", nil).Body.String()
	if strings.Contains(before, nbsp+"gal") || !strings.Contains(after, nbsp+"gal") {
		t.Error("the stores are not in gallons")
	}
	if page := asked(h, "GET", "/book", nil).Body.String(); !strings.Contains(page, "6:30"+nbsp+"pm") {
		t.Error("the book does not tell the time by twelve hours")
	} else if !strings.Contains(page, "Week from Sun"+nbsp+"22") {
		t.Error("the book does not begin its weeks on Sunday")
	}
	held, err := d.home.On(t.Context(), deskToday)
	must(t, err)
	if held.Stead.Terms.Storage != 0.1 || !held.Stead.Terms.Water {
		t.Errorf("terms %+v", held.Stead.Terms)
	}
	set, err := d.Settings(t.Context())
	if want := (hearth.Settings{Units: unit.US, Clock12: true, Week: 0, Language: "en"}); err != nil || set != want {
		t.Errorf("settings %+v, %v", set, err)
	}
}

func TestSettingsRefuse(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	sound := url.Values{"units": {"us"}, "clock": {"12"}, "week": {"0"}, "language": {"en"}, "risk": {"10"}}
	for name, value := range map[string]string{"units": "cubits", "clock": "13", "week": "7", "language": "../en"} {
		form := url.Values{}
		for k := range sound {
			form.Set(k, sound.Get(k))
		}
		form.Set(name, value)
		if w := asked(h, "POST", "/settings", form); w.Code != http.StatusBadRequest {
			t.Errorf("%s = %s answers %d", name, value, w.Code)
		}
	}
	for _, risk := range []string{"", "0", "51", "x", "20 kg"} {
		form := url.Values{}
		for k := range sound {
			form.Set(k, sound.Get(k))
		}
		form.Set("risk", risk)
		w := asked(h, "POST", "/settings", form)
		page := asked(h, "GET", strings.TrimSuffix(w.Header().Get("Location"), "#terms"), nil).Body.String()
		if !strings.Contains(page, `id="riske"`) || !strings.Contains(page, `value="us" checked`) {
			t.Errorf("risk %q: no fault beside the field, or what was chosen is gone", risk)
		}
	}
}

func TestWeekBeginsWhereItIsWanted(t *testing.T) {
	wed := day.Of(2026, 11, 25)
	for week, want := range map[int]string{0: "2026-11-22", 1: "2026-11-23", 3: "2026-11-25", 4: "2026-11-19", 6: "2026-11-21"} {
		if got := (Options{Week: weekdayOf(week)}).weekOf(wed).String(); got != want {
			t.Errorf("a week from day %d begins on %s, want %s", week, got, want)
		}
	}
	for text, want := range map[string]string{"18:30": "6:30" + nbsp + "pm", "00:05": "12:05" + nbsp + "am", "": "", "x": "x"} {
		if got := (Options{Clock12: true}).clock(text); got != want {
			t.Errorf("%q reads %q, want %q", text, got, want)
		}
	}
}

func weekdayOf(n int) time.Weekday { return time.Weekday(n) }
