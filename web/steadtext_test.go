package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"evenstead/demo"
)

func TestSteadTextIsCheckedBeforeItIsSaved(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	text := strings.TrimPrefix(look(t, h, "/book/stead").find("#text")[0].text, "\n")
	if text != string(demo.Quernfold()) {
		t.Fatal("the editor does not hold the text as it was written")
	}
	bad := strings.Replace(strings.Replace(text, `latitude = "40.1 N"`, `latitude = "95 N"`, 1), `mass = "61 kg"`, `mass = "61 gal"`, 1)
	for _, do := range []string{"check", "save"} {
		_, page := walk(t, h, "/book/stead", url.Values{"text": {strings.ReplaceAll(bad, "\n", "\r\n")}, "from": {"2026-11-25"}, "do": {do}})
		faults := page.find("code")
		if len(faults) != 2 || !strings.Contains(faults[0].words(), `latitude = "95 N"`) || !strings.Contains(saidBy(page), "line 8") {
			t.Errorf("%s: the faults are not told with their lines: %s", do, saidBy(page)[:600])
		}
		if got := strings.TrimPrefix(page.find("#text")[0].text, "\n"); got != bad {
			t.Errorf("%s: what was typed is not kept", do)
		}
	}
	if all, _ := d.Home().Steads(t.Context()); len(all) != 1 {
		t.Fatalf("%d descriptions after a text with faults", len(all))
	}
	mended := strings.Replace(text, `name = "Quernfold"`, `name = "Quernfold, mended"`, 1)
	_, page := walk(t, h, "/book/stead", url.Values{"text": {mended}, "from": {"2026-11-25"}, "do": {"check"}})
	if !strings.Contains(saidBy(page), "The text is sound") || !strings.Contains(saidBy(page), "2 people") {
		t.Errorf("a sound text: %s", saidBy(page)[:400])
	}
	to, page := walk(t, h, "/book/stead", url.Values{"text": {mended}, "from": {"2026-11-25"}, "do": {"save"}})
	s, err := d.Now(t.Context())
	must(t, err)
	if s.Stead.Name != "Quernfold, mended" || s.From != deskToday || to != "/book?described=2026-11-25" {
		t.Errorf("%s from %s, led to %s: %s", s.Stead.Name, s.From, to, saidBy(page)[:200])
	}
}

func TestSteadTextRefuses(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	_, page := walk(t, h, "/book/stead", url.Values{"text": {string(demo.Quernfold())}, "from": {"tomorrow"}, "do": {"save"}})
	if all, _ := d.Home().Steads(t.Context()); len(all) != 1 || len(page.find("#frome")) != 1 {
		t.Errorf("a bad day is not told: %s", saidBy(page)[:300])
	}
	if w := post(t, h, "/book/stead", url.Values{"text": {strings.Repeat("#", mostText+1)}}); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("an oversized text answers %d", w.Code)
	}
}

func TestPartsAreAddedToTheTextUnsaved(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	short := "place.latitude = 29.7\npeople = 2\nroof = [{ area = \"60 m2\", tank = \"1000 L\" }]\nbed = [{ area = \"50 m2\" }]\n"
	for name, c := range map[string]struct {
		text string
		form url.Values
		says []string
		bad  bool
	}{
		"tank":           {string(demo.Quernfold()), url.Values{"part": {"tank"}, "tank.name": {`tote "9"`}, "tank.holds": {"275 gal"}}, []string{"[[tank]]", `name = "tote \"9\""`, `holds = "275 gal"`}, false},
		"bed in a list":  {short, url.Values{"part": {"bed"}, "bed.name": {"south"}, "bed.area": {"12 m2"}}, []string{`{ area = "50 m2" }, { name = "south", area = "12 m2" }]`}, false},
		"person":         {string(demo.Quernfold()), url.Values{"part": {"person"}, "person.name": {"Wren"}, "person.sex": {"female"}, "person.age": {"9"}, "person.activity": {"active"}}, []string{"[[person]]", `name = "Wren"`, "age = 9"}, false},
		"no area":        {short, url.Values{"part": {"bed"}, "bed.name": {"south"}}, nil, true},
		"not a volume":   {short, url.Values{"part": {"tank"}, "tank.name": {"t"}, "tank.holds": {"12 kg"}}, nil, true},
		"not a part":     {short, url.Values{"part": {"cow"}}, nil, true},
		"control in it":  {short, url.Values{"part": {"bed"}, "bed.name": {"a\x01b"}, "bed.area": {"12 m2"}}, []string{`name = "ab"`}, false},
		"age with a key": {short, url.Values{"part": {"person"}, "person.name": {"Wren"}, "person.sex": {"female"}, "person.age": {"9\nname = 3"}}, nil, true},
	} {
		t.Run(name, func(t *testing.T) {
			c.form.Set("text", c.text)
			c.form.Set("from", "2026-11-25")
			_, page := walk(t, h, "/book/stead/add", c.form)
			text := strings.TrimPrefix(page.find("#text")[0].text, "\n")
			if c.bad != (text == c.text) || c.bad != strings.Contains(saidBy(page), "The part can't be added") {
				t.Errorf("bad %v, the text ends %q", c.bad, text[max(0, len(text)-80):])
			}
			for _, want := range c.says {
				if !strings.Contains(text, want) {
					t.Errorf("the text lacks %q", want)
				}
			}
			if !c.bad && !strings.Contains(saidBy(page), "The text is sound") {
				t.Errorf("with the part: %s", saidBy(page)[:300])
			}
		})
	}
	if all, _ := d.Home().Steads(t.Context()); len(all) != 1 {
		t.Errorf("%d descriptions: a part was saved unasked", len(all))
	}
}
