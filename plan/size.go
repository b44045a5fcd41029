package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/lp"
	"evenstead/stead"
	"evenstead/water"
	"evenstead/weather"
)

// A Size is how much land and water a household would need on a place of which
// only the people and the climate are known. The JSON keys are documented in
// docs/plan.md.
type Size struct {
	Stead  string  `json:"stead"`
	Today  day.Day `json:"from"` // the first day of the year reckoned
	Risk   float64 `json:"risk"`
	People float64 `json:"people"`  // mean number at the table
	House  float64 `json:"house_l"` // L of water a year for the house
	Rain   float64 `json:"rain_mm"` // of the year planned for
	Ways   []Sized `json:"ways"`    // by the rain alone, then watered; fat left aside, then covered too
}

// Sized is one way to feed the household, with the least ground.
type Sized struct {
	WithFat bool       `json:"with_fat"` // fat comes from the beds too
	Watered bool       `json:"watered"`
	Ground  float64    `json:"ground_m2"` // of beds, without paths
	Each    float64    `json:"m2_a_person"`
	Water   float64    `json:"water_l"`      // to beds in the year
	Most    float64    `json:"most_water_l"` // in a fortnight
	Roof    float64    `json:"roof_m2"`      // the least that catches water for beds and house in that year
	Tank    float64    `json:"tank_l"`       // under that roof
	Tank2   float64    `json:"tank_twice_l"` // under one twice as large
	Bring   [3]float64 `json:"bring_kg"`     // N, P, K in the year beyond what the ground frees
	Seed    float64    `json:"seed_kg"`      // set aside of the harvests, to sow the same again
	Hours   float64    `json:"hours_week"`   // of beds, picking, watering and putting up, mean
	Busiest float64    `json:"busiest_week"`
	Room    float64    `json:"room_l"`       // most litres of food in store at a time
	Lacking float64    `json:"lacking_days"` // days of food energy that no ground brings
	Protein float64    `json:"protein_days"` // likewise of protein
	Fat     float64    `json:"fat_days"`     // likewise of fat
	Crops   []Line     `json:"crops"`        // the largest first, all sowings of a crop together
}

// SizeUp finds the least ground on which the people of a stead would cover food
// energy, protein and fat in the year that a share of years are poorer than, by
// the rain alone and watered: fed as needed, put up without a freezer, the larder
// of the year's end that of its beginning. Ground, stores, tanks, trees and
// animals that are described are left aside.
func SizeUp(ctx context.Context, a *Ask) (*Size, error) {
	if len(a.Stead.People) == 0 {
		return nil, errors.New("nobody is described: write people = 2, or a [[person]] for each")
	}
	y, err := a.unbuilt(ctx)
	if err != nil {
		return nil, fmt.Errorf("size: %w", err)
	}
	z := &Size{Stead: a.Stead.Name, Today: a.Members.Start, Risk: y.risk, House: house(a.Stead)}
	for p := range periods {
		z.People += y.mouths(p) / (periods * 2 * engine.Fortnight)
	}
	rain := poorRain(a.Members, y.risk)
	z.Rain = sum(rain)
	a.tell(weighing)
	z.Ways = make([]Sized, 4)
	errs := make([]error, len(z.Ways))
	var wg sync.WaitGroup
	for i := range z.Ways {
		wg.Go(func() {
			var way *sizedWay
			if way, errs[i] = y.sized(ctx, i >= 2, i%2 == 1); errs[i] == nil {
				z.Ways[i] = way.Sized
				z.Ways[i].Each = way.Ground / z.People
				z.Ways[i].catch(rain, way.litres[:], z.House)
			}
		})
	}
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, fmt.Errorf("size: %w", err)
	}
	return z, nil
}

// unbuilt looks at the place without what is built on it.
func (a *Ask) unbuilt(ctx context.Context) (*years, error) {
	b := *a
	b.Stead = unbuilt(a.Stead)
	b.Stead.Stay.From, b.Options.Today, b.Options.Past = a.Members.Start, a.Members.Start, nil
	y, err := b.look(ctx)
	if err != nil {
		return nil, err
	}
	y.larder = make([]float64, len(y.larder))
	y.sizing = true
	return y, nil
}

