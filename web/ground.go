package web

import (
	"html/template"
	"math"
	"net/http"
	"slices"
	"sort"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
)

// plotsAPage keeps the screen under 100 KB however many beds there are: so many
// plots and stands on them, counted together.
const plotsAPage = 185

// Lists of acts show so many lines; the table has all.
const actsShown = 8

// sowAhead is how many days ahead a sowing is an act to come.
const sowAhead = 28

// groundPage is the screen "Ground".
type groundPage struct {
	frame
	Lead, Rest string
	Note       string
	Beds, Lift template.HTML
	Thin       string // when food is thin, as the hatched columns show it
	Acts       []actList
	Frost      string
	Urine      *gateView
	Plots      []plotRow
	Prev, Next string
	Wild       []wildRow
	Stock      []stockRow
	HasWild    bool
}

// actList is one kind of act: what to sow, water, pick or feed next.
type actList struct {
	Hue, Glyph, Group, Name, Note string
	Acts                          []act
	More                          string
	None                          string
}

type act struct{ What, Detail string }

// plotRow is a bed in figures.
type plotRow struct {
	Name, Area  string
	Stands      []standRow
	Water, Dry  string
	WaterBar    template.HTML
	N, Asks, PK string
	NBar        template.HTML
	Tree        bool
}

type standRow struct{ Name, Since, First, Picked string }

type wildRow struct{ Name, Season, Most, Trip, Tag string }

type stockRow struct{ Name, Now, More string }

func (s *site) ground(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) {
		from, to := st.plotsFrom(r.URL.Query().Get("from"))
		page := groundPage{frame: s.deskFrame(st.snap, "ground")}
		plots := st.now.Plots[from:to]
		page.Lead, page.Rest = st.groundVerdict()
		page.Note = st.groundNote()
		if len(plots) > 0 {
			page.Beds = st.bedYear(st.bedRows(plots), "by", st.say("beds.title"), st.say("beds.desc", count(len(plots))))
			page.Lift = st.lifted("bl")
			page.Thin = st.thinWords()
		}
		page.Acts = []actList{st.sowings(), st.waterings(), st.pickings(), st.feedings()}
		page.Frost = st.frostLine()
		if t := st.now.Toilet; t != nil && t.Apart {
			rule := st.now.Gate("urine")
			page.Urine = &gateView{Rule: upperFirst(rule.Rule) + ".", Source: rule.Source}
		}
		for i := range plots {
			page.Plots = append(page.Plots, st.plotRow(&plots[i]))
		}
		if from > 0 {
			page.Prev = "/ground?from=" + strconv.Itoa(max(1, from+1-(to-from)))
		}
		if to < len(st.now.Plots) {
			page.Next = "/ground?from=" + strconv.Itoa(to+1)
		}
		page.Wild, page.Stock = st.wild(), st.stock()
		page.HasWild = len(page.Wild)+len(page.Stock) > 0
		s.render(w, http.StatusOK, "ground", page)
	})
}

// plotsFrom reads the number of the first plot to show, counted from one, and
// finds how many fit on a page with it.
func (s *standing) plotsFrom(text string) (from, to int) {
	all := len(s.now.Plots)
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > all {
		n = 1
	}
	stands := map[string]int{}
	for i := range s.growths {
		stands[s.growths[i].Plot]++
	}
	weight := 0
	for to = n - 1; to < all; to++ {
		weight += 1 + stands[s.now.Plots[to].Name]
		if to > n-1 && weight > plotsAPage {
			break
		}
	}
	return n - 1, to
}

// groundVerdict says the sowing that comes next and which ground is thirsty.
func (s *standing) groundVerdict() (lead, rest string) {
	switch next := s.nextSowing(); {
	case len(s.now.Plots) == 0:
		return s.say("ground.none"), s.say("ground.none.rest")
	case next == nil:
		lead = s.say("ground.nosowing")
	default:
		lead = s.say("ground.sow", lowerFirst(s.words.crop(next.Crop, next.Name)), next.Plot, s.date(next.Sown))
	}
	var dry []string
	for i := range s.now.Plots {
		if p := &s.now.Plots[i]; p.Thirst > 0 {
			dry = append(dry, p.Name)
		}
	}
	if len(dry) == 0 {
		return lead, s.say("ground.moist")
	}
	if len(dry) > 3 {
		return lead, s.say("ground.dry.many", count(len(dry)))
	}
	return lead, s.say("ground.dry", s.words.list(dry))
}

