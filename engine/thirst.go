package engine

import (
	"context"

	"evenstead/day"
	"evenstead/weather"
)

// Thirst is what watering the beds would draw from each tank group, L on each day
// of the common year, in the mean of the members: as if tanks and hours never ran
// out. o's horizon must hold a year. Groups are in the description's order.
func Thirst(ctx context.Context, ens *weather.Ensemble, o Options, prepare func(Options) (*Model, error)) ([][365]float64, error) {
	o.Without |= NoTankLimit | NoHourLimit
	m, err := prepare(o)
	if err != nil {
		return nil, err
	}
	sums, days := make([][365]float64, len(m.groups)), [365]float64{}
	r := newRunner(m)
	r.poured = make([]float64, len(m.groups))
	for i, w := range ens.Members {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.begin(i, w)
		for d := range m.days {
			clear(r.poured)
			r.step(d)
			slot := dayOfYear(m.start + day.Day(d))
			days[slot]++
			for g, litres := range r.poured {
				sums[g][slot] += litres
			}
		}
	}
	for g := range sums {
		for slot := range sums[g] {
			sums[g][slot] /= max(1, days[slot])
		}
	}
	return sums, nil
}
