package skill

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// An Ask is what hindcasts are asked for.
type Ask struct {
	Stead    *stead.Stead // its dates without years recur; levels of its first day matter little after the spin-up
	Tables   *data.Tables
	Record   *weather.Record
	From, To int            // years that hindcasts begin in; 0: all that the record allows
	Learn    []int          // first and last year that members are made of; empty: all but the years about each start
	Recent   weather.Recent // how much less old years weigh, counted from each start
	Every    int            // months between starts; 0: 3
	Leads    []int          // weeks; nil: 1, 4, 12, 26
	Members  int            // 0: 100
	Seed     uint64
	Workers  int
	Report   func(done, total int)
}

// spinUp is how long the stead runs on real weather before a hindcast begins, days.
const spinUp = 365

// Hindcast runs the hindcasts one after another, each on all cores.
func Hindcast(ctx context.Context, a Ask) (*Report, error) {
	a.defaults()
	starts := a.starts()
	if len(starts) < 4 {
		return nil, fmt.Errorf("the record, %s to %s, leaves %d starts for hindcasts: a year before and %d weeks after each must be whole", a.Record.Start, a.Record.End(), len(starts), a.weeks())
	}
	if err := a.garden(starts[0]); err != nil {
		return nil, err
	}
	t := newTally(&a)
	for i, s := range starts {
		if err := a.one(ctx, s, t); err != nil {
			return nil, fmt.Errorf("hindcast from %s: %w", s, err)
		}
		if a.Report != nil {
			a.Report(i+1, len(starts))
		}
	}
	return t.report(), nil
}

func (a *Ask) defaults() {
	if a.Every == 0 {
		a.Every = 3
	}
	if a.Leads == nil {
		a.Leads = []int{1, 4, 12, 26}
	}
	if a.Members == 0 {
		a.Members = 100
	}
	if a.From == 0 {
		a.From = a.Record.Start.Year()
	}
	if a.To == 0 {
		a.To = a.Record.End().Year()
	}
}

func (a *Ask) weeks() int { return slices.Max(a.Leads) }

// starts are the first days of months whose spin-up and horizon are whole.
func (a *Ask) starts() []day.Day {
	var out []day.Day
	for y := a.From; y <= a.To; y++ {
		for month := time.January; month <= time.December; month += time.Month(a.Every) {
			s := day.Of(y, month, 1)
			if a.Record.Whole(s-spinUp, spinUp+a.horizon()) {
				out = append(out, s)
			}
		}
	}
	return out
}

// horizon is the days of a hindcast: a week more than the last lead, so that its
// week is judged whole.
func (a *Ask) horizon() int { return 7*a.weeks() + 7 }

// learning is the record that members of a start may be made of.
func (a *Ask) learning(s day.Day) *weather.Record {
	rec := *a.Record
	rec.Rain, rec.TMin, rec.TMax = slices.Clone(rec.Rain), slices.Clone(rec.TMin), slices.Clone(rec.TMax)
	for i := range rec.Rain {
		d := rec.Start + day.Day(i)
		hide := d > s-spinUp && d < s+day.Day(a.horizon())+spinUp/2
		if len(a.Learn) == 2 {
			hide = d.Year() < a.Learn[0] || d.Year() > a.Learn[1]
		}
		if hide {
			rec.Rain[i], rec.TMin[i], rec.TMax[i] = math.NaN(), math.NaN(), math.NaN()
		}
	}
	return &rec
}

// garden sows the usual garden, where nothing is written, by the climate of the
// whole record: one garden for all hindcasts.
func (a *Ask) garden(s day.Day) error {
	st := *a.Stead
	st.Stay.From = s - spinUp
	ens, err := weather.FromRecord(a.Record, a.site(), st.Stay.From, spinUp, 30, a.Seed)
	if err != nil {
		return err
	}
	if err := engine.Sow(&st, a.Tables, ens, nil); err != nil {
		return err
	}
	a.Stead = &st
	return nil
}

func (a *Ask) site() weather.Site {
	p := a.Stead.Place
	return weather.Site{Lat: p.Latitude, Elev: p.Elevation, Coastal: p.Coastal}
}

// one runs one hindcast, and the year as it was, from the same replay.
func (a *Ask) one(ctx context.Context, s day.Day, t *tally) error {
	st := *a.Stead
	st.Stay.From = s - spinUp
	from, lead := s-engine.Lead, engine.Lead
	ens, err := weather.FromRecent(a.learning(s), a.site(), from, lead+a.horizon(), a.Members, a.Seed, a.Recent)
	if err != nil {
		return err
	}
	o := engine.Options{Today: s, Days: a.horizon(), Seed: a.Seed, Workers: a.Workers, Climate: ens.Climate()}
	h := engine.History{Versions: []engine.Version{{From: st.Stay.From, Stead: &st}}, Weather: a.Record}
	if o.Past, err = engine.Replay(ctx, a.Tables, h, ens, o); err != nil {
		return err
	}
	ens.Overlay(o.Past.Known.Before(s))
	said, err := run(ctx, &st, a.Tables, o, ens)
	if err != nil {
		return err
	}
	real := *ens
	real.Members = slices.Clone(ens.Members[:1])
	real.Overlay(a.Record)
	o.Seed = a.Seed + 1 + uint64(s) // the year's own luck, which no member had
	found, err := run(ctx, &st, a.Tables, o, &real)
	if err != nil {
		return err
	}
	t.add(s, said, found)
	t.frost(s, ens, &real)
	return nil
}

func run(ctx context.Context, st *stead.Stead, tab *data.Tables, o engine.Options, ens *weather.Ensemble) (*engine.Result, error) {
	m, err := engine.Prepare(st, tab, o)
	if err != nil {
		return nil, err
	}
	return m.Run(ctx, ens, o)
}
