package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"evenstead/demo"
)

// livedAt are three weeks of an invented household's notes.
const livedAt = `Rook: rain 14 mm 2026-11-03
Sorrel: picked 900 g kale 2026-11-05 07:30
dipped barn at 12000 L 2026-11-10 08:00
counted potatoes 60 kg 2026-11-12
ate 2 kg potatoes 2026-11-13
Rook: rain 22 mm 2026-11-15
worked 3 h weeding 2026-11-16
Sorrel: counted potatoes 41 kg 2026-11-24 19:10 (the near bin only)
dipped barn at 9000 L 2026-11-24 08:00
Rook: picked 1.4 kg kale 2026-11-24 12:20
cooked 6 kg wood 2026-11-25 07:00`

// deskServer serves a desk that has been lived at, its outlook reckoned.
func deskServer(t *testing.T) (*Desk, string) {
	t.Helper()
	d := deskOf(t, demo.Quernfold())
	got := write(t, d, livedAt)
	_, err := d.Home().Strike(t.Context(), got[4].ID, "eaten by the neighbour's goat, not by us")
	must(t, err)
	d.Changed()
	settled(t, d)
	srv := httptest.NewServer(deskSite(t, d))
	t.Cleanup(srv.Close)
	return d, srv.URL
}

func TestDeskPagesInBrowser(t *testing.T) {
	ctx := browser(t)
	d, base := deskServer(t)
	s, err := d.Now(t.Context())
	must(t, err)
	h := deskSite(t, d)
	note := post(t, h, "/note", url.Values{"text": {"rain 3\npicked 900 g kale\npicked 3000 kg basil\nblorp the thing\nspread 20 kg drum 1 on " + s.Stead.Trees[0].Name}}).Header().Get("Location")
	bad := strings.Replace(s.Text, `latitude = "40.1 N"`, `latitude = "95 N"`, 1)
	text := post(t, h, "/book/stead", url.Values{"text": {bad}, "from": {"2026-11-25"}, "do": {"check"}}).Header().Get("Location")
	// The drafts of h are its own: the server of the walk must be the same site.
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	for _, p := range []struct{ name, base, path string }{
		{"now", base, "/"}, {"note", srv.URL, note}, {"book", base, "/book"}, {"entry", base, "/book/" + s.Entries[0].ID.String()},
		{"struck", base, "/book?find=potato"}, {"files", base, "/book/files"}, {"stead", base, "/book/stead"}, {"stead-faults", srv.URL, text},
	} {
		for _, l := range []lookAt{{width: 390, theme: "light"}, {width: 390, theme: "dark"}, {width: 1280, theme: "light"}, {width: 1280, theme: "dark"}, {width: 320, theme: "light"}} {
			name := fmt.Sprintf("%s-%d-%s", p.name, l.width, l.theme)
			t.Run(name, func(t *testing.T) {
				tab := open(t, ctx, p.base+p.path, l.width, l.theme)
				quiet(t, tab, p.path)
				noSideways(t, tab)
				targets(t, tab)
				controls(t, tab)
				shoot(t, tab, name)
				axe(t, tab)
			})
		}
	}
}

