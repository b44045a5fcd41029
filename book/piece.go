package book

import (
	"regexp"
	"slices"
	"strings"
)

// A piece is a run of words between commas and small words.
type piece struct {
	link string // "from", "in", "to" and so on; "" after a comma
	text string
}

var links = regexp.MustCompile(`(?i)(^|[ ,;])(from|into|in|onto|on|to|at|for|with|by)( |$)|[,;:]|\. |\.$`)

// small are words that say nothing when they stand alone.
var small = []string{"of", "and", "i", "we", "a", "an", "some", "full"}

// pieces parts what is left of the line.
func (l *line) pieces() (out []piece) {
	link := ""
	add := func(s string) {
		s = strings.Trim(s, " ,.;")
		for _, w := range []string{"of ", "the ", "some "} {
			if len(s) >= len(w) && strings.EqualFold(s[:len(w)], w) {
				s = strings.TrimSpace(s[len(w):])
			}
		}
		if s != "" && !slices.Contains(small, strings.ToLower(s)) {
			out = append(out, piece{link, s})
			link = ""
		}
	}
	s := l.text
	for m := links.FindStringSubmatchIndex(s); m != nil; m = links.FindStringSubmatchIndex(s) {
		add(s[:m[0]])
		if m[4] >= 0 {
			link = strings.ToLower(s[m[4]:m[5]])
			s = " " + s[m[5]:]
		} else {
			s = s[m[1]:]
		}
	}
	add(s)
	return out
}
