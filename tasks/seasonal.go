package tasks

import (
	"fmt"
	"math"
	"strings"
	"time"

	"evenstead/day"
)

// warmLatitude parts the places of summer's cyclones from those of winter's gales,
// degrees (common practice: few cyclones keep their force beyond it).
const warmLatitude = 35

// stormSeason is the first month of the half-year in which storms come to a
// latitude, degrees north. In the warm latitudes those are the seasons of tropical
// cyclones: 1 June to 30 November in the north (US National Hurricane Center), 1
// November to 30 April in the south (Australian Bureau of Meteorology); elsewhere
// the gales of the winter half-year (common practice).
func stormSeason(latitude float64) (first time.Month, source string) {
	switch warm := math.Abs(latitude) < warmLatitude; {
	case warm && latitude >= 0:
		return time.June, "US National Hurricane Center, season of 1 June to 30 November"
	case warm:
		return time.November, "Australian Bureau of Meteorology, season of 1 November to 30 April"
	case latitude >= 0:
		return time.October, "common practice: gales of the winter half-year"
	}
	return time.April, "common practice: gales of the winter half-year"
}

// Water set by for days cut off, L a person and day (CDC, Creating an Emergency
// Water Supply: a US gallon for three days), and the days.
const (
	setBy     = 3.785
	setByDays = 3
)

// storm readies the place once before its stormy half-year, and looks it over in
// each of that half-year's months.
func (w *maker) storm() {
	first, source := stormSeason(w.Stead.Place.Latitude)
	if since := (int(w.to.Month()) - int(first) + 12) % 12; since > 5 || !w.firstOfMonth() || len(w.Standing.Tanks)+len(w.Standing.Plots) == 0 {
		return
	}
	opens := day.Of(w.to.Year(), first, 1)
	t := Task{ID: "storm-" + w.month(), Kind: "storm", Title: "Look over the storm list: ties, lids, lamps, water set by", Rank: Loop, Minutes: 20, Source: source,
		Why: "this month belongs to the stormy half-year of its latitude", Slip: "what is loose is found in the next field, and a lid off lets the tank in for leaves and mosquitoes",
		Caution: "Read warnings of the weather service; leave in time when told to. No burner, stove or engine runs in a closed room: carbon monoxide.",
		Note:    "note: storm list looked over"}
	litres := setBy * setByDays * float64(w.Standing.People)
	t.Amount, t.Value, t.Unit = fmt.Sprintf("%s of drinking water for %d days", w.litres(litres), setByDays), litres, "L"
	if w.within(opens) {
		t.Title, t.Minutes, t.By = "Before the storms: "+strings.Join(w.loose(), ", "), 90, opens
		t.Why = fmt.Sprintf("the stormy half-year begins %s", plain(opens.Short()))
		t.Note = "note: made ready for storms"
	}
	if w.frozen() {
		t.Why += "; jugs of ice in the freezer's gaps stretch the hours it holds"
	}
	w.add(t)
}

// loose is what wind takes, of what the stead has.
func (w *maker) loose() []string {
	out := []string{"tie down sheets, covers and the trailer"}
	if len(w.Standing.Tanks) > 0 {
		out = append(out, "fasten lids and empty tanks")
	}
	if len(w.Standing.Hives) > 0 {
		out = append(out, "strap the hives")
	}
	if len(w.Standing.Flocks) > 0 {
		out = append(out, "stake the hens' house")
	}
	return append(out, "charge lamps", "set water by")
}

func (w *maker) frozen() bool {
	for _, p := range w.Standing.Places {
		if p.Hold > 0 && p.Kg > 0 {
			return true
		}
	}
	return false
}

// papers are put in order once a month, as soon as there are any.
func (w *maker) papers() {
	if !w.firstOfMonth() || len(w.Chores.Written)+len(w.Stead.Exchange) == 0 {
		return
	}
	t := Task{ID: "papers-" + w.month(), Kind: "papers", Title: "Papers: back up the book, file the month's sheets", Rank: Later, Minutes: 15,
		Why: "the book is the only witness of the year, and it lies in one file", Slip: "a lost phone or disk takes the year with it",
		Note: "note: papers put in order"}
	for _, x := range w.Stead.Exchange {
		if x.Hours <= 0 && x.Share <= 0 {
			continue
		}
		last := day.Of(w.to.Year(), w.to.Month(), 1) - 1
		t.Title = "Papers: go through " + last.Month().String() + "'s hours with " + x.With + ", both initial; back up the book"
		written := "no hours are"
		if h := w.Chores.WorkedFor(x.With); h > 0 {
			written = fmt.Sprintf("%.1f h are", h)
		}
		t.Why = fmt.Sprintf("%s written for %s since %s, and what is not agreed each month is disputed at the end", written, x.With, plain(w.Chores.Start.Short()))
		t.Rank, t.Minutes = Look, 30
		t.Caution, t.Source = "A signed sheet is no lease: ask what the law makes of work for land.", "common practice"
		break
	}
	w.add(t)
}
