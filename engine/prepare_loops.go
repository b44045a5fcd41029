package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/fertility"
	"evenstead/fuel"
	"evenstead/stead"
	"evenstead/work"
)

// yard sets up what grows wild, hens, bees and what is bought.
func (b *builder) yard() error {
	steps := []func() error{b.patches, b.flocks, b.hives, b.buys, b.larder}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) patches() error {
	for _, f := range b.st.Forage {
		w, ok := b.tab.WildFood(f.Food)
		if !ok {
			return fmt.Errorf("forage %q is not known", f.Food)
		}
		k, err := b.kind(f.Food, "fresh")
		if err != nil {
			return fmt.Errorf("forage %s: %w", w.Name, err)
		}
		trip := work.Haul{Distance: f.Distance, Climb: f.Climb, Load: 10, Speed: 12 / 3.6}
		b.m.patches = append(b.m.patches, patch{kind: k, seasons: b.wildSeasons(f, w.From, w.To), most: f.Most,
			hoursKg: 1/or(w.KgHour, 2) + or(w.Prep, 0.25), tripH: trip.Minutes() / 60})
	}
	return nil
}

// wildSeasons are the spells of the run in which a wild food is gathered.
func (b *builder) wildSeasons(f stead.Forage, first, last time.Month) [][2]int {
	if b.m.south {
		first, last = (first+5)%12+1, (last+5)%12+1
	}
	from, to := f.From, f.To
	if from.IsZero() {
		from = day.When{Month: first, Dom: 1}
	}
	if to.IsZero() {
		to = day.When{Month: last, Dom: 28}
	}
	var spells [][2]int
	for year := b.m.start.Year() - 1; year <= (b.m.start + day.Day(b.m.days)).Year(); year++ {
		a, z := from.In(year), to.In(year)
		if z < a {
			z = to.In(year + 1)
		}
		spells = append(spells, [2]int{int(a - b.m.start), int(z - b.m.start)})
	}
	return spells
}

func (b *builder) flocks() error {
	for _, f := range b.st.Flocks {
		row, ok := b.tab.Animal(f.Kind)
		if !ok {
			return fmt.Errorf("flock: kind %q is not known", f.Kind)
		}
		k, err := b.kind(row.Food, "fresh")
		if err != nil {
			return fmt.Errorf("flock of %s: %w", row.Species, err)
		}
		eggs := f.Eggs
		if eggs == 0 {
			eggs = row.Yield
		}
		feed := f.Feed
		if feed == 0 {
			feed = row.FeedKg * f.Count / 365
		}
		b.m.flocks = append(b.m.flocks, flock{kind: k, count: f.Count, eggs: eggs, kg: row.UnitKg, feed: feed,
			feedHas: npk{row.FeedN, row.FeedP, row.FeedK}.times(1e-3), eggHas: b.m.kinds[k].has,
			litter: row.Litter * f.Count / 365, run: b.plotNamed(f.Run), hoursDay: row.HoursWeek / 7})
	}
	return nil
}

// usualLeave is the honey left in a colony by the table's yields, kg.
const usualLeave = 18

func (b *builder) hives() error {
	for _, h := range b.st.Hives {
		row, ok := b.tab.Animal(h.Kind)
		if !ok {
			return fmt.Errorf("hive: kind %q is not known", h.Kind)
		}
		k, err := b.kind(row.Food, "fresh")
		if err != nil {
			return fmt.Errorf("hive: %w", err)
		}
		usual := row.Yield
		if h.Age < 1 {
			usual = row.YieldLo
		}
		// The table's surplus leaves 18 kg; what is left beyond that comes off it.
		made := hive{kind: k, count: h.Count, perYear: max(0, usual*row.UnitKg-max(0, h.Leave-usualLeave)), hoursWeek: row.HoursWeek * h.Count}
		for month := range made.flows {
			north := month
			if b.m.south {
				north = (month + 6) % 12
			}
			// The main flow, May to July (common practice).
			made.flows[month] = north >= 4 && north <= 6
		}
		made.days = 92
		b.m.hives = append(b.m.hives, made)
	}
	return nil
}

func (b *builder) buys() error {
	for _, x := range b.st.Terms.Bought {
		k, err := b.kind(x.Food, "fresh")
		if err != nil {
			return fmt.Errorf("bought: %w", err)
		}
		b.m.bought = append(b.m.bought, bought{kind: k, rate: x.Rate, perPerson: x.PerPerson})
		daily := x.Rate
		if x.PerPerson {
			daily *= float64(b.m.people)
		}
		b.m.kinds[k].comes += daily
	}
	return nil
}

