package water

import "math"

// A Cut is a use that can be made smaller when water is short.
type Cut struct {
	Name        string
	Full, Least float64 // L a day
}

// A Rung is one step of an emergency ladder: the uses that stand when this cut
// and all before it are made, and how long a level lasts then.
type Rung struct {
	Name string  // of the use cut last; "" where nothing is cut
	To   float64 // L a day left to that use
	Asks float64 // L a day of all uses
	Dry  float64 // days without any rain; +Inf when nothing is asked
	Poor float64 // days in the driest one in ten of the runs of days given
}

// Ladder returns what each cut buys from a level [L]: the first rung cuts
// nothing, each one after makes one more of the cuts, in the order given. Each run
// of days begins on today's date in one year of a record, and what it asks is not
// read; a run that is never short counts as long as it is. Yield is after
// spillage. Dry counts the store's leak and the runs' mean evaporation.
func Ladder(cuts []Cut, s Store, level float64, runs []Days) []Rung {
	asks, loss := 0.0, s.Leak+meanEvaporation(s, runs)
	for _, c := range cuts {
		asks += c.Full
	}
	rungs := []Rung{{Asks: asks}}
	for _, c := range cuts {
		if c.Least < c.Full {
			asks -= c.Full - c.Least
			rungs = append(rungs, Rung{Name: c.Name, To: c.Least, Asks: math.Max(asks, 0)})
		}
	}
	for i := range rungs {
		r := &rungs[i]
		r.Dry = math.Inf(1)
		if r.Asks > 0 {
			r.Dry = DaysOfWater(level, s.Dead, r.Asks+loss, 0)
		}
		r.Poor = poorest(s, level, r.Asks, runs)
	}
	return rungs
}

// poorest is how long the level lasts in the driest one in ten of the runs.
func poorest(s Store, level, asks float64, runs []Days) float64 {
	lasted := make([]float64, len(runs))
	for i, d := range runs {
		d.Demand = []float64{asks}
		lasted[i] = float64(s.Lasts(d, level, YAS))
	}
	return Plotted(lasted, 0.1)
}

func meanEvaporation(s Store, runs []Days) float64 {
	sum, n := 0.0, 0
	for _, d := range runs {
		for t := range d.Inflow {
			sum += OpenEvaporation(at(d.ET0, t), s.Open)
		}
		n += len(d.Inflow)
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}
