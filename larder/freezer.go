package larder

import "math"

const (
	cabinet   = -18.0 // °C, set point (USDA)
	labelRoom = 25.0  // °C at which a label's daily figure is taken to hold
	gapK      = 10.0  // K from cabinet to evaporator and from room to condenser
	mjPerKWh  = 3.6
)

// FreezerPacking is the kg of food that a litre of freezer holds, 35 lb/ft3
// (Fraser and Lackey 2004); other guides print 25 to 40 lb/ft3.
const FreezerPacking = 0.56

// FreezeRate is the most food in kg per litre of freezer to put in warm within a
// day, 3 lb/ft3 (University of Georgia, from memory).
const FreezeRate = 0.048

// ChestLabel returns the MJ a day that a full-size chest freezer of so many
// litres may use at most by US rule: 7.29 AV + 107.8 kWh a year, AV = 1.76 times
// its volume in ft3 (10 CFR 430.32, class 10; adjusted volume from memory). It
// holds from 220 L; low chests below that have a class of their own, near 10 %
// above. Use the label where there is one.
func ChestLabel(litres float64) float64 {
	av := 1.76 * litres / 28.3168
	return (7.29*av + 107.8) * mjPerKWh / 365
}

// FreezerDaily returns the MJ a day that a freezer uses in a room of the given
// °C when its label says so many MJ a day at 25 °C. Heat leaks in with room less
// cabinet, and each unit of it costs work in line with the lift from evaporator
// to condenser, taken 10 K beyond cabinet and room (common practice). A room at
// the cabinet's temperature or colder costs nothing.
func FreezerDaily(label, roomTemp float64) float64 {
	leak := max(0, roomTemp-cabinet)
	lift := leak + 2*gapK
	return label * leak * lift / ((labelRoom - cabinet) * (labelRoom - cabinet + 2*gapK))
}

// FreezerHold returns the hours by which to act after the current stops, lid
// shut: 48 full, 24 half full (USDA), in proportion between and below. A room
// warmer than 25 °C shortens it with the leak of heat, and a chest under 200 L
// with the cube root of its litres, as wall grows against volume (common
// practice). Nothing lengthens it.
func FreezerHold(fillShare, litres, roomTemp float64) (hours float64) {
	full := min(max(fillShare, 0), 1)
	warm := min(1, (labelRoom-cabinet)/max(roomTemp-cabinet, 1))
	small := min(1, math.Cbrt(max(litres, 0)/200))
	return 48 * full * warm * small
}

// FreezeHeat returns the MJ to take out of kg of moist food from a temperature
// in °C above freezing down to -18: 3.7 kJ/kg K, 270 kJ/kg, 2.0 kJ/kg K (common
// properties, from memory).
func FreezeHeat(kg, fromC float64) float64 { return kg * (3.7*fromC + 270 + 2.0*18) / 1000 }

// Fate is what to do with thawed food.
type Fate string

// The published answers after a power cut.
const (
	Refreeze Fate = "refreeze"
	CookNow  Fate = "cook and eat now"
	Discard  Fate = "discard"
)

// Thaw returns what to do with perishable food after a power cut. Refreeze it
// when ice crystals remain or it is at 4 °C or colder; discard it when it was
// above 4 °C for two hours (USDA). Between the two it is cooked and eaten at
// once (common practice). Pass NaN for a temperature or time that nobody
// measured: without ice such food is discarded, never tasted.
func Thaw(ice bool, tempC, hoursAbove4 float64) Fate {
	switch {
	case ice || tempC <= 4:
		return Refreeze
	case !math.IsNaN(tempC) && hoursAbove4 < 2:
		return CookNow
	}
	return Discard
}
