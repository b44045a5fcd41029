package web

import (
	"bytes"
	"context"
	"fmt"
	"image/color"
	"image/png"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"evenstead/book"
	"evenstead/demo"
)

// handsAt are hands on a page of a width, with script or without.
func handsAt(t *testing.T, ctx context.Context, url string, width int64, script bool) hands {
	t.Helper()
	tab := open(t, ctx, url, width, "light")
	_, err := chromedp.Call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !script})
	must(t, err)
	h := hands{t, tab}
	h.open(url)
	return h
}

// bothWays runs a walk with script on and with script off.
func bothWays(t *testing.T, walk func(t *testing.T, script bool)) {
	for _, script := range []bool{true, false} {
		t.Run(map[bool]string{true: "script on", false: "script off"}[script], func(t *testing.T) { walk(t, script) })
	}
}

// TestWalkFirstRun answers all twelve questions on a phone, a slip and its mend
// among them, and ends on Now with an outlook.
func TestWalkFirstRun(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	bothWays(t, func(t *testing.T, script bool) {
		site, d := starting(t)
		srv := httptest.NewServer(site)
		t.Cleanup(srv.Close)
		h := handsAt(t, ctx, srv.URL+"/stores", 390, script)
		h.fill("#f-name", "Fennick Hollow")
		h.press("input[value=metric]", "#f-name") // this browser reads US English
		next := func(shows string) { h.t.Helper(); h.press(".startnext button[value=next]", shows) }
		next("#f-lat")
		h.fill("#f-lat", "134")
		next("#e-lat")
		h.fill("#f-lat", "34.2")
		h.fill("#f-elev", "140 m")
		next("#f-rain")
		h.press("input[value=normals]", "#f-rain")
		h.fill("#f-rain", "112 96 84 68 46 19 5 8 29 83 118 124")
		h.fill("#f-wet", "12 11 11 9 7 3 1 1 4 8 11 12")
		h.fill("#f-low", "3 4 5 7 10 14 16 16 13 10 6 4")
		h.fill("#f-high", "12 14 17 19 23 28 31 31 28 22 16 13")
		next("#f-people")
		h.fill("#f-who", "Ada f 38, Bo m 41")
		next("#f-roof")
		h.wait(".startsofar")
		next("#f-tanks")
		h.press(".startnext button[value=back]", ".months")
		next("#f-tanks")
		next("#f-beds")
		h.press("input[value=kale]", "#f-beds")
		h.press("button[value=look]", ".starttold li")
		next(`[name="tree.fig"]`)
		h.fill(`[name="tree.fig"]`, "2")
		next(`[name="lot.oats"]`)
		h.fill(`[name="lot.oats"]`, "20 kg")
		next("input[name=toilet]")
		next("input[name=cook]")
		next("#f-hours")
		next(".acts, .now")
		s := settled(t, d)
		if s.Outlook == nil || s.Stead.Name != "Fennick Hollow" || len(s.Stead.Trees) != 1 || len(s.Stead.Lots) != 1 || len(s.Stead.Plantings) != 1 {
			t.Errorf("outlook %v (%v), stead:\n%s", s.Outlook != nil, s.Progress.Err, s.Text)
		}
		h.open(srv.URL + "/")
		h.wait(".cover")
	})
}

// TestWalkHousehold does what a household does in a week: notes, counts, dips,
// tries a change, strikes a line, mends its description, changes its units.
func TestWalkHousehold(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	bothWays(t, func(t *testing.T, script bool) {
		d, base := deskServer(t)
		h := handsAt(t, ctx, base, 390, script)
		for _, walk := range []struct {
			name string
			do   func(hands, *Desk, string)
		}{{"note", walkNotes}, {"dip", walkDip}, {"count", walkCount}, {"try a change", walkTry}, {"strike", walkStrike}, {"stead edit", walkStead}, {"settings", walkSettings}} {
			t.Run(walk.name, func(t *testing.T) { walk.do(hands{t, h.ctx}, d, base) })
		}
	})
}

func walkDip(h hands, d *Desk, base string) {
	had := h.standing(d)
	h.open(base + "/stores")
	h.fill("#dipa", "a puddle")
	h.press("#dip button", "#dipe")
	h.fill("#dipa", "7,900 L")
	h.press("#dip button", ".wrote")
	s, err := d.Now(h.t.Context())
	must(h.t, err)
	if e := s.All[len(s.All)-1]; len(s.Entries) != had+1 || e.Kind != book.Dipped || e.Body.Amount != 7900 {
		h.t.Errorf("%d entries, the last %+v", len(s.Entries), e)
	}
}

func walkCount(h hands, d *Desk, base string) {
	had := h.standing(d)
	h.open(base + "/stores")
	h.fill("#cnta", "12 kg")
	h.press("#count button", ".wrote")
	s, err := d.Now(h.t.Context())
	must(h.t, err)
	if e := s.All[len(s.All)-1]; len(s.Entries) != had+1 || e.Kind != book.Counted || e.Body.Amount != 12 {
		h.t.Errorf("%d entries, the last %+v", len(s.Entries), e)
	}
}

