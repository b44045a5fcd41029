package tasks

import (
	"fmt"
	"math"
	"strings"

	"evenstead/day"
	"evenstead/engine"
)

// leastUrine is what is not worth carrying, L (common practice).
const leastUrine = 5

// urine goes where the gate lets it, diluted; where it does not, that is said.
func (w *maker) urine() {
	t := w.Standing.Toilet
	if t == nil || !t.Apart || t.Cans <= 0 || !w.first() {
		return
	}
	litres, n := 0.0, 0
	var where, notes []string
	rule, source := w.Standing.Gate("urine").Rule, w.Standing.Gate("urine").Source
	for _, d := range w.Chores.Doses {
		if !d.Open || d.Litres < 1 {
			continue
		}
		litres += d.Litres
		where = append(where, fmt.Sprintf("%s %s", d.Plot, w.litres(d.Litres)))
		notes = append(notes, fmt.Sprintf("spread %s urine, %s", noted(d.Litres, "L"), d.Plot))
		n++
	}
	full := w.Today + day.Day(t.UrineDays)
	if litres < leastUrine {
		w.noUrine(t, full)
		return
	}
	diluted := litres * (1 + t.Dilution)
	w.add(Task{ID: w.weekly("urine"), Kind: "urine", Title: "Empty and dilute urine: " + listed(where, 6), Rank: Loop, By: min(full, w.to),
		Amount: fmt.Sprintf("%s neat in %.0f parts of water makes %s", w.litres(litres), t.Dilution, w.cans(diluted)), Value: litres, Unit: "L",
		Minutes: diluted * w.Chores.CanHour * 60,
		Why:     fmt.Sprintf("the cans hold %s of %s, full about %s; it carries %s of nitrogen", w.litres(t.Urine), w.litres(t.Cans), plain(full.Short()), w.kg(t.UrineN*litres/math.Max(t.Urine, 1e-9))),
		Slip:    "full cans run over onto the compost, and most of the nitrogen is lost to the air",
		Caution: upper(rule) + ". Gloves; wash hands. Local codes come first.", Source: source, Note: strings.Join(notes, "\n")})
}

// noUrine says that no plot may have any while the cans fill.
func (w *maker) noUrine(t *engine.ToiletNow, full day.Day) {
	if t.Urine < 0.7*t.Cans {
		return
	}
	why := "no plot may have any now"
	for _, d := range w.Chores.Doses {
		if d.Why != "" {
			why += ": " + d.Plot + ", " + lower(d.Why)
			break
		}
	}
	w.add(Task{ID: w.weekly("urine"), Kind: "urine", Title: "Urine: pour it on the compost, or find more cans", Rank: Loop, By: min(full, w.to), Minutes: 15,
		Amount: w.litres(t.Urine), Value: t.Urine, Unit: "L", Why: strings.TrimSuffix(why, ".") + fmt.Sprintf("; the cans, %s, are full about %s", w.litres(t.Cans), plain(full.Short())),
		Slip: "the cans run over", Caution: upper(w.Standing.Gate("urine").Rule) + ".", Source: w.Standing.Gate("urine").Source, Note: "note: urine on the compost"})
}

// drums are closed when full and opened when their time has come.
func (w *maker) drums() {
	t := w.Standing.Toilet
	if t == nil {
		return
	}
	for i := range t.Drums {
		d := &t.Drums[i]
		name := fmt.Sprintf("drum %d", d.Number)
		id := fmt.Sprintf("%s-%d", slug(name), w.Chores.Times("closed", "", name)+1)
		switch {
		case d.Filling && w.within(max(d.Full, w.Today)):
			w.add(w.closing(t, d, name, id))
		case d.Opens != 0 && d.Litres > 0 && w.within(max(d.Opens, w.Today)):
			w.add(w.opening(t, d, name, id))
		}
	}
}

func (w *maker) closing(t *engine.ToiletNow, d *engine.DrumNow, name, id string) Task {
	free := 0
	for _, o := range t.Drums {
		if o.Litres == 0 {
			free++
		}
	}
	shut := max(d.Full, w.Today)
	return Task{ID: "close-" + id, Kind: "drum", Title: "Close " + name + ", write the day on its lid, put the next in place", Rank: Must, By: shut, Alarm: true,
		Amount: w.litres(d.Litres) + " in it now", Value: d.Litres, Unit: "L", Minutes: w.hours("drum", 1.5) * 60,
		Why:  fmt.Sprintf("it is full about %s; %d empty drums are left, each fills in about %.0f days", plain(shut.Short()), free, t.FillDays),
		Slip: "nowhere to go", Caution: upper(w.Standing.Gate("drum").Rule) + ": not to be opened before " + plain((shut + day.Day(t.CureDays)).Long()) + ".",
		Source: w.Standing.Gate("drum").Source, Note: "closed " + name}
}

