package web

import (
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"evenstead/demo"
)

// waiting are pages that wait when they are first asked for.
var waiting = []string{"/reckoning?from=2026-11-01&to=2026-11-24", "/why?need=fat_g", "/ahead?rain=80&tank=none", "/ground/plan?risk=20"}

// TestWaitingPagesMoveNothing: a page that waits has a way to look again, tells so in
// its head, and neither loads itself anew nor asks a browser to (WCAG 2.2.1, 3.2.5).
func TestWaitingPagesMoveNothing(t *testing.T) {
	d := fewYears(t)
	write(t, d, livedAt)
	settled(t, d)
	h := deskSite(t, d)
	waited := 0
	for i, path := range waiting {
		for try := 0; ; try++ {
			w := get(t, h, "GET", path)
			page := parsePage(t, w.Body.String())
			for _, m := range page.find("meta") {
				if strings.EqualFold(m.attrs["http-equiv"], "refresh") {
					t.Errorf("%s loads itself anew", path)
				}
			}
			head, again := w.Header().Get("Evenstead-Waits") != "", page.find("#again")
			if head != (len(again) == 1) || head && again[0].find("a")[0].attrs["href"] != "" {
				t.Errorf("%s: the head says %v, the page has %d ways to look again", path, head, len(again))
			}
			if len(page.find("#waits")) != 1 {
				t.Errorf("%s has no word of what waits to be sent", path)
			}
			if waited++; !head || i > 1 { // the last are looked at until they are there by their own tests
				break
			}
			if try > 600 {
				t.Fatalf("%s waits for ever", path)
			}
			time.Sleep(100 * time.Millisecond)
		}
	}
	if waited <= len(waiting) {
		t.Error("no page waited")
	}
}

// TestWaitingIsToldInBrowser: the script says that it is there, and leads nowhere until
// it is asked to.
func TestWaitingIsToldInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	d := deskOf(t, demo.Quernfold())
	write(t, d, livedAt)
	settled(t, d)
	srv := httptest.NewServer(deskSite(t, d))
	t.Cleanup(srv.Close)
	d.lane.take(t.Context()) // nothing is reckoned until the page was seen to wait
	goOn := sync.OnceFunc(d.lane.free)
	t.Cleanup(goOn)
	tab := open(t, ctx, srv.URL+waiting[0], 390, "light")
	h1 := ask[string](t, tab, `document.querySelector("h1").textContent`)
	waits := ask[bool](t, tab, `!!document.getElementById("again")`)
	goOn()
	if !waits {
		t.Fatal("it was there at once, though nothing could be reckoned")
	}
	targets(t, tab)
	axe(t, tab)
	said := ""
	for end := time.Now().Add(30 * time.Second); said != "It is there: look" && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		said = ask[string](t, tab, `document.getElementById("again").textContent`)
	}
	if now := ask[string](t, tab, `document.querySelector("h1").textContent`); said != "It is there: look" || now != h1 {
		t.Errorf("the page says %q under %q, before %q", said, now, h1)
	}
	must(t, chromedp.Do(tab, chromedp.Click("#again a")))
	must(t, chromedp.Do(tab, chromedp.WaitReady(".jumps")))
	if ask[bool](t, tab, `!!document.getElementById("again")`) || !strings.Contains(ask[string](t, tab, `location.search`), "from=2026-11-01") {
		t.Error("the way leads elsewhere")
	}
}
