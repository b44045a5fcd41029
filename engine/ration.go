package engine

import (
	"fmt"
	"strings"

	"evenstead/data"
	"evenstead/fuel"
)

// MealsADay are hot meals a person-day (common practice).
const MealsADay = 2

// FeedToday is what a digester is fed today for tomorrow's cooking: its feed is
// taken as food waste, a meal's gas as the mean of household kitchens (GTZ, and
// Estoppey 2010: fuel.GasPerMeal).
type FeedToday struct {
	fuel.Ration
	Feed    fuel.Feed
	Wanted  float64 // L of gas for tomorrow's cooking
	Flow    float64 // L/h of the burner
	Minutes float64 // that the bag feeds it
	Load    float64 // kg of volatile solids a m3 and day of the described feed
	Limit   float64 // of that, at the slurry's warmth
	Steady  float64 // L a day that each kg a day gives, kept up
}

// FeedToday reckons the feed of the stead's digester; ok is false without one.
func (p *Past) FeedToday(now *Standing, tab *data.Tables) (f FeedToday, ok bool, err error) {
	d := now.Digester
	if d == nil {
		return f, false, nil
	}
	for _, row := range tab.DigesterFeeds {
		if strings.Contains(row.ID, "food") {
			f.Feed = fuel.Feed{VS: row.TS * row.VS, B0: row.B0, K35: row.K35, Methane: fuel.UsualCH4}
			break
		}
	}
	if f.Feed.VS == 0 {
		return f, false, fmt.Errorf("the table of feeds has no food waste")
	}
	f.Flow = fuel.StoveFlow
	for _, c := range p.Stead.Cookers {
		if c.Kind == "biogas" && c.Burner > 0 {
			f.Flow = c.Burner / 24
		}
	}
	f.Wanted = float64(now.People) * MealsADay * fuel.GasPerMeal
	f.Ration = fuel.RationFor(f.Feed, f.Wanted, d.Gas+d.GasDay, d.Liquid, d.Slurry)
	f.Minutes = fuel.BurnerMinutes(d.Gas, f.Flow)
	f.Load, f.Limit = d.Feed*f.Feed.VS/(d.Liquid/1000), fuel.LoadLimit(d.Slurry)
	f.Steady = f.Feed.Steady(d.Slurry, fuel.Retention(d.Liquid, d.Feed+d.Water))
	return f, true, nil
}

// SourSigns are the signs that a digester turns sour, and what to do.
func SourSigns() []string { return fuel.SourSigns() }
