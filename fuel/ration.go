package fuel

import "math"

// A Feed is what a kilogram of something fed to a digester can give.
type Feed struct {
	VS      float64 // kg of volatile solids a kg
	B0      float64 // m3 of methane a kg of VS, in the end
	K35     float64 // 1/d at 35 °C
	Methane float64 // share of methane in the gas
}

// gas is the litres of gas that a kg gives in the end.
func (f Feed) gas() float64 {
	m3, _ := GasOf(f.VS, f.B0, f.Methane)
	return 1000 * m3
}

// NextDay returns the litres of gas (0 °C, dry) that a kg fed today gives by this time
// tomorrow, in slurry at tempC.
func (f Feed) NextDay(tempC float64) float64 { return f.gas() * GasStep(1, f.K35, tempC, 1) }

// Steady returns the litres of gas a day for each kg a day of a feed kept up, in a
// stirred tank of days of retention at tempC.
func (f Feed) Steady(tempC, retention float64) float64 {
	return f.gas() * Mixed(1, Rate(f.K35, tempC), retention)
}

// A Ration is what to feed today.
type Ration struct {
	Kg    float64 // today
	Most  float64 // kg that the slurry takes in a day at its temperature
	Short float64 // L of gas that will still be wanting tomorrow
}

// RationFor returns the feed whose gas, with what is in the bag and what the slurry
// gives by itself by tomorrow (ready), comes to wanted litres; liquid is litres of
// slurry at tempC. No more than LoadLimit is fed: gas from one day's feed comes over
// weeks, so what is short tomorrow is made up by another fuel, never by overfeeding.
func RationFor(f Feed, wanted, ready, liquid, tempC float64) Ration {
	r := Ration{}
	if f.VS > 0 {
		r.Most = LoadLimit(tempC) * liquid / 1000 / f.VS
	}
	each := f.NextDay(tempC)
	lack := max(0, wanted-ready)
	if lack > 0 && each > 0 {
		r.Kg = min(r.Most, lack/each)
	}
	r.Short = max(0, lack-r.Kg*each)
	return r
}

// BurnerMinutes returns the minutes that litres of gas feed burners of flow [L/h].
func BurnerMinutes(litres, flow float64) float64 {
	if !(flow > 0) {
		return 0
	}
	return 60 * max(0, litres) / flow
}

// Usual stove and bag pressures [Pa]: 75 mm of water at the stove, 5-20 mm in a bag
// without weights, 50-100 with them (from memory; 1 mm is 9.807 Pa).
const (
	MMWater   = 9.807
	StovePa   = 75 * MMWater
	BareBagPa = 12.5 * MMWater
)

// gasEquals is the gas [m3] that replaces a unit of another fuel in use (GTZ 1993).
var gasEquals = map[string]float64{"wood": 0.2, "charcoal": 0.5, "kerosene": 2.0, "bottle": 1 / 0.4}

// GasFor returns the digester gas [m3] that does the work of a kg of wood, charcoal or
// bottled gas, or a litre of kerosene (GTZ 1993; bottled gas: a training manual); ok is
// false for another fuel.
func GasFor(fuel string) (m3 float64, ok bool) {
	m3, ok = gasEquals[fuel]
	return m3, ok
}

// StoreDays returns the days that a store [kg] of so many MJ/kg meets a heat in the
// pot [MJ/d] at an efficiency; +Inf where none is asked.
func StoreDays(kg, perKg, efficiency, daily float64) float64 {
	if !(daily > 0) {
		return math.Inf(1)
	}
	return max(0, kg) * perKg * efficiency / daily
}
