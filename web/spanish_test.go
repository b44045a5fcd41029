package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"evenstead/demo"
	"evenstead/hearth"
)

// inSpanish serves a desk that has been lived at to a household that has chosen
// Spanish, and names its pages.
func inSpanish(t *testing.T) (http.Handler, []string) {
	t.Helper()
	d := deskOf(t, demo.Quernfold())
	got := write(t, d, livedAt)
	_, err := d.Home().Strike(t.Context(), got[4].ID, "")
	must(t, err)
	must(t, d.Home().KeepSettings(t.Context(), hearth.Settings{Language: "es"}))
	d.Changed()
	settled(t, d)
	h := deskSite(t, d)
	note := post(t, h, "/note", url.Values{"text": {"rain 3 mm\nopened drum 1\npicked 3000 kg basil"}}).Header().Get("Location")
	return h, []string{"/", "/week", "/ahead", "/ahead?rain=80&tank=none", "/ahead/figures", "/stores", "/stores?from=1", "/ground", "/ground/plan?atmost=much", "/book", "/book/stead", "/book/files",
		"/book/" + got[0].ID.String(), "/book/" + got[4].ID.String(), note, "/sums", "/sums/catch?rain=1+in", "/settings", "/devices", "/pair", "/paper", "/paper/week", "/paper/beds", "/paper/store", "/paper/tanks", "/paper/labels", "/paper/keeping", "/paper/helper-7", "/paper/storm", "/paper/exchange",
		"/paper/store/type", "/drum/1", "/handover", "/openday", "/calendar", "/boots", "/outbox", "/why?need=fat_g", "/why?need=drinking", "/reckoning?from=2026-11-01&to=2026-11-24", "/nowhere"}
}

// TestEveryPageInSpanish: each page says that it is Spanish, shows no key, stays
// small, and marks what is left in English.
func TestEveryPageInSpanish(t *testing.T) {
	h, paths := inSpanish(t)
	for _, path := range paths {
		w := get(t, h, "GET", path)
		page := parsePage(t, w.Body.String())
		if len(page.find("html")) == 0 {
			t.Errorf("%s answers %d: %.80s", path, w.Code, w.Body)
			continue
		}
		if lang := page.find("html")[0].attrs["lang"]; lang != "es" {
			t.Errorf("%s: the language is %q", path, lang)
		}
		if w.Body.Len() > 100<<10 {
			t.Errorf("%s has %d bytes", path, w.Body.Len())
		}
		text := strings.NewReplacer("the landowner", "", "The landowner", "").Replace(page.find("main")[0].saidIn("es", "es")) // with whom the household has an exchange
		if m := unsaidKey(t).FindString(strings.ReplaceAll(text, "calendar.ics", "")); m != "" || strings.Contains(text, "%!") {
			t.Errorf("%s shows the key %q in place of words", path, m)
		}
		for _, m := range plainlyEnglish.FindAllStringIndex(text, 6) {
			t.Errorf("%s: unmarked English: …%s…", path, strings.Join(strings.Fields(text[max(0, m[0]-60):min(len(text), m[1]+60)]), " "))
		}
	}
}

// plainlyEnglish are words that no Spanish sentence has, and no name of the
// invented household.
var plainlyEnglish = regexp.MustCompile(`(?i)\b(the|of|and|is|with|what|from|were|when|about|each)\b`)

// saidIn is the text of the parts of a page that are in one language.
func (e *element) saidIn(lang, now string) string {
	if own := e.attrs["lang"]; own != "" {
		now = own
	}
	if e.tag == "textarea" || e.tag == "pre" || e.tag == "code" || e.attrs["id"] == "try-use" { // what was written, and names
		return ""
	}
	s := ""
	if now == lang {
		s = e.text + " "
	}
	for _, k := range e.kids {
		s += k.saidIn(lang, now)
	}
	return s
}

// unsaidKey finds a key of the catalogue.
func unsaidKey(t *testing.T) *regexp.Regexp {
	w, err := wordsOf(home)
	must(t, err)
	return regexp.MustCompile(`\b(?:` + strings.Join(prefixes(w), "|") + `)\.[a-z]+\b`)
}

// TestStartInSpanish: the guided start in Spanish, question by question, told what
// was asked on the way.
func TestStartInSpanish(t *testing.T) {
	d := deskOf(t, nil)
	h, err := NewAt(d, Options{Demo: demo.Quernfold()})
	must(t, err)
	ask := func(path string) *element {
		r := httptest.NewRequestWithContext(context.Background(), "GET", path, nil)
		r.Header.Set("Accept-Language", "es")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return parsePage(t, w.Body.String())
	}
	for n := range startQuestions {
		page := ask("/start?q=" + string(rune('0'+n/10)) + string(rune('0'+n%10)))
		text := page.find("main")[0].saidIn("es", page.find("html")[0].attrs["lang"])
		if m := plainlyEnglish.FindString(text) + unsaidKey(t).FindString(text); m != "" || text == "" {
			t.Errorf("question %d says %q: %.300q", n, m, text)
		}
	}
}

// TestSpanishInBrowser: nothing is cut or too small to press in longer words, and
// the checks of accessibility hold.
func TestSpanishInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	h, _ := inSpanish(t)
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	looks := []lookAt{{path: "/nowhere", width: 320, theme: "light"}, {path: "/", width: 320, theme: "dark"}}
	for _, path := range []string{"/", "/week", "/stores", "/ground", "/settings", "/paper/helper-7", "/boots"} {
		looks = append(looks, lookAt{path: path, width: 390, theme: "light"})
	}
	for _, l := range append(looks, lookAt{path: "/ahead", width: 1280, theme: "light"}) {
		name := fmt.Sprintf("es%s-%d", strings.Map(plainName, l.path), l.width)
		t.Run(name, func(t *testing.T) {
			tab := open(t, ctx, srv.URL+l.path, l.width, l.theme)
			quiet(t, tab, l.path)
			noSideways(t, tab)
			targets(t, tab)
			controls(t, tab)
			shoot(t, tab, name)
			axe(t, tab)
		})
	}
}

// plainName keeps what a file's name may have.
func plainName(r rune) rune {
	if strings.ContainsRune("/?=&", r) {
		return '-'
	}
	return r
}
