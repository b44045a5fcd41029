package book

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/unit"
)

// is reports whether plainName, which plain has made, is this thing's name.
func (n Name) is(plainName string) bool {
	return plain(n.ID) == plainName || slices.ContainsFunc(n.Also, func(a string) bool { return plain(a) == plainName })
}

// exact returns the id of the sorts that text names, with or without the word
// for its sort ("north bed" is the bed "north").
func (c Context) exact(text string, sorts []Sort) (string, bool) {
	p := plain(text)
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			if n.is(p) || n.is(plain(bareName(p, s))) || bareName(plain(n.ID), s) == p {
				return n.ID, true
			}
		}
	}
	return "", false
}

func bareName(p string, s Sort) string {
	p = strings.TrimPrefix(p, "the ")
	w := " " + string(s)
	return strings.TrimPrefix(strings.TrimSuffix(" "+p, w), " ")
}

// placeWord reports whether a word is a sort, so that a number after it is part of a name.
func placeWord(w string) bool {
	switch Sort(singular(strings.ToLower(w))) {
	case Bed, Tree, Tank, Shelf, Freezer, Digester, Compost, Drum, Crock, Flock, Hive:
		return true
	}
	return false
}

// closest returns up to four ids that text may have been meant for, the
// likeliest first: a name a few letters away, then names that share its words.
func (c Context) closest(text string, sorts []Sort) []string {
	p := plain(bareName(plain(text), first(sorts)))
	var words, holding []string
	of := map[string]string{}
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			for _, w := range append([]string{n.ID}, n.Also...) {
				w = plain(w)
				of[w], words = n.ID, append(words, w)
				if wordIndex(w, p) >= 0 || wordIndex(p, w) >= 0 {
					holding = append(holding, n.ID)
				}
			}
		}
	}
	return distinct(append([]string{of[unit.Nearest(p, words)]}, holding...), 4)
}

func distinct(in []string, most int) (out []string) {
	for _, s := range in {
		if len(out) < most && s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

func first(s []Sort) Sort {
	if len(s) == 0 {
		return ""
	}
	return s[0]
}

// resolve returns the id for text: as written where no names of the sorts are
// known, the name itself, or the closest with a question.
func (c Context) resolve(field, text string, sorts []Sort) (string, *Doubt, error) {
	if !c.knows(sorts) {
		return text, nil, nil
	}
	if id, ok := c.exact(text, sorts); ok {
		return id, nil, nil
	}
	near := c.closest(text, sorts)
	if len(near) == 0 {
		return text, nil, c.unknown(text, sorts)
	}
	return near[0], &Doubt{Field: field, Choices: near,
		Question: fmt.Sprintf("no %s is called %q: is %s meant?", sortList(sorts), text, near[0])}, nil
}

// unknown says that no thing has the name, and lists some that do.
func (c Context) unknown(text string, sorts []Sort) error {
	var have []string
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			have = append(have, n.ID)
		}
	}
	more := ""
	if have = distinct(have, len(have)); len(have) > 6 {
		have, more = have[:6], " and others"
	}
	return fmt.Errorf("no %s is called %q: there is %s%s", sortList(sorts), text, strings.Join(have, ", "), more)
}
