package sums

import (
	"fmt"
	"math"
	"slices"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
	"evenstead/weather"
)

func growingSums(t *data.Tables) []Sum {
	return []Sum{et0Sum(), cropWaterSum(t), degreeDaysSum(), windowSum(t), frostChanceSum(), frostDatesSum(),
		plantsSum(t), seedSum(t), nitrogenSum(t)}
}

func extremes() []Input {
	return []Input{
		amount("tmin", "least temperature of the day", unit.Temperature, "", -60, 50),
		amount("tmax", "greatest temperature of the day", unit.Temperature, "", -60, 57),
	}
}

// rising faults a tmin that is not below tmax.
func (s *sheet) rising() bool {
	lo, hi := s.num("tmin"), s.num("tmax")
	if lo >= hi {
		s.fault("tmin", s.say(lo, unit.Temperature), "is not below tmax, "+s.say(hi, unit.Temperature)+"; swap or mend them")
		return false
	}
	return true
}

func et0Sum() Sum {
	return Sum{
		Name: "et0", Title: "Reference evaporation (ET0)", Group: Growing,
		About: "What short watered grass gives to the air in a day, from the day's extremes alone. Take means over a week or more, not one day.",
		Inputs: append(extremes(),
			amount("latitude", "north positive", unit.Angle, "", -66, 66),
			yearly("date", "day of the year")),
		Source:   "Hargreaves; Allen, Pereira, Raes and Smith 1998, FAO-56 eq. 21 and 52",
		Cautions: []string{"It is low where wind passes 3 m/s and high in very humid air (FAO-56 p. 64)."},
		Example: Example{
			Given:   []Pair{{"tmin", "14.8 °C"}, {"tmax", "26.6 °C"}, {"latitude", "45.72 N"}, {"date", "15 Jul"}},
			Printed: []Printed{{"reference evaporation", "5.0 mm a day", 5.0, 0.05}},
			Source:  "Allen et al. 1998, FAO-56, example 20, p. 77 (Lyon, July)",
		},
		do: func(s *sheet) error {
			if !s.rising() {
				return nil
			}
			ra := weather.Extraterrestrial(s.num("latitude"), s.day("date").YearDay())
			et := weather.Hargreaves(s.num("tmin"), s.num("tmax"), ra)
			s.over("reference evaporation", et, unit.Depth, "a day")
			s.line("in a week", 7*et, unit.Depth)
			s.step("The sun above the air brings %s MJ/m2 a day; 0.0023 (mean + 17.8) sqrt(tmax - tmin) of it, as water, is %s.", s.number(ra), s.say(et, unit.Depth))
			return nil
		},
	}
}

func degreeDaysSum() Sum {
	return Sum{
		Name: "degree-days", Title: "Degree-days", Group: Growing,
		About: "Warmth above a base, day by day, by four methods. The upper threshold is used by modified, sine and triangle.",
		Inputs: []Input{
			list("tmin", "least temperature of each day", unit.Temperature, 1, 366, -60, 50),
			list("tmax", "greatest temperature of each day", unit.Temperature, 1, 366, -60, 57),
			amount("lower", "temperature below which nothing grows", unit.Temperature, "10 °C", -10, 30),
			maybe(amount("upper", "temperature above which it grows no faster", unit.Temperature, "", 0, 50)),
			choice("method", "how a day is reckoned", "sine", "simple", "modified", "sine", "triangle"),
		},
		Source: "simple: Ohio State Extension AGF-101; modified: Iowa State University, Agron 541; sine: Baskerville and Emin 1969; triangle: Zalom et al. 1983, both with the horizontal cut-off",
		Example: Example{
			Given:   []Pair{{"tmin", "65, 46, 42 °F"}, {"tmax", "90, 72, 63 °F"}, {"lower", "50 °F"}, {"upper", "86 °F"}, {"method", "modified"}},
			Printed: []Printed{{"degree-days", "43 °F d", 43 * 5.0 / 9, 0.05}},
			Source:  "maize growing degree days, 25.5 + 11 + 6.5, extension column of 25 April 2018",
		},
		do: degreeDays,
	}
}

