package web

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

// taskForm finds the form of a task whose title holds words.
func taskFormOf(t *testing.T, page *element, title string) (id, once string, form *element) {
	t.Helper()
	for _, li := range page.find("li.task") {
		if !strings.Contains(saidBy(li.find("h3")[0]), title) {
			continue
		}
		forms := li.find("form")
		if len(forms) == 0 {
			t.Fatalf("%q has no form", title)
		}
		for _, in := range forms[0].find("input") {
			switch in.attrs["name"] {
			case "task":
				id = in.attrs["value"]
			case "once":
				once = in.attrs["value"]
			}
		}
		return id, once, forms[0]
	}
	t.Fatalf("the week has no task %q: %s", title, saidBy(page))
	return "", "", nil
}

func TestWeekShowsTheWork(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	page := look(t, h, "/week")
	text := saidBy(page)
	for _, want := range []string{"The work asks", "h and there are", "Every day", "If it slips:", "Cook and wash up", "The weeks to come", "No forecast is read", "min a day", "Local codes"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if len(page.find("h1")) != 1 || len(page.find("li.task")) < 20 {
		t.Errorf("%d h1, %d tasks", len(page.find("h1")), len(page.find("li.task")))
	}
	if n := len(page.find("#weeks")[0].find("a")); n != weeksShown {
		t.Errorf("%d weeks are named", n)
	}
	later := look(t, h, "/week?at=2")
	if n := len(later.find("form.tick")); n != 0 {
		t.Errorf("%d tasks of another week can be ticked off", n)
	}
	for _, way := range []string{"/week?at=26", "/week?at=99"} {
		if got := get(t, h, "GET", way).Code; got != 404 {
			t.Errorf("%s answers %d", way, got)
		}
	}
	if look(t, h, "/week?at=-4") == nil || look(t, h, "/week?at=x") == nil {
		t.Error("no week")
	}
	if !strings.Contains(saidBy(look(t, h, "/")), "All of the week's work") {
		t.Error("Now has no way to the week")
	}
	summer := deskSite(t, deskOn(t, demo.Quernfold(), day.Of(2027, time.June, 10), unit.Metric))
	page = look(t, summer, "/week")
	if text = saidBy(page); !strings.Contains(text, "Drop first") || len(page.find("ol.drops")) != 1 || len(page.find("span.tag")) < 1 {
		t.Errorf("in summer nothing is dropped: %d drops, %d tags", len(page.find("ol.drops")), len(page.find("span.tag")))
	}
}

// TestATapWritesTheEntry: once however often it is sent, marked at the task, and
// taken back by a strike.
func TestATapWritesTheEntry(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	id, once, _ := taskFormOf(t, look(t, h, "/week?who=Rook"), "Cook and wash up")
	form := url.Values{"task": {id}, "once": {once}, "who": {"Rook"}}
	way, page := walk(t, h, "/week/done", form)
	walk(t, h, "/week/done", form)
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Entries) != 1 || s.Entries[0].Who != "Rook" || s.Entries[0].Day != deskToday {
		t.Fatalf("the book holds %v", s.Entries)
	}
	if !strings.Contains(saidBy(page), "Written: Worked 1 h") || !strings.Contains(saidBy(page), "Noted 25 Nov") || !strings.Contains(way, "who=Rook") {
		t.Errorf("at %s: %s", way, saidBy(page))
	}
	undo := page.find("div.wrote")[0].find("input")[0]
	_, page = walk(t, h, "/week/undo", url.Values{"entry": {undo.attrs["value"]}})
	if s, _ = d.Now(t.Context()); len(s.Entries) != 0 || len(s.All) != 2 || !strings.Contains(saidBy(page), "Taken back") {
		t.Errorf("%d entries stand of %d: %s", len(s.Entries), len(s.All), saidBy(page))
	}
	if strings.Contains(saidBy(page), "Noted 25 Nov") {
		t.Error("it is still marked")
	}
	if way, _ := walk(t, h, "/week/done", url.Values{"task": {"none-such"}}); way != "/week?gone=1" {
		t.Errorf("a task that is not there leads to %s", way)
	}
	walk(t, h, "/week/undo", url.Values{"entry": {"no id"}})
	if s, _ = d.Now(t.Context()); len(s.All) != 2 {
		t.Error("an undo of nothing struck something")
	}
}

