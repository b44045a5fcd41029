package fuel

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// LeastSun is the sun below which a box cooker cooks nothing [MJ/m2 a day], about three
// hours of full sun (common practice).
const LeastSun = 10.0

// BoxCooker returns the useful heat [MJ/d] of a sun box of an aperture [m2] and efficiency
// [share] on a day with sun [MJ/m2], nothing under LeastSun: a pot that is not brought to a
// safe heat is not half a meal.
func BoxCooker(aperture, efficiency, sun float64) float64 {
	if !(sun >= LeastSun) {
		return 0
	}
	return aperture * efficiency * sun
}

// CookerPower returns the power [W] of an interval of a sun cooker test: kg of water
// warmed from t1 to t2 [°C] in seconds.
//
//	P = (T2 - T1) M 4186 / 600, for ten minutes
//
// ASAE S580.
func CookerPower(kg, t1, t2, seconds float64) float64 { return (t2 - t1) * kg * waterHeat / seconds }

// Standardised returns power scaled from irradiance [W/m2] to 700 W/m2 (ASAE S580).
func Standardised(power, irradiance float64) float64 { return power * 700 / irradiance }

// CookerRating is the line of standardised power [W] on water less air temperature [K].
type CookerRating struct {
	Slope, Intercept float64 // W/K, W
	R2               float64
	At50             float64 // W at 50 K, the figure to report
}

// RateCooker fits the line of a sun cooker test: diff [K] and power [W] of each interval.
// ASAE S580 wants 30 intervals over three days and an R2 of 0.75 (from memory); fewer than
// three, unequal or unvaried values are an error.
func RateCooker(diff, power []float64) (CookerRating, error) {
	if len(diff) != len(power) || len(diff) < 3 {
		return CookerRating{}, fmt.Errorf("rate cooker: %d differences and %d powers; give three or more of each", len(diff), len(power))
	}
	a, b := stat.LinearRegression(diff, power, nil, false)
	r := CookerRating{b, a, stat.RSquared(diff, power, nil, a, b), a + 50*b}
	if math.IsNaN(r.At50) || math.IsInf(r.At50, 0) {
		return CookerRating{}, errors.New("rate cooker: the temperature differences are all alike or not numbers")
	}
	return r, nil
}
