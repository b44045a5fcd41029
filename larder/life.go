// Package larder says how long food keeps and what putting it up takes: life by
// temperature, loss with age, the temperature of stores, freezers and power
// cuts, drying, brine, jars and tested canning times. It leaves out whether a
// given jar or bag is safe to eat: unsure means do not taste. Main sources: the
// keeping table of package data, USDA canning and freezing guides as carried by
// US extension services, and Kusuda and Achenbach 1965 for the ground.
package larder

import (
	"math"

	"evenstead/data"
)

// Forms of food in store, as in data.Keeping.
const (
	Fresh     = "fresh"
	Dry       = "dry"
	Dried     = "dried"
	Jarred    = "jarred"
	Frozen    = "frozen"
	Fermented = "fermented"
)

// FrozenBelow is the warmest temperature in °C at which food counts as frozen
// (common practice; the set point is -18).
const FrozenBelow = -10

// Life returns the days a food keeps at a steady temperature in °C, from the
// rows of that food in one form.
//
// A row gives its life, the geometric mean of its low and high days, anywhere in
// its range of temperature; rows that overlap are averaged, again in log life.
// Between two rows log life is a straight line. Warmer than all rows, life falls
// by Q10 for each 10 K: 2.5 for fresh and fermented food, 2 for dry, dried and
// jarred, 3 for frozen (common practice; the published jars halve in 11-17 K,
// which is Q10 1.5-1.9, dried fruit in 11 K). Colder than all rows it grows no
// further, for cold harms many crops as it saves others. Frozen rows speak only
// at -10 °C and below. A row without temperature is read at 20 °C, or -18 when
// frozen. The result is 0 when no row speaks: nothing keeps without a figure.
// Life does not allocate.
func Life(rows []data.Keeping, tempC float64) (days float64) {
	below, above := edge{at: math.Inf(-1)}, edge{at: math.Inf(1)}
	var here edge
	for i := range rows {
		r := &rows[i]
		lo, hi := span(r)
		d := middle(r)
		if d == 0 || r.Form == Frozen && tempC > FrozenBelow {
			continue
		}
		switch {
		case tempC < lo:
			above.take(-lo, -above.at, lo, d, q10(r.Form))
		case tempC > hi:
			below.take(hi, below.at, hi, d, q10(r.Form))
		default:
			here.add(d)
		}
	}
	return join(below, here, above, tempC)
}

// LifeIn returns the days a food keeps at a steady temperature in °C and relative
// humidity, a share: Life times Air.
func LifeIn(rows []data.Keeping, tempC, rh float64) (days float64) {
	return Life(rows, tempC) * Air(rows, rh)
}

// How air that is not what a food likes shortens its life.
const (
	moistHeap  = 0.95 // what a heap or box keeps about itself, whatever wetter air is printed
	byWater    = 0.5  // share of a printed life that water loss ends
	dampHalves = 0.15 // humidity above the band that halves a life
)

// Air returns the share, up to 1, of its printed life that a food keeps at a
// relative humidity, a share, against the band that its rows print, from the
// least low end to the greatest high end.
//
// In drier air water leaves in proportion to the deficit 1 - rh, and half of
// what ends a printed life is taken as water lost:
//
//	1/share = 1/2 + 1/2 (1 - rh)/(1 - lo)
//
// with lo at most 0.95, for a heap keeps the air about itself moist. In damper
// air rot, mould and sprouts halve the life for each 15 points above the band.
// The proportion is that of transpiration (Sastry, Baird and Buffington 1978,
// from memory), the halves are common practice. Without a band, or with a
// humidity that is not known (NaN), it is 1: tins, jars and bags make their own
// air. A humidity outside 0 to 1 counts as the nearer end.
func Air(rows []data.Keeping, rh float64) float64 {
	lo, hi := Band(rows)
	if math.IsNaN(rh) || math.IsNaN(lo) {
		return 1
	}
	rh, lo = min(1, max(0, rh)), min(lo, moistHeap)
	switch {
	case rh < lo:
		return 1 / (1 - byWater + byWater*(1-rh)/(1-lo))
	case rh > hi:
		return math.Exp2(-(rh - hi) / dampHalves)
	}
	return 1
}

// Band returns the relative humidity, low and high as shares, in which a food's
// printed lives hold: NaN when its rows print none.
func Band(rows []data.Keeping) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range rows {
		if r := &rows[i]; !math.IsNaN(r.RHLo) && !math.IsNaN(r.RHHi) {
			lo, hi = min(lo, r.RHLo), max(hi, r.RHHi)
		}
	}
	if lo > hi {
		return math.NaN(), math.NaN()
	}
	return lo, hi
}

// An edge is the end of the nearest rows on one side: their temperature and the
// mean of their log lives.
type edge struct {
	at, log, q10 float64
	n            int
}

func (e *edge) add(days float64) {
	e.n++
	e.log += (math.Log(days) - e.log) / float64(e.n)
}

// take keeps the rows of the greatest rank and averages those of equal rank.
func (e *edge) take(rank, best, at, days, q10 float64) {
	if rank < best {
		return
	}
	if rank > best {
		*e = edge{at: at, q10: q10}
	}
	e.add(days)
}

func join(below, here, above edge, t float64) float64 {
	switch {
	case here.n > 0:
		return math.Exp(here.log)
	case below.n > 0 && above.n > 0:
		share := (t - below.at) / (above.at - below.at)
		return math.Exp(below.log + share*(above.log-below.log))
	case above.n > 0:
		return math.Exp(above.log)
	case below.n > 0:
		return math.Exp(below.log) * math.Pow(below.q10, (below.at-t)/10)
	}
	return 0
}

func q10(form string) float64 {
	switch form {
	case Fresh, Fermented:
		return 2.5
	case Frozen:
		return 3
	}
	return 2
}

func span(r *data.Keeping) (lo, hi float64) {
	lo, hi = r.TempLo, r.TempHi
	if math.IsNaN(lo) {
		lo = hi
	}
	if math.IsNaN(hi) {
		hi = lo
	}
	if math.IsNaN(lo) {
		lo, hi = 20, 20
		if r.Form == Frozen {
			lo, hi = -18, -18
		}
	}
	return lo, hi
}

// middle is the life of a row in days; 0 when it prints none.
func middle(r *data.Keeping) float64 {
	lo, hi := r.DaysLo, r.DaysHi
	switch {
	case lo > 0 && hi > 0:
		return math.Sqrt(lo * hi)
	case hi > 0:
		return hi
	case lo > 0:
		return lo
	}
	return 0
}
