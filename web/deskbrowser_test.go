package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
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
	t.Parallel()
	ctx := browser(t)
	d, base := deskServer(t)
	s, err := d.Now(t.Context())
	must(t, err)
	h := deskSite(t, d)
	reckonedPage(t, h, "/reckoning")
	awaited(t, h, "/why?need=beds", "is being followed")
	note := post(t, h, "/note", url.Values{"text": {"rain 3\npicked 900 g kale\npicked 3000 kg basil\nblorp the thing\nspread 20 kg drum 1 on " + s.Stead.Trees[0].Name}}).Header().Get("Location")
	bad := strings.Replace(s.Text, `latitude = "40.1 N"`, `latitude = "95 N"`, 1)
	text := post(t, h, "/book/stead", url.Values{"text": {bad}, "from": {"2026-11-25"}, "do": {"check"}}).Header().Get("Location")
	// The drafts of h are its own: the server of the walk must be the same site.
	srv := httptest.NewServer(h)
	t.Cleanup(srv.Close)
	for _, p := range []struct{ name, base, path string }{
		{"now", base, "/"}, {"week", base, "/week"}, {"reckoning", base, "/reckoning"}, {"why", base, "/why?need=beds"}, {"note", srv.URL, note}, {"book", base, "/book"}, {"entry", base, "/book/" + s.Entries[0].ID.String()},
		{"struck", base, "/book?find=potato"}, {"files", base, "/book/files"}, {"stead", base, "/book/stead"}, {"stead-faults", srv.URL, text},
	} {
		for _, l := range everyWidth {
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

// controls checks that buttons and fields are at least 44 px high, and that the
// screens' bar is on the screen.
func controls(t *testing.T, ctx context.Context) {
	t.Helper()
	small := ask[[]string](t, ctx, `[...document.querySelectorAll("button, input:not([type=hidden], [type=radio], [type=checkbox]), select, textarea, .pick")].filter(e => {
		const r = e.getBoundingClientRect();
		return r.height > 0 && (r.height < 43.5 || r.width < 44);
	}).map(e => e.tagName + " " + e.name + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
	for _, s := range small {
		t.Errorf("too small to press: %s", s)
	}
	if cut := ask[int](t, ctx, `[...document.querySelectorAll(".bar a")].filter(e => e.getBoundingClientRect().right > innerWidth + 0.5 || e.getBoundingClientRect().left < -0.5).length`); cut > 0 {
		t.Errorf("%d words of the screens' bar are cut off", cut)
	}
}

// hands use a page by mouse and keys alone: nothing of what they do needs script
// in the page.
type hands struct {
	t   *testing.T
	ctx context.Context
}

// find returns the first node a selector names; 0 when there is none.
func (h hands) find(selector string) cdp.NodeID {
	h.t.Helper()
	doc, err := chromedp.Call(h.ctx, dom.GetDocument, dom.GetDocumentParams{})
	must(h.t, err)
	got, err := chromedp.Call(h.ctx, dom.QuerySelector, dom.QuerySelectorParams{NodeID: doc.Root.NodeID, Selector: selector})
	if err != nil { // the page is being left
		return 0
	}
	return got.NodeID
}

// wait waits until a selector names a node.
func (h hands) wait(selector string) cdp.NodeID {
	h.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if id := h.find(selector); id != 0 {
			return id
		}
	}
	h.t.Fatalf("%s does not come", selector)
	return 0
}

func (h hands) open(url string) {
	h.t.Helper()
	must(h.t, chromedp.Do(h.ctx, chromedp.Navigate(url)))
}

// at does something to the node that a selector names, again when the page has
// just changed under it.
func (h hands) at(selector string, do func(cdp.NodeID) error) {
	h.t.Helper()
	var err error
	for range 50 {
		if err = do(h.wait(selector)); err == nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	h.t.Fatalf("%s: %v", selector, err)
}

// press clicks a thing and waits until the page that follows shows another.
func (h hands) press(selector, shows string) {
	h.t.Helper()
	h.at(selector, func(id cdp.NodeID) error {
		if _, err := chromedp.Call(h.ctx, dom.ScrollIntoViewIfNeeded, dom.ScrollIntoViewIfNeededParams{NodeID: id}); err != nil {
			return err
		}
		got, err := chromedp.Call(h.ctx, dom.GetContentQuads, dom.GetContentQuadsParams{NodeID: id})
		if err != nil {
			return err
		}
		q := got.Quads[0]
		return chromedp.Do(h.ctx, chromedp.MouseClickXY((q[0]+q[4])/2, (q[1]+q[5])/2))
	})
	h.wait(shows)
}

// fill puts text into a field in place of what it holds.
func (h hands) fill(selector, text string) {
	h.t.Helper()
	h.at(selector, func(id cdp.NodeID) error {
		_, err := chromedp.Call(h.ctx, dom.Focus, dom.FocusParams{NodeID: id})
		return err
	})
	_, err := chromedp.Call(h.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "rawKeyDown", Commands: []string{"selectAll"}})
	must(h.t, err)
	_, err = chromedp.Call(h.ctx, input.InsertText, input.InsertTextParams{Text: text})
	must(h.t, err)
}

// TestWalks goes through the book as a household does, with script off.
func TestWalks(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	d, base := deskServer(t)
	tab := open(t, ctx, base, 1280, "light")
	_, err := chromedp.Call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	must(t, err)
	t.Run("note, count and dip", func(t *testing.T) { walkNotes(hands{t, tab}, d, base) })
	t.Run("strike", func(t *testing.T) { walkStrike(hands{t, tab}, d, base) })
	t.Run("stead edit with an error and its mend", func(t *testing.T) { walkStead(hands{t, tab}, d, base) })
}

// standing is how many entries count.
func (h hands) standing(d *Desk) int {
	h.t.Helper()
	s, err := d.Now(h.t.Context())
	must(h.t, err)
	return len(s.Entries)
}

func walkNotes(h hands, d *Desk, base string) {
	had := h.standing(d)
	h.open(base + "/")
	h.fill("#text", "picked 900 g kale\ncounted potatoes 40 kg\ndipped barn at 8500 L\npikced 2 kg chard")
	h.press(".mistform button", ".readlines")
	h.press(`button[value="write"]`, "#line1")
	if n := h.standing(d); n != had+3 {
		h.t.Errorf("%d entries, want %d", n, had+3)
	}
	h.fill("#line1", "picked 2 kg chard")
	h.press(`button[value="read"]`, ".understood:not(.wrong)")
	h.press(`button[value="write"]`, ".wrote")
	if n := h.standing(d); n != had+4 {
		h.t.Errorf("%d entries, want %d", n, had+4)
	}
}

func walkStrike(h hands, d *Desk, base string) {
	had := h.standing(d)
	h.open(base + "/book?find=chard")
	h.press(".entry .change", "#why")
	h.fill("#why", "it was kale")
	h.press(`form[action$="/strike"] button`, ".wrote")
	if n := h.standing(d); n != had-1 {
		h.t.Errorf("%d entries, want %d", n, had-1)
	}
	h.open(base + "/book?find=chard")
	h.press(".entry .change", `form[action$="/back"]`)
	h.press(`form[action$="/back"] button`, ".wrote")
	if n := h.standing(d); n != had {
		h.t.Errorf("%d entries after it was brought back, want %d", n, had)
	}
}

func walkStead(h hands, d *Desk, base string) {
	s, err := d.Now(h.t.Context())
	must(h.t, err)
	h.open(base + "/book/stead")
	h.fill("#text", strings.Replace(s.Text, `mass = "61 kg"`, `mass = "61 gal"`, 1))
	h.press(`button[value="save"]`, ".steadfaults")
	if all, err := d.Home().Steads(h.t.Context()); err != nil || len(all) != 1 {
		h.t.Fatalf("%d descriptions after a fault, %v", len(all), err)
	}
	h.fill("#text", strings.Replace(s.Text, `mass = "61 kg"`, `mass = "62 kg"`, 1))
	h.press(`button[value="check"]`, "#understood-h")
	h.fill("#tname", "tote 9")
	h.fill("#tholds", "275 gal")
	h.press(`button[value="tank"]`, ".added")
	h.press(`button[value="save"]`, ".wrote:not(.added)")
	s, err = d.Now(h.t.Context())
	must(h.t, err)
	if n := len(s.Stead.Tanks); s.From != deskToday || s.Stead.Tanks[n-1].Name != "tote 9" || s.Stead.People[0].Mass != 62 {
		h.t.Errorf("the description from %s has %d tanks, and Sorrel weighs %g", s.From, n, s.Stead.People[0].Mass)
	}
}
