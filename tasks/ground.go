package tasks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
)

// tenderTo is the temperature at which a crop counts as one that frost takes, °C.
const tenderTo = -2.0

// frost lists what the usual frosts would take. It is due when one autumn in ten
// has had its first frost, and is said again until the middle date has passed.
func (w *maker) frost() {
	w.lateFrost()
	soon, ok := near(w.Usual.FirstAutumn.Sooner(0.1), w.from)
	middle, most := near(w.Usual.FirstAutumn.Sooner(0.5), w.from)
	if !ok || !most || w.to < soon || w.from > middle+7 {
		return
	}
	var names []string
	kg := 0.0
	for _, p := range w.Standing.Plots {
		for _, s := range p.Stands {
			if s.Perennial || s.Kills < tenderTo || s.Picked >= 1 {
				continue
			}
			names = append(names, lower(s.Name)+" ("+p.Name+")")
			kg += s.Likely * (1 - s.Picked)
		}
	}
	if len(names) == 0 {
		return
	}
	w.add(Task{ID: fmt.Sprintf("frost-%d", soon.Year()), Kind: "frost", Title: "Before frost: lift, pick or cover " + listed(names, 4), Rank: Spoils, Alarm: true,
		By: max(soon, w.from), Minutes: float64(20 * len(names)), Amount: w.kg(kg) + " still stand in them", Value: kg, Unit: "kg",
		Why:  fmt.Sprintf("one autumn in ten has frost by %s, half by %s", plain(soon.Short()), plain(middle.Short())),
		Slip: "one night takes what is left on them", Source: "frost dates of this place's weather",
		Note: "note: covered " + listed(names, 2)})
}

// freeze readies pipes and taps in the week of the first hard nights.
func (w *maker) freeze() {
	soon, ok := near(w.Usual.FirstAutumn.Sooner(0.1), w.from)
	if !ok || len(w.Standing.Tanks) == 0 || !w.within(soon) {
		return
	}
	w.add(Task{ID: fmt.Sprintf("freeze-%d", soon.Year()), Kind: "freeze", Title: "Before frost: lag pipes and taps, empty hoses, first flush and filter", Rank: Loop, By: soon, Minutes: 60,
		Why: "one autumn in ten has frost by " + plain(soon.Short()), Slip: "a split tap empties the tank, and a filter that froze holds nothing back",
		Caution: "A filter cartridge that has frozen is thrown away.", Source: "makers' leaflets, from memory", Note: "note: pipes lagged"})
}

// lateFrost keeps covers at hand while the spring's last frost may still come.
func (w *maker) lateFrost() {
	late, ok := near(w.Usual.LastSpring.Later(0.1), w.from)
	middle, most := near(w.Usual.LastSpring.Later(0.5), w.from)
	if !ok || !most || w.to < middle-14 || w.from > late || len(w.Standing.Plots) == 0 {
		return
	}
	w.add(Task{ID: fmt.Sprintf("late-frost-%d", late.Year()), Kind: "covers", Title: "Keep frost covers at hand", Rank: Season, Minutes: 10,
		Why:  fmt.Sprintf("half of all springs have a frost after %s, one in ten after %s", plain(middle.Short()), plain(late.Short())),
		Slip: "one night takes what is tender", Source: "frost dates of this place's weather", Note: "note: frost covers at hand"})
}

// near is the day of a frost date, a day counted from 1 January, nearest to
// another day.
func near(date float64, to day.Day) (d day.Day, ok bool) {
	if math.IsInf(date, 0) || math.IsNaN(date) {
		return 0, false
	}
	for y := to.Year() - 1; y <= to.Year()+1; y++ {
		at := day.Of(y, 1, 1) + day.Day(math.Round(date)) - 1
		if !ok || gap(at, to) < gap(d, to) {
			d, ok = at, true
		}
	}
	return d, ok
}

func gap(a, b day.Day) day.Day { return max(a-b, b-a) }

// A thirst is what a plot asks for this week.
type thirst struct {
	plot   *engine.PlotNow
	litres float64
	by     day.Day
}

// water gives every watered plot that is thirsty, or will be if no rain falls,
// what its roots lack, the soonest thirsty first, as far as its tanks may give.
func (w *maker) water() {
	for i := range w.Standing.Tanks {
		g := &w.Standing.Tanks[i]
		left := max(0, g.Level-max(g.Dead, g.Reserve))
		var dry []thirst
		for _, x := range w.thirsty(g.Name) {
			give := min(x.litres, left)
			if give < 1 {
				dry = append(dry, x)
				continue
			}
			left -= give
			w.add(w.watering(x, give))
		}
		if len(dry) > 0 {
			w.add(w.unwatered(g.Name, dry))
		}
	}
}