// unbuilt is a place with its people, a bed of each kind and all the room there
// could be.
func unbuilt(st *stead.Stead) *stead.Stead {
	const plenty = 1e6
	return &stead.Stead{Name: st.Name, Place: st.Place, Stay: st.Stay, Terms: st.Terms, People: st.People, Guests: st.Guests, Foods: st.Foods, Rations: st.Rations,
		Tanks:   []stead.Tank{{Name: "tank", Holds: plenty, Level: plenty, Overflow: "away"}},
		Beds:    []stead.Bed{{Name: "dry", Area: 1, How: "drip"}, {Name: "watered", Area: 1, Irrigated: true, How: "drip", From: "tank"}},
		Shelves: []stead.Shelf{{Name: "cellar", Kind: "cellar", Holds: plenty}, {Name: "dry", Kind: "dry", Holds: plenty}}}
}

// house is what a household draws of water in a year, L.
func house(st *stead.Stead) float64 {
	l, uses := 0.0, st.Uses
	if len(uses) == 0 {
		uses = stead.UsualUses()
	}
	for _, u := range uses {
		l += 365 * (u.PerPerson*float64(len(st.People)) + u.PerDay)
	}
	return l
}

// poorRain is the rain of the member whose year a share of members are drier than,
// mm a day.
func poorRain(ens *weather.Ensemble, risk float64) []float64 {
	year := func(m weather.Member) []float64 { return m.Rain[:min(len(m.Rain), slots*engine.Fortnight)] }
	order := make([]int, len(ens.Members))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch a, b := sum(year(ens.Members[i])), sum(year(ens.Members[j])); {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return i - j
	})
	return year(ens.Members[order[int(risk*float64(len(order)-1))]])
}

// laySizes adds the rows that hold ground in use to its size.
func (g *programme) laySizes() {
	for i := range g.y.grounds {
		row := make([]int, slots)
		for s := range row {
			row[s] = g.p.AddRow(fmt.Sprintf("size %d %d", i, s), -inf, 0)
		}
		g.ground.size = append(g.ground.size, row)
	}
}

// addSizes adds a column for the size of each kind of ground: it brings room for
// every family, what the soil frees, and tending.
func (g *programme) addSizes() {
	for i := range g.y.grounds {
		var c column
		for s := range slots {
			c.add(g.ground.size[i][s], -1)
			c.add(g.rows.hours[s], g.y.tending(s))
		}
		for _, row := range g.families(i) {
			c.add(row, -1)
		}
		for k, row := range g.ground.soil[i] {
			c.add(row, -g.y.soil[k])
		}
		g.size = append(g.size, g.column(fmt.Sprintf("size of ground %d", i), 0, inf, c))
	}
}

// sizedWay is a Sized with its watering by fortnight, L.
type sizedWay struct {
	Sized
	litres [slots]float64
}

// sized solves for the least ground: least shortfall first, then ground, then what
// is brought to it in water and nutrients.
func (y *years) sized(ctx context.Context, watered, fat bool) (*sizedWay, error) {
	z := *y
	z.comes, z.offers = nil, nil
	z.grounds = slices.Clone(y.grounds)
	for i := range z.grounds {
		z.grounds[i].area = 0
	}
	z.sowings = slices.DeleteFunc(slices.Clone(y.sowings), func(w sowing) bool { return z.grounds[w.on].irrigated != watered })
	g := z.programme(nil, nil)
	g.loose()
	need, ground, work := g.sizeCosts(fat)
	sol, err := lp.Stages(ctx, g.p, [][]float64{need, ground, work}, lp.Options{})
	if len(sol) < 2 {
		if err == nil {
			err = errors.New("the ground can't be found")
		}
		return nil, err
	}
	out := g.readSize(sol[len(sol)-1].X)
	out.Watered, out.WithFat = watered, fat
	return out, nil
}

// loose takes away the limits of a place that is not there yet: hours, tanks, room
// and what is brought.
func (g *programme) loose() {
	free := slices.Concat(g.rows.hours, g.ground.feeding())
	for _, rows := range g.rows.place {
		free = append(free, rows...)
	}
	for _, r := range free {
		g.p.RowUp[r] = inf
	}
	for _, cols := range g.level {
		for _, c := range cols {
			g.p.ColLo[c], g.p.ColUp[c] = -inf, inf
		}
	}
}

