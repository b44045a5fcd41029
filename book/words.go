package book

import (
	"regexp"
	"slices"
	"strings"
)

// A verb is a word people write for a kind, and the form of food it implies.
type verb struct {
	words string
	kind  Kind
	form  string
}

// verbs lists the words of each kind; those of several words come first when
// they are looked for.
var verbs = sortVerbs([]verb{
	{"sown", Sown, ""}, {"sowed", Sown, ""}, {"sow", Sown, ""}, {"seeded", Sown, ""},
	{"set out", SetOut, ""}, {"planted out", SetOut, ""}, {"planted", SetOut, ""}, {"transplanted", SetOut, ""},
	{"picked", Picked, ""}, {"pick", Picked, ""}, {"harvested", Picked, ""}, {"dug", Picked, ""}, {"cut", Picked, ""}, {"threshed", Picked, ""},
	{"foraged", Foraged, ""}, {"gathered", Foraged, ""},
	{"taken", Taken, ""}, {"took", Taken, ""}, {"collected", Taken, ""},
	{"put up", PutUp, ""}, {"canned", PutUp, "jarred"}, {"jarred", PutUp, "jarred"}, {"bottled", PutUp, "jarred"},
	{"dried", PutUp, "dried"}, {"froze", PutUp, "frozen"}, {"frozen", PutUp, "frozen"}, {"fermented", PutUp, "fermented"}, {"stored", PutUp, ""},
	{"eaten", Eaten, ""}, {"ate", Eaten, ""},
	{"lost", Lost, ""}, {"spoiled", Lost, ""}, {"spoilt", Lost, ""},
	{"given", Given, ""}, {"gave", Given, ""}, {"received", Received, ""}, {"got", Received, ""}, {"bought", Bought, ""},
	{"rain", Rain, ""}, {"rained", Rain, ""}, {"rainfall", Rain, ""},
	{"dipped", Dipped, ""}, {"dip", Dipped, ""}, {"watered", Watered, ""}, {"irrigated", Watered, ""},
	{"moved", Moved, ""}, {"pumped", Moved, ""}, {"treated", Treated, ""}, {"filtered", Treated, ""},
	{"fed", Fed, ""}, {"emptied", Emptied, ""}, {"closed", Closed, ""}, {"sealed", Closed, ""}, {"opened", Opened, ""},
	{"heat", Heat, ""}, {"temperature", Heat, ""}, {"spread", Spread, ""}, {"poured", Spread, ""},
	{"cooked", Cooked, ""}, {"burnt", Cooked, ""}, {"burned", Cooked, ""}, {"fuel in", FuelIn, ""}, {"stacked", FuelIn, ""},
	{"meter", Meter, ""}, {"worked", Worked, ""}, {"hauled", Hauled, ""}, {"fetched", Hauled, ""},
	{"binned", Binned, ""}, {"away", Away, ""}, {"ill", Ill, ""}, {"sick", Ill, ""},
	{"counted", Counted, ""}, {"count", Counted, ""}, {"weighed", Weighed, ""},
	{"made", Made, ""}, {"built", Made, ""}, {"mended", Mended, ""}, {"repaired", Mended, ""}, {"fixed", Mended, ""},
})

func sortVerbs(v []verb) []verb {
	slices.SortStableFunc(v, func(a, b verb) int { return strings.Count(b.words, " ") - strings.Count(a.words, " ") })
	return v
}

// Words lists what may be written for a kind, the kind's own name first.
func Words(k Kind) []string {
	out := []string{string(k)}
	for _, v := range verbs {
		if v.kind == k && v.words != string(k) {
			out = append(out, v.words)
		}
	}
	return out
}

var noteMark = regexp.MustCompile(`(?i)^note\b[:\s]*`)

// cutVerb finds the verb that stands first in the line and takes it out.
func (l *line) cutVerb() (verb, bool) {
	best, at := verb{}, -1
	for _, v := range verbs {
		i := wordIndex(l.text, v.words)
		if i >= 0 && (at < 0 || i < at) {
			best, at = v, i
		}
	}
	if at < 0 {
		return best, false
	}
	l.text = l.text[:at] + ", " + l.text[at+len(best.words):]
	return best, true
}

// wordIndex is where the phrase stands in s as whole words, letter case aside; -1 when it does not.
func wordIndex(s, phrase string) int {
	for i := range s {
		if len(s)-i < len(phrase) {
			break
		}
		if strings.EqualFold(s[i:i+len(phrase)], phrase) && edge(s, i) && edge(s, i+len(phrase)) {
			return i
		}
	}
	return -1
}

// edge reports whether a word begins or ends at byte i.
func edge(s string, i int) bool {
	return i == 0 || i == len(s) || !wordByte(s[i-1]) || !wordByte(s[i])
}

func wordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c >= 0x80
}

func verbWords() []string {
	var w []string
	for _, v := range verbs {
		w = append(w, v.words)
	}
	return append(w, "note")
}
