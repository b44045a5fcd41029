package sums

import (
	"fmt"

	"evenstead/data"
	"evenstead/unit"
)

// A Sum is one small reckoner.
type Sum struct {
	Name     string   `json:"name"`  // one word, hyphens allowed
	Title    string   `json:"title"` // in words, without a stop
	Group    string   `json:"group"` // one of Groups
	About    string   `json:"about"` // a sentence or two on what it takes and leaves out
	Inputs   []Input  `json:"inputs"`
	Source   string   `json:"source"`
	Cautions []string `json:"cautions,omitempty"`
	Example  Example  `json:"example"`

	do func(s *sheet) error
}

// Groups are the parts of the drawer, in order.
func Groups() []string { return []string{Water, Growing, Food, Soil, Fuel, Work} }

// The parts of the drawer.
const (
	Water   = "water"
	Growing = "weather and crops"
	Food    = "food"
	Soil    = "fertility"
	Fuel    = "fuel and light"
	Work    = "work and exchange"
)

// An Example is a worked sum: what was given and what its source prints.
type Example struct {
	Given   []Pair    `json:"given"`
	Printed []Printed `json:"printed"`
	Source  string    `json:"source"` // says computed, common practice or from memory where so
}

// A Pair is a key and its value as written.
type Pair struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// A Printed line is what the source of an example prints for a line of the
// answer: Text as printed and, for an amount, its SI value within the printed
// precision.
type Printed struct {
	Label  string  `json:"label"`
	Text   string  `json:"text"`
	Amount float64 `json:"-"`
	Within float64 `json:"-"`
}

// Values returns the example's inputs by key.
func (e Example) Values() map[string]string {
	out := make(map[string]string, len(e.Given))
	for _, p := range e.Given {
		out[p.Key] = p.Value
	}
	return out
}

// All returns every sum, by group. The slice is the caller's own.
func All() []Sum {
	t, err := data.Load()
	if err != nil { // told by Run
		t = &data.Tables{}
	}
	var all []Sum
	for _, part := range []func(*data.Tables) []Sum{waterSums, growingSums, foodSums, soilSums, fuelSums, workSums} {
		all = append(all, part(t)...)
	}
	return all
}

// Named returns the sum of a name. The error names the nearest.
func Named(name string) (Sum, error) {
	var names []string
	for _, s := range All() {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	if near := unit.Nearest(name, names); near != "" {
		return Sum{}, fmt.Errorf("%q is not a sum; meant %s?", name, near)
	}
	return Sum{}, fmt.Errorf("%q is not a sum; they are %s", name, words(names))
}

// Run reckons the sum from values by key and prints its amounts in a system of
// units; the amounts themselves are SI in either. Faults of what was given are
// returned all at once as Problems.
func (s Sum) Run(values map[string]string, sys unit.System) (Answer, error) {
	t, err := data.Load()
	if err != nil {
		return Answer{}, fmt.Errorf("sum %s: %w", s.Name, err)
	}
	on := newSheet(t, sys)
	on.read(s, values)
	if len(on.faults) == 0 {
		err = s.do(on)
	}
	switch {
	case err != nil:
		return Answer{}, fmt.Errorf("sum %s: %w", s.Name, err)
	case len(on.faults) > 0:
		return Answer{}, on.faults
	}
	a := on.answer
	a.Sum, a.Title, a.Source = s.Name, s.Title, s.Source
	a.Cautions = append(a.Cautions, s.Cautions...)
	return a, nil
}