func (w *maker) opening(t *engine.ToiletNow, d *engine.DrumNow, name, id string) Task {
	to, where := "the trees", ""
	if len(t.DrumTo) > 0 {
		to, where = listed(t.DrumTo, 3), " to "+t.DrumTo[0]
	}
	return Task{ID: "open-" + id, Kind: "drum", Title: "Open " + name + " and dig it in at " + to, Rank: Later, From: d.Opens,
		Amount: w.kg(d.Kg), Value: d.Kg, Unit: "kg", Minutes: 2 * w.hours("drum", 1.5) * 60,
		Why:  fmt.Sprintf("shut since %s, it may be opened from %s", plain(d.Closed.Long()), plain(d.Opens.Long())),
		Slip: "nothing spoils; an empty drum is wanting later", Caution: upper(w.Standing.Gate("drum-place").Rule) + ". Gloves, mask, own tools. Local codes come first.",
		Source: w.Standing.Gate("drum-place").Source, Note: "emptied " + name + where}
}

// coverDays is how long the cover must last before more is gathered.
const coverDays = 60

// cover is gathered in its months, and always when little is left.
func (w *maker) cover() {
	t := w.Standing.Toilet
	if t == nil || math.IsInf(t.CoverDays, 0) {
		return
	}
	left := t.CoverDays - float64(w.at)
	season := len(w.Stead.Toilets) > 0 && w.coverMonth() && w.firstOfMonth()
	if left > coverDays && !season || left > coverDays && t.CoverDays > 365 || !w.first() && !season {
		return
	}
	use := t.Cover / math.Max(t.CoverDays, 1e-9)
	litres := math.Max(20, use*90)
	task := Task{ID: "cover-" + w.month(), Kind: "cover", Title: "Gather cover: dry leaves, chaff, sawdust of clean wood", Rank: Loop,
		Amount: w.litres(litres), Value: litres, Unit: "L", Minutes: 60, Source: "common practice",
		Why:  fmt.Sprintf("%s are left, for about %.0f days", w.litres(t.Cover), t.CoverDays),
		Slip: "running out of cover is the one thing that stops a dry toilet", Note: fmt.Sprintf("note: gathered %s of cover", w.litres(litres)),
		Caution: "No treated or painted wood; keep it dry and away from flame."}
	if left < 14 {
		task.Rank, task.By = Must, w.from+day.Day(math.Max(0, left))
	}
	w.add(task)
}

func (w *maker) coverMonth() bool {
	months := w.Stead.Toilets[0].CoverMonths
	for _, m := range months {
		if m == int(w.to.Month()) {
			return true
		}
	}
	return false
}

// leastHeap is a heap not worth turning, kg (common practice).
const leastHeap = 30

// turn feeds air to the heap.
func (w *maker) turn() {
	c := &w.Standing.Compost
	if c.Fresh < leastHeap || !w.firstOfMonth() {
		return
	}
	w.add(Task{ID: "turn-" + w.month(), Kind: "turn", Title: "Turn the compost, wet it if it is dry", Rank: Later, Minutes: w.hours("compost", 0.4) * 60,
		Amount: w.kg(c.Fresh) + " not ripe, " + w.kg(c.Ripe) + " ripe", Value: c.Fresh, Unit: "kg", Why: "a heap without air rots cold and slowly, and smells",
		Slip: "it ripens later", Source: "common practice", Note: "note: compost turned"})
}

// flush cleans gutters, screens and first flush, once a month.
func (w *maker) flush() {
	roofs := 0
	for i := range w.Standing.Tanks {
		roofs += len(w.Standing.Tanks[i].Roofs)
	}
	if roofs == 0 || !w.firstOfMonth() {
		return
	}
	t := Task{ID: "flush-" + w.month(), Kind: "flush", Title: "Empty the first flush, clear gutters and screens", Rank: Loop, Minutes: float64(15 * roofs),
		Amount: fmt.Sprintf("%d roofs", roofs), Value: float64(roofs),
		Why:     "the first half millimetre carries the roof's dirt; a full diverter lets it through",
		Slip:    "dirt in the tank, and rain over the gutter's edge",
		Caution: "Two on a ladder, never in wind or on a wet roof.", Source: "common Texas guidance; common practice", Note: "note: first flush and gutters cleaned"}
	if w.Standing.Rain.DryDays >= 7 && w.first() {
		t.Why = fmt.Sprintf("%d dry days lie behind: %s", w.Standing.Rain.DryDays, t.Why)
	}
	w.add(t)
}

