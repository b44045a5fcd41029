package lever

import (
	"fmt"
	"strings"

	"evenstead/stead"
	"evenstead/weather"
)

// A Lever is one change to a stead.
type Lever struct {
	ID   string `json:"id"`   // "tank:barn", unique in a list
	Name string `json:"name"` // "one more tank of 1,000 L at cabin"
	Part string `json:"part"` // part of the description it changes; "weather" for none
	Cost Cost   `json:"cost"`
	Care string `json:"care"` // what to mind; may be empty
	// Fate is true of what nobody chooses, such as a drier year.
	Fate bool `json:"fate"`

	// Rain is a factor on the members' rain from today on; 0: as drawn.
	Rain float64 `json:"rain"`
	// Apply changes a stead in place; On calls it with a copy.
	Apply func(*stead.Stead) error `json:"-"`
}

// Cost is what a change asks of the household.
type Cost struct {
	Once  float64 `json:"hours_once"` // h to set it up
	Week  float64 `json:"hours_week"` // h in a mean week; negative: hours saved
	Needs string  `json:"needs"`      // what has to be got; may be empty
}

// On returns the stead with the change made; the one given stays as it was. It
// fails when the change does not fit, or leaves a description with faults.
func (l Lever) On(st *stead.Stead) (*stead.Stead, error) {
	changed := Copy(st)
	if l.Apply != nil {
		if err := l.Apply(changed); err != nil {
			return nil, fmt.Errorf("%s: %w", l.Name, err)
		}
	}
	if err := changed.Check(); err != nil {
		return nil, fmt.Errorf("%s: %w", l.Name, err)
	}
	return changed, nil
}

// Join makes one change of several, made in order.
func Join(levers ...Lever) Lever {
	var ids, names, parts []string
	all := Lever{Fate: true}
	for _, l := range levers {
		ids, names, parts = append(ids, l.ID), append(names, l.Name), append(parts, l.Part)
		all.Cost.Once += l.Cost.Once
		all.Cost.Week += l.Cost.Week
		all.Cost.Needs = and(all.Cost.Needs, l.Cost.Needs)
		all.Care = strings.TrimSpace(all.Care + " " + l.Care)
		all.Fate = all.Fate && l.Fate
		if l.Rain > 0 {
			all.Rain = l.Rain * or(all.Rain, 1)
		}
	}
	all.ID, all.Name, all.Part = strings.Join(ids, "+"), strings.Join(names, ", "), strings.Join(parts, "+")
	all.Apply = func(st *stead.Stead) error {
		for _, l := range levers {
			if l.Apply == nil {
				continue
			}
			if err := l.Apply(st); err != nil {
				return err
			}
		}
		return nil
	}
	return all
}

// over is the members with the change in their rain from day skip on. What the
// members share is copied, not written.
func (l Lever) over(ens *weather.Ensemble, skip int) *weather.Ensemble {
	if l.Rain == 0 || l.Rain == 1 {
		return ens
	}
	changed := *ens
	changed.Members = make([]weather.Member, len(ens.Members))
	for i, m := range ens.Members {
		rain := append([]float64(nil), m.Rain...)
		for t := skip; t < len(rain); t++ {
			rain[t] *= l.Rain
		}
		m.Rain = rain
		changed.Members[i] = m
	}
	return &changed
}

func and(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

func or(v, other float64) float64 {
	if v == 0 {
		return other
	}
	return v
}
