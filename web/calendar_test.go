package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"evenstead/demo"
	"evenstead/device"
)

// subscribed asks for a calendar with what a program had before.
func subscribed(t *testing.T, h http.Handler, path string, had map[string]string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest("GET", path, nil)
	for k, v := range had {
		r.Header.Set(k, v)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// TestCalendarIsSubscribedTo: a program that asks again with what it had is told
// that nothing changed, until something did; then the same work has the same ids.
func TestCalendarIsSubscribedTo(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	now := deskNoon
	d.clock = func() time.Time { return now }
	h, err := NewAt(d, Options{Zone: "Atlantic/Azores"})
	must(t, err)
	first := subscribed(t, h, "/calendar.ics", nil)
	if first.Code != http.StatusOK || first.Header().Get("Content-Type") != "text/calendar; charset=utf-8" {
		t.Fatalf("%d %v", first.Code, first.Header())
	}
	if !strings.Contains(first.Body.String(), "X-WR-TIMEZONE:Atlantic/Azores\r\n") {
		t.Error("the zone is not told")
	}
	now = now.Add(3 * time.Hour)
	tag, when := first.Header().Get("ETag"), first.Header().Get("Last-Modified")
	for name, had := range map[string]map[string]string{"tag": {"If-None-Match": tag}, "time": {"If-Modified-Since": when}} {
		if w := subscribed(t, h, "/calendar.ics", had); w.Code != http.StatusNotModified || w.Body.Len() > 0 {
			t.Errorf("asked with its %s: %d, %d bytes", name, w.Code, w.Body.Len())
		}
	}
	write(t, d, "picked 2 kg kale, B1")
	second := subscribed(t, h, "/calendar.ics", map[string]string{"If-None-Match": tag, "If-Modified-Since": when})
	if second.Code != http.StatusOK || second.Header().Get("ETag") == tag || second.Header().Get("Last-Modified") == when {
		t.Fatalf("after a note: %d %v", second.Code, second.Header())
	}
	before, after := uidsOf(t, first.Body.String()), uidsOf(t, second.Body.String())
	same := 0
	for id := range after {
		if before[id] {
			same++
		}
	}
	if len(before) < 30 || same < len(before)*9/10 {
		t.Errorf("%d of %d events have their ids again", same, len(before))
	}
}

func uidsOf(t *testing.T, text string) map[string]bool {
	t.Helper()
	c, err := ics.ParseCalendar(strings.NewReader(text))
	must(t, err)
	ids := map[string]bool{}
	for _, e := range c.Events() {
		ids[e.Id()] = true
	}
	return ids
}

// TestCalendarAwayWantsItsWord: a program elsewhere in the house has no cookie; the
// word in its address opens the calendar and nothing else, until it is closed.
func TestCalendarAwayWantsItsWord(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	_, door := doorOf(t, d)
	here := deskSite(t, d)
	away := func(path string) int { return asks(door, "", "GET", path, nil).Code }
	if got := away("/calendar.ics"); got == http.StatusOK {
		t.Error("the calendar is open to strangers")
	}
	word := func() string {
		t.Helper()
		at := post(t, here, "/calendar", url.Values{"do": {"make"}}).Header().Get("Location")
		m := regexp.MustCompile(`http://[^<]*(/calendar/[A-Z2-7]{26}\.ics)`).FindStringSubmatch(get(t, here, "GET", at).Body.String())
		if m == nil {
			t.Fatal("no address was told")
		}
		if again := get(t, here, "GET", at).Body.String(); strings.Contains(again, m[1]) {
			t.Error("the address is told twice")
		}
		return m[1]
	}
	first := word()
	if got := asks(door, "", "GET", first, nil); got.Code != http.StatusOK || !strings.HasPrefix(got.Body.String(), "BEGIN:VCALENDAR") {
		t.Fatalf("%d with the word", got.Code)
	}
	for _, path := range []string{first[:len(first)-6] + "AA.ics", "/calendar/.ics", "/calendar/x"} {
		if got := away(path); got != http.StatusNotFound {
			t.Errorf("%s: %d", path, got)
		}
	}
	second := word()
	if away(first) != http.StatusNotFound || away(second) != http.StatusOK {
		t.Error("a new word does not close the old")
	}
	if got := asks(door, "", "GET", "/week", nil); got.Code == http.StatusOK {
		t.Error("a stranger reads the week")
	}
	post(t, here, "/calendar", url.Values{"do": {"close"}})
	if away(second) != http.StatusNotFound {
		t.Error("a closed word still opens")
	}
}

// TestVisitorsSeeTheOpenDayAlone of all that this file's neighbours show.
func TestVisitorsSeeTheOpenDayAlone(t *testing.T) {
	d := deskOf(t, demo.Quernfold())
	house, door := doorOf(t, d)
	visitor := tokenFor(t, house, device.Visitor)
	for path, open := range map[string]bool{"/openday": true, "/handover": false, "/paper": false, "/paper/week": false, "/calendar": false, "/lot/K7QF": false, "/drum/1": false, "/paper/store/type": false} {
		if got := asks(door, visitor, "GET", path, nil).Code; (got == http.StatusOK) != open {
			t.Errorf("%s answers a visitor with %d", path, got)
		}
	}
}
