package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenstead/crop"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
)

// beds is the sheet of the ground: what stands where, what comes next, what to
// sow when, and the year of each bed on a ruler.
func beds(f *Facts) *Sheet {
	s := f.sheet("beds")
	s.Lead, s.Rest = f.bedsVerdict()
	s.add(Part{Title: f.say("beds.map"), Note: strings.TrimSpace(f.say("beds.map.note") + " " + f.leftOut(f.hidden())), Beds: f.cells()},
		Part{Title: f.say("beds.sow"), Note: f.say("beds.sow.note"), Break: true, Table: f.sowTable()},
		Part{Title: f.say("beds.year"), Note: f.say("beds.year.note"), Break: true, Year: f.year()})
	if len(s.Parts) == 0 {
		s.Rest = f.say("beds.none")
	}
	return s
}

// hidden is how many beds and trees are left out.
func (f *Facts) hidden() int {
	_, left := within(f.Most, f.Standing.Plots)
	return left
}

func (f *Facts) bedsVerdict() (lead, rest string) {
	sowings := f.sowings()
	if len(sowings) == 0 {
		return f.say("beds.nosow"), ""
	}
	g := sowings[0]
	return f.say("beds.next", lower(f.named("crop", g.Crop, g.Name)), g.Plot, f.date(g.Sown)), f.say("beds.count", fmt.Sprint(len(sowings)))
}

// sowings are the stands still to be begun within a year, soonest first.
func (f *Facts) sowings() []*engine.Growth {
	var out []*engine.Growth
	for i := range f.Year {
		if g := &f.Year[i]; g.Planned && !g.Perennial && g.Sown >= f.Today {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b *engine.Growth) int { return cmp.Compare(a.Sown, b.Sown) })
	return out
}

// cells are the beds, then the trees, with what stands and what comes next.
func (f *Facts) cells() (out []Cell) {
	plots, _ := within(f.Most, f.Standing.Plots)
	for i := range plots {
		p := &plots[i]
		var stands []string
		for _, st := range p.Stands {
			stands = append(stands, lower(f.named("crop", st.Crop, st.Name)))
		}
		from := f.say("rain.only")
		if p.Irrigated {
			from = p.From
		}
		if p.Tree {
			stands = []string{f.treeWords(p.Name)}
		}
		out = append(out, Cell{upper(p.Name), f.amount(p.Area, unit.Area), f.orBare(stands), f.nextOn(p.Name), from})
	}
	return out
}

func (f *Facts) bedTable() *Table {
	t := &Table{Head: []string{f.say("col.bed"), f.say("col.area"), f.say("col.stands"), f.say("col.next"), f.say("col.water")}, Right: []bool{false, true, false, false, false}}
	for _, c := range f.cells() {
		t.Rows = append(t.Rows, []string{c.Name, c.Area, c.Stands, c.Next, c.Water})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) orBare(stands []string) string {
	if len(stands) == 0 {
		return f.say("bare")
	}
	return f.listed(stands, 3)
}

// treeWords is a stand of trees: number, kind and age.
func (f *Facts) treeWords(plot string) string {
	for _, t := range f.Stead.Trees {
		if t.Name == plot {
			return f.say("trees", whole(t.Count), spoken(t.Crop), whole(f.treeAge(t.Age)))
		}
	}
	return plot
}

// treeAge is a described age, grown by the years of the stay.
func (f *Facts) treeAge(age float64) float64 { return age + float64(f.Today-f.Began)/365.25 }

// nextOn is the next sowing on a plot.
func (f *Facts) nextOn(plot string) string {
	for _, g := range f.sowings() {
		if g.Plot == plot {
			return f.say("beds.then", lower(f.named("crop", g.Crop, g.Name)), f.date(g.Sown))
		}
	}
	return ""
}

func (f *Facts) sowTable() *Table {
	t := &Table{Head: []string{f.say("col.day"), f.say("col.crop"), f.say("col.bed"), f.say("col.howmuch"), f.say("col.first")}, Right: make([]bool, 5)}
	list, _ := within(f.Most, f.sowings())
	for _, g := range list {
		first := f.date(g.First)
		if g.Feeds {
			first = f.say("feeds")
		}
		t.Rows = append(t.Rows, []string{f.date(g.Sown), upper(f.named("crop", g.Crop, g.Name)), g.Plot, f.seedOf(g), first})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// seedOf is the area, and the seed or plants it takes.
func (f *Facts) seedOf(g *engine.Growth) string {
	area := f.amount(g.Area, unit.Area)
	c, ok := f.Tables.Crop(g.Crop)
	switch {
	case ok && (c.Start == "set" || c.Start == "piece") && c.PlantsM2 > 0:
		return f.say("beds.plants", area, whole(g.Area*c.PlantsM2))
	case ok && c.SeedGM2 > 0:
		return f.say("beds.seed", area, f.kg(c.SeedGM2*g.Area/1000))
	}
	return area
}

// yearDays is the ruler of the beds' year; a fifth of it is past.
const yearDays = 365

// year is every bed's year on a ruler that begins with a month.
func (f *Facts) year() *Year {
	y, m, _ := f.Today.Date()
	from := day.Of(y, m, 1)
	out := &Year{From: from, Days: yearDays, Today: int(f.Today - from), Key: [3]string{f.say("key.grows"), f.say("key.bears"), f.say("key.planned")}}
	for i := range 12 {
		out.Months = append(out.Months, f.Say(fmt.Sprintf("month.%d", (int(m)-1+i)%12+1)))
	}
	plots, _ := within(f.Most, f.Standing.Plots)
	for i := range plots {
		p := &plots[i]
		row := YearRow{Name: upper(p.Name)}
		for j := range f.Year {
			g := &f.Year[j]
			if g.Plot != p.Name || g.Done || g.Last < from || g.Sown > from+yearDays || p.Tree {
				continue
			}
			last := g.Last
			row.Spans = append(row.Spans, Span{lower(f.named("crop", g.Crop, g.Name)), int(g.Sown - from), int(g.First - from), int(last - from), g.Planned})
		}
		if len(row.Spans) > 0 {
			out.Rows = append(out.Rows, row)
		}
	}
	if len(out.Rows) == 0 {
		return nil
	}
	return out
}

// seeds is what to keep back of each annual crop that is grown, to sow the same
// again with enough for one failure.
func (f *Facts) seeds() *Table {
	area := map[string]float64{}
	var order []*engine.Growth
	for i := range f.Year {
		g := &f.Year[i]
		if g.Perennial {
			continue
		}
		if area[g.Crop] == 0 {
			order = append(order, g)
		}
		area[g.Crop] += g.Area
	}
	t := &Table{Head: []string{f.say("col.crop"), f.say("col.area"), f.say("col.keep"), f.say("col.plants")}, Right: []bool{false, true, true, true}}
	for _, g := range order {
		c, ok := f.Tables.Crop(g.Crop)
		if !ok {
			continue
		}
		grams := crop.KeepBack(c, area[g.Crop], 1, 1)
		if !(grams > 0) {
			continue
		}
		from := ""
		if c.Seed.Plants > 1 {
			from = whole(c.Seed.Plants)
		}
		t.Rows = append(t.Rows, []string{upper(f.named("crop", g.Crop, g.Name)), f.amount(area[g.Crop], unit.Area), f.kg(grams / 1000), from})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}
