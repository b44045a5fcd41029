package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"evenstead/unit"
)

// twoBeds is a small stead whose plan is soon made.
func twoBeds(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile("../plan/testdata/two-beds.toml")
	deskMust(t, err)
	return []byte(strings.Replace(string(b), "from = 2027-03-01", "from = 2026-11-01", 1))
}

// planAt waits until the plan of an address is made.
func planAt(t *testing.T, h http.Handler, way string) string {
	t.Helper()
	for end := time.Now().Add(3 * time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if page := deskPage(t, h, way); !strings.Contains(page, `id="again"`) {
			return page
		}
	}
	t.Fatalf("%s: no plan came", way)
	return ""
}

// planDesk is a desk on the morning that two-beds.toml is described for.
func planDesk(t testing.TB) *Desk {
	t.Helper()
	home := homeOf(t, nil)
	deskMust(t, home.Describe(t.Context(), deskBegun, "two-beds.toml", twoBeds(t)))
	d := NewDesk(home, func() time.Time { return deskNoon }, DeskOptions{Members: 12})
	t.Cleanup(d.Close)
	return d
}

// TestPlanIsMadeBehindThePage: the first answer comes at once and tells how far the
// plan is; then it stands with its wishes, is kept, sent as CSV, and taken up.
func TestPlanIsMadeBehindThePage(t *testing.T) {
	d := planDesk(t)
	h := deskSite(t, d)
	deskPage(t, h, "/ground")
	way := "/ground/plan?" + url.Values{"forbid": {"okra, potato"}, "atmost": {"9 m2 turnip"}, "risk": {"30"}}.Encode()
	first := deskPage(t, h, way)
	if !strings.Contains(first, "being made, 0/10") { // it waited for no step of the plan
		t.Errorf("the first answer: %s", parsePage(t, first).find("h1")[0].words())
	}
	page := planAt(t, h, way)
	text := strings.ReplaceAll(parsePage(t, page).words(), nbsp, " ")
	for _, want := range []string{"With this plan food energy holds in", "years of 100", "In a year that 30 of 100 are poorer than", "sown once for 10 possible years", "Beside today's garden", "12 years that the plan has not seen", "ground free about",
		"The table, four weeks at a time", "for a clinician", "Take the plan up", "east", "Hours", "To give"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, not := range []string{"Potato,", "Okra,"} {
		if strings.Contains(text, not) {
			t.Errorf("the page has %q, which is forbidden", not)
		}
	}
	if !strings.Contains(page, `value="okra, potato"`) || len(page) > 100_000 {
		t.Errorf("the wishes are not kept, or %d bytes", len(page))
	}
	sheet := deskPage(t, h, strings.Replace(way, "/plan?", "/plan.csv?", 1))
	if !strings.HasPrefix(sheet, "what,from,until,bed,") || !strings.Contains(sheet, "\nsow,2") || !strings.Contains(sheet, "\neat,2") {
		t.Errorf("the CSV begins %.200s", sheet)
	}
	form := url.Values{"forbid": {"okra, potato"}, "atmost": {"9 m2 turnip"}, "risk": {"30"}}
	w := post(t, h, "/ground/plan", form)
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/ground/plan?accepted=1" {
		t.Fatalf("accepting: %d %s", w.Code, w.Header().Get("Location"))
	}
	if page := deskPage(t, h, "/ground/plan?accepted=1"); !strings.Contains(page, "The plan is written") {
		t.Error("accepting is not told")
	}
	st := standingOf(t, d)
	if st.snap.From != deskToday {
		t.Errorf("the description holds from %s", st.snap.From)
	}
	planned := 0
	for _, g := range st.growths {
		if g.Planned {
			planned++
		}
	}
	if lines := strings.Count(sheet, "\nsow,"); planned != lines || lines == 0 {
		t.Errorf("%d sowings are planned on the ground, the plan has %d", planned, lines)
	}
}

