package web

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdpnet "github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"evenstead/book"
	"evenstead/demo"
	"evenstead/device"
)

// lanBoard is a host whose server for phones can be killed and started again on the
// same port, over the same file.
type lanBoard struct {
	t     *testing.T
	desk  *Desk
	house *House
	addr  string

	mu   sync.Mutex
	stop context.CancelFunc
	end  <-chan error
}

func boardOf(t *testing.T, d *Desk) *lanBoard {
	t.Helper()
	b := &lanBoard{t: t, desk: d, house: houseAt(t, time.Now), addr: "127.0.0.1:0"}
	b.start()
	b.addr = fmt.Sprintf("127.0.0.1:%d", b.house.port.Load())
	t.Cleanup(b.kill)
	return b
}

// start begins to serve, with nothing remembered but the files.
func (b *lanBoard) start() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stop != nil {
		return
	}
	h, err := NewDoor(b.desk, b.house, Options{})
	if err != nil {
		b.t.Error(err)
		return
	}
	ctx, stop := context.WithCancel(context.Background())
	end, err := ServeHouse(ctx, b.addr, b.house, brittle(ctx, h))
	for range 100 { // the port may not be free again yet
		if err == nil {
			break
		}
		time.Sleep(20 * time.Millisecond)
		end, err = ServeHouse(ctx, b.addr, b.house, brittle(ctx, h))
	}
	if err != nil {
		b.t.Error(err)
	}
	b.stop, b.end = stop, end
}

// brittle drops answers once the server is being killed, written or not.
func brittle(ctx context.Context, h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		got := httptest.NewRecorder()
		h.ServeHTTP(got, r)
		if ctx.Err() != nil {
			panic(http.ErrAbortHandler)
		}
		for k, v := range got.Header() {
			w.Header()[k] = v
		}
		w.WriteHeader(got.Code)
		_, _ = w.Write(got.Body.Bytes())
	})
}

func (b *lanBoard) kill() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stop == nil {
		return
	}
	b.stop()
	<-b.end
	b.stop = nil
}

// way is the address of a page.
func (b *lanBoard) way(path string) string { return "https://" + b.addr + path }

// trusting are the flags of a browser in which the house's certificate is installed:
// Chromium takes it by the sum of its key.
func trusting(t *testing.T, house *House) []chromedp.ExecAllocatorOption {
	t.Helper()
	leaf, err := house.keeper.Certificate(nil)
	must(t, err)
	sum := sha256.Sum256(leaf.Leaf.RawSubjectPublicKeyInfo)
	return []chromedp.ExecAllocatorOption{chromedp.Flag("ignore-certificate-errors-spki-list", base64.StdEncoding.EncodeToString(sum[:]))}
}

// signal turns the tab's network on or off (CDP network emulation).
func (h hands) signal(on bool) {
	h.t.Helper()
	_, err := chromedp.Call(h.ctx, cdpnet.Enable, cdpnet.EnableParams{})
	must(h.t, err)
	_, err = chromedp.Call(h.ctx, emulateNetwork, map[string]any{"offline": !on, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1})
	must(h.t, err)
}

// emulateNetwork is written out: its successor has another form in each Chromium.
var emulateNetwork = cdp.Command[map[string]any, cdp.Empty]{Method: "Network.emulateNetworkConditions"}

// awaits evaluates a promise.
func awaits[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	must(t, err)
	return v
}

// until waits until an expression is true in the page.
func (h hands) until(expression string) {
	h.t.Helper()
	last := ""
	for end := time.Now().Add(40 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		got, err := chromedp.Run(h.ctx, chromedp.Evaluate[bool]("Promise.resolve("+expression+").then(v => !!v)", chromedp.EvalAwaitPromise))
		if err == nil && got {
			return
		}
		last = fmt.Sprint(err)
	}
	h.t.Fatalf("%s does not come (%s); the page says: %.600s", expression, last, ask[string](h.t, h.ctx, `document.body.innerText`))
}

// waits is how many forms wait on the phone.
func (h hands) waits() int {
	h.t.Helper()
	return awaits[int](h.t, h.ctx, `new Promise((done, fail) => { const o = indexedDB.open("evenstead", 1);
		o.onupgradeneeded = () => o.result.createObjectStore("outbox", { keyPath: "id" });
		o.onerror = fail; o.onsuccess = () => { const r = o.result.transaction("outbox").objectStore("outbox").count(); r.onsuccess = () => { o.result.close(); done(r.result); }; }; })`)
}

