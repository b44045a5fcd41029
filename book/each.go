package book

import (
	"regexp"
	"slices"
	"strings"

	"evenstead/unit"
)

// Piece is the word of Extra that says what is counted: the "head" of "4 heads of
// lettuce".
const Piece = "piece"

var (
	things    = regexp.MustCompile(`(?i)^\s*([a-z][a-z' -]*?)(,? (?:of|weighing|at)|,)\s*$`)
	eachAfter = regexp.MustCompile(`(?i)^\s*(?:each|apiece)\b`)
	pieceOf   = regexp.MustCompile(`(?i)^\s*([a-z]+) of `)
	pieceEnds = regexp.MustCompile(`(?i)^\s*([a-z][a-z' -]*) ([a-z]+)(?:$|[,;]| (?:from|in|by|to)\b)`)
)

// each reads a count of what weighs or holds so much: "6 squash of 1.8 kg", "6
// squash, 4 lb each", "3 cans of 10 L". ok is false where the line has none.
func (l *line) each(r Rule) (v float64, m unit.Kind, ok bool) {
	list := l.numbers(r)
	for i := 0; i+1 < len(list); i++ {
		f, g := list[i], list[i+1]
		between := things.FindStringSubmatch(l.text[f.to:g.from])
		k, weighs := shared(g.kinds, []unit.Kind{unit.Mass, unit.Volume})
		if f.word != "" || between == nil || !weighs || !r.Allows(k) || l.inName(f) {
			continue
		}
		after := l.text[g.to:]
		said := eachAfter.FindString(after)
		if link := strings.TrimSpace(between[2]); said == "" && (link == "," || strings.EqualFold(link, "at")) {
			continue
		}
		one := strings.TrimSpace(l.text[g.from:g.to])
		count, err := unit.Parse(l.text[f.from:f.to], unit.Number)
		amount, err2 := unit.Parse(one, k)
		if err != nil || err2 != nil {
			continue
		}
		l.note = strings.TrimSpace(l.text[f.from:f.to]) + " of " + one + " each"
		l.text = l.text[:f.from] + ", " + l.counted(r, between[1], after[len(said):])
		return count * amount, k, true
	}
	return 0, "", false
}

// counted is the rest of a line whose things were counted. Where it goes on with
// the name of what was in them, sacks and cans are left out.
func (l *line) counted(r Rule, what, after string) string {
	_, known := l.exact(what, r.What)
	if short, form := cutForm(what); form != "" && !known {
		_, known = l.exact(short, r.What)
	}
	goesOn := strings.TrimLeft(after, " ")
	if known || formWords[strings.ToLower(what)] != "" || goesOn == "" || strings.ContainsAny(goesOn[:1], ",;.") || links.FindStringIndex(" " + goesOn)[0] == 0 {
		return what + ", " + after
	}
	return after
}

// piece takes the word for one of what was counted out of the text after a number:
// "heads of lettuce", "lettuce heads". What is a name by itself stays.
func (l *line) piece(r Rule, after string) string {
	if m := pieceOf.FindStringSubmatchIndex(after); m != nil {
		if word := singular(strings.ToLower(after[m[2]:m[3]])); l.isPiece(word) {
			l.one = word
			return " " + after[m[1]:]
		}
	}
	m := pieceEnds.FindStringSubmatchIndex(after)
	if m == nil {
		return after
	}
	word := singular(strings.ToLower(after[m[4]:m[5]]))
	_, whole := l.exact(after[m[2]:m[5]], r.What)
	_, known := l.exact(after[m[2]:m[3]], r.What)
	if whole || !known || !l.isPiece(word) {
		return after
	}
	l.one = word
	return " " + after[m[2]:m[3]] + after[m[5]:]
}

func (l *line) isPiece(word string) bool { return slices.Contains(l.Pieces, word) }

// many is a word for several pieces, such that singular gives the one again.
func many(word string) string {
	switch {
	case word == "leaf":
		return "leaves"
	case strings.HasSuffix(word, "ch"), strings.HasSuffix(word, "sh"), strings.HasSuffix(word, "o"):
		return word + "es"
	case strings.HasSuffix(word, "y"):
		return word[:len(word)-1] + "ies"
	}
	return word + "s"
}