// larder makes a kind for every lot in store.
func (b *builder) larder() error {
	if b.past != nil && b.past.state != nil {
		return b.carryKinds()
	}
	for _, l := range b.st.Lots {
		k, err := b.kindAt(l.Food, l.Form, b.placeNamed(l.At))
		if err != nil {
			return fmt.Errorf("lot of %s: %w", l.Food, err)
		}
		born := l.Born
		if born == 0 {
			born = b.m.start - 30
		}
		b.lots = append(b.lots, lotAt{k, l.Mass, born})
	}
	if len(b.st.Lots) == 0 {
		b.m.notes = append(b.m.notes, "no food in store is described: the larder is taken as empty; write [[lot]] lines for what you have")
	}
	return nil
}

// loops sets up digester, compost and toilet.
func (b *builder) loops() error {
	m := b.m
	b.heaps()
	for month := range m.spreads {
		north := month
		if m.south {
			north = (month + 6) % 12
		}
		m.spreads[month] = north == 1 || north == 2 || north == 3 || north == 8 || north == 9
	}
	if len(b.st.Digesters) > 0 {
		if err := b.digester(&b.st.Digesters[0]); err != nil {
			return err
		}
	}
	if len(b.st.Toilets) > 0 {
		return b.toilet(&b.st.Toilets[0])
	}
	return nil
}

// heaps takes all heaps as one: what is ripe goes to every plot that one of them
// names, and to all beds where one names none.
func (b *builder) heaps() {
	p := &compostPlan{}
	for _, c := range b.st.Composts {
		p.worms += c.Worms
		for _, at := range b.plotsOf(c.To, false) {
			if !slices.Contains(p.to, at) {
				p.to = append(p.to, at)
			}
		}
	}
	if len(b.st.Composts) == 0 {
		p.to = b.plotsOf(nil, false)
	}
	b.m.compost = p
}

func (b *builder) digester(d *stead.Digester) error {
	feed, ok := b.feedRow("food")
	if !ok {
		return fmt.Errorf("digester: the table of feeds has no kitchen scraps")
	}
	if len(b.m.groups) == 0 {
		return fmt.Errorf("digester: it draws water and no tank is described: add a [[tank]]")
	}
	if d.Feed <= 0 || d.Fetched > d.Feed {
		return fmt.Errorf("digester: feed is %g kg a day, of which %g fetched: write what it is fed in all, such as feed = \"2 kg/day\"", d.Feed, d.Fetched)
	}
	wet := d.Water
	if wet == 0 {
		wet = 2 * d.Feed
	}
	if stays := d.Liquid / (d.Feed + wet); stays < washedOut {
		return fmt.Errorf("digester: %.3g kg of feed and %.3g L of water a day push %.3g L of slurry through in %.1f days, and under %d nothing lives in it: feed less, or describe more liquid",
			d.Feed, wet, d.Liquid, stays, washedOut)
	}
	n := feed.TS * 0.45 / feed.CN // carbon is about 0.45 of dry matter (common practice)
	p := &digesterPlan{liquid: d.Liquid, keeps: fuel.SlurryKeeps(d.Liquid), bag: d.Bag, feed: d.Feed, fetched: d.Fetched, water: wet, group: b.group(d.From),
		vs: feed.TS * feed.VS, b0: feed.B0, k35: feed.K35, feedHas: npk{n, n / 5, n / 1.5}, methane: 0.6,
		to: b.plotsOf(d.To, false), hoursDay: b.workHours("digester", 0.2)}
	if d.Started != 0 {
		p.ripeAt = int(d.Started-b.m.start) + 42 // three weeks to three months to start; six weeks taken (practice sheet)
	}
	for _, h := range b.st.Hauls {
		if h.Name == d.Haul {
			p.haulHours = b.tripHours(&h) * h.Trips / 365
		}
	}
	b.m.gasMJ = fuel.BiogasMJ(p.methane) / 1000
	b.m.dig = p
	return nil
}

// washedOut is the stay in days under which the makers of gas are flushed out faster
// than they double (from memory: 3 to 5 days and more when cool).
const washedOut = 4

func (b *builder) toilet(t *stead.Toilet) error {
	years, _ := fertility.CureYears(b.m.meanTemp)
	years = max(years, t.Cure) // the stricter rule wins
	daily := b.passed()
	cover, ok := b.coverRow()
	if !ok {
		return fmt.Errorf("toilet: the table of compost materials has no leaves or sawdust for cover")
	}
	dry := cover.Bulk / 1000 * (1 - cover.Moisture)
	p := &toiletPlan{apart: t.Apart, drum: t.Drum, drums: t.Drums, coverUse: t.CoverUse, coverMade: t.CoverMade,
		coverKgL: cover.Bulk / 1000, coverHas: npk{cover.N * dry, cover.N * dry / 8, cover.N * dry / 2}.times(1000 / cover.Bulk),
		cureYears: years, dilution: t.Dilution, cans: t.Cans, urineTo: b.plotsOf(t.UrineTo, false), drumTo: b.plotsOf(t.DrumTo, true),
		faecesKg: daily.Faeces, urineL: daily.Urine,
		urineShare: npk{fertility.UrineShareN, fertility.UrineShareP, fertility.UrineShareK}}
	for month := range p.coverMonths {
		p.coverMonths[month] = len(t.CoverMonths) == 0
	}
	for _, month := range t.CoverMonths {
		p.coverMonths[month-1] = true
	}
	for month, on := range p.coverMonths {
		if on {
			p.coverDays += float64(time.Date(2023, time.Month(month+2), 0, 0, 0, 0, 0, time.UTC).Day())
		}
	}
	if p.coverMade == 0 {
		p.coverMade = p.coverUse * float64(b.m.people) * 365
	}
	b.m.toilet = p
	b.m.urineArea = b.m.area(p.urineTo)
	for _, i := range p.urineTo {
		b.m.plots[i].rinsed++
	}
	return nil
}

