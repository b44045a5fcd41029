package crop

import "math"

// A Cutoff is what warmth above the upper threshold counts for.
type Cutoff int

// Cut-offs in the sense of Zalom et al. (1983).
const (
	None       Cutoff = iota // the upper threshold is not used
	Horizontal               // warmth above it counts as the threshold itself
	Vertical                 // no growth while it is warmer than the threshold
)

// SimpleAverage returns max(0, (Tmax + Tmin)/2 - L) [°C d], L the lower
// threshold. Source: Ohio State Extension AGF-101.
func SimpleAverage(tmin, tmax, lower float64) float64 {
	return math.Max(0, (tmin+tmax)/2-lower)
}

// ModifiedAverage holds both temperatures between the thresholds and then takes
// the simple average [°C d]; maize uses 10 and 30 °C. Source: Iowa State
// University, Agron 541, lesson 2b.
func ModifiedAverage(tmin, tmax, lower, upper float64) float64 {
	return (clamp(tmin, lower, upper)+clamp(tmax, lower, upper))/2 - lower
}

// SingleSine returns the degree days [°C d] of a day whose warmth runs as one
// sine between Tmin and Tmax, above the lower and within the upper threshold.
// A NaN upper threshold is no cut-off. Source: Baskerville and Emin (1969);
// Zalom et al. (1983).
func SingleSine(tmin, tmax, lower, upper float64, cut Cutoff) float64 {
	return cutoff(sineAbove, tmin, tmax, lower, upper, cut)
}

// DoubleSine is the mean of two single sines, the day's maximum with its own
// minimum and with tomorrow's. Source: Zalom et al. (1983).
func DoubleSine(tmin, tmax, tminNext, lower, upper float64, cut Cutoff) float64 {
	return (SingleSine(tmin, tmax, lower, upper, cut) + SingleSine(tminNext, tmax, lower, upper, cut)) / 2
}

// SingleTriangle is as SingleSine with straight sides. Source: Zalom et al. (1983).
func SingleTriangle(tmin, tmax, lower, upper float64, cut Cutoff) float64 {
	return cutoff(triangleAbove, tmin, tmax, lower, upper, cut)
}

// DoubleTriangle is to SingleTriangle as DoubleSine to SingleSine.
func DoubleTriangle(tmin, tmax, tminNext, lower, upper float64, cut Cutoff) float64 {
	return (SingleTriangle(tmin, tmax, lower, upper, cut) + SingleTriangle(tminNext, tmax, lower, upper, cut)) / 2
}

// A curve returns the degree days above a threshold, and the share of the day
// spent above it.
type curve func(tmin, tmax, threshold float64) (dd, share float64)

// cutoff takes the area above the upper threshold away: horizontally only what
// lies above it, vertically also the column below it.
func cutoff(f curve, tmin, tmax, lower, upper float64, cut Cutoff) float64 {
	dd, _ := f(tmin, tmax, lower)
	if cut == None || math.IsNaN(upper) {
		return dd
	}
	over, share := f(tmin, tmax, upper)
	if cut == Vertical {
		over += (upper - lower) * share
	}
	return math.Max(0, dd-over)
}

// sineAbove: [(m - L)(pi/2 - theta) + a cos theta]/pi with m the mean, a half the
// range, theta = asin((L - m)/a).
func sineAbove(tmin, tmax, l float64) (dd, share float64) {
	m, a := (tmax+tmin)/2, (tmax-tmin)/2
	switch {
	case tmin >= l:
		return m - l, 1
	case tmax <= l:
		return 0, 0
	}
	theta := math.Asin((l - m) / a)
	share = (math.Pi/2 - theta) / math.Pi
	return (m-l)*share + a*math.Cos(theta)/math.Pi, share
}

// triangleAbove: (Tmax - L)^2 / (2 (Tmax - Tmin)).
func triangleAbove(tmin, tmax, l float64) (dd, share float64) {
	switch {
	case tmin >= l:
		return (tmax+tmin)/2 - l, 1
	case tmax <= l:
		return 0, 0
	}
	share = (tmax - l) / (tmax - tmin)
	return (tmax - l) * share / 2, share
}

// clamp holds x within lo and hi; it branches, for a guess that is mostly right costs
// less than max and min do.
func clamp(x, lo, hi float64) float64 {
	switch {
	case x < lo:
		return lo
	case x > hi:
		return hi
	}
	return x
}
