package sums

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
)

// someYear stands in where a date is given without one: a year of 365 days.
const someYear = 2025

// read fills the sheet from values, telling every fault.
func (s *sheet) read(sum Sum, values map[string]string) {
	for _, in := range sum.Inputs {
		text, given := values[in.Key]
		text = strings.TrimSpace(text)
		switch {
		case given && text == "":
			s.fault(in.Key, "", "is empty; "+in.how())
		case given:
			s.put(in, text)
		case in.Required():
			s.fault(in.Key, "", "is missing; "+in.how())
		case in.Default != "":
			s.put(in, in.Default)
		}
	}
	s.unknown(sum, values)
}

// unknown tells of keys that the sum does not have.
func (s *sheet) unknown(sum Sum, values map[string]string) {
	keys := ids(sum.Inputs, func(in *Input) string { return in.Key })
	var odd []string
	for key := range values {
		if !slices.Contains(keys, key) {
			odd = append(odd, key)
		}
	}
	slices.Sort(odd)
	for _, key := range odd {
		mend := "is not a key of " + sum.Name + "; they are " + strings.Join(keys, ", ")
		if near := unit.Nearest(key, keys); near != "" {
			mend = "is not a key of " + sum.Name + "; meant " + near + "?"
		}
		s.fault(short(key), values[key], mend)
	}
}

// put reads one value by its form.
func (s *sheet) put(in Input, text string) {
	switch in.Form {
	case List:
		s.putList(in, text)
	case Choice:
		s.putChoice(in, text)
	case Date:
		if d, ok := s.oneDate(in, text); ok {
			s.dates[in.Key] = d
		}
	case Dates:
		s.putDates(in, text)
	default:
		if v, ok := s.one(in, text); ok {
			s.numbers[in.Key] = v
		}
	}
}

// one reads an amount within the input's range.
func (s *sheet) one(in Input, text string) (float64, bool) {
	v, err := unit.Parse(text, in.Kind)
	if fault := (*unit.Error)(nil); errors.As(err, &fault) {
		s.fault(in.Key, text, fault.Problem+"; "+fault.Mend)
		return 0, false
	}
	if err != nil || !(v >= in.Least && v <= in.Most) {
		s.fault(in.Key, text, "must be from "+s.say(in.Least, in.Kind)+" to "+s.say(in.Most, in.Kind))
		return 0, false
	}
	return v, true
}

func (s *sheet) putList(in Input, text string) {
	parts := split(text)
	if n := len(parts); n < in.Fewest || n > in.Longest {
		s.fault(in.Key, text, fmt.Sprintf("has %d; %s", n, in.how()))
		return
	}
	parts = shareUnit(parts)
	out := make([]float64, 0, len(parts))
	for _, part := range parts {
		v, ok := s.one(in, part)
		if !ok {
			return
		}
		out = append(out, v)
	}
	s.lists[in.Key] = out
}

// split parts a list at commas or semicolons.
func split(text string) []string {
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' })
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

// shareUnit gives the unit after the last of a list to all, when no other has one.
func shareUnit(parts []string) []string {
	_, word, rest, ok := unit.Split(parts[len(parts)-1])
	if !ok || word == "" || rest != "" {
		return parts
	}
	out := slices.Clone(parts)
	for i, part := range parts[:len(parts)-1] {
		if _, err := unit.Parse(part, unit.Number); err != nil {
			return parts
		}
		out[i] = part + " " + word
	}
	return out
}

func (s *sheet) putChoice(in Input, text string) {
	for _, c := range in.Choices {
		if strings.EqualFold(c, text) {
			s.texts[in.Key] = c
			return
		}
	}
	mend := in.how()
	if near := data.Nearest(text, in.Choices); near != "" {
		mend = "meant " + near + "?"
	}
	s.fault(in.Key, text, "is not one of the choices; "+mend)
}

// oneDate reads a date. One without a year falls in someYear.
func (s *sheet) oneDate(in Input, text string) (day.Day, bool) {
	w, err := day.ParseWhen(text)
	if err != nil {
		s.fault(in.Key, text, err.Error())
		return 0, false
	}
	if w.Year == 0 && in.Year {
		s.fault(in.Key, text, "needs its year; write it as 2026-11-05")
		return 0, false
	}
	return w.In(someYear), true
}

func (s *sheet) putDates(in Input, text string) {
	parts := split(text)
	if n := len(parts); n < in.Fewest || n > in.Longest {
		s.fault(in.Key, text, fmt.Sprintf("has %d; %s", n, in.how()))
		return
	}
	var out []float64
	for _, part := range parts {
		d, ok := s.oneDate(in, part)
		if !ok {
			return
		}
		out = append(out, float64(d.YearDay()))
	}
	s.lists[in.Key] = out
}

// mostListed is the most choices that a message spells out.
const mostListed = 12

// how tells what to write for an input.
func (in Input) how() string {
	switch in.Form {
	case Choice:
		if len(in.Choices) > mostListed {
			return fmt.Sprintf("write one of the %d names it takes, such as %s", len(in.Choices), in.Choices[0])
		}
		return "write " + words(in.Choices)
	case Date:
		if in.Year {
			return "write a date such as 2026-11-05"
		}
		return "write a date such as 5 Nov"
	case Dates:
		return fmt.Sprintf("write %s dates parted by commas, such as 12 Apr, 3 May", in.span())
	case List:
		return fmt.Sprintf("write %s amounts parted by commas", in.span())
	}
	if u := unit.Units(in.Kind); len(u) > 0 && in.Kind != unit.Angle {
		return "write an amount in " + words(u)
	}
	if in.Kind == unit.Angle {
		return "write degrees such as 29.7 or 33.9 S"
	}
	return "write a number"
}

// span is how many entries a list takes.
func (in Input) span() string {
	if in.Fewest == in.Longest {
		return fmt.Sprint(in.Fewest)
	}
	return fmt.Sprintf("%d to %d", in.Fewest, in.Longest)
}