func (s *standing) nextSowing() *engine.Growth {
	var next *engine.Growth
	for i := range s.growths {
		if g := &s.growths[i]; g.Planned && (next == nil || g.Sown < next.Sown) {
			next = g
		}
	}
	return next
}

func (s *standing) groundNote() string {
	area, beds := 0.0, 0
	for _, p := range s.now.Plots {
		area += p.Area
		if !p.Tree {
			beds++
		}
	}
	return s.say("beds.note", s.amount(area, "m2"), count(beds), count(len(s.now.Plots)-beds))
}

// actsOf is a list of acts, cut to what is shown.
func (s *standing) actsOf(group, key string, acts []act, note string) actList {
	l := actList{Hue: hue(group), Glyph: "#i-" + group, Group: s.say("group." + group), Name: s.say("acts." + key), Note: note, Acts: acts}
	if more := len(acts) - actsShown; more > 0 {
		l.Acts, l.More = acts[:actsShown], s.say("acts.more", count(more))
	}
	if len(acts) == 0 {
		l.None = s.say("acts." + key + ".none")
	}
	return l
}

// sowings are what is to be sown or set out in the coming weeks.
func (s *standing) sowings() actList {
	var due []engine.Growth
	for _, g := range s.growths {
		if g.Planned && g.Sown <= s.snap.Today+sowAhead {
			due = append(due, g)
		}
	}
	sort.SliceStable(due, func(i, j int) bool { return due[i].Sown < due[j].Sown })
	var acts []act
	for _, g := range due {
		acts = append(acts, act{s.say("act.sow", upperFirst(s.words.crop(g.Crop, g.Name)), g.Plot, s.date(g.Sown)), s.say("act.sow.more", s.amount(g.Area, "m2"), s.date(g.First))})
	}
	return s.actsOf(engine.Food, "sow", acts, s.say("acts.sow.note", count(sowAhead)))
}

// waterings are the plots that are thirsty now, then those that will be.
func (s *standing) waterings() actList {
	plots := append([]engine.PlotNow(nil), s.now.Plots...)
	sort.SliceStable(plots, func(i, j int) bool { return plots[i].Thirst > plots[j].Thirst })
	var acts []act
	for i := range plots {
		if p := &plots[i]; p.Thirst > 0 {
			cans := int(math.Ceil(p.Thirst / can))
			acts = append(acts, act{s.say("act.water", p.Name, s.amount(p.Thirst, "L")), s.say("act.water.more", s.words.cans(cans), s.amount(can, "L"), p.From)})
		}
	}
	sort.SliceStable(plots, func(i, j int) bool { return plots[i].DryOn < plots[j].DryOn })
	for i := range plots {
		if p := &plots[i]; p.Thirst == 0 && p.Irrigated && p.DryOn > s.snap.Today {
			acts = append(acts, act{s.say("act.dry", p.Name, s.date(p.DryOn)), s.say("act.dry.more")})
		}
	}
	return s.actsOf(engine.Water, "water", acts, s.say("acts.water.note"))
}

// can is the size of a watering can, L (common practice).
const can = 10.0

func (w words) cans(n int) string {
	if n == 1 {
		return w.say("cans.one")
	}
	return w.say("cans.many", count(n))
}

// pickings are the crops that bear, bed by bed, and the next that will.
func (s *standing) pickings() actList {
	var acts, next []act
	var firsts []day.Day
	bear := map[string]*bearing{}
	var order []*bearing
	for i := range s.now.Plots {
		p := &s.now.Plots[i]
		for j := range p.Stands {
			st := &p.Stands[j]
			switch {
			case st.Toward >= 1 && st.Picked < 1 && st.Likely > leastHarvest:
				if bear[st.Name] == nil {
					bear[st.Name] = &bearing{name: s.words.crop(st.Crop, st.Name)}
					order = append(order, bear[st.Name])
				}
				bear[st.Name].add(p.Name, st)
			case st.First > s.snap.Today && st.First <= s.snap.Today+pickAhead && st.Likely > leastHarvest:
				at, _ := slices.BinarySearch(firsts, st.First+1)
				firsts = slices.Insert(firsts, at, st.First)
				next = slices.Insert(next, at, act{s.say("act.ripe", upperFirst(s.words.crop(st.Crop, st.Name)), p.Name, s.date(st.First)), s.say("act.ripe.more", s.amount(st.Likely, "kg"))})
			}
		}
	}
	for _, b := range order {
		acts = append(acts, act{s.say("act.pick", upperFirst(b.name), s.plotList(b.plots)), s.say("act.pick.more", s.amount(b.left, "kg"))})
	}
	return s.actsOf(engine.Food, "pick", append(acts, next...), s.say("acts.pick.note"))
}

