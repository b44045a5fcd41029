package skill

import (
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/weather"
)

// frostAt is the daily minimum at or under which a night counts as frost, °C.
const frostAt = 0

// tell notes what the members said of a thing and what was found. What is judged
// together but is not the same is told apart by of.
func (t *tally) tell(s day.Day, head Once, of string, members []float64, found float64) {
	x := t.once[head.ID]
	if x == nil {
		x = &onceTally{head: head}
		t.once[head.ID] = x
		t.onceIDs = append(t.onceIDs, head.ID)
	}
	slices.Sort(members)
	x.list = append(x.list, told{s, members, found, of})
}

// met notes the share of a need of the whole look ahead that is met.
func (t *tally) met(s day.Day, n *engine.NeedOutlook, said, found *engine.Result) {
	members, ok := said.Met(n.ID)
	real, ok2 := found.Met(n.ID)
	if !ok || !ok2 {
		return
	}
	t.tell(s, Once{ID: "met:" + n.ID, Name: n.Name + ", share met", Unit: "share"}, "", t.each(members), real(0))
}

// picking notes the days to a crop's first picking, where most members say that it
// lies ahead and not today.
func (t *tally) picking(s day.Day, c *engine.CropOutlook, said, found *engine.Result) {
	members, ok := said.FirstPickings(c.Crop)
	real, ok2 := found.FirstPickings(c.Crop)
	if !ok || !ok2 {
		return
	}
	v := t.each(func(m int) float64 { return float64(members(m)) })
	slices.Sort(v)
	if Quantile(v, 0.25) < 1 || Quantile(v, 0.75) >= float64(t.horizon) {
		return
	}
	t.tell(s, Once{ID: "picking", Name: "first picking of a crop", Unit: "days"}, c.Crop, v, float64(real(0)))
}

// frost notes the days to the next frost, where it is neither tonight nor beyond the
// look ahead in most members.
func (t *tally) frost(s day.Day, ens, real *weather.Ensemble) {
	v := t.each(func(m int) float64 { return nextFrost(ens, &ens.Members[m], s, t.horizon) })
	slices.Sort(v)
	if Quantile(v, 0.25) < 1 || Quantile(v, 0.75) >= float64(t.horizon) {
		return
	}
	t.tell(s, Once{ID: "frost", Name: "next frost", Unit: "days"}, "", v, nextFrost(real, &real.Members[0], s, t.horizon))
}

// nextFrost is the days from s to the first frost, the horizon where there is none.
func nextFrost(e *weather.Ensemble, m *weather.Member, s day.Day, horizon int) float64 {
	from := int(s - e.Start)
	for k := range horizon {
		if m.TMin[from+k] <= frostAt {
			return float64(k)
		}
	}
	return float64(horizon)
}

func (t *tally) each(of func(member int) float64) []float64 {
	v := make([]float64, t.members)
	for m := range v {
		v[m] = of(m)
	}
	return v
}

func (t *tally) onceReport() []Once {
	var out []Once
	for _, id := range t.onceIDs {
		x := t.once[id]
		x.head.Lead = lead(0, x.list)
		out = append(out, x.head)
	}
	return out
}
