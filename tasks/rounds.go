package tasks

import (
	"fmt"
	"math"

	"evenstead/day"
)

// minutes of a week's round of so many hours a day.
func week(hoursDay float64) float64 { return hoursDay * 7 * 60 }

// tend is the daily work: kitchen, then the beds.
func (w *maker) tend() {
	heads := 0.0
	for i := range 7 {
		heads += w.Chores.Heads[w.at+i]
	}
	if heads > 0 {
		w.add(Task{ID: w.weekly("kitchen"), Kind: "kitchen", Title: "Cook and wash up", Daily: true, Rank: Must, Minutes: heads * w.Chores.Kitchen * 60,
			Why: "people eat every day", Slip: "tired people eat cold and cut fingers", Note: "worked 1 h cooking"})
	}
	if h := w.Chores.Garden[int(w.from.Month())-1] * 7; h > 0 {
		w.add(Task{ID: w.weekly("tend"), Kind: "tend", Title: "Weed and tend the beds", Parts: true, Value: h, Unit: "h", Rank: Season, Minutes: h * 60,
			Why:    "young stands lose to weeds first: go to the last sown beds first",
			Slip:   "an untended garden gives about three fifths of its harvest",
			Source: "common practice", Note: "worked " + noted(h/7, "h") + " weeding"})
	}
}

// birds are let out, fed and looked at.
func (w *maker) birds() {
	eggs, feed, count := 0.0, 0.0, 0.0
	for _, f := range w.Standing.Flocks {
		eggs, feed, count = eggs+f.Eggs, feed+f.Feed, count+f.Count
	}
	if count == 0 {
		return
	}
	w.add(Task{ID: w.weekly("birds"), Kind: "birds", Title: "Hens: feed, water, eggs, shut in at dusk", Daily: true, Rank: Must, Minutes: week(w.Chores.Birds),
		Amount: fmt.Sprintf("%s of feed a day; about %.0f eggs this week", w.kg(feed), eggs*7), Value: feed * 7, Unit: "kg",
		Why: fmt.Sprintf("%.0f birds live by it", count), Slip: "they suffer, stop laying, or the fox has them",
		Caution: "Wash hands after handling birds and eggs; cook eggs through.", Source: "CDC on backyard poultry, from memory",
		Note: fmt.Sprintf("took %.0f eggs", max(1, math.Round(eggs)))})
}

// bees are looked at in the months of flow, else hefted once a month.
func (w *maker) bees() {
	count, honey, flow := 0.0, 0.0, false
	for _, h := range w.Standing.Hives {
		count, honey, flow = count+h.Count, honey+h.Honey, flow || h.Flow[int(w.from.Month())-1]
	}
	if count == 0 {
		return
	}
	t := Task{Kind: "bees", Source: "common practice",
		Caution: "Veil, smoke, and a way to call for help; who is allergic keeps away. No honey for infants under one year."}
	if flow {
		t.ID, t.Title, t.Rank = w.weekly("bees"), "Open the hives: brood, room, queen cells, supers", Season
		t.Minutes = w.Chores.Bees * 60
		t.Amount = fmt.Sprintf("%.0f hives", count)
		t.Why = fmt.Sprintf("nectar flows this month: about %s of honey a year hangs on it", w.kg(honey))
		t.Slip = "a crowded colony swarms, and half the bees and the honey go with it"
		t.Note = "note: opened the hives"
		w.add(t)
		return
	}
	if !w.firstOfMonth() {
		return
	}
	t.ID, t.Title, t.Rank, t.Minutes = "heft-"+w.month(), "Heft the hives and clear their doors", Look, 15
	t.Amount = fmt.Sprintf("%.0f hives", count)
	t.Why = "stores go from week to week while nothing flowers"
	t.Slip = "a light colony starves unseen; nearly two in five of small keepers' colonies die in a year (regional survey, 2022)"
	t.Note = "note: hefted the hives"
	w.add(t)
}

// firstOfMonth tells whether this week holds the first day of a month, or is the
// one that begins today.
func (w *maker) firstOfMonth() bool {
	return w.first() || w.within(day.Of(w.to.Year(), w.to.Month(), 1))
}

// month is the month a week ends in, for ids: "2026-12".
func (w *maker) month() string { return w.to.String()[:7] }

