package engine

import (
	"math"

	"evenstead/day"
	"evenstead/fertility"
	"evenstead/larder"
	"evenstead/stead"
	sci "evenstead/water"
)

// A Standing is how a stead stands on the morning of a day by description,
// weather and book: read from the replay's state, which it does not change.
type Standing struct {
	Today    day.Day
	People   int
	Mouthful float64 // MJ of food the household eats in a usual day
	Rain     RainLately
	Tanks    []TankGroup
	Lots     []LotNow // soonest to go first
	Places   []PlaceNow
	Scraps   float64 // kg in the pail
	Digester *DigesterNow
	Fuels    []FuelNow
	Compost  CompostNow
	Toilet   *ToiletNow
	Plots    []PlotNow // beds, then trees, as described
	Hives    []HiveNow
	Flocks   []FlockNow
	Patches  []PatchNow // as described
	Gates    []Gate     // of what goes back to the ground
}

// A Gate is a published rule of safety.
type Gate struct{ ID, Rule, Source string }

// Gate finds a rule; empty when there is none of the id.
func (s *Standing) Gate(id string) Gate {
	for _, g := range s.Gates {
		if g.ID == id {
			return g
		}
	}
	return Gate{}
}

// A Sight is when and how a store was last seen, and what that showed.
type Sight struct {
	Day   day.Day
	How   string // "dipped", "counted" or "described"
	Drift *Drift // of the last count or dip; nil when there was none
}

// RainLately is what the last four weeks brought, as far as it is known.
type RainLately struct {
	Days, Known int
	MM          float64 // on the days known
	DryDays     int     // in a row before today
}

// TankGroup is tanks that share a level.
type TankGroup struct {
	Name                        string
	Level, Holds, Dead, Reserve float64 // L; what beds leave stands up to Reserve
	Caught                      float64 // L off its roofs in the last four weeks, on the days whose rain is known
	Use                         float64 // L a day the household draws
	Tanks                       []TankNow
	Roofs                       []RoofNow
	Sight
}

// TankNow is one vessel.
type TankNow struct {
	Name         string
	Level, Holds float64 // L
	Share        float64 // filled, 0 to 1: that of its group
}

// RoofNow sheds to a group.
type RoofNow struct {
	Name string
	Area float64 // m2
}

// PlaceNow is room for food.
type PlaceNow struct {
	Name, Kind  string
	Used, Holds float64 // L
	Kg          float64
	Temp        float64 // °C this month, of the room where it is a freezer
	RH          float64 // humidity as written, a share; NaN: not known
	Hold        float64 // h by which to act when the current stops; freezers only
}

// FuelNow is a fuel in store.
type FuelNow struct {
	Name   string // "wood" or "bottled gas"
	Kg, MJ float64
	Days   float64 // at the pace of the last four weeks; 0: it did not fall
	Sight
}

// lately is how many days back a pace and the rain are read.
const lately = 28

// Standing reads the state of the morning.
func (p *Past) Standing() *Standing {
	m := p.end
	v := p.viewer(m, p.ended, int(p.Today-m.start))
	st := &Standing{Today: p.Today, People: m.people, Mouthful: m.mouthful, Rain: p.rainLately(), Scraps: p.ended.scrapKg}
	st.Tanks = v.tanks()
	st.Places = v.places()
	st.Lots = v.lots()
	st.Fuels = v.fuels()
	st.Digester = v.digester()
	st.Compost = v.compost()
	st.Toilet = v.toilet()
	st.Plots = v.plots()
	st.Hives, st.Flocks, st.Patches = v.hives(), v.flocks(), v.patches()
	for _, g := range fertility.Gates() {
		st.Gates = append(st.Gates, Gate(g))
	}
	return st
}

// viewer reads a state; its runner is only asked, never stepped.
type viewer struct {
	past  *Past
	r     *runner
	month int               // 0 January
	last  map[string]*Drift // of each store
}

// viewer reads a state as it is on a day of a model.
func (p *Past) viewer(m *Model, s *state, at int) *viewer {
	v := &viewer{past: p, r: m.glance(s, at), month: int(p.Today.Month()) - 1, last: map[string]*Drift{}}
	for i := range p.Drifts {
		v.last[p.Drifts[i].Store] = &p.Drifts[i]
	}
	return v
}

// sight finds when a store was last seen.
func (v *viewer) sight(store string) Sight {
	at := Sight{Day: v.past.Known.Start, How: "described", Drift: v.last[store]}
	for _, s := range v.past.Seen {
		if s.Store == store {
			at.Day, at.How = s.Day, s.How
		}
	}
	return at
}

