// Package unit reads and prints amounts. Inside, every amount is SI as package
// stead writes it (litres, square metres, kilograms and so on, shares 0 to 1);
// at the edges people write "275 gal", "2.5 kg/week" or "1 1/2 cups". A gallon
// is the US liquid gallon unless it is called imperial.
//
// It leaves out dates (package day), money and units of diet such as the
// microgram. Factors are those of NIST Special Publication 811 (Thompson and
// Taylor, 2008), appendix B, and NIST Handbook 44, appendix C; each is exact
// unless its line says otherwise.
package unit

import "strings"

// A Kind is what an amount measures. Its SI unit is the one Symbol names.
type Kind string

// The kinds of amount, with the unit each is held in.
const (
	Angle       Kind = "angle"       // degrees, north and east positive
	Length      Kind = "length"      // m
	Area        Kind = "area"        // m2
	Volume      Kind = "volume"      // L
	Mass        Kind = "mass"        // kg
	Temperature Kind = "temperature" // °C
	Depth       Kind = "depth"       // mm of rain
	Energy      Kind = "energy"      // MJ
	Power       Kind = "power"       // W
	Time        Kind = "time"        // h
	Flow        Kind = "flow"        // L a day
	MassRate    Kind = "massrate"    // kg a day
	ArealMass   Kind = "arealmass"   // kg/m2
	Speed       Kind = "speed"       // m/s
	Share       Kind = "share"       // 0 to 1
	Number      Kind = "number"      // no unit
)

// A System is the family of units amounts are printed in.
type System int

// The two systems.
const (
	Metric System = iota
	US
)

// A measure is one way to write a unit.
type measure struct {
	word   string
	factor float64 // SI units in one of it
	offset float64 // SI value of its zero; temperatures only
}

// Kinds lists every kind.
func Kinds() []Kind {
	return []Kind{Angle, Length, Area, Volume, Mass, Temperature, Depth, Energy,
		Power, Time, Flow, MassRate, ArealMass, Speed, Share, Number}
}

// Symbol returns the symbol of the SI unit of k, "" for a number and an angle.
func Symbol(k Kind) string {
	if k == Share || k == Angle || k == Number {
		return ""
	}
	return strings.Fields(usual[k])[0]
}

// Units returns the symbols usually written for a kind, the SI unit first.
func Units(k Kind) []string {
	if k == Number {
		return nil
	}
	var out []string
	for _, w := range strings.Fields(usual[k]) {
		out = append(out, strings.ReplaceAll(w, "_", " "))
	}
	return out
}

// usual names the units offered in messages; a blank inside one is written _.
var usual = map[Kind]string{
	Angle:       "N S E W °",
	Length:      "m mm cm km in ft yd mi",
	Area:        "m2 ha ft2 yd2 acre",
	Volume:      "L mL m3 gal qt pt cup fl_oz imp_gal",
	Mass:        "kg g t lb oz",
	Temperature: "°C °F",
	Depth:       "mm cm in",
	Energy:      "MJ kJ kWh Wh kcal Btu",
	Power:       "W kW hp",
	Time:        "h min day week",
	Flow:        "L/day L/h L/week gal/day",
	MassRate:    "kg/day kg/week kg/month kg/year lb/week",
	ArealMass:   "kg/m2 g/m2 t/ha lb/ft2 oz/ft2",
	Speed:       "m/s km/h mph",
	Share:       "%",
}

// noun is the kind as a message names it.
func (k Kind) noun() string {
	switch k {
	case Depth:
		return "depth of rain"
	case Flow:
		return "flow (volume over time)"
	case MassRate:
		return "mass over time"
	case ArealMass:
		return "mass over area"
	}
	return string(k)
}