// TestPlanWishesAreChecked: what can't be read is said beside its field, and kept.
func TestPlanWishesAreChecked(t *testing.T) {
	d := planDesk(t)
	h := deskSite(t, d)
	for field, c := range map[string][2]string{
		"forbid":  {"tomatto", "is it tomato?"},
		"atmost":  {"turnip", "give an area"},
		"atleast": {"4 m2 turnipp", "is it turnip?"},
		"fallow":  {"eats", "is it east?"},
		"risk":    {"90", "1"},
		"once":    {"30", "from 1 to 24"},
	} {
		w := get(t, h, "GET", "/ground/plan?"+url.Values{field: {c[0]}}.Encode())
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), c[1]) || !strings.Contains(w.Body.String(), `value="`+c[0]+`"`) {
			t.Errorf("%s %q: %d", field, c[0], w.Code)
		}
		if bad := parsePage(t, w.Body.String()).find("#bad-" + field); len(bad) != 1 {
			t.Errorf("%s: %d notes beside the field", field, len(bad))
		}
	}
	if w := post(t, h, "/ground/plan", url.Values{"forbid": {"tomatto"}}); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "tomatto") {
		t.Errorf("accepting a plan of a bad wish: %d %s", w.Code, w.Header().Get("Location"))
	}
	page := planAt(t, h, "/ground/plan?"+url.Values{"forbid": {"turnip"}, "atleast": {"4 m2 turnip"}}.Encode())
	if !strings.Contains(page, "No plan came of this") || !strings.Contains(page, "at least 4 m2 turnip") {
		t.Error("wishes that clash are not named")
	}
}

func TestWishUnits(t *testing.T) {
	for _, c := range []struct {
		text string
		sys  unit.System
		want string
	}{
		{"30 potato", unit.Metric, "30 m2 potato"}, {"30 sweet potato", unit.US, "30 ft2 sweet potato"}, {"300 ft2 potato", unit.Metric, "300 ft2 potato"},
		{"30 m2 potato", unit.US, "30 m2 potato"}, {"potato", unit.US, "potato"}, {"1 1/2 m2 kale", unit.US, "1 1/2 m2 kale"}, {"30", unit.US, "30"}, {"30 ", unit.US, "30 "},
	} {
		if got := inUnits(c.text, c.sys); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

func FuzzReadPlan(f *testing.F) {
	d := planDesk(f)
	s, err := d.Now(f.Context())
	deskMust(f, err)
	w, err := readWords("")
	deskMust(f, err)
	for _, q := range []string{"forbid=okra", "atmost=30+m2+potato%2C+4+kale&risk=20", "fallow=east%2Ceast", "risk=NaN&worth=1&once=-2", "atmost=%2C%2C+5"} {
		f.Add(q)
	}
	f.Fuzz(func(t *testing.T, raw string) {
		q, err := url.ParseQuery(raw)
		if err != nil {
			return
		}
		ask, bad := readPlan(q, s, w)
		if !(ask.risk == 0 || ask.risk >= 0.01 && ask.risk <= 0.5) || len(ask.wishes) > mostWishes {
			t.Errorf("%q: risk %g, %d wishes", raw, ask.risk, len(ask.wishes))
		}
		_ = ask.key()
		for field, said := range bad {
			if said == "" {
				t.Errorf("%q: nothing is said of %s", raw, field)
			}
		}
	})
}

// TestPlanPageIsQuick: a plan that is made is shown in 60 ms.
func TestPlanPageIsQuick(t *testing.T) {
	d := planDesk(t)
	h := deskSite(t, d)
	planAt(t, h, "/ground/plan")
	answersIn(t, h, "/ground/plan", 60*time.Millisecond*slack, nil)
}

func TestPlanInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	for _, c := range []struct {
		name string
		d    *Desk
		path string
	}{
		{"plan", planDesk(t), "/ground/plan?forbid=okra&worth=yes"},
		{"plan-faults", planDesk(t), "/ground/plan?forbid=tomatto&risk=99"},
		{"plan-accepted", planDesk(t), "/ground/plan?accepted=1"},
	} {
		h := deskSite(t, c.d)
		if c.name == "plan" {
			planAt(t, h, c.path)
		}
		srv := httptest.NewServer(h)
		t.Cleanup(srv.Close)
		for _, l := range []lookAt{{width: 390, theme: "light"}, {width: 390, theme: "dark"}, {width: 1280, theme: "light"}, {width: 1280, theme: "dark"}, {width: 320, theme: "light"}} {
			name := fmt.Sprintf("%s-%d-%s", c.name, l.width, l.theme)
			t.Run(name, func(t *testing.T) {
				tab := open(t, ctx, srv.URL+c.path, l.width, l.theme)
				if c.name != "plan-faults" { // its status is told in the console
					quiet(t, tab, c.path)
				}
				noSideways(t, tab)
				targets(t, tab)
				controls(t, tab)
				shoot(t, tab, name)
				axe(t, tab)
			})
		}
	}
}
