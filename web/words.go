package web

import (
	"bufio"
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"strconv"
	"strings"

	"evenstead/day"
)

// words are the phrases of one language by key, from its file of words/ and those
// of single pages beside it. A phrase
// may hold %s, or %[2]s where a language wants another order; figures and dates
// are given to it ready.
type words map[string]string

// home is the language in which every phrase is written first.
const home = "en"

// readWords reads the phrases of a language; what it lacks is said in English, so
// that a page speaks as soon as it is written.
func readWords(lang string) (words, error) {
	w, err := wordsOf(home)
	if err != nil || lang == "" || lang == home {
		return w, err
	}
	own, err := wordsOf(lang)
	if err != nil {
		return nil, err
	}
	maps.Copy(w, own)
	return w, nil
}

// wordsOf are the phrases of a language alone.
func wordsOf(lang string) (words, error) {
	b, err := files.ReadFile("words/" + lang + ".txt")
	if err != nil {
		return nil, fmt.Errorf("language %q: %w", lang, err)
	}
	pages, err := fs.Glob(files, "words/"+lang+".*.txt")
	if err != nil {
		return nil, fmt.Errorf("language %q: %w", lang, err)
	}
	for _, name := range pages {
		more, err := files.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("language %q: %w", lang, err)
		}
		b = append(append(b, '\n'), more...)
	}
	return parseWords(b)
}

// parseWords reads lines "key = phrase"; blank lines and lines from # are left out.
func parseWords(b []byte) (words, error) {
	w := words{}
	sc := bufio.NewScanner(bytes.NewReader(b))
	for n := 1; sc.Scan(); n++ {
		line := strings.TrimSpace(sc.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		key, phrase, ok := strings.Cut(line, "=")
		key = strings.TrimSpace(key)
		if !ok || key == "" {
			return nil, fmt.Errorf("words, line %d: want key = phrase", n)
		}
		if _, twice := w[key]; twice {
			return nil, fmt.Errorf("words, line %d: %s is there twice", n, key)
		}
		w[key] = strings.TrimSpace(phrase)
	}
	return w, sc.Err()
}

// say returns the phrase of a key with its arguments in place, those that are
// numbers as the language writes them. A missing key says itself, which the tests
// look for.
func (w words) say(key string, args ...any) string {
	p, ok := w[key]
	if !ok {
		return key
	}
	if len(args) == 0 {
		return p
	}
	return fmt.Sprintf(p, w.numbers(args)...)
}

// or returns the phrase of a key, or other when there is none.
func (w words) or(key, other string) string {
	if p, ok := w[key]; ok {
		return p
	}
	return other
}

// name is what a thing of the engine's or of the tables is called, by its kind and
// id; what the language has no name for keeps its English one.
func (w words) name(kind, id, english string) string {
	return w.or("name."+kind+"."+id, english)
}

// store names a store of an outlook; one of a kind of which a stead has several,
// such as "tank:barn", by the kind and its own name.
func (w words) store(id, english string) string {
	kind, own, several := strings.Cut(id, ":")
	if p, ok := w["name.store."+kind]; ok && several {
		return fmt.Sprintf(p, own)
	}
	return w.name("store", id, english)
}

// nutrient names a nutrient as the need of it is named.
func (w words) nutrient(id, english string) string {
	if id == "energy_mj" {
		id = "energy"
	}
	return w.name("need", id, english)
}

// crop names a crop, by its own id or that of the food it gives.
func (w words) crop(id, english string) string {
	return w.or("name.crop."+id, w.food(id, english))
}

// food names a food by its id, or by the id that its plain English name is made
// from: "wheat hard red winter" from wheat_hard_red_winter.
func (w words) food(id, english string) string {
	plain := strings.ToLower(strings.ReplaceAll(english, " ", "_"))
	return w.name("food", id, w.name("food", plain, english))
}

// amountOf is so much of a thing, held together: "2.8 kg carrots".
func (w words) amountOf(amount, thing string) string {
	return fmt.Sprintf(strings.ReplaceAll(w.say("amount.of"), " ", nbsp), amount, thing)
}

// short writes a day and its month: "24 May".
func (w words) short(d day.Day) string {
	_, m, dom := d.Date()
	return strconv.Itoa(dom) + nbsp + w.say("month."+strconv.Itoa(int(m)))
}

// long writes a day with its year: "24 May 2027".
func (w words) long(d day.Day) string { return w.short(d) + nbsp + strconv.Itoa(d.Year()) }

// when writes a day of any year: "24 May".
func (w words) when(d day.When) string {
	if d.IsZero() || d.Year != 0 {
		return d.String()
	}
	return strconv.Itoa(d.Dom) + " " + w.say("month."+strconv.Itoa(int(d.Month)))
}

// told is a phrase about sentences of the engine's or of a table's, each marked as
// what it is where the page is not English.
func (w words) told(key string, sentences ...string) template.HTML {
	args := make([]any, len(sentences))
	for i, s := range sentences {
		args[i] = w.quote(s)
	}
	return template.HTML(fmt.Sprintf(template.HTMLEscapeString(w.say(key)), args...)) // #nosec G203 -- escaped above
}

// quote is a sentence of the engine's, of a table's or of the book's, marked as
// what it is where the page is not English.
func (w words) quote(sentence string) template.HTML {
	text := escaped(sentence)
	if mark := w.foreign(); mark != "" {
		return "<span" + template.HTML(mark) + ">" + text + "</span>" // #nosec G203 -- the mark is a constant
	}
	return text
}

// escaped is a text as a page holds it.
func escaped(text string) template.HTML { return template.HTML(template.HTMLEscapeString(text)) } // #nosec G203 -- escaped here

// foreign marks what is said in English on a page of another language (WCAG
// 3.1.2).
func (w words) foreign() template.HTMLAttr {
	if w["lang"] == home {
		return ""
	}
	return ` lang="` + home + `"`
}
