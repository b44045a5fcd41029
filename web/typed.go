package web

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"evenstead/book"
	"evenstead/unit"
)

// What is typed is read as the language of the page writes numbers, and only here:
// behind this, numbers stand as package unit reads them.

// marks are those of the language's sample number: "12 345,6".
func (w words) marks() unit.Marks {
	sample := w["number"]
	if sample == "" {
		return unit.Marks{}
	}
	group, _ := utf8.DecodeRuneInString(sample[strings.IndexFunc(sample, notDigit):])
	point, _ := utf8.DecodeRuneInString(sample[strings.LastIndexFunc(sample, notDigit):])
	return unit.Marks{Point: point, Group: group}
}

// plain is a typed amount with its numbers as package unit reads them. One that
// could mean two amounts is refused in the page's words; degrees mean one, since
// no angle has thousands.
func (w words) plain(text string, k unit.Kind) (string, error) {
	plain, err := w.marks().PlainAmount(text)
	two := (*unit.Twofold)(nil)
	switch {
	case !errors.As(err, &two):
		return plain, err
	case k == unit.Angle:
		return strings.Replace(plain, ",", ".", 1), nil
	}
	return "", w.twofold(two)
}

// twofold says in the page's words that a number can be read two ways. Its parts
// stand as they are to be written.
func (w words) twofold(two *unit.Twofold) error {
	return fmt.Errorf(w["number.twofold"], two.Text, two.Whole, two.Decimal)
}

// plainList is plain for amounts parted by commas, semicolons or blanks. Commas of
// a language that has the point stay: they part the list.
func (w words) plainList(text string) (string, error) {
	m := w.marks()
	if m.Point != ',' {
		return text, nil
	}
	plain, err := m.Plain(text)
	if two := (*unit.Twofold)(nil); errors.As(err, &two) {
		return "", w.twofold(two)
	}
	return plain, err
}

// parse reads a typed amount; a bare number is in the unit given.
func (w words) parse(text string, k unit.Kind, bare string) (float64, error) {
	plain, err := w.plain(text, k)
	if err != nil {
		return 0, err
	}
	return unit.Parse(withUnit(plain, bare), k)
}

// withUnit gives a number that has no unit one.
func withUnit(plain, bare string) string {
	if _, word, rest, ok := unit.Split(plain); ok && word == "" && rest == "" && bare != "" {
		return strings.TrimSpace(plain) + " " + bare
	}
	return plain
}

// asTyped is a text with numbers as package unit reads them, for a field of the
// page: it reads back as the same amounts.
func (w words) asTyped(plain string) string { return w.marks().Write(plain) }

// listTyped is asTyped for amounts parted by commas, semicolons or blanks.
func (w words) listTyped(plain string) string {
	if w.marks().Point != ',' || !strings.ContainsAny(plain, ",;") {
		return w.asTyped(plain)
	}
	parts := strings.FieldsFunc(plain, func(r rune) bool { return r == ',' || r == ';' })
	for i := range parts {
		parts[i] = w.asTyped(strings.TrimSpace(parts[i]))
	}
	return strings.Join(parts, "; ")
}

// notesOf is what a note of the page is read against, by the one who is said to
// have written it.
func (s *site) notesOf(snap *Snapshot, who string) book.Context {
	c := snap.Context
	c.Marks = s.words.marks()
	if named, err := c.Named(who, book.Person); err == nil && who != "" {
		c.Who = named
	}
	return c
}
