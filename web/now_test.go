package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/unit"
)

// deskOn is a desk whose today is set.
func deskOn(t *testing.T, text []byte, today day.Day, sys unit.System) *Desk {
	t.Helper()
	d := NewDesk(homeOf(t, text), func() time.Time { return deskNoon }, DeskOptions{Today: today, Members: 4, Units: sys})
	t.Cleanup(d.Close)
	return d
}

func TestNowSaysFirstWhatMatters(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	if page := look(t, h, "/"); !strings.Contains(saidBy(page), "The first reckoning") || len(page.find("#text")) != 1 {
		t.Errorf("before the first outlook: %s", saidBy(page))
	}
	write(t, d, "dipped barn at 4000 L\ncounted potatoes 5 kg yesterday")
	s := settled(t, d)
	page := look(t, h, "/")
	text := saidBy(page)
	for _, want := range []string{strings.ReplaceAll(s.Outlook.Verdict.Lead, nbsp, " "), "Days of cover", "may run short in the week of", "This week", "Every day", "Note it", "Since yesterday",
		"found 4,000 L", "2 entries", "day 25 of the stay"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := len(page.find("h1")); n != 1 {
		t.Errorf("%d h1", n)
	}
	for _, need := range page.find("li.cover") {
		if !strings.Contains("g-water g-food g-heat g-soil", strings.Fields(need.attrs["class"])[1]) {
			t.Errorf("a need of another group: %s", need.words())
		}
	}
	if len(page.find("ul.acts")) != 1 || !strings.Contains(text, "It may be") {
		t.Errorf("no look is asked for: %s", text)
	}
}

func TestNowWithoutWeatherTakesNotes(t *testing.T) {
	d := deskOf(t, []byte("place.latitude = 50\npeople = 2\n"))
	h := deskSite(t, d)
	page := look(t, h, "/")
	if !strings.Contains(saidBy(page), "Nothing can be reckoned yet") || !strings.Contains(saidBy(page), "No weather is known") || len(page.find("#text")) != 1 {
		t.Errorf("without weather: %s", saidBy(page))
	}
	way, page := walk(t, h, "/note", map[string][]string{"text": {"rain 14 mm"}})
	if !strings.Contains(saidBy(page), "is not reckoned: no weather") {
		t.Errorf("the reading back: %s", saidBy(page))
	}
	walk(t, h, way, map[string][]string{"do": {"write"}})
	if s, err := d.Now(t.Context()); err != nil || len(s.Entries) != 1 {
		t.Errorf("%d entries, %v", len(s.Entries), err)
	}
}

func TestNowWithoutADescriptionLeadsToTheStart(t *testing.T) {
	w := get(t, deskSite(t, deskOf(t, nil)), "GET", "/")
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/start" {
		t.Errorf("status %d to %s", w.Code, w.Header().Get("Location"))
	}
}

// actsOn are the acts of a day.
func actsOn(t *testing.T, d *Desk) []nowAct {
	t.Helper()
	s, err := d.Now(t.Context())
	must(t, err)
	if s.Past == nil {
		t.Fatal(s.Trouble)
	}
	n := &present{site: deskInside(t, d), snap: s, now: s.Past.Standing()}
	_, acts := n.acts()
	return acts
}

func hasAct(acts []nowAct, lead string) *nowAct {
	for i := range acts {
		if strings.Contains(strings.ReplaceAll(acts[i].Lead+" "+acts[i].Rest, nbsp, " "), lead) {
			return &acts[i]
		}
	}
	return nil
}

func TestActsOfTheWeek(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), deskToday, unit.Metric)
	write(t, d, "dipped cabin at 60 L")
	acts := actsOn(t, d)
	if a := hasAct(acts, "Before frost"); a == nil || !strings.Contains(a.Quote, "one autumn in ten") && !strings.Contains(a.Quote, "One autumn in ten") {
		t.Errorf("frost near is not told: %+v", acts)
	}
	if a := hasAct(acts, "Eat first"); a == nil || a.When == "" || a.Care == "" {
		t.Errorf("what goes soonest is not told: %+v", acts)
	}
	summer := deskOn(t, demo.Quernfold(), day.Of(2027, time.July, 10), unit.US)
	if a := hasAct(actsOn(t, summer), "frost"); a != nil {
		t.Errorf("frost in July: %+v", a)
	}
}

