package reckon

import (
	"slices"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
)

// A Then sets what was planned and forecast on a span's first morning against what
// was found. The forecast is run again from the book as it stood then: no outlook is
// kept from day to day.
type Then struct {
	On      day.Day        `json:"on"`      // the morning it is of
	Entries int            `json:"entries"` // received by then
	Late    int            `json:"late"`    // of earlier days, received after: not in it
	Members int            `json:"members"`
	Seed    uint64         `json:"seed"`
	Weather []string       `json:"weather"` // what the possible years were made of
	Verdict engine.Verdict `json:"verdict"`
	Crops   []ThenCrop     `json:"crops"`
	Needs   []ThenNeed     `json:"needs"`
	Stores  []ThenStore    `json:"stores"` // on the evening of the last day
	Inside  int            `json:"inside"` // levels found within the middle 8 years of 10
	Of      int            `json:"of"`     // levels found
}

// A Range holds the middle year and the bounds of the middle 8 of 10.
type Range struct {
	Low    float64 `json:"low"`
	Middle float64 `json:"middle"`
	High   float64 `json:"high"`
}

// Has tells whether a value lies within, a rounding error allowed.
func (r Range) Has(v float64) bool {
	slack := 1e-6 * (1 + max(r.High, -r.High))
	return v >= r.Low-slack && v <= r.High+slack
}

// A ThenCrop is a harvest of the span, kg as carried home.
type ThenCrop struct {
	Food    string      `json:"food"`
	Name    string      `json:"name"`
	Planned float64     `json:"planned"` // of what was described to grow, in a usual year
	Range   Range       `json:"forecast"`
	Found   engine.Part `json:"found"`
}

// A ThenNeed is the share of a need that was met over the span.
type ThenNeed struct {
	ID    string  `json:"id"`
	Name  string  `json:"name"`
	Range Range   `json:"forecast"`
	Found float64 `json:"found"`
}

// A ThenStore is a level as the span ended, in its unit.
type ThenStore struct {
	ID    string  `json:"id"`
	Name  string  `json:"name"`
	Unit  string  `json:"unit"`
	Range Range   `json:"forecast"`
	Found float64 `json:"found"` // by counts, dips and the reckoning between them
}

// A Morning is what was known as a span began.
type Morning struct {
	Outlook *engine.Outlook // over the span's days
	Growths []engine.Growth // of the description that held, in a usual year
	Tables  *data.Tables
	Entries int
	Late    int
	Weather []string
}

// Compare sets a morning's outlook against an account and the stores as they stood
// after its last day.
func Compare(m *Morning, acc *engine.Account, ended []engine.StoreOutlook) *Then {
	o := m.Outlook
	t := &Then{On: o.Today, Entries: m.Entries, Late: m.Late, Members: o.Members, Seed: o.Seed, Weather: m.Weather, Verdict: o.Verdict,
		Crops: m.crops(acc), Needs: thenNeeds(o, acc), Stores: thenStores(o, ended)}
	for _, s := range t.Stores {
		t.Of++
		if s.Range.Has(s.Found) {
			t.Inside++
		}
	}
	return t
}

// crops lists each food that was planned, forecast or harvested, the greatest first.
func (m *Morning) crops(acc *engine.Account) []ThenCrop {
	var out []ThenCrop
	at := func(food, name string) *ThenCrop {
		i := slices.IndexFunc(out, func(c ThenCrop) bool { return c.Food == food })
		if i < 0 {
			i = len(out)
			out = append(out, ThenCrop{Food: food, Name: name})
		}
		return &out[i]
	}
	food := func(crop string) (string, string) {
		c, ok := m.Tables.Crop(crop)
		if !ok || c.Food == "" {
			return crop, crop
		}
		return c.Food, c.Name
	}
	for i := range m.Growths {
		g := &m.Growths[i]
		if kg := g.Likely * within(g, acc); kg > 0 && !g.Feeds {
			at(food(g.Crop)).Planned += kg
		}
	}
	for i := range m.Outlook.Crops {
		c := &m.Outlook.Crops[i]
		if c.Kg.P90 > 0 {
			r := &at(food(c.Crop)).Range
			r.Low, r.Middle, r.High = r.Low+c.Kg.P10, r.Middle+c.Kg.P50, r.High+c.Kg.P90
		}
	}
	for _, a := range acc.Arrivals {
		if p := a.By[engine.Grown]; p.All()+a.Seed > 0 { // seed is harvest too
			name := a.Food
			if f, ok := m.Tables.Food(a.Food); ok {
				name = f.Name
			}
			c := at(a.Food, name)
			c.Found.Told, c.Found.Filled = c.Found.Told+p.Told, c.Found.Filled+p.Filled+a.Seed
		}
	}
	slices.SortStableFunc(out, func(a, b ThenCrop) int {
		return int(1000 * (max(b.Range.Middle, b.Found.All()) - max(a.Range.Middle, a.Found.All())))
	})
	return out
}

// within is the share of a growth's harvest that falls into the span, spread evenly
// over its days.
func within(g *engine.Growth, acc *engine.Account) float64 {
	if g.Last < g.First {
		return 0
	}
	days := min(g.Last, acc.To) - max(g.First, acc.From) + 1
	return max(0, float64(days)/float64(g.Last-g.First+1))
}

func thenNeeds(o *engine.Outlook, acc *engine.Account) []ThenNeed {
	found := map[string]float64{}
	for _, list := range [][]engine.Use{acc.Food, acc.Water} {
		for i := range list {
			if u := &list[i]; u.Need > 0 {
				found[needID(u.ID)] = u.Met / u.Need
			}
		}
	}
	heat := 0.0
	for _, f := range acc.Heat {
		heat += f.Heat.All()
	}
	if acc.HeatNeed > 0 {
		found["cooking"] = min(1, heat/acc.HeatNeed)
	}
	if acc.Hours.Asked > 0 {
		found["hours"] = min(1, acc.Hours.Had/acc.Hours.Asked)
	}
	var out []ThenNeed
	for i := range o.Needs {
		n := &o.Needs[i]
		if v, ok := found[n.ID]; ok && n.Known {
			out = append(out, ThenNeed{n.ID, n.Name, Range{n.Met[0], n.Met[1], n.Met[2]}, v})
		}
	}
	return out
}

// needID is a use's id as a need.
func needID(use string) string {
	if use == "energy_mj" {
		return "energy"
	}
	return use
}

func thenStores(o *engine.Outlook, ended []engine.StoreOutlook) []ThenStore {
	var out []ThenStore
	for i := range o.Stores {
		s := &o.Stores[i]
		at := slices.IndexFunc(ended, func(e engine.StoreOutlook) bool { return e.ID == s.ID })
		if at < 0 || len(s.Weeks) == 0 {
			continue
		}
		last := s.Weeks[len(s.Weeks)-1]
		out = append(out, ThenStore{s.ID, s.Name, s.Unit, Range{last.P10, last.P50, last.P90}, ended[at].Now})
	}
	return out
}
