package engine

import (
	"fmt"
	"math"
	"slices"
	"time"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/work"
)

// Soil as first found, where nothing was measured (common practice): mineral
// nitrogen 4, phosphorus 13, potassium 49 g/m2 in the upper 0.25 m, which is 40
// and 150 mg/kg of soil at 1.3 kg/L; humus carbon 0.58 of organic matter, C:N 11.
const (
	soilMineralN = 0.004
	soilP        = 0.013
	soilK        = 0.049
	topsoilKg    = 325.0
	humusC       = 0.58
	humusCN      = 11.0
)

// ground sets up beds and trees and every stand that grows on them in the run.
func (b *builder) ground() error {
	for i := range b.st.Beds {
		bed := &b.st.Beds[i]
		p := b.plot(bed.Name, bed.Area, bed.Mulch)
		p.irrigated, p.group = bed.Irrigated && len(b.m.groups) > 0, b.group(bed.From)
		p.litreHours = hoursHose
		if bed.How == "drip" && p.irrigated {
			p.bareKc *= dripWets
		}
		if bed.How == "can" {
			p.litreHours = hoursCan
		}
		b.m.plots = append(b.m.plots, p)
	}
	for i := range b.st.Trees {
		if err := b.tree(&b.st.Trees[i]); err != nil {
			return err
		}
	}
	if err := b.stands(); err != nil {
		return err
	}
	b.paces()
	b.leads()
	b.owes()
	return nil
}

// paces lists the paces of annual stands, each once, and all stands by their sowing.
func (b *builder) paces() {
	for q := range b.m.plantings {
		g := &b.m.plantings[q]
		b.m.sowings = append(b.m.sowings, q)
		if g.pace = -1; g.tree {
			continue
		}
		if g.pace = slices.Index(b.m.paces, g.pacing); g.pace < 0 {
			g.pace = len(b.m.paces)
			b.m.paces = append(b.m.paces, g.pacing)
		}
	}
	slices.SortStableFunc(b.m.sowings, func(x, y int) int { return b.m.plantings[x].sow - b.m.plantings[y].sow })
	b.m.fed, b.m.visited = turnsOf(len(b.m.plantings), feedDays), turnsOf(len(b.m.plantings), visitDays)
}

// dripWets is the share of bare ground's evaporation left under drip, which wets
// about a third of it (FAO-56 table 20, 0.3 to 0.4; rain wets all, so half is taken).
const dripWets = 0.5

// plot makes a plot of bare ground; its depth is set by what grows on it.
func (b *builder) plot(name string, area, mulch float64) plot {
	bare := 0.35 // bare ground wetted now and then (FAO-56, initial stages 0.3 to 0.4)
	return plot{name: name, area: area, deepM: upperM, bareKc: bare * (1 - 0.5*min(1, mulch/0.05))}
}

func (b *builder) tree(t *stead.Tree) error {
	c, ok := b.tab.Crop(t.Crop)
	if !ok {
		return fmt.Errorf("tree %q: crop %q is not known", t.Name, t.Crop)
	}
	area := t.Area
	if area == 0 {
		area = t.Count / c.PlantsM2
	}
	p := b.plot(t.Name, area, 0.05)
	p.tree = true
	b.m.plots = append(b.m.plots, p)
	return nil
}

// stands lists the stands of every plot in the order of plots, then of sowing.
func (b *builder) stands() error {
	sown := b.bookSowings()
	all, err := b.bookStands(sown)
	if err != nil {
		return err
	}
	for i := range b.st.Plantings {
		pl := &b.st.Plantings[i]
		at := b.plotNamed(pl.Bed)
		if at < 0 {
			return fmt.Errorf("planting of %s: there is no bed %q", pl.Crop, pl.Bed)
		}
		made, err := b.sowings(at, pl, func(year int) bool { return taken(sown, i, year) })
		if err != nil {
			return err
		}
		all[at] = append(all[at], made...)
	}
	for i := range b.st.Trees {
		t := &b.st.Trees[i]
		at := len(b.st.Beds) + i
		c, _ := b.tab.Crop(t.Crop)
		made, err := b.seasons(at, c, b.m.plots[at].area, c.YieldTyp, func(d int) float64 { return t.Age + float64(d+b.stayed())/365 })
		if err != nil {
			return err
		}
		all[at] = append(all[at], made...)
	}
	for i, list := range all {
		slices.SortStableFunc(list, func(x, y planting) int { return x.sow - y.sow })
		p := &b.m.plots[i]
		p.first = len(b.m.plantings)
		for i := range list {
			list[i].year = max(0, list[i].sow+int(list[i].days)) / 365
		}
		b.m.plantings = append(b.m.plantings, list...)
		p.last = len(b.m.plantings)
		for _, g := range list {
			b.m.placeBy = append(b.m.placeBy, b.learnedYield(g.crop.ID))
		}
		b.depth(p)
		b.labour(p)
		b.m.ground += p.area
	}
	return nil
}

