package web

import (
	"bufio"
	"context"
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"evenstead/demo"
	"evenstead/device"
)

// houseAt is a house in a folder of its own, by a clock.
func houseAt(t testing.TB, clock func() time.Time) *House {
	t.Helper()
	h, err := OpenHouse(filepath.Join(t.TempDir(), "evenstead.stead.lan"), "barn-board", clock, func() []netip.Addr {
		return []netip.Addr{netip.MustParseAddr("192.168.1.20")}
	})
	deskMust(t, err)
	return h
}

// doorOf is the house's door over a desk, by the desk's clock.
func doorOf(t testing.TB, d *Desk) (*House, http.Handler) {
	t.Helper()
	house := houseAt(t, d.clock)
	h, err := NewDoor(d, house, Options{})
	deskMust(t, err)
	return house, h
}

// tokenFor pairs a device of a role and returns what it shows.
func tokenFor(t testing.TB, house *House, role device.Role) string {
	t.Helper()
	if role == device.Nobody {
		return ""
	}
	code, _, err := house.register.Offer(role)
	deskMust(t, err)
	tok, _, err := house.register.Pair(code, role.String()+"'s phone", "192.168.1.7")
	deskMust(t, err)
	return tok
}

// asks sends a request through the door as a device would.
func asks(h http.Handler, tok, method, path string, form url.Values) *httptest.ResponseRecorder {
	var body io.Reader = http.NoBody
	if form != nil {
		body = strings.NewReader(form.Encode())
	}
	r := httptest.NewRequest(method, path, body)
	r.Host, r.RemoteAddr = "192.168.1.20:8043", "192.168.1.7:50000"
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	if tok != "" {
		r.AddCookie(&http.Cookie{Name: cookieName, Value: tok})
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestPairing(t *testing.T) {
	house, h := doorOf(t, deskOf(t, demo.Quernfold()))
	code, _, err := house.register.Offer(device.Household)
	must(t, err)
	if w := asks(h, "", "GET", "/book", nil); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/pair" {
		t.Fatalf("a stranger at the book: %d to %s", w.Code, w.Header().Get("Location"))
	}
	for range 3 { // browsers look ahead
		if w := asks(h, "", "GET", "/pair?code="+code, nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), `value="`+code+`"`) {
			t.Fatalf("the page of the code: %d", w.Code)
		}
	}
	w := asks(h, "", "POST", "/pair", url.Values{"code": {strings.ToLower(code)}, "name": {"<b>Rook</b>"}})
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/phone?paired=1" {
		t.Fatalf("pairing answers %d to %s", w.Code, w.Header().Get("Location"))
	}
	cookies := w.Result().Cookies()
	if len(cookies) != 1 {
		t.Fatalf("%d cookies", len(cookies))
	}
	c := cookies[0]
	if c.Name != "__Host-evenstead" || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.Domain != "" || c.MaxAge < 86400 || len(c.Value) < 43 {
		t.Errorf("the cookie is %+v", c)
	}
	page := asks(h, c.Value, "GET", "/phone", nil).Body.String()
	if !strings.Contains(page, "&lt;b&gt;Rook&lt;/b&gt;") || strings.Contains(page, c.Value) {
		t.Error("the phone's page does not name it, or tells its token")
	}
	if w := asks(h, c.Value, "GET", "/book", nil); w.Code != http.StatusOK {
		t.Errorf("the household's phone at the book: %d", w.Code)
	}
	if w := asks(h, "", "POST", "/pair", url.Values{"code": {code}}); !strings.HasPrefix(w.Header().Get("Location"), "/pair?") || len(w.Result().Cookies()) != 0 {
		t.Errorf("the code a second time leads to %s", w.Header().Get("Location"))
	}
	list, err := house.register.Devices()
	must(t, err)
	_, err = house.register.Revoke(list[0].ID)
	must(t, err)
	if w := asks(h, c.Value, "GET", "/book", nil); w.Header().Get("Location") != "/pair" {
		t.Errorf("a revoked phone at the book: %d to %s", w.Code, w.Header().Get("Location"))
	}
}

