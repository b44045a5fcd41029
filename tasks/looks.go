package tasks

import (
	"fmt"
	"math"
	"strings"

	"evenstead/day"
	"evenstead/engine"
)

// freshDip is for how many days a dip stands.
const freshDip = 4

// dip looks at every group of tanks once a week.
func (w *maker) dip() {
	for i := range w.Standing.Tanks {
		g := &w.Standing.Tanks[i]
		if w.first() && g.How == "dipped" && w.Today-g.Day < freshDip {
			w.low(g)
			continue
		}
		t := Task{ID: w.weekly("dip " + g.Name), Kind: "dip", Title: "Dip the " + g.Name + " water", Rank: Look, Minutes: 3,
			Amount: fmt.Sprintf("about %s of %s by the reckoning", w.litres(g.Level), w.litres(g.Holds)), Value: g.Level, Unit: "L",
			Why:  fmt.Sprintf("last %s %s", g.How, plain(g.Day.Short())),
			Slip: "a tap left on or a crack is found when the tank is dry", Source: "common practice",
			Note: "dipped " + g.Name + " at " + Blank + " L"}
		if g.Use > 0 {
			days := math.Max(0, g.Level-g.Dead) / g.Use
			t.Why += fmt.Sprintf("; the house draws %s a day, so it holds %.0f days without rain", w.litres(g.Use), days)
			if days < lowDays {
				t.Rank, t.By = Must, w.from+1
			}
		}
		w.add(t)
	}
}

// lowDays is for how many days of the house's use a tank must hold not to be low
// (common practice).
const lowDays = 21

// low tells of a tank that was dipped just now and holds little.
func (w *maker) low(g *engine.TankGroup) {
	left, days := math.Max(0, g.Level-g.Dead), math.Inf(1)
	if g.Use > 0 {
		days = left / g.Use
	}
	kept := g.Reserve > g.Dead && g.Level <= g.Reserve
	if days >= lowDays && !kept {
		return
	}
	t := Task{ID: w.weekly("low " + g.Name), Kind: "low", Title: "Spare the " + g.Name + " water", Rank: Must, By: w.from + 6, Minutes: 3,
		Amount: w.litres(left) + " above the tap", Value: left, Unit: "L", Why: "it is down to what beds leave for the house",
		Slip: "it runs dry before the next rain fills it", Source: "the dip of " + plain(g.Day.Short()), Note: "dipped " + g.Name + " at " + Blank + " L"}
	if days < lowDays {
		t.Why = fmt.Sprintf("the house draws that in %.0f days, were no rain to fall", days)
		t.By = w.from + day.Day(math.Min(6, days/4))
	}
	w.add(t)
}

// look asks for the look that would tell the outlook most, unless it is on the list
// by another reason.
func (w *maker) look() {
	if !w.first() || w.Outlook == nil || w.Outlook.Found == nil || len(w.Outlook.Found.Ask) == 0 {
		return
	}
	q := &w.Outlook.Found.Ask[0]
	store := strings.ReplaceAll(q.Store, ",", "")
	title, note := "Count the "+lower(q.Store), "counted "+store+" "+Blank+" "+q.Unit
	may := w.kg
	if q.Unit == "L" {
		tank := strings.TrimSuffix(store, " water")
		title, note, may = "Dip the "+lower(q.Store), "dipped "+tank+" at "+Blank+" L", w.litres
	}
	for i := range w.list {
		if strings.Contains(w.list[i].Note, note) || w.list[i].Title == title {
			return
		}
	}
	w.add(Task{ID: w.weekly("look " + store), Kind: "look", Title: title, Rank: Look, By: w.from + 1, Minutes: 6,
		Amount: fmt.Sprintf("it may be %s or %s", may(q.Low), may(q.High)), Why: "of all looks it tells most: by that, " + q.Said,
		Slip: "the outlook stays as vague as it is", Source: "the outlook of " + plain(w.Outlook.Today.Short()), Note: note})
}