func bearing(c *data.Crop, age float64) float64 {
	return crop.Bearing(c.Form, age, c.BearFrom, c.BearFull)
}

func (b *builder) plotNamed(name string) int {
	return plotIn(b.m, name)
}

// sowings are the stands one described planting makes within the run: one for
// each year when its date recurs.
func (b *builder) sowings(at int, pl *stead.Planting, told func(year int) bool) ([]planting, error) {
	c, ok := b.tab.Crop(pl.Crop)
	if !ok {
		return nil, fmt.Errorf("planting on %q: crop %q is not known", pl.Bed, pl.Crop)
	}
	area := pl.Area
	if area == 0 {
		area = b.m.plots[at].area
	}
	yield := pl.Yield
	if yield == 0 {
		yield = c.YieldTyp
	}
	if perennial(c) {
		return b.seasons(at, c, area, yield, func(d int) float64 {
			if pl.Sow.Year == 0 {
				return c.BearFull // no year is written: it is taken as grown up
			}
			return float64(int(b.m.start)+d-int(pl.Sow.In(0))) / 365
		})
	}
	var made []planting
	for year := b.m.start.Year() - 1; year <= (b.m.start + day.Day(b.m.days)).Year(); year++ {
		if pl.Sow.Year != 0 && pl.Sow.Year != year || told(year) {
			continue
		}
		sow := int(pl.Sow.In(year) - b.m.start)
		g, err := b.stand(at, c, area, yield)
		if err != nil {
			return nil, err
		}
		g.sow = sow
		if sow >= b.m.days || sow < -oldest {
			continue
		}
		if g.over = !b.standing(&g); g.over && (b.past == nil || b.past.state == nil) {
			continue // a replay knows better whether it still stands
		}
		if err := b.survives(&g, pl, year); err != nil && (b.past == nil || sow >= b.m.skip) {
			return nil, err
		}
		made = append(made, g)
	}
	return made, nil
}

func perennial(c *data.Crop) bool { return c.HarvestFrom != 0 }

// standing carries a stand sown before the run to its first day through the
// usual year; it reports false when its harvest would be over.
func (b *builder) standing(g *planting) bool {
	for d := g.sow; d < 0; d++ {
		doy := dayOfYear(b.m.start + day.Day(d))
		tmin, tmax := b.clim.TMin[doy], b.clim.TMax[doy]
		if g.frac0 < 1 {
			if g.frac0 += g.on(tmin, tmax); g.frac0 >= 1-nearly {
				g.frac0 = 1
			}
			continue
		}
		g.picked0 += g.ripens((tmin+tmax)/2) / g.span
	}
	return g.picked0 < 1-nearly
}

// dayOfYear is 0 to 364; 29 February counts as the 28th.
func dayOfYear(d day.Day) int {
	_, month, dom := d.Date()
	if month == time.February && dom == 29 {
		dom = 28
	}
	return daysBefore[month-1] + dom - 1
}

// daysBefore are the days of a common year that go before each month.
var daysBefore = [12]int{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334}

// survives refuses a sowing that the usual year's frost kills before its harvest.
func (b *builder) survives(g *planting, pl *stead.Planting, year int) error {
	if when, early := b.beforeLastFrost(g); early {
		return fmt.Errorf("bed %q: %s sown %s is killed by the usual frost: the last of spring comes about %s (it dies at %.0f °C): sow it after the frosts, or choose a hardier crop",
			pl.Bed, g.crop.Name, pl.Sow.In(year), when.Short(), g.killG)
	}
	frac, air := g.frac0, b.m.meanTemp
	for d := max(0, g.sow); d < g.sow+int(2*g.days) && frac < 1; d++ {
		doy := dayOfYear(b.m.start + day.Day(d))
		tmin, tmax := b.clim.TMin[doy], b.clim.TMax[doy]
		air = crop.Trail(air, (tmin+tmax)/2, crop.HardenDays)
		if crop.Frost(tmin, g.killG, g.killH, crop.Hardening(air)) {
			when := b.m.start + day.Day(d)
			return fmt.Errorf("bed %q: %s sown %s is killed by the usual frost about %s (%.0f °C; it dies at %.0f °C): sow it after the frosts, or choose a hardier crop",
				pl.Bed, g.crop.Name, pl.Sow.In(year), when.Short(), tmin, g.killG)
		}
		frac += g.on(tmin, tmax)
	}
	return nil
}

