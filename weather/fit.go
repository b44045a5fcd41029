package weather

import (
	"fmt"
	"math"
	"time"

	"evenstead/day"
)

// FitGenerator reads a generator off a record: the chain's counts and Thom's gamma
// shape by month, the spread of both temperatures by month, wet days against dry
// and the residuals' correlations over all days. It needs what FitNormals needs;
// months with fewer than 20 wet days take the shape 0.7.
func FitGenerator(r *Record) (*Generator, error) {
	n, err := FitNormals(r)
	if err != nil {
		return nil, err
	}
	g, err := NewGenerator(n)
	if err != nil {
		return nil, err
	}
	g.fitRain(r, n)
	if err := g.fitResiduals(r); err != nil {
		return nil, err
	}
	g.spreadYears(n.RainCV)
	g.notes = []string{fmt.Sprintf("Weather made after the record of %s to %s: first-order chain of wet and dry days, "+
		"gamma amounts, two lagged temperatures.", r.Start, r.End())}
	return g, nil
}

const leastWet = 20

func (g *Generator) fitRain(r *Record, n Normals) {
	t := CountTransitions(r)
	var amounts [12][]float64
	for i, v := range r.Rain {
		if v > 0 {
			m := (r.Start + day.Day(i)).Month() - time.January
			amounts[m] = append(amounts[m], v)
		}
	}
	for m := range 12 {
		if t.N01[m] > 0 && t.N11[m] > 0 && t.N10[m] > 0 {
			g.p01[m], g.p11[m] = t.P01(m), t.P11(m)
			g.amount[m] = n.Rain[m] / (WetShare(g.p01[m], g.p11[m]) * float64(monthDays[m]))
		}
		if _, shape, _ := ThomGamma(amounts[m]); len(amounts[m]) >= leastWet && shape > 0 {
			g.shape[m] = shape
		}
	}
}

// fitResiduals takes the seasons and the wet and dry days off both temperatures
// and measures what is left.
func (g *Generator) fitResiduals(r *Record) error {
	hi, lo := make([]float64, r.Days()), make([]float64, r.Days())
	month := make([]int, r.Days())
	var wetHi, dryHi, wetLo, dryLo mean
	for i := range hi {
		slot := Slot(r.Start + day.Day(i))
		month[i] = monthOf[slot]
		hi[i], lo[i] = r.TMax[i]-g.tmax[slot], r.TMin[i]-g.tmin[slot]
		switch {
		case r.Rain[i] > 0:
			wetHi.add(hi[i])
			wetLo.add(lo[i])
		case r.Rain[i] == 0:
			dryHi.add(hi[i])
			dryLo.add(lo[i])
		}
	}
	if min(wetHi.n, dryHi.n, wetLo.n, dryLo.n) >= leastWet {
		g.wetMax, g.wetMin = wetHi.value()-dryHi.value(), wetLo.value()-dryLo.value()
	}
	g.sdMax, g.sdMin = g.standardise(hi, r.Rain, month, g.wetMax), g.standardise(lo, r.Rain, month, g.wetMin)
	var err error
	g.residual, err = newPair(lagged(hi, lo, 0), [2][2]float64{
		{lagged(hi, hi, 1), lagged(hi, lo, 1)}, {lagged(lo, hi, 1), lagged(lo, lo, 1)}})
	if err != nil {
		return fmt.Errorf("temperatures of the record: %w", err)
	}
	return nil
}

// standardise centres residuals on their wet and dry means, divides them by the
// month's standard deviation and returns that.
func (g *Generator) standardise(x, rain []float64, month []int, wet float64) (sd [12]float64) {
	var square [12]mean
	for i := range x {
		x[i] -= g.shift(month[i], rain[i] > 0, wet)
		square[month[i]].add(x[i] * x[i])
	}
	for m := range sd {
		sd[m] = max(0.1, math.Sqrt(square[m].value()))
	}
	for i := range x {
		x[i] /= sd[month[i]]
	}
	return sd
}

// lagged is the correlation of x today with y some days before, over days with both.
func lagged(x, y []float64, lag int) float64 {
	var xy, xx, yy mean
	for i := lag; i < len(x); i++ {
		a, b := x[i], y[i-lag]
		if math.IsNaN(a + b) {
			continue
		}
		xy.add(a * b)
		xx.add(a * a)
		yy.add(b * b)
	}
	return xy.sum / math.Sqrt(xx.sum*yy.sum)
}