// plotList names plots, and counts those beyond a few.
func (s *standing) plotList(names []string) string {
	const few = 8
	if len(names) <= few {
		return s.words.list(names)
	}
	return s.words.list(append(slices.Clip(names[:few-1]), s.say("acts.others", count(len(names)-few+1))))
}

// bearing is a crop that bears, with the plots it stands on and the kg still to come.
type bearing struct {
	name  string
	plots []string
	left  float64
}

func (b *bearing) add(plot string, st *engine.StandNow) {
	if !slices.Contains(b.plots, plot) {
		b.plots = append(b.plots, plot)
	}
	b.left += st.Likely * (1 - st.Picked)
}

// pickAhead is how many days ahead a first picking is an act to come.
const pickAhead = 60

// leastHarvest is what is worth a line, kg.
const leastHarvest = 0.1

// feedings are the plots that lack nitrogen for what stands, and may have it now.
func (s *standing) feedings() actList {
	type hungry struct {
		p    *engine.PlotNow
		lack float64 // g
	}
	var list []hungry
	for i := range s.now.Plots {
		p := &s.now.Plots[i]
		if lack := (p.Asks.N - p.Mineral.N) * p.Area; lack > 0.5*p.Area && p.Open {
			list = append(list, hungry{p, lack})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].lack/list[i].p.Area > list[j].lack/list[j].p.Area })
	var acts []act
	left := 0.0
	if t := s.now.Toilet; t != nil && t.Apart {
		left = t.Urine
	}
	for _, h := range list {
		acts = append(acts, act{s.say("act.feed", h.p.Name, s.rich(h.lack/h.p.Area)), s.feedWith(h.p, h.lack, &left)})
	}
	return s.actsOf(engine.Soil, "feed", acts, s.say("acts.feed.note"))
}

// feedWith says how much urine would bring what a plot lacks, held to half a
// litre a m2 at once and to what the cans still hold; then it takes it from them.
func (s *standing) feedWith(p *engine.PlotNow, lack float64, left *float64) string {
	t := s.now.Toilet
	if *left < leastUrine || t.UrineN <= 0 || !slices.Contains(t.UrineTo, p.Name) {
		return s.say("act.feed.compost")
	}
	litres := min(lack/(1000*t.UrineN/t.Urine), urineAtOnce*p.Area, *left)
	*left -= litres
	return s.say("act.feed.urine", s.amount(litres, "L"), count(int(t.Dilution)))
}

// Urine at once, L/m2, as the engine's weeks have it, and what is worth carrying, L.
const (
	urineAtOnce = 0.5
	leastUrine  = 1.0
)

// frostLine tells the next usual frosts and what they would take.
func (s *standing) frostLine() string {
	first, ok := s.nextFrost(s.snap.Usual.FirstAutumn.Sooner(0.5))
	last, also := s.nextFrost(s.snap.Usual.LastSpring.Later(0.5))
	if !ok || !also {
		return s.say("frost.none")
	}
	var tender []string
	for i := range s.now.Plots {
		for _, st := range s.now.Plots[i].Stands {
			if name := lowerFirst(s.words.crop(st.Crop, st.Name)); !st.Perennial && st.Kills > -1.5 && !slices.Contains(tender, name) {
				tender = append(tender, name)
			}
		}
	}
	said := s.say("frost.first", s.date(first), s.date(last))
	if len(tender) > 0 {
		return said + " " + s.say("frost.tender", s.words.list(tender[:min(len(tender), 6)]))
	}
	return said + " " + s.say("frost.hardy")
}

