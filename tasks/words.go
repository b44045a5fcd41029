package tasks

import (
	"strconv"
	"strings"
	"unicode"
)

// plain replaces no-break blanks.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// slug makes an id of words: letters and digits, joined by hyphens.
func slug(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(r)
	}
	return b.String()
}

// figures writes a number with two figures, whole from 10 on.
func figures(v float64) string {
	if v >= 10 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 2, 64)
}

// listed joins words: "a, b and c"; beyond most it says how many more.
func listed(words []string, most int) string {
	if len(words) > most {
		return strings.Join(words[:most], ", ") + " and " + strconv.Itoa(len(words)-most) + " more"
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// spoken is an id in words.
func spoken(id string) string { return strings.ReplaceAll(id, "_", " ") }
