package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"evenstead/data"
	"evenstead/larder"
	"evenstead/unit"
)

// A larderGlut is more of a food than is eaten while it keeps, and what can be
// done with it.
type larderGlut struct {
	Food   string      `json:"food"`
	Name   string      `json:"name"`
	Kg     float64     `json:"kg"`
	Edible float64     `json:"edible_share"`
	Why    string      `json:"why"`
	Keeps  []larderFor `json:"keeps"` // as it is, by place
	Ways   []larderWay `json:"ways"`
	Guards []string    `json:"guards"`
	brief  bool        // found, not asked for: told in short
}

// A larderFor is how long a food keeps in a place.
type larderFor struct {
	Place string  `json:"place"`
	TempC float64 `json:"temp_c"`
	Days  float64 `json:"days"` // to a quarter lost
}

// A larderWay is one way to put a glut up.
type larderWay struct {
	Name    string          `json:"name"`
	Stop    string          `json:"not_offered,omitempty"`
	In      []larderPart    `json:"in,omitempty"`
	Out     []larderPart    `json:"out,omitempty"`
	MJIn    float64         `json:"mj_in"`
	MJOut   float64         `json:"mj_out"`
	Minutes float64         `json:"minutes"`
	Heat    float64         `json:"heat_mj"`
	Fuel    []string        `json:"fuel,omitempty"`
	Water   float64         `json:"water_l"`
	Jars    int             `json:"jars,omitempty"`
	Jar     string          `json:"jar,omitempty"`
	Litres  float64         `json:"store_l"`
	Room    string          `json:"room,omitempty"`
	Ready   [2]float64      `json:"ready_days"`
	Keeps   float64         `json:"keeps_days"` // 0 where no figure speaks
	Tested  []larderProcess `json:"tested,omitempty"`
	Do      []string        `json:"do,omitempty"`
	Care    []string        `json:"care,omitempty"`
	Source  string          `json:"source"`
}

type larderPart struct {
	What string  `json:"what"`
	Kg   float64 `json:"kg"`
}

// A larderProcess is one tested time.
type larderProcess struct {
	Food    string  `json:"food"`
	Pack    string  `json:"pack"`
	Jar     string  `json:"jar"`
	Method  string  `json:"method"`
	Minutes float64 `json:"minutes"`
	KPa     float64 `json:"kpa,omitempty"`
	Note    string  `json:"note,omitempty"`
	Source  string  `json:"source"`
}

// most gluts are told without asking, and a lot counts as one when it loses a
// quarter within so many days with a kilogram or more that can't be eaten by then.
const (
	mostGluts = 3
	glutDays  = 42
	glutLeast = 1.0 // kg
)

func (p *pantry) gluts() error {
	if p.q.glut != "" {
		name, kg, err := readGlut(p.q.glut)
		if err != nil {
			return given(fmt.Errorf("--glut: %w", err))
		}
		food, id, edible, err := p.foodNamed(name)
		if err != nil {
			return given(fmt.Errorf("--glut: %w", err))
		}
		if err := p.glut(food, id, kg, edible, "as asked"); err != nil {
			return given(fmt.Errorf("--glut: %w", err))
		}
		return nil
	}
	var list []larderLot
	for _, l := range p.b.Lots {
		if l.Form == larder.Fresh && l.Lost >= glutLeast && l.Quarter != nil && *l.Quarter < p.now.Today+glutDays {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b larderLot) int { return cmp.Compare(b.Lost, a.Lost) })
	for _, l := range list[:min(mostGluts, len(list))] {
		f, ok := p.r.Tables.Food(l.Food)
		if !ok || f.Refuse >= 1 {
			continue
		}
		why := fmt.Sprintf("of %s in %s, a quarter is lost by %s and no more is liked by then", p.mass(l.Kg), l.Place, plain(l.Quarter.Short()))
		if err := p.glut(f, l.Food, l.Lost, 1-f.Refuse, why); err != nil {
			return given(err)
		}
		p.b.Gluts[len(p.b.Gluts)-1].brief = true
	}
	return nil
}

func (p *pantry) mass(kg float64) string { return plain(unit.Format(kg, unit.Mass, p.sys)) }