func TestWrongCodesLockOut(t *testing.T) {
	now := deskNoon
	d := deskOf(t, demo.Quernfold())
	d.clock = func() time.Time { return now }
	house, h := doorOf(t, d)
	code, _, err := house.register.Offer(device.Helper)
	must(t, err)
	for range 5 {
		w := asks(h, "", "POST", "/pair", url.Values{"code": {"0000-0000"}, "name": {"x"}})
		if !strings.Contains(w.Header().Get("Location"), "wrong=1") {
			t.Fatalf("a wrong code leads to %s", w.Header().Get("Location"))
		}
	}
	w := asks(h, "", "POST", "/pair", url.Values{"code": {code}})
	if !strings.Contains(w.Header().Get("Location"), "wait=60") {
		t.Fatalf("after five wrong codes even the right one leads to %s", w.Header().Get("Location"))
	}
	if page := asks(h, "", "GET", w.Header().Get("Location"), nil).Body.String(); !strings.Contains(page, "Try again in 1 min") {
		t.Error("the wait is not told")
	}
	now = now.Add(61 * time.Second)
	if w := asks(h, "", "POST", "/pair", url.Values{"code": {code}}); len(w.Result().Cookies()) != 1 {
		t.Errorf("after the wait the right code leads to %s", w.Header().Get("Location"))
	}
	now = now.Add(11 * time.Minute)
	code, _, err = house.register.Offer(device.Helper)
	must(t, err)
	now = now.Add(11 * time.Minute)
	if w := asks(h, "", "POST", "/pair", url.Values{"code": {code}}); !strings.Contains(w.Header().Get("Location"), "wrong=1") {
		t.Errorf("an old code leads to %s", w.Header().Get("Location"))
	}
}

// TestEveryWayHasItsRole asks every registered way in as every role: a lesser one
// is refused or led away and nothing is written; none that may is refused.
func TestEveryWayHasItsRole(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	now := deskNoon
	d.clock = func() time.Time { now = now.Add(time.Second); return now } // so that the pace is never too quick
	house, h := doorOf(t, d)
	before := exportOf(t, d)
	all := ways(t)
	for pattern := range least {
		method, path, _ := strings.Cut(pattern, " ")
		if !slices.Contains(all, way{method, path}) {
			t.Errorf("the table of roles has %s, which is no way in", pattern)
		}
	}
	for _, role := range []device.Role{device.Nobody, device.Visitor, device.Helper, device.Household} {
		tok := tokenFor(t, house, role)
		for _, w := range all {
			need := roleOf(w.method + " " + w.path)
			if _, listed := least[w.method+" "+w.path]; !listed && strings.HasPrefix(w.path, apiBase) {
				need = device.Household
			}
			var form url.Values
			if w.method == http.MethodPost {
				form = url.Values{"text": {"rain 3 mm"}, "do": {"write"}}
			}
			if role >= need && (w.path == "/leave" || w.method == http.MethodPost) {
				continue // what may write is tested where it is made
			}
			got := asks(h, tok, w.method, w.at("x"), form)
			refused := got.Code == http.StatusUnauthorized || got.Code == http.StatusForbidden
			led := got.Code == http.StatusSeeOther && got.Header().Get("Location") == homes[role]
			name := fmt.Sprintf("%s at %s %s", role, w.method, w.path)
			switch {
			case role < need && !refused && !led:
				t.Errorf("%s answers %d to %s, needs %s", name, got.Code, got.Header().Get("Location"), need)
			case role >= need && refused:
				t.Errorf("%s is refused", name)
			}
			guardedHeaders(t, name, got)
			inlineFree(t, name, got)
		}
	}
	if exportOf(t, d) != before {
		t.Error("someone who may not has changed the file")
	}
}

func TestLeaving(t *testing.T) {
	house, h := doorOf(t, deskOf(t, demo.Quernfold()))
	tok := tokenFor(t, house, device.Helper)
	w := asks(h, tok, "POST", "/leave", url.Values{})
	if c := w.Result().Cookies(); len(c) != 1 || c[0].MaxAge >= 0 || c[0].Value != "" || !strings.Contains(w.Header().Get("Clear-Site-Data"), "storage") {
		t.Errorf("leaving sends %v and %q", c, w.Header().Get("Clear-Site-Data"))
	}
	if w := asks(h, tok, "GET", "/phone", nil); w.Header().Get("Location") != "/pair" {
		t.Errorf("after it left the phone is led to %s", w.Header().Get("Location"))
	}
}

// TestHelperUndoesWhatIsNew: not what others wrote days ago.
func TestHelperUndoesWhatIsNew(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	now := deskNoon
	d.clock = func() time.Time { return now }
	house, h := doorOf(t, d)
	tok := tokenFor(t, house, device.Helper)
	undo := func(id string) { asks(h, tok, "POST", "/week/undo", url.Values{"entry": {id}}) }
	ids := make([]string, 2)
	for i := range ids {
		write(t, d, "rain 3 mm")
		list := liveOf(t, d)
		ids[i] = list[len(list)-1].ID.String()
	}
	undo(ids[0])
	if n := len(liveOf(t, d)); n != 1 {
		t.Errorf("a new entry undone leaves %d", n)
	}
	now = now.Add(time.Hour)
	undo(ids[1])
	if n := len(liveOf(t, d)); n != 1 {
		t.Errorf("an old entry undone by a helper leaves %d", n)
	}
}

