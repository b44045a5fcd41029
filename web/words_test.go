package web

import (
	"maps"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
)

// verbs are what a phrase asks for, in the order of its arguments: "%[2]s of %[1]s"
// asks for two strings.
func verbs(phrase string) string {
	var list []string
	next := 0
	for _, m := range verb.FindAllStringSubmatch(strings.ReplaceAll(phrase, "%%", ""), -1) {
		if next++; m[1] != "" {
			next = int(m[1][1] - '0')
		}
		list = append(list, string(rune('0'+next))+m[2])
	}
	list = append(list, slot.FindAllString(phrase, -1)...)
	slices.Sort(list)
	return strings.Join(list, " ")
}

// slot is what a script puts in: "{amount}".
var slot = regexp.MustCompile(`\{[a-z]+\}`)

var verb = regexp.MustCompile(`%(\[[1-9]\])?([a-zA-Z])`)

func TestVerbsOfAPhrase(t *testing.T) {
	for phrase, want := range map[string]string{"": "", "60 %%.": "", "%s of %s": "1s 2s", "%[2]s a %[1]s, %s": "1s 2s 2s", "%d": "1d", "{n} of %s": "1s {n}"} {
		if got := verbs(phrase); got != want {
			t.Errorf("%q asks for %q, want %q", phrase, got, want)
		}
	}
}

// TestEveryLanguageSaysEverything: a language has a phrase for every key of the
// English, with the same arguments, and none that English lacks but names, which
// English takes from the engine and the tables.
func TestEveryLanguageSaysEverything(t *testing.T) {
	en, err := wordsOf(home)
	must(t, err)
	for _, l := range languages {
		own, err := wordsOf(l.Key)
		must(t, err)
		if own["lang"] != l.Key {
			t.Errorf("%s says that it is %q", l.Key, own["lang"])
		}
		for _, key := range slices.Sorted(maps.Keys(en)) {
			phrase, ok := own[key]
			if !ok {
				t.Errorf("%s lacks %s = %s", l.Key, key, en[key])
			} else if got, want := verbs(phrase), verbs(en[key]); got != want {
				t.Errorf("%s: %s asks for %q, want %q", l.Key, key, got, want)
			}
		}
		for _, key := range slices.Sorted(maps.Keys(own)) {
			if _, ok := en[key]; !ok && !strings.HasPrefix(key, "name.") {
				t.Errorf("%s has %s, which nothing asks for", l.Key, key)
			}
		}
	}
}

// TestWordsFallBackToEnglish: what a language lacks is said in English.
func TestWordsFallBackToEnglish(t *testing.T) {
	w, err := readWords("es")
	must(t, err)
	en, err := wordsOf(home)
	must(t, err)
	for key := range en {
		if _, ok := w[key]; !ok {
			t.Errorf("%s is not said at all", key)
		}
	}
	if w.name("need", "no_such_thing", "Such a thing") != "Such a thing" || w.store("cellar:b", "b cellar") != "b cellar" {
		t.Error("a thing without a Spanish name has lost its English one")
	}
}

// TestNamesAreOfThings: every name is of something that the engine or a table
// knows, so that none is left over from what is gone.
func TestNamesAreOfThings(t *testing.T) {
	things := map[string]bool{"unit.days": true, "unit.year": true, "fuel.wood": true, "fuel.bottled gas": true}
	tables, err := data.Load()
	must(t, err)
	for _, id := range []string{"drinking", "washing", "beds", "energy", "cooking", "light", "nitrogen", "cover", "drums", "freezer", "shelves", "hours"} {
		things["need."+id] = true
	}
	for _, n := range tables.Nutrients {
		things["need."+n.ID] = true
	}
	for _, id := range []string{"tank", "filter", "root-zone", "food", "gas", "wood", "bottle", "battery", "nitrogen", "urine", "cover", "drums", "place"} {
		things["store."+id] = true
	}
	for _, k := range book.Kinds() {
		things["kind."+string(k)] = true
	}
	for _, f := range []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented"} {
		things["form."+f] = true
	}
	for _, c := range tables.Crops {
		things["crop."+c.ID], things["food."+c.ID] = true, true
	}
	for _, f := range tables.Foods {
		things["food."+f.ID] = true
	}
	own, err := wordsOf("es")
	must(t, err)
	for _, key := range slices.Sorted(maps.Keys(own)) {
		thing, ok := strings.CutPrefix(key, "name.")
		if ok && !things[thing] && !strings.HasPrefix(thing, "node.") && !strings.HasPrefix(thing, "flock.") {
			t.Errorf("%s names nothing", key)
		}
	}
}

