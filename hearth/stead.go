package hearth

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"math"
	"slices"

	"evenstead/day"
	"evenstead/stead"
	"evenstead/store"
	"evenstead/weather"
)

// A Described is the description of the stead that holds from a day on.
type Described struct {
	From  day.Day
	Text  string // TOML as it was written
	Stead *stead.Stead
}

// Describe reads a description and keeps it as the one that holds from a day
// on. name says where the text came from. Nothing is kept of a text with
// faults; the error lists them all (stead.Errors).
func (h *Home) Describe(ctx context.Context, from day.Day, name string, text []byte) error {
	if _, err := stead.Read(name, text); err != nil {
		return err
	}
	return h.store.SaveStead(ctx, from, string(text))
}

// Steads returns the descriptions in order of the day they hold from, one a
// day: of two that hold from the same day the one saved last.
func (h *Home) Steads(ctx context.Context) ([]Described, error) {
	all, err := h.glance(ctx)
	for i := range all {
		all[i].Stead = all[i].Stead.Clone()
	}
	return all, err
}

// glance is Steads for those who only look: what it returns is shared and must not
// be changed.
func (h *Home) glance(ctx context.Context) ([]Described, error) {
	versions, err := h.store.Steads(ctx)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(versions, func(a, b store.Version) int { return cmp.Compare(a.From, b.From) })
	var out []Described
	for i, v := range versions {
		if i+1 < len(versions) && versions[i+1].From == v.From {
			continue
		}
		st, err := h.readOnce(fmt.Sprintf("the description that holds from %s", v.From), v.Text)
		if err != nil {
			return nil, err
		}
		out = append(out, Described{v.From, v.Text, st})
	}
	return out, nil
}

// mostRead is how many descriptions are kept as they were read.
const mostRead = 20

// readOnce reads a description, or finds it as it was read before.
func (h *Home) readOnce(name, text string) (*stead.Stead, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if st := h.read[text]; st != nil {
		return st, nil
	}
	st, err := stead.Read(name, []byte(text))
	if err != nil {
		return nil, err
	}
	if h.read == nil || len(h.read) >= mostRead {
		h.read = map[string]*stead.Stead{}
	}
	h.read[text] = st
	return st, nil
}

// On returns the description that holds on a day, fs.ErrNotExist when none had
// begun by then.
func (h *Home) On(ctx context.Context, d day.Day) (Described, error) {
	all, err := h.Steads(ctx)
	if err != nil {
		return Described{}, err
	}
	return h.holding(all, d)
}

// holding picks the description of a day.
func (h *Home) holding(all []Described, d day.Day) (held Described, err error) {
	for _, v := range all {
		if v.From <= d {
			held = v
		}
	}
	switch {
	case held.Stead != nil:
		return held, nil
	case len(all) == 0:
		return Described{}, fmt.Errorf("%s holds no description yet: give one with evenstead describe STEAD.toml: %w", h.store.Path(), fs.ErrNotExist)
	}
	return Described{}, fmt.Errorf("no description holds on %s, the first begins %s: %w", d, all[0].From, fs.ErrNotExist)
}

// KeepWeather keeps every day of a record on which something was measured, as
// it was measured, and returns their number. Days kept before are replaced.
func (h *Home) KeepWeather(ctx context.Context, rec *weather.Record) (days int, err error) {
	var keep []store.Weather
	for i := range rec.Days() {
		w := store.Weather{Day: rec.Start + day.Day(i), Rain: rec.Rain[i], TMin: rec.TMin[i], TMax: rec.TMax[i]}
		if !math.IsNaN(w.Rain) || !math.IsNaN(w.TMin) || !math.IsNaN(w.TMax) {
			keep = append(keep, w)
		}
	}
	return len(keep), h.store.SaveWeather(ctx, keep)
}

// Record returns the weather kept, from the first day to the last, NaN where
// nothing was measured; nil when none is kept. Where the station lies is not
// kept: the description says where the stead does.
func (h *Home) Record(ctx context.Context) (*weather.Record, error) {
	days, err := h.store.Weather(ctx, math.MinInt32, math.MaxInt32)
	if err != nil || len(days) == 0 {
		return nil, err
	}
	first, last := days[0].Day, days[len(days)-1].Day
	unknown := math.NaN()
	rec := &weather.Record{Name: "weather of the stead's file", Lat: unknown, Lon: unknown, Elev: unknown, Start: first,
		Notes: []string{fmt.Sprintf("%d days of weather are kept in the stead's file, from %s to %s.", len(days), first, last)}}
	n := int(last-first) + 1
	rec.Rain, rec.TMin, rec.TMax = unmeasured(n), unmeasured(n), unmeasured(n)
	for _, d := range days {
		i := int(d.Day - first)
		rec.Rain[i], rec.TMin[i], rec.TMax[i] = d.Rain, d.TMin, d.TMax
	}
	return rec, nil
}

func unmeasured(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.NaN()
	}
	return x
}
