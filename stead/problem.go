package stead

import (
	"fmt"
	"slices"
	"strings"
)

// A Problem is one fault of a description: where it stands and how to mend it.
type Problem struct {
	Line  int    // of the text, from 1; 0 when no line is to blame
	Part  string // "tank \"tote 2\"", "place"; "" for the whole text
	Key   string // "" for the whole part
	Value string // as written; "" when there is none
	Mend  string // what is wrong and what to write instead
}

// String prints line, part, key, value and mend as one sentence.
func (p Problem) String() string {
	where := p.Part
	if p.Line > 0 {
		where = strings.TrimSuffix(fmt.Sprintf("line %d, %s", p.Line, p.Part), ", ")
	}
	at := p.Key
	if p.Key != "" && p.Value != "" {
		at = p.Key + " = " + p.Value
	}
	var said []string
	for _, s := range []string{where, at, p.Mend} {
		if s != "" {
			said = append(said, s)
		}
	}
	return strings.Join(said, ": ")
}

// Errors are all the problems of a description, sorted by line.
type Errors []Problem

// Error prints one problem a line.
func (e Errors) Error() string {
	lines := make([]string, len(e))
	for i, p := range e {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// asError sorts the problems and returns nil when there are none.
func (e Errors) asError() error {
	if len(e) == 0 {
		return nil
	}
	slices.SortStableFunc(e, func(a, b Problem) int { return a.Line - b.Line })
	return e
}
