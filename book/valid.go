package book

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"

	"evenstead/day"
	"evenstead/unit"
)

// Longest texts an entry may hold, in bytes.
const (
	longestName = 200
	longestNote = 4000
)

// Valid reports, in one sentence each, all that makes the entry ill formed:
// what holds for every stead. Check looks at the stead as well.
func (e Entry) Valid() error {
	return errors.Join(e.identity(), e.moment(), e.shape(), e.amount(), e.texts())
}

func (e Entry) identity() error {
	switch {
	case e.ID.Version() != 7 || e.ID.Variant() != uuid.RFC4122:
		return fmt.Errorf("id %s is not a version 7 id: make it with NewID", e.ID)
	case e.Strikes == e.ID:
		return fmt.Errorf("entry %s strikes itself: name the entry to strike", e.ID)
	}
	return nil
}

var (
	firstDay     = day.Of(1600, time.January, 1)
	lastDay      = day.Of(2400, time.December, 31)
	firstReceipt = time.Unix(0, 0)
	lastReceipt  = time.Date(2200, time.January, 1, 0, 0, 0, 0, time.UTC)
)

func (e Entry) moment() error {
	if e.Day < firstDay || e.Day > lastDay {
		return fmt.Errorf("day %d is out of range: years 1600 to 2400", e.Day)
	}
	if _, err := time.Parse("15:04", e.Time); e.Time != "" && (err != nil || len(e.Time) != 5) {
		return fmt.Errorf("time %q is not a time of day: write 07:30", e.Time)
	}
	if at := e.Received; !at.IsZero() && (at.Before(firstReceipt) || at.After(lastReceipt)) {
		return fmt.Errorf("received %s is out of range: years 1970 to 2199", at.Format(time.DateOnly))
	}
	return nil
}

// shape compares the entry with the rule of its kind.
func (e Entry) shape() error {
	r, ok := RuleOf(e.Kind)
	if !ok {
		return fmt.Errorf("kind %q is not known: write one of %s", e.Kind, kindList())
	}
	if m := e.missing(r); m != nil {
		return fmt.Errorf("%s needs %s", e.Kind, strings.Join(m, " and "))
	}
	switch {
	case r.What == nil && e.Body.What != "":
		return fmt.Errorf("%s takes no thing, found %q: put it in the note", e.Kind, e.Body.What)
	case r.Where == nil && e.Body.Where != "":
		return fmt.Errorf("%s takes no place, found %q: put it in the note", e.Kind, e.Body.Where)
	case e.Body.Form != "" && !slices.Contains(Forms(), e.Body.Form):
		return fmt.Errorf("form %q is not known: write %s", e.Body.Form, strings.Join(Forms(), ", "))
	}
	return nil
}

// missing lists what the rule needs and the entry lacks.
func (e Entry) missing(r Rule) (out []string) {
	if r.Has(NeedAmount) && e.Body.Measure == "" {
		out = append(out, "an amount"+amountHint(r))
	}
	if r.Has(NeedWhat) && e.Body.What == "" {
		out = append(out, "what it was ("+sortList(r.What)+")")
	}
	if r.Has(NeedWhere) && e.Body.Where == "" {
		out = append(out, "where ("+sortList(r.Where)+")")
	}
	if r.Has(NeedNote) && e.Note == "" {
		out = append(out, "the note")
	}
	if r.Has(NeedStrikes) && e.Strikes == uuid.Nil {
		out = append(out, "the entry to strike")
	}
	return out
}

func (e Entry) amount() error {
	r, ok := RuleOf(e.Kind)
	v, m := e.Body.Amount, e.Body.Measure
	switch {
	case !ok:
		return nil
	case m == "" && v != 0:
		return fmt.Errorf("amount %v has no measure: say which kind of amount it is", v)
	case m == "":
		return nil
	case r.Measures == nil:
		return fmt.Errorf("%s takes no amount, found %s", e.Kind, show(v, m))
	case !r.Allows(m):
		return fmt.Errorf("%s is measured in %s, not in %s", e.Kind, measureList(r), m)
	case math.IsNaN(v) || math.IsInf(v, 0):
		return fmt.Errorf("the amount is not a number")
	case m == unit.Temperature && v < -90:
		return fmt.Errorf("%s is colder than any place on earth", show(v, m))
	case m != unit.Temperature && (v < 0 || v == 0 && !r.Zero):
		return fmt.Errorf("%s %s cannot be: the amount must be above nothing", e.Kind, show(v, m))
	case v > r.Most(m):
		return fmt.Errorf("%s %s cannot be: the most in one entry is %s; check the unit, or write several entries", e.Kind, show(v, m), show(r.Most(m), m))
	}
	return nil
}

func (e Entry) texts() error {
	b := e.Body
	for _, t := range []string{e.Who, b.What, b.Where} {
		if err := oneLine(t); err != nil {
			return err
		}
	}
	for k, v := range b.Extra {
		if err := errors.Join(oneLine(k), oneLine(v)); err != nil {
			return err
		}
	}
	if len(b.Extra) > 8 {
		return fmt.Errorf("an entry holds at most 8 extra words, found %d", len(b.Extra))
	}
	return clean(e.Note, longestNote, "\n")
}

func oneLine(s string) error { return clean(s, longestName, "") }

func clean(s string, most int, allow string) error {
	bad := func(r rune) bool { return unicode.IsControl(r) && !strings.ContainsRune(allow, r) }
	switch {
	case len(s) > most:
		return fmt.Errorf("a text of %d bytes is too long: the most is %d", len(s), most)
	case !utf8.ValidString(s):
		return fmt.Errorf("%q is not UTF-8 text", s)
	case strings.ContainsFunc(s, bad):
		return fmt.Errorf("%q holds a control character: take it out", s)
	}
	return nil
}

func show(v float64, k unit.Kind) string {
	return strings.ReplaceAll(unit.Format(v, k, unit.Metric), "\u00a0", " ")
}

func kindList() string {
	var w []string
	for _, k := range Kinds() {
		w = append(w, string(k))
	}
	return strings.Join(w, ", ")
}

func sortList(sorts []Sort) string {
	var w []string
	for _, s := range sorts {
		w = append(w, string(s))
	}
	return strings.Join(w, " or ")
}

func measureList(r Rule) string {
	var w []string
	for _, m := range r.Measures {
		w = append(w, string(m))
	}
	return strings.Join(w, " or ")
}

func amountHint(r Rule) string {
	if len(r.Measures) == 0 || len(unit.Units(r.Measures[0])) == 0 {
		return ""
	}
	return ", such as 3 " + unit.Units(r.Measures[0])[0]
}