// TestNumbersOfALanguage: the marks are those of the sample, four digits stay
// together where the sample groups five, and what is no number stays.
func TestNumbersOfALanguage(t *testing.T) {
	en, es := english(t), spanish(t)
	if es["number"] != "12\u202f345,6" {
		t.Errorf("the sample is %q", es["number"])
	}
	for number, want := range map[string]string{"1,330": "1330", "12,330": "12\u202f330", "1,234,567.5": "1\u202f234\u202f567,5", "-1,330.25": "-1330,25", "2.5": "2,5", "-0.1": "-0,1",
		"20260101": "20260101", "0": "0", "–": "–", "bed 1.5": "bed 1.5", "1,33": "1,33", "1.2.3": "1.2.3", "": ""} {
		if got := es.number(number); got != want {
			t.Errorf("%q is written %q, want %q", number, got, want)
		}
		if got := en.number(number); got != number {
			t.Errorf("English writes %q as %q", number, got)
		}
	}
	if got := es.say("store.full", "12.5"); got != "lleno, 12,5" {
		t.Errorf("a number in a phrase is written %q", got)
	}
	if got := (Options{words: es}).amount(12330.4, "L a year"); got != "12\u202f330\u00a0L\u00a0al\u00a0año" {
		t.Errorf("an amount is written %q", got)
	}
}

// TestNumberKeepsDigits: whatever the marks, the digits and the sign stay.
func TestNumberKeepsDigits(t *testing.T) {
	es := spanish(t)
	rapid.Check(t, func(t *rapid.T) {
		plain := figure(rapid.Float64Range(-1e9, 1e9).Draw(t, "v"))
		got := strings.NewReplacer("\u202f", "", ",", ".").Replace(es.number(plain))
		if want := strings.ReplaceAll(plain, ",", ""); got != want {
			t.Fatalf("%s becomes %s", plain, got)
		}
	})
}

func spanish(t *testing.T) words {
	t.Helper()
	w, err := readWords("es")
	must(t, err)
	return w
}

func TestDatesOfALanguage(t *testing.T) {
	en, es := english(t), spanish(t)
	for d := day.Of(2026, 1, 1); d < day.Of(2027, 1, 1); d += 13 {
		if en.short(d) != d.Short() || en.long(d) != d.Long() {
			t.Errorf("English writes %s as %s", d.Long(), en.long(d))
		}
	}
	d := day.Of(2027, 1, 24)
	if got := es.weekday(d) + "; " + es.short(d); got != "dom\u00a024\u00a0ene\u00a02027; 24\u00a0ene" {
		t.Errorf("Spanish writes %q", got)
	}
	w := day.When{Month: 8, Dom: 5}
	if en.when(w) != w.String() || es.when(w) != "5 ago" || es.when(day.When{}) != "" {
		t.Errorf("a day of any year is written %q and %q", en.when(w), es.when(w))
	}
}

// TestVerdictIsTheEngines: what the catalogue says in English of any outlook is,
// to the byte, what the engine says; so that other languages say the same.
func TestVerdictIsTheEngines(t *testing.T) {
	en, es := english(t), spanish(t)
	rapid.Check(t, func(t *rapid.T) {
		o := &engine.Outlook{Today: fixtureDay, Days: 365}
		for _, n := range fixtureNeeds()[:rapid.IntRange(0, 12).Draw(t, "needs")] {
			n.ShareShort = rapid.Float64Range(0, 1).Draw(t, "share")
			n.FirstShort = nil
			if n.ShareShort > 0 {
				d := o.Today + day.Day(rapid.IntRange(0, 364).Draw(t, "first"))
				n.FirstShort = &d
			}
			o.Needs = append(o.Needs, n)
		}
		o.Judge()
		if got := en.judged(o); got.Lead != o.Verdict.Lead || got.Rest != o.Verdict.Rest {
			t.Fatalf("said %q, want %q", got, o.Verdict)
		}
		o.Verdict.Why = "Because."
		if got := es.verdict(o); got.Lead == o.Verdict.Lead || got.Lead == "" || got.Why != "Because." || en.verdict(o) != o.Verdict {
			t.Fatalf("Spanish says %q", got)
		}
	})
}

// TestPagesWriteDatesByTheWords: no page writes a day by itself, in English.
func TestPagesWriteDatesByTheWords(t *testing.T) {
	own := map[string]bool{"entry.go": true} // a book's sentence is English
	names, err := filepath.Glob("*.go")
	must(t, err)
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || own[name] {
			continue
		}
		b, err := os.ReadFile(name)
		must(t, err)
		for i, line := range strings.Split(string(b), "\n") {
			if m := englishDate.FindString(line); m != "" {
				t.Errorf("%s, line %d: %s writes an English date; words.short and words.long write the page's", name, i+1, m)
			}
		}
	}
}

var englishDate = regexp.MustCompile(`\.(Short|Long)\(\)|\.Format\("[^"]*(Jan|Mon)`)

// TestSpanishWhenABrowserAsksForIt: nothing was chosen, and the browser asks.
func TestSpanishWhenABrowserAsksForIt(t *testing.T) {
	h := deskSite(t, deskOf(t, nil))
	for header, want := range map[string]string{"es-MX,es;q=0.9,en;q=0.5": "es", "es": "es", "de,en": "en", "": "en"} {
		r := httptest.NewRequest("GET", "/start", nil)
		r.Header.Set("Accept-Language", header)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if got := parsePage(t, w.Body.String()).find("html")[0].attrs["lang"]; got != want {
			t.Errorf("%q gets %q, want %q", header, got, want)
		}
	}
}