// nextFrost is the next day of a frost date; ok is false where most years have none.
func (s *standing) nextFrost(date float64) (d day.Day, ok bool) {
	if d, ok = near(date, s.snap.Today+182); ok && d < s.snap.Today {
		d, ok = near(date, s.snap.Today+365)
	}
	return d, ok
}

func (s *standing) plotRow(p *engine.PlotNow) plotRow {
	row := plotRow{Name: p.Name, Area: s.amount(p.Area, "m2"), Tree: p.Tree,
		Water: s.of(p.Water, p.Holds, "mm"), WaterBar: length(p.Water/p.Holds, "g-water"),
		N: s.rich(p.Mineral.N), Asks: s.say("plot.asks", s.rich(p.Asks.N)), NBar: length(p.Mineral.N/max(p.Asks.N, p.Mineral.N), "g-soil")}
	if p.Asks.N <= 0 {
		row.Asks = s.say("plot.asks.none")
	}
	switch {
	case p.Thirst > 0:
		row.Dry = s.say("plot.thirst", s.amount(p.Thirst, "L"))
	case len(p.Stands) == 0:
	case p.DryOn > s.snap.Today:
		row.Dry = s.say("plot.dry", s.date(p.DryOn))
	case p.DryOn != 0:
		row.Dry = s.say("plot.dry.now")
	}
	for i := range p.Stands {
		row.Stands = append(row.Stands, s.standRow(&p.Stands[i]))
	}
	return row
}

func (s *standing) standRow(st *engine.StandNow) standRow {
	row := standRow{Name: upperFirst(s.words.crop(st.Crop, st.Name)), Since: s.say("stand.sown", s.date(st.Sown))}
	if st.Perennial {
		row.Since = s.say("stand.perennial")
	}
	switch {
	case st.Toward >= 1:
		row.First = s.say("stand.bears")
	case st.Likely > leastHarvest:
		row.First = s.say("stand.first", s.date(st.First))
	}
	switch {
	case st.Told > 0:
		row.Picked = s.say("stand.told", inHundred(st.Picked), s.amount(st.Told, "kg"))
	case st.Picked > 0:
		row.Picked = s.say("stand.picked", inHundred(st.Picked))
	}
	return row
}

// rich writes grams on a m2 of ground as gardeners of each system have it: in US
// units pounds on a thousand square feet.
func (s *standing) rich(g float64) string {
	if s.opt.Units != unit.US {
		return s.amount(g, "g/m2")
	}
	return s.words.figure(g*s.opt.measure("g/m2").per*1000/16) + nbsp + s.say("unit.rich")
}

// length is a small filled length beside its figure.
func length(share float64, class string) template.HTML {
	var g svg
	g.open("svg", "class", "bit "+class, "aria-hidden", "true")
	g.leaf("rect", "width", pct(math.Round(100*clamp(share, 0, 1))/100), "height", 9)
	g.end("svg")
	return g.html()
}

func (s *standing) wild() []wildRow {
	var rows []wildRow
	for _, p := range s.now.Patches {
		row := wildRow{Name: upperFirst(s.words.food(p.Food, p.Name)), Season: s.say("wild.season", s.date(p.From), s.date(p.To)), Most: s.amount(p.Most, "kg"),
			Trip: s.say("wild.trip", count(int(math.Round(p.TripHours*60))))}
		if p.Now {
			row.Tag = s.say("wild.now")
			row.Season = s.say("wild.until", s.date(p.To))
		}
		rows = append(rows, row)
	}
	return rows
}

func (s *standing) stock() []stockRow {
	var rows []stockRow
	month := int(s.snap.Today.Month()) - 1
	for _, h := range s.now.Hives {
		more := s.say("hive.rest")
		if h.Flow[month] {
			more = s.say("hive.flow")
		}
		rows = append(rows, stockRow{s.say("hive.name", figure(h.Count)), s.say("hive.now", s.amount(h.Honey, "kg")), more})
	}
	for _, f := range s.now.Flocks {
		more := s.say("flock.compost")
		if f.Run != "" {
			more = s.say("flock.run", f.Run)
		}
		name := upperFirst(s.words.name("flock", f.Kind, strings.ReplaceAll(f.Kind, "_", " ")))
		rows = append(rows, stockRow{s.say("flock.name", name, figure(f.Count)), s.say("flock.now", figure(f.Eggs), s.amount(f.Feed, "kg")), more})
	}
	return rows
}
