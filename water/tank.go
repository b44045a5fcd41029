package water

import "math"

// A Step is one day of a tank, L. level + inflow = Yield + Spill + End.
type Step struct{ Yield, Spill, End float64 }

// A Rule is an order of yield and spill within the day: YAS or YBS.
type Rule func(level, inflow, demand, size float64) Step

// YAS is yield after spillage, the cautious rule: the day's demand is met from
// what stood in the tank the evening before, and rain that finds no room spills
// first. Y = min(D, V'); V = min(V' + Q - Y, S - Y). All L, none negative.
// Source: Jenkins et al. (1978); Fewkes (1999), Urban Water 1: 323-333.
func YAS(level, inflow, demand, size float64) Step {
	y := min(demand, level)
	end := min(level+inflow, size) - y
	if end < 0 { // a level read above the brim
		end = 0
	}
	return Step{y, level + inflow - y - end, end}
}

// YBS is yield before spillage: the day's rain may be used the same day before
// any of it spills. Y = min(D, V' + Q); V = min(V' + Q - Y, S). All L.
// Source: as YAS.
func YBS(level, inflow, demand, size float64) Step {
	y := min(demand, level+inflow)
	end := min(level+inflow-y, size)
	return Step{y, level + inflow - y - end, end}
}

// A Result sums a run of days. Volumes are L. Rv is the share of demand met by
// volume, Rt the share of days met in full (both 1 when nothing was asked).
// The start level + Inflow = Yield + Spill + Lost + End.
type Result struct {
	Inflow, Asked, Yield, Spill, Lost, End float64
	Rv, Rt                                 float64
	Days, Full                             int // days run, days met in full, to a millionth of a litre
	Longest                                int // longest run of days not met in full
}

// Wanting returns what was asked and not met [L].
func (r Result) Wanting() float64 { return math.Max(r.Asked-r.Yield, 0) }

// Simulate runs a tank of size L through daily inflow [L] with a steady demand
// [L a day], beginning at start L. Source of Rt: Imteaz et al. (2011); of Rv,
// from memory.
func Simulate(inflow []float64, demand, size, start float64, rule Rule) Result {
	sum := newTally(start)
	for _, q := range inflow {
		sum.add(q, demand, 0, rule(sum.End, q, demand, size))
	}
	return sum.result()
}

// A tally is a Result on the way.
type tally struct {
	Result
	short int // days not met in full just gone
}

func newTally(start float64) tally { return tally{Result: Result{End: start}} }

// add counts one day and reports whether it was short.
func (r *tally) add(inflow, demand, lost float64, s Step) bool {
	r.Days++
	r.Inflow += inflow
	r.Asked += demand
	r.Yield += s.Yield
	r.Spill += s.Spill
	r.Lost += lost
	r.End = s.End
	if met(s.Yield, demand) {
		r.Full++
		r.short = 0
		return false
	}
	r.short++
	r.Longest = max(r.Longest, r.short)
	return true
}

// met reports whether a yield is all of what was asked [L]. Less than a millionth of a
// litre wanting is rounding, which would else part stores that meet the same.
func met(yield, asked float64) bool { return yield >= asked-1e-6 }

func (r *tally) result() Result {
	r.Rv = share(r.Yield, r.Asked)
	r.Rt = share(float64(r.Full), float64(r.Days))
	return r.Result
}

func share(part, whole float64) float64 {
	if whole <= 0 {
		return 1
	}
	return part / whole
}