// thirsty lists what the plots of a group of tanks ask for, the soonest first.
func (w *maker) thirsty(group string) (list []thirst) {
	for i := range w.Standing.Plots {
		p := &w.Standing.Plots[i]
		x := thirst{p, p.Thirst, w.from}
		if !p.Irrigated || p.From != group || len(p.Stands) == 0 {
			continue
		}
		if p.Thirst <= 0 || !w.first() {
			if !w.within(p.DryOn) {
				continue
			}
			x.litres, x.by = whenDry(p), p.DryOn
		}
		if x.litres >= 1 {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, func(a, b thirst) int { return int(a.by - b.by) })
	return list
}

// whenDry is what a plot's thirstiest stand lacks on the day it goes thirsty, L.
func whenDry(p *engine.PlotNow) float64 {
	mm := 0.0
	for _, s := range p.Stands {
		mm = max(mm, s.Raw)
	}
	return mm * p.Area
}

func (w *maker) watering(x thirst, litres float64) Task {
	p := x.plot
	s := driest(p)
	t := Task{ID: w.weekly("water " + p.Name), Kind: "water", Title: "Water " + p.Name + " from " + p.From, Rank: Spoils, By: x.by,
		Amount: w.cans(litres), Value: litres, Unit: "L", Minutes: litres * w.Chores.LitreHours[p.Name] * 60,
		Why:  fmt.Sprintf("%s there is thirsty by %s if no rain falls", lower(s.Name), plain(x.by.Short())),
		Slip: "it stops growing, and loses harvest day by day", Note: fmt.Sprintf("watered %s with %s", p.Name, noted(litres, "L"))}
	if x.by <= w.from {
		t.Why = lower(s.Name) + " there is thirsty today"
	}
	if c, ok := w.Tables.Crop(s.Crop); ok && c.Ky > 0 {
		t.Slip = fmt.Sprintf("each hundredth of its season's water it goes without takes about %.1f hundredths of the harvest", c.Ky)
		t.Source = "FAO Irrigation and Drainage Paper 33, yield response"
	}
	if litres < x.litres {
		t.Why += fmt.Sprintf("; it asks %s, and %s has no more to give above its reserve", w.litres(x.litres), p.From)
	}
	return t
}

// driest is the stand of a plot that lacks most beyond what it can bear.
func driest(p *engine.PlotNow) *engine.StandNow {
	best := &p.Stands[0]
	for i := range p.Stands {
		if s := &p.Stands[i]; s.Lacks-s.Raw > best.Lacks-best.Raw {
			best = s
		}
	}
	return best
}

// unwatered names the plots that are thirsty and get none.
func (w *maker) unwatered(group string, dry []thirst) Task {
	litres := 0.0
	var names []string
	for _, x := range dry {
		litres += x.litres
		names = append(names, x.plot.Name)
	}
	return Task{ID: w.weekly("dry " + group), Kind: "dry", Title: "Thirsty, and no water for them: " + listed(names, 8), Rank: Spoils, By: dry[0].by, Minutes: 20,
		Amount: w.litres(litres) + " are asked", Value: litres, Unit: "L",
		Why:  group + " may give no more above its reserve: mulch, shade, and choose which stand to let go",
		Slip: "what is left without water wilts, and the outlook counts it lost", Note: "note: no water for " + listed(names, 3)}
}

// lateDays is how long a sowing that the book does not tell is asked after.
const lateDays = 21

// sow lists the sowings of the week, and asks after those of the weeks before
// that the book has not.
func (w *maker) sow() {
	var late []*engine.Growth
	for i := range w.Year {
		g := &w.Year[i]
		c, ok := w.Tables.Crop(g.Crop)
		if !ok || g.Perennial || w.Chores.Sown(g.Crop, g.Plot, g.Sown-lateDays) {
			continue
		}
		switch {
		case w.within(g.Sown) && g.Planned:
			w.add(w.sowing(g, c))
		case w.first() && !g.Planned && !g.Done && g.Sown < w.from && g.Sown >= max(w.from-lateDays, w.Chores.Start):
			late = append(late, g)
		}
	}
	if len(late) > 0 {
		w.add(w.late(late))
	}
}

func (w *maker) sowing(g *engine.Growth, c *data.Crop) Task {
	verb, how, hours := w.begun(g, c)
	t := Task{ID: "sow-" + slug(g.Plot+" "+g.Crop) + "-" + g.Sown.String(), Kind: "sow", Title: verb + " " + lower(g.Name) + " in " + g.Plot, Amount: how,
		Value: g.Area, Unit: "m2", From: g.Sown, By: g.Sown, Minutes: hours * 60, Rank: Season, Note: sownNote(g, c),
		Why: fmt.Sprintf("the plan has it on %s; first picking about %s, about %s in a usual year", plain(g.Sown.Short()), plain(g.First.Long()), w.kg(g.Likely))}
	if g.Feeds {
		t.Why = fmt.Sprintf("the plan has it on %s, to feed and cover the ground", plain(g.Sown.Short()))
	}
	t.Slip = fmt.Sprintf("about %s are later, or lost once the season closes", w.kg(g.Likely))
	if g.MJ > 0 && w.Standing.Mouthful > 0 {
		t.Slip += fmt.Sprintf(": %.0f days' food energy", g.MJ/w.Standing.Mouthful)
	}
	return t
}

// begun is how a stand is begun, with what, and the hours it takes.
func (w *maker) begun(g *engine.Growth, c *data.Crop) (verb, how string, hours float64) {
	switch {
	case c.Start == "set" || c.Start == "piece":
		return "Set", fmt.Sprintf("%s, %.0f plants", w.area(g.Area), plantsOf(g, c)), g.Area * w.hours("transplant", 0.04)
	case c.SeedGM2 > 0:
		return "Sow", w.area(g.Area) + ", " + w.kg(c.SeedGM2*g.Area/1000) + " of seed", g.Area * w.hours("sow", 0.035)
	}
	return "Sow", w.area(g.Area), g.Area * w.hours("sow", 0.035)
}

func plantsOf(g *engine.Growth, c *data.Crop) float64 { return math.Ceil(g.Area * c.PlantsM2) }

// sownNote is the quick note of a stand begun.
func sownNote(g *engine.Growth, c *data.Crop) string {
	if (c.Start == "set" || c.Start == "piece") && c.PlantsM2 > 0 {
		return fmt.Sprintf("set out %.0f %s, %s", plantsOf(g, c), spoken(g.Crop), g.Plot)
	}
	return fmt.Sprintf("sown %s %s, %s", noted(g.Area, "m2"), spoken(g.Crop), g.Plot)
}

// late asks after sowings that were due and are not in the book: they may be done
// and not written.
func (w *maker) late(list []*engine.Growth) Task {
	var said, notes []string
	hours, days, before := 0.0, 0.0, ""
	for _, g := range list {
		c, _ := w.Tables.Crop(g.Crop)
		_, _, h := w.begun(g, c)
		hours += h
		days += g.MJ / max(1e-9, w.Standing.Mouthful)
		if at := fmt.Sprintf("%s (%s)", g.Plot, plain(g.Sown.Short())); g.Name == before {
			said[len(said)-1] += ", " + at
		} else {
			said = append(said, lower(g.Name)+" in "+at)
		}
		before = g.Name
		notes = append(notes, sownNote(g, c)+" on "+g.Sown.String())
	}
	return Task{ID: w.weekly("late sowings"), Kind: "late", Title: fmt.Sprintf("Sown or not? Look, note or sow: %d that were due", len(list)), Rank: Season, By: w.from + 1,
		Amount: strings.Join(said, "; "), Value: float64(len(list)), Minutes: float64(5 * len(list)),
		Why:  fmt.Sprintf("the book has no sowing of them; what is not done yet asks about %.0f h more, not counted in this week", hours),
		Slip: fmt.Sprintf("the reckoning goes on as if they grew: %.0f days' food energy in a usual year hang on them", days),
		Note: strings.Join(notes, "\n")}
}

func (w *maker) area(m2 float64) string { return w.amount(m2, unit.Area) }

// Days after sowing at which a stand is thinned, how dense a stand that is thinned
// may be, plants a m2, and the time it takes, h a m2 (common practice).
const (
	thinAfter = 28
	thinUnder = 100
	thinHours = 0.03
)

// thin singles the stands sown four weeks ago; grain and other dense stands are
// left as they come.
func (w *maker) thin() {
	for i := range w.Year {
		g := &w.Year[i]
		c, ok := w.Tables.Crop(g.Crop)
		if !ok || g.Perennial || g.Done || g.Feeds || c.Start != "sown" || c.PlantsM2 > thinUnder || !w.within(g.Sown+thinAfter) {
			continue
		}
		w.add(Task{ID: "thin-" + slug(g.Plot+" "+g.Crop) + "-" + g.Sown.String(), Kind: "thin", Title: "Thin " + lower(g.Name) + " in " + g.Plot, Rank: Season,
			Amount: fmt.Sprintf("%s, to about %.0f plants", w.area(g.Area), plantsOf(g, c)), Value: g.Area, Unit: "m2", Minutes: g.Area * thinHours * 60,
			Why: fmt.Sprintf("sown %s, it stands four weeks", plain(g.Sown.Short())), Slip: "crowded plants stay small and bolt", Source: "common practice",
			Note: fmt.Sprintf("note: thinned %s, %s", spoken(g.Crop), g.Plot)})
	}
}

// pickRound is what a week's picking of one crop is gathered from.
type pickRound struct {
	crop, name string
	plots      []string
	kg, hours  float64
	each       []float64
	by         day.Day
	begins     bool
}

// leastPick is what is not worth a walk, kg (common practice).
const leastPick = 0.05

// pick gathers each crop that bears this week over its beds.
func (w *maker) pick() {
	var rounds []*pickRound
	for i := range w.Year {
		g := &w.Year[i]
		if g.Feeds || g.Done || g.First > w.to || g.Last < w.from {
			continue
		}
		c, ok := w.Tables.Crop(g.Crop)
		kg := w.ripens(g)
		if !ok || kg < leastPick {
			continue
		}
		at := slices.IndexFunc(rounds, func(r *pickRound) bool { return r.crop == g.Crop })
		if at < 0 {
			at = len(rounds)
			rounds = append(rounds, &pickRound{crop: g.Crop, name: g.Name, by: w.to})
		}
		r := rounds[at]
		r.plots, r.each = append(r.plots, g.Plot), append(r.each, kg)
		r.kg += kg
		r.hours += kg * c.PickMinKg / 60
		r.begins = r.begins || w.within(g.First)
	}
	for _, r := range rounds {
		w.add(w.picking(r))
	}
}

// ripens is what a growth brings this week, kg: what is left of its harvest,
// spread evenly over the days left.
func (w *maker) ripens(g *engine.Growth) float64 {
	left := g.Likely
	if s := w.standOf(g); s != nil {
		left *= max(0, 1-s.Picked)
	}
	from, to := max(g.First, w.from), min(g.Last, w.to)
	days := float64(to-from) + 1
	all := float64(g.Last-max(g.First, w.Today)) + 1
	return left * max(0, min(1, days/max(1, all)))
}

func (w *maker) standOf(g *engine.Growth) *engine.StandNow {
	for i := range w.Standing.Plots {
		p := &w.Standing.Plots[i]
		for j := range p.Stands {
			if s := &p.Stands[j]; p.Name == g.Plot && s.Crop == g.Crop && s.Sown == g.Sown {
				return s
			}
		}
	}
	return nil
}

func (w *maker) picking(r *pickRound) Task {
	t := Task{ID: w.weekly("pick " + r.crop), Kind: "pick", Title: "Pick " + lower(r.name) + ": " + listed(r.plots, 6), Amount: "about " + w.kg(r.kg), Value: r.kg, Unit: "kg",
		Minutes: max(5, r.hours*60), Rank: Spoils, Why: "it bears, by the usual year's warmth and what was picked before",
		Slip: "what hangs ripe is worth little after about three weeks, and many crops stop bearing", Source: "common practice"}
	if r.begins {
		t.Why = "the first picking is due: look, and wait where it is not ripe"
	}
	var notes []string
	for i, p := range r.plots {
		notes = append(notes, fmt.Sprintf("picked %s %s, %s", noted(r.each[i], "kg"), spoken(r.crop), p))
	}
	t.Note = strings.Join(notes, "\n")
	return t
}

// seed says what to keep of each crop whose harvest begins.
func (w *maker) seed() {
	var kept []string
	for i := range w.Year {
		g := &w.Year[i]
		c, ok := w.Tables.Crop(g.Crop)
		if !ok || g.Perennial || g.Feeds || g.Done || !w.within(g.First) || slices.Contains(kept, g.Crop) {
			continue
		}
		area := 0.0
		for j := range w.Year {
			if o := &w.Year[j]; o.Crop == g.Crop && o.Sown > g.Sown-180 && o.Sown <= g.Sown+180 {
				area += o.Area
			}
		}
		if grams := crop.KeepBack(c, area, 1, 1); grams > 0 {
			kept = append(kept, g.Crop)
			w.add(w.keeping(g, c, grams, area))
		}
	}
}

func (w *maker) keeping(g *engine.Growth, c *data.Crop, grams, area float64) Task {
	t := Task{ID: "seed-" + slug(g.Crop) + "-" + g.First.String()[:4], Kind: "seed", Title: "Mark the best " + lower(g.Name) + " for seed", Rank: Season,
		Amount: w.kg(grams / 1000), Value: grams, Unit: "g", Minutes: 15, Source: c.Seed.Source,
		Why:  fmt.Sprintf("it sows %s again, with enough for one failure", w.area(area)),
		Slip: "the seed for next year is eaten or picked over", Note: fmt.Sprintf("note: keep %s of %s for seed", w.kg(grams/1000), spoken(g.Crop))}
	if c.Seed.Stock {
		t.Title = "Lay the best " + lower(g.Name) + " by for planting"
	}
	if c.Seed.Plants > 1 {
		t.Why += fmt.Sprintf("; from at least %.0f plants", c.Seed.Plants)
	}
	return t
}
