package hearth

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// A Befallen is what one hardship does to the outlook.
type Befallen struct {
	ID      string          `json:"id"`
	Name    string          `json:"name"`
	Needs   []Befell        `json:"needs"` // main needs that it shortens, the hardest hit first
	Leans   []Leaned        `json:"leans"` // stores that are drawn lower, and so carry the household through
	Outlook *engine.Outlook `json:"-"`
	Base    *engine.Outlook `json:"-"`
}

// Befell is one need before and under a hardship.
type Befell struct {
	ID          string  `json:"id"`
	Name        string  `json:"name"`
	ShortBefore float64 `json:"short_before"` // share of years that fall short
	ShortAfter  float64 `json:"short_after"`
	DaysBefore  int     `json:"days_before"` // middle days of cover
	DaysAfter   int     `json:"days_after"`
	MetBefore   float64 `json:"met_before"` // share met in the middle year
	MetAfter    float64 `json:"met_after"`
}

// Leaned is a store whose lowest week in the middle year is lower for the hardship.
type Leaned struct {
	Store  string  `json:"store"`
	Unit   string  `json:"unit"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
}

// Hardships lays each hardship that can befall the stead over the members, and
// tells what it does.
func (r *Reckoning) Hardships(ctx context.Context) ([]Befallen, error) {
	o := r.Options
	o.Report = nil
	m, err := r.prepare(o)
	if err != nil {
		return nil, err
	}
	res, err := m.Run(ctx, r.Members, o)
	if err != nil {
		return nil, err
	}
	base := res.Outlook()
	list := m.Hardships(r.Stead, r.Tables, base, o.Climate)
	var out []Befallen
	for i := range list {
		b, err := r.befall(ctx, &list[i], base)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", list[i].Name, err)
		}
		out = append(out, *b)
		if r.Options.Report != nil {
			r.Options.Report(i+1, len(list))
		}
	}
	return out, nil
}

func (r *Reckoning) befall(ctx context.Context, h *engine.Hardship, base *engine.Outlook) (*Befallen, error) {
	o := r.Options
	o.Report, o.Hardship = nil, h
	members := *r.Members
	members.Members = slices.Clone(r.Members.Members)
	if h.Weather != nil {
		h.Weather(&members)
	}
	var st stead.Stead = *r.Stead
	if h.Stead != nil {
		h.Stead(&st)
	}
	m, err := engine.Prepare(&st, r.Tables, o)
	if err != nil {
		return nil, err
	}
	out, err := outlook(ctx, m, &members, o)
	if err != nil {
		return nil, err
	}
	b := &Befallen{ID: h.ID, Name: h.Name, Outlook: out, Base: base}
	b.compare()
	return b, nil
}

func outlook(ctx context.Context, m *engine.Model, e *weather.Ensemble, o engine.Options) (*engine.Outlook, error) {
	res, err := m.Run(ctx, e, o)
	if err != nil {
		return nil, err
	}
	return res.Outlook(), nil
}

// shows is the change in a share from which it is told.
const shows = 0.01

func (b *Befallen) compare() {
	for i := range b.Base.Needs {
		was := &b.Base.Needs[i]
		is := b.Outlook.Need(was.ID)
		if is == nil || !was.Main || !was.Known {
			continue
		}
		x := Befell{was.ID, was.Name, was.ShareShort, is.ShareShort, was.Middle, is.Middle, was.Met[1], is.Met[1]}
		if x.hit() > shows {
			b.Needs = append(b.Needs, x)
		}
	}
	slices.SortStableFunc(b.Needs, func(x, y Befell) int { return -cmp.Compare(x.hit(), y.hit()) })
	for i := range b.Base.Stores {
		was := &b.Base.Stores[i]
		for j := range b.Outlook.Stores {
			is := &b.Outlook.Stores[j]
			if is.ID != was.ID || was.Group == engine.Room || was.ID == "root-zone" {
				continue
			}
			x := Leaned{was.Name, was.Unit, lowest(was), lowest(is)}
			if x.Before > 0 && x.Before-x.After > 0.05*max(x.Before, was.Now) {
				b.Leans = append(b.Leans, x)
			}
		}
	}
	slices.SortStableFunc(b.Leans, func(x, y Leaned) int { return cmp.Compare(x.After/x.Before, y.After/y.Before) })
}

// hit is how hard a need is hit: what more years fall short, and what less is met.
func (x *Befell) hit() float64 {
	return max(0, x.ShortAfter-x.ShortBefore) + max(0, x.MetBefore-x.MetAfter)
}

func lowest(s *engine.StoreOutlook) float64 {
	low := s.Now
	for _, w := range s.Weeks {
		low = min(low, w.P50)
	}
	return low
}
