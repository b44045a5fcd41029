package fuel

import "math"

// WetBulb returns the wet-bulb temperature [°C] of air at tempC and a relative
// humidity [share] near sea level: Stull 2011, eq. 1, from memory, to about 1 °C for
// 0.05 to 0.99 and -20 to 50 °C. Humidity outside 0.05 to 0.99 counts as the nearer end.
func WetBulb(tempC, rh float64) float64 {
	h := 100 * min(0.99, max(0.05, rh))
	return tempC*math.Atan(0.151977*math.Sqrt(h+8.313659)) + math.Atan(tempC+h) - math.Atan(h-1.676331) +
		0.00391838*math.Pow(h, 1.5)*math.Atan(0.023101*h) - 4.686035
}

// PotCooler returns the temperature [°C] inside a wetted clay pot in moving air.
//
//	T = Tdry - e (Tdry - Twet), e 0.6-0.8, 0.7 taken
//
// MIT D-Lab guides 2018, from memory. It is of use in dry heat alone, and never for meat,
// milk or cooked food.
func PotCooler(tempC, rh float64) float64 {
	return tempC - potWorks*max(0, tempC-WetBulb(tempC, rh))
}

const potWorks = 0.7

// Humidity returns the relative humidity [share] of air at tempC whose dew point is dew
// [°C], never over 1. Where no humidity is measured the night's least temperature stands
// for the dew point (Allen et al. 1998, FAO-56 eq. 48).
func Humidity(tempC, dew float64) float64 {
	es := func(t float64) float64 { return 0.6108 * math.Exp(17.27*t/(t+237.3)) }
	return min(1, es(dew)/es(tempC))
}