func (p *Past) rainLately() RainLately {
	out := RainLately{}
	rain := p.Known.Rain[:max(0, min(len(p.Known.Rain), int(p.Today-p.Known.Start)))]
	for i := max(0, len(rain)-lately); i < len(rain); i++ {
		out.Days++
		if rain[i] == rain[i] {
			out.Known++
			out.MM += rain[i]
		}
	}
	for i := len(rain) - 1; i >= 0 && rain[i] == 0; i-- {
		out.DryDays++
	}
	return out
}

func (v *viewer) tanks() []TankGroup {
	m, s, st := v.r.m, v.r.s, v.past.Stead
	var out []TankGroup
	for i, g := range st.Groups() {
		grp := &m.groups[i]
		t := TankGroup{Name: grp.name, Level: s.level[i], Holds: grp.holds, Dead: grp.dead, Reserve: grp.reserve, Sight: v.sight(grp.name + " water")}
		for _, at := range g.Tanks {
			tank := &st.Tanks[at]
			share := s.level[i] / grp.holds
			t.Tanks = append(t.Tanks, TankNow{tank.Name, share * tank.Holds, tank.Holds, share})
		}
		for j := range m.roofs {
			if m.roofs[j].group == i {
				t.Roofs = append(t.Roofs, RoofNow{st.Roofs[j].Name, m.roofs[j].area})
				t.Caught += v.caught(&m.roofs[j])
			}
		}
		for j := range m.uses {
			if u := &m.uses[j]; u.group == i {
				t.Use += (u.perHead*float64(m.people) + u.perDay) * m.useBy[i]
			}
		}
		out = append(out, t)
	}
	return out
}

// caught is what a roof sent down in the last four weeks, L.
func (v *viewer) caught(f *roof) float64 {
	rain, sum := v.past.Known.Rain, 0.0
	to := min(len(rain), int(v.past.Today-v.past.Known.Start))
	for i := max(0, to-lately); i < to; i++ {
		if !(rain[i] > 0) {
			continue
		}
		flush := f.flush
		if i > 0 && rain[i-1] > 0 {
			flush = 0
		}
		litres, _ := sci.CatchAfterFlush(rain[i], f.area, f.coefficient*v.r.m.catchBy[f.group], flush)
		sum += litres
	}
	return sum
}

func (v *viewer) places() []PlaceNow {
	m, s := v.r.m, v.r.s
	out := make([]PlaceNow, len(m.places))
	for i := range m.places {
		p := &m.places[i]
		out[i] = PlaceNow{Name: p.name, Kind: p.kind, Holds: p.holds, Temp: p.temps[v.month], RH: p.rh}
	}
	for k := range m.kinds {
		at := &out[m.kinds[k].place]
		at.Kg += s.kg[k]
		at.Used += s.kg[k] * m.kinds[k].litres
	}
	for i := range out {
		if p := &out[i]; m.places[i].freezer && p.Holds > 0 {
			p.Hold = larder.FreezerHold(min(1, p.Used/p.Holds), p.Holds, p.Temp)
		}
	}
	return out
}

func (v *viewer) fuels() []FuelNow {
	m, s := v.r.m, v.r.s
	var out []FuelNow
	add := func(name, track string, kg, mj float64) {
		if kg > 0 || burns(v.past.Stead, track) {
			out = append(out, FuelNow{name, kg, kg * mj, v.pace(track, kg), v.sight(name)})
		}
	}
	add("wood", "wood", s.wood, m.woodMJ)
	add("bottled gas", "bottle", s.bottle, m.bottleMJ)
	return out
}

// pace is how many days a store lasts if it goes on falling as it did in the
// last four weeks; 0 when it did not fall.
func (v *viewer) pace(track string, now float64) float64 {
	for i := range v.past.Tracks {
		t := &v.past.Tracks[i]
		if t.ID != track {
			continue
		}
		for j := range t.Days {
			if days := v.past.Today - t.Days[j]; days > 0 && days <= lately && t.Levels[j] > now {
				return math.Round(now / (t.Levels[j] - now) * float64(days))
			}
		}
	}
	return 0
}

// burns tells whether a stead has a stock or a cooker of a fuel.
func burns(st *stead.Stead, kind string) bool {
	for _, f := range st.Fuels {
		if f.Kind == kind {
			return true
		}
	}
	for _, c := range st.Cookers {
		if c.Kind == kind {
			return true
		}
	}
	return false
}