// filter is scrubbed once a month, and changed before it is spent.
func (w *maker) filter() {
	if w.Chores.Drinks <= 0 || len(w.Stead.Treatment) == 0 || !w.firstOfMonth() {
		return
	}
	t := Task{ID: "filter-" + w.month(), Kind: "filter", Title: "Clean the drinking-water filter and its vessel", Rank: Must, Minutes: 20, Note: "note: filter cleaned",
		Why: "it treats " + w.litres(w.Chores.Drinks) + " a day", Slip: "flow falls, and germs grow through a dirty filter",
		Caution: "Roof water is not safe to drink as caught: filter and disinfect it.", Source: "CDC, Rainwater Collection"}
	if left := w.Chores.Filter; left > 0 {
		days := left / w.Chores.Drinks
		t.Amount, t.Value, t.Unit = w.litres(left)+" left in it and its spares", left, "L"
		t.Why += fmt.Sprintf(", which it can for about %.0f days more", days)
	} else if w.Stead.Treatment[0].Kind != "filter" {
		t.Title, t.Why = "Scrub the vessels for treated water", "treated water is only as clean as what it stands in"
	}
	w.add(t)
}

// wigglers is the temperature from which mosquitoes breed, °C (common practice:
// about 10 °C for the hardiest kinds).
const wigglers = 10

// mosquitoes are looked for weekly while it is warm: they need 7 to 10 days.
func (w *maker) mosquitoes() {
	if len(w.Standing.Tanks) == 0 || (w.usually(w.Usual.TMin)+w.usually(w.Usual.TMax))/2 < wigglers {
		return
	}
	w.add(Task{ID: w.weekly("mosquito"), Kind: "mosquito", Title: "Look for wigglers: screens, lids, saucers, greywater, buckets", Rank: Loop, Minutes: 10,
		Why: "an egg is a mosquito in 7 to 10 warm days", Slip: "bites, and a neighbour's complaint",
		Caution: "Screen every opening with mesh of 1.6 mm or finer, and empty uncovered water at least weekly.", Source: "county mosquito districts",
		Note: "note: looked for wigglers"})
}

// haul are the trips with the trailer.
func (w *maker) haul() {
	for i := range w.Chores.Hauls {
		h := &w.Chores.Hauls[i]
		if h.PerWeek <= 0 || h.PerWeek < 0.2 && !w.first() {
			continue
		}
		trips := math.Round(h.PerWeek)
		id := w.weekly("haul " + h.Name)
		if h.PerWeek < 0.75 {
			every := day.Day(7 / h.PerWeek)
			if h.Last != 0 && h.Last+every > w.to || h.Last == 0 && h.PerWeek < 0.2 || !w.firstOfMonth() {
				continue
			}
			trips, id = 1, "haul-"+slug(h.Name)+"-"+w.month()
		}
		t := Task{ID: id, Kind: "haul", Title: "Trip with the trailer: " + h.Name, Rank: Loop, Minutes: trips * h.Hours * 60,
			Amount: fmt.Sprintf("%.0f trips, %s a load", trips, w.kg(h.Load)), Value: trips * h.Load, Unit: "kg",
			Why: "it brings what the place does not give", Slip: "what it brings is wanting",
			Caution: "Load low and tied; lights at dusk; brakes for the load.", Source: "common practice",
			Note: fmt.Sprintf("hauled %s scraps by %s", noted(math.Max(1, h.Load), "kg"), h.Name)}
		if trips == 1 {
			t.Amount = "1 trip, " + w.kg(h.Load)
		}
		if !w.feeds(h.Name) {
			t.Note = "note: trip, " + h.Name
		}
		w.add(t)
	}
}

// feeds tells whether a trip fetches the digester's scraps.
func (w *maker) feeds(trip string) bool {
	return len(w.Stead.Digesters) > 0 && w.Stead.Digesters[0].Haul == trip
}
