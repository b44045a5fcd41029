package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"evenstead/demo"
)

// walk posts a form and reads the page it leads to.
func walk(t *testing.T, h http.Handler, path string, form url.Values) (way string, page *element) {
	t.Helper()
	w := post(t, h, path, form)
	if w.Code != http.StatusSeeOther {
		t.Fatalf("POST %s answers %d: %s", path, w.Code, parsePage(t, w.Body.String()).words())
	}
	return w.Header().Get("Location"), look(t, h, w.Header().Get("Location"))
}

// look reads a page.
func look(t *testing.T, h http.Handler, way string) *element {
	t.Helper()
	way, _, _ = strings.Cut(way, "#")
	next := get(t, h, "GET", way)
	if next.Code != 200 {
		t.Fatalf("%s answers %d", way, next.Code)
	}
	return parsePage(t, next.Body.String())
}

// saidBy is the text of a page with plain blanks.
func saidBy(page *element) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(page.words(), nbsp, " ")), " ")
}

func TestNoteIsReadBackThenWritten(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	way, page := walk(t, h, "/note", url.Values{"text": {"rain 14 mm yesterday\npicked 900 g kale\nfed digster 4 kg scraps"}, "who": {"Rook"}})
	if s, err := d.Now(t.Context()); err != nil || len(s.All) != 0 {
		t.Fatalf("reading back wrote %d entries, %v", len(s.All), err)
	}
	for _, want := range []string{"Rain 14 mm, 24 Nov 2026, by Rook", "Picked 900 g of kale"} {
		if !strings.Contains(saidBy(page), want) {
			t.Errorf("the page does not say %q: %s", want, saidBy(page))
		}
	}
	if n := len(page.find("li.readline")); n != 3 || len(page.find("h1")) != 1 {
		t.Fatalf("%d lines are read back under %d headings", n, len(page.find("h1")))
	}
	wrote, left := walk(t, h, way, url.Values{"do": {"write"}})
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Entries) < 2 || !strings.Contains(wrote, "wrote=") {
		t.Errorf("%d entries, at %s: %s", len(s.Entries), wrote, saidBy(left))
	}
	for _, e := range s.Entries {
		if e.Who != "Rook" {
			t.Errorf("by %q", e.Who)
		}
	}
	again, _ := walk(t, h, way, url.Values{"do": {"write"}})
	if after, _ := d.Now(t.Context()); len(after.All) != len(s.All) || again != "/?gone=1" {
		t.Errorf("%d entries after sending twice, led to %s", len(after.All), again)
	}
}

func TestNoteLinesInDoubtHoldUpNothing(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	way, _ := walk(t, h, "/note", url.Values{"text": {"rain 14 mm\npicked 3000 kg basil\nblorp the thing"}})
	left, page := walk(t, h, way, url.Values{"do": {"write"}})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 {
		t.Fatalf("%d entries, want the rain alone", len(s.Entries))
	}
	if n := len(page.find("li.readline")); n != 2 || !strings.HasPrefix(left, "/note/") {
		t.Fatalf("%d lines are left at %s", n, left)
	}
	left, _, _ = strings.Cut(left, "?")
	mended, page := walk(t, h, left, url.Values{"line.1": {"worked 2 h"}, "line.2": {"note the gate sticks"}, "do": {"read"}})
	if n := len(page.find("ul.wrong")); n != 0 {
		t.Errorf("%d faults after mending: %s", n, saidBy(page))
	}
	walk(t, h, mended, url.Values{"do": {"write"}})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 3 {
		t.Errorf("%d entries after mending", len(s.Entries))
	}
}

func TestNoteDoubtIsAnswered(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	way, page := walk(t, h, "/note", url.Values{"text": {"rain 2"}})
	var name, second string
	for _, r := range page.find("input") {
		if r.attrs["type"] == "radio" && r.attrs["checked"] == "" {
			name, second = r.attrs["name"], r.attrs["value"]
			break
		}
	}
	if name != "choice.1.amount" {
		t.Fatalf("no second choice: %s", saidBy(page))
	}
	walk(t, h, way, url.Values{"do": {"write"}, name: {second}})
	s, _ := d.Now(t.Context())
	if len(s.Entries) != 1 || s.Entries[0].Body.Amount == 2 {
		t.Errorf("%q wrote %+v", second, s.Entries)
	}
}

func TestNoteGateAsksForAReason(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	write(t, d, "closed drum 1 on 2026-11-20")
	before, err := d.Now(t.Context())
	must(t, err)
	where := before.Stead.Trees[0].Name
	way, page := walk(t, h, "/note", url.Values{"text": {"spread 20 kg drum 1 on " + where}})
	if len(page.find("div.gate")) != 1 || len(page.find("#reason1")) != 1 {
		t.Fatalf("no gate stands at the line: %s", saidBy(page))
	}
	still, _ := walk(t, h, way, url.Values{"do": {"write"}})
	if s, _ := d.Now(t.Context()); len(s.All) != len(before.All) {
		t.Fatal("a gated line was written without a reason")
	}
	still, _, _ = strings.Cut(still, "?")
	back, page := walk(t, h, still, url.Values{"do": {"read"}, "reason.1": {"the health office looked at it"}})
	if len(page.find("div.gate")) != 0 {
		t.Fatalf("the reason was not taken: %s", saidBy(page))
	}
	walk(t, h, back, url.Values{"do": {"write"}})
	s, _ := d.Now(t.Context())
	if len(s.All) != len(before.All)+1 || s.All[len(s.All)-1].Body.Extra["reason"] == "" {
		t.Errorf("written: %+v", s.All[len(s.All)-1])
	}
}

func TestNoteRefusesAndKeepsWhatWasTyped(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	for name, c := range map[string]struct{ text, say string }{
		"empty":      {"  \n ", "Write one thing"},
		"many lines": {strings.Repeat("rain 1 mm\n", mostLines+1), "the most is"},
		"long":       {strings.Repeat("a", mostNote+1), "too long"},
	} {
		t.Run(name, func(t *testing.T) {
			_, page := walk(t, h, "/note", url.Values{"text": {c.text}, "who": {"Rook"}})
			box := page.find("#text")
			if len(box) != 1 || strings.TrimSpace(box[0].text) != strings.TrimSpace(c.text) || box[0].attrs["aria-invalid"] != "true" {
				t.Error("what was typed is not kept")
			}
			if wrong := page.find("#texte"); len(wrong) != 1 || !strings.Contains(wrong[0].words(), c.say) {
				t.Errorf("the fault is not told: %v", wrong)
			}
		})
	}
	if w := post(t, h, "/note", url.Values{"text": {strings.Repeat("a", mostForm+1)}}); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("an oversized form answers %d", w.Code)
	}
	if w := get(t, h, "GET", "/note/nothing"); w.Code != http.StatusSeeOther {
		t.Errorf("an unknown note answers %d", w.Code)
	}
}

// TestForeignNotesAreRefused proves that a page elsewhere can write nothing here.
func TestForeignNotesAreRefused(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	e := write(t, d, "rain 14 mm")[0]
	for _, path := range []string{"/note", "/note/key", "/book/stead", "/book/stead/add", "/book/import", "/book/weather", "/book/" + e.ID.String() + "/strike"} {
		r := httptest.NewRequest("POST", path, strings.NewReader("text=rain+14+mm"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "cross-site")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusForbidden {
			t.Errorf("POST %s from elsewhere answers %d", path, w.Code)
		}
	}
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 {
		t.Errorf("%d entries", len(s.Entries))
	}
}
