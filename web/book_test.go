package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/demo"
)

func TestBookListsFindsAndPages(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	if page := look(t, h, "/book"); !strings.Contains(saidBy(page), "The book is empty") {
		t.Errorf("an empty book says %s", saidBy(page))
	}
	var lines []string
	for i := range entriesAPage + 5 {
		lines = append(lines, fmt.Sprintf("rain %d mm 2026-11-%02d", i%9+1, 2+i%20))
	}
	write(t, d, strings.Join(lines, "\n")+"\nSorrel: picked 900 g kale 2026-11-24 07:30\ncounted 41 kg potatoes 2026-11-25 (the near bin)")
	page := look(t, h, "/book")
	if n := len(page.find("li.entry")); n != entriesAPage {
		t.Errorf("%d entries on a page, want %d", n, entriesAPage)
	}
	if days := page.find("h3.bookday"); len(days) == 0 || !strings.Contains(days[0].words(), "25"+nbsp+"Nov") {
		t.Error("the newest day does not stand first")
	}
	if n := len(look(t, h, "/book?page=2").find("li.entry")); n != 7 {
		t.Errorf("%d entries on the second page, want 7", n)
	}
	for query, want := range map[string]int{
		"find=kale": 1, "find=KALE+sorrel": 1, "find=bin": 1, "find=2026-11-24": 1, "find=kale+potato": 0, "find=november": 50,
		"kind=picked": 1, "kind=counted&find=kale": 0, "kind=nonsense": 50, "page=99": 0, "page=-4": 50, "find=" + strings.Repeat("x", 400): 50,
	} {
		if n := len(look(t, h, "/book?"+query).find("li.entry")); n != want {
			t.Errorf("%s lists %d, want %d", query, n, want)
		}
	}
}

func TestStrikeAndBringBack(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	e := write(t, d, "rain 14 mm yesterday")[0]
	way := "/book/" + e.ID.String()
	to, page := walk(t, h, way+"/strike", url.Values{"why": {"the can <b>had</b> a leak"}})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 0 || to != "/book?struck="+e.ID.String() {
		t.Fatalf("%d stand, led to %s", len(s.Entries), to)
	}
	if del := page.find("del"); len(del) != 1 || !strings.Contains(saidBy(page), "struck: the can <b>had</b> a leak") {
		t.Errorf("the struck line is not shown with its reason: %s", saidBy(page))
	}
	if w := post(t, h, way+"/strike", url.Values{}); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "draft=") {
		t.Errorf("struck twice: %d to %s", w.Code, w.Header().Get("Location"))
	}
	if n := len(look(t, h, way).find("form")); n != 1 {
		t.Errorf("%d forms at a struck entry, want the one that brings it back", n)
	}
	walk(t, h, way+"/back", url.Values{})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 {
		t.Errorf("%d stand after it was brought back", len(s.Entries))
	}
}

func TestStrikeRefuses(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	e := write(t, d, "rain 14 mm")[0]
	_, page := walk(t, h, "/book/"+e.ID.String()+"/strike", url.Values{"why": {strings.Repeat("w", mostWhy+1)}})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 || len(page.find("#fault")) != 1 {
		t.Errorf("%d stand, %s", len(s.Entries), saidBy(page))
	}
	for _, id := range []string{uuid.NewString(), "nothing", "..%2f..%2fetc", strings.Repeat("0", 400)} {
		if w := post(t, h, "/book/"+id+"/strike", url.Values{}); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d", id, w.Code)
		}
	}
}

func TestReplaceIsReadBack(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	e := write(t, d, "Sorrel: picked 14 kg kale 2026-11-24 12:15 (scale read 1.4)")[0]
	way := "/book/" + e.ID.String()
	text := strings.TrimSpace(look(t, h, way).find("#text")[0].text)
	if text != "picked 14 kg of kale, 2026-11-24 12:15, by Sorrel (scale read 1.4)" {
		t.Errorf("the line offered is %q", text)
	}
	bad, page := walk(t, h, way+"/replace", url.Values{"text": {"picked 3000 kg kale"}})
	if s, _ := d.Now(t.Context()); len(s.All) != 1 || len(page.find("ul.wrong")) != 1 {
		t.Fatalf("%d entries after a bad line, at %s: %s", len(s.All), bad, saidBy(page))
	}
	mend := strings.Replace(text, "14 kg", "1.4 kg", 1)
	_, page = walk(t, h, way+"/replace", url.Values{"text": {mend}})
	seen := page.find("input")
	if s, _ := d.Now(t.Context()); len(s.All) != 1 || !strings.Contains(saidBy(page), "Picked 1.4 kg of kale") || len(seen) == 0 {
		t.Fatalf("not read back: %s", saidBy(page))
	}
	to, _ := walk(t, h, way+"/replace", url.Values{"text": {mend}, "seen": {mend}})
	s, _ := d.Now(t.Context())
	if len(s.Entries) != 1 || s.Entries[0].Body.Amount != 1.4 || s.Entries[0].Time != "12:15" || s.Entries[0].Who != "Sorrel" || s.Entries[0].Strikes != e.ID {
		t.Errorf("led to %s, %+v", to, s.Entries)
	}
	if _, page := walk(t, h, "/book/"+s.Entries[0].ID.String()+"/replace", url.Values{"text": {"rain 1 mm\nrain 2 mm"}}); len(page.find("#fault")) != 1 {
		t.Errorf("two lines for one: %s", saidBy(page))
	}
}

// TestNoteOfEveryKindReadsBack proves that the line offered for mending says what
// the entry says.
func TestNoteOfEveryKindReadsBack(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	s, err := d.Now(t.Context())
	must(t, err)
	notes := `rain 14 mm 2026-11-20
picked 900 g kale 2026-11-20 07:30
dipped barn at 8000 L
counted 41 kg potatoes (near bin)
fed digester 4 kg scraps
worked 3 h weeding
cooked 6 kg wood
ate 2 kg potatoes
note the gate sticks
closed drum 1
Rook ill 24 h`
	for _, r := range book.Read(notes, s.Context) {
		if r.Err != nil {
			t.Errorf("%q: %v", r.Text, r.Err)
			continue
		}
		back := book.Read(noteOf(&r.Entry, s), s.Context)
		if len(back) != 1 || back[0].Err != nil || !book.Same(r.Entry, back[0].Entry) {
			t.Errorf("%q is offered as %q, which reads as %+v", r.Text, noteOf(&r.Entry, s), back)
		}
	}
}

func FuzzHoldsFold(f *testing.F) {
	f.Add("sweet_potato", "potato")
	f.Add("Grünkohl", "grünkohl")
	f.Add("", "x")
	f.Add("\xf7", "\xf7")
	f.Add("\u0130", "\u0130") // longer in small letters
	f.Fuzz(func(t *testing.T, text, word string) {
		word = strings.ToLower(word)
		if got, want := holdsFold(text, word), strings.Contains(strings.ToLower(text), word); want && !got {
			t.Errorf("%q is not found in %q", word, text)
		}
	})
}
