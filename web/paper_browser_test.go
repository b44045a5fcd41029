package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"evenstead/demo"
)

// sizeOf is a page of paper, in points of 1/72 in, and the width between its
// margins in CSS pixels.
var sizeOf = map[string]struct {
	box   string
	width int64
}{
	sizeA4:     {"594.9", 710}, // 210 mm less twice 11
	sizeLetter: {"612 ", 733},  // 216 mm less twice 11
}

// TestPaperAsPDF prints every sheet in both sizes: as many pages as are meant, of
// the size that was asked for, and nothing wider than the paper.
func TestPaperAsPDF(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	d := deskOf(t, demo.Quernfold())
	write(t, d, livedAt+"\nworked 3 h for the landowner 2026-11-12")
	settled(t, d)
	srv := httptest.NewServer(deskSite(t, d))
	t.Cleanup(srv.Close)
	// Pages of the invented stead in its fourth week, A4 and Letter; what it holds
	// shifts a row or two when the engine learns something.
	pages := map[string][2]int{"/paper/week": {2, 2}, "/paper/beds": {6, 6}, "/paper/store": {3, 3}, "/paper/tanks": {1, 1}, "/paper/labels": {4, 4},
		"/paper/keeping": {3, 3}, "/paper/helper-1": {2, 2}, "/paper/helper-7": {2, 2}, "/paper/helper-14": {2, 2}, "/paper/storm": {1, 1},
		"/paper/exchange": {1, 1}, "/handover": {10, 10}, "/openday": {3, 4}}
	tab := open(t, ctx, srv.URL+"/paper", 702, "dark")
	for _, path := range sheetPaths() {
		for i, size := range []string{sizeA4, sizeLetter} {
			t.Run(strings.ReplaceAll(strings.Trim(path, "/"), "/", "-")+"-"+size, func(t *testing.T) {
				must(t, chromedp.Do(tab, chromedp.EmulateViewport(sizeOf[size].width, 900), chromedp.Navigate(srv.URL+path+"?size="+size)))
				pdf := printed(t, tab)
				if got, want := len(pdfPage.FindAll(pdf, -1)), pages[path][i]; got > want || got < max(1, want-1) {
					t.Errorf("%d pages, want %d, or one less where the stead has a row less", got, want)
				}
				for _, m := range pdfBox.FindAllSubmatch(pdf, -1) {
					if !strings.HasPrefix(string(m[1])+" ", sizeOf[size].box) {
						t.Errorf("a page is %s points wide and high, want %s", m[1], sizeOf[size].box)
					}
				}
				nothingCut(t, tab)
				keep(t, path+"-"+size, pdf)
			})
		}
	}
}

var pdfBox = regexp.MustCompile(`/MediaBox\s*\[0 0 ([^\]]*)\]`)

// printed is the page as the browser prints it, in the size its style asks for.
func printed(t *testing.T, tab context.Context) []byte {
	t.Helper()
	yes := true
	got, err := chromedp.Run(tab, chromedp.PrintToPDF(func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = &yes }))
	must(t, err)
	return got
}

// nothingCut looks at the page as paper of its width: no box or word reaches over
// the right edge, and all ink is black.
func nothingCut(t *testing.T, tab context.Context) {
	t.Helper()
	media(t, tab, "print")
	defer media(t, tab, "")
	over := ask[[]string](t, tab, `(() => {
		const w = document.documentElement.clientWidth;
		const shown = [...document.querySelectorAll(".sheet, .sheet *")].filter(e => !e.classList.contains("unseen"));
		return shown.filter(e => e.getBoundingClientRect().right > w + 1 || (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).overflow !== "visible"))
			.slice(0, 5).map(e => e.tagName + "." + (e.className.baseVal ?? e.className) + " " + Math.round(e.getBoundingClientRect().right) + " of " + w + ": " + e.textContent.slice(0, 40));
	})()`)
	for _, o := range over {
		t.Errorf("cut: %s", o)
	}
	hues := ask[[]string](t, tab, `[...new Set([...document.querySelectorAll(".sheet *")].flatMap(e => {
		const s = getComputedStyle(e); return [s.color, s.fill, s.stroke, s.borderTopColor];
	}).filter(c => /^rgb/.test(c)).filter(c => { const [r, g, b] = c.match(/\d+/g); return r !== g || g !== b; }))]`)
	if len(hues) > 0 {
		t.Errorf("paper is black only, yet it shows %v", hues)
	}
	if shown := ask[string](t, tab, `[...document.querySelectorAll(".bar, .papertools, .almanac")].map(e => getComputedStyle(e).display).join(" ")`); strings.TrimSpace(strings.ReplaceAll(shown, "none", "")) != "" {
		t.Errorf("what is not paper is printed: %s", shown)
	}
}

func media(t *testing.T, tab context.Context, kind string) {
	t.Helper()
	_, err := chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind})
	must(t, err)
}

// keep writes a PDF into the folder that EVENSTEAD_SHOTS names.
func keep(t *testing.T, name string, pdf []byte) {
	t.Helper()
	if dir := os.Getenv("EVENSTEAD_SHOTS"); dir != "" {
		must(t, os.MkdirAll(dir, 0o755))
		must(t, os.WriteFile(filepath.Join(dir, strings.ReplaceAll(strings.Trim(name, "/"), "/", "-")+".pdf"), pdf, 0o644))
	}
}

// TestPaperPagesInBrowser looks at the pages on the screen.
func TestPaperPagesInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	for i, path := range []string{"/paper", "/paper/week", "/paper/store/type", "/paper/store", "/paper/labels", "/paper/tanks", "/paper/beds", "/calendar", "/openday", "/drum/1", "/handover"} {
		for j, l := range []lookAt{{width: 390, theme: "light"}, {width: 1280, theme: "dark"}, {width: 320, theme: "dark"}, {width: 1280, theme: "light"}} {
			if i%2 != j%2 {
				continue // every page in two of them, every one of them on half the pages
			}
			name := fmt.Sprintf("%s-%d-%s", strings.ReplaceAll(strings.Trim(path, "/"), "/", "-"), l.width, l.theme)
			t.Run(name, func(t *testing.T) {
				tab := open(t, ctx, base+path, l.width, l.theme)
				quiet(t, tab, path)
				noSideways(t, tab)
				targets(t, tab)
				shoot(t, tab, name)
				axe(t, tab)
			})
		}
	}
}
