package web

import (
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"evenstead/sums"
)

// TestEverySumReckonsItsExample on the page, and tells its source.
func TestEverySumReckonsItsExample(t *testing.T) {
	_, base := deskServer(t)
	for _, s := range sums.All() {
		q := url.Values{}
		for _, g := range s.Example.Given {
			q.Set(g.Key, g.Value)
		}
		path := "/sums/" + s.Name + "?" + q.Encode()
		res, text := fetched(t, base+path)
		if res.StatusCode != http.StatusOK || !strings.Contains(text, "What it comes to") || len(text) > 100_000 {
			t.Errorf("%s: status %d, %d bytes", path, res.StatusCode, len(text))
		}
	}
}

// TestSumsTellWhatIsWrong beside the field, and keep what was typed.
func TestSumsTellWhatIsWrong(t *testing.T) {
	_, base := deskServer(t)
	for path, want := range map[string]string{
		"/sums/catch?area=sixty&rain=1+in":              `value="sixty"`,
		"/sums/catch?rain=1+in":                         "aria-invalid",
		"/sums/catch?area=%3Cscript%3E&rain=1+in":       "&lt;script&gt;",
		"/sums/nothing":                                 "is not a sum",
		"/sums/catch?area=" + strings.Repeat("9", 9000): "too long",
		"/sums": "Catch from a roof",
	} {
		res, text := fetched(t, base+path)
		if !strings.Contains(text, want) || strings.Contains(text, "<script>") {
			t.Errorf("%.60s: no %q (status %d)", path, want, res.StatusCode)
		}
	}
}

func fetched(t *testing.T, address string) (*http.Response, string) {
	t.Helper()
	res, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(text)
}