func degreeDays(s *sheet) error {
	lo, hi, lower, upper := s.list("tmin"), s.list("tmax"), s.num("lower"), s.num("upper")
	if len(lo) != len(hi) {
		s.fault("tmax", "", fmt.Sprintf("has %d days but tmin has %d; give both for each day", len(hi), len(lo)))
		return nil
	}
	if upper <= lower {
		s.fault("upper", s.say(upper, unit.Temperature), "must be above the lower threshold, "+s.say(lower, unit.Temperature))
	}
	method := s.text("method")
	if method == "modified" && math.IsNaN(upper) {
		s.need("by the modified method", "upper")
	}
	var sum float64
	for i := range lo {
		if lo[i] > hi[i] {
			s.fault("tmin", s.say(lo[i], unit.Temperature), fmt.Sprintf("of day %d is above its tmax, %s; swap or mend them", i+1, s.say(hi[i], unit.Temperature)))
			continue
		}
		sum += dayDegrees(method, lo[i], hi[i], lower, upper)
	}
	s.shown("degree-days", sum, unit.Number, "°C d", s.degrees(sum))
	s.shown("a day", sum/float64(len(lo)), unit.Number, "°C d", s.degrees(sum/float64(len(lo))))
	s.step("%s by the %s method above %s: %s.", s.things(float64(len(lo)), "days"), method, s.say(lower, unit.Temperature), s.degrees(sum))
	return nil
}

func dayDegrees(method string, lo, hi, lower, upper float64) float64 {
	cut := crop.Horizontal
	if math.IsNaN(upper) {
		cut = crop.None
	}
	switch method {
	case "simple":
		return crop.SimpleAverage(lo, hi, lower)
	case "modified":
		return crop.ModifiedAverage(lo, hi, lower, upper)
	case "triangle":
		return crop.SingleTriangle(lo, hi, lower, upper, cut)
	}
	return crop.SingleSine(lo, hi, lower, upper, cut)
}

// degrees prints degree-days, held in °C d.
func (s *sheet) degrees(v float64) string {
	if s.sys == unit.US {
		return s.number(v*9/5) + " °F d"
	}
	return s.number(v) + " °C d"
}

// What a mean year is made of: years long enough to count frosts, always the same.
const (
	madeYears = 60
	madeSeed  = 1
)

// normals are the inputs of a place known by its twelve months.
func normals() []Input {
	return []Input{
		amount("latitude", "south negative", unit.Angle, "", -66, 66),
		monthly("tmin", "mean of the daily least", unit.Temperature, -60, 40),
		monthly("tmax", "mean of the daily greatest", unit.Temperature, -60, 55),
		amount("spread", "standard deviation of days about their month's mean, in °C: 3 at the sea or in the tropics, 5 to 6 far inland in spring", unit.Number, "4", 0.5, 12),
	}
}

// climate makes sixty years of days out of the normals; nil when it told a fault.
func (s *sheet) climate() (*crop.Climate, error) {
	lo, hi := s.twelve("tmin"), s.twelve("tmax")
	for m := range lo {
		if lo[m] >= hi[m] {
			s.fault("tmin", s.say(lo[m], unit.Temperature), fmt.Sprintf("of month %d is not below its tmax, %s; swap or mend them", m+1, s.say(hi[m], unit.Temperature)))
		}
	}
	if len(s.faults) > 0 {
		return nil, nil
	}
	lat, from := s.num("latitude"), day.Of(2001, 1, 1)
	n := weather.Normals{TMin: lo, TMax: hi, TMinSD: s.num("spread"), TMaxSD: s.num("spread")}
	ens, err := weather.FromNormals(n, weather.Site{Lat: lat}, from, int(day.Of(2001+madeYears, 1, 1)-from), 1, madeSeed)
	if err != nil {
		return nil, err
	}
	return crop.NewClimate(lat, from, ens.Members[0].TMin, ens.Members[0].TMax)
}

const coldPocket = "Normals know no cold pocket and no odd year: keep covers at hand, and trust your own thermometer over the station's."

