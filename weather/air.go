package weather

import "math"

// Pressure returns the mean air pressure [kPa] at an elevation [m]. FAO-56 eq. 7.
func Pressure(elev float64) float64 { return 101.3 * math.Pow((293-0.0065*elev)/293, 5.26) }

// Psychrometric returns the psychrometric constant [kPa/°C] at a pressure [kPa]. FAO-56 eq. 8.
func Psychrometric(pressure float64) float64 { return 0.665e-3 * pressure }

// MeanTemp returns the mean of the day's extremes [°C]. FAO-56 eq. 9.
func MeanTemp(tmin, tmax float64) float64 { return (tmax + tmin) / 2 }

// Saturation returns the saturation vapour pressure [kPa] at t [°C]. FAO-56 eq. 11.
// With the dew point for t it is the actual vapour pressure, eq. 14.
func Saturation(t float64) float64 { return 0.6108 * math.Exp(17.27*t/(t+237.3)) }

// MeanSaturation returns the day's saturation vapour pressure [kPa], the mean of
// those at its extremes [°C]. FAO-56 eq. 12.
func MeanSaturation(tmin, tmax float64) float64 { return (Saturation(tmax) + Saturation(tmin)) / 2 }

// SaturationSlope returns the slope of the saturation curve [kPa/°C] at t [°C]. FAO-56 eq. 13.
func SaturationSlope(t float64) float64 {
	return 4098 * Saturation(t) / ((t + 237.3) * (t + 237.3))
}

// Coefficients of a psychrometer [1/°C], FAO-56 eq. 16.
const (
	Ventilated          = 0.000662 // Asmann type, air at 5 m/s
	NaturallyVentilated = 0.000800 // about 1 m/s
	Indoor              = 0.001200 // still air
)

// VapourFromBulbs returns the actual vapour pressure [kPa] from dry and wet bulb
// [°C], the coefficient of the psychrometer and the pressure [kPa]. FAO-56 eq. 15.
func VapourFromBulbs(dry, wet, coefficient, pressure float64) float64 {
	return Saturation(wet) - coefficient*pressure*(dry-wet)
}

// VapourFromHumidity returns the actual vapour pressure [kPa] from the day's
// extremes of temperature [°C] and relative humidity [%]. FAO-56 eq. 17.
func VapourFromHumidity(tmin, tmax, rhMin, rhMax float64) float64 {
	return (Saturation(tmin)*rhMax + Saturation(tmax)*rhMin) / 200
}

// VapourFromMaxHumidity returns the actual vapour pressure [kPa] from the least
// temperature [°C] and the greatest relative humidity [%]. FAO-56 eq. 18.
func VapourFromMaxHumidity(tmin, rhMax float64) float64 { return Saturation(tmin) * rhMax / 100 }

// VapourFromMeanHumidity returns the actual vapour pressure [kPa] from mean
// relative humidity [%]. FAO-56 eq. 19.
func VapourFromMeanHumidity(tmin, tmax, rhMean float64) float64 {
	return rhMean / 100 * MeanSaturation(tmin, tmax)
}

// DewPoint returns the dew point [°C] taken when no humidity is known: the least
// temperature, or 2.5 °C below it where the air is dry. FAO-56 eq. 48, p. 58
// (2 to 3 °C below).
func DewPoint(tmin float64, arid bool) float64 {
	if arid {
		return tmin - 2.5
	}
	return tmin
}

// WindAt2m returns the wind [m/s] at 2 m from the wind at another height [m]. FAO-56 eq. 47.
func WindAt2m(wind, height float64) float64 { return wind * 4.87 / math.Log(67.8*height-5.42) }
