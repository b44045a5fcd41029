package plan

import (
	"bytes"
	"cmp"
	"math"
	"slices"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
)

// read fills in the plan's lists from the last answer and what was laid.
func (p *Plan) read(a *Ask, list []laid) {
	p.readSowings(a, list)
	p.readUnwatered(list)
	p.readStands()
	p.Rests = p.years.rests
	p.readWhy(a)
	p.readSeed(a)
	p.readKeep(list)
	p.readTable()
	p.readShort(a)
	p.readWorks()
	p.readHeat()
	p.readLoops(a)
	p.readGround(list)
	p.st = p.withPlantings(a.Stead, a.Tables)
}

func (p *Plan) readSowings(a *Ask, list []laid) {
	y := p.years
	p.Sowings = nil
	for _, l := range list {
		w := &y.sowings[l.of[0]]
		line := Line{Bed: a.Stead.Beds[l.bed].Name, Crop: w.crop.ID, Name: w.crop.Name, Sow: w.day, First: max(w.day, y.fortnight(firstPicked(&w.kg, &w.seed))), Free: w.end, Area: l.area,
			Plants: math.Ceil(l.area * w.crop.PlantsM2), Kg: w.total * l.area}
		if begin := w.day - day.Day(w.crop.Raise); w.crop.Raise > 0 && w.crop.Start != "sown" && begin >= a.Options.Today {
			line.Raise = &begin
		}
		p.Sowings = append(p.Sowings, line)
	}
	slices.SortStableFunc(p.Sowings, func(u, v Line) int { return cmp.Or(cmp.Compare(u.Sow, v.Sow), cmp.Compare(u.Crop, v.Crop)) })
}

// readWhy says why nothing is sown.
func (p *Plan) readWhy(a *Ask) {
	free := 0.0
	for _, w := range p.Works {
		free += max(0, w.Free)
	}
	for _, l := range a.Stead.People {
		free += l.Hours
	}
	switch {
	case len(p.Sowings) > 0:
	case len(p.all.sowings) == 0:
		p.Why = "No crop has a sowing time here that ends in a harvest: " + p.all.commonBar() + "."
	case len(p.wide.sowings) == 0:
		p.Why = "Every bed lies fallow, is taken, or rests from all that could be sown, or all that could be is forbidden."
	case free <= 0:
		p.Why = "Nobody has an hour to give, so nothing is sown: write hours_week for those who would work."
	default:
		p.Why = "Nothing that could be sown brings as much as its ground, hours and water are worth here."
	}
}

// commonBar is what bars most crops.
func (y *years) commonBar() string {
	count := map[string]int{}
	best := "the season is too short or too cold"
	for _, b := range y.barred {
		s := b.String()
		if count[s]++; count[s] > count[best] || count[s] == count[best] && s < best {
			best = s
		}
	}
	return best
}

// firstOf is the fortnight of the first harvest; the last where there is none.
func firstOf(kg *[slots]float64) int {
	i := slices.IndexFunc(kg[:], func(v float64) bool { return v > 0 })
	if i < 0 {
		return slots - 1
	}
	return i
}

// readUnwatered lists the irrigated beds on which nothing needs the water: what
// stands there today aside.
func (p *Plan) readUnwatered(list []laid) {
	y := p.years
	wet := map[int]bool{}
	p.Unwatered = nil
	for _, l := range list {
		wet[l.bed] = wet[l.bed] || y.sowings[l.of[0]].watered
	}
	for i := range y.standing {
		if s := &y.standing[i]; s.bed >= 0 && sum(s.litres[:]) > 0 {
			wet[s.bed] = true
		}
	}
	for g := range y.grounds {
		for _, b := range y.grounds[g].beds {
			if y.grounds[g].irrigated && !wet[b] {
				p.Unwatered = append(p.Unwatered, y.beds[b].Name)
			}
		}
	}
}

