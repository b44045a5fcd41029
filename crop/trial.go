package crop

import (
	"math"
	"sort"

	"evenstead/data"
)

// A trial is one crop tried on the days of a climate's year.
type trial struct {
	c      *data.Crop
	clim   *Climate
	months data.Months
	grown  [3*yearDays + 1]float64 // days at full pace, summed
	heat   [3*yearDays + 1]float64 // degree days, summed
	cold   [3*yearDays + 1]float64 // days at coldNight or less, summed
	soft   [][yearDays]int16       // by frost year: days to the next night that kills young plants
	hard   [][yearDays]int16       // the same for hardened ones
}

const (
	never      = math.MaxInt16 / 2
	asleep     = -273 // °C: nothing kills
	autumnSoil = 20   // °C of soil at which crops that need the winter are begun (common practice)
	springMean = 15   // °C at which the printed days of crops that stand the winter were counted (common practice)
	waits      = 2    // times its days that a sowing may stand (common practice)
	fullPace   = 0.8  // of the way from base to the low end of good growth
	pieceUp    = 21   // days for a tuber, clove or slip to come up (common practice)
	seedUp     = 8    // days for seed of which nothing is printed (common practice)
	slowestUp  = 60   // days
)

func newTrial(c *data.Crop, clim *Climate) *trial {
	t := &trial{c: c, clim: clim, months: c.Month}
	if t.months.Most == 0 {
		t.months = data.Months{Least: coolLeast, Most: c.TOptHi}
		if c.Tender >= 3 {
			t.months = data.Months{Least: c.TOptLo - optMargin, Most: c.TOptHi + optMargin}
		}
	}
	full := c.TBase + fullPace*(c.TOptLo-c.TBase)
	if c.Winters {
		full = math.Max(full, springMean)
	}
	for k := range 3 * yearDays {
		m := clim.Mean(k)
		t.grown[k+1] = t.grown[k] + pace(m, c.TBase, full)
		t.heat[k+1] = t.heat[k] + math.Max(m-c.TBase, 0)
		t.cold[k+1] = t.cold[k] + step(m <= coldNight)
	}
	t.nights()
	return t
}

func pace(mean, base, full float64) float64 {
	if full <= base {
		return step(mean > base)
	}
	return clamp((mean-base)/(full-base), 0, 1)
}

// nights finds the killing nights of each frost year.
func (t *trial) nights() {
	var soft, hard [yearDays]float32
	for d := range soft {
		doy := t.clim.yearDay(d)
		cool, falls := t.clim.meanOver(doy-HardenDays, HardenDays), t.falls(doy)
		soft[d] = float32(KillLimit(math.Max(t.c.KillGrowing, youngStands), t.c.KillHardened, Hardening(cool)))
		hard[d] = float32(t.c.KillGrowing)
		if t.c.Tender < 3 {
			hard[d] = float32(KillLimit(t.c.KillGrowing, t.c.KillHardened, 1))
		}
		if t.c.Winters && falls { // sown in autumn it hardens as it grows
			soft[d] = min(soft[d], hard[d])
		}
		if t.c.Winters && t.c.Start == "piece" && cool <= 0 { // at rest in the ground
			soft[d], hard[d] = asleep, asleep
		}
	}
	t.soft = make([][yearDays]int16, len(t.clim.nights))
	t.hard = make([][yearDays]int16, len(t.clim.nights))
	for y := range t.clim.nights {
		toNext(&t.soft[y], &t.clim.nights[y], &soft)
		toNext(&t.hard[y], &t.clim.nights[y], &hard)
	}
}

// falls tells whether it cools about a day of the year: the month after it is
// colder than the month before.
func (t *trial) falls(doy int) bool { return t.clim.meanOver(doy, 30) < t.clim.meanOver(doy-30, 30) }

// toNext counts from each day to the next night at or below its limit.
func toNext(out *[yearDays]int16, n *nights, limit *[yearDays]float32) {
	next := int16(never)
	for d := yearDays - 1; d >= 0; d-- {
		next = min(next+1, never)
		if n[d] <= limit[d] {
			next = 0
		}
		out[d] = next
	}
}

