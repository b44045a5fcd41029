package tasks

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// This is a reader of iCalendar of its own, from the grammar of RFC 5545 (3.1,
// 3.2, 3.3.11, 3.4, 3.6), stricter than a calendar program: it shares nothing
// with the writer.

// property is a content line, unfolded and taken apart.
type property struct {
	name   string
	params map[string]string
	value  string // as written; text unescapes it
}

// component is what stands between BEGIN and END.
type component struct {
	name  string
	props []property
	subs  []*component
}

// unfolded joins folded lines: CRLF and one blank or tab go (3.1). Every line must
// end in CRLF and hold at most 75 octets.
func unfolded(s string) ([]string, error) {
	if !utf8.ValidString(s) {
		return nil, fmt.Errorf("not UTF-8")
	}
	rest, ok := strings.CutSuffix(s, "\r\n")
	if !ok {
		return nil, fmt.Errorf("the last line does not end in CRLF")
	}
	var out []string
	for i, raw := range strings.Split(rest, "\r\n") {
		if len(raw) > 75 || strings.ContainsAny(raw, "\r\n") {
			return nil, fmt.Errorf("line %d has %d octets, or a bare line break: %q", i+1, len(raw), raw)
		}
		if raw != "" && (raw[0] == ' ' || raw[0] == '\t') {
			if len(out) == 0 {
				return nil, fmt.Errorf("the first line goes on from none")
			}
			out[len(out)-1] += raw[1:]
			continue
		}
		out = append(out, raw)
	}
	return out, nil
}

var (
	nameForm  = regexp.MustCompile(`^[A-Za-z0-9-]+`)
	quoted    = regexp.MustCompile(`^"[^"\x00-\x08\x0a-\x1f\x7f]*"`)
	paramText = regexp.MustCompile(`^[^";:,\x00-\x08\x0a-\x1f\x7f]*`)
	controls  = regexp.MustCompile(`[\x00-\x08\x0a-\x1f\x7f]`)
)

// contentLine reads name *(";" param "=" value) ":" value.
func contentLine(s string) (p property, err error) {
	p.name, p.params = nameForm.FindString(s), map[string]string{}
	rest := s[len(p.name):]
	for p.name != "" && strings.HasPrefix(rest, ";") {
		key := nameForm.FindString(rest[1:])
		after, ok := strings.CutPrefix(rest[1+len(key):], "=")
		if key == "" || !ok {
			return p, fmt.Errorf("%q: a parameter without a value", s)
		}
		v := quoted.FindString(after)
		if v == "" {
			v = paramText.FindString(after)
		}
		p.params[strings.ToUpper(key)], rest = strings.Trim(v, `"`), after[len(v):]
	}
	value, ok := strings.CutPrefix(rest, ":")
	if p.name == "" || !ok || controls.MatchString(value) {
		return p, fmt.Errorf("%q is not a content line", s)
	}
	p.name, p.value = strings.ToUpper(p.name), value
	return p, nil
}

// text undoes the escapes of TEXT (3.3.11); any other backslash, and a bare comma
// or semicolon, is a fault.
func text(s string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == ',' || c == ';':
			return "", fmt.Errorf("%q has a bare %c", s, c)
		case c != '\\':
			b.WriteByte(c)
		case i+1 == len(s):
			return "", fmt.Errorf("%q ends in a backslash", s)
		default:
			i++
			switch s[i] {
			case 'n', 'N':
				b.WriteByte('\n')
			case '\\', ',', ';':
				b.WriteByte(s[i])
			default:
				return "", fmt.Errorf("%q escapes %c", s, s[i])
			}
		}
	}
	return b.String(), nil
}