// TestBlanksAreAskedFor: what only a look can tell is typed, in its own unit if it
// brings one; an empty one comes back.
func TestBlanksAreAskedFor(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	id, once, form := taskFormOf(t, look(t, h, "/week"), "Dip the barn water")
	if len(form.find("label")) != 1 || !strings.Contains(saidBy(form), "dipped barn at … L") {
		t.Fatalf("the form: %s", saidBy(form))
	}
	way, page := walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}, "blank.0": {" "}})
	if s, _ := d.Now(t.Context()); len(s.All) != 0 || !strings.HasSuffix(way, "#t-"+id) {
		t.Errorf("an empty blank wrote %d entries, and led to %s", len(s.All), way)
	}
	if !strings.Contains(saidBy(page), "give a figure") {
		t.Error("why nothing was written is not told")
	}
	for typed, want := range map[string]string{"9000": "dipped barn at 9000 L", "2000 gal": "dipped barn at 2000 gal", "30 %": "dipped barn at 30 %", "": "", strings.Repeat("9", 50): ""} {
		if got := filledIn("dipped barn at _ L", url.Values{"blank.0": {typed}}); got != want {
			t.Errorf("%q fills in %q, want %q", typed, got, want)
		}
	}
	walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}, "blank.0": {"2000 gal"}})
	s, err := d.Now(t.Context())
	must(t, err)
	if e := s.Entries[0]; len(s.Entries) != 1 || e.Kind != "dipped" || e.Body.Amount < 7570 || e.Body.Amount > 7571 {
		t.Errorf("written as %+v", e)
	}
}

// TestSowingsAreChosen: nobody writes seventeen sowings by one careless tap.
func TestSowingsAreChosen(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	id, once, form := taskFormOf(t, look(t, h, "/week"), "Sown or not?")
	if n := len(form.find("label.pick")); n < 5 {
		t.Fatalf("%d sowings to choose from", n)
	}
	for _, in := range form.find("input") {
		if in.attrs["checked"] != "" {
			t.Error("a sowing is chosen before it is said")
		}
	}
	walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}})
	walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}, "on": {"1", "2"}})
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Entries) != 2 || s.Entries[0].Kind != "sown" {
		t.Errorf("the book holds %v", s.Entries)
	}
}

// TestAGateStandsAtTheTask: picking what had urine too late is blocked where it is
// tapped; a reason lets it through and is kept.
func TestAGateStandsAtTheTask(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	page := look(t, h, "/week")
	id, once, form := taskFormOf(t, page, "Pick kale")
	bed := ""
	for _, line := range form.find("label.pick") {
		_, bed, _ = strings.Cut(strings.TrimSpace(saidBy(line)), ", ")
	}
	c, err := d.Home().Context(t.Context(), d.Today(), "Sorrel", unit.Metric)
	must(t, err)
	note, _ := walk(t, h, "/note", url.Values{"text": {"spread 5 L urine, " + bed + " yesterday"}})
	walk(t, h, note, url.Values{"do": {"write"}, "reason.1": {"the cans were full"}})
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 {
		t.Fatalf("no urine was spread on %s: %d entries, %v", bed, len(s.Entries), c.Today)
	}
	way, page := walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}, "on": {"0", "1", "2"}})
	if len(page.find(".gate")) == 0 || !strings.Contains(way, "#t-"+id) {
		t.Fatalf("no gate stands at the task: %s", saidBy(page))
	}
	gate := page.find(".gate")[0]
	draft := ""
	for _, in := range page.find("input") {
		if in.attrs["name"] == "draft" {
			draft = in.attrs["value"]
		}
	}
	reason := gate.find("input")[0].attrs["name"]
	walk(t, h, "/week/done", url.Values{"task": {id}, "once": {once}, "draft": {draft}, reason: {"only the upper leaves, washed"}})
	s, err := d.Now(t.Context())
	must(t, err)
	last := s.All[len(s.All)-1]
	if last.Kind != "picked" || last.Body.Where != bed || !strings.Contains(strings.Join(valuesOf(last.Body.Extra), " "), "upper leaves") {
		t.Errorf("the reason is not kept: %+v", last)
	}
}

func valuesOf(m map[string]string) (out []string) {
	for _, v := range m {
		out = append(out, v)
	}
	return out
}

// TestWeekIsSmallAndQuick holds every week of a year to 100 KB, and the page to
// 60 ms with its year behind it.
func TestWeekIsSmallAndQuick(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	fill(t, d, 20_000)
	h := deskSite(t, d)
	for _, way := range []string{"/week", "/week?at=1", "/week?at=12", "/week?at=25"} {
		if size := answersIn(t, h, way, 60*time.Millisecond*slack, nil).Body.Len(); size > mostBytes {
			t.Errorf("%s: %d bytes", way, size)
		}
	}
	for _, month := range []int{4, 7, 9} {
		d := deskOn(t, demo.Quernfold(), deskToday+day.Day(28*month), unit.Metric)
		if w := get(t, deskSite(t, d), "GET", "/week"); w.Body.Len() > mostBytes || w.Code != 200 {
			t.Errorf("%d months on: %d bytes", month, w.Body.Len())
		}
	}
}
