package fuel

import "math"

// HoursAbove returns the hours of a day that the sun stands higher than an elevation
// [degrees] at a latitude [degrees, south negative] on a day of the year.
//
//	2/15 acos[(sin e - sin lat sin d) / (cos lat cos d)] in degrees
func HoursAbove(latitude, elevation float64, yearDay int) float64 {
	lat, d := latitude*rad, Declination(yearDay)
	c := (math.Sin(elevation*rad) - math.Sin(lat)*math.Sin(d)) / (math.Cos(lat) * math.Cos(d))
	return DayLength(math.Acos(min(1, max(-1, c))))
}

// NoonHeight returns the sun's greatest elevation [degrees] on a day of the year; below
// 0 it does not rise.
func NoonHeight(latitude float64, yearDay int) float64 {
	return 90 - math.Abs(latitude-Declination(yearDay)/rad)
}

// SunDays counts the days of a course of radiation [MJ/m2/d] on which a sun box cooks:
// LeastSun or more.
func SunDays(sun []float64) (days int) {
	for _, s := range sun {
		if s >= LeastSun {
			days++
		}
	}
	return days
}

// A Lamp is a panel [W], a battery [MJ usable] and a load [W] lit for hours a day.
type Lamp struct {
	Panel, Battery, Load, Hours float64
}

// Through carries the lamp through a course of radiation [MJ/m2/d] from a full battery,
// by LightStep at Derate. It returns the share of the hours lit and the longest run of
// days not lit in full.
func (l Lamp) Through(sun []float64) (lit float64, longest int) {
	charge, run, hours := l.Battery, 0, 0.0
	for _, s := range sun {
		var h float64
		charge, h = LightStep(charge, l.Panel, SunHours(s), Derate, l.Load, l.Hours, l.Battery)
		hours += h
		if run++; h >= l.Hours {
			run = 0
		}
		longest = max(longest, run)
	}
	if !(l.Hours > 0) || len(sun) == 0 {
		return 1, 0
	}
	return hours / (l.Hours * float64(len(sun))), longest
}

// Dark returns the days that a full battery lights the lamp without any sun; +Inf
// without a load.
func (l Lamp) Dark() float64 {
	return l.Battery / (l.Load * l.Hours * wattHour)
}