// heat sets up cookers, fuels, light and trips.
func (b *builder) heat() error {
	m := b.m
	for _, c := range b.st.Cookers {
		if c.Kind == "biogas" && m.dig == nil {
			return fmt.Errorf("a biogas cooker is described but no digester: add [[digester]] or take the cooker out")
		}
		made := cooker{kind: c.Kind, fuel: slices.Index(fuelKinds[:], c.Kind), efficiency: c.Efficiency, aperture: c.Aperture, open: c.Open, burner: c.Burner}
		if row, ok := b.tab.Fuel(c.Kind); made.efficiency == 0 && ok {
			made.efficiency = row.Efficiency
		}
		if made.efficiency <= 0 {
			made.efficiency = 0.5
		}
		m.cookers = append(m.cookers, made)
	}
	if b.st.Terms.OwnHeat {
		slices.SortStableFunc(m.cookers, func(x, y cooker) int { return boughtHeat(x.kind) - boughtHeat(y.kind) })
	}
	bottle, ok := b.tab.Fuel("bottle")
	if !ok {
		return fmt.Errorf("the table of fuels has no bottled gas")
	}
	m.bottleMJ, m.woodMJ = bottle.MJ, fuel.WoodMJ(0.2)
	for _, f := range b.st.Fuels {
		switch f.Kind {
		case "wood":
			m.woodMJ = fuel.WoodMJ(f.Moisture)
			m.woodYear += f.PerYear
		case "bottle":
			m.bottleYear += f.PerYear
		}
	}
	if len(m.cookers) == 0 {
		m.notes = append(m.notes, "no cooker is described: cooking heat is not reckoned")
	}
	if len(b.st.Lights) > 0 {
		m.light = &b.st.Lights[0]
	}
	for i := range b.st.Hauls {
		h := &b.st.Hauls[i]
		if len(b.st.Digesters) > 0 && h.Name == b.st.Digesters[0].Haul {
			continue // the digester's own
		}
		m.haulHours += b.tripHours(h) * h.Trips / 365
	}
	return nil
}

// Cooks are the kinds of cooker in the order in which they are used.
func (m *Model) Cooks() (kinds []string) {
	for _, c := range m.cookers {
		kinds = append(kinds, c.kind)
	}
	return kinds
}

// boughtHeat is 1 for a cooker whose heat comes from outside the place.
func boughtHeat(kind string) int {
	if kind == "bottle" || kind == "electric" {
		return 1
	}
	return 0
}

func (b *builder) tripHours(h *stead.Haul) float64 {
	return work.Haul{Distance: h.Km, Climb: h.Climb, Load: h.Load, Speed: h.Speed}.Minutes() / 60
}

// or is v, or d when v is not known.
func or(v, d float64) float64 {
	if math.IsNaN(v) || v <= 0 {
		return d
	}
	return v
}

// workHours is the table's hours for a task, or d.
func (b *builder) workHours(task string, d float64) float64 {
	for _, w := range b.tab.Work {
		if strings.EqualFold(w.Task, task) {
			return w.Hours
		}
	}
	return d
}

// passed is the household's mean of what a person passes in a day.
func (b *builder) passed() fertility.Daily {
	var sum fertility.Daily
	for _, p := range b.st.People {
		d := fertility.DailyOf(p.Age)
		sum.Faeces += d.Faeces / float64(len(b.st.People))
		sum.Urine += d.Urine / float64(len(b.st.People))
	}
	return sum
}

// feedRow is the row of kitchen scraps in the table of feeds: the first whose
// name says food.
func (b *builder) feedRow(word string) (*data.DigesterFeed, bool) {
	for i := range b.tab.DigesterFeeds {
		if f := &b.tab.DigesterFeeds[i]; strings.Contains(f.ID, word) {
			return f, true
		}
	}
	return nil, false
}

// coverRow is the row of leaves or sawdust in the table of compost materials.
func (b *builder) coverRow() (*data.CompostMaterial, bool) {
	for _, word := range []string{"sawdust", "lea"} {
		for i := range b.tab.CompostMaterials {
			m := &b.tab.CompostMaterials[i]
			if strings.Contains(m.ID, word) && m.Bulk > 0 && m.Moisture >= 0 {
				return m, true
			}
		}
	}
	return nil, false
}
