package sums

import (
	"fmt"
	"strings"
)

// A Problem is one fault of what was given to a sum.
type Problem struct {
	Key   string `json:"key"`
	Value string `json:"value"` // as written; "" when there is none
	Mend  string `json:"mend"`  // what is wrong and what to write instead
}

// String prints key, value and mend as one sentence.
func (p Problem) String() string {
	switch {
	case p.Key == "":
		return p.Mend
	case p.Value == "":
		return p.Key + ": " + p.Mend
	}
	return fmt.Sprintf("%s = %s: %s", p.Key, short(p.Value), p.Mend)
}

// Problems are all the faults of what was given, in the order of the inputs.
type Problems []Problem

// Error prints one problem a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, one := range p {
		lines[i] = one.String()
	}
	return strings.Join(lines, "\n")
}

// short keeps a long value from filling the line that tells of it.
func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "..."
	}
	return s
}

// words joins names as a sentence does.
func words(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
