package web

import (
	"context"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"
)

func TestServe(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	url, end, err := Serve(ctx, "", newSite(t, Options{}))
	must(t, err)
	if !strings.HasPrefix(url, "http://127.0.0.1:") {
		t.Errorf("serves at %s, want loopback", url)
	}
	res, err := http.Get(url)
	must(t, err)
	body, err := io.ReadAll(res.Body)
	must(t, err)
	must(t, res.Body.Close())
	if res.StatusCode != 200 || !strings.Contains(string(body), "Quernfold") {
		t.Errorf("status %d", res.StatusCode)
	}
	cancel()
	select {
	case err := <-end:
		must(t, err)
	case <-time.After(10 * time.Second):
		t.Fatal("it does not stop")
	}
}

// TestForeignNamesAreRefused proves that another name pointed at loopback reads nothing.
func TestForeignNamesAreRefused(t *testing.T) {
	url, _, err := Serve(t.Context(), "127.0.0.1:0", newSite(t, Options{}))
	must(t, err)
	for host, want := range map[string]int{"": 200, "localhost:99": 200, "[::1]:99": 200, "evil.example": 421, "evil.example:80": 421, "10.0.0.7": 421} {
		r, err := http.NewRequestWithContext(t.Context(), "GET", url, nil)
		must(t, err)
		if host != "" {
			r.Host = host
		}
		res, err := http.DefaultClient.Do(r)
		must(t, err)
		must(t, res.Body.Close())
		if res.StatusCode != want {
			t.Errorf("host %q: status %d, want %d", host, res.StatusCode, want)
		}
	}
}

func TestServeRefusesBadAddresses(t *testing.T) {
	for _, addr := range []string{"nowhere", "127.0.0.1:99999", "127.0.0.1:no"} {
		if _, _, err := Serve(t.Context(), addr, http.NotFoundHandler()); err == nil || !strings.Contains(err.Error(), addr) {
			t.Errorf("%q gives %v", addr, err)
		}
	}
}
