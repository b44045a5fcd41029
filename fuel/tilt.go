package fuel

import "math"

// A Plane is a tilted surface: Slope from flat and Azimuth of its face clockwise from
// north [degrees].
type Plane struct{ Slope, Azimuth float64 }

// CosIncidence returns the cosine of the angle between the sun and the plane's face for a
// sun at an elevation and azimuth [degrees]; negative when it shines on the back.
func (p Plane) CosIncidence(elevation, azimuth float64) float64 {
	el, b := elevation*rad, p.Slope*rad
	return math.Sin(el)*math.Cos(b) + math.Cos(el)*math.Sin(b)*math.Cos((azimuth-p.Azimuth)*rad)
}

// SolarPlace returns the true elevation and azimuth [degrees] of the sun at a latitude
// [degrees], declination [rad] and solar hour (12 at its highest).
func SolarPlace(latitude, decl, solarHour float64) (elevation, azimuth float64) {
	lat, h := latitude*rad, (solarHour-12)*15*rad
	el := math.Asin(math.Sin(lat)*math.Sin(decl) + math.Cos(lat)*math.Cos(decl)*math.Cos(h))
	az := math.Atan2(math.Sin(h), math.Cos(h)*math.Sin(lat)-math.Tan(decl)*math.Cos(lat)) + math.Pi
	return el / rad, az / rad
}

// HourRatio returns beam radiation on the plane over that on the flat for a sun at an
// elevation and azimuth [degrees]: cos(incidence)/cos(zenith), 0 from behind or under the
// horizon.
func (p Plane) HourRatio(elevation, azimuth float64) float64 {
	if elevation <= 0 {
		return 0
	}
	return max(0, p.CosIncidence(elevation, azimuth)) / math.Sin(elevation*rad)
}

// DayRatio returns HourRatio over a whole day for a plane that faces the equator, at a
// latitude and slope [degrees] and declination [rad].
//
//	[cos(lat - b) cos d sin ws' + ws' sin(lat - b) sin d] / [cos lat cos d sin ws + ws sin lat sin d]
//
// with ws' the earlier sunset of plane and flat. Liu and Jordan 1962 in Duffie and Beckman
// (from memory); the south is mirrored. 0 in polar night.
func DayRatio(latitude, slope, decl float64) float64 {
	lat, b := latitude*rad, slope*rad
	if lat < 0 {
		lat, decl = -lat, -decl
	}
	ws := SunsetAngle(lat, decl)
	if ws == 0 {
		return 0
	}
	wt := min(ws, SunsetAngle(lat-b, decl))
	return max(0, dayBeam(lat-b, decl, wt)/dayBeam(lat, decl, ws))
}

func dayBeam(lat, decl, ws float64) float64 {
	return math.Cos(lat)*math.Cos(decl)*math.Sin(ws) + ws*math.Sin(lat)*math.Sin(decl)
}

// Tilted returns radiation on a plane of a slope [degrees], in the unit of beam and diffuse on
// the flat, with ratio for the beam and the ground's albedo, for a sky equally bright all over.
//
//	Ib Rb + Id (1 + cos b)/2 + (Ib + Id) albedo (1 - cos b)/2
//
// Liu and Jordan.
func Tilted(beam, diffuse, ratio, slope, albedo float64) float64 {
	c := math.Cos(slope * rad)
	return beam*ratio + diffuse*(1+c)/2 + (beam+diffuse)*albedo*(1-c)/2
}

// DiffuseShare returns the diffuse share of a month's mean day from its clearness K
// (radiation over that above the air) and sunset angle ws [rad].
//
//	ws up to 81.4°: 1.391 - 3.560 K + 4.189 K² - 2.137 K³
//	above:          1.311 - 3.022 K + 3.427 K² - 1.821 K³
//
// Erbs et al. 1982 in Duffie and Beckman (from memory), for K from 0.3 to 0.8; K outside
// counts as the nearer end.
func DiffuseShare(clearness, ws float64) float64 {
	k := min(0.8, max(0.3, clearness))
	if ws <= 81.4*rad {
		return 1.391 - k*(3.560-k*(4.189-k*2.137))
	}
	return 1.311 - k*(3.022-k*(3.427-k*1.821))
}

// TiltedDay returns radiation [MJ/m2/d] on a plane facing the equator at a slope [degrees]
// from flat [MJ/m2/d], at a latitude [degrees] on a day of the year, over ground of albedo.
func TiltedDay(flat, latitude, slope, albedo float64, yearDay int) float64 {
	above := AboveAir(latitude, yearDay)
	if above == 0 || !(flat > 0) {
		return 0
	}
	d := Declination(yearDay)
	diffuse := flat * DiffuseShare(flat/above, SunsetAngle(latitude*rad, d))
	return Tilted(flat-diffuse, diffuse, DayRatio(latitude, slope, d), slope, albedo)
}
