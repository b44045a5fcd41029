package weather

import (
	"fmt"
	"strconv"
	"strings"
)

// A Fault is why a file could not be read: where, what, and how to mend it.
type Fault struct {
	Source string // Options.Name; may be empty
	Line   int    // counted from 1; 0 when the fault is of the whole file
	What   string
	Mend   string
	Err    error // what lay beneath; may be nil
}

// Error writes "seattle.csv line 12: what is wrong: how to mend it".
func (f *Fault) Error() string {
	where := f.Source
	if f.Line > 0 {
		where = strings.TrimSpace(where + " line " + strconv.Itoa(f.Line))
	}
	if where == "" {
		where = "weather file"
	}
	return where + ": " + f.What + ": " + f.Mend
}

// Unwrap returns the error beneath.
func (f *Fault) Unwrap() error { return f.Err }

func faultAt(line int, mend, what string, args ...any) *Fault {
	return &Fault{Line: line, What: fmt.Sprintf(what, args...), Mend: mend}
}

// count writes "1 day" or "1,461 days".
func count(n int, noun string) string {
	s := thousands(n) + " " + noun
	if n != 1 {
		s += "s"
	}
	return s
}

func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// shown cuts what a file said down to what a person can read in a message.
func shown(s string) string {
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return strconv.Quote(s)
}
