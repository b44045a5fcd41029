package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenstead/outside"
	"evenstead/unit"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// browser starts a real Chromium with a profile of its own.
func browser(t *testing.T, more ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	path := outside.Tool(t, "chromium", "chromium-browser", "google-chrome", "chrome")
	ctx, stop := chromedp.NewExecAllocator(t.Context(), append(more,
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.UserDataDir(t.TempDir()), chromedp.WSURLReadTimeout(time.Minute))...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	must(t, chromedp.Do(ctx))
	return ctx
}

// lookAt is one way of looking at a page.
type lookAt struct {
	name, path string
	opt        Options
	width      int64
	theme      string
}

func looks() []lookAt {
	rain := Options{Rain: fixtureRain}
	var list []lookAt
	for _, theme := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			list = append(list,
				lookAt{"ahead", "/", Options{}, width, theme},
				lookAt{"ahead-rain", "/", rain, width, theme},
				lookAt{"stores", "/stores", Options{Units: unit.US}, width, theme})
		}
	}
	return append(list,
		lookAt{"ahead", "/", Options{}, 320, "light"},
		lookAt{"ahead-rain", "/", rain, 320, "light"},
		lookAt{"stores", "/stores", Options{}, 320, "light"},
		lookAt{"missing", "/nowhere", Options{}, 390, "light"})
}

func TestInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	for _, l := range looks() {
		name := fmt.Sprintf("%s-%d-%s", l.name, l.width, l.theme)
		t.Run(name, func(t *testing.T) {
			srv := httptest.NewServer(newSite(t, l.opt))
			defer srv.Close()
			tab := open(t, ctx, srv.URL+l.path, l.width, l.theme)
			quiet(t, tab, l.path)
			noSideways(t, tab)
			if l.path != "/nowhere" {
				drawn(t, tab)
			}
			targets(t, tab)
			shoot(t, tab, name)
			axe(t, tab)
		})
	}
}

// open shows a page at a width in a theme; the console of the tab is kept.
func open(t *testing.T, parent context.Context, url string, width int64, theme string) context.Context {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent)
	t.Cleanup(cancel)
	seen := &consoleLines{}
	ctx = context.WithValue(ctx, consoleKey{}, seen)
	must(t, chromedp.Do(ctx))
	lines := chromedp.Console(ctx)
	go func() {
		for m, err := range lines {
			if err != nil {
				return
			}
			seen.add(m.String())
		}
	}()
	must(t, chromedp.Do(ctx,
		chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
			_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
				Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}})
			return err
		}),
		chromedp.EmulateViewport(width, 844),
		chromedp.Navigate(url)))
	return ctx
}

// quiet fails on anything the console said: blocked styles, missing files. The
// address that is not there logs its own 404, which is meant.
func quiet(t *testing.T, ctx context.Context, path string) {
	t.Helper()
	time.Sleep(50 * time.Millisecond)
	for _, line := range ctx.Value(consoleKey{}).(*consoleLines).all() {
		if path == "/nowhere" && strings.Contains(line, "404") {
			continue
		}
		t.Errorf("console: %s", line)
	}
}