// pairPhone pairs the browser with the house as its owner would.
func pairPhone(t *testing.T, h hands, b *lanBoard, role device.Role) {
	t.Helper()
	code, _, err := b.house.register.Offer(role)
	must(t, err)
	h.open(b.way("/"))
	h.wait("#code")
	h.fill("#code", strings.ToLower(code))
	h.fill("#name", "Sorrel's phone")
	h.press(".pairform button", "#trust")
}

// warmPages are those that must open without signal.
var warmPages = []string{"/", "/week", "/boots", "/stores", "/ground", "/outbox"}

// awaitWarm waits until the worker has kept all its pages.
func (h hands) awaitWarm(b *lanBoard) {
	h.t.Helper()
	h.open(b.way("/boots"))
	h.wait("#do-rain")
	h.until(`navigator.serviceWorker.ready.then(r => !!r.active)`)
	for _, p := range warmPages {
		h.until(fmt.Sprintf(`caches.match(%q)`, p))
	}
}

// tapRain notes so much rain on the page for muddy hands, and waits until the phone
// says that it is written or kept.
func (h hands) tapRain(mm string) {
	h.t.Helper()
	h.press("label[for=do-rain]", "#a-rain")
	h.until(`document.getElementById("do-rain").checked`)
	h.fill("#a-rain", mm)
	h.until(`document.getElementById("a-rain").value !== ""`)
	h.press(".reach .write", ".reach .told")
	h.until(`document.querySelector(".reach .told") && document.getElementById("a-rain").value === ""`)
}

// TestPhoneWithoutSignal pairs, loses signal, notes ten things while its tab and the
// server are killed at random, and comes home: all ten are in the book, once.
func TestPhoneWithoutSignal(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	settled(t, d)
	b := boardOf(t, d)
	ctx := browser(t, trusting(t, b.house)...)
	h := hands{t, open(t, ctx, "about:blank", 390, "light")}
	pairPhone(t, h, b, device.Household)
	h.awaitWarm(b)
	var noted []string

	t.Run("pages open without signal", func(t *testing.T) {
		h := hands{t, h.ctx}
		h.signal(false)
		b.kill()
		for _, p := range []string{"/week", "/stores", "/ground", "/"} {
			h.open(b.way(p))
			h.wait("main h1")
			if said := ask[string](t, h.ctx, `(document.querySelector(".stale") || {}).textContent || ""`); !strings.Contains(said, "as it was on") {
				t.Errorf("%s does not say that it is old: %q", p, said)
			}
		}
		h.open(b.way("/book"))
		h.wait("#waitlist")
	})

	t.Run("notes wait", func(t *testing.T) {
		h := hands{t, h.ctx}
		h.open(b.way("/"))
		for i := range 3 {
			text := fmt.Sprintf("rain %d.5 mm", i+1)
			h.fill("#text", text)
			h.press("#note button", "#note .told")
			h.until(`document.getElementById("text").value === ""`)
			noted = append(noted, text)
		}
		h.open(b.way("/boots"))
		for i := 3; i < 5; i++ {
			h.tapRain(fmt.Sprintf("%d.5", i+1))
			noted = append(noted, fmt.Sprintf("rain %d.5 mm", i+1))
		}
		if n := h.waits(); n != 5 {
			t.Errorf("%d wait, want 5", n)
		}
		h.until(`document.getElementById("waits").textContent.includes("5 wait here")`)
		shoot(t, h.ctx, "boots-waits-390-light")
		h.open(b.way("/outbox"))
		h.until(`document.querySelectorAll("#waitlist li").length === 5`)
		axe(t, h.ctx)
		shoot(t, h.ctx, "outbox-waits-390-light")
	})

	rng := rand.New(rand.NewPCG(20261125, 11))
	t.Run("tab and server are killed", func(t *testing.T) {
		over := make(chan struct{})
		var chaos sync.WaitGroup
		t.Cleanup(func() { close(over); chaos.Wait() })
		pauses := rand.New(rand.NewPCG(7, 7))
		chaos.Go(func() {
			for up := false; ; up = !up {
				select {
				case <-over:
					return
				case <-time.After(time.Duration(30+pauses.IntN(400)) * time.Millisecond):
				}
				if up {
					b.kill()
				} else {
					b.start()
				}
			}
		})
		for i := 5; i < 10; i++ {
			if rng.IntN(2) == 0 || i == 5 {
				must(t, chromedp.Cancel(h.ctx))
				h.ctx = open(t, ctx, "about:blank", 390, "light")
			}
			h := hands{t, h.ctx}
			h.open(b.way("/boots"))
			h.wait("#do-rain")
			h.tapRain(fmt.Sprintf("%d.5", i+1))
			noted = append(noted, fmt.Sprintf("rain %d.5 mm", i+1))
		}
	})

	must(t, chromedp.Cancel(h.ctx))
	b.start()
	h.ctx = open(t, ctx, b.way("/boots"), 390, "light")
	for end := time.Now().Add(time.Minute); h.waits() > 0 && time.Now().Before(end); time.Sleep(200 * time.Millisecond) {
	}
	if n := h.waits(); n != 0 {
		t.Errorf("%d still wait", n)
	}
	holdsOnce(t, d, noted)
}

