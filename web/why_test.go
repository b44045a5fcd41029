package web

import (
	"compress/gzip"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/hearth"
	"evenstead/unit"
	"evenstead/weather"
)

// TestFiguresLeadToTheirTrace: every known need on Now and Ahead has a way to the
// year that stands behind its figure.
func TestFiguresLeadToTheirTrace(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	s := settled(t, d)
	h := deskSite(t, d)
	for _, way := range []string{"/", "/ahead"} {
		links := 0
		for _, a := range look(t, h, way).find("a") {
			if strings.HasPrefix(a.attrs["href"], "/why?need=") {
				links++
			}
		}
		if links < 6 {
			t.Errorf("%s has %d ways to a trace", way, links)
		}
	}
	short := s.Outlook.Shortfalls()[0]
	page := awaited(t, h, "/why?need="+short.ID, "is being followed")
	text := saidBy(page)
	for _, want := range []string{"falls short in", "possible years", "made from the monthly normals", "How the figure is made", "In 9 years of 10 it holds", "Week by week", "rain"} {
		if !strings.Contains(text, want) {
			t.Errorf("the trace lacks %q: %s", want, text)
		}
	}
	tr, err := d.trace(t.Context(), short.ID)
	must(t, err)
	if n := len(page.find("tbody")[0].find("tr")); n != len(tr.Weeks) || n < 2 {
		t.Errorf("%d weeks are shown of %d", n, len(tr.Weeks))
	}
	for _, way := range []string{"/why", "/why?need=gold"} {
		if got := get(t, h, "GET", way).Code; got != http.StatusNotFound {
			t.Errorf("%s answers %d", way, got)
		}
	}
	if size := answersIn(t, h, "/why?need="+short.ID, 60*time.Millisecond*slack, nil).Body.Len(); size > mostBytes {
		t.Errorf("%d bytes", size)
	}
}

// awaited waits until a page no longer says that it waits.
func awaited(t *testing.T, h http.Handler, way, waits string) *element {
	t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if page := look(t, h, way); !strings.Contains(saidBy(page), waits) {
			return page
		}
	}
	t.Fatalf("%s still waits", way)
	return nil
}

// longRecord is some years of a real record, the last days before the stay.
func longRecord(t *testing.T, years int) *weather.Record {
	t.Helper()
	f, err := os.Open("../weather/testdata/gainesville-1960-2026.csv.gz")
	must(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	must(t, err)
	rec, err := weather.Read(z, weather.Options{Name: "record.csv"})
	must(t, err)
	n := 365 * years
	cut := *rec
	from := max(0, int(deskToday-rec.Start)-n)
	to := min(rec.Days(), from+n)
	cut.Start, cut.Rain, cut.TMin, cut.TMax, cut.Wind = rec.Start+day.Day(from), rec.Rain[from:to], rec.TMin[from:to], rec.TMax[from:to], nil
	return &cut
}

// TestAheadSaysHowOftenItWasRight: in one line, of the stead's own weather, found
// once and kept in its file.
func TestAheadSaysHowOftenItWasRight(t *testing.T) {
	none := deskOf(t, demo.Quernfold())
	settled(t, none)
	if said := saidBy(look(t, deskSite(t, none), "/ahead")); !strings.Contains(said, "it takes ten years of daily weather") {
		t.Errorf("without a record: %s", said[:800])
	}
	text, err := os.ReadFile("../docs/sandhill.toml")
	must(t, err)
	d := deskOf(t, text)
	h := deskSite(t, d)
	_, err = d.Home().KeepWeather(t.Context(), longRecord(t, 12))
	must(t, err)
	d.Changed()
	settled(t, d)
	page := awaited(t, h, "/ahead", "is being found")
	for end := time.Now().Add(time.Minute); time.Now().Before(end) && !strings.Contains(saidBy(page), "past weeks that outlooks"); time.Sleep(50 * time.Millisecond) {
		page = look(t, h, "/ahead")
	}
	kept, ok, err := d.Home().Skill(t.Context())
	must(t, err)
	if !ok || kept.Weeks < 50 || kept.Held < 0.8 || kept.Held > 1 || kept.Starts < 8 {
		t.Fatalf("kept %v: %+v", ok, kept)
	}
	if said := saidBy(page); !strings.Contains(said, "Of "+count(kept.Weeks)+" past weeks") || !strings.Contains(said, inHundred(kept.Held)+" in 100 held") {
		t.Errorf("%+v: %s", kept, said[:900])
	}
	c, err := d.Home().Context(t.Context(), d.Today(), "", unit.Metric)
	must(t, err)
	_, err = d.Home().Add(t.Context(), book.Read("rain 3 mm yesterday", c))
	must(t, err)
	d.Changed()
	if s, p, err := d.Skill(t.Context()); err != nil || s == nil || p.Total != 0 || *s != kept {
		t.Errorf("after a note it is found anew: %+v, %+v, %v", s, p, err)
	}
	if hearth.SkillOf("a", 4000) == hearth.SkillOf("b", 4000) || hearth.SkillOf("a", 4000) == hearth.SkillOf("a", 9000) || hearth.SkillOf("a", 4000) != hearth.SkillOf("a", 4005) {
		t.Error("what a skill is of")
	}
}