// walkTry tries a change, which stays a try: nothing is written.
func walkTry(h hands, d *Desk, base string) {
	had := h.standing(d)
	settled(h.t, d)
	h.open(base + "/ahead")
	h.fill("#try-bed", "20")
	h.press(".try form button", ".tried, .try [role=status]")
	for range 600 {
		if h.find(".tried") != 0 {
			break
		}
		must(h.t, chromedp.Do(h.ctx, chromedp.Sleep(50_000_000), chromedp.Reload()))
	}
	h.wait(".tried")
	if n := h.standing(d); n != had {
		h.t.Errorf("a try wrote %d entries", n-had)
	}
}

func walkSettings(h hands, d *Desk, base string) {
	h.open(base + "/settings")
	h.press("input[name=units][value=us]", "#risk")
	h.fill("#risk", "0")
	h.press(".settingsform .buttons button", "#riske")
	h.fill("#risk", "15")
	h.press(".settingsform .buttons button", ".wrote")
	s, err := d.Now(h.t.Context())
	must(h.t, err)
	if s.Stead.Terms.Storage != 0.15 || unitsKey(s.Units) != "us" {
		h.t.Errorf("risk %g, units %s", s.Stead.Terms.Storage, unitsKey(s.Units))
	}
}

// deskPages are all pages of a household, by name; those of forms under way are
// made by the tests that need them.
var deskPages = []struct{ name, path string }{
	{"now", "/"}, {"ahead", "/ahead"}, {"figures", "/ahead/figures"}, {"stores", "/stores"}, {"fans", "/stores?from=1"}, {"ground", "/ground"},
	{"book", "/book"}, {"files", "/book/files"}, {"stead", "/book/stead"}, {"settings", "/settings"}, {"sums", "/sums"}, {"sum", "/sums/catch?area=900+ft2&rain=1+in&coefficient=0.90"}, {"missing", "/nowhere"},
	{"boots", "/boots"}, {"outbox", "/outbox"}, {"devices", "/devices"},
}

// TestEveryDeskPage looks at all pages in two widths, each in a theme of its own.
func TestEveryDeskPage(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	for _, p := range deskPages {
		for _, l := range everyWidth[1:] {
			t.Run(fmt.Sprintf("%s-%d-%s", p.name, l.width, l.theme), func(t *testing.T) { lookOver(t, ctx, base+p.path, p.path, "page-"+p.name, l.width, l.theme) })
		}
	}
}

// lookOver checks a page as it is drawn, and keeps a picture when one is wanted.
func lookOver(t *testing.T, ctx context.Context, url, path, name string, width int64, theme string) {
	tab := open(t, ctx, url, width, theme)
	quiet(t, tab, path)
	noSideways(t, tab)
	targets(t, tab)
	controls(t, tab)
	keyboard(t, tab)
	shoot(t, tab, fmt.Sprintf("%s-%d-%s", name, width, theme))
	axe(t, tab)
}

// keyboard checks that the first thing reached by keys is the way past the head,
// that nothing jumps the order, and that what is hidden is not reached.
func keyboard(t *testing.T, ctx context.Context) {
	t.Helper()
	said := ask[string](t, ctx, `(() => {
		const all = [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex]")].filter(e => e.tabIndex >= 0);
		if (!all.length || !all[0].classList.contains("skip")) return "the first stop is not the way past the head";
		if (!document.querySelector(all[0].getAttribute("href"))) return "the way past the head leads nowhere";
		const jumps = all.filter(e => e.tabIndex > 0);
		if (jumps.length) return "jumps the order: " + jumps[0].outerHTML.slice(0, 80);
		if (document.querySelectorAll("h1").length !== 1) return document.querySelectorAll("h1").length + " h1";
		return "";
	})()`)
	if said != "" {
		t.Error(said)
	}
}

// everyWidth looks at a page in every width and in both themes; colours do not
// hang on width.
var everyWidth = []lookAt{{width: 320, theme: "light"}, {width: 390, theme: "dark"}, {width: 1280, theme: "light"}}

// TestEveryQuestionLooksRight looks at the questions of the start, filled in.
func TestEveryQuestionLooksRight(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	site, _ := starting(t)
	srv := httptest.NewServer(site)
	t.Cleanup(srv.Close)
	at := "/start"
	for i, answers := range wholeStart() {
		for _, l := range everyWidth {
			t.Run(fmt.Sprintf("%d-%d-%s", i+1, l.width, l.theme), func(t *testing.T) {
				lookOver(t, ctx, srv.URL+at, at, fmt.Sprintf("start-%02d", i+1), l.width, l.theme)
			})
		}
		form := carried(t, asked(site, "GET", at, nil).Body.String())
		for k := range answers {
			form[k] = answers[k]
		}
		form.Set("do", "look")
		seen := asked(site, "POST", "/start", form).Header().Get("Location")
		t.Run(fmt.Sprintf("%d-answered", i+1), func(t *testing.T) {
			lookOver(t, ctx, srv.URL+seen, seen, fmt.Sprintf("start-%02d-answered", i+1), 390, "light")
		})
		form.Set("do", "next")
		at = asked(site, "POST", "/start", form).Header().Get("Location")
	}
	site, _ = starting(t)
	faulty := httptest.NewServer(site)
	t.Cleanup(faulty.Close)
	bad := asked(site, "POST", "/start", url.Values{"at": {"3"}, "do": {"next"}, "weather": {"normals"}, "rain": {"1 2"}}).Header().Get("Location")
	lookOver(t, ctx, faulty.URL+bad, bad, "start-faults", 390, "light")
}

