package crop

import (
	"time"

	"evenstead/data"
)

// A Window is a stretch of days on which a crop may be sown (or set out, where
// its days to harvest count from there). Open and Close are days of the year, 1
// to 365, both included; Close before Open runs over the new year. A window open
// all year is 1 to 365.
type Window struct{ Open, Close int }

// Days returns the length of the window.
func (w Window) Days() int { return (w.Close-w.Open+yearDays)%yearDays + 1 }

// Has reports whether a day of the year, 1 to 365, lies in the window.
func (w Window) Has(yearday int) bool {
	return (yearday-w.Open+yearDays)%yearDays < w.Days()
}

// A Bar is what keeps a crop from being sown on a day, in the order in which the
// rules are asked; the last one reached is the nearest to fitting.
type Bar int

const (
	Free        Bar = iota // nothing bars it
	ColdSoil               // seed or plants would sit in ground too cold
	NotAutumn              // it needs the winter's cold, and it is not autumn
	ShortYear              // it does not come to harvest within a year
	StandsStill            // it grows so slowly that a later sowing catches it up
	ColdSeason             // the weeks before harvest are too cold
	HotSeason              // the season is too hot
	LongDays               // it runs to seed
	MildWinter             // it has too little cold to head or bulb
	FrostKill              // frost kills it in more years than the risk allows
	Unknown                // no days to harvest are known: a perennial
)

var barWords = [...]string{"fits", "the soil is too cold", "it is begun in autumn, as the ground cools below 20 °C",
	"the season is too short",
	"it stands still in the cold: a later sowing catches it up", "too cold to ripen",
	"too hot", "the days are too long: it runs to seed", "the winter is too mild", "frost kills it before harvest",
	"set once, not sown each year"}

// String says the bar in words for a reader.
func (b Bar) String() string {
	if b < 0 || int(b) >= len(barWords) {
		return "not known"
	}
	return barWords[b]
}

const (
	optMargin  = 3   // °C that growth of tender crops without printed months is widened by
	coolLeast  = 7   // °C, least mean at which hardy crops without printed months grow on
	early      = 3   // °C that the first half of a season may be warmer than the second
	slowAutumn = 7   // days added when it cools by harvest
	heading    = 20  // days before first harvest that heat can spoil
	wantedSpan = 14  // days of picking that make a sowing worth while
	young      = 21  // days after coming up, or setting out, that a plant counts as unhardened
	runDays    = 5   // days running that the soil must be warm
	coldNight  = 10  // °C, mean at which cold counts towards heading and bulbing
	longest    = 364 // days
	shortest   = 7   // days; shorter windows are not given
	bridge     = 7   // days; shorter breaks are closed
)

// youngStands is the cold [°C] that the hardiest young plants come through unhurt.
// Source: crop tables of common practice (24 °F for hardy); Purdue Extension (very
// hardy plants stand the mid-20s °F).
const youngStands = -4.4

// warmthForClass is the warmth of soil and air [°C] at which each class of
// tenderness is sown or set out, very hardy first. Source: Colorado State
// Extension garden note 720 and Purdue Extension (40, 40, 45, 55 and 60 °F).
var warmthForClass = [5]float64{4.4, 4.4, 7, 12.8, 15.6}

// Windows returns the days on which a crop may be sown in a climate so that, in
// a share 1 - risk of years, it comes through to harvest: in order of opening.
// Each day of the year is asked, in this order:
//
//   - for five days running the soil (SoilWarmth of the ten days before) has its
//     class's warmth, and for seed the warmth under which it does not come up;
//   - crops that need the winter's cold are begun while it cools, in soil of 20 °C
//     or less;
//   - it comes to harvest within a year: the middle of its days, at the pace that
//     warmth allows, a week more where it cools by harvest; crops that stand the
//     winter not before their degree days, where known, and at full pace from
//     15 °C on. Others take at most twice their days: slower, a later sowing
//     catches them up;
//   - the mean of the second half of its season lies within the months of Maynard
//     and Hochmuth (1997), where printed, else within a tender crop's optimum
//     widened by 3 °C or from 7 °C to the upper optimum of a hardier one; the
//     first half may be 3 °C warmer, since autumn crops are begun in the heat;
//   - where no months are printed, the mean daily maximum of the last 20 days
//     before first harvest stays at or below HeatLimit;
//   - day length by first harvest stays below BoltHours, and ColdDays are had;
//   - the share of years with a killing night is at most risk, from coming up to
//     first harvest and two weeks of picking. Young plants die at KillGrowing
//     (-4.4 °C at the hardiest) less what the season has hardened them; after
//     three weeks the hardier classes die at KillHardened. Crops that stand the
//     winter harden as they grow when sown in autumn; pieces at rest in frozen
//     ground are safe.
//
// Breaks under a week are closed and windows under a week left out. Perennials,
// whose days to harvest are not known, have none. Source: the sources named here
// and at warmthForClass, SoilWarmth and youngStands; the rest is common practice.
// TestWindowsAgainstCharts tells how many printed windows agree at risk 0.5; at
// the risks of a careful plan (0.1 to 0.3) windows are narrower than the charts'.
func Windows(c *data.Crop, clim *Climate, risk float64) []Window {
	w, _ := Suit(c, clim, risk)
	return w
}

// Suit is Windows and, when there is none, what comes nearest to letting the crop
// in: the last rule that its best day fails.
func Suit(c *data.Crop, clim *Climate, risk float64) ([]Window, Bar) {
	if !annual(c) {
		return nil, Unknown
	}
	t := newTrial(c, clim)
	var good [yearDays]bool
	nearest := Free
	for d := range good {
		b := t.bar(d, risk)
		good[d] = b == Free
		nearest = max(nearest, b)
	}
	if w := runs(&good); len(w) > 0 {
		return w, Free
	}
	return nil, nearest
}

// annual tells the crops that are timed by days from sowing.
func annual(c *data.Crop) bool { return c.DaysFirst > 0 && c.HarvestFrom == time.Month(0) }

// Green is a crop as picked at its green stage, for those that the table lists
// dry and the charts mean fresh; others are returned as they are.
func Green(c *data.Crop) data.Crop {
	g := *c
	if g.Green > 0 {
		g.DaysFirst, g.DaysFirstHi = g.Green, g.GreenHi
	}
	return g
}

// Harvest returns the days from sowing on a day of the year (1 to 365) to the
// first and the last harvest in the mean year; ok is false when it does not come
// to harvest within a year, or is a perennial.
func Harvest(c *data.Crop, clim *Climate, yearday int) (first, last int, ok bool) {
	if !annual(c) {
		return 0, 0, false
	}
	first = newTrial(c, clim).toFirst((yearday - 1 + yearDays) % yearDays)
	return first, first + max(int(c.HarvestSpan), 1) - 1, first <= longest
}

// Ask tells what bars a crop on one day of the year (1 to 365).
func Ask(c *data.Crop, clim *Climate, yearday int, risk float64) Bar {
	if !annual(c) {
		return Unknown
	}
	return newTrial(c, clim).bar((yearday-1+yearDays)%yearDays, risk)
}
