package tasks

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"evenstead/day"
)

// product names the maker of a calendar (RFC 5545, 3.7.3).
const product = "-//Evenstead//tasks//EN"

// uidHost ends every UID; it names no host that is looked up.
const uidHost = "evenstead.invalid"

// WriteCalendar writes a plan as an iCalendar (RFC 5545): an all-day event for
// each task, on the day it is due, with a UID that stays the same as long as the
// task does, so that a later file moves the event and makes no second one. Daily
// rounds and tasks that are dropped are left out. An alarm, at seven in the morning of the
// day, goes with the few tasks that can't be made good again. Dates have no
// time zone, so no VTIMEZONE is written. stamp is the moment of writing.
func WriteCalendar(w io.Writer, p *Plan, stamp time.Time) error {
	return WriteFeed(w, p, stamp, Feed{})
}

// A Feed is what a calendar that is subscribed to tells of itself.
type Feed struct {
	Name    string        // shown by the program; "": none is told
	Zone    string        // IANA name of the stead's time zone, for the hour of alarms; "": the reader's own
	Refresh time.Duration // how often to look again; 0: as the program likes
}

// WriteFeed is WriteCalendar with the calendar's own name, zone and pace, in the
// words of RFC 7986 (NAME, REFRESH-INTERVAL) and in the X- words of before, which
// most programs read.
func WriteFeed(w io.Writer, p *Plan, stamp time.Time, f Feed) error {
	c := &calendar{w: bufio.NewWriter(w)}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", product)
	c.line("CALSCALE", "GREGORIAN")
	c.line("METHOD", "PUBLISH")
	c.feed(f)
	seen := map[string]bool{}
	for i := range p.Weeks {
		for j := range p.Weeks[i].Tasks {
			if t := &p.Weeks[i].Tasks[j]; !t.Daily && !t.Drop && !seen[t.ID] {
				seen[t.ID] = true
				c.event(p, t, stamp)
			}
		}
	}
	c.line("END", "VCALENDAR")
	return c.w.Flush()
}

// calendar writes content lines; its writer keeps the first error.
type calendar struct{ w *bufio.Writer }

func (c *calendar) feed(f Feed) {
	if f.Name != "" {
		c.line("NAME", escape(f.Name))
		c.line("X-WR-CALNAME", escape(f.Name))
	}
	if f.Zone != "" {
		c.line("X-WR-TIMEZONE", escape(f.Zone))
	}
	if s := int(f.Refresh / time.Second); s > 0 {
		c.line("REFRESH-INTERVAL;VALUE=DURATION", fmt.Sprintf("PT%dS", s))
		c.line("X-PUBLISHED-TTL", fmt.Sprintf("PT%dS", s))
	}
}

func (c *calendar) event(p *Plan, t *Task, stamp time.Time) {
	c.line("BEGIN", "VEVENT")
	c.line("UID", t.ID+"."+slug(p.Stead)+"@"+uidHost)
	c.line("DTSTAMP", stamp.UTC().Format("20060102T150405Z"))
	c.line("DTSTART;VALUE=DATE", date(t.By))
	c.line("DTEND;VALUE=DATE", date(t.By+1)) // not in the event (3.6.1)
	c.line("SUMMARY", escape(t.Title))
	c.line("DESCRIPTION", escape(t.describe()))
	c.line("CATEGORIES", escape(t.Kind))
	c.line("TRANSP", "TRANSPARENT")
	if t.Alarm {
		c.line("BEGIN", "VALARM")
		c.line("ACTION", "DISPLAY")
		c.line("DESCRIPTION", escape(t.Title))
		c.line("TRIGGER", "PT7H")
		c.line("END", "VALARM")
	}
	c.line("END", "VEVENT")
}

// describe is what stands under a task's title, a line each.
func (t *Task) describe() string {
	var out []string
	for _, s := range [...][2]string{{"", t.Amount}, {"Why: ", t.Why}, {"If it slips: ", t.Slip}, {"Take care: ", t.Caution}, {"Note when done: ", t.Note}} {
		if s[1] != "" {
			out = append(out, s[0]+s[1])
		}
	}
	return strings.Join(out, "\n")
}

func date(d day.Day) string { return d.Time().Format("20060102") }

func (c *calendar) line(name, value string) {
	c.w.WriteString(fold(name + ":" + value))
}

// escape writes a TEXT value (3.3.11): backslash, semicolon and comma behind a
// backslash, a new line as \n. Other control characters are not allowed in text
// and become blanks; bytes that are no UTF-8 the replacement character.
func escape(s string) string {
	var b strings.Builder
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	for _, r := range s {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r < ' ' && r != '\t' || r == 0x7f:
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// foldAt is the most octets of a line, its break not counted (3.1).
const foldAt = 75

// fold ends a content line, breaking it after at most 75 octets, never within a
// character; each further line begins with a blank (3.1).
func fold(s string) string {
	var b strings.Builder
	left := foldAt
	for _, r := range s {
		n := utf8.RuneLen(r)
		if n > left {
			b.WriteString("\r\n ")
			left = foldAt - 1
		}
		b.WriteRune(r)
		left -= n
	}
	b.WriteString("\r\n")
	return b.String()
}
