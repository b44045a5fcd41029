package web

import (
	"bytes"
	"compress/gzip"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenstead/demo"
)

// send uploads a file by a form, fields before it.
func send(t *testing.T, h http.Handler, path, name string, body []byte, fields ...string) *httptest.ResponseRecorder {
	t.Helper()
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	for i := 0; i+1 < len(fields); i += 2 {
		must(t, form.WriteField(fields[i], fields[i+1]))
	}
	part, err := form.CreateFormFile("file", name)
	must(t, err)
	_, err = part.Write(body)
	must(t, err)
	must(t, form.Close())
	r := httptest.NewRequest("POST", path, &b)
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// told reads the page that an upload leads to.
func told(t *testing.T, h http.Handler, w *httptest.ResponseRecorder) *element {
	t.Helper()
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	return look(t, h, w.Header().Get("Location"))
}

func TestExportComesBackWhole(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	write(t, d, "rain 14 mm\npicked 900 g kale")
	for path, media := range map[string]string{"/book/export.jsonl": "application/jsonl", "/book/export.csv": "text/csv"} {
		w := get(t, h, "GET", path)
		if w.Code != 200 || !strings.HasPrefix(w.Header().Get("Content-Type"), media) || !strings.HasPrefix(w.Header().Get("Content-Disposition"), `attachment; filename="evenstead-2026-11-25.`) {
			t.Errorf("%s: %d %v", path, w.Code, w.Header())
		}
		other := deskOf(t, demo.Quernfold())
		page := told(t, deskSite(t, other), send(t, deskSite(t, other), "/book/import", "../../etc/passwd", w.Body.Bytes()))
		s, err := other.Now(t.Context())
		if err != nil || len(s.Entries) != 2 || !strings.Contains(saidBy(page), "2 entries are new") {
			t.Errorf("%s brings %d entries, %v: %s", path, len(s.Entries), err, saidBy(page)[:200])
		}
	}
}

func TestImportIsAllOrNone(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	write(t, d, "rain 14 mm\nrain 2 mm yesterday")
	good := get(t, h, "GET", "/book/export.csv").Body.String()
	other := deskOf(t, demo.Quernfold())
	into := deskSite(t, other)
	for name, c := range map[string]struct{ body, say string }{
		"a bad line":   {strings.Replace(good, "rain,,,,14,mm", "rain,,,,-14,mm", 1), "line"},
		"not a book":   {"hello\nthere\n", "columns"},
		"a bad export": {"{\"evenstead\":1}\n{\"entry\":{}}\n", "line 2"},
		"nothing":      {"", "nothing to import"},
	} {
		page := told(t, into, send(t, into, "/book/import", "../../x<b>.csv", []byte(c.body)))
		wrong := page.find("#importe")
		if len(wrong) != 1 || !strings.Contains(wrong[0].words(), c.say) || strings.Contains(wrong[0].words(), "..") {
			t.Errorf("%s: %s", name, saidBy(page))
		}
	}
	if s, _ := other.Now(t.Context()); len(s.All) != 0 {
		t.Errorf("%d entries of files that were refused", len(s.All))
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(other.Home().Store().Path()), "*"))
	must(t, err)
	for _, name := range left {
		if !strings.HasPrefix(filepath.Base(name), "evenstead.stead") {
			t.Errorf("an upload left %s", name)
		}
	}
}

func TestWeatherUpload(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	csv := "date,rain,tmin,tmax\n2026-11-01,4,2,9\n2026-11-02,0,1,8\n2026-11-03,12,3,10\n"
	page := told(t, h, send(t, h, "/book/weather", "w.csv", []byte(csv), "units", "metric"))
	if !strings.Contains(saidBy(page), "3 days of weather are kept") {
		t.Errorf("plain: %s", saidBy(page)[:300])
	}
	page = told(t, h, send(t, h, "/book/weather", "w.csv.gz", zip(t, []byte(strings.Replace(csv, "12,3", "30,3", 1))), "units", "metric"))
	rec, err := d.Home().Record(t.Context())
	if err != nil || rec.Rain[2] != 30 {
		t.Errorf("gzipped: %v %v, %s", rec, err, saidBy(page)[:300])
	}
	s, err := d.Now(t.Context())
	if err != nil || s.Past.Known.Rain[2] != 30 {
		t.Errorf("the replay does not know the new weather: %v", err)
	}
}

// TestWeatherBombsAreRefused proves that a small file can't unpack without end.
func TestWeatherBombsAreRefused(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	bomb := zip(t, append([]byte("date,rain,tmin,tmax\n"), bytes.Repeat([]byte("\n"), (mostUnpacked+1)<<20)...))
	if len(bomb) > 1<<20 {
		t.Fatalf("the bomb is %d bytes", len(bomb))
	}
	for name, body := range map[string][]byte{"bomb.gz": bomb, "cut.gz": bomb[:100], "a.zip": []byte("PK\x03\x04 and so on"), "noise": {0, 1, 2, 3}, "empty": nil} {
		page := told(t, h, send(t, h, "/book/weather", name, body))
		if len(page.find("#weathere")) != 1 {
			t.Errorf("%s was taken: %s", name, saidBy(page)[:200])
		}
	}
	page := told(t, h, send(t, h, "/book/weather", "large.csv", bytes.Repeat([]byte("# a line\n"), (mostWeather+1)<<20/9)))
	if wrong := page.find("#weathere"); len(wrong) != 1 || !strings.Contains(wrong[0].words(), "larger than") {
		t.Errorf("an oversized file: %s", saidBy(page)[:200])
	}
	r := httptest.NewRequest("POST", "/book/weather", strings.NewReader("not a form of parts"))
	r.Header.Set("Content-Type", "multipart/form-data; boundary=x")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	if page := told(t, h, w); len(page.find("#weathere")) != 1 {
		t.Errorf("a broken form: %s", saidBy(page)[:200])
	}
}

func zip(t *testing.T, body []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write(body)
	must(t, err)
	must(t, z.Close())
	return b.Bytes()
}

func TestUploadsLeaveNoFilesBehind(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	send(t, h, "/book/import", "big.csv", bytes.Repeat([]byte("x,"), 8<<20))
	left, err := os.ReadDir(dir)
	must(t, err)
	for _, e := range left {
		if strings.HasPrefix(e.Name(), "multipart") {
			t.Errorf("an upload left %s", e.Name())
		}
	}
}
