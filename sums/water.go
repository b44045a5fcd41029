package sums

import (
	"math"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/unit"
	"evenstead/water"
)

const gallon = 3.785411784 // L, for what sources print

func waterSums(t *data.Tables) []Sum {
	return []Sum{catchSum(t), waterDaysSum(), tankSizeSum(t), noFailSum(), tankLevelSum(), firstFlushSum()}
}

func roofInputs(t *data.Tables) []Input {
	roofs := ids(t.Roofs, func(r *data.Roofing) string { return r.ID })
	return []Input{
		amount("area", "roof in plan, eaves included, not along the slope", unit.Area, "", 0.1, 1e5),
		choice("roof", "what the roof is made of", "metal", roofs...),
		maybe(amount("coefficient", "share of rain that runs off, in place of the roof's own", unit.Share, "", 0.05, 1)),
	}
}

// runoff returns the coefficient and warns of what the roof is made of.
func (s *sheet) runoff() float64 {
	if s.has("coefficient") {
		return s.num("coefficient")
	}
	r, _ := s.tables.Roof(s.text("roof"))
	if r.Caution != "" {
		s.warnf("%s: %s.", r.Name, r.Caution)
	}
	return r.Coefficient
}

func catchSum(t *data.Tables) Sum {
	return Sum{
		Name: "catch", Title: "Catch from a roof", Group: Water,
		About: "Rain off a roof after losses and the first flush. One millimetre on one square metre is one litre.",
		Inputs: append(roofInputs(t),
			amount("rain", "rain of a day, a month or a year", unit.Depth, "", 0, 12000),
			amount("flush", "run-off that the first-flush diverter turns away, over the whole roof", unit.Depth, "0 mm", 0, 20)),
		Source:   "V = area x rain x coefficient; coefficients of the roof table",
		Cautions: []string{water.CautionRoof, water.CautionRoofing, water.CautionOverflow},
		Example: Example{
			Given:   []Pair{{"area", "900 ft2"}, {"rain", "1 in"}, {"coefficient", "0.90"}},
			Printed: []Printed{{"caught", "504.63 gal", 504.63 * gallon, 0.4 * gallon}},
			Source:  "roof-catch worksheet of an extension service; it multiplies by 0.623 for 0.62338",
		},
		do: func(s *sheet) error {
			c := s.runoff()
			flush := water.Catch(s.num("flush"), s.num("area"), 1)
			caught, flushed := water.CatchAfterFlush(s.num("rain"), s.num("area"), c, flush)
			s.line("caught", caught, unit.Volume)
			s.line("turned away by the first flush", flushed, unit.Volume)
			s.step("%s of rain on %s with a run-off of %s sheds %s, of which the diverter takes %s.",
				s.say(s.num("rain"), unit.Depth), s.say(s.num("area"), unit.Area), s.say(c, unit.Share),
				s.say(caught+flushed, unit.Volume), s.say(flushed, unit.Volume))
			return nil
		},
	}
}

func waterDaysSum() Sum {
	return Sum{
		Name: "water-days", Title: "Days of water", Group: Water,
		About: "How long a tank lasts at a steady use, with no rain or with a steady inflow.",
		Inputs: []Input{
			amount("level", "water in the tank", unit.Volume, "", 0, 1e8),
			amount("dead", "water below the outlet", unit.Volume, "0 L", 0, 1e8),
			amount("use", "drawn in a day", unit.Flow, "", 0.01, 1e7),
			amount("inflow", "coming in in a day", unit.Flow, "0 L/day", 0, 1e7),
		},
		Source:   "(level - dead) / (use - inflow)",
		Cautions: []string{water.CautionRoof},
		Example: Example{
			Given:   []Pair{{"level", "3000 L"}, {"use", "120 L/day"}},
			Printed: []Printed{{"lasts", "25 days", 25, 0}},
			Source:  "Warwick University Development Technology Unit, roof-water sizing, method 1, run backwards: 6 people at 20 L through 25 dry days take 3,000 L",
		},
		do: func(s *sheet) error {
			level, dead := s.num("level"), s.num("dead")
			if dead > level {
				s.fault("dead", s.say(dead, unit.Volume), "is more than the level; give less than "+s.say(level, unit.Volume))
				return nil
			}
			days := water.DaysOfWater(level, dead, s.num("use"), s.num("inflow"))
			use := s.say(s.num("use")-s.num("inflow"), unit.Flow)
			if math.IsInf(days, 1) {
				s.word("lasts", "as long as the inflow does: it brings what is drawn or more")
			} else {
				s.count("lasts", days, "days")
			}
			s.step("%s can be drawn and the tank falls by %s.", s.say(level-dead, unit.Volume), use)
			return nil
		},
	}
}