// Paper sizes, inches.
var papers = []struct {
	name       string
	wide, tall float64
}{{"A4", 8.27, 11.69}, {"Letter", 8.5, 11}}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// TestEveryPagePrints prints all pages on both papers: black, without bar or form,
// one sheet or more, none of them bare.
func TestEveryPagePrints(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	for _, p := range deskPages {
		t.Run(p.name, func(t *testing.T) {
			tab := open(t, ctx, base+p.path, 794, "dark")
			for _, paper := range papers {
				pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperSize{Width: paper.wide, Height: paper.tall})))
				must(t, err)
				if n := len(pdfPage.FindAll(pdf, -1)); n < 1 || n > 12 || !bytes.HasPrefix(pdf, []byte("%PDF")) {
					t.Errorf("%s: %d sheets in %d bytes", paper.name, n, len(pdf))
				}
			}
			onPaper(t, tab)
			shoot(t, tab, "print-"+p.name)
			inked(t, tab)
		})
	}
}

// onPaper turns a page to paper and checks what stands on it.
func onPaper(t *testing.T, tab context.Context) {
	t.Helper()
	must(t, chromedp.Do(tab, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		return err
	})))
	shown := ask[[]string](t, tab, `[...document.querySelectorAll(".bar, .skip, button, input, select, textarea, summary")].filter(e => e.getBoundingClientRect().height > 1 && getComputedStyle(e).visibility !== "hidden").slice(0, 3).map(e => e.outerHTML.slice(0, 90))`)
	for _, s := range shown {
		t.Errorf("printed: %s", s)
	}
	hues := ask[[]string](t, tab, `[...new Set([...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().height > 0).flatMap(e => {
		const s = getComputedStyle(e); return [s.color, s.fill, s.stroke, s.backgroundColor, s.borderTopColor].map(c => [c, e.tagName + "." + (e.getAttribute("class") || "")]);
	}).filter(([c]) => /^rgb/.test(c)).filter(([c]) => { const [r, g, b] = c.match(/\d+/g); return r !== g || g !== b; }).map(([c, e]) => e + " " + c))].slice(0, 5)`)
	if len(hues) > 0 {
		t.Errorf("paper is black only, yet it shows %v", hues)
	}
}

// inked checks that a page is not bare.
func inked(t *testing.T, tab context.Context) {
	t.Helper()
	shot, err := chromedp.Run(tab, chromedp.FullScreenshot(100))
	must(t, err)
	img, err := png.Decode(bytes.NewReader(shot))
	must(t, err)
	dark := 0
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 0x60 {
				dark++
			}
		}
	}
	if dark < 500 {
		t.Errorf("%d dark points: the sheet is bare", dark)
	}
	if said := ask[string](t, tab, `document.querySelector("main").innerText.trim()`); len(strings.Fields(said)) < 5 {
		t.Errorf("it says %q", said)
	}
}

// TestStillForThoseWhoAsk: nothing moves when the reader wants no motion.
func TestStillForThoseWhoAsk(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	srv := httptest.NewServer(deskSite(t, deskOf(t, demo.Quernfold())))
	t.Cleanup(srv.Close)
	tab := open(t, ctx, srv.URL, 390, "light")
	must(t, chromedp.Do(tab, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
		return err
	})))
	moving := ask[[]string](t, tab, `[document.documentElement, ...document.querySelectorAll("*")].filter(e => { const s = getComputedStyle(e);
		return s.scrollBehavior === "smooth" || s.animationName !== "none" || parseFloat(s.transitionDuration) > 0.001; }).map(e => e.tagName)`)
	if len(moving) > 0 {
		t.Errorf("moves: %v", moving)
	}
}

// TestInstallable: the manifest is one that a browser takes.
func TestInstallable(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	srv := httptest.NewServer(deskSite(t, deskOf(t, demo.Quernfold())))
	t.Cleanup(srv.Close)
	tab := open(t, ctx, srv.URL, 390, "light")
	quiet(t, tab, "/")
	faults := installFaults(t, tab)
	if len(faults) > 0 {
		t.Errorf("the manifest: %v", faults)
	}
}

// installFaults are what the browser has against the manifest.
func installFaults(t *testing.T, tab context.Context) (said []string) {
	t.Helper()
	got, err := chromedp.Call(tab, page.GetAppManifest, page.GetAppManifestParams{})
	must(t, err)
	for _, e := range got.Errors {
		said = append(said, e.Message)
	}
	if !strings.Contains(got.Data, "icon-512") {
		said = append(said, "it is not read")
	}
	return said
}