// parse reads one component with those within it.
func parse(s string) (*component, error) {
	lines, err := unfolded(s)
	if err != nil {
		return nil, err
	}
	root := &component{}
	open := []*component{root}
	for _, line := range lines {
		p, err := contentLine(line)
		if err != nil {
			return nil, err
		}
		top := open[len(open)-1]
		switch p.name {
		case "BEGIN":
			sub := &component{name: strings.ToUpper(p.value)}
			top.subs = append(top.subs, sub)
			open = append(open, sub)
		case "END":
			if len(open) == 1 || top.name != strings.ToUpper(p.value) {
				return nil, fmt.Errorf("END:%s where %s is open", p.value, top.name)
			}
			open = open[:len(open)-1]
		default:
			top.props = append(top.props, p)
		}
	}
	if len(open) != 1 || len(root.subs) != 1 || len(root.props) != 0 {
		return nil, fmt.Errorf("%d components are left open, %d stand side by side", len(open)-1, len(root.subs))
	}
	return root.subs[0], nil
}

// once is the value of a property that stands exactly once.
func (c *component) once(t testing.TB, name string) property {
	t.Helper()
	var got []property
	for _, p := range c.props {
		if p.name == name {
			got = append(got, p)
		}
	}
	if len(got) != 1 {
		t.Fatalf("%s has %d of %s, wants one", c.name, len(got), name)
	}
	return got[0]
}

func (c *component) textOf(t testing.TB, name string) string {
	t.Helper()
	s, err := text(c.once(t, name).value)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// dateOf reads VALUE=DATE (3.3.4).
func (c *component) dateOf(t testing.TB, name string) time.Time {
	t.Helper()
	p := c.once(t, name)
	d, err := time.Parse("20060102", p.value)
	if err != nil || p.params["VALUE"] != "DATE" {
		t.Fatalf("%s %v is not a date", p.value, p.params)
	}
	return d
}

// TestReaderReadsTheStandardsExamples holds the reader to RFC 5545's own texts.
func TestReaderReadsTheStandardsExamples(t *testing.T) {
	folded, err := unfolded("DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n") // 3.1
	if err != nil || len(folded) != 1 || folded[0] != "DESCRIPTION:This is a long description that exists on a long line." {
		t.Errorf("%q %v", folded, err)
	}
	said, err := text(`Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`) // 3.3.11
	if err != nil || said != "Project XYZ Final Review\nConference Room - 3B\nCome Prepared." {
		t.Errorf("%q %v", said, err)
	}
	p, err := contentLine(`ATTENDEE;RSVP=TRUE;ROLE=REQ-PARTICIPANT:mailto:jsmith@example.com`) // 3.1
	if err != nil || p.params["ROLE"] != "REQ-PARTICIPANT" || p.value != "mailto:jsmith@example.com" {
		t.Errorf("%+v %v", p, err)
	}
	p, err = contentLine(`DESCRIPTION;ALTREP="cid:part1.0001@example.org":The Fall'98 Wild Wizards Conference - - Las Vegas\, NV\, USA`) // 3.2.1
	if err != nil || p.params["ALTREP"] != "cid:part1.0001@example.org" {
		t.Errorf("%+v %v", p, err)
	}
	event := "BEGIN:VEVENT\r\nUID:20070423T123432Z-541111@example.com\r\nDTSTAMP:20070423T123432Z\r\nDTSTART;VALUE=DATE:20070628\r\n" +
		"DTEND;VALUE=DATE:20070709\r\nSUMMARY:Festival International de Jazz de Montreal\r\nTRANSP:TRANSPARENT\r\nEND:VEVENT\r\n" // 3.6.1
	c, err := parse(event)
	if err != nil {
		t.Fatal(err)
	}
	if c.dateOf(t, "DTEND").Sub(c.dateOf(t, "DTSTART")) != 11*24*time.Hour || c.textOf(t, "SUMMARY") != "Festival International de Jazz de Montreal" {
		t.Errorf("%+v", c)
	}
	for _, bad := range []string{"", "BEGIN:A\r\nEND:B\r\n", "BEGIN:A\r\n", "A:b\n", " A:b\r\n", "BEGIN:A\r\nno colon\r\nEND:A\r\n", "BEGIN:A\r\nX:" + strings.Repeat("x", 80) + "\r\nEND:A\r\n"} {
		if _, err := parse(bad); err == nil {
			t.Errorf("%q is read", bad)
		}
	}
}
