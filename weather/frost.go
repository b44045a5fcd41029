package weather

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"evenstead/day"
)

// Frosts are the dates of one kind of frost, the last of spring or the first of
// autumn, one for each season that had any. A date is a day of the 365-day
// calendar counted from 1 January of the year in which its season begins, 1 to
// 365; a southern spring runs on past 365 into the next January.
type Frosts struct {
	Dates   []int // in order of time
	Seasons int   // seasons observed, with frost and without
}

// Share returns the share of seasons with frost.
func (f Frosts) Share() float64 { return float64(len(f.Dates)) / float64(f.Seasons) }

// Mean returns the mean date; NaN when there is none.
func (f Frosts) Mean() float64 { m, _ := stat.MeanStdDev(f.floats(), nil); return m }

// SD returns the sample standard deviation of the dates [days].
func (f Frosts) SD() float64 { _, sd := stat.MeanStdDev(f.floats(), nil); return sd }

// Later returns the date after which frost still comes with chance p (0..1), for
// the last frost of spring, from a normal distribution of dates (Thom and Shaw
// 1958, from memory). With a share q of the seasons frosted, p/q stands for p;
// -Inf when p is q or more, as fewer seasons than that have frost.
func (f Frosts) Later(p float64) float64 { return f.normal(1-p/f.Share(), math.Inf(-1)) }

// Sooner returns the date before which frost has come with chance p (0..1), for
// the first frost of autumn; +Inf when p is the share of seasons with frost or more.
func (f Frosts) Sooner(p float64) float64 { return f.normal(p/f.Share(), math.Inf(1)) }

// LaterByOrder is Later from the dates themselves, without a distribution.
func (f Frosts) LaterByOrder(p float64) float64 { return f.order(1-p/f.Share(), math.Inf(-1)) }

// SoonerByOrder is Sooner from the dates themselves, without a distribution.
func (f Frosts) SoonerByOrder(p float64) float64 { return f.order(p/f.Share(), math.Inf(1)) }

func (f Frosts) normal(p, never float64) float64 {
	switch {
	case !(p > 0 && p < 1):
		return never
	case len(f.Dates) == 1:
		return float64(f.Dates[0])
	}
	return f.Mean() + f.SD()*distuv.UnitNormal.Quantile(p)
}

// order interpolates between the sorted dates, of which date i of n lies at (i+½)/n.
func (f Frosts) order(p, never float64) float64 {
	if !(p > 0 && p < 1) {
		return never
	}
	x := f.floats()
	slices.Sort(x)
	at := max(0, min(float64(len(x)-1), p*float64(len(x))-0.5))
	low := int(at)
	high := min(low+1, len(x)-1)
	return x[low] + (x[high]-x[low])*(at-float64(low))
}

func (f Frosts) floats() []float64 {
	x := make([]float64, len(f.Dates))
	for i, d := range f.Dates {
		x[i] = float64(d)
	}
	return x
}

// frostGap is the most missing days a season may have (climate.usu.edu freeze tables).
const frostGap = 10

// FrostDates finds, in each year, the last day of spring and the first of autumn
// with tmin at or below the threshold [°C]. Spring is 1 January to 31 July and
// autumn 1 August to 31 December; south of the equator 1 July to 31 January and
// 1 February to 30 June. A season with more than 10 missing days is left out.
func FrostDates(r *Record, threshold float64, south bool) (last, first Frosts) {
	for y := r.Start.Year() - 1; y <= r.End().Year(); y++ {
		spring, autumn := seasons(y, south)
		last.count(r, spring, threshold, true)
		first.count(r, autumn, threshold, false)
	}
	return last, first
}

// A span is from the first day up to but not including the end.
type span struct{ from, end day.Day }

func seasons(y int, south bool) (spring, autumn span) {
	if south {
		return span{day.Of(y, time.July, 1), day.Of(y+1, time.February, 1)},
			span{day.Of(y, time.February, 1), day.Of(y, time.July, 1)}
	}
	return span{day.Of(y, time.January, 1), day.Of(y, time.August, 1)},
		span{day.Of(y, time.August, 1), day.Of(y+1, time.January, 1)}
}

func (f *Frosts) count(r *Record, s span, threshold float64, last bool) {
	gaps, at := 0, day.Day(-1)
	found := false
	for d := s.from; d < s.end; d++ {
		i := r.At(d)
		switch {
		case i < 0 || math.IsNaN(r.TMin[i]):
			gaps++
		case r.TMin[i] <= threshold && (last || !found):
			at, found = d, true
		}
	}
	if gaps > frostGap {
		return
	}
	f.Seasons++
	if found {
		f.Dates = append(f.Dates, Slot(at)+1+YearSlots*(at.Year()-s.from.Year()))
	}
}