func windowSum(t *data.Tables) Sum {
	grown := slices.DeleteFunc(slices.Clone(t.Crops), func(c data.Crop) bool { return !(c.DaysFirst > 0) || c.HarvestFrom != 0 })
	return Sum{
		Name: "sowing-window", Title: "Sowing window", Group: Growing,
		About: "When a crop may be sown, or set out where its days count from there, so that it comes to harvest in all but a share of years. From twelve monthly means, either side of the equator.",
		Inputs: append([]Input{
			choice("crop", "what is sown", "", ids(grown, func(c *data.Crop) string { return c.ID })...),
			amount("risk", "share of years in which frost may take it", unit.Share, "20 %", 0.01, 0.5),
		}, normals()...),
		Source:   "thresholds of FAO EcoCrop, Colorado State Extension 720, Purdue Extension and common practice, on sixty years made from the normals after Richardson 1981",
		Cautions: []string{coldPocket, "Charts of your own extension service and what neighbours do come first."},
		Example: Example{
			Given:   append([]Pair{{"crop", "tomato"}, {"risk", "20 %"}}, desMoines()...),
			Printed: []Printed{{"opens", "10 May, mid May", 130, 10}},
			Source:  "Iowa State University PM-534, central Iowa, tomato plants in mid May, held to ten days; normals of Des Moines 1991-2020 from memory",
		},
		do: window,
	}
}

func window(s *sheet) error {
	c, _ := s.tables.Crop(s.text("crop"))
	clim, err := s.climate()
	if clim == nil {
		return err
	}
	found, bar := crop.Suit(c, clim, s.num("risk"))
	what := "sow"
	if !c.DaysFromSowing {
		what = "set out"
	}
	for i, w := range found {
		if i == 0 {
			s.dated("opens", float64(w.Open))
			if first, _, ok := crop.Harvest(c, clim, w.Open); ok {
				s.count("first harvest after that", float64(first), "days")
			}
		}
		s.word(what, fmt.Sprintf("%s to %s, %d days", yearday(w.Open), yearday(w.Close), w.Days()))
	}
	if len(found) == 0 {
		s.word(what, fmt.Sprintf("on no day of this climate does it come to harvest in %s of years: %s", s.say(1-s.num("risk"), unit.Share), bar))
		s.word("nearest that fit", s.nearest(c, clim))
	}
	s.step("%s takes %s days to first harvest, grows well at a mean of %s to %s and dies at %s.", c.Name, s.number(c.DaysFirst),
		s.say(c.TOptLo, unit.Temperature), s.say(c.TOptHi, unit.Temperature), s.say(c.KillGrowing, unit.Temperature))
	return nil
}

// nearest names crops like one that the climate lets in.
func (s *sheet) nearest(c *data.Crop, clim *crop.Climate) string {
	var names []string
	for _, fit := range crop.NearestFit(c, s.tables.Crops, clim, s.num("risk"), 3) {
		names = append(names, fit.Name)
	}
	if len(names) == 0 {
		return "none of the table"
	}
	return words(names)
}

// yearday prints a day of the year, 1 to 365.
func yearday(n int) string {
	d := day.Of(someYear, 1, n)
	_, m, dom := d.Date()
	return fmt.Sprintf("%d %s", dom, m.String()[:3])
}

func frostChanceSum() Sum {
	return Sum{
		Name: "frost-chance", Title: "Chance of frost", Group: Growing,
		About: "The chance that it freezes to a limit between two dates, and when frosts end and begin, from twelve monthly means.",
		Inputs: append([]Input{
			yearly("from", "first day"), yearly("to", "last day"),
			amount("limit", "temperature that harms", unit.Temperature, "0 °C", -30, 5),
		}, normals()...),
		Source:   "sixty years made from the normals after Richardson 1981, counted by frost years",
		Cautions: []string{coldPocket},
		Example: Example{
			Given:   append([]Pair{{"from", "1 May"}, {"to", "31 May"}}, desMoines()...),
			Printed: []Printed{{"last of spring, in 5 years of 10", "30 Apr", 120, 10}},
			Source:  "last frost of central Iowa at even odds 30 April (from memory), held to ten days; normals of Des Moines 1991-2020 from memory",
		},
		do: frostChance,
	}
}

