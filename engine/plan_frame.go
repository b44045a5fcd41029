package engine

import (
	"context"
	"math"
	"time"

	"evenstead/crop"
	"evenstead/day"
	"evenstead/weather"
	"evenstead/work"
)

// A Frame is what a model fixes for any plan of it: the people, the foods, the
// places to keep them, the ground and the hours. It is read off a model and
// shares nothing with it.
type Frame struct {
	Today     day.Day
	Days      int
	Nutrients []string    // ids, energy first
	Target    [][]float64 // by week, then nutrient: what the household needs
	Mouths    []float64   // by day
	Free      []float64   // h by day, of all present, less what can't wait
	Foods     []FrameFood
	Classes   []float64 // kg of edible food a person-day, at most, by class
	Places    []FramePlace
	Plots     []FramePlot
	Tanks     []FrameTank
	Bought    []FrameBuy
	Soil      [3]float64 // kg of N, P, K that a m2 of bed has or frees in a year, before leaching
	Tending   []float64  // h a day for a m2 of mixed bed, by day
}

// A FrameFood is a food in one form where it is kept, per kg as stored.
type FrameFood struct {
	ID, Food, Form, Name string
	Class, Place         int
	Nutrient             []float64
	Blank                []bool  // nutrients of which nothing is known
	Edible               float64 // share
	Heat                 float64 // MJ in the pot
	Cap                  float64 // kg a person-day that people like at most, eaten day after day
	Litres               float64
	Life                 [12]float64 // days to a quarter lost, by month
	Ways                 []FrameWay
}

// A FrameWay puts a kg of a fresh food up.
type FrameWay struct {
	To         int     // Food
	Out, Hours float64 // kg and h a kg
	Heat       float64 // MJ in the pot a kg
}

// A FramePlace is room for food, L.
type FramePlace struct {
	Name    string
	Holds   float64
	Freezer bool
}

// A FramePlot is a bed or a stand of trees.
type FramePlot struct {
	Name       string
	Area       float64
	Tree       bool
	Irrigated  bool
	Tank       int
	LitreHours float64
}

// A FrameTank is a group of tanks, L.
type FrameTank struct {
	Name                 string
	Level, Holds, Leaves float64 // Leaves: what beds leave stand
}

// A FrameBuy is what the terms allow from outside, kg a day.
type FrameBuy struct {
	Food      int
	Rate      float64
	PerPerson bool
}

// DryTending is the share of a mixed bed's tending that grain and pulses ask
// (see labour: common practice).
const DryTending = 0.25

// Frame reads the frame of a model from today on.
func (m *Model) Frame() *Frame {
	f := &Frame{Today: m.today, Days: m.days - m.skip, Classes: m.classCap[:]}
	for _, n := range m.nutrients {
		f.Nutrients = append(f.Nutrients, n.ID)
	}
	for d := m.skip; d < m.days; d++ {
		plan := &m.cal[d]
		month := time.Month(plan.month + 1)
		f.Mouths = append(f.Mouths, plan.mouths)
		f.Free = append(f.Free, plan.hours-m.cantWait(plan))
		f.Tending = append(f.Tending, work.GardenHours(1, month, m.south))
		if plan.wd == 0 {
			f.Target = append(f.Target, append([]float64(nil), m.targets[plan.week*m.nutrientNeeds:(plan.week+1)*m.nutrientNeeds]...))
		}
	}
	m.frameFoods(f)
	f.Soil = [3]float64{soilMineralN, soilP, soilK}
	if len(m.plots) > 0 {
		p := &m.plots[0]
		f.Soil[0] += p.humusN / p.area * humusRate * math.Exp2((m.meanTemp-15)/10)
	}
	for _, p := range m.places {
		f.Places = append(f.Places, FramePlace{p.name, p.holds, p.freezer})
	}
	for _, p := range m.plots {
		f.Plots = append(f.Plots, FramePlot{p.name, p.area, p.tree, p.irrigated, p.group, p.litreHours})
	}
	for g := range m.groups {
		grp := &m.groups[g]
		f.Tanks = append(f.Tanks, FrameTank{grp.name, m.first.level[g], grp.holds, max(grp.dead, grp.reserve)})
	}
	for _, b := range m.bought {
		f.Bought = append(f.Bought, FrameBuy{b.kind, b.rate, b.perPerson})
	}
	return f
}