func TestDoorIsPacedAndNamed(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	house, h := doorOf(t, d)
	codes := map[int]int{}
	for range 80 {
		codes[asks(h, "", "GET", "/pair", nil).Code]++
	}
	if codes[200] != 60 || codes[429] != 20 {
		t.Errorf("80 requests of a stranger at once: %v", codes)
	}
	tok := tokenFor(t, house, device.Household)
	w := asks(h, tok, "GET", "/static/none", nil)
	if w.Code != http.StatusNotFound {
		t.Errorf("a paired phone behind the same address: %d", w.Code)
	}
	for host, want := range map[string]int{"192.168.1.20:8043": 404, "barn-board.local:8043": 404, "BARN-BOARD:8043": 404, "127.0.0.1": 404, "192.168.1.21:8043": 421, "stead.elsewhere.example": 421, "": 421} {
		r := httptest.NewRequest("GET", "/static/none", nil)
		r.Host, r.RemoteAddr = host, "192.168.1.7:50000"
		r.AddCookie(&http.Cookie{Name: cookieName, Value: tok})
		w := httptest.NewRecorder()
		if h.ServeHTTP(w, r); w.Code != want {
			t.Errorf("called %q it answers %d, want %d", host, w.Code, want)
		}
	}
	r := httptest.NewRequest("POST", "/note", strings.NewReader("text=rain+3+mm"))
	r.Host, r.RemoteAddr = "192.168.1.20:8043", "192.168.1.7:50000"
	r.AddCookie(&http.Cookie{Name: cookieName, Value: tok})
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	w = httptest.NewRecorder()
	if h.ServeHTTP(w, r); w.Code != http.StatusForbidden {
		t.Errorf("a form of another site with the phone's cookie: %d", w.Code)
	}
}

func TestDevicesPage(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	if page := asked(deskSite(t, d), "GET", "/devices", nil).Body.String(); !strings.Contains(page, "serve --lan") {
		t.Error("without a house the page does not say how to begin")
	}
	house := houseAt(t, d.clock)
	house.port.Store(8043)
	h, err := NewAt(d, Options{House: house})
	must(t, err)
	made := asked(h, "POST", "/devices/code", url.Values{"role": {"helper"}}).Header().Get("Location")
	page := asked(h, "GET", strings.Split(made, "#")[0], nil).Body.String()
	code := regexp.MustCompile(`bigcode">([0-9A-Z]{4}-[0-9A-Z]{4})<`).FindStringSubmatch(page)
	if code == nil || !strings.Contains(page, "https://192.168.1.20:8043/pair") || !strings.Contains(page, `<svg class="qr"`) {
		t.Fatalf("no code, address or drawing on the page of %s", made)
	}
	if _, dev, err := house.register.Pair(code[1], "Rook's phone", "192.168.1.9"); err != nil || dev.Role != device.Helper {
		t.Fatalf("the code shown pairs %+v, %v", dev, err)
	}
	page = asked(h, "GET", "/devices", nil).Body.String()
	id := regexp.MustCompile(`/devices/([a-z0-9]+)/revoke`).FindStringSubmatch(page)
	if id == nil || !strings.Contains(page, "Rook&#39;s phone") || !strings.Contains(page, "192.168.1.9") {
		t.Fatal("the phone is not listed")
	}
	asked(h, "POST", id[0], url.Values{})
	if page = asked(h, "GET", "/devices", nil).Body.String(); strings.Contains(page, "Rook&#39;s phone") {
		t.Error("it is still listed")
	}
	for _, bad := range []string{"host", "", "x"} {
		if w := asked(h, "POST", "/devices/code", url.Values{"role": {bad}}); w.Code != http.StatusBadRequest {
			t.Errorf("a code for %q: %d", bad, w.Code)
		}
	}
}

// phoneClient trusts the house and keeps its cookie.
func phoneClient(t testing.TB, house *House) *http.Client {
	t.Helper()
	roots := x509.NewCertPool()
	roots.AppendCertsFromPEM(house.keeper.Authority().Certificate())
	jar, err := cookiejar.New(nil)
	deskMust(t, err)
	return &http.Client{Jar: jar, Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}, MaxConnsPerHost: 16}}
}

