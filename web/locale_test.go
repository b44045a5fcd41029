package web

import (
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
)

func TestLocaleOfABrowser(t *testing.T) {
	for _, c := range []struct {
		header, lang string
		us           bool
	}{
		{"", "en", false},
		{"en-US,en;q=0.9", "en", true},
		{"en", "en", false},
		{"en-GB,en-US;q=0.8", "en", false},
		{"de-DE,de;q=0.9", "en", false},
		{"en-LR", "en", true},
		{"es", "es", false},
		{"es-AR,es;q=0.9,en;q=0.8", "es", false},
		{"es-US", "es", true},
		{"de,es;q=0.7", "es", false},
		{"en,es;q=0.9", "en", false},
		{";;;q=x", "en", false},
		{strings.Repeat("a-", 5000), "en", false},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Header.Set("Accept-Language", c.header)
		if lang, us := localeOf(r); lang != c.lang || us != c.us {
			t.Errorf("%.30q: %s, US units %v; want %s, %v", c.header, lang, us, c.lang, c.us)
		}
	}
}

// TestStartBeginsInTheReadersUnits: the first question has US units picked for a
// browser of the United States, and metric ones for others.
func TestStartBeginsInTheReadersUnits(t *testing.T) {
	h, _ := starting(t)
	for header, want := range map[string]string{"en-US": "us", "en-GB": "metric"} {
		r := httptest.NewRequest("GET", "/start", nil)
		r.Header.Set("Accept-Language", header)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if !regexp.MustCompile(`value="` + want + `"[^>]* checked`).MatchString(w.Body.String()) {
			t.Errorf("%s: %s is not picked", header, want)
		}
	}
}