// holdsOnce checks that the book has each rain noted, once, and nothing else.
func holdsOnce(t *testing.T, d *Desk, noted []string) {
	t.Helper()
	var got []string
	for _, e := range liveOf(t, d) {
		if e.Kind != book.Rain {
			t.Errorf("the book has %s: %s", e.Kind, e.Note)
			continue
		}
		got = append(got, fmt.Sprintf("rain %g mm", e.Body.Amount))
	}
	slices.Sort(got)
	slices.Sort(noted)
	if len(noted) == 0 || !slices.Equal(got, noted) {
		t.Errorf("noted %v\nthe book has %v", noted, got)
	}
}

// TestWaitsOnPlainHTTP: without TLS there is no worker, and forms wait while the page
// lives; they are sent by its own clock.
func TestWaitsOnPlainHTTP(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	var mu sync.Mutex
	up := true
	inner := deskSite(t, d)
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		ok := up
		mu.Unlock()
		if !ok {
			panic(http.ErrAbortHandler)
		}
		inner.ServeHTTP(w, r)
	}))
	t.Cleanup(srv.Close)
	u, err := url.Parse(srv.URL)
	must(t, err)
	ctx := browser(t, chromedp.Flag("host-resolver-rules", "MAP stead.example 127.0.0.1"))
	h := hands{t, open(t, ctx, "http://stead.example:"+u.Port()+"/boots", 390, "light")}
	h.wait("#do-rain")
	if ask[bool](t, h.ctx, `isSecureContext || "serviceWorker" in navigator && !!navigator.serviceWorker.controller`) {
		t.Fatal("this address is not the plain one that the test is of")
	}
	set := func(on bool) { mu.Lock(); up = on; mu.Unlock() }
	set(false)
	h.tapRain("3.5")
	if n := h.waits(); n != 1 {
		t.Errorf("%d wait, want 1", n)
	}
	set(true)
	must(t, chromedp.Do(h.ctx, chromedp.Evaluate[chromedp.Void](`dispatchEvent(new Event("online"))`)))
	h.until(`document.getElementById("waits").textContent.includes("All is sent")`)
	h.until(`document.querySelector(".stale.own").textContent.includes("ahead of home")`) // home's clock is that of the test
	h.tapRain("4.5")
	holdsOnce(t, d, []string{"rain 3.5 mm", "rain 4.5 mm"})
}

// TestBootsByHand writes by tap with script on and off.
func TestBootsByHand(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	bothWays(t, func(t *testing.T, script bool) {
		d, base := deskServer(t)
		h := handsAt(t, ctx, base+"/boots", 390, script)
		had := h.standing(d)
		h.press("label[for=do-picked]", "#v-picked")
		h.press("label[for=t-picked-0]", "#v-picked")
		h.press("#v-picked .adds button:nth-child(3)", "#a-picked")
		h.until(`document.getElementById("a-picked") && document.getElementById("a-picked").value === "1"`)
		h.press("#v-picked .adds button:nth-child(2)", "#a-picked")
		h.until(`document.getElementById("a-picked") && document.getElementById("a-picked").value === "1.5"`)
		h.press(".reach .write", ".reach .wrote")
		s, err := d.Now(t.Context())
		must(t, err)
		e := s.All[len(s.All)-1]
		if len(s.Entries) != had+1 || e.Kind != book.Picked || e.Body.What != "kale" || e.Body.Amount != 1.5 {
			t.Errorf("%d entries, the last %+v", len(s.Entries), e)
		}
		h.press("label[for=do-other]", "#v-other")
		h.fill("#text", "worked 2 h weeding")
		if script {
			h.press(".reach .write", ".reach .wrote")
			h.until(`document.querySelector(".reach .wrote").textContent.includes("Worked")`)
		} else {
			h.press(".reach .write", `button[value="write"]`)
			h.press(`button[value="write"]`, ".wrote")
		}
		if n := h.standing(d); n != had+2 {
			t.Errorf("%d entries, want %d", n, had+2)
		}
		h.open(base + "/boots?do=picked")
		h.press(".reach .write", ".reach .wrong")
		if n := h.standing(d); n != had+2 {
			t.Errorf("without an amount %d entries, want %d", n, had+2)
		}
	})
}

