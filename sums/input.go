package sums

import "evenstead/unit"

// A Form is how the value of an input is written.
type Form string

// The forms.
const (
	Amount Form = "amount" // a number with its unit
	List   Form = "list"   // amounts parted by commas; a unit after the last serves all
	Choice Form = "choice" // one of Choices
	Date   Form = "date"   // "2026-11-05", or "5 Nov" where the year does not matter
	Dates  Form = "dates"  // dates parted by commas
)

// An Input is one value that a sum takes. Least and Most are SI, both included.
type Input struct {
	Key      string    `json:"key"`
	Label    string    `json:"label"`
	Form     Form      `json:"form"`
	Kind     unit.Kind `json:"kind,omitempty"`    // of amounts
	Choices  []string  `json:"choices,omitempty"` // of a choice
	Default  string    `json:"default,omitempty"` // "" where it must be given or may be left out
	Optional bool      `json:"optional,omitempty"`
	Least    float64   `json:"least"`
	Most     float64   `json:"most"`
	Fewest   int       `json:"fewest,omitempty"` // entries of a list
	Longest  int       `json:"longest,omitempty"`
	Year     bool      `json:"year,omitempty"` // a date needs its year
}

// Required reports whether the input has to be given.
func (in Input) Required() bool { return in.Default == "" && !in.Optional }

// amount is an input with a unit; a default of "" makes it required.
func amount(key, label string, k unit.Kind, def string, least, most float64) Input {
	return Input{Key: key, Label: label, Form: Amount, Kind: k, Default: def, Least: least, Most: most}
}

func list(key, label string, k unit.Kind, fewest, longest int, least, most float64) Input {
	return Input{Key: key, Label: label, Form: List, Kind: k, Fewest: fewest, Longest: longest, Least: least, Most: most}
}

// monthly is a list of twelve, January first.
func monthly(key, label string, k unit.Kind, least, most float64) Input {
	return list(key, label+", January to December", k, 12, 12, least, most)
}

func choice(key, label, def string, choices ...string) Input {
	return Input{Key: key, Label: label, Form: Choice, Default: def, Choices: choices}
}

// yearly is a date in any year.
func yearly(key, label string) Input { return Input{Key: key, Label: label, Form: Date} }

// dated is a date with its year.
func dated(key, label string) Input { return Input{Key: key, Label: label, Form: Date, Year: true} }

// maybe lets an input be left out.
func maybe(in Input) Input {
	in.Optional = true
	return in
}

// ids lists the names of a table's rows.
func ids[T any](rows []T, id func(*T) string) []string {
	out := make([]string, len(rows))
	for i := range rows {
		out[i] = id(&rows[i])
	}
	return out
}
