package book

import (
	"maps"
	"slices"
	"strings"

	"evenstead/unit"
)

// Sentence tells the entry as it was understood, amounts in system s.
func (e Entry) Sentence(s unit.System) string {
	return e.deed(s) + ", " + e.Day.Long() + e.tail()
}

// Undated is Sentence without the day, for lists that stand under one.
func (e Entry) Undated(s unit.System) string { return e.deed(s) + e.tail() }

func (e Entry) deed(s unit.System) string {
	r, _ := RuleOf(e.Kind)
	w := []string{string(e.Kind)}
	add := func(before, text string) {
		if text != "" {
			w = append(w, strings.TrimSpace(before+" "+text))
		}
	}
	of, one := "", e.Body.Extra[Piece]
	if e.Body.Measure != "" {
		add("", unit.Format(e.Body.Amount, e.Body.Measure, s))
		if e.Body.Measure != unit.Number && first(r.What) != Person {
			of = "of"
		}
	}
	if one != "" && e.Body.Measure == unit.Number {
		if e.Body.Amount != 1 {
			one = many(one)
		}
		of = one + " of"
	}
	add(of, strings.TrimSpace(e.Body.Form+" "+spoken(e.Body.What)))
	add(r.At, e.Body.Where)
	for _, k := range slices.Sorted(maps.Keys(e.Body.Extra)) {
		if k != Piece || e.Body.Measure != unit.Number {
			add(k, e.Body.Extra[k])
		}
	}
	return strings.Join(w, " ")
}

func (e Entry) tail() string {
	var b strings.Builder
	if e.Time != "" {
		b.WriteString(" " + e.Time)
	}
	if e.Who != "" {
		b.WriteString(", by " + e.Who)
	}
	if e.Note != "" {
		b.WriteString(": " + e.Note)
	}
	return b.String()
}

func spoken(id string) string { return strings.ReplaceAll(id, "_", " ") }
