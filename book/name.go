package book

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenstead/unit"
)

// plainForms are the names of a thing as plain writes them, its id first.
func (n Name) plainForms() []string {
	if n.forms != nil {
		return n.forms
	}
	out := []string{plain(n.ID)}
	for _, a := range n.Also {
		out = append(out, plain(a))
	}
	return out
}

// is reports whether plainName, which plain has made, is this thing's name.
func (n Name) is(plainName string) bool { return slices.Contains(n.plainForms(), plainName) }

// exact returns the id of the sorts that text names, with or without the word
// for its sort ("north bed" is the bed "north").
func (c Context) exact(text string, sorts []Sort) (string, bool) {
	p := plain(text)
	if p == "" {
		return "", false
	}
	for _, s := range sorts {
		bare := plain(bareName(p, s))
		for _, n := range c.Names[s] {
			forms := n.plainForms()
			if slices.Contains(forms, p) || slices.Contains(forms, bare) || bareName(forms[0], s) == p {
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
// likeliest first: a name a few letters away, then names that share its words,
// or all of a sort that is named alone. Names with other figures are other things.
func (c Context) closest(text string, sorts []Sort) []string {
	p := plain(bareName(plain(text), first(sorts)))
	var words, holding []string
	of := map[string]string{}
	for _, s := range sorts {
		whole := p == string(s) || slices.Contains(spokenSorts[s], p)
		for _, n := range c.Names[s] {
			if n.Shunned {
				continue
			}
			if whole {
				holding = append(holding, n.ID)
			}
			for _, w := range n.plainForms() {
				if d := digits(p); d != "" && d != digits(w) {
					continue
				}
				of[w], words = n.ID, append(words, w)
				if wordIndex(w, p) >= 0 || wordIndex(p, w) >= 0 {
					holding = append(holding, n.ID)
				}
			}
		}
	}
	return distinct(append([]string{of[unit.Nearest(p, words)]}, holding...), 4)
}

// digits are the figures in a text, run together; "" when there are none.
func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, s)
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
	if len(near) == 0 || c.missing(text, sorts) != "" {
		return text, nil, c.unknown(text, sorts)
	}
	return near[0], &Doubt{Field: field, Choices: near,
		Question: fmt.Sprintf("no %s is called %q: is %s meant?", sortList(sorts), text, near[0])}, nil
}

// spokenSorts are words people use for a sort besides its name.
var spokenSorts = map[Sort][]string{
	Tank: {"tote", "barrel", "cistern"}, Compost: {"heap", "bin"}, Flock: {"hen", "chicken", "duck", "bird"},
	Hive: {"bee"}, Drum: {"toilet"}, Person: {"person"},
}

// spokenOf are those of the sorts that text has a word of.
func spokenOf(text string, sorts []Sort) (out []Sort) {
	p := plain(text)
	for _, s := range sorts {
		words := append([]string{string(s)}, spokenSorts[s]...)
		if slices.ContainsFunc(words, func(w string) bool { return wordIndex(p, w) >= 0 }) {
			out = append(out, s)
		}
	}
	return out
}

// missing is why there is none of what text speaks of; "" when it may be there.
func (c Context) missing(text string, sorts []Sort) string {
	for _, s := range spokenOf(text, sorts) {
		if c.None[s] != "" {
			return c.None[s]
		}
	}
	return ""
}

// unknown says that no thing has the name, and lists some that do.
func (c Context) unknown(text string, sorts []Sort) error {
	if why := c.missing(text, sorts); why != "" {
		return errors.New(why)
	}
	if of := spokenOf(text, sorts); len(of) > 0 {
		sorts = of
	}
	var have []string
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			if !n.Shunned {
				have = append(have, n.ID)
			}
		}
	}
	if len(have) == 0 && c.None[first(sorts)] != "" {
		return errors.New(c.None[first(sorts)])
	}
	more := ""
	if have = distinct(have, len(have)); len(have) > 6 {
		have, more = have[:6], " and others; to keep the words as they are, begin with note:"
	}
	return fmt.Errorf("no %s is called %q: there is %s%s", sortList(sorts), text, strings.Join(have, ", "), more)
}
