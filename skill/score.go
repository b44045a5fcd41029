package skill

import (
	"math"
	"slices"
)

// CRPS is the continuous ranked probability score of equally likely values
// against what was found, in their unit; 0 is perfect. It is E|X-y| - E|X-X'|/2
// (Gneiting and Raftery 2007, eq. 21). members is sorted in place; empty gives NaN.
func CRPS(members []float64, found float64) float64 {
	n := float64(len(members))
	if n == 0 {
		return math.NaN()
	}
	slices.Sort(members)
	off, among := 0.0, 0.0
	for i, x := range members {
		off += math.Abs(x - found)
		among += x * (2*float64(i) - n + 1) // sum over pairs of the differences, once each
	}
	return off/n - among/(n*n)
}

// Brier is the squared error of a chance against what happened (1) or did not (0).
func Brier(chance float64, happened bool) float64 {
	if happened {
		return (1 - chance) * (1 - chance)
	}
	return chance * chance
}

// Rank is where a found value stands among sorted members: the share below it,
// those alike counted half; 0 to 1.
func Rank(members []float64, found float64) float64 {
	below, alike := 0.0, 0.0
	for _, x := range members {
		switch {
		case x < found:
			below++
		case x == found:
			alike++
		}
	}
	return (below + alike/2) / float64(len(members))
}

// Quantile is the value below which a share of sorted members lies, straight
// between them (Hyndman and Fan 1996, type 7, from memory).
func Quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// Bounds are the least and most hits of n that a chance leaves likely: the normal
// approximation of the binomial at two standard errors, n counted in years because
// the months of a year share its weather.
func Bounds(chance float64, n, years int) (least, most float64) {
	if years < 1 || n < 1 {
		return 0, 1
	}
	sd := math.Sqrt(chance * (1 - chance) / float64(min(n, years)))
	return max(0, chance-2*sd), min(1, chance+2*sd)
}
