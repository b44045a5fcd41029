package water

import (
	"math"
	"slices"
)

// A Case is one store with what feeds it and what is asked of it, over a record
// of days that comes round again.
type Case struct {
	Rain   []float64 // mm a day
	ET0    []float64 // mm a day; nil where no store is open
	Roofs  []Roof
	Piped  []float64 // L a day from elsewhere, such as another store's overflow; nil: none
	Store  Store
	Demand []float64 // L a day; a shorter list repeats
	Rule   Rule
}

// Years returns the length of the record.
func (c *Case) Years() float64 { return float64(len(c.Rain)) / 365.25 }

// Days returns what comes and is asked each day.
func (c *Case) Days() Days {
	in := make([]float64, len(c.Rain))
	copy(in, c.Piped)
	for _, r := range c.Roofs {
		r.addTo(in, c.Rain)
	}
	return Days{in, c.Demand, c.ET0}
}

// Run runs the case as it stands.
func (c *Case) Run() Course {
	d := c.Days()
	return c.Store.Run(d, c.Store.Settled(d, c.Rule), c.Rule)
}

func (c *Case) tally(d Days, s Store) Result { return s.Tally(d, s.Settled(d, c.Rule), c.Rule) }

// Surface runs stores of every size [L at the brim] against every steady demand
// [L a day], with the case's roofs, dead part and losses. See Surface.
func (c *Case) Surface(sizes, demands []float64) Grid {
	d := c.Days()
	return newGrid(sizes, demands, func(size, demand float64) Result {
		return c.tally(Days{d.Inflow, []float64{demand}, d.ET0}, c.sized(size))
	})
}

func (c *Case) sized(size float64) Store {
	s := c.Store
	s.Size = size
	return s
}

// NoFail returns the volume [L at the brim] that never failed in the record, by
// SequentPeak over the inflow less losses, with the dead part on top; +Inf when
// the roofs bring too little for any.
func (c *Case) NoFail() float64 {
	d := c.Days()
	for t := range d.Inflow {
		d.Inflow[t] -= c.Store.Leak + OpenEvaporation(at(d.ET0, t), c.Store.Open)
	}
	return SequentPeak(d.Inflow, d.Demand) + c.Store.Dead
}

// VolumeFor returns the least volume [L at the brim, less than 0.5 L over] that meets a share
// of days (0..1) in full; ok is false when none does. A larger store never meets
// fewer days, as both orders of yield and spill keep a larger store's level no
// lower and its room no smaller.
func (c *Case) VolumeFor(rt float64) (size float64, ok bool) {
	d := c.Days()
	reached := func(size float64) bool { return c.tally(d, c.sized(size)).Rt >= rt }
	most := c.Store.Dead + 2
	for _, q := range d.Inflow {
		most += 2 * q // a store that two passes can't fill
	}
	if !reached(most) {
		return 0, false
	}
	lo, hi := 0.0, math.Max(c.Store.Size, 1)
	for hi < most && !reached(hi) {
		lo, hi = hi, 2*hi
	}
	for hi = min(hi, most); hi-lo > 0.5; {
		if mid := (lo + hi) / 2; reached(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// A Worth is what a change is good for.
type Worth struct {
	Days   float64 // days a year fewer short
	Litres float64 // L a year fewer wanting: asked and not met
}

// MoreStore returns the worth of a store larger by some litres.
func (c *Case) MoreStore(litres float64) Worth {
	more := *c
	more.Store.Size += litres
	return c.against(&more)
}

// MoreRoof returns the worth of more roof of a kind [m2 in its Area].
func (c *Case) MoreRoof(r Roof) Worth {
	more := *c
	more.Roofs = append(slices.Clone(c.Roofs), r)
	return c.against(&more)
}

// Saved returns the worth of asking fewer litres each day, none below 0.
func (c *Case) Saved(litres float64) Worth {
	more := *c
	more.Demand = slices.Clone(c.Demand)
	for i, d := range c.Demand {
		more.Demand[i] = math.Max(d-litres, 0)
	}
	return c.against(&more)
}

// against is what a changed case is worth over this one.
func (c *Case) against(more *Case) Worth {
	years := c.Years()
	if years == 0 {
		return Worth{}
	}
	was, is := c.tally(c.Days(), c.Store), more.tally(more.Days(), more.Store)
	return Worth{float64(is.Full-was.Full) / years, (was.Wanting() - is.Wanting()) / years}
}