// TestBootsFitsAHand: what is tapped has 56 px and the button is at the thumb.
func TestBootsFitsAHand(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	for _, width := range []int64{320, 390} {
		tab := open(t, ctx, base+"/boots", width, "light")
		small := ask[[]string](t, tab, `[...document.querySelectorAll(".bootsform span > label, .bootsform button, .bootsform input:not([type=hidden], .unseen), .bootsform textarea, .bootsform summary")]
			.filter(e => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 56 || r.width < 56); })
			.map(e => e.tagName + " " + (e.id || e.textContent) + " " + Math.round(e.getBoundingClientRect().width) + "x" + Math.round(e.getBoundingClientRect().height))`)
		for _, s := range small {
			t.Errorf("%d px: too small for a wet thumb: %s", width, s)
		}
		if low := ask[float64](t, tab, `document.querySelector(".write").getBoundingClientRect().bottom / innerHeight`); low < 0.8 || low > 1 {
			t.Errorf("%d px: the button ends at %.2f of the screen", width, low)
		}
		noSideways(t, tab)
	}
}

// TestPhotosShrink sends a photo of 3000 px through the page.
func TestPhotosShrink(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	tab := open(t, ctx, base+"/boots", 390, "light")
	size := awaits[[]float64](t, tab, `(async () => {
		const c = document.createElement("canvas"); c.width = 3000; c.height = 2000; c.getContext("2d").fillRect(9, 9, 99, 99);
		const big = await new Promise(done => c.toBlob(done, "image/png"));
		const files = new DataTransfer(); files.items.add(new File([big], "a.png", { type: "image/png" }));
		document.getElementById("photo").files = files.files;
		document.getElementById("do-rain").checked = true; document.getElementById("a-rain").value = "7.5";
		const seen = new Promise(done => { const real = fetch; window.fetch = (w, i) => { if (String(w).startsWith("/outbox/photo/")) done(i.body); return real(w, i); }; });
		document.querySelector(".write").click();
		const img = await createImageBitmap(await seen);
		return [img.width, img.height];
	})()`)
	if len(size) != 2 || size[0] != 1600 || size[1] != 1067 {
		t.Errorf("a photo of 3000 x 2000 is sent as %v", size)
	}
	h := hands{t, tab}
	h.until(`document.querySelector(".reach .wrote")`)
}

// TestPairPageLooksRight looks at what a phone sees before and after it is paired.
func TestPairPageLooksRight(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	b := boardOf(t, d)
	ctx := browser(t, trusting(t, b.house)...)
	for _, theme := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			lookOver(t, ctx, b.way("/pair?wrong=1&code=4F7K-Q2ZM"), "/pair", "pair", width, theme)
		}
	}
	lookOver(t, ctx, b.way("/pair"), "/pair", "pair", 320, "light")
	h := hands{t, open(t, ctx, "about:blank", 390, "light")}
	pairPhone(t, h, b, device.Helper)
	lookOver(t, ctx, b.way("/boots"), "/boots", "helper-boots", 390, "light")
	for _, theme := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			lookOver(t, ctx, b.way("/phone"), "/phone", "phone", width, theme)
		}
	}
	host, err := NewAt(d, Options{House: b.house})
	must(t, err)
	made := asked(host, "POST", "/devices/code", url.Values{"role": {"household"}}).Header().Get("Location")
	srv := httptest.NewServer(host)
	t.Cleanup(srv.Close)
	for _, theme := range []string{"light", "dark"} {
		for _, width := range []int64{390, 1280} {
			lookOver(t, ctx, srv.URL+strings.Split(made, "#")[0], "/devices", "devices-code", width, theme)
		}
	}
}

// TestScriptOffNothingIsPromised: without script no page speaks of waiting.
func TestScriptOffNothingIsPromised(t *testing.T) {
	t.Parallel()
	ctx := browser(t)
	_, base := deskServer(t)
	tab := open(t, ctx, "about:blank", 390, "light")
	_, err := chromedp.Call(tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	must(t, err)
	h := hands{t, tab}
	h.open(base + "/boots")
	h.wait("#waits[hidden]")
}
