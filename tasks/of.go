package tasks

import (
	"fmt"

	"evenstead/data"
	"evenstead/engine"
	"evenstead/unit"
	"evenstead/weather"
)

// ErrWeeks says that a plan of no, or of too many, weeks is asked for.
var ErrWeeks = fmt.Errorf("ask for 1 to %d", MostWeeks)

func weeksAsked(n int) error { return fmt.Errorf("%d weeks: %w", n, ErrWeeks) }

// Of is the ask for the work of some weeks, 1 to 26, of a stead replayed to today;
// the outlook, for the needs to watch, may be set in it, and the units.
func Of(past *engine.Past, tab *data.Tables, usual weather.Climate, weeks int) (Ask, error) {
	a := Ask{Today: past.Today, Weeks: weeks, Stead: past.Stead, Tables: tab, Usual: usual, Units: unit.Metric}
	if weeks < 1 || weeks > MostWeeks {
		return a, weeksAsked(weeks)
	}
	var err error
	if a.Standing, a.Year, err = past.Year(tab, usual); err != nil {
		return a, err
	}
	a.Chores, err = past.Chores(tab, usual, 7*weeks)
	return a, err
}
