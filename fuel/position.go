package fuel

import (
	"math"

	"evenstead/day"
)

// A Sun is where the sun stands at one moment. Angles are degrees.
type Sun struct {
	Declination float64
	Equation    float64 // min, true less mean solar time
	Distance    float64 // astronomical units
	HourAngle   float64 // west positive
	Elevation   float64 // above the horizon, as seen through the air
	Azimuth     float64 // clockwise from north
}

// Zenith returns the angle from straight overhead.
func (s Sun) Zenith() float64 { return 90 - s.Elevation }

// SunAt returns the sun at a latitude and longitude [degrees, north and east positive] at
// utc hours of a day; hours may run past 0 to 24.
//
// Low-precision theory of Meeus 1998, Astronomical Algorithms, ch. 25 and 28, as in NOAA's
// solar calculation sheets (from memory): within 0.01° from 1900 to 2100, refraction for
// sea-level air at 10 °C.
func SunAt(latitude, longitude float64, d day.Day, utc float64) Sun {
	o := orbitAt((float64(d) + utc/24 + 2440587.5 - 2451545) / 36525)
	h := math.Mod(utc*15+o.equation/4+longitude, 360)
	if h < 0 {
		h += 360
	}
	h -= 180
	s := Sun{Declination: o.declination / rad, Equation: o.equation, Distance: o.distance, HourAngle: h}
	lat, ha := latitude*rad, h*rad
	sinEl := math.Sin(lat)*math.Sin(o.declination) + math.Cos(lat)*math.Cos(o.declination)*math.Cos(ha)
	s.Elevation = math.Asin(min(1, max(-1, sinEl))) / rad
	s.Azimuth = math.Atan2(math.Sin(ha), math.Cos(ha)*math.Sin(lat)-math.Tan(o.declination)*math.Cos(lat))/rad + 180
	s.Elevation += refraction(s.Elevation)
	return s
}

// orbit is the sun as seen from the middle of the earth.
type orbit struct {
	declination float64 // rad
	equation    float64 // min
	distance    float64 // AU
}

// orbitAt follows Meeus ch. 25: mean longitude and anomaly, equation of the centre, apparent
// longitude, and the equation of time of ch. 28, at t Julian centuries from J2000.
func orbitAt(t float64) orbit {
	l := (280.46646 + t*(36000.76983+t*0.0003032)) * rad
	m := (357.52911 + t*(35999.05029-t*0.0001537)) * rad
	e := 0.016708634 - t*(0.000042037+t*0.0000001267)
	c := (math.Sin(m)*(1.914602-t*(0.004817+t*0.000014)) +
		math.Sin(2*m)*(0.019993-t*0.000101) + math.Sin(3*m)*0.000289) * rad
	node := (125.04 - 1934.136*t) * rad
	long := l + c - (0.00569+0.00478*math.Sin(node))*rad
	tilt := (23.4392911 - t*(0.0130042+t*(0.00000016-t*0.000000504)) + 0.00256*math.Cos(node)) * rad
	y := math.Pow(math.Tan(tilt/2), 2)
	eq := y*math.Sin(2*l) - 2*e*math.Sin(m) + 4*e*y*math.Sin(m)*math.Cos(2*l) -
		y*y/2*math.Sin(4*l) - 1.25*e*e*math.Sin(2*m)
	return orbit{
		declination: math.Asin(math.Sin(tilt) * math.Sin(long)),
		equation:    4 * eq / rad,
		distance:    1.000001018 * (1 - e*e) / (1 + e*math.Cos(m+c)),
	}
}

// refraction returns how far the air lifts a body at a true elevation, both in degrees:
// Sæmundsson's form in Meeus ch. 16 (from memory), nothing far under the horizon.
func refraction(elevation float64) float64 {
	if elevation < -1 {
		return 0
	}
	return 1.02 / 60 / math.Tan((elevation+10.3/(elevation+5.11))*rad)
}

// riseAngle is the true zenith of the sun's middle when its upper edge shows: 90° with 34' of
// refraction and 16' of radius (US Naval Observatory).
const riseAngle = 90 + 50.0/60

// RiseAndSet returns the hours of sunrise and sunset on a day, in local time offset hours
// from UTC (east positive), for a flat horizon; within a minute or two between 65° north and
// south. ok is false where the sun stays up or down all day.
func RiseAndSet(latitude, longitude float64, d day.Day, offset float64) (rise, set float64, ok bool) {
	rise, up := crossing(latitude, longitude, d, offset, -1)
	set, down := crossing(latitude, longitude, d, offset, 1)
	return rise, set, up && down
}

// crossing steps three times from noon to the moment at which the sun is at riseAngle before
// (side -1) or after (side 1) its highest.
func crossing(latitude, longitude float64, d day.Day, offset, side float64) (hours float64, ok bool) {
	hours = 12
	for range 3 {
		o := orbitAt((float64(d) + (hours-offset)/24 + 2440587.5 - 2451545) / 36525)
		lat := latitude * rad
		c := (math.Cos(riseAngle*rad) - math.Sin(lat)*math.Sin(o.declination)) / (math.Cos(lat) * math.Cos(o.declination))
		if !(c >= -1 && c <= 1) {
			return 0, false
		}
		hours = 12 + offset + (side*math.Acos(c)/rad-longitude)/15 - o.equation/60
	}
	return hours, true
}
