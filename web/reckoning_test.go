package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/reckon"
	"evenstead/unit"
)

// reckonedPage waits until a span is reckoned.
func reckonedPage(t *testing.T, h http.Handler, way string) *element {
	t.Helper()
	return awaited(t, h, way, "are being reckoned")
}

func TestReckoningTellsWhatWasCarried(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), day.Of(2027, time.February, 1), unit.Metric)
	write(t, d, livedAt+"\nbought 1 kg honey for 4.20 on 2026-12-02\nbinned 0.5 kg plastic on 2026-12-03\nworked 3 h for the landowner on 2026-12-04")
	h := deskSite(t, d)
	page := reckonedPage(t, h, "/reckoning")
	text := saidBy(page)
	for _, want := range []string{"of the food energy eaten from 1 Nov 2026 to 31 Jan 2027", "By what is written", "Money named in the book: 4.2 over 1 entries", "Rubbish sent off: 500 g of plastic",
		"the terms do not name it", "run again from the book as it stood on the morning of 1 Nov 2026 (0 entries received by then)", "It said:", "levels lie in their range", "Carbon, kg",
		"Stores on the way", "hives, crocks", "digest", "Next year's figures"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := len(page.find("svg.belt")); n < 5 {
		t.Errorf("%d loops are drawn", n)
	}
	if n := len(page.find("h1")); n != 1 {
		t.Errorf("%d h1", n)
	}
	if strings.Contains(text, "off by") {
		t.Error("a loop does not add up")
	}
	part := reckonedPage(t, h, "/reckoning?from=2026-12-01&to=2026-12-10")
	if !strings.Contains(saidBy(part), "from 1 Dec 2026 to 10 Dec 2026") || !strings.Contains(saidBy(part), "entries received by then") {
		t.Errorf("a part of it: %s", saidBy(part)[:400])
	}
	for way, want := range map[string]string{"/reckoning?from=yesterday": "A date is not one", "/reckoning?from=2026-12-10&to=2026-12-01": "Turn them round"} {
		w := get(t, h, "GET", way)
		if said := saidBy(parsePage(t, w.Body.String())); w.Code != http.StatusUnprocessableEntity || !strings.Contains(said, want) {
			t.Errorf("%s: status %d, %s", way, w.Code, said)
		}
	}
	if early := reckonedPage(t, h, "/reckoning?from=2025-01-01&to=2025-02-01"); !strings.Contains(saidBy(early), "No day is over yet") {
		t.Errorf("days before the stay: %s", saidBy(early))
	}
}

// TestReckoningShowsTheReport: what the page shows of a span is what the command
// reckons, and a write makes it anew.
func TestReckoningShowsTheReport(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), day.Of(2026, time.December, 20), unit.Metric)
	span := engine.Span{From: deskBegun, To: day.Of(2026, time.December, 19)}
	ready := func() *reckon.Report {
		for range 3000 {
			r, err := d.audit(t.Context(), span)
			must(t, err)
			if r != nil {
				return r
			}
			time.Sleep(10 * time.Millisecond)
		}
		t.Fatal("no reckoning")
		return nil
	}
	before := ready()
	write(t, d, "foraged 2 kg acorns on 2026-12-01\nate 2 kg acorns on 2026-12-01")
	after := ready()
	if before == after || after.Entries != before.Entries+2 || !(*after.Shares[1].Low > *before.Shares[1].Low) {
		t.Errorf("%d entries, then %d; low %g, then %g", before.Entries, after.Entries, *before.Shares[1].Low, *after.Shares[1].Low)
	}
	rows := deskInside(t, d).rings(after.Balances)
	if len(rows) != 7 || rows[6].Sum != "yes" {
		t.Errorf("%+v", rows)
	}
}

// TestReckoningIsSmallAndQuick holds a year of 20,000 entries to 100 KB and 60 ms.
func TestReckoningIsSmallAndQuick(t *testing.T) {
	d := deskOn(t, demo.Quernfold(), day.Of(2027, time.November, 1), unit.US)
	fill(t, d, 20_000)
	h := deskSite(t, d)
	reckonedPage(t, h, "/reckoning")
	if size := answersIn(t, h, "/reckoning", 60*time.Millisecond*slack, nil).Body.Len(); size > mostBytes {
		t.Errorf("%d bytes", size)
	}
}
