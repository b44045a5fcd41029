package book

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"evenstead/unit"
)

// A found is a number in the line, with its unit.
type found struct {
	from, to int    // where it stands in the text
	word     string // unit; "": none
	kinds    []unit.Kind
	second   bool // a fitting amount follows it
}

// amount reads the amount that fits the rule and puts a comma in its place.
// A question comes with a bare number whose unit was taken for granted.
func (l *line) amount(r Rule) (v float64, m unit.Kind, q *Doubt, err error) {
	l.text = strings.TrimRight(l.text, ", ")
	if r.Allows(unit.Share) {
		l.text = levels(l.text)
	}
	if v, m, ok := l.each(r); ok {
		return v, m, nil, nil
	}
	f, ok := l.pick(r)
	if !ok {
		return 0, "", nil, nil
	}
	text := strings.TrimSpace(l.text[f.from:f.to])
	if err := l.torn(f); err != nil {
		return 0, "", nil, err
	}
	after := l.text[f.to:]
	m, q = l.measure(r, f, text)
	if m == unit.Number {
		after = l.piece(r, after)
	}
	l.text = l.text[:f.from] + ", " + after
	if f.second {
		return 0, "", nil, errors.New("two amounts stand on one line: write one on each line")
	}
	switch {
	case r.Measures == nil:
		return 0, "", nil, fmt.Errorf("%s takes no amount, found %q", r.Kind, text)
	case m == "" && f.word != "":
		return 0, "", nil, fmt.Errorf("%q is not an amount of %s, which %s is measured in", text, measureList(r), r.Kind)
	case m == "":
		return 0, "", nil, fmt.Errorf("%q needs a unit: write %s%s", text, text, offer(r))
	}
	v, err = unit.Parse(text, m)
	return v, m, q, err
}

var (
	commaBefore = regexp.MustCompile(`[0-9][0-9,.]*,$`)
	commaAfter  = regexp.MustCompile(`^,[0-9][0-9,.]*`)
	blankBefore = regexp.MustCompile(`(?:^|[^0-9.,/])([0-9]{1,3})\s+$`)
	thousand    = regexp.MustCompile(`^[0-9]{3}(?:[^0-9/]|$)`)
)

// torn refuses an amount that is the end or the beginning of a longer number: the
// "5 kg" of "2,5 kg", the "345 L" of "12 345 L".
func (l *line) torn(f found) error {
	before, text, after := l.text[:f.from], strings.TrimRight(l.text[f.from:f.to], " "), l.text[f.to:]
	if head, tail := commaBefore.FindString(before), commaAfter.FindString(after); head+tail != "" {
		l.text = before[:len(before)-len(head)] + ", " + after[len(tail):]
		return fmt.Errorf("%q has a comma in an odd place: write a point before decimals, and a blank after a comma between two things", head+text+tail)
	}
	m := blankBefore.FindStringSubmatchIndex(before)
	if m == nil || !thousand.MatchString(text) || l.inName(found{from: m[2], to: m[3]}) {
		return nil
	}
	l.text = before[:m[2]] + ", " + after
	return fmt.Errorf("%q can be read as one number or as two: write %s without the blank, or put a comma between two things", before[m[2]:]+text, before[m[2]:m[3]]+text)
}

// measure is the kind of amount meant: by the unit, or by the rule for a bare number.
func (l *line) measure(r Rule, f found, text string) (unit.Kind, *Doubt) {
	for _, k := range r.Measures {
		if slices.Contains(f.kinds, k) {
			return k, nil
		}
	}
	switch {
	case f.word != "":
		return "", nil
	case r.Allows(unit.Share) && strings.ContainsAny(text, "/½⅓⅔¼¾⅛⅜⅝⅞"):
		return unit.Share, nil
	case r.Allows(unit.Number):
		return unit.Number, nil
	case len(r.Measures) != 1 && r.Kind != Dipped:
		return "", nil
	}
	var choices []string
	for _, u := range unit.Units(r.Measures[0]) {
		choices = append(choices, text+" "+u)
	}
	return r.Measures[0], &Doubt{Field: "amount", Question: fmt.Sprintf("%s without a unit is taken as %s: is that right?", text, choices[0]), Choices: choices}
}