func frostChance(s *sheet) error {
	clim, err := s.climate()
	if clim == nil {
		return err
	}
	from, to := s.day("from").YearDay()-1, s.day("to").YearDay()-1
	days := ((to-from)%365 + 365) % 365
	limit := s.num("limit")
	s.line("chance", clim.FrostRisk(limit, from, days), unit.Share)
	for _, c := range []struct {
		label string
		of    func(limit, p float64) (int, bool)
		p     float64
	}{
		{"last of spring, in 5 years of 10", clim.LastFrost, 0.5},
		{"last of spring, after it in 1 year of 10", clim.LastFrost, 0.9},
		{"first of autumn, in 5 years of 10", clim.FirstFrost, 0.5},
		{"first of autumn, before it in 1 year of 10", clim.FirstFrost, 0.1},
	} {
		if n, ok := c.of(limit, c.p); ok {
			s.dated(c.label, float64(n+1))
		} else {
			s.word(c.label, "no such frost in that many years")
		}
	}
	s.step("In %d made years it was counted how often a night of %s or less falls from %s through %s.", madeYears,
		s.say(limit, unit.Temperature), yearday(from+1), yearday(from+1+days))
	return nil
}

func frostDatesSum() Sum {
	return Sum{
		Name: "frost-dates", Title: "Frost chances from a list of dates", Group: Growing,
		About: "From the dates of the last frost of spring, or the first of autumn, one a year: the date beyond which it comes in 1, 5 and 9 years of 10.",
		Inputs: []Input{
			{Key: "dates", Label: "one for each year that had such a frost", Form: Dates, Fewest: 3, Longest: 200},
			choice("which", "which frost the dates are of", "last", "last", "first"),
			choice("hemisphere", "where", "north", "north", "south"),
			maybe(amount("years", "years observed, those without frost too", unit.Number, "", 3, 300)),
		},
		Source:   "Thom and Shaw 1958 (from memory): dates are normal; a share of years without frost is taken off",
		Cautions: []string{coldPocket, "Under about 20 years the tails are guesses."},
		Example: Example{
			Given:   []Pair{{"dates", "10 Apr, 20 Apr, 30 Apr"}},
			Printed: []Printed{{"mean", "20 Apr", 110, 1e-9}, {"in 1 year of 10 after", "mean + 1.2816 sd, 3 May", 122.816, 0.001}},
			Source:  "normal distribution of mean 20 April and deviation 10 days (computed)",
		},
		do: frostDates,
	}
}

func frostDates(s *sheet) error {
	f := weather.Frosts{Seasons: len(s.list("dates"))}
	for _, d := range s.list("dates") {
		if s.text("which") == "last" && s.text("hemisphere") == "south" && d < 182 {
			d += 365
		}
		f.Dates = append(f.Dates, int(d))
	}
	slices.Sort(f.Dates)
	if s.has("years") {
		f.Seasons = int(s.num("years"))
	}
	if f.Seasons < len(f.Dates) {
		s.fault("years", s.number(s.num("years")), fmt.Sprintf("is fewer than the %d dates; count every year observed", len(f.Dates)))
		return nil
	}
	of, side := f.Later, "after"
	if s.text("which") == "first" {
		of, side = f.Sooner, "before"
	}
	s.dated("mean", f.Mean())
	s.count("standard deviation", f.SD(), "days")
	for _, c := range []struct {
		p    float64
		word string
	}{{0.1, "1 year"}, {0.5, "5 years"}, {0.9, "9 years"}} {
		label := "in " + c.word + " of 10 " + side
		if d := of(c.p); math.IsInf(d, 0) || math.IsNaN(d) {
			s.word(label, "fewer years than that have frost")
		} else {
			s.dated(label, d)
		}
	}
	s.step("%d dates in %d years have a mean of day %s of the year and a deviation of %s days.", len(f.Dates), f.Seasons, s.number(f.Mean()), s.number(f.SD()))
	return nil
}

// desMoines are monthly means of 1991-2020, from memory.
func desMoines() []Pair {
	return []Pair{{"latitude", "42 N"},
		{"tmin", "-9.8, -7.4, -1.2, 4.8, 11.3, 17.0, 19.4, 18.2, 13.3, 6.4, -0.5, -6.6 °C"},
		{"tmax", "-0.6, 2.2, 9.8, 16.8, 22.6, 27.9, 29.9, 28.7, 24.9, 17.4, 9.1, 2.2 °C"},
		{"spread", "5.5"}}
}
