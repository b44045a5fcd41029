package web

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"evenstead/demo"
)

// A way is one registered way in.
type way struct{ method, path string }

// ways are all that is registered, read from the source: HandleFunc with a pattern
// written out, and the table of the interface. A way in that is built otherwise
// fails the count.
func ways(t *testing.T) []way {
	t.Helper()
	names, err := filepath.Glob("*.go")
	must(t, err)
	var list []way
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		must(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) != 2 {
				return true
			}
			if sel, ok := call.Fun.(*ast.SelectorExpr); !ok || sel.Sel.Name != "HandleFunc" && sel.Sel.Name != "Handle" {
				return true
			}
			lit, ok := call.Args[0].(*ast.BasicLit)
			if !ok {
				if name != "api.go" {
					t.Errorf("%s: a pattern that is not written out can't be guarded", name)
				}
				return true
			}
			pattern, err := strconv.Unquote(lit.Value)
			must(t, err)
			method, path, _ := strings.Cut(pattern, " ")
			list = append(list, way{method, path})
			return true
		})
	}
	for _, r := range (&site{}).apiTable() {
		list = append(list, way{r.method, apiBase + r.path})
	}
	if len(list) < 35 {
		t.Fatalf("only %d ways in were found", len(list))
	}
	return list
}

// at is the way with its names filled in.
func (w way) at(value string) string {
	return regexp.MustCompile(`\{[^}]*\}`).ReplaceAllStringFunc(w.path, func(name string) string {
		if name == "{$}" {
			return ""
		}
		return value
	})
}

// guarded is a household's site, described or not yet.
func guarded(t *testing.T, described bool) http.Handler {
	t.Helper()
	var text []byte
	if described {
		text = demo.Quernfold()
	}
	h, err := NewAt(deskOf(t, text), Options{Demo: demo.Quernfold()})
	must(t, err)
	return h
}

// TestEveryAnswerIsGuarded asks every way in, described or not, the right way and
// the wrong, and holds all answers to the same headers and to no inline script or style.
func TestEveryAnswerIsGuarded(t *testing.T) {
	for _, described := range []bool{true, false} {
		h := guarded(t, described)
		for _, w := range ways(t) {
			for _, method := range []string{"GET", "HEAD", "POST", "PUT", "DELETE", "TRACE"} {
				r := httptest.NewRequest(method, w.at("x"), nil)
				got := httptest.NewRecorder()
				h.ServeHTTP(got, r)
				name := fmt.Sprintf("%s %s (described %v)", method, w.path, described)
				if got.Code >= 500 && got.Code != http.StatusServiceUnavailable {
					t.Errorf("%s answers %d: %.200s", name, got.Code, got.Body)
				}
				guardedHeaders(t, name, got)
				inlineFree(t, name, got)
			}
		}
	}
}

// guardedHeaders are what every answer must carry.
func guardedHeaders(t *testing.T, name string, got *httptest.ResponseRecorder) {
	t.Helper()
	for key, want := range map[string]string{
		"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "no-referrer",
		"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
	} {
		if v := got.Header().Get(key); v != want {
			t.Errorf("%s: %s is %q, want %q", name, key, v, want)
		}
	}
	csp := got.Header().Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'none'", "style-src 'self'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"} {
		if !strings.Contains(csp, part) {
			t.Errorf("%s: the policy %q lacks %s", name, csp, part)
		}
	}
	if strings.Contains(csp, "unsafe") || strings.Contains(csp, "*") || strings.Contains(csp, "http") {
		t.Errorf("%s: the policy %q lets others in", name, csp)
	}
	for _, key := range []string{"Set-Cookie", "Access-Control-Allow-Origin", "Server"} {
		if v := got.Header().Get(key); v != "" {
			t.Errorf("%s: sends %s: %s", name, key, v)
		}
	}
	if way := got.Header().Get("Location"); way != "" && (!strings.HasPrefix(way, "/") || strings.HasPrefix(way, "//")) {
		t.Errorf("%s: leads away, to %s", name, way)
	}
}

var inlineCode = regexp.MustCompile(`(?i)<script(?:\s[^>]*)?>[^<]|<style|\sstyle=|\son[a-z]+=["']|javascript:|src="http|href="http`)

func inlineFree(t *testing.T, name string, got *httptest.ResponseRecorder) {
	t.Helper()
	if !strings.HasPrefix(got.Header().Get("Content-Type"), "text/html") {
		return
	}
	if m := inlineCode.FindString(got.Body.String()); m != "" {
		t.Errorf("%s has inline code or a foreign address: %s", name, m)
	}
}

// TestWhatWritesAsksWhereItComesFrom: no way that takes a POST answers one from
// another site, and no GET or HEAD changes the file.
func TestWhatWritesAsksWhereItComesFrom(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	h := deskSite(t, d)
	before := exportOf(t, d)
	for _, w := range ways(t) {
		for key, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "http://elsewhere.example"} {
			r := httptest.NewRequest(http.MethodPost, w.at("x"), strings.NewReader("text=rain+3+mm&do=write"))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set(key, value)
			got := httptest.NewRecorder()
			if h.ServeHTTP(got, r); got.Code != http.StatusForbidden {
				t.Errorf("POST %s from elsewhere (%s) answers %d", w.path, key, got.Code)
			}
		}
		asked(h, "GET", w.at("x"), nil)
		asked(h, "HEAD", w.at("x"), nil)
	}
	if exportOf(t, d) != before {
		t.Error("reading or a foreign form changed the file")
	}
}

// endless is a body without end; it tells how much of it was read.
type endless struct{ read int64 }

func (e *endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = 'a'
	}
	e.read += int64(len(b))
	return len(b), nil
}

