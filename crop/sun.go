package crop

import "math"

// sunWarms is what a MJ/m2 of sun a day above the air warms bare soil by, °C:
// 1 to 2 °C from March to June in middle latitudes. Common practice (1-3 °C).
const sunWarms = 0.05

// SoilWarmth returns the temperature [°C] of bare soil at sowing depth from the
// mean of the air over the ten days before [°C] and the sun's radiation outside
// the air [MJ/m2 d, see Extraterrestrial]. Mulch and wet soil are 1-3 °C cooler.
// Source: the running mean is that of Zheng, Hunt and Running (1993), Climate
// Research 2: 183-191 (11 days, for 10 cm); the sun's part is common practice.
func SoilWarmth(air, ra float64) float64 { return air + sunWarms*ra }

// SoilWave returns the temperature [°C] at a depth [m] of soil whose surface
// follows a yearly wave of a mean and amplitude [°C] warmest on a day of the year,
// with the damping depth [m, about 2 in moist loam]: the wave shrinks by e and
// lags 58 days for each damping depth. Source: Hillel (1982), Introduction to soil
// physics; Campbell and Norman (1998), eq. 2.4.
func SoilWave(mean, amplitude, depth, damping, warmest, yearday float64) float64 {
	z := depth / damping
	return mean + amplitude*math.Exp(-z)*math.Cos(2*math.Pi*(yearday-warmest)/yearDays-z)
}

// Extraterrestrial returns the sun's radiation outside the air [MJ/m2 d] at a
// latitude [degrees, south negative] on a day of the year. Source: FAO-56 eq. 21.
func Extraterrestrial(lat float64, yearday int) float64 {
	ws, phi, dec := sunset(lat, yearday)
	dr := 1 + 0.033*math.Cos(turn(yearday))
	return 24 * 60 / math.Pi * 0.0820 * dr *
		(ws*math.Sin(phi)*math.Sin(dec) + math.Cos(phi)*math.Cos(dec)*math.Sin(ws))
}

// Daylength returns the hours from sunrise to sunset. Source: FAO-56 eq. 34.
func Daylength(lat float64, yearday int) float64 {
	ws, _, _ := sunset(lat, yearday)
	return 24 / math.Pi * ws
}

// sunset returns the sunset hour angle, latitude and declination [rad]. Source:
// FAO-56 eq. 22, 24 and 25.
func sunset(lat float64, yearday int) (ws, phi, dec float64) {
	phi = lat * math.Pi / 180
	dec = 0.409 * math.Sin(turn(yearday)-1.39)
	return math.Acos(clamp(-math.Tan(phi)*math.Tan(dec), -1, 1)), phi, dec
}

func turn(yearday int) float64 { return 2 * math.Pi * float64(yearday) / yearDays }