// TestNowIsTheHeadOfTheWeek: on any day of a year, what Now lists is what the week's
// page lists first, in its order and words: the rounds, then the rest by the day.
func TestNowIsTheHeadOfTheWeek(t *testing.T) {
	for _, today := range []day.Day{deskToday, deskToday + 60, deskToday + 170, deskToday + 300} {
		d := deskOn(t, demo.Quernfold(), today, unit.Metric)
		h := deskSite(t, d)
		now, week := look(t, h, "/"), look(t, h, "/week")
		var titles []string
		for _, task := range week.find("li.task") {
			titles = append(titles, task.find("h3")[0].find("span")[0].text)
		}
		rounds := len(week.find("#every")[0].find("li.task"))
		list := now.find("ul.acts")[0]
		acts := list.find("p.deed")
		if rounds == 0 || len(acts) != 1+min(mostActs, len(titles)-rounds) {
			t.Fatalf("%s: %d rounds, %d titles, %d acts", today, rounds, len(titles), len(acts))
		}
		if got := strings.TrimSpace(acts[0].words()); got != strings.Join(titles[:rounds], "; ")+"." {
			t.Errorf("%s: the rounds are %q, the week has %q", today, got, titles[:rounds])
		}
		for i, a := range acts[1:] {
			if got := a.find("b")[0].text; got != titles[rounds+i]+"." {
				t.Errorf("%s: act %d is %q, the week has %q", today, i, got, titles[rounds+i])
			}
		}
		for _, a := range list.find("a.button") {
			if id := strings.TrimPrefix(a.attrs["href"], "/week#"); len(week.find("#"+id)) != 1 {
				t.Errorf("%s: nothing is at %s", today, a.attrs["href"])
			}
		}
	}
}

// TestActsAreDone: what the book has is not asked for again, and what can't be
// reckoned with is asked to be mended.
func TestActsAreDone(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), deskToday, unit.Metric)
	before := actsOn(t, d)
	write(t, d, "note: covered swiss chard (B9), carrot (B14) and 5 more\nworked 1 h cooking")
	after := actsOn(t, d)
	if hasAct(before, "Before frost") == nil || hasAct(after, "Before frost") != nil || len(after) != mostActs {
		t.Errorf("before %+v, after %+v", before, after)
	}
	s, err := d.Now(t.Context())
	must(t, err)
	n := &present{site: deskInside(t, d), snap: s, now: s.Past.Standing()}
	if rounds, _ := n.acts(); slices.Contains(rounds, "Cook and wash up") || len(rounds) == 0 {
		t.Errorf("the rounds are still %q", rounds)
	}
}

func TestFrostSeasonOnBothHalves(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), deskToday, unit.Metric)
	s, err := d.Now(t.Context())
	must(t, err)
	for _, c := range []struct {
		on   day.Day
		want bool
	}{{day.Of(2027, time.January, 15), true}, {day.Of(2027, time.July, 15), false}, {day.Of(2026, time.December, 20), true}, {day.Of(2027, time.May, 20), false}} {
		if got := frosty(s.Usual, c.on, false); got != c.want {
			t.Errorf("%s: frosty %v", c.on, got)
		}
	}
	south := *s.Usual
	south.FirstAutumn.Dates, south.FirstAutumn.Seasons = []int{150, 152, 154}, 3 // about 1 June
	south.LastSpring.Dates, south.LastSpring.Seasons = []int{270, 272, 274}, 3   // about 29 September
	for m, want := range map[time.Month]bool{time.January: false, time.May: false, time.July: true, time.September: true, time.November: false} {
		if got := frosty(&south, day.Of(2027, m, 15), true); got != want {
			t.Errorf("south, %s: frosty %v", m, got)
		}
	}
	if at, ok := near(396, day.Of(2027, time.February, 3)); !ok || at != day.Of(2027, time.January, 31) {
		t.Errorf("day 396 near 3 Feb is %s", at)
	}
}

func TestNotePrefill(t *testing.T) {
	h := deskSite(t, deskOf(t, demo.Quernfold()))
	if box := look(t, h, "/?note=dipped+barn+at+").find("#text"); strings.TrimPrefix(box[0].text, "\n") != "dipped barn at " {
		t.Errorf("the box holds %q", box[0].text)
	}
	if box := look(t, h, "/?note="+strings.Repeat("a", mostPrefill+1)).find("#text"); strings.TrimSpace(box[0].text) != "" {
		t.Error("a long text came in by an address")
	}
}