func (p *Plan) readStands() {
	y := p.years
	for i := range y.standing {
		s := &y.standing[i]
		if s.bed < 0 || s.tried.Tree {
			continue
		}
		c := s.tried.Crop
		p.Stands = append(p.Stands, Line{Bed: s.tried.Plot, Crop: c.ID, Name: c.Name, Sow: s.tried.Sown, First: y.fortnight(firstPicked(&s.kg, &s.seed)), Free: y.fortnight(s.to),
			Area: s.tried.Area, Plants: math.Ceil(s.tried.Area * c.PlantsM2), Kg: sum(s.kg[:])})
	}
}

func (p *Plan) readSeed(a *Ask) {
	at := map[string]int{}
	for _, l := range p.Sowings {
		c, _ := a.Tables.Crop(l.Crop)
		by := l.Sow
		if l.Raise != nil {
			by = *l.Raise
		}
		i, ok := at[l.Crop]
		if !ok {
			i = len(p.Seed)
			at[l.Crop] = i
			p.Seed = append(p.Seed, Seed{Crop: l.Crop, Name: l.Name, By: by})
		}
		s := &p.Seed[i]
		s.By = min(s.By, by)
		s.Plants += l.Plants
		s.Area += l.Area
		s.Grams += l.Area * c.SeedGM2
	}
	slices.SortStableFunc(p.Seed, func(u, v Seed) int { return cmp.Compare(u.By, v.By) })
}

// leastTold is the amount of a food below which it is not told, kg.
const leastTold = 0.05

func (p *Plan) readTable() {
	y, x, g := p.years, p.x(), p.prog
	f := y.frame
	for t := range periods {
		per := Period{From: y.fortnight(2 * t), Need: y.target(0, t)}
		for k := range f.Foods {
			food := &f.Foods[k]
			if c := g.eat[k][t]; c >= 0 {
				per.Eaten += x[c] * food.Nutrient[0]
				if x[c] > leastTold {
					per.Foods = append(per.Foods, Amount{food.Name, food.Form, x[c], x[c] * food.Nutrient[0]})
				}
			}
			if c := g.stock[k][t]; c >= 0 {
				per.Stock += max(0, x[c]) * food.Nutrient[0]
			}
		}
		slices.SortStableFunc(per.Foods, func(u, v Amount) int { return cmp.Compare(v.MJ, u.MJ) })
		p.Periods = append(p.Periods, per)
	}
	for _, put := range g.put {
		if kg := x[put.col]; kg > leastTold {
			food := &f.Foods[put.food]
			way := p.years.ways(put.food)[put.way]
			p.PutUp = append(p.PutUp, PutUp{y.fortnight(2 * put.period), food.Name, f.Foods[way.To].Form, kg, kg * way.Hours})
		}
	}
	slices.SortStableFunc(p.PutUp, func(u, v PutUp) int { return cmp.Compare(u.From, v.From) })
	for i, b := range f.Bought {
		kg := 0.0
		for _, c := range g.buy[i] {
			kg += x[c]
		}
		food := &f.Foods[b.Food]
		p.Bought = append(p.Bought, Amount{food.Name, food.Form, kg, kg * food.Nutrient[0]})
	}
}

// leastShort is the lack below which a nutrient is not told, days of the year.
const leastShort = 0.5

func (p *Plan) readShort(a *Ask) {
	x := p.x()
	for n, row := range p.prog.short {
		s := Short{Nutrient: p.years.frame.Nutrients[n], Name: a.Tables.Nutrients[n].Name, By: make([]float64, periods)}
		worst := 0
		for t, c := range row {
			if c >= 0 {
				s.By[t] = max(0, x[c])
				s.Days += s.By[t]
			}
			if s.By[t] > s.By[worst] {
				worst = t
			}
		}
		s.Worst = p.years.fortnight(2 * worst)
		if s.Days >= leastShort {
			p.Short = append(p.Short, s)
		}
	}
}

// leastWater is what a fortnight's watering may be and still count as none, L: what
// the programme leaves of a sowing that is none.
const leastWater = 0.1

