package tasks

import (
	"bytes"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
)

// feedOf writes a feed of some weeks and reads it with another's reader.
func feedOf(t *testing.T, p *Plan, f Feed) (string, *ics.Calendar) {
	t.Helper()
	var b bytes.Buffer
	if err := WriteFeed(&b, p, stamp, f); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	c, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return text, c
}

// TestFeedIsReadByOthers: golang-ical reads every event with its day, words and
// alarm, as they were meant.
func TestFeedIsReadByOthers(t *testing.T) {
	p := quernfold(t).plan(t, on(2026, time.November, 25), 6, "")
	text, c := feedOf(t, p, Feed{Name: "Quernfold; work, all of it", Zone: "Europe/Lisbon", Refresh: 6 * time.Hour})
	for _, want := range []string{"X-WR-TIMEZONE:Europe/Lisbon\r\n", "REFRESH-INTERVAL;VALUE=DURATION:PT21600S\r\n", `NAME:Quernfold\; work\, all of it` + "\r\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("the feed lacks %q", want)
		}
	}
	events := map[string]*ics.VEvent{}
	for _, e := range c.Events() {
		if events[e.Id()] != nil {
			t.Errorf("%s is there twice", e.Id())
		}
		events[e.Id()] = e
	}
	alarms, told := 0, map[string]bool{}
	for i := range p.Weeks {
		for j := range p.Weeks[i].Tasks {
			x := &p.Weeks[i].Tasks[j]
			if x.Daily || x.Drop || told[x.ID] {
				continue
			}
			told[x.ID] = true
			e := events[x.ID+".quernfold@"+uidHost]
			if e == nil {
				t.Errorf("%s was not read", x.ID)
				continue
			}
			foreignEvent(t, e, x)
			if x.Alarm {
				alarms++
			}
		}
	}
	if len(events) != len(told) || len(told) < 20 || alarms == 0 || alarms > len(told)/4 {
		t.Errorf("%d events of %d tasks, %d alarms", len(events), len(told), alarms)
	}
}

// foreignEvent compares what another reader makes of an event with its task.
func foreignEvent(t *testing.T, e *ics.VEvent, x *Task) {
	t.Helper()
	start, err := e.GetAllDayStartAt()
	if err != nil {
		t.Fatalf("%s: %v", x.ID, err)
	}
	end, err := e.GetAllDayEndAt()
	if err != nil || start.Format(time.DateOnly) != x.By.String() || end.Sub(start) != 24*time.Hour {
		t.Errorf("%s lies from %s to %s (%v), want %s", x.ID, start, end, err, x.By)
	}
	if at, err := e.GetDtStampTime(); err != nil || !at.Equal(stamp) {
		t.Errorf("%s is stamped %s, %v", x.ID, at, err)
	}
	if got := e.GetProperty(ics.ComponentPropertySummary).Value; got != x.Title {
		t.Errorf("read %q, want %q", got, x.Title)
	}
	if got := e.GetProperty(ics.ComponentPropertyDescription).Value; !strings.Contains(got, x.Why) || !strings.Contains(got, x.Note) {
		t.Errorf("%s: read %q", x.ID, got)
	}
	if got := len(e.Alarms()); (got == 1) != x.Alarm || got > 1 {
		t.Errorf("%s has %d alarms", x.ID, got)
	}
}

// TestFeedLines: lines end in CRLF and are folded after at most 75 octets, unfolded
// they begin with a name (RFC 5545, 3.1).
func TestFeedLines(t *testing.T) {
	p := quernfold(t).plan(t, on(2026, time.November, 25), 13, "")
	text, _ := feedOf(t, p, Feed{Name: strings.Repeat("Ä long näme ", 20)})
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "END:VCALENDAR\r\n") {
		t.Error("a line does not end in CRLF")
	}
	for _, line := range strings.Split(text, "\r\n") {
		if len(line) > 75 {
			t.Errorf("%d octets: %s", len(line), line)
		}
	}
	for _, line := range strings.Split(strings.ReplaceAll(text, "\r\n ", ""), "\r\n") {
		name, _, ok := strings.Cut(line, ":")
		if line != "" && (!ok || strings.Trim(strings.SplitN(name, ";", 2)[0], "ABCDEFGHIJKLMNOPQRSTUVWXYZ-") != "") {
			t.Errorf("no content line: %q", line)
		}
	}
}

// TestFeedMovesNothingTwice: a feed of a later day names the work they share alike.
func TestFeedMovesNothingTwice(t *testing.T) {
	q := quernfold(t)
	_, a := feedOf(t, q.plan(t, on(2026, time.November, 25), 6, ""), Feed{})
	_, b := feedOf(t, q.plan(t, on(2026, time.November, 27), 6, ""), Feed{})
	had := map[string]bool{}
	for _, e := range a.Events() {
		had[e.Id()] = true
	}
	shared := 0
	for _, e := range b.Events() {
		if had[e.Id()] {
			shared++
		}
	}
	if shared < len(a.Events())/2 {
		t.Errorf("%d of %d events are known again two days later", shared, len(a.Events()))
	}
}

// TestNoEventHasAnHour: every event is of whole days, so that no time zone need be
// named: the one moment in an event is that of its writing, in UTC.
func TestNoEventHasAnHour(t *testing.T) {
	text, _ := feedOf(t, quernfold(t).plan(t, on(2026, time.November, 25), 13, ""), Feed{Name: "Q", Zone: "America/New_York", Refresh: time.Hour})
	events := 0
	for line := range strings.SplitSeq(text, "\r\n") {
		name, value, _ := strings.Cut(line, ":")
		switch {
		case strings.Contains(name, "TZID"), value == "VTIMEZONE":
			t.Errorf("a zone is named: %s", line)
		case strings.HasPrefix(name, "DTSTART"), strings.HasPrefix(name, "DTEND"):
			if !strings.HasSuffix(name, ";VALUE=DATE") || len(value) != 8 {
				t.Errorf("an hour: %s", line)
			}
			events++
		case name == "DTSTAMP" && !strings.HasSuffix(value, "Z"):
			t.Errorf("not in UTC: %s", line)
		}
	}
	if events < 20 {
		t.Errorf("%d ends of events", events)
	}
}