func offer(r Rule) string {
	var w []string
	for _, m := range r.Measures {
		if u := unit.Units(m); len(u) > 0 {
			w = append(w, u[0])
		}
	}
	if len(w) == 0 {
		return ""
	}
	return " " + strings.Join(w, " or ")
}

// pick chooses the amount: the first whose unit fits; else one with another
// unit; else a bare number that is not part of a name.
func (l *line) pick(r Rule) (best found, ok bool) {
	rank := 0
	for _, f := range l.numbers(r) {
		n := 1
		switch {
		case f.fits(r):
			n = 3
		case f.word != "":
			n = 2
		case r.Measures == nil || l.inName(f):
			n = 0
		}
		if n == 3 && rank == 3 {
			best.second = true
		}
		if n > rank {
			best, rank = f, n
		}
	}
	return best, rank > 0
}

func (f found) fits(r Rule) bool {
	return slices.ContainsFunc(f.kinds, r.Allows)
}

// numbers lists every number in the text that begins a word, with its unit.
func (l *line) numbers(r Rule) (out []found) {
	for i := 0; i < len(l.text); {
		f, ok := l.numberAt(i, r)
		if !ok {
			_, n := utf8.DecodeRuneInString(l.text[i:])
			i += n
			continue
		}
		out = append(out, f)
		i = f.to
	}
	return out
}

// mayBegin tells whether a byte can open a number: a digit, a sign, a point, or a
// letter outside ASCII such as a half or a minus.
func mayBegin(b byte) bool {
	return b >= '0' && b <= '9' || b == '.' || b == '-' || b == '+' || b >= 0x80
}

func (l *line) numberAt(i int, r Rule) (found, bool) {
	s := l.text[i:]
	if i > 0 && (wordByte(l.text[i-1]) || strings.ContainsRune("-/.", rune(l.text[i-1]))) || !mayBegin(s[0]) {
		return found{}, false
	}
	_, word, rest, ok := unit.Split(s)
	if !ok {
		return found{}, false
	}
	f := found{from: i, to: len(l.text) - len(rest), word: word, kinds: unit.KindsOf(word)}
	if word != "" && !f.fits(r) && (strings.EqualFold(word, "in") || len(word) == 1 && strings.HasPrefix(rest, "'")) {
		f.word, f.kinds = "", nil
		f.to = i + bareLen(s, word)
	}
	for f.word != "" {
		_, next, left, ok := unit.Split(l.text[f.to:])
		k, same := shared(f.kinds, unit.KindsOf(next))
		if !ok || !same {
			break
		}
		if _, err := unit.Parse(strings.TrimSpace(l.text[f.from:len(l.text)-len(left)]), k); err != nil {
			break
		}
		f.to = len(l.text) - len(left)
	}
	return f, true
}

// bareLen is the length of the number in front of the unit word.
func bareLen(s, word string) int {
	if n := strings.Index(strings.ToLower(s), strings.ToLower(word)); n > 0 {
		return n
	}
	return len(s)
}

func shared(a, b []unit.Kind) (unit.Kind, bool) {
	for _, k := range a {
		if slices.Contains(b, k) {
			return k, true
		}
	}
	return "", false
}

// inName reports whether the number ends a known name, as in "tote 2".
func (l *line) inName(f found) bool {
	words := strings.Fields(l.text[:f.from])
	number := strings.TrimSpace(l.text[f.from:f.to])
	if len(words) > 0 && placeWord(words[len(words)-1]) {
		return true
	}
	for n := 1; n <= 3 && n <= len(words); n++ {
		name := plain(strings.Join(words[len(words)-n:], " ") + " " + number)
		for _, names := range l.Names {
			if slices.ContainsFunc(names, func(x Name) bool { return x.is(name) }) {
				return true
			}
		}
	}
	return false
}
