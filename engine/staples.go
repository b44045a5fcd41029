package engine

import (
	"fmt"
	"slices"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"
)

// A Staple is a crop of roots, grain or pulses that can be sown at a place.
type Staple struct {
	Crop *data.Crop
	Sow  day.When // within its window, on or after the day asked for
	Days int      // from that day to the end of its harvest in the mean year
	MJM2 float64  // food energy of a typical harvest, MJ/m2
}

// staples are the classes of food that feed a household through a year.
var staples = []string{"staple_root", "grain", "pulse"}

// Staples lists the staples that have a sowing window in the climate of an
// ensemble and come to harvest within so many days of a day, most food energy a
// square metre first. The windows are crop.Windows at the risk the terms name.
func Staples(st *stead.Stead, tab *data.Tables, ens *weather.Ensemble, from day.Day, within int) ([]Staple, error) {
	clim, err := cropClimate(ens, st.Place.Latitude)
	if err != nil {
		return nil, fmt.Errorf("staples: %w", err)
	}
	var out []Staple
	for i := range tab.Crops {
		c := &tab.Crops[i]
		food, ok := tab.Food(c.Food)
		if !ok || !slices.Contains(staples, food.Category) || !(c.YieldTyp > 0) {
			continue
		}
		sow, ok := nextSowing(crop.Windows(c, clim, st.Terms.Storage), from)
		if !ok {
			continue
		}
		_, last, ok := crop.Harvest(c, clim, sow.YearDay())
		if days := int(sow-from) + last; ok && days <= within {
			_, month, dom := sow.Date()
			out = append(out, Staple{c, day.When{Month: month, Dom: dom}, days, c.YieldTyp * c.EdibleFraction * food.Nutrient[0]})
		}
	}
	slices.SortStableFunc(out, func(a, b Staple) int { return -cmpFloat(a.MJM2, b.MJM2) })
	return out, nil
}

// settled is how many days after its opening a window is used, so that a late
// spring does not catch the sowing.
const settled = 7

// nextSowing is the first day, on or after one, that lies well within a window.
func nextSowing(windows []crop.Window, from day.Day) (best day.Day, ok bool) {
	for _, w := range windows {
		d := opening(from, w.Open+min(settled, w.Days()-1))
		if !ok || d < best {
			best, ok = d, true
		}
	}
	return best, ok
}