// monthDays are the days of a calendar month in a year of 365.
func monthDays(m int) float64 {
	return float64(day.Of(someYear, time.Month(m+2), 1) - day.Of(someYear, time.Month(m+1), 1))
}

func tankSizeSum(t *data.Tables) Sum {
	return Sum{
		Name: "tank-size", Title: "Tank size", Group: Water,
		About: "The smallest store that never fails in a year of mean months, and the 5 % rule for places with even rain. Means hide dry years and dry weeks.",
		Inputs: append(roofInputs(t),
			monthly("rain", "mean rain of each month", unit.Depth, 0, 12000),
			amount("use", "drawn in a day", unit.Flow, "", 0.01, 1e7),
			amount("filter", "share that the filter lets through", unit.Share, "95 %", 0.3, 1)),
		Source:   "Loucks and van Beek, sequent peak, on twelve mean months; BS 8515:2009 intermediate approach, as quoted by tank makers",
		Cautions: []string{"Mean months have no drought in them: take a larger tank, or ask less of it, where a dry year would hurt.", water.CautionOverflow, water.CautionMosquito},
		Example: Example{
			Given: []Pair{{"area", "125 m2"}, {"coefficient", "80 %"}, {"filter", "95 %"}, {"use", "250 L/day"},
				{"rain", "54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667,54.1667 mm"}},
			Printed: []Printed{{"by the 5 % rule", "3,087.5 L", 3087.5, 0.05}},
			Source:  "BS 8515:2009 intermediate rule on a tank maker's page: 125 m2, 650 mm, five people at 50 L",
		},
		do: tankSize,
	}
}

func tankSize(s *sheet) error {
	c, area, use := s.runoff(), s.num("area"), s.num("use")
	var inflow, demand []float64
	var year, asked, rain float64
	for m, p := range s.list("rain") {
		in, out := water.Catch(p, area, c)*s.num("filter"), use*monthDays(m)
		inflow, demand = append(inflow, in), append(demand, out)
		year, asked, rain = year+in, asked+out, rain+p
	}
	store := water.SequentPeak(inflow, demand)
	if math.IsInf(store, 1) {
		s.word("never failing in mean months", "no tank: the roof brings less in a year than is asked")
	} else {
		s.line("never failing in mean months", store, unit.Volume)
	}
	s.line("by the 5 % rule", water.IntermediateRule(area, rain, c, s.num("filter"), use), unit.Volume)
	s.line("caught in a year", year, unit.Volume)
	s.line("asked in a year", asked, unit.Volume)
	s.step("%s of rain in the year on %s at a run-off of %s and a filter of %s bring %s; the use takes %s.", s.say(rain, unit.Depth),
		s.say(area, unit.Area), s.say(c, unit.Share), s.say(s.num("filter"), unit.Share), s.say(year, unit.Volume), s.say(asked, unit.Volume))
	s.step("Month by month what is lacking adds up and what is over pays it back, twice round the year; the deepest lack is the store.")
	return nil
}

func noFailSum() Sum {
	return Sum{
		Name: "no-fail-store", Title: "Store without failure", Group: Water,
		About: "The smallest store that carries a steady draft through a record that comes round again. Any equal steps of time.",
		Inputs: []Input{
			list("inflow", "what comes in, step by step", unit.Volume, 2, 1200, 0, 1e12),
			amount("draft", "what is drawn in each step", unit.Volume, "", 0, 1e12),
		},
		Source:   "Loucks and van Beek, Water Resource Systems Planning and Management, sequent peak; Rippl (1883)",
		Cautions: []string{"A record without its worst drought gives a tank that is too small."},
		Example: Example{
			Given:   []Pair{{"inflow", "1, 3, 3, 5, 8, 6, 7, 2, 1"}, {"draft", "3.5"}},
			Printed: []Printed{{"store", "7.5", 7.5, 1e-9}},
			Source:  "Loucks and van Beek, Table 11.2 (inputs printed, store computed)",
		},
		do: func(s *sheet) error {
			k := water.SequentPeak(s.list("inflow"), []float64{s.num("draft")})
			if math.IsInf(k, 1) {
				s.word("store", "none is enough: the record brings less than is drawn")
			} else {
				s.line("store", k, unit.Volume)
			}
			s.step("Over %d steps, twice round, K = max(0, K + %s - inflow); the store is the largest K.", len(s.list("inflow")), s.say(s.num("draft"), unit.Volume))
			return nil
		},
	}
}

