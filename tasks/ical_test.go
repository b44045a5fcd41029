package tasks

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"evenstead/day"

	"pgregory.net/rapid"
)

var stamp = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.FixedZone("", 3600))

func calendarOf(t testing.TB, p *Plan) *component {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCalendar(&b, p, stamp); err != nil {
		t.Fatal(err)
	}
	c, err := parse(b.String())
	if err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	return c
}

// TestCalendarIsRead: every task comes back from another reader, on its day, with
// all that the standard asks of a calendar and its events (RFC 5545, 3.4, 3.6).
func TestCalendarIsRead(t *testing.T) {
	p := quernfold(t).plan(t, on(2026, time.November, 25), 4, "")
	c := calendarOf(t, p)
	if c.name != "VCALENDAR" || c.once(t, "VERSION").value != "2.0" || c.once(t, "PRODID").value == "" {
		t.Fatalf("%+v", c.props)
	}
	want := map[string]*Task{}
	for i := range p.Weeks {
		for j := range p.Weeks[i].Tasks {
			if x := &p.Weeks[i].Tasks[j]; !x.Daily && !x.Drop && want[x.ID] == nil {
				want[x.ID] = x
			}
		}
	}
	if len(c.subs) != len(want) || len(want) < 10 {
		t.Fatalf("%d events of %d tasks", len(c.subs), len(want))
	}
	for _, e := range c.subs {
		id, _, _ := strings.Cut(e.textOf(t, "UID"), ".quernfold@")
		x := want[id]
		if x == nil || e.name != "VEVENT" {
			t.Errorf("an event of no task: %s %+v", e.name, e.props)
			continue
		}
		delete(want, id)
		checkEvent(t, e, x)
	}
}

func checkEvent(t *testing.T, e *component, x *Task) {
	t.Helper()
	if got := e.once(t, "DTSTAMP").value; got != "20261125T110000Z" {
		t.Errorf("stamp %s", got)
	}
	if start := e.dateOf(t, "DTSTART"); start != x.By.Time() || e.dateOf(t, "DTEND") != start.AddDate(0, 0, 1) {
		t.Errorf("%s lies on %s", x.ID, start)
	}
	if e.textOf(t, "SUMMARY") != x.Title {
		t.Errorf("%q, want %q", e.textOf(t, "SUMMARY"), x.Title)
	}
	says(t, e.textOf(t, "DESCRIPTION"), x.Why, x.Note)
	if (len(e.subs) == 1) != x.Alarm {
		t.Fatalf("%s has %d alarms", x.ID, len(e.subs))
	}
	for _, a := range e.subs { // 3.6.6: a display alarm has these three, once
		if a.name != "VALARM" || a.once(t, "ACTION").value != "DISPLAY" || a.once(t, "TRIGGER").value != "PT7H" || a.textOf(t, "DESCRIPTION") == "" {
			t.Errorf("%+v", a)
		}
	}
}

// TestUIDsHold: a calendar of the next day moves events, and makes no second one.
func TestUIDsHold(t *testing.T) {
	p := quernfold(t)
	uids := func(today day.Day) map[string]bool {
		out := map[string]bool{}
		for _, e := range calendarOf(t, p.plan(t, today, 1, "")).subs {
			uid := e.once(t, "UID").value
			if out[uid] {
				t.Errorf("%s twice", uid)
			}
			out[uid] = true
		}
		return out
	}
	a, b := uids(on(2026, time.November, 23)), uids(on(2026, time.November, 24))
	same := 0
	for uid := range a {
		if b[uid] {
			same++
		}
	}
	if same < len(a)*8/10 {
		t.Errorf("%d of %d uids hold", same, len(a))
	}
}

// TestAlarmsAreSparing: in a year of the demo at most one task in twenty rings.
func TestAlarmsAreSparing(t *testing.T) {
	p := quernfold(t)
	rings, all := 0, 0
	for d := range 7 {
		plan := p.plan(t, p.st.Stay.From+day.Day(52*d), 4, "")
		for _, e := range calendarOf(t, plan).subs {
			all++
			rings += len(e.subs)
		}
	}
	if rings == 0 || rings > all/20 {
		t.Errorf("%d of %d ring", rings, all)
	}
}

// allowed is text as a calendar can hold it: line breaks as \n, no other control
// characters but the tab, UTF-8.
func allowed(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// checkText writes text as an event's and reads it back.
func checkText(t interface{ Fatalf(string, ...any) }, s string) {
	line := fold("SUMMARY:" + escape(s))
	lines, err := unfolded(line)
	if err != nil || len(lines) != 1 {
		t.Fatalf("%q folds to %q: %v", s, line, err)
	}
	for part := range strings.SplitSeq(line, "\r\n") {
		if !utf8.ValidString(part) {
			t.Fatalf("%q is cut within a character", part)
		}
	}
	p, err := contentLine(lines[0])
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	back, err := text(p.value)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	// Bytes that are no UTF-8 each become one replacement character.
	want := allowed(string([]rune(s)))
	if back != want {
		t.Fatalf("wrote %q, read %q", want, back)
	}
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"", "a,b;c\\d", "two\nlines", "one\r\ntwo\rthree", strings.Repeat("é", 80), strings.Repeat("x", 75), "\\n", "tab\there", "\x00\x1f\x7f", "\xff\xfe", strings.Repeat("𝄞", 30)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkText(t, s) })
}

// TestAnyPlanIsRead: whatever stands in a plan's words, the calendar is sound.
func TestAnyPlanIsRead(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.StringOf(rapid.RuneFrom([]rune("ab,;:\\\"\n\r\t éß漢𝄞\x01\u00a0")))
		x := Task{ID: slug(words.Draw(r, "id")), Title: words.Draw(r, "title"), Why: words.Draw(r, "why"), Note: words.Draw(r, "note"), By: day.Day(rapid.IntRange(0, 40000).Draw(r, "by")), Alarm: rapid.Bool().Draw(r, "alarm")}
		c := calendarOf(t, &Plan{Stead: words.Draw(r, "stead"), Weeks: []Week{{Tasks: []Task{x}}}})
		if got := c.subs[0].textOf(t, "SUMMARY"); got != allowed(x.Title) {
			r.Fatalf("%q, want %q", got, allowed(x.Title))
		}
	})
}

func BenchmarkCalendar(b *testing.B) {
	p := quernfold(b).plan(b, on(2027, time.June, 10), 4, "")
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteCalendar(&out, p, stamp); err != nil {
			b.Fatal(err)
		}
	}
}