// mostBody is the most of any body that is read: the greatest upload and what a
// form has around it.
const mostBody = mostImport<<20 + 1<<20

// TestBodiesAreBounded sends every way that takes a POST a form, a file and a JSON
// text without end.
func TestBodiesAreBounded(t *testing.T) {
	for _, described := range []bool{true, false} {
		h := guarded(t, described)
		for _, w := range ways(t) {
			if w.method != http.MethodPost {
				continue
			}
			for _, media := range []string{"application/x-www-form-urlencoded", "multipart/form-data; boundary=b", "application/json", "text/plain"} {
				endless := &endless{}
				var body io.Reader = endless
				if strings.HasPrefix(media, "multipart") {
					body = io.MultiReader(strings.NewReader("--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\n"), endless)
				}
				r := httptest.NewRequest(http.MethodPost, w.at("x"), io.LimitReader(body, 4*mostBody))
				r.Header.Set("Content-Type", media)
				got := httptest.NewRecorder()
				h.ServeHTTP(got, r)
				if endless.read > mostBody {
					t.Errorf("POST %s (%s, described %v) read %d MB", w.path, media, described, endless.read>>20)
				}
				if got.Code < 300 || got.Code >= 500 {
					t.Errorf("POST %s (%s, described %v) answers %d to a body without end", w.path, media, described, got.Code)
				}
			}
		}
	}
}

// TestBombsAreBounded: a small file that unpacks without end is refused before it
// fills the machine, wherever weather is taken.
func TestBombsAreBounded(t *testing.T) {
	var bomb bytes.Buffer
	z := gzip.NewWriter(&bomb)
	_, err := io.CopyN(z, zeros{}, (mostUnpacked+1)<<20)
	must(t, err)
	must(t, z.Close())
	nested := bytes.Clone(bomb.Bytes())
	for described, path := range map[bool]string{true: "/book/weather", false: "/start/weather"} {
		h := guarded(t, described)
		for name, body := range map[string][]byte{"bomb.csv.gz": bomb.Bytes(), "cut.csv.gz": nested[:len(nested)/2], "zip.csv": append([]byte("PK\x03\x04"), nested...)} {
			w := sent(t, h, path, name, body, nil)
			page := asked(h, "GET", strings.Split(w.Header().Get("Location"), "#")[0], nil).Body.String()
			if w.Code != http.StatusSeeOther || !strings.Contains(page, `class="wrong"`) {
				t.Errorf("%s at %s answers %d to %s", name, path, w.Code, w.Header().Get("Location"))
			}
		}
	}
}

// TestNoWayOut: a name in a way in or of a file never leads out of what is served.
func TestNoWayOut(t *testing.T) {
	h := guarded(t, true)
	for _, name := range []string{"../routes.go", "..%2froutes.go", "%2e%2e%2f%2e%2e%2fgo.mod", "..%5cgo.mod", "....//go.mod", "%00", "style.css", "%2fetc%2fpasswd", "C:%5cboot.ini"} {
		for _, w := range ways(t) {
			if !strings.Contains(w.path, "{") || strings.Contains(w.path, "{$}") {
				continue
			}
			r := &http.Request{Method: w.method, URL: &url.URL{}, Header: http.Header{}, Host: "localhost", Body: http.NoBody}
			u, err := url.Parse(w.at(name))
			if err != nil {
				continue
			}
			r.URL = u
			got := httptest.NewRecorder()
			h.ServeHTTP(got, r.WithContext(t.Context()))
			if got.Code == http.StatusOK {
				t.Errorf("%s %s answers 200", w.method, w.at(name))
			}
			if body := got.Body.String(); strings.Contains(body, "package web") || strings.Contains(body, "module evenstead") || strings.Contains(body, "root:") {
				t.Errorf("%s %s leads out", w.method, w.at(name))
			}
		}
	}
	for _, name := range []string{"../../etc/passwd", `..\..\x.toml`, strings.Repeat("a", 5000), "<b>.toml", "\x01.toml"} {
		w := sent(t, guarded(t, false), "/start/file", name, []byte("not a description"), nil)
		if w.Code != http.StatusSeeOther {
			t.Errorf("a file named %.30q answers %d", name, w.Code)
		}
	}
}

// TestOnlyThisMachine: without a host the pages are served on loopback, where they
// answer to local names only, and a visitor who sends nothing is let go.
func TestOnlyThisMachine(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	at, end, err := Serve(ctx, ":0", guarded(t, true))
	must(t, err)
	u, err := url.Parse(at)
	must(t, err)
	if ip := net.ParseIP(u.Hostname()); ip == nil || !ip.IsLoopback() {
		t.Fatalf("served at %s", at)
	}
	for _, w := range ways(t) {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, strings.TrimSuffix(at, "/")+w.at("x"), nil)
		must(t, err)
		r.Host = "stead.elsewhere.example"
		got, err := http.DefaultTransport.RoundTrip(r)
		must(t, err)
		must(t, got.Body.Close())
		if got.StatusCode != http.StatusMisdirectedRequest {
			t.Errorf("%s answers %d to a foreign name", w.path, got.StatusCode)
		}
	}
	slow(t, u.Host)
	stop()
	if err := <-end; err != nil {
		t.Error(err)
	}
}

// slow sends half a head and waits to be cut off.
func slow(t *testing.T, host string) {
	t.Helper()
	c, err := net.Dial("tcp", host)
	must(t, err)
	defer c.Close()
	_, err = c.Write([]byte("GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: "))
	must(t, err)
	must(t, c.SetReadDeadline(time.Now().Add(8*time.Second)))
	began := time.Now()
	if _, err := bufio.NewReader(c).ReadByte(); err != nil && time.Since(began) >= 8*time.Second {
		t.Error("a visitor who never ends his head is not let go in eight seconds")
	}
}