// comesUp is how long seed lies safe in the ground before it shows, days (common
// practice: a week to a fortnight in spring).
const comesUp = 10

// beforeLastFrost tells whether a tender stand is in the ground before the middle
// date of spring's last frost at 0 °C, where most springs have one.
func (b *builder) beforeLastFrost(g *planting) (day.Day, bool) {
	spring := b.clim.LastSpring
	if g.killG < -1 || spring.Seasons == 0 || spring.Share() < 0.5 || g.sow < 0 {
		return 0, false
	}
	last := dayOfYear(day.Of(2023, 1, 1) + day.Day(int(spring.Mean())-1)) // past 365 in the south
	sow := dayOfYear(b.m.start + day.Day(g.sow))
	ahead := (last - sow + 365) % 365
	if ahead <= comesUp || ahead > 120 {
		return 0, false
	}
	return b.m.start + day.Day(g.sow+ahead), true
}

// stand fills in what a crop needs and gives on an area.
func (b *builder) stand(at int, c *data.Crop, area, yield float64) (planting, error) {
	k := -1
	var kind kind
	if c.Food != "" {
		var err error
		if k, err = b.kind(c.ID, "fresh"); err != nil {
			return planting{}, fmt.Errorf("crop %s: %w", c.Name, err)
		}
		kind = b.m.kinds[k]
	}
	days := (c.DaysFirst + c.DaysFirstHi) / 2
	span := max(7, c.HarvestSpan)
	g := planting{plot: at, crop: c, kind: k, area: area, share: min(1, area/b.m.plots[at].area),
		pacing: pacing{base: c.TBase, upper: orTop(c.TUpper), optLow: c.TOptLo, days: max(14, days)}, least: max(14, c.DaysFirst), span: span,
		yield: yield * area, fixed: c.Fixed, p: c.Depletion, ky: c.Ky,
		killG: c.KillGrowing, killH: min(c.KillGrowing, c.KillHardened),
		kcIni: c.KcIni, kcMid: c.KcMid, kcEnd: c.KcEnd, shareIni: c.ShareIni, shareDev: c.ShareDev, shareMid: c.ShareMid, roots: c.Roots,
		heatLimit: c.HeatLimit, residue: c.Residue, pickHours: c.PickMinKg / 60}
	if c.BoltHours > 0 { // NaN is not
		g.bolts = c.BoltHours
	}
	g.toFirst = g.days / (g.days + span)
	g.leastPace = 1 / g.least
	if !math.IsNaN(c.GDD) {
		g.perGDD = 1 / c.GDD
	}
	if b.st.Terms.KeepSeed && !perennial(c) && k >= 0 {
		g.seed = crop.KeptOfHarvest(c, area)
	}
	if k >= 0 {
		g.asks = npk{kind.has.n / harvestN(c), kind.has.p / harvestN(c), kind.has.k / harvestN(c)}.times(g.yield)
	}
	return g, nil
}

// orTop is a bound, or one no day reaches when there is none.
func orTop(v float64) float64 {
	if math.IsNaN(v) {
		return 60
	}
	return v
}

func harvestN(c *data.Crop) float64 {
	if c.HarvestN > 0.2 {
		return c.HarvestN
	}
	return 0.7
}

// seasons are the yearly cycles of a perennial: from the leaves' start, a
// blossom time, to the harvest months. age is its age in years on a day of the
// run; what is not yet planted, or too young to bear, gives nothing.
func (b *builder) seasons(at int, c *data.Crop, area, yield float64, age func(day int) float64) ([]planting, error) {
	if c.HarvestFrom == 0 {
		return nil, fmt.Errorf("%s has no harvest months on record: plant it on a bed with a sowing date", c.Name)
	}
	var made []planting
	first, last := harvestMonths(c, b.m.south)
	until := (b.m.start + day.Day(b.m.days)).Year() + 1 // a season picked next year may have begun
	for year := b.m.start.Year() - 1; year <= until; year++ {
		begins := int(day.Of(year, first, 1) - b.m.start)
		span := (int(last-first)+12)%12 + 1
		ends := int(day.Of(year, first+time.Month(span), 1) - b.m.start)
		leaf := begins - min(150, 365-(ends-begins)-30)
		if ends <= 0 || leaf >= b.m.days || age(begins) < 0 {
			continue
		}
		g, err := b.stand(at, c, area, yield*bearing(c, age(begins)))
		if err != nil {
			return nil, err
		}
		g.tree, g.sow, g.begins, g.ends = true, leaf, begins, ends
		g.days, g.span = float64(begins-leaf), float64(ends-begins)
		g.toFirst = g.days / (g.days + g.span)
		g.bloomFrom = leaf + 10
		g.bloomTo = g.bloomFrom + 30
		g.frac0 = clamp(float64(-leaf)/g.days, 0, 1)
		g.picked0 = clamp(float64(-begins)/g.span, 0, 1)
		made = append(made, g)
	}
	return made, nil
}

