package unit

import (
	"fmt"
	"strings"
)

// An Error says why a text is not an amount of a kind, and how to mend it.
type Error struct {
	Text    string // as written
	Kind    Kind
	Problem string // "not a unit of volume"
	Mend    string // "meant 275 gal (1,041 L)?"
}

// Error returns text, problem and mend in one line.
func (e *Error) Error() string {
	return fmt.Sprintf("%q: %s; %s", e.Text, e.Problem, e.Mend)
}

func fault(text string, k Kind, problem, mend string) error {
	return &Error{text, k, problem, mend}
}

// unknown tells of a unit that is not one of kind k: a slip of the pen gets the
// nearest unit with the amount in SI, anything else the list of units.
func unknown(text string, k Kind, v float64, word string) error {
	fits := "write " + list(Units(k))
	if of := KindsOf(word); len(of) > 0 {
		return fault(text, k, fmt.Sprintf("%s is a unit of %s, not of %s", word, of[0].noun(), k.noun()), fits)
	}
	problem := "not a unit of " + k.noun()
	near := Nearest(word, words(k))
	m, _, ok := matchUnit(near, k)
	if near == "" || !ok {
		return fault(text, k, problem, fits)
	}
	mend := "meant " + comma(v, 6) + " " + near
	if m.factor != 1 && k != Share {
		mend += " (" + plain(Format(v*m.factor+m.offset, k, Metric)) + ")"
	}
	return fault(text, k, problem, mend+"?")
}

// words lists what may be written for a kind, usual symbols first.
func words(k Kind) []string {
	out := Units(k)
	for _, m := range simple[k] {
		out = append(out, m.word)
	}
	return out
}

func list(w []string) string {
	if len(w) < 2 {
		return strings.Join(w, "")
	}
	return strings.Join(w[:len(w)-1], ", ") + " or " + w[len(w)-1]
}

func quoteEnd(s string) string {
	if r := []rune(s); len(r) > 20 {
		s = string(r[:20]) + "..."
	}
	return fmt.Sprintf("%q", s)
}

func plain(s string) string { return strings.ReplaceAll(s, nbsp, " ") }

func example(k Kind) string {
	switch k {
	case Angle:
		return `40.1 N or 13°44'N`
	case Number:
		return "a number such as 2.5"
	case Temperature:
		return "8 °C or 46 °F"
	case Share:
		return "85 % or 0.85"
	}
	u := Units(k)
	return "2.5 " + u[0] + " or 6 " + u[len(u)-1]
}
