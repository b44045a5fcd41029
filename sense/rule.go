package sense

import (
	"time"

	"evenstead/book"
	"evenstead/unit"
)

// A Rule is what may be believed of one measure of one sort of store. Values are
// in the SI unit of the reading; of a level, in shares of what the tank holds.
type Rule struct {
	Low, High float64       // believable
	Step      float64       // a change that is believed at once
	Rate      float64       // and what it may add an hour since the last reading
	Still     time.Duration // the very same figure for so long is a stuck sensor; 0: it may stand still
	Silent    time.Duration // nothing believed for so long is told
	Never     []float64     // figures that a faulty probe is known to say
	Source    string
}

// The checks are those that automatic weather stations make, a plausible value, a
// plausible rate of change and a least variability (World Meteorological
// Organization, Guide to Instruments and Methods of Observation, WMO-No. 8,
// volume V, chapter 1; Zahumenský, Guidelines on Quality Control Procedures for
// Data from Automatic Weather Stations, 2004). Their limits are for weather;
// those here are for a household's stores, and each row says where they are from.

// probe holds what the usual digital thermometer says when it has not measured:
// 85 °C after power-up (DS18B20 data sheet, power-on reset value) and, of its
// libraries, −127 °C when it is not reached.
var probe = []float64{85, -127}

var (
	tankRule = Rule{Low: 0, High: 1.02, Step: 0.2, Rate: 0.6, Still: 14 * 24 * time.Hour, Silent: 48 * time.Hour,
		Source: "common practice: a brimful tank and a coarse stick read 2 in 100 over; a downpour seldom fills a tank in under an hour; a tank in use moves within a fortnight"}
	freezerRule = Rule{Low: -45, High: 45, Step: 8, Rate: 30, Still: 12 * time.Hour, Silent: 6 * time.Hour, Never: probe,
		Source: "common practice: household freezers run at −18 to −25 °C and swing with each run of the compressor; without current they reach the room's warmth"}
	heapRule = Rule{Low: -20, High: 82, Step: 12, Rate: 12, Still: 72 * time.Hour, Silent: 48 * time.Hour, Never: probe,
		Source: "heaps seldom pass 71 °C, above which their own life dies (Rynk, On-Farm Composting Handbook, 1992; from memory); the rest common practice"}
	slurryRule = Rule{Low: -5, High: 65, Step: 6, Rate: 3, Still: 7 * 24 * time.Hour, Silent: 48 * time.Hour, Never: probe,
		Source: "common practice: digesters work up to about 55 °C, and a body of water changes by little an hour"}
	roomRule = Rule{Low: -35, High: 55, Step: 6, Rate: 12, Still: 48 * time.Hour, Silent: 24 * time.Hour, Never: probe,
		Source: "common practice for rooms and cellars; a day without any change is no room's"}
	rainRule = Rule{Low: 0, High: 1e6, Step: 12, Rate: 305, Silent: 48 * time.Hour,
		Source: "305 mm fell within the hour at Holt, Missouri, in 1947 (World Meteorological Organization archive; from memory)"}
	hiveRule = Rule{Low: 5, High: 1000, Step: 30, Rate: 30, Still: 72 * time.Hour, Silent: 48 * time.Hour,
		Source: "common practice: a hive with its stores weighs 20 to 100 kg and moves with every day's flight; boxes are put on and taken off in one go"}
)

// sorts are the stores a measure can be of, with the rule of each.
var sorts = map[Measure][]struct {
	sort book.Sort
	rule *Rule
}{
	Level: {{book.Tank, &tankRule}},
	Temperature: {{book.Freezer, &freezerRule}, {book.Compost, &heapRule}, {book.Drum, &heapRule}, {book.Digester, &slurryRule},
		{book.Crock, &roomRule}, {book.Shelf, &roomRule}},
	Weight: {{book.Hive, &hiveRule}},
}

// tallest is the depth of water, m, that a level by depth is scaled by where the
// tank's height is not known. Common practice: house tanks are up to 2.5 m high.
const tallest = 2.5

// scale is the amount that a share of 1 of the rule stands for.
func scale(r Reading, holds float64) float64 {
	switch {
	case r.Measure != Level || r.Kind == unit.Share:
		return 1
	case r.Kind == unit.Length:
		return tallest
	case holds > 0:
		return holds
	}
	return 1e5
}

// The freezer's alarm.
const (
	// warm is the warmest frozen food should be, even in transport and display
	// (Codex Alimentarius, CAC/RCP 8-1976; from memory), °C.
	warm = -12
	// coldAgain ends the alarm, °C: 3 below, so that it does not come and go.
	coldAgain = -15
	// thawed food that was above 40 °F for over two hours is thrown away (United
	// States Department of Agriculture, Keeping Food Safe During an Emergency), °C.
	thawed = 40.0/1.8 - 32/1.8
	// warmFor lets a door and a defrosting run pass. Common practice.
	warmFor   = time.Hour
	thawedFor = 2 * time.Hour
	// ringAgain is how often an alarm that stands is told again.
	ringAgain = 6 * time.Hour
)
