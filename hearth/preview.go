package hearth

import (
	"context"
	"math"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/weather"
)

// A Preview is what a description tells before anything is run: plain sums, for
// someone who is still writing it.
type Preview struct {
	Longest, Shortest float64 // h of daylight

	Weather bool        // the following four are known
	Rain    [12]float64 // mm of a usual month, January first
	Wet     [12]float64 // days with rain
	Low     [12]float64 // °C, mean daily minimum
	High    [12]float64

	Catch  [12]float64 // L that the roofs shed in a usual month, first flush left out
	Use    float64     // L a day by the uses, nobody away
	Holds  float64     // L of all tanks
	Level  float64     // L in them
	Stored float64     // MJ of food energy in store
	Eats   float64     // MJ a day that the people need
	Hours  float64     // of work the people have in a week
}

// Preview adds up a description. Rain comes from its normals, else from the
// weather kept when that has two years or more.
func (h *Home) Preview(ctx context.Context, st *stead.Stead) (*Preview, error) {
	p := &Preview{}
	p.Longest, p.Shortest = daylight(st.Place.Latitude)
	tab, err := st.Tables(h.tab)
	if err != nil {
		return nil, err
	}
	n, ok, err := h.normals(ctx, st)
	if err != nil {
		return nil, err
	}
	if p.Weather = ok; ok {
		p.Rain, p.Wet, p.Low, p.High = n.Rain, n.WetDays, n.TMin, n.TMax
	}
	for i := range st.Roofs {
		h.catch(p, &st.Roofs[i])
	}
	for _, u := range st.Uses {
		p.Use += u.PerDay + u.PerPerson*float64(len(st.People))
	}
	for _, t := range st.Tanks {
		p.Holds, p.Level = p.Holds+t.Holds, p.Level+t.Level
	}
	for _, l := range st.Lots {
		p.Stored += energy(tab, l)
	}
	for _, who := range st.People {
		p.Hours += who.Hours
	}
	p.Eats, err = engine.Appetite(st, tab)
	return p, err
}

// daylight is the longest and the shortest day of a year, h.
func daylight(lat float64) (longest, shortest float64) {
	june, december := weather.Daylight(lat, 172), weather.Daylight(lat, 355)
	return max(june, december), min(june, december)
}

// normals are the usual months of a description's place; ok is false when nothing
// is known of them.
func (h *Home) normals(ctx context.Context, st *stead.Stead) (n weather.Normals, ok bool, err error) {
	if len(st.Place.Normals) > 0 {
		return Normals(st.Place.Normals[0]), true, nil
	}
	rec, err := h.Record(ctx)
	if err != nil || rec == nil {
		return n, false, err
	}
	n, err = weather.FitNormals(rec)
	return n, err == nil, nil // a record too short to be summed up says nothing yet
}

// firstFlush is what a wet day washes off a roof before it is caught, L/m2, where
// the roof does not say.
const firstFlush = 0.5

func (h *Home) catch(p *Preview, r *stead.Roof) {
	share := r.Coefficient
	if row, ok := h.tab.Roof(r.Surface); ok && share == 0 {
		share = row.Coefficient
	}
	for m := range p.Catch {
		flush := r.FirstFlush * p.Wet[m]
		if r.FirstFlush == 0 {
			flush = firstFlush * r.Area * p.Wet[m]
		}
		p.Catch[m] += math.Max(0, p.Rain[m]*r.Area*share*(1-r.Gutter)-flush)
	}
}

// energy is the food energy of a lot, MJ, by its food as it is stored.
func energy(tab *data.Tables, l stead.Lot) float64 {
	id := l.Food
	if c, ok := tab.Crop(id); ok && c.Food != "" {
		id = c.Food
	}
	f, ok := tab.Food(id)
	if !ok {
		return 0
	}
	mj := f.Nutrient[tab.NutrientIndex("energy_mj")]
	if math.IsNaN(mj) {
		return 0
	}
	return l.Mass * (1 - f.Refuse) * mj
}

// Sowable lists the common crops with a sowing window at the place of a
// description, as they stand on a day; none without weather.
func (h *Home) Sowable(ctx context.Context, st *stead.Stead, on day.Day) ([]engine.Opening, error) {
	rec, err := h.Record(ctx)
	if err != nil || rec == nil && len(st.Place.Normals) == 0 {
		return nil, err
	}
	const years = 30 // enough to count frosts by
	a := Ask{Today: on, Members: years, Seed: 1, Weather: rec}
	if err := a.defaults(); err != nil {
		return nil, err
	}
	tab, err := st.Tables(h.tab)
	if err != nil {
		return nil, err
	}
	r := &Reckoning{Stead: st, Tables: tab, Options: a.options()}
	if err := r.draw(&a, on); err != nil {
		return nil, err
	}
	return engine.Sowable(st, tab, r.Members, on)
}

// Begun tells whether the file holds a description that has begun by a day.
func (h *Home) Begun(ctx context.Context, on day.Day) (bool, error) {
	versions, err := h.store.Steads(ctx)
	if err != nil {
		return false, err
	}
	for _, v := range versions {
		if v.From <= on {
			return true, nil
		}
	}
	return false, nil
}
