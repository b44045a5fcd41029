package web

import (
	"bufio"
	"bytes"
	"fmt"
	"io/fs"
	"strings"
)

// words are the phrases of one language by key, from its file of words/ and those
// of single pages beside it. A phrase
// may hold %s, or %[2]s where a language wants another order; figures and dates
// are given to it ready.
type words map[string]string

func readWords(lang string) (words, error) {
	if lang == "" {
		lang = "en"
	}
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

// say returns the phrase of a key with its arguments in place. A missing key
// says itself, which the tests look for.
func (w words) say(key string, args ...any) string {
	p, ok := w[key]
	if !ok {
		return key
	}
	if len(args) == 0 {
		return p
	}
	return fmt.Sprintf(p, args...)
}

// or returns the phrase of a key, or other when there is none.
func (w words) or(key, other string) string {
	if p, ok := w[key]; ok {
		return p
	}
	return other
}