// TestServeHouse pairs over real TLS with nothing but the certificate trusted.
func TestServeHouse(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	house := houseAt(t, time.Now)
	h, err := NewDoor(d, house, Options{})
	must(t, err)
	ctx, stop := context.WithCancel(t.Context())
	end, err := ServeHouse(ctx, "127.0.0.1:0", house, h)
	must(t, err)
	at := fmt.Sprintf("https://127.0.0.1:%d", house.port.Load())
	c := phoneClient(t, house)
	code, _, err := house.register.Offer(device.Household)
	must(t, err)
	res, err := c.PostForm(at+"/pair", url.Values{"code": {code}, "name": {"Ada's phone"}})
	must(t, err)
	body, err := io.ReadAll(res.Body)
	must(t, err)
	must(t, res.Body.Close())
	if res.StatusCode != 200 || !strings.Contains(string(body), "Ada&#39;s phone is paired now") {
		t.Errorf("paired: %d", res.StatusCode)
	}
	res, err = c.Get(at + "/house.crt")
	must(t, err)
	body, err = io.ReadAll(res.Body)
	must(t, err)
	must(t, res.Body.Close())
	if cert, err := x509.ParseCertificate(body); err != nil || !cert.IsCA {
		t.Errorf("the certificate to install: %v", err)
	}
	if _, err := http.Get(at + "/pair"); err == nil {
		t.Error("who has not installed the certificate is not warned")
	}
	slowTLS(t, house)
	stop()
	if err := <-end; err != nil {
		t.Error(err)
	}
}

// slowTLS opens connections that say nothing, or half a head for ever: all are let
// go while others are served.
func slowTLS(t *testing.T, house *House) {
	t.Helper()
	at := fmt.Sprintf("127.0.0.1:%d", house.port.Load())
	silent, err := net.Dial("tcp", at)
	must(t, err)
	defer silent.Close()
	roots := x509.NewCertPool()
	roots.AppendCertsFromPEM(house.keeper.Authority().Certificate())
	half, err := tls.Dial("tcp", at, &tls.Config{RootCAs: roots})
	must(t, err)
	defer half.Close()
	_, err = half.Write([]byte("GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "))
	must(t, err)
	for _, c := range []net.Conn{silent, half} {
		must(t, c.SetReadDeadline(time.Now().Add(4*houseHeaderTime))) // its time, and room for other work on the machine
		_, err := bufio.NewReader(c).ReadByte()
		if nerr, ok := err.(net.Error); ok && nerr.Timeout() {
			t.Error("a visitor who says nothing, or half a head, is not let go")
		}
	}
}

// talker is a connection between two addresses.
type talker struct {
	net.Conn
	from, to string
	closed   *int
}

func (c talker) RemoteAddr() net.Addr {
	return net.TCPAddrFromAddrPort(netip.MustParseAddrPort(c.from))
}
func (c talker) LocalAddr() net.Addr { return net.TCPAddrFromAddrPort(netip.MustParseAddrPort(c.to)) }
func (c talker) Close() error        { *c.closed++; return nil }

// caller is a listener that hands out connections and then ends.
type caller struct{ left []net.Conn }

func (c *caller) Accept() (net.Conn, error) {
	if len(c.left) == 0 {
		return nil, net.ErrClosed
	}
	next := c.left[0]
	c.left = c.left[1:]
	return next, nil
}
func (*caller) Close() error   { return nil }
func (*caller) Addr() net.Addr { return &net.TCPAddr{} }

// TestOnlyTheHouseIsAnswered: addresses of the wider net are not, at either end,
// and one address has no more than its share.
func TestOnlyTheHouseIsAnswered(t *testing.T) {
	closed := 0
	in := &caller{}
	for _, pair := range [][2]string{{"203.0.113.9:4000", "192.168.1.20:8043"}, {"192.168.1.7:4000", "198.51.100.2:8043"}, {"[2001:db8::1]:4000", "[fd00::2]:8043"}} {
		in.left = append(in.left, talker{from: pair[0], to: pair[1], closed: &closed})
	}
	for i := range mostConnsOfOne + 5 {
		in.left = append(in.left, talker{from: fmt.Sprintf("192.168.1.7:%d", 4000+i), to: "192.168.1.20:8043", closed: &closed})
	}
	in.left = append(in.left, talker{from: "[fd00::7]:4000", to: "[fd00::2]:8043", closed: &closed})
	l := &houseListener{Listener: in}
	var let []net.Conn
	for {
		c, err := l.Accept()
		if err != nil {
			break
		}
		let = append(let, c)
	}
	if len(let) != mostConnsOfOne+1 || closed != 3+5 {
		t.Fatalf("%d are let in and %d sent away", len(let), closed)
	}
	for _, c := range let {
		must(t, c.Close())
		must(t, c.Close())
	}
	if l.all != 0 || len(l.by) != 0 {
		t.Errorf("after all have gone %d are counted", l.all)
	}
}
