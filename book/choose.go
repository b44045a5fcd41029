package book

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"evenstead/unit"
)

// Choose answers the doubt about a field and returns the reading with the
// answer in it, checked again. For an amount the choice carries its unit.
func (r Reading) Choose(field, choice string, c Context) Reading {
	b := &r.Entry.Body
	switch field {
	case "what":
		b.What = choice
	case "where":
		b.Where = choice
	case "form":
		b.Form = choice
	case "amount":
		if err := b.choose(choice, r.Entry.Kind); err != nil {
			r.Err = err
			return r
		}
	default:
		r.Err = fmt.Errorf("no question is asked about %q", field)
		return r
	}
	r.Doubts = slices.DeleteFunc(slices.Clone(r.Doubts), func(d Doubt) bool { return d.Field == field })
	r.Sentence = r.Entry.Sentence(c.System)
	r.Err = Check(r.Entry.withID(), c)
	r.care(c)
	return r
}

// Because keeps the reason given against a gate in the entry and checks it
// again. A reading that no gate stops comes back as it was.
func (r Reading) Because(reason string, c Context) Reading {
	if reason == "" || !errors.Is(r.Err, ErrGate) {
		return r
	}
	extra := maps.Clone(r.Entry.Body.Extra)
	if extra == nil {
		extra = map[string]string{}
	}
	extra["reason"] = reason
	r.Entry.Body.Extra = extra
	r.Sentence = r.Entry.Sentence(c.System)
	r.Err = Check(r.Entry.withID(), c)
	r.care(c)
	return r
}

// choose sets the amount from text such as "14 mm".
func (b *Body) choose(text string, k Kind) error {
	rule, _ := RuleOf(k)
	_, word, _, _ := unit.Split(text)
	for _, m := range rule.Measures {
		if v, err := unit.Parse(text, m); err == nil && (word != "") == (m != unit.Number) {
			b.Amount, b.Measure = v, m
			return nil
		}
	}
	return fmt.Errorf("%q is not an amount for %s: write %s", strings.TrimSpace(text), k, measureList(rule))
}