// readGlut reads "tomato 20 kg" or "20 kg tomato".
func readGlut(text string) (name string, kg float64, err error) {
	fields := strings.Fields(text)
	from := slices.IndexFunc(fields, func(s string) bool { return strings.ContainsFunc(s[:1], unicode.IsDigit) || s[0] == '-' })
	if from < 0 {
		return "", 0, fmt.Errorf("%q names no amount: write such as tomato 20 kg", text)
	}
	words, amount := fields[:from], fields[from:]
	if from == 0 && len(fields) > 2 {
		amount, words = fields[:2], fields[2:]
	}
	if kg, err = unit.Parse(strings.Join(amount, " "), unit.Mass); err != nil {
		return "", 0, err
	}
	if !(kg > 0) || kg > 1e5 {
		return "", 0, fmt.Errorf("%s is no glut: give more than nothing and at most 100,000 kg", strings.Join(amount, " "))
	}
	return strings.Join(words, " "), kg, nil
}

// foodNamed finds a crop, wild food or food by its id, blanks for underscores and
// a plural forgiven.
func (p *pantry) foodNamed(name string) (*data.Food, string, float64, error) {
	tab := p.r.Tables
	if f, ok := tab.Food(name); ok && f.Like != "" {
		return f, name, 1 - f.Refuse, nil
	}
	name = strings.ReplaceAll(strings.ToLower(name), " ", "_")
	for _, id := range []string{name, strings.TrimSuffix(name, "s"), strings.TrimSuffix(name, "es")} {
		if c, ok := tab.Crop(id); ok {
			if f, ok := tab.Food(c.Food); ok {
				return f, id, c.EdibleFraction, nil
			}
		}
		if w, ok := tab.WildFood(id); ok {
			if f, ok := tab.Food(w.Food); ok {
				return f, id, 1 - f.Refuse, nil
			}
			for _, h := range tab.HazardsOf(id) {
				return nil, "", 0, fmt.Errorf("%s: %s; %s (%s)", h.Name, h.Hazard, h.Rule, h.Source)
			}
			return nil, "", 0, fmt.Errorf("%s has no composition on record: name a food it is like", w.Name)
		}
		if f, ok := tab.Food(id); ok {
			return f, id, 1 - f.Refuse, nil
		}
	}
	var ids []string
	for i := range tab.Foods {
		ids = append(ids, tab.Foods[i].ID)
	}
	for i := range tab.Crops {
		ids = append(ids, tab.Crops[i].ID)
	}
	if near := data.Nearest(name, ids); near != "" {
		return nil, "", 0, fmt.Errorf("no food %q; meant %s?", name, near)
	}
	return nil, "", 0, fmt.Errorf("no food %q in the tables: name one that it is like", name)
}

func (p *pantry) glut(f *data.Food, id string, kg, edible float64, why string) error {
	at := int(p.now.Today.YearDay()-1) % 365
	clim := &p.r.Options.Climate
	k := larder.Kitchen{Altitude: p.r.Stead.Place.Elevation, Crock: p.crock(), TMax: clim.TMax[at], TMin: clim.TMin[at]}
	ways, err := larder.Ways(p.r.Tables, larder.Glut{Food: f, Kg: kg, Edible: edible}, k)
	if err != nil {
		return err
	}
	g := larderGlut{Food: id, Name: f.Name, Kg: kg, Edible: edible, Why: why, Keeps: p.keeps(f)}
	for i := range ways {
		g.Ways = append(g.Ways, p.way(f, &ways[i]))
	}
	for _, h := range p.r.Tables.HazardsOf(id) {
		g.Guards = append(g.Guards, hazardWords(h))
	}
	p.b.Gluts = append(p.b.Gluts, g)
	return nil
}

// crock is the temperature where ferments stand: of the crocks, else of a room
// as heated.
func (p *pantry) crock() float64 {
	for _, kind := range []string{larder.Crocks, larder.Room} {
		for _, at := range p.now.Places {
			if at.Kind == kind {
				return at.Temp
			}
		}
	}
	return 20
}

