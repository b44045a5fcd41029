package water

import (
	"math"
	"slices"
)

// Plotted returns the value that is not exceeded with a chance (0..1), from one
// value a year: the m-th smallest of n has chance m/(n+1), others lie on the line
// between, and beyond either end the end value stands. NaN of no values. 0.1 asks
// for the dry year in ten. Source: Weibull (1939) plotting position, from memory.
func Plotted(values []float64, chance float64) float64 {
	n := len(values)
	if n == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	m := chance * float64(n+1)
	i := math.Floor(m)
	switch {
	case i < 1:
		return sorted[0]
	case int(i) >= n:
		return sorted[n-1]
	}
	lo, hi := sorted[int(i)-1], sorted[int(i)]
	return lo + (m-i)*(hi-lo)
}

// Return returns how many years pass between runs of at least some days, from
// all such runs of a record of years: (years + 1) / number of runs, +Inf for
// none. Source: as Plotted, for events of which a year may have several.
func Return(runs []int, years float64, least int) float64 {
	m := 0
	for _, r := range runs {
		if r >= least {
			m++
		}
	}
	if m == 0 {
		return math.Inf(1)
	}
	return (years + 1) / float64(m)
}

// RunOnceIn returns the run of days that comes back once in so many years, as
// Return counts them: the m-th longest of the record with m = (years + 1)/every.
// 0 when the record has fewer runs; its longest when the record is shorter.
func RunOnceIn(runs []int, years, every float64) int {
	m := max(1, int((years+1)/every))
	if m > len(runs) {
		return 0
	}
	sorted := slices.Sorted(slices.Values(runs))
	return sorted[len(sorted)-m]
}