// bar asks the rules of Windows in their order for a day of the year, from 0.
func (t *trial) bar(d int, risk float64) Bar {
	c := t.c
	if !t.warm(d) {
		return ColdSoil
	}
	if c.ColdDays > 0 && !(t.falls(d) && t.clim.soil[d] <= autumnSoil) {
		return NotAutumn
	}
	n := t.toFirst(d)
	if n > longest {
		return ShortYear
	}
	if !c.Winters && float64(n) > waits*t.days() {
		return StandsStill
	}
	half := n / 2
	ripening := t.clim.meanOver(d+half, n-half)
	switch {
	case ripening < t.months.Least:
		return ColdSeason
	case ripening > t.months.Most, t.clim.meanOver(d, half) > t.months.Most+early:
		return HotSeason
	case c.Month.Most == 0 && t.clim.maxOver(d+n-heading, heading) > c.HeatLimit:
		return HotSeason
	case Daylength(t.clim.Lat, (d+n)%yearDays+1) >= c.BoltHours:
		return LongDays
	case t.cold[d+n]-t.cold[d] < c.ColdDays:
		return MildWinter
	}
	end := n + int(math.Min(c.HarvestSpan, wantedSpan))
	if up := t.toUp(d); t.risk(d+up, end-up) > risk {
		return FrostKill
	}
	return Free
}

// warm tells whether soil and air let the crop be begun: five days running.
func (t *trial) warm(d int) bool {
	least := warmthForClass[min(max(t.c.Tender, 0), 4)]
	if seed := t.c.Start == "sown" || t.c.Start == "either"; seed && t.c.GermMin > least {
		least = t.c.GermMin
	}
	for k := range runDays {
		if t.clim.soil[(d-k+yearDays)%yearDays] < least {
			return false
		}
	}
	return true
}

// toUp is the days until a crop begun on a day stands above ground.
func (t *trial) toUp(d int) int {
	switch t.c.Start {
	case "set":
		return 0
	case "piece":
		return pieceUp
	}
	if up, ok := t.c.Emerge.Days(t.clim.soil[d]); ok {
		return int(math.Min(up, slowestUp))
	}
	return seedUp
}

// toFirst is the days from a day of the year, from 0, to the first harvest;
// longest + 1 when it is not reached.
func (t *trial) toFirst(d int) int {
	c := t.c
	if c.ColdDays > 0 && !(c.GDD > 0) { // its days count the winter
		return int(c.DaysFirst)
	}
	n := int(c.DaysFirst)
	if c.ColdDays == 0 {
		n = reach(&t.grown, d, t.days())
	}
	if c.Winters && c.GDD > 0 {
		n = max(n, reach(&t.heat, d, c.GDD))
	}
	if t.clim.Mean(d+n) < t.clim.Mean(d) {
		n += slowAutumn
	}
	return min(max(n, 1), longest+1)
}

// days is the middle of the printed days to first harvest.
func (t *trial) days() float64 { return (t.c.DaysFirst + math.Max(t.c.DaysFirst, t.c.DaysFirstHi)) / 2 }

// reach is the days until a sum has risen by so much; longest + 1 when it does not.
func reach(sum *[3*yearDays + 1]float64, d int, by float64) int {
	want := sum[d] + by
	return sort.Search(longest+1, func(n int) bool { return sum[d+n] >= want })
}

// risk is the share of years with a killing night from a day of the year through
// some days, the young plant's limit holding first. What runs past a frost year
// is looked up in the next one.
func (t *trial) risk(from, days int) float64 {
	a := t.clim.frostDay((from%yearDays + yearDays) % yearDays)
	n := 0
	for y := range t.hard {
		if hit(t.soft, y, a, min(young, days)) || hit(t.hard, y, a, days) {
			n++
		}
	}
	return share(n, len(t.hard))
}

func hit(next [][yearDays]int16, y, a, days int) bool {
	if int(next[y][a]) <= min(days, yearDays-1-a) {
		return true
	}
	over := a + days - yearDays
	return over >= 0 && int(next[(y+1)%len(next)][0]) <= over
}
