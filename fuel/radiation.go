package fuel

import "math"

const rad = math.Pi / 180

// Declination returns the sun's declination [rad] on a day of the year:
// 0.409 sin(2 pi J/365 - 1.39), FAO-56 eq. 24 (from memory), to half a degree.
func Declination(yearDay int) float64 {
	return 0.409 * math.Sin(2*math.Pi*float64(yearDay)/365-1.39)
}

// DistanceFactor returns the inverse relative distance of earth and sun, squared:
// 1 + 0.033 cos(2 pi J/365), FAO-56 eq. 23 (from memory).
func DistanceFactor(yearDay int) float64 {
	return 1 + 0.033*math.Cos(2*math.Pi*float64(yearDay)/365)
}

// SunsetAngle returns the hour angle of sunset [rad] at a latitude and declination [rad]:
// acos(-tan lat tan decl), FAO-56 eq. 25 (from memory). 0 in polar night, pi in polar day.
func SunsetAngle(lat, decl float64) float64 {
	return math.Acos(min(1, max(-1, -math.Tan(lat)*math.Tan(decl))))
}

// DayLength returns the hours of daylight from the sunset angle: 24 ws/pi, FAO-56 eq. 34.
func DayLength(ws float64) float64 { return 24 * ws / math.Pi }

// AboveAir returns the radiation on a flat plane above the air [MJ/m2/d] at a latitude
// [degrees, south negative] on a day of the year.
//
//	(24 × 60/pi) 0.0820 dr [ws sin lat sin d + cos lat cos d sin ws]
//
// FAO-56 eq. 21 (from memory).
func AboveAir(latitude float64, yearDay int) float64 {
	lat, d := latitude*rad, Declination(yearDay)
	ws := SunsetAngle(lat, d)
	return max(0, 24*60/math.Pi*0.0820*DistanceFactor(yearDay)*
		(ws*math.Sin(lat)*math.Sin(d)+math.Cos(lat)*math.Cos(d)*math.Sin(ws)))
}

// ClearSky returns the radiation under a clear sky [MJ/m2/d] from that above the air at an
// altitude [m]: (0.75 + 2e-5 z) Ra, FAO-56 eq. 37 (from memory).
func ClearSky(aboveAir, altitude float64) float64 { return (0.75 + 2e-5*altitude) * aboveAir }

// ByTemperature returns radiation [MJ/m2/d] from the day's greatest and least temperature
// [°C] and that above the air: krs sqrt(Tmax - Tmin) Ra, krs 0.16 inland and 0.19 by the
// sea. Hargreaves; FAO-56 eq. 50 (from memory).
func ByTemperature(tmax, tmin, aboveAir, krs float64) float64 {
	return krs * math.Sqrt(max(0, tmax-tmin)) * aboveAir
}

// SunHours returns hours of full sun (1 kW/m2) that hold a day's radiation [MJ/m2].
func SunHours(mj float64) float64 { return mj / 3.6 }
