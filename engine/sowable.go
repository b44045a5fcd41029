package engine

import (
	"fmt"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/diet"
	"evenstead/stead"
	"evenstead/weather"
)

// An Opening is a crop that can be sown at a place, with the window that a garden
// stands in on a day: the one that opened last before it.
type Opening struct {
	ID, Name    string
	Open, Close day.When // first and last day of the window
	Sow         day.When // its middle
	Stands      bool     // sown in the middle, it is still on the bed that day
	Always      bool     // the window is open for all but two weeks of the year
}

// commonCrops are what a household is asked about first: what most kitchen gardens
// of warm and cool climates hold (common practice).
var commonCrops = []string{
	"potato", "sweet_potato", "cassava", "maize_dry", "wheat_winter", "dry_bean", "cowpea", "broad_bean", "pea_green",
	"winter_squash", "pumpkin", "zucchini", "kale", "collards", "chard", "cabbage", "lettuce", "carrot", "beet", "turnip",
	"onion", "garlic", "leek", "tomato", "pepper_sweet",
}

// Sowable lists the common crops that have a sowing window in the climate of an
// ensemble, at the risk the terms name (crop.Windows), as they stand on a day.
func Sowable(st *stead.Stead, tab *data.Tables, ens *weather.Ensemble, on day.Day) ([]Opening, error) {
	clim, err := cropClimate(ens, st.Place.Latitude)
	if err != nil {
		return nil, fmt.Errorf("sowable crops: %w", err)
	}
	var out []Opening
	for _, id := range commonCrops {
		c, ok := tab.Crop(id)
		if !ok {
			continue
		}
		windows := crop.Windows(c, clim, st.Terms.Storage)
		if len(windows) == 0 {
			continue
		}
		out = append(out, sowingOf(c, clim, windows, on))
	}
	return out, nil
}

// sowingOf picks the window whose middle lies nearest behind a day.
func sowingOf(c *data.Crop, clim *crop.Climate, windows []crop.Window, on day.Day) Opening {
	best, age := windows[0], 366
	for _, w := range windows {
		if a := (on.YearDay() - middleOf(w) + 2*365) % 365; a < age {
			best, age = w, a
		}
	}
	_, last, ok := crop.Harvest(c, clim, (middleOf(best)-1)%365+1)
	return Opening{ID: c.ID, Name: c.Name, Open: yearDate(best.Open), Close: yearDate(best.Close),
		Sow: yearDate(middleOf(best)), Stands: ok && age <= last, Always: best.Days() >= 351}
}

func middleOf(w crop.Window) int { return w.Open + w.Days()/2 }

// yearDate is a day of a common year, 1 to 365 and on from there, as a date that recurs.
func yearDate(yearDay int) day.When {
	_, month, dom := (day.Of(2025, 1, 1) + day.Day((yearDay-1)%365)).Date()
	return day.When{Month: month, Dom: dom}
}

// Appetite is the food energy that the people of a stead need, MJ a day: diet.NeedOf
// added up, nobody away.
func Appetite(st *stead.Stead, tab *data.Tables) (mj float64, err error) {
	for _, p := range st.People {
		who := diet.Person{Sex: p.Sex, Age: p.Age, Height: p.Height, Mass: p.Mass, Activity: p.Activity, State: p.State}
		need, err := diet.NeedOf(who, tab.Nutrients, tab.Requirements)
		if err != nil {
			return 0, fmt.Errorf("need of %s: %w", p.Name, err)
		}
		mj += need.Target[tab.NutrientIndex("energy_mj")]
	}
	return mj, nil
}
