package larder

import "math"

// Dryer and tray, for drying times.
const (
	dryerTemp = 60.0 // °C at which the table's hours hold (University of Georgia)
	trayGain  = 8.0  // K that a dark tray in full sun stands above the air (common practice)
	sunHours  = 8.0  // h of the day in which it does (common practice)

	// SunAt is the least daily maximum, °C, at which fruit is dried in the sun
	// (University of Georgia). Vegetables and meat are not.
	SunAt = 30.0
)

// vapour is the saturation vapour pressure in kPa at a temperature in °C.
// Source: FAO-56 eq. 11.
func vapour(t float64) float64 { return 0.6108 * math.Exp(17.27*t/(t+237.3)) }

// SunDays returns the days of sun that fruit takes which is dry after so many
// hours in a dryer at 60 °C, at a usual day's highest and lowest temperature in
// °C. Drying goes as the air's thirst, its saturation deficit, with the dew point
// at the night's minimum (FAO-56) and a tray 8 K above the air for 8 hours a day:
// an estimate of common practice, for the fruit tells when it is dry. It is
// false under 30 °C, where fruit spoils before it dries.
func SunDays(dryerHours, tmax, tmin float64) (days float64, ok bool) {
	if !(tmax >= SunAt) || !(dryerHours > 0) {
		return 0, false
	}
	dew := vapour(min(tmin, tmax))
	thirst := vapour(tmax+trayGain) - dew
	return dryerHours * (vapour(dryerTemp) - dew) / thirst / sunHours, true
}
