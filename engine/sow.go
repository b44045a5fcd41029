package engine

import (
	"fmt"
	"slices"

	"evenstead/book"
	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

// usualGarden is what a bed with nothing written on it is taken to carry: a
// plain garden of staples and leaves (common practice). Each line offers crops
// in order; the first with a sowing window here is taken.
var usualGarden = []struct {
	share float64
	crops []string
}{
	{0.40, []string{"potato", "sweet_potato", "cassava"}},
	{0.20, []string{"winter_squash", "pumpkin"}},
	{0.20, []string{"dry_bean", "cowpea", "broad_bean"}},
	{0.20, []string{"kale", "collards", "chard"}},
}

// Sow gives a stead that has beds but no planting at all a usual garden, sown in
// the windows of the climate, and notes it among the defaults taken.
// Beds that the book says were sown are left to it.
func Sow(st *stead.Stead, tab *data.Tables, ens *weather.Ensemble, entries []book.Entry) error {
	if len(st.Plantings) > 0 || len(st.Beds) == 0 {
		return nil
	}
	clim, err := cropClimate(ens, st.Place.Latitude)
	if err != nil {
		return fmt.Errorf("usual garden: %w", err)
	}
	for _, bed := range st.Beds {
		if sownOn(entries, bed.Name) {
			continue
		}
		for _, line := range usualGarden {
			c, open, ok := fitting(tab, line.crops, clim, st)
			if !ok {
				continue
			}
			area := bed.Area * line.share
			st.Plantings = append(st.Plantings, stead.Planting{Bed: bed.Name, Crop: c.ID, Area: area, Sow: open})
			st.Taken = append(st.Taken, stead.Default{
				Part: fmt.Sprintf("bed %q", bed.Name), Key: "planting",
				Value: fmt.Sprintf("%s of %s, sown %s", unit.Format(area, unit.Area, unit.Metric), c.Name, open),
				Why:   "nothing is written on it: a usual garden, sown in the climate's window",
			})
		}
	}
	if len(st.Plantings) == 0 && !sownOn(entries, "") {
		st.Taken = append(st.Taken, stead.Default{Key: "planting", Value: "none",
			Why: "no crop of a usual garden has a sowing window in this climate: write [[planting]] lines of your own"})
	}
	return nil
}

// sownOn tells whether the book sows a bed; without a name, any.
func sownOn(entries []book.Entry, bed string) bool {
	return slices.ContainsFunc(entries, func(e book.Entry) bool {
		return (e.Kind == book.Sown || e.Kind == book.SetOut) && (bed == "" || e.Body.Where == bed)
	})
}

// fitting finds the first crop with a sowing window, and the day to sow it: the
// first opening after the stead's first day.
func fitting(tab *data.Tables, ids []string, clim *crop.Climate, st *stead.Stead) (*data.Crop, day.When, bool) {
	for _, id := range ids {
		c, ok := tab.Crop(id)
		if !ok {
			continue
		}
		best, found := day.Day(0), false
		for _, w := range crop.Windows(c, clim, st.Terms.Storage) {
			d := opening(st.Stay.From, w.Open+7)
			if !found || d < best {
				best, found = d, true
			}
		}
		if found {
			_, month, dom := best.Date()
			return c, day.When{Month: month, Dom: dom}, true
		}
	}
	return nil, day.When{}, false
}

// opening is the first day on or after a date that is so many days into a year.
func opening(from day.Day, yearDay int) day.Day {
	d := day.Of(from.Year(), 1, 1) + day.Day((yearDay-1)%365)
	if d < from {
		d = day.Of(from.Year()+1, 1, 1) + day.Day((yearDay-1)%365)
	}
	return d
}

// climateMembers is how many members the climate of a usual garden is read from.
const climateMembers = 30

// cropClimate lays members end to end as if they were years in a row, so that
// frost years can be counted.
func cropClimate(ens *weather.Ensemble, lat float64) (*crop.Climate, error) {
	var tmin, tmax []float64
	from := ens.Start
	for i := range min(climateMembers, len(ens.Members)) {
		y, month, dom := ens.Start.Date()
		next := day.Of(y+i+1, month, dom)
		w := &ens.Members[i]
		for d := range int(next - from) { // a leap day repeats the last day
			j := min(d, len(w.TMin)-1, 364)
			tmin, tmax = append(tmin, w.TMin[j]), append(tmax, w.TMax[j])
		}
		from = next
	}
	return crop.NewClimate(lat, ens.Start, tmin, tmax)
}