// pail is the daily round of the toilet.
func (w *maker) pail() {
	t := w.Standing.Toilet
	if t == nil {
		return
	}
	w.add(Task{ID: w.weekly("pail"), Kind: "pail", Title: "Toilet: empty the pail, cover it, wash hands", Daily: true, Rank: Must, Minutes: week(w.Chores.Toilet),
		Why: "what is covered draws no flies and does not smell", Slip: "flies and a complaint",
		Caution: "Gloves; wash hands with soap; tools for the toilet are used for nothing else. Local codes come first.", Source: "WHO 2006 vol. 4, from memory",
		Note: "worked 0.5 h toilet"})
}

// digester is fed every day.
func (w *maker) digester() {
	d := w.Standing.Digester
	if d == nil {
		return
	}
	own := max(0, d.Feed-d.Fetched)
	t := Task{ID: w.weekly("feed-digester"), Kind: "digester", Title: "Feed the digester and look at its bag and flame", Daily: true, Rank: Loop, Minutes: week(w.Chores.Digester),
		Amount: fmt.Sprintf("%s a day (%s own, %s fetched) and %s of water", w.kg(d.Feed), w.kg(own), w.kg(d.Fetched), w.litres(d.Water)),
		Value:  d.Feed * 7, Unit: "kg",
		Why:     fmt.Sprintf("it gives about %s of gas a day at %s", w.litres(d.GasDay), w.warm(d.Slurry)),
		Slip:    "gas falls off within days; fed again in a rush it turns sour",
		Caution: "Never more than the day's feed. No flame or spark near bag and pipe; air the room; smell of gas: go out first.",
		Source:  "household digester manuals, from memory", Note: "fed digester " + noted(d.Feed, "kg") + " scraps"}
	if !d.Ripe {
		t.Why = fmt.Sprintf("it is not ripe yet; first gas about %s", plain(d.RipeOn.Short()))
	}
	w.add(t)
	if w.first() && d.Bag > 0 && d.Gas > 0.85*d.Bag {
		w.add(Task{ID: w.weekly("burn-gas"), Kind: "gas", Title: "Burn the surplus gas: boil and can with it", Rank: Loop, Minutes: 10, By: w.from + 1,
			Amount: w.litres(d.Gas) + " in the bag", Value: d.Gas, Unit: "L",
			Why: fmt.Sprintf("the bag holds %s and is nearly full", w.litres(d.Bag)), Slip: "it blows off unburnt: heat lost, and a strong greenhouse gas",
			Caution: "Flame outdoors or in an aired room, never left alone.", Source: "household digester manuals, from memory",
			Note: "cooked " + noted(d.Gas/2, "L") + " biogas"})
	}
}

// freezer is looked at every day.
func (w *maker) freezer() {
	for _, p := range w.Standing.Places {
		if p.Kind != "freezer" && p.Hold == 0 || p.Kg <= 0 {
			continue
		}
		w.add(Task{ID: w.weekly("freezer " + p.Name), Kind: "freezer", Title: "Look at the freezer " + p.Name + ": lid, cord, thermometer", Daily: true, Rank: Must, Minutes: 7, Alarm: false,
			Amount: w.kg(p.Kg) + " lie in it", Value: p.Kg, Unit: "kg",
			Why:  fmt.Sprintf("when the current stops, lid shut, there are about %.0f h to act", p.Hold),
			Slip: "all of it thaws: it was found after 1 to 10 days in first-hand accounts, by an alarm in none",
			Caution: "Refreeze only what still has ice or is at " + w.warm(4) + " or less; throw out what was above it for two hours. " +
				"A long cord: for outdoors, thick enough, unwound, dry, never buried.",
			Source: "USDA; cord: common practice", Note: "note: freezer looked at"})
	}
}

// owed is the work for house and ground.
func (w *maker) owed() {
	hours := 0.0
	for i := range 7 {
		hours += w.Chores.Owed[w.at+i]
	}
	for _, x := range w.Stead.Exchange {
		if hours <= 0 || x.Hours <= 0 {
			continue
		}
		t := Task{ID: w.weekly("owed " + x.With), Kind: "exchange", Title: "Work for " + x.With, Rank: Must, Minutes: hours * 60,
			Value: hours, Unit: "h",
			Why: "the place is paid for in work", Slip: "the roof over the head hangs on it; tell them before, not after",
			Note: "worked " + noted(hours, "h") + " for " + x.With}
		if done := w.Chores.WorkedFor(x.With); done > 0 {
			t.Why += fmt.Sprintf("; %.1f h are written since %s", done, plain(w.Chores.Start.Short()))
		}
		w.add(t)
		return // the hours owed are of all hosts together
	}
}
