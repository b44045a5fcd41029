package crop

import "math"

// Progress moves the fraction of the season on by a day's degree days over the
// need [°C d], held to 1. With a need in days, pass 1 for the day. An unknown or
// zero need leaves the fraction as it is.
func Progress(frac, gdd, need float64) float64 {
	if !(need > 0) {
		return frac
	}
	return math.Min(frac+math.Max(gdd, 0)/need, 1)
}

// onceOver is the longest span [days] picked at an even rate; longer pickings
// swell and fade.
const onceOver = 10

// HarvestShape returns the share of a crop picked on a day of its span, counted
// from 0; over the span the shares sum to 1. Spans up to 10 days are even, longer
// ones a triangle that peaks in the middle. Common practice.
func HarvestShape(day, span float64) float64 {
	if !(span > 1) {
		span = 1
	}
	return picked((day+1)/span, span) - picked(day/span, span)
}

// picked is the share picked by a share of the span.
func picked(x, span float64) float64 {
	x = clamp(x, 0, 1)
	switch {
	case span <= onceOver:
		return x
	case x < 0.5:
		return 2 * x * x
	}
	return 1 - 2*(1-x)*(1-x)
}

// SoilTemp returns the soil temperature at 5-10 cm [°C] from the trailing mean of
// air temperature over SoilDays: mulched soil is 2 °C cooler. Common practice:
// bare dark soil runs 1-3 °C warmer in spring sun, mulched 1-3 °C cooler.
func SoilTemp(trail float64, mulched bool) float64 {
	if mulched {
		return trail - 2
	}
	return trail
}
