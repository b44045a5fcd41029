package weather

import "math"

// Site is where the weather falls.
type Site struct {
	Lat     float64 // degrees, north positive
	Elev    float64 // m
	Coastal bool    // within reach of sea air: Hargreaves radiation coefficient 0.19, else 0.16
}

// KRs returns the coefficient of FAO-56 eq. 50: 0.19 at the coast, 0.16 inland.
func (s Site) KRs() float64 {
	if s.Coastal {
		return 0.19
	}
	return 0.16
}

func orbit(yearDay int) float64 { return 2 * math.Pi * float64(yearDay) / 365 }

// SunDistance returns the inverse relative distance from earth to sun, about 0.967 to 1.033.
// FAO-56 eq. 23. The day of the year runs from 1 to 366; the divisor stays 365.
func SunDistance(yearDay int) float64 { return 1 + 0.033*math.Cos(orbit(yearDay)) }

// Declination returns the declination of the sun [rad]. FAO-56 eq. 24.
func Declination(yearDay int) float64 { return 0.409 * math.Sin(orbit(yearDay)-1.39) }

// SunsetHour returns the sunset hour angle [rad], 0 in the polar night to π in the
// midnight sun, at a latitude [degrees, north positive].
// FAO-56 eq. 25, its argument held to -1..1.
func SunsetHour(latDeg float64, yearDay int) float64 {
	x := -math.Tan(radians(latDeg)) * math.Tan(Declination(yearDay))
	return math.Acos(max(-1, min(1, x)))
}

// Extraterrestrial returns the sun's energy above the air [MJ m-2 d-1] at a
// latitude [degrees]. FAO-56 eq. 21; weak above 55 degrees in winter (p. 47).
func Extraterrestrial(latDeg float64, yearDay int) float64 {
	const solar = 0.0820 // MJ m-2 min-1
	φ, δ, ω := radians(latDeg), Declination(yearDay), SunsetHour(latDeg, yearDay)
	ra := 24 * 60 / math.Pi * solar * SunDistance(yearDay) *
		(ω*math.Sin(φ)*math.Sin(δ) + math.Cos(φ)*math.Cos(δ)*math.Sin(ω))
	return max(0, ra)
}

// Daylight returns the hours from sunrise to sunset. FAO-56 eq. 34.
func Daylight(latDeg float64, yearDay int) float64 {
	return 24 / math.Pi * SunsetHour(latDeg, yearDay)
}

// SunFromHours returns solar radiation [MJ m-2 d-1] from hours of bright sun n,
// the daylight hours and ra [MJ m-2 d-1]. FAO-56 eq. 35 with a = 0.25, b = 0.50.
func SunFromHours(n, daylight, ra float64) float64 { return (0.25 + 0.50*n/daylight) * ra }

// ClearSky returns solar radiation under a clear sky [MJ m-2 d-1] at an elevation
// [m]. FAO-56 eq. 37; at 0 m it is eq. 36.
func ClearSky(ra, elev float64) float64 { return (0.75 + 2e-5*elev) * ra }

// HargreavesSun returns solar radiation [MJ m-2 d-1] from the day's range of
// temperature [°C], at most the clear-sky rso. FAO-56 eq. 50; krs is 0.16 inland,
// 0.19 at the coast; not for islands.
func HargreavesSun(tmin, tmax, ra, krs, rso float64) float64 {
	return min(krs*math.Sqrt(max(0, tmax-tmin))*ra, rso)
}

// IslandSun returns the monthly mean of solar radiation [MJ m-2 d-1] on an island
// up to 20 km wide and 100 m high. FAO-56 eq. 51; for months, not days.
func IslandSun(ra float64) float64 { return 0.7*ra - 4 }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
