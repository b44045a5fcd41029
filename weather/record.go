package weather

import (
	"fmt"
	"math"

	"evenstead/day"
)

// A Record is one station's days, one value a day from Start on. NaN is missing.
type Record struct {
	Station        string
	Name           string
	Lat, Lon, Elev float64 // degrees and m; NaN unknown
	Start          day.Day
	Rain           []float64 // mm
	TMin, TMax     []float64 // °C
	Wind           []float64 // m/s, mean of the day; nil when the file has none
	Notes          []string  // how it was read, one sentence each
	Filled         int       // days on which Fill set a value
}

// Days returns the number of days from the first to the last.
func (r *Record) Days() int { return len(r.Rain) }

// End returns the last day.
func (r *Record) End() day.Day { return r.Start + day.Day(r.Days()) - 1 }

// At returns the index of a day, or -1 when the record does not reach it.
func (r *Record) At(d day.Day) int {
	if i := int(d - r.Start); i >= 0 && i < r.Days() {
		return i
	}
	return -1
}

// Whole reports whether rain and both temperatures are known on each of the days from start.
func (r *Record) Whole(start day.Day, days int) bool {
	i := r.At(start)
	if i < 0 || days < 0 || i+days > r.Days() {
		return false
	}
	for k := i; k < i+days; k++ {
		if !r.known(k) {
			return false
		}
	}
	return true
}

func (r *Record) known(i int) bool {
	return !math.IsNaN(r.Rain[i] + r.TMin[i] + r.TMax[i])
}

// fillRun is the longest run of missing days that Fill closes.
const fillRun = 5

// Fill closes runs of up to five missing days, once. A missing temperature lies on
// the line between its neighbours. Missing rain is the rain of the same dates in
// the nearest year that has them all (the earlier of two), so that neither totals
// nor wet days are thinned out. Longer runs stay missing. A note says how many
// days were filled. (Common practice.)
func (r *Record) Fill() {
	touched := make([]bool, r.Days())
	fillRuns(r.TMin, touched, bridge)
	fillRuns(r.TMax, touched, bridge)
	r.untwist(touched)
	observed := append([]float64(nil), r.Rain...)
	fillRuns(r.Rain, touched, func(rain []float64, from, to int) bool {
		return r.borrow(observed, from, to)
	})
	n := 0
	for _, t := range touched {
		if t {
			n++
		}
	}
	if n == 0 {
		return
	}
	r.Filled += n
	r.Notes = append(r.Notes, fmt.Sprintf("%s with something missing in runs of up to %d days filled: "+
		"temperature on the line between its neighbours, rain from the same dates of the nearest year; longer gaps stay.",
		count(n, "day"), fillRun))
}

// fillRuns calls fill on each short run of NaN, [from, to), and marks what it set.
func fillRuns(x []float64, touched []bool, fill func(x []float64, from, to int) bool) {
	for from := 0; from < len(x); from++ {
		if !math.IsNaN(x[from]) {
			continue
		}
		to := from
		for to < len(x) && math.IsNaN(x[to]) {
			to++
		}
		if to-from <= fillRun && fill(x, from, to) {
			for i := from; i < to; i++ {
				touched[i] = true
			}
		}
		from = to
	}
}

func bridge(x []float64, from, to int) bool {
	if from == 0 || to == len(x) {
		return false
	}
	a, b := x[from-1], x[to]
	for i := from; i < to; i++ {
		x[i] = a + (b-a)*float64(i-from+1)/float64(to-from+1)
	}
	return true
}

// untwist parts the extremes of a filled day whose least came out above its greatest.
func (r *Record) untwist(touched []bool) {
	for i, t := range touched {
		if t && r.TMin[i] > r.TMax[i] {
			mid := MeanTemp(r.TMin[i], r.TMax[i])
			r.TMin[i], r.TMax[i] = mid, mid
		}
	}
}

func (r *Record) borrow(observed []float64, from, to int) bool {
	year, month, dom := (r.Start + day.Day(from)).Date()
	last := max(r.End().Year()-year, year-r.Start.Year())
	for away := 1; away <= last; away++ {
		for _, y := range []int{year - away, year + away} {
			i := r.At(day.Of(y, month, dom))
			if i < 0 || i+to-from > len(observed) || anyNaN(observed[i:i+to-from]) {
				continue
			}
			copy(r.Rain[from:to], observed[i:])
			return true
		}
	}
	return false
}

func anyNaN(x []float64) bool {
	for _, v := range x {
		if math.IsNaN(v) {
			return true
		}
	}
	return false
}