// controls checks that buttons and fields are at least 44 px high.
func controls(t *testing.T, ctx context.Context) {
	t.Helper()
	small := ask[[]string](t, ctx, `[...document.querySelectorAll("button, input:not([type=hidden]):not([type=radio]), select, textarea, .pick")].filter(e => {
		const r = e.getBoundingClientRect();
		return r.height > 0 && (r.height < 43.5 || r.width < 44);
	}).map(e => e.tagName + " " + e.name + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
	for _, s := range small {
		t.Errorf("too small to press: %s", s)
	}
}

// press clicks and waits until the page that follows shows something.
func press(t *testing.T, tab context.Context, button, shows string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(tab, time.Minute)
	defer cancel()
	must(t, chromedp.Do(ctx, chromedp.Click(button), chromedp.WaitVisible(shows)))
}

// typeIn puts text into a field that may hold some.
func typeIn(t *testing.T, tab context.Context, field, text string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(tab, time.Minute)
	defer cancel()
	must(t, chromedp.Do(ctx, chromedp.SetValue(field, ""), chromedp.SendKeys(field, text)))
}

// TestWalks goes through the book as a household does, with script off: nothing
// of it may need any.
func TestWalks(t *testing.T) {
	ctx := browser(t)
	d, base := deskServer(t)
	tab := open(t, ctx, base, 390, "light")
	must(t, chromedp.Do(tab, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	})))
	before, err := d.Now(t.Context())
	must(t, err)
	t.Run("note, count and dip", func(t *testing.T) { walkNotes(t, tab, d, base, len(before.Entries)) })
	t.Run("strike", func(t *testing.T) { walkStrike(t, tab, d, base) })
	t.Run("stead edit with an error and its mend", func(t *testing.T) { walkStead(t, tab, d, base) })
}

func walkNotes(t *testing.T, tab context.Context, d *Desk, base string, had int) {
	must(t, chromedp.Do(tab, chromedp.Navigate(base+"/")))
	typeIn(t, tab, "#text", "picked 900 g kale\ncounted potatoes 40 kg\ndipped barn at 8500 L\npikced 2 kg chard")
	press(t, tab, ".mistform button", ".readlines")
	press(t, tab, `button[value="write"]`, "#line1")
	typeIn(t, tab, "#line1", "picked 2 kg chard")
	press(t, tab, `button[value="read"]`, ".understood")
	press(t, tab, `button[value="write"]`, ".wrote")
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Entries) != had+4 {
		t.Errorf("%d entries, want %d", len(s.Entries), had+4)
	}
}

func walkStrike(t *testing.T, tab context.Context, d *Desk, base string) {
	before, err := d.Now(t.Context())
	must(t, err)
	must(t, chromedp.Do(tab, chromedp.Navigate(base+"/book?find=chard")))
	press(t, tab, ".entry .change", "#why")
	typeIn(t, tab, "#why", "it was kale")
	press(t, tab, `form[action$="/strike"] button`, ".entry")
	must(t, chromedp.Do(tab, chromedp.Navigate(base+"/book?find=chard"), chromedp.WaitVisible("del")))
	s, err := d.Now(t.Context())
	must(t, err)
	if len(s.Entries) != len(before.Entries)-1 {
		t.Errorf("%d entries, want %d", len(s.Entries), len(before.Entries)-1)
	}
}

func walkStead(t *testing.T, tab context.Context, d *Desk, base string) {
	must(t, chromedp.Do(tab, chromedp.Navigate(base+"/book/stead")))
	typeIn(t, tab, "#tname", "tote 9")
	typeIn(t, tab, "#tholds", "275 gal")
	press(t, tab, `button[value="tank"]`, "#understood-h")
	text, err := chromedp.Run(tab, chromedp.Value("#text"))
	must(t, err)
	bad := strings.Replace(text, `holds = "275 gal"`, `holds = "275 kg"`, 1)
	must(t, chromedp.Do(tab, chromedp.SetValue("#text", bad)))
	press(t, tab, `button[value="save"]`, ".steadfaults")
	if all, err := d.Home().Steads(t.Context()); err != nil || len(all) != 1 {
		t.Fatalf("%d descriptions after a fault, %v", len(all), err)
	}
	must(t, chromedp.Do(tab, chromedp.SetValue("#text", text)))
	press(t, tab, `button[value="save"]`, ".wrote")
	s, err := d.Now(t.Context())
	must(t, err)
	if n := len(s.Stead.Tanks); s.From != deskToday || s.Stead.Tanks[n-1].Name != "tote 9" {
		t.Errorf("the description from %s has %d tanks", s.From, n)
	}
}