func (p *Plan) readWorks() {
	y, g := p.years, p.prog
	act := g.p.Activity(p.x())
	for s := range slots {
		w := Fortnight{From: y.fortnight(s), Free: y.freeHours(s), Water: make([]float64, len(y.frame.Tanks))}
		w.Hours = act[g.rows.hours[s]] + p.x()[g.over[s]]
		tended := 0.0
		for i := range y.grounds {
			tended += y.grounds[i].area * y.tending(s)
		}
		w.Hours, w.Free = w.Hours+tended, w.Free+tended
		for j := range y.sowings {
			u := &y.sowings[j]
			if u.watered {
				w.Water[y.grounds[u.on].tank] += max(0, p.x()[g.sow[j]]) * u.litres[s]
			}
		}
		for t := range w.Water {
			if w.Water[t] += y.drawnStanding(t, s); w.Water[t] < leastWater {
				w.Water[t] = 0
			}
		}
		p.Works = append(p.Works, w)
	}
}

func (p *Plan) readGround(list []laid) {
	y := p.years
	held := make([][slots]float64, len(y.beds))
	for i := range y.standing {
		if s := &y.standing[i]; s.bed >= 0 {
			for t := range s.to {
				held[s.bed][t] += s.tried.Area
			}
		}
	}
	for _, l := range list {
		w := &y.sowings[l.of[0]]
		for t := w.from; t < w.to; t++ {
			held[l.bed][t] += l.area
		}
	}
	all := 0.0
	for b := range held {
		p.Ground.Beds += y.beds[b].Area
		p.Ground.Used += min(y.beds[b].Area, slices.Max(held[b][:]))
		all += min(y.beds[b].Area*slots, sum(held[b][:]))
	}
	if p.Ground.Beds > 0 {
		p.Ground.Rest = 1 - all/(p.Ground.Beds*slots)
	}
}

// withPlantings is the stead with what stands today, its perennials, and the
// plan's sowings as its plantings.
func (p *Plan) withPlantings(st *stead.Stead, tab *data.Tables) *stead.Stead {
	out := *p.loops.run(st)
	out.Plantings = nil
	out.Rations = described(st, p.Rations)
	out.Beds = slices.Clone(st.Beds)
	for _, name := range p.Unwatered {
		for i := range out.Beds {
			if out.Beds[i].Name == name {
				out.Beds[i].Irrigated = false
			}
		}
	}
	for _, pl := range st.Plantings {
		if c, ok := tab.Crop(pl.Crop); ok && c.HarvestFrom != 0 {
			out.Plantings = append(out.Plantings, pl)
		}
	}
	old := slices.Clone(p.years.gone) // their harvest is in what the larder has by today
	for i := range p.years.standing {
		if s := &p.years.standing[i]; s.bed >= 0 {
			old = append(old, s.tried)
		}
	}
	for _, t := range old {
		if t.Tree {
			continue
		}
		line := planting(t.Plot, t.Crop.ID, t.Area, t.Sown)
		if t.Yield != t.Crop.YieldTyp {
			line.Yield = t.Yield
		}
		out.Plantings = append(out.Plantings, line)
	}
	for _, l := range p.Sowings {
		out.Plantings = append(out.Plantings, planting(l.Bed, l.Crop, l.Area, l.Sow))
	}
	return &out
}

func planting(bed, crop string, area float64, sow day.Day) stead.Planting {
	year, month, dom := sow.Date()
	return stead.Planting{Bed: bed, Crop: crop, Area: math.Round(area*100) / 100, Sow: day.When{Year: year, Month: month, Dom: dom}}
}

// Planted is the stead with the plan's plantings in place of its own.
func (p *Plan) Planted() *stead.Stead { return p.st }

// Text is the description of the stead with the plan's plantings, as stead.Read
// takes it.
func (p *Plan) Text() ([]byte, error) {
	var b bytes.Buffer
	err := p.st.Write(&b)
	return b.Bytes(), err
}