// harvestMonths are a perennial's, six months on in the south.
func harvestMonths(c *data.Crop, south bool) (from, to time.Month) {
	shift := time.Month(0)
	if south {
		shift = 6
	}
	return (c.HarvestFrom-1+shift)%12 + 1, (c.HarvestTo-1+shift)%12 + 1
}

// owes sets the share of a usual year's tree fruit that the landowner takes.
func (b *builder) owes() {
	owed, fruit := 0.0, 0.0
	for _, x := range b.st.Exchange {
		owed += x.Share
	}
	for i := range b.st.Trees {
		t := &b.st.Trees[i]
		if c, ok := b.tab.Crop(t.Crop); ok {
			fruit += c.YieldTyp * bearing(c, t.Age) * b.m.plots[len(b.st.Beds)+i].area
		}
	}
	if fruit > 0 {
		b.m.landShare = min(1, owed/fruit)
	}
}

// depth sets a plot's two layers from its deepest roots and the soil.
func (b *builder) depth(p *plot) {
	for q := p.first; q < p.last; q++ {
		p.deepM = max(p.deepM, b.m.plantings[q].crop.Roots)
	}
	for i := range b.st.Plantings { // whether it stands in these days or not
		if b.st.Plantings[i].Bed != p.name {
			continue
		}
		if c, ok := b.tab.Crop(b.st.Plantings[i].Crop); ok {
			p.deepM = max(p.deepM, c.Roots)
		}
	}
	if !p.tree { // trees find their way into the rock below
		p.deepM = min(p.deepM, max(upperM, b.st.Place.SoilDepth))
	}
	soil, _ := b.tab.Soil(b.st.Place.Soil)
	held := (soil.FieldCapacity - soil.Wilting) * 1000
	p.t1, p.t2 = held*upperM, held*(p.deepM-upperM)
	p.held = soil.FieldCapacity * 1000 * p.deepM
	p.humusN = topsoilKg * p.area * b.st.Place.Organic * humusC / humusCN
}

// labour adds a plot's garden hours by month from the published hours of a
// garden, less for grain, pulses and trees (common practice: a quarter, an eighth).
func (b *builder) labour(p *plot) {
	factor := 1.0
	if p.tree {
		factor = 0.125
	}
	for q := p.first; q < p.last; q++ {
		if b.m.plantings[q].crop.Keeps == "dry" && !p.tree {
			factor = 0.25
		}
	}
	for month := range b.m.gardenDay {
		b.m.gardenDay[month] += work.GardenHours(p.area*factor, time.Month(month+1), b.m.south)
	}
}

// leads ties greywater and overflow to plots.
func (b *builder) leads() {
	for i, u := range b.st.Uses {
		b.m.uses[i].greyPlot = b.plotNamed(u.To)
	}
	for i, g := range b.st.Groups() {
		grp := &b.m.groups[i]
		grp.spillPlot = b.plotNamed(g.Overflow)
		for j, other := range b.st.Groups() {
			if other.Name == g.Overflow && j != i {
				grp.spillGroup = j
			}
		}
	}
}

// plotsOf finds plots by name; with no names, all beds or all trees.
func (b *builder) plotsOf(names []string, trees bool) []int {
	var at []int
	for _, n := range names {
		if i := b.plotNamed(n); i >= 0 {
			at = append(at, i)
		}
	}
	if len(names) > 0 {
		return at
	}
	for i, p := range b.m.plots {
		if p.tree == trees {
			at = append(at, i)
		}
	}
	return at
}

func clamp(v, lo, hi float64) float64 {
	switch {
	case v < lo:
		return lo
	case v > hi:
		return hi
	}
	return v
}