func (m *Model) frameFoods(f *Frame) {
	n := m.nutrientNeeds
	for k := range m.kinds {
		kd := &m.kinds[k]
		food := FrameFood{ID: kd.id, Food: kd.food, Form: kd.form, Name: kd.name, Class: kd.class, Place: kd.place,
			Nutrient: append([]float64(nil), m.composition[k*n:(k+1)*n]...), Blank: append([]bool(nil), m.blank[k*n:(k+1)*n]...),
			Edible: kd.edible, Heat: kd.heat, Cap: kd.settled(), Litres: kd.litres, Life: kd.life}
		food.Nutrient[0] = kd.mj
		for _, w := range kd.putUp {
			food.Ways = append(food.Ways, FrameWay{w.to, w.out, w.hours, w.heat})
		}
		f.Foods = append(f.Foods, food)
	}
}

// cantWait is the hours of a day that hands spends before the garden's.
func (m *Model) cantWait(plan *dayPlan) float64 {
	must := plan.owed + m.haulHours + hoursKitchen*plan.heads
	for i := range m.flocks {
		must += m.flocks[i].hoursDay
	}
	for i := range m.hives {
		must += m.hives[i].hoursWeek / 7
	}
	if m.dig != nil {
		must += m.dig.hoursDay + m.dig.haulHours
	}
	if m.toilet != nil {
		must += hoursToilet
	}
	return must
}

// Waters are what the tanks have and gain when beds take nothing.
type Waters struct {
	Today []float64     // L in each group today, mean of the members
	Net   [][][]float64 // L gained, member by group by fortnight
}

// WaterYears follows what each group of tanks gains in each fortnight of a member
// when beds take nothing and nothing is lost over the brim. A group's own use is
// taken off as far as its water goes.
func (m *Model) WaterYears(ctx context.Context, ens *weather.Ensemble) (*Waters, error) {
	deep := *m
	deep.groups = append([]group(nil), m.groups...)
	for g := range deep.groups {
		deep.groups[g].holds = math.MaxFloat64 / 4
	}
	r := newRunner(&deep)
	w := &Waters{Today: make([]float64, len(m.groups)), Net: make([][][]float64, len(ens.Members))}
	for i := range ens.Members {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		var today []float64
		today, w.Net[i] = r.waterYear(i, ens.Members[i])
		for g := range today {
			w.Today[g] += min(today[g], m.groups[g].holds) / float64(len(ens.Members))
		}
	}
	return w, nil
}

// waterYear is the level of each group today and what it gains by fortnight.
func (r *runner) waterYear(i int, w weather.Member) (today []float64, net [][]float64) {
	m := r.m
	slots := (m.days - m.skip) / Fortnight
	r.begin(i, w)
	net = make([][]float64, len(m.groups))
	for g := range net {
		net[g] = make([]float64, slots)
	}
	before := make([]float64, len(m.groups))
	for d := range m.days {
		r.day, r.without = d, m.without
		copy(before, r.s.level)
		if d == m.skip {
			today = append(today, before...)
		}
		r.catch()
		r.draw(&m.cal[d])
		if m.dig != nil {
			r.takeFrom(m.dig.group, m.dig.water)
		}
		r.endDay()
		if slot := (d - m.skip) / Fortnight; d >= m.skip && slot < slots {
			for g := range net {
				net[g][slot] += r.s.level[g] - before[g]
			}
		}
	}
	return today, net
}

// CropClimate is the mean year and the frosts of an ensemble, as crop.Windows asks.
func CropClimate(ens *weather.Ensemble, lat float64) (*crop.Climate, error) {
	return cropClimate(ens, lat)
}

// A StandKg is what one stand of a run gave to the larder, kg by member: its harvest
// without the seed that was set aside.
type StandKg struct {
	Plot, Crop string
	Sown       day.Day
	Kg         []float64
}

// StandKg lists what every stand gave from today on.
func (r *Result) StandKg() []StandKg {
	m := r.m
	out := make([]StandKg, len(m.plantings))
	for q := range out {
		g := &m.plantings[q]
		out[q] = StandKg{m.plots[g.plot].name, g.crop.ID, m.start + day.Day(g.sow), make([]float64, r.members)}
		for i := range out[q].Kg {
			out[q].Kg[i] = float64(r.kg[i*len(m.plantings)+q] - r.seed[i*len(m.plantings)+q])
		}
	}
	return out
}