// noSideways checks that nothing is wider than the screen, closed tables opened.
func noSideways(t *testing.T, ctx context.Context) {
	t.Helper()
	over := ask[string](t, ctx, `(() => {
		document.querySelectorAll("details").forEach(d => d.open = true);
		const w = document.documentElement.clientWidth;
		if (document.documentElement.scrollWidth <= w) return "";
		return "page is " + document.documentElement.scrollWidth + " wide: " + [...document.querySelectorAll("body *")]
			.filter(e => !e.closest("svg") && e.getBoundingClientRect().right > w + 1).slice(0, 5)
			.map(e => e.tagName + "." + e.className).join(", ");
	})()`)
	if over != "" {
		t.Error(over)
	}
	must(t, chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach(d => d.open = false)`)))
}

// drawn checks that every drawing has a size and a shape in it.
func drawn(t *testing.T, ctx context.Context) {
	t.Helper()
	empty := ask[[]string](t, ctx, `[...document.querySelectorAll("main svg")].filter(s => {
		const r = s.getBoundingClientRect();
		return r.width < 1 || r.height < 1 || (!s.querySelector("use,path,rect,line,circle"));
	}).filter(s => !s.closest("details:not([open])")).map(s => s.outerHTML.slice(0, 120))`)
	for _, e := range empty {
		t.Errorf("not drawn: %s", e)
	}
	hatch := ask[int](t, ctx, `[...document.querySelectorAll("rect.hatch")].filter(r => !getComputedStyle(r).fill.includes("url(")).length`)
	if hatch > 0 {
		t.Errorf("%d hatched fields have no hatch", hatch)
	}
}

// targets checks that what can be pressed is at least 44 px on each side, links
// inside a sentence excepted.
func targets(t *testing.T, ctx context.Context) {
	t.Helper()
	small := ask[[]string](t, ctx, `[...document.querySelectorAll("a:not(.skip), summary")].filter(e => {
		const r = e.getBoundingClientRect();
		return r.height > 0 && (r.height < 43.5 || r.width < 44);
	}).map(e => e.textContent + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
	for _, s := range small {
		t.Errorf("too small to press: %s", s)
	}
}

// axe runs the accessibility checks of the file that EVENSTEAD_AXE names.
func axe(t *testing.T, ctx context.Context) {
	t.Helper()
	path := os.Getenv("EVENSTEAD_AXE")
	if path == "" {
		return
	}
	script, err := os.ReadFile(path)
	must(t, err)
	must(t, chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](string(script)+";0"),
		chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach(d => d.open = true)`)))
	found, err := chromedp.Run(ctx, chromedp.Evaluate[string](
		`axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify(r.violations.map(v => v.id + ": " + v.help + " " + v.nodes.slice(0, 4).map(n => n.html.slice(0, 140) + " " + n.failureSummary).join(" | "))))`,
		chromedp.EvalAwaitPromise))
	must(t, err)
	var violations []string
	must(t, json.Unmarshal([]byte(found), &violations))
	for _, v := range violations {
		t.Errorf("axe: %s", v)
	}
}

// shoot keeps a picture of the whole page in the folder EVENSTEAD_SHOTS names.
func shoot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("EVENSTEAD_SHOTS")
	if dir == "" {
		return
	}
	width, tall := ask[int64](t, ctx, `innerWidth`), ask[int64](t, ctx, `document.documentElement.scrollHeight`)
	must(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, tall)))
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	must(t, err)
	must(t, os.MkdirAll(dir, 0o755))
	must(t, os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644))
}

func TestWaitPageInBrowser(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	h, err := New(func(context.Context) (*outlook, Progress) { return nil, Progress{Done: 4, Total: 10} }, Options{Stead: "Quernfold"})
	must(t, err)
	srv := httptest.NewServer(http.HandlerFunc(h.ServeHTTP))
	defer srv.Close()
	tab := open(t, ctx, srv.URL, 390, "light")
	if h1 := ask[string](t, tab, `document.querySelector("h1").textContent`); !strings.Contains(h1, "4/10 done") {
		t.Errorf("the waiting page says %q", h1)
	}
	noSideways(t, tab)
	axe(t, tab)
	shoot(t, tab, "wait-390-light")
}

func TestPrintIsBlack(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	srv := httptest.NewServer(newSite(t, Options{Rain: fixtureRain}))
	defer srv.Close()
	tab := open(t, ctx, srv.URL, 794, "dark")
	must(t, chromedp.Do(tab, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		return err
	})))
	hues := ask[[]string](t, tab, `[...new Set([...document.querySelectorAll("main *")].flatMap(e => {
		const s = getComputedStyle(e); return [s.color, s.fill, s.stroke];
	}).filter(c => /^rgb/.test(c)).filter(c => { const [r, g, b] = c.match(/\d+/g); return r !== g || g !== b; }))]`)
	if len(hues) > 0 {
		t.Errorf("paper is black only, yet it shows %v", hues)
	}
	if shown := ask[string](t, tab, `getComputedStyle(document.querySelector(".bar")).display`); shown != "none" {
		t.Errorf("the screens' bar is printed")
	}
	if dir := os.Getenv("EVENSTEAD_SHOTS"); dir != "" {
		shoot(t, tab, "print-794")
	}
}

// ask evaluates an expression in the page.
func ask[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	must(t, err)
	return v
}