// keeps is how long a food lasts as picked in each place that is no freezer.
func (p *pantry) keeps(f *data.Food) (out []larderFor) {
	for _, at := range p.now.Places {
		if at.Kind == larder.Freezer || at.Kind == larder.Crocks {
			continue
		}
		for _, form := range []string{larder.Fresh, larder.Dry} {
			if days := larder.LifeIn(p.r.Tables.KeepingOf(f, form), at.Temp, at.RH); days > 0 {
				out = append(out, larderFor{at.Name, at.Temp, days})
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b larderFor) int { return cmp.Compare(b.Days, a.Days) })
	return out
}

// placesFor are the kinds of place for a form, the best first.
var placesFor = map[string][]string{
	larder.Jarred: {larder.Jars, larder.Cellar, larder.Room}, larder.Fermented: {larder.Crocks, larder.Cellar, larder.Room},
	larder.Dried: {larder.DryRoom, larder.Room, larder.Cellar}, larder.Frozen: {larder.Freezer},
}

func (p *pantry) way(f *data.Food, w *larder.Way) larderWay {
	out := larderWay{Name: w.Name, Stop: w.Stop, MJIn: w.MJIn, MJOut: w.MJOut, Minutes: w.Minutes, Heat: w.Heat, Water: w.Water,
		Jars: w.Jars, Jar: w.Jar, Litres: w.Litres, Ready: [2]float64{w.ReadyLo, w.ReadyHi}, Do: w.Do, Source: w.Source}
	for _, x := range w.In {
		out.In = append(out.In, larderPart(x))
	}
	for _, x := range w.Out {
		out.Out = append(out.Out, larderPart(x))
	}
	for i, t := range w.Tested {
		b := w.Batches[i]
		out.Tested = append(out.Tested, larderProcess{b.Food, b.Pack, b.Jar, b.Method, t.Minutes, t.KPa, t.Note, t.Source})
	}
	if w.Stop != "" {
		return out
	}
	out.Fuel = p.fuel(w.Heat)
	if w.Form != "" {
		out.Room, out.Keeps = p.roomFor(f, w)
		for _, c := range larder.Cautions(w.Form) {
			out.Care = append(out.Care, c.Text+" ("+c.Source+")")
		}
	}
	return out
}

// roomFor says where a product goes and whether it fits, and how long it keeps
// there: the best place that has room, else the best.
func (p *pantry) roomFor(f *data.Food, w *larder.Way) (said string, days float64) {
	for _, kind := range placesFor[w.Form] {
		for _, at := range p.now.Places {
			if at.Kind != kind {
				continue
			}
			temp := at.Temp
			if kind == larder.Freezer {
				temp = -18
			}
			keeps := larder.LifeIn(p.r.Tables.KeepingOf(f, w.Form), temp, at.RH)
			left := math.Max(0, at.Holds-at.Used)
			if w.Litres <= left {
				return fmt.Sprintf("%s has %s left", at.Name, p.litres(left)), keeps
			}
			if said == "" {
				said, days = fmt.Sprintf("%s has only %s left", at.Name, p.litres(left)), keeps
			}
		}
	}
	if said == "" {
		said = "no place for it is described"
	}
	return said, days
}

func (p *pantry) litres(l float64) string { return plain(unit.Format(l, unit.Volume, p.sys)) }

// fuel is what the heat takes on each cooker of the stead.
func (p *pantry) fuel(heat float64) (out []string) {
	if !(heat > 0) {
		return nil
	}
	for _, c := range p.r.Stead.Cookers {
		row, ok := p.r.Tables.Fuel(c.Kind)
		if !ok || !(row.MJ > 0) || c.Kind == "sun" {
			continue
		}
		efficiency := c.Efficiency
		if efficiency == 0 {
			efficiency = row.Efficiency
		}
		amount := heat / efficiency / row.MJ
		switch row.Unit {
		case "kg":
			out = append(out, fmt.Sprintf("%s of %s", p.mass(amount), lowerFirst(row.Name)))
		case "m3":
			out = append(out, fmt.Sprintf("%s of %s", p.litres(1000*amount), lowerFirst(row.Name)))
		default:
			out = append(out, fmt.Sprintf("%.1f %s of %s", amount, row.Unit, lowerFirst(row.Name)))
		}
	}
	return out
}
