package sums

import (
	"encoding/json"
	"math"

	"evenstead/unit"
)

// An Answer is what a sum came to.
type Answer struct {
	Sum      string   `json:"sum"`
	Title    string   `json:"title"`
	Lines    []Line   `json:"lines"`
	Steps    []string `json:"steps"` // how it was reckoned, with the numbers
	Source   string   `json:"source"`
	Cautions []string `json:"cautions,omitempty"`
}

// A Line is one thing that was asked for. Amount is SI of Kind; a line that is
// told in words alone, such as a date, has no Kind and an Amount of NaN.
type Line struct {
	Label  string
	Amount float64
	Kind   unit.Kind
	Unit   string // what a number counts ("days"), or what an amount is over ("a day")
	Text   string // in the system of units asked for
}

// MarshalJSON leaves out amounts that are not numbers.
func (l Line) MarshalJSON() ([]byte, error) {
	out := struct {
		Label  string    `json:"label"`
		Amount *float64  `json:"amount,omitempty"`
		Kind   unit.Kind `json:"kind,omitempty"`
		Symbol string    `json:"si,omitempty"`
		Unit   string    `json:"unit,omitempty"`
		Text   string    `json:"text"`
	}{Label: l.Label, Kind: l.Kind, Unit: l.Unit, Text: l.Text}
	if l.Kind != "" && !math.IsNaN(l.Amount) && !math.IsInf(l.Amount, 0) {
		out.Amount, out.Symbol = &l.Amount, unit.Symbol(l.Kind)
	}
	return json.Marshal(out)
}

// Line returns the answer's line of a label; ok is false when it has none.
func (a Answer) Line(label string) (l Line, ok bool) {
	for _, l := range a.Lines {
		if l.Label == label {
			return l, true
		}
	}
	return Line{}, false
}
