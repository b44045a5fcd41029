package fuel

import "math"

// SunCost returns what a panel and its batteries cost over years, in the coin of
// the prices: the first battery comes with the panel's price apart, and another
// each time batteryYears have run out before the end. Without a life of the
// battery (0) one serves throughout. (Arithmetic.)
func SunCost(panel, battery, batteryYears, years float64) float64 {
	n := 1.0
	if batteryYears > 0 {
		n = max(1, math.Ceil(years/batteryYears-1e-9))
	}
	return panel + n*battery
}

// CordCost returns what a cord and the current through it cost over years, from
// the cord, the price of a kWh and the use [kWh a day]. (Arithmetic.)
func CordCost(cord, price, daily, years float64) float64 {
	return cord + price*daily*365.25*years
}