func tankLevelSum() Sum {
	return Sum{
		Name: "tank-level", Title: "Litres from a dipped level", Group: Water,
		About: "Water in a standing drum, a drum on its side or a box, from the depth on the dipstick. Inside lengths: diameter and height of a standing drum, diameter and length of a lying one, length, width and height of a box.",
		Inputs: []Input{
			choice("shape", "how the tank stands", "upright", "upright", "lying", "box"),
			amount("depth", "water on the dipstick", unit.Length, "", 0, 30),
			maybe(amount("diameter", "of a drum", unit.Length, "", 0.05, 30)),
			maybe(amount("length", "of a lying drum or a box", unit.Length, "", 0.05, 100)),
			maybe(amount("width", "of a box", unit.Length, "", 0.05, 100)),
			maybe(amount("height", "of a standing drum or a box", unit.Length, "", 0.05, 30)),
		},
		Source: "geometry",
		Example: Example{
			Given:   []Pair{{"shape", "upright"}, {"diameter", "0.57 m"}, {"height", "0.85 m"}, {"depth", "0.8 m"}},
			Printed: []Printed{{"water", "204 L", 204, 0.5}},
			Source:  "a drum 0.57 m wide (computed)",
		},
		do: tankLevel,
	}
}

func tankLevel(s *sheet) error {
	kind := map[string]water.Kind{"upright": water.Upright, "lying": water.Lying, "box": water.Box}[s.text("shape")]
	keys := map[water.Kind][]string{water.Upright: {"diameter", "height"}, water.Lying: {"diameter", "length"}, water.Box: {"length", "width", "height"}}[kind]
	if !s.need("for a tank that is "+s.text("shape"), keys...) {
		return nil
	}
	tank := water.Shape{Kind: kind, Diameter: s.num("diameter"), Length: s.num("length"), Width: s.num("width"), Height: s.num("height")}
	brim := tank.Height
	if kind == water.Lying {
		brim = tank.Diameter
	}
	if s.num("depth") > brim {
		s.fault("depth", s.say(s.num("depth"), unit.Length), "is above the brim; give at most "+s.say(brim, unit.Length))
		return nil
	}
	v := tank.Volume(s.num("depth"))
	s.line("water", v, unit.Volume)
	s.line("full", tank.Full(), unit.Volume)
	s.line("filled", v/tank.Full(), unit.Share)
	s.step("At a depth of %s of %s it holds %s of %s.", s.say(s.num("depth"), unit.Length), s.say(brim, unit.Length), s.say(v, unit.Volume), s.say(tank.Full(), unit.Volume))
	return nil
}

func firstFlushSum() Sum {
	return Sum{
		Name: "first-flush", Title: "First-flush volume", Group: Water,
		About: "What a diverter should turn away before the tank, and the length of standing pipe that holds it.",
		Inputs: []Input{
			amount("area", "roof in plan", unit.Area, "", 0.1, 1e5),
			amount("depth", "run-off to turn away", unit.Depth, "0.5 mm", 0.05, 20),
			amount("pipe", "bore of the standing pipe", unit.Length, "100 mm", 0.02, 1),
		},
		Source:   "common Texas guidance, 10 gal from 1,000 ft2, rounded up to 0.5 mm (common practice)",
		Cautions: []string{water.CautionRoof, "A diverter that does not drain between rains turns away nothing: leave it a slow drip and clean it."},
		Example: Example{
			Given:   []Pair{{"area", "1000 ft2"}, {"depth", "0.41 mm"}},
			Printed: []Printed{{"turned away", "10 gal", 10 * gallon, 0.13 * gallon}},
			Source:  "common Texas guidance, 10 gal from 1,000 ft2, which is 0.41 mm",
		},
		do: func(s *sheet) error {
			v := water.Catch(s.num("depth"), s.num("area"), 1)
			tube := water.Shape{Kind: water.Upright, Diameter: s.num("pipe"), Height: 1}
			s.line("turned away", v, unit.Volume)
			s.line("length of pipe", v/tube.Full(), unit.Length)
			s.step("%s over %s is %s; the pipe holds %s.", s.say(s.num("depth"), unit.Depth), s.say(s.num("area"), unit.Area),
				s.say(v, unit.Volume), s.each(tube.Full(), unit.Volume, unit.Length))
			return nil
		},
	}
}
