package engine

import (
	"fmt"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// A Sowing is a crop that can be sown at a place, and when the mean year harvests it.
type Sowing struct {
	Crop             *data.Crop
	Food             *data.Food
	Sow, First, Last day.Day
	KgM2             float64 // of what is eaten, of a typical harvest
}

// Sowings lists what can be sown at a place on or after a day and gives a first
// harvest within so many days of it, in the table's order; each crop once, at its
// next window (crop.Windows at the risk the terms name).
func Sowings(st *stead.Stead, tab *data.Tables, ens *weather.Ensemble, from day.Day, within int) ([]Sowing, error) {
	clim, err := cropClimate(ens, st.Place.Latitude)
	if err != nil {
		return nil, fmt.Errorf("sowings: %w", err)
	}
	var out []Sowing
	for i := range tab.Crops {
		c := &tab.Crops[i]
		food, ok := tab.Food(c.Food)
		if !ok || !(c.YieldTyp > 0) || c.HarvestFrom != 0 {
			continue
		}
		sow, ok := nextSowing(crop.Windows(c, clim, st.Terms.Storage), from)
		if !ok {
			continue
		}
		first, last, ok := crop.Harvest(c, clim, sow.YearDay())
		if ok && int(sow-from)+first <= within {
			out = append(out, Sowing{c, food, sow, sow + day.Day(first), sow + day.Day(last), c.YieldTyp * c.EdibleFraction})
		}
	}
	return out, nil
}
