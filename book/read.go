package book

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"evenstead/unit"
)

// A Reading is what one line of a quick note was understood to say.
type Reading struct {
	Line     int    // counted from 1
	Text     string // as written
	Entry    Entry  // without id; incomplete when Err is set
	Sentence string // the entry in words, to be shown before it is saved
	Doubts   []Doubt
	Cautions []string // what can harm in its food or work, and what guards against it
	Err      error    // why it cannot be saved as it is
}

// A Doubt is a question about a reading that may be saved as it stands.
type Doubt struct {
	Field    string // "what", "where", "form", "amount"
	Question string
	Choices  []string // likeliest first; may be empty
}

// Read understands a quick note, one entry a line, blank lines left out:
//
//	picked 3.2 lb sweet potato, north bed
//	dipped tote 2 at 140 gal
//	put up 11 quarts tomatoes
//	rain 14 mm yesterday
//
// Word order is free except that the first word of doing counts. Days are
// today, yesterday, monday, 3 days ago, 5 Nov or 2026-11-05; a time is 7:30 or
// 7 pm; words in brackets are a note; a household name in front, or after "by",
// is who did it. Entries carry no id: the caller makes one with NewID.
func Read(text string, c Context) []Reading {
	var out []Reading
	for i, s := range strings.Split(text, "\n") {
		if s = tidy(s); s != "" {
			out = append(out, c.readLine(i+1, s))
		}
	}
	return out
}

// tidy makes a line fit to be read: sound UTF-8, single blanks, no bullet. A held
// blank between digits stays, since it may part thousands.
func tidy(s string) string {
	runes := []rune(strings.ToValidUTF8(s, "?"))
	for i, r := range runes {
		within := i > 0 && i+1 < len(runes) && unicode.IsDigit(runes[i-1]) && unicode.IsDigit(runes[i+1])
		if (unicode.IsControl(r) || unicode.IsSpace(r)) && !(within && strings.ContainsRune("\u00a0\u2009\u202f", r)) {
			runes[i] = ' '
		}
	}
	s = strings.Join(strings.FieldsFunc(string(runes), func(r rune) bool { return r == ' ' }), " ")
	return strings.TrimSpace(strings.TrimLeft(s, "*•·>- "))
}

func (c Context) readLine(n int, text string) Reading {
	l := &line{text: text, Context: c}
	r := Reading{Line: n, Text: text, Entry: Entry{Day: c.Today, Who: c.Who}}
	r.Err = l.read(&r)
	if _, ok := RuleOf(r.Entry.Kind); ok {
		r.Sentence = r.Entry.Sentence(c.System)
	}
	if r.Err == nil {
		r.Err = Check(r.Entry.withID(), c)
	}
	r.care(c)
	return r
}

// withID gives a reading's entry an id, so that the rest of it can be checked.
func (e Entry) withID() Entry {
	e.ID[6], e.ID[8] = 0x70, 0x80
	return e
}

// longestLine is the most bytes of one line that are read.
const longestLine = 1000

func (l *line) read(r *Reading) (err error) {
	e := &r.Entry
	if len(l.text) > longestLine {
		return fmt.Errorf("the line has %d bytes, the most is %d: write several lines", len(l.text), longestLine)
	}
	if noteMark.MatchString(l.text) {
		e.Kind, e.Note = Noted, noteMark.ReplaceAllString(l.text, "")
		return nil
	}
	e.Note = l.bracketed()
	if l.text, err = l.Marks.Plain(l.text); err != nil {
		return err
	}
	l.text = figures(strings.ReplaceAll(l.text, "’", "'"))
	if e.Day, err = l.when(); err != nil {
		return err
	}
	if e.Time, err = l.clock(); err != nil {
		return err
	}
	l.who(e)
	v, ok := l.cutVerb()
	if !ok {
		return noVerb(r.Text)
	}
	e.Kind, e.Body.Form = v.kind, v.form
	rule, _ := RuleOf(v.kind)
	var q *Doubt
	e.Body.Amount, e.Body.Measure, q, err = l.amount(rule)
	r.doubt(q)
	return errors.Join(err, l.things(r, rule))
}

func (r *Reading) doubt(d *Doubt) {
	if d != nil {
		r.Doubts = append(r.Doubts, *d)
	}
}

var bracket = regexp.MustCompile(`\(([^()]*)\)`)

// bracketed cuts the words in brackets out of the line.
func (l *line) bracketed() string {
	var notes []string
	for m := l.cut(bracket); m != nil; m = l.cut(bracket) {
		if s := strings.TrimSpace(m[1]); s != "" {
			notes = append(notes, s)
		}
	}
	return strings.Join(notes, "; ")
}

// who takes a household name in front of the line, or after "by".
func (l *line) who(e *Entry) {
	for _, p := range l.Names[Person] {
		for _, name := range append([]string{p.ID}, p.Also...) {
			start := strings.TrimLeft(l.text, ", ")
			if wordIndex(start, name) == 0 && name != "" {
				e.Who, l.text = p.ID, strings.TrimLeft(start[len(name):], ":, ")
				return
			}
			if i := wordIndex(l.text, "by "+name); i >= 0 {
				e.Who, l.text = p.ID, l.text[:i]+", "+l.text[i+len("by "+name):]
				return
			}
		}
	}
}

func noVerb(text string) error {
	for _, w := range strings.Fields(text) {
		if near := unit.Nearest(strings.Trim(w, ",.:;"), verbWords()); len(w) > 3 && near != "" {
			return fmt.Errorf("no word says what was done: is %q meant for %s?", w, near)
		}
	}
	return errors.New("no word says what was done: begin with picked, put up, ate, dipped, counted, fed, rain, worked, note or the like")
}