// sizeCosts are the objectives: days short of energy, protein and, where asked, fat; ground; and
// then water [m3], hours and kg of nutrients brought.
func (g *programme) sizeCosts(fat bool) (need, ground, work []float64) {
	n := len(g.p.Cost)
	need, ground, work = make([]float64, n), make([]float64, n), slices.Clone(g.stages[2])
	for i, id := range g.y.frame.Nutrients {
		if w := weightOf(id); w >= weightProtein || fat && w >= weightFat {
			for _, c := range g.short[i] {
				if c >= 0 {
					need[c] = w
				}
			}
		}
	}
	for _, c := range g.more {
		need[c] = weightHelping
	}
	for _, c := range g.size {
		ground[c] = 1
	}
	for j := range g.y.sowings {
		w := &g.y.sowings[j]
		work[g.sow[j]] += sum(w.litres[:]) / 1000
	}
	return need, ground, work
}

// brought is what is brought to the ground of nitrogen, phosphorus and potassium,
// kg: what fed sowings lack, and what is taken beyond what the ground frees.
func (g *programme) brought(x []float64) (kg [3]float64) {
	for i := range g.y.grounds {
		for k := range kg {
			over := -g.y.soil[k] * max(0, x[g.size[i]])
			for j := range g.y.sowings {
				if w := &g.y.sowings[j]; w.on == i {
					over += max(0, x[g.sow[j]]) * w.own[k]
				}
			}
			kg[k] += max(0, over)
		}
	}
	for j := range g.y.sowings {
		if w := &g.y.sowings[j]; w.fed {
			for k := range kg {
				kg[k] += max(0, x[g.sow[j]]) * w.gap[k]
			}
		}
	}
	return kg
}

func (g *programme) readSize(x []float64) *sizedWay {
	y := g.y
	out := new(sizedWay)
	for _, c := range g.size {
		out.Ground += max(0, x[c])
	}
	act := g.p.Activity(x)
	for s := range slots {
		h := (act[g.rows.hours[s]] + x[g.over[s]]) / 2
		out.Hours += h / slots
		out.Busiest = max(out.Busiest, h)
	}
	out.Bring = g.brought(x)
	area := map[string]int{}
	for j := range y.sowings {
		w, m2 := &y.sowings[j], max(0, x[g.sow[j]])
		if m2 < leastPiece {
			continue
		}
		out.Seed += m2 * sum(w.seed[:])
		for s, l := range w.litres {
			if w.watered {
				out.litres[s] += m2 * l
			}
		}
		i, ok := area[w.crop.ID]
		if !ok {
			i = len(out.Crops)
			area[w.crop.ID] = i
			out.Crops = append(out.Crops, Line{Crop: w.crop.ID, Name: w.crop.Name, Sow: w.day})
		}
		l := &out.Crops[i]
		l.Area, l.Kg, l.Plants, l.Sow = l.Area+m2, l.Kg+m2*w.total, l.Plants+math.Ceil(m2*w.crop.PlantsM2), min(l.Sow, w.day)
	}
	slices.SortStableFunc(out.Crops, func(a, b Line) int {
		if a.Area > b.Area {
			return -1
		}
		return 1
	})
	out.Water, out.Most = sum(out.litres[:]), slices.Max(out.litres[:])
	for p := range periods {
		room := 0.0
		for l := range g.rows.place {
			room += act[g.rows.place[l][p]]
		}
		out.Room = max(out.Room, room)
	}
	for i, id := range y.frame.Nutrients {
		days := 0.0
		for _, c := range g.short[i] {
			if c >= 0 {
				days += max(0, x[c])
			}
		}
		switch id {
		case "energy_mj":
			out.Lacking = days
		case "protein_g":
			out.Protein = days
		case "fat_g":
			out.Fat = days
		}
	}
	return out
}

// Of the water that falls on a roof, and more than is asked of it: metal sheet with
// its first flush left aside (the roofs table: 0.85), and what spills in a wet month.
const (
	roofCatch = 0.85
	roofSpare = 1.1
)

// catch finds the roof that catches the water of beds and house in the year
// planned for, and the tank under it.
func (z *Sized) catch(rain, litres []float64, house float64) {
	demand := make([]float64, len(rain))
	for d := range demand {
		demand[d] = house/365 + litres[min(d/engine.Fortnight, slots-1)]/engine.Fortnight
	}
	if sum(rain) <= 0 {
		return
	}
	z.Roof = roofSpare * sum(demand) / (roofCatch * sum(rain))
	tank := func(roof float64) float64 {
		in := make([]float64, len(rain))
		for d, mm := range rain {
			in[d] = water.Catch(mm, roof, roofCatch)
		}
		return water.SequentPeak(in, demand)
	}
	z.Tank, z.Tank2 = tank(z.Roof), tank(2*z.Roof)
}
