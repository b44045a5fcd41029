// Package diet says what people need and what food gives them: energy by age,
// sex, size and activity, nutrients by life stage, losses in the pot, and the
// share of each need that an intake meets. It leaves out digestion, illness,
// slimming and supplements, and gives no medical advice. Main sources: the
// Dietary Reference Intakes of the US National Academies (energy 2023, elements
// and vitamins 1997-2019) and FAO/WHO/UNU Human energy requirements (2004).
package diet

import (
	"errors"
	"fmt"
	"math"
)

// MJ per kcal, exact (thermochemical calorie).
const kcal = 0.004184

// Levels of activity, in rising order (NASEM 2023). Hand farm work is active to
// very active (common practice).
const (
	Inactive   = "inactive"
	LowActive  = "low_active"
	Active     = "active"
	VeryActive = "very_active"
)

// States of a person.
const (
	None      = "none"
	Pregnant  = "pregnant"
	Lactating = "lactating"
)

// Person is someone who eats.
type Person struct {
	Sex      string  // female, male
	Age      float64 // years with their fraction, 0 to 120
	Height   float64 // m
	Mass     float64 // kg; in pregnancy the mass before it
	Activity string  // inactive, low_active, active, very_active
	State    string  // none, pregnant, lactating; "" is none
	Week     int     // of gestation, or since the birth when lactating; 0 unknown
}

// check reports every fault of a person at once.
func (p Person) check() error {
	var errs []error
	if p.Sex != "female" && p.Sex != "male" {
		errs = append(errs, fmt.Errorf("sex %q: write female or male", p.Sex))
	}
	errs = append(errs,
		within("age", p.Age, 0, 120, "years"),
		within("height", p.Height, 0.4, 2.5, "m"),
		within("mass", p.Mass, 2, 350, "kg"))
	if _, err := level(p.Activity); err != nil {
		errs = append(errs, err)
	}
	return errors.Join(append(errs, p.checkState())...)
}

func (p Person) checkState() error {
	switch p.State {
	case "", None:
		return nil
	case Pregnant, Lactating:
		if p.Sex != "female" || p.Age < 14 || p.Age >= 51 {
			return fmt.Errorf("%s: published needs cover females of 14 to 50 years; ask a clinician", p.State)
		}
		if p.Week < 0 || p.State == Pregnant && p.Week > 44 {
			return fmt.Errorf("%s, week %d: write 1 to 44, or 0 when not known", p.State, p.Week)
		}
		return nil
	}
	return fmt.Errorf("state %q: write none, pregnant or lactating", p.State)
}

func within(what string, v, lo, hi float64, unit string) error {
	if math.IsNaN(v) || v < lo || v > hi {
		return fmt.Errorf("%s %g is out of range: %g to %g %s", what, v, lo, hi, unit)
	}
	return nil
}

// level returns the place of an activity in its rising order, 0 to 3.
func level(activity string) (int, error) {
	switch activity {
	case Inactive:
		return 0, nil
	case LowActive:
		return 1, nil
	case Active:
		return 2, nil
	case VeryActive:
		return 3, nil
	}
	return 0, fmt.Errorf("activity %q: write inactive, low_active, active or very_active", activity)
}

func (p Person) male() bool { return p.Sex == "male" }
