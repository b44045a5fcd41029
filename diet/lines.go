package diet

import (
	"math"

	"evenstead/data"
)

// A Line is what is published of one nutrient for one person, a day, in the
// nutrient's unit. Target and Upper are NaN where nothing is published.
type Line struct {
	Nutrient string
	Target   float64
	Kind     string  // of the target: RDA, AI, AMDR low, EER
	Upper    float64 // as published, whatever it was set for
	Scope    string  // what the upper limit was set for, such as "all sources"
	Binds    bool    // whether it holds for whole food
	Source   string
}

// Lines returns the need of a person line by line, in the order of the
// nutrients, as NeedOf reckons it and with what each line rests on. The errors
// are those of NeedOf.
func Lines(p Person, nutrients []data.Nutrient, reqs []data.Requirement) ([]Line, error) {
	need, err := NeedOf(p, nutrients, reqs)
	if err != nil {
		return nil, err
	}
	rows := stage(p, reqs)
	out := make([]Line, len(nutrients))
	for i, n := range nutrients {
		l := Line{Nutrient: n.ID, Target: need.Target[i], Upper: math.NaN()}
		row, ok := find(rows, n.ID)
		if n.ID == fatID {
			row, ok = find(rows, fatShareID)
			row.Upper = need.Upper[i]
		}
		if ok {
			l.Kind, l.Upper, l.Scope, l.Source = row.Kind, row.Upper, row.UpperScope, row.Source
		}
		if n.ID == energyID {
			l.Kind, l.Source = "EER", "NASEM 2023, Dietary Reference Intakes for Energy"
		}
		l.Binds = !math.IsNaN(need.Upper[i])
		out[i] = l
	}
	return out, nil
}

// A Spell is hours a day at one effort.
type Spell struct {
	MET, Hours float64 // multiples of resting; h a day, a mean over the week
}

// ByWork returns the energy need in MJ a day of a person whose work is told in
// hours: the need of the same person inactive, whose day holds only the errands
// of living, and what the work costs above rest (Extra). It is the other way to
// the need that a level of activity stands for, and the two are not added
// (common practice; the equations of 2023 know levels only). The error is that
// of EER2023, or that the hours pass a day.
func ByWork(p Person, day []Spell) (mj float64, err error) {
	p.Activity = Inactive
	if mj, err = EER2023(p); err != nil {
		return 0, err
	}
	hours := 0.0
	for _, s := range day {
		hours += s.Hours
		mj += Extra(s.MET, p.Mass, s.Hours)
	}
	return mj, within("work", hours, 0, 24, "hours a day")
}

// Added returns what the need of NASEM 2023 holds for new tissue and what it
// holds for a pregnancy or milk, MJ a day; both 0 for most adults. The second is
// the difference from the same person without. The error is that of EER2023.
func Added(p Person) (growth, bearing float64, err error) {
	whole, err := EER2023(p)
	if err != nil {
		return 0, 0, err
	}
	p.State, p.Week = None, 0
	alone, err := EER2023(p)
	return kcal * growth2023(p), whole - alone, err
}
