package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/tasks"
	"evenstead/unit"
)

// Handover is the document for the one the place is left to. Its first page says
// what to do in the first month; then comes what stands where and how old it is,
// the dates that bind, how each system is run through the year, what was promised,
// seeds and stocks, the cautions, and where the history lies as data.
func Handover(f *Facts) *Sheet {
	s := f.sheet("handover", f.Stead.Name)
	s.ID, s.Over = "handover", f.handedTo()
	s.Lead, s.Quote = f.firstMonth()
	s.Rest = f.say("handover.rest", f.minutes(f.dailyMinutes()))
	m := f.month()
	s.add(Part{Title: f.say("handover.daily"), Lines: f.dailyLines(), Quoted: true}, Part{Title: f.say("handover.weekly"), Dense: true, Ticks: m.weekly, Quoted: true})
	for i, t := range m.weeks {
		w := &f.Plan.Weeks[i]
		s.add(Part{Title: f.say("handover.week", fmt.Sprint(i+1), f.date(w.From), f.date(w.To)), Ticks: t, Quoted: true})
	}
	s.add(Part{Title: f.say("handover.water"), Break: true, Table: f.waterTable(), Lines: f.waterLines()},
		Part{Title: f.say("handover.ground"), Table: f.bedTable()},
		Part{Title: f.say("handover.trees"), Table: f.treeTable()},
		Part{Title: f.say("handover.beasts"), Table: f.beastTable()},
		Part{Title: f.say("handover.rooms"), Table: f.roomTable()},
		Part{Title: f.say("handover.heat"), Table: f.heatTable()},
		Part{Title: f.say("handover.dates"), Note: f.say("handover.dates.note"), Break: true, Table: f.dateTable()},
		Part{Title: f.say("handover.cords"), Note: f.say("handover.cords.note"), Blanks: []string{f.say("cord.current"), f.say("cord.gas"), f.say("cord.filter"), f.say("cord.gutter"), f.say("cord.lids"), f.say("cord.keys")}},
		Part{Title: f.say("handover.year"), Table: f.runTable()},
		Part{Title: f.say("handover.promises"), Break: true, Lines: f.promises(), Rules: f.drumRules()},
		Part{Title: f.say("handover.seeds"), Note: f.say("handover.seeds.note"), Table: f.seeds()},
		Part{Title: f.say("handover.stocks"), Table: f.stockTable()},
		Part{Title: f.say("handover.care"), Break: true, Lines: f.careLines(), Quoted: true},
		Part{Title: f.say("handover.data"), Lines: []Line{{f.say("handover.data.lead"), f.say("handover.data.rest", fmt.Sprint(len(f.Entries)), f.long(f.Began))}}})
	return s
}

// handedTo says who it is left to and when, as far as that is written.
func (f *Facts) handedTo() string {
	to, on := f.Stead.Stay.LeftTo, f.Stead.Stay.To
	switch {
	case to == "" && on == 0:
		return f.say("handover.over")
	case on == 0:
		return f.say("handover.over.to", to)
	case to == "":
		return f.say("handover.over.on", f.long(on))
	}
	return f.say("handover.over.both", to, f.long(on))
}

// firstMonth names the dearest work of the first four weeks that does not come
// every week.
func (f *Facts) firstMonth() (lead, quote string) {
	m := f.month()
	var names []string
	for _, t := range m.dear[:min(3, len(m.dear))] {
		names = append(names, lower(t.Title))
	}
	if len(names) == 0 {
		return f.say("handover.calm"), ""
	}
	quote = stop(strings.Join(names, "; "))
	return f.say("handover.lead", quote), quote
}

// A month is the work of four weeks as a newcomer reads it.
type month struct {
	weekly []Tick        // what comes in at least three of them
	weeks  [][]Tick      // the rest, each piece in its first week
	dear   []*tasks.Task // of the rest, the dearest first
}

const (
	monthWeeks  = 4
	oftenWeeks  = 3 // in so many of them work counts as weekly
	mostWeekly  = 12
	mostWeighty = 7 // tasks of a week on the first page
)

// month sorts the work of the first four weeks.
func (f *Facts) month() (m month) {
	weeks := f.Plan.Weeks[:min(monthWeeks, len(f.Plan.Weeks))]
	often := map[string]int{}
	for i := range weeks {
		for _, t := range abiding(&weeks[i]) {
			often[deed(t)]++
		}
	}
	seen := map[string]bool{}
	for i := range weeks {
		var list []*tasks.Task
		for _, t := range abiding(&weeks[i]) {
			switch weekly := often[deed(t)] >= oftenWeeks && !once(t); {
			case weekly && !seen[deed(t)] && len(m.weekly) < mostWeekly:
				m.weekly = append(m.weekly, Tick{f.minutes(t.Minutes), t.Title, ""})
			case !weekly && !seen[t.ID]:
				list = append(list, t)
			}
			seen[deed(t)], seen[t.ID] = true, true
		}
		slices.SortStableFunc(list, dearer)
		list = list[:min(len(list), mostWeighty)]
		m.dear = append(m.dear, list...)
		slices.SortStableFunc(list, func(a, b *tasks.Task) int { return cmp.Compare(a.By, b.By) })
		var ticks []Tick
		for _, t := range list {
			ticks = append(ticks, f.monthTick(t))
		}
		m.weeks = append(m.weeks, ticks)
	}
	slices.SortStableFunc(m.dear, dearer)
	return m
}

func dearer(a, b *tasks.Task) int {
	return cmp.Or(cmp.Compare(a.Rank, b.Rank), cmp.Compare(b.Minutes, a.Minutes))
}

// once tells work that is one deed though it is told week after week.
func once(t *tasks.Task) bool { return t.Kind == "frost" || t.Kind == "drum" }

// deed is what work is the same from week to week.
func deed(t *tasks.Task) string {
	title, _, _ := strings.Cut(t.Title, ":")
	return t.Kind + " " + title
}

// abiding is the work of a week that is a newcomer's too: not the daily round, nor
// the hours that others owe.
func abiding(w *tasks.Week) (out []*tasks.Task) {
	for i := range w.Tasks {
		if t := &w.Tasks[i]; !t.Daily && t.Kind != "exchange" && t.Kind != "papers" {
			out = append(out, t)
		}
	}
	return out
}

func (f *Facts) monthTick(t *tasks.Task) Tick {
	more := joined(t.Amount, f.by(t.By, f.Today))
	if t.Kind == "late" {
		more = f.by(t.By, f.Today)
	}
	return Tick{f.minutes(t.Minutes), t.Title, more}
}

func (f *Facts) dailyLines() []Line {
	var names []string
	for i := range f.Plan.Weeks[0].Tasks {
		if t := &f.Plan.Weeks[0].Tasks[i]; t.Daily && t.Kind != "kitchen" {
			names = append(names, lower(t.Title))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []Line{{"", stop(upper(strings.Join(names, "; ")))}}
}

func (f *Facts) waterTable() *Table {
	t := &Table{Head: []string{f.say("col.tank"), f.say("col.level"), f.say("col.roofs"), f.say("col.use")}, Right: []bool{false, true, false, true}}
	for i := range f.Standing.Tanks {
		g := &f.Standing.Tanks[i]
		var roofs []string
		for _, r := range g.Roofs {
			roofs = append(roofs, strings.TrimSpace(r.Name+" "+f.amount(r.Area, unit.Area)))
		}
		t.Rows = append(t.Rows, []string{upper(g.Name), f.say("of", f.litres(g.Level), f.litres(g.Holds)), f.listed(roofs, 4), f.say("aday", f.litres(g.Use))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) waterLines() (out []Line) {
	for _, g := range f.Standing.Tanks {
		if len(g.Tanks) > 1 {
			var names []string
			for _, t := range g.Tanks {
				names = append(names, t.Name)
			}
			out = append(out, Line{upper(g.Name) + ".", f.say("handover.joined", f.listed(names, 8))})
		}
	}
	return out
}

func (f *Facts) treeTable() *Table {
	t := &Table{Head: []string{f.say("col.where"), f.say("col.kind"), f.say("col.count"), f.say("col.age")}, Right: []bool{false, false, true, true}}
	for _, x := range f.Stead.Trees {
		t.Rows = append(t.Rows, []string{upper(x.Name), f.named("crop", x.Crop, spoken(x.Crop)), whole(x.Count), f.say("yearsold", whole(f.treeAge(x.Age)))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) beastTable() *Table {
	t := &Table{Head: []string{f.say("col.what"), f.say("col.count"), f.say("col.now")}, Right: []bool{false, true, false}}
	for i, x := range f.Standing.Flocks {
		kind := ""
		if i < len(f.Stead.Flocks) {
			kind = spoken(f.Stead.Flocks[i].Kind)
		}
		t.Rows = append(t.Rows, []string{upper(kind), whole(x.Count), f.say("beasts.hens", tenth(x.Eggs*7), f.kg(x.Feed))})
	}
	for _, x := range f.Stead.Hives {
		t.Rows = append(t.Rows, []string{f.say("beasts.hive", spoken(x.Kind)), whole(x.Count), f.say("beasts.honey", f.kg(x.Leave))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) roomTable() *Table {
	t := &Table{Head: []string{f.say("col.place"), f.say("col.kind"), f.say("col.full"), f.say("col.warmth")}, Right: []bool{false, false, true, true}}
	for _, p := range f.Standing.Places {
		t.Rows = append(t.Rows, []string{upper(p.Name), strings.TrimSuffix(f.Say("paper.place."+p.Kind), "."), f.say("of", f.litres(p.Used), f.litres(p.Holds)), f.warmth(p.Temp)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) heatTable() *Table {
	t := &Table{Head: []string{f.say("col.what"), f.say("col.now")}, Right: []bool{false, false}}
	for _, x := range f.Standing.Fuels {
		t.Rows = append(t.Rows, []string{upper(f.named("fuel", x.Name, x.Name)), f.kg(x.Kg)})
	}
	if d := f.Standing.Digester; d != nil {
		t.Rows = append(t.Rows, []string{f.say("heat.digester"), f.say("heat.digester.now", f.litres(d.Liquid), f.kg(d.Feed), f.litres(d.Water), f.litres(d.GasDay))})
	}
	c := f.Standing.Compost
	if len(f.Stead.Composts) > 0 {
		t.Rows = append(t.Rows, []string{f.say("heat.compost"), f.say("heat.compost.now", f.kg(c.Ripe), f.kg(c.Fresh))})
	}
	if x := f.Standing.Toilet; x != nil {
		said := f.say("heat.toilet.now", fmt.Sprint(len(x.Drums)), f.litres(x.Holds), f.litres(x.Cover))
		if x.Apart {
			said += " " + f.say("heat.urine", f.litres(x.Urine), f.litres(x.Cans))
		}
		t.Rows = append(t.Rows, []string{f.say("heat.toilet"), said})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// A dated is a row of the dates that bind.
type dated struct {
	day  day.Day
	cell [3]string
}

// dateTable is what has a date: the stay, drums, the filter, what was made and mended.
func (f *Facts) dateTable() *Table {
	var rows []dated
	add := func(d day.Day, what, now, next string) { rows = append(rows, dated{d, [3]string{what, now, next}}) }
	for _, d := range f.drums() {
		name := f.say("drum", fmt.Sprint(d.Number))
		switch {
		case d.Closed != 0:
			add(d.Opens, name, f.say("date.closed", f.long(d.Closed)), f.say("date.opens", f.long(d.Opens)))
		case d.Filling:
			add(d.Full, name, f.say("date.filling", f.litres(d.Litres)), f.say("date.full", f.long(d.Full)))
		}
	}
	if c := f.Chores; c != nil && c.Filter > 0 && c.Drinks > 0 {
		d := f.Today + day.Day(c.Filter/c.Drinks)
		add(d, f.say("date.filter"), f.say("date.filter.now", f.litres(c.Filter)), f.say("date.filter.next", f.long(d)))
	}
	slices.SortStableFunc(rows, func(a, b dated) int { return cmp.Compare(a.day, b.day) })
	t := &Table{Head: []string{f.say("col.what"), f.say("col.now"), f.say("col.then")}, Right: make([]bool, 3)}
	for _, r := range rows {
		t.Rows = append(t.Rows, r.cell[:])
	}
	t.Rows = append(t.Rows, f.mended()...)
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// mostMended is how many things made and mended are listed, the latest first.
const mostMended = 20

// mended is what was made or mended, the last time for each thing.
func (f *Facts) mended() (rows [][]string) {
	seen := map[string]bool{}
	for i := len(f.Entries) - 1; i >= 0; i-- {
		e := &f.Entries[i]
		if e.Kind != book.Made && e.Kind != book.Mended || seen[e.Body.What] || len(rows) == mostMended {
			continue
		}
		seen[e.Body.What] = true
		rows = append(rows, []string{upper(e.Body.What), f.say("date."+string(e.Kind), f.long(e.Day)), ""})
	}
	return rows
}

// runTable is how each system that stands is run through the year.
func (f *Facts) runTable() *Table {
	t := &Table{Head: []string{f.say("col.system"), f.say("col.often"), f.say("col.seasons")}, Right: make([]bool, 3)}
	add := func(stands bool, key string, args ...any) {
		if stands {
			t.Rows = append(t.Rows, []string{f.say("run." + key), f.say("run." + key + ".often"), f.say("run."+key+".year", args...)})
		}
	}
	st := f.Stead
	add(len(st.Roofs) > 0, "roofs")
	add(len(st.Tanks) > 0, "tanks")
	add(len(st.Treatment) > 0, "filter")
	add(len(st.Beds) > 0, "beds", f.frostDates())
	add(len(st.Trees) > 0, "trees")
	add(len(st.Flocks) > 0, "hens")
	add(len(st.Hives) > 0, "hives")
	add(len(st.Shelves) > 0, "shelves")
	add(len(st.Freezers) > 0, "freezer")
	add(len(st.Digesters) > 0, "digester")
	add(len(st.Composts) > 0, "compost")
	add(len(st.Toilets) > 0, "toilet")
	add(slices.ContainsFunc(st.Fuels, func(x stead.Fuel) bool { return x.Kind == "wood" }), "wood")
	return t
}

// frostDates are the usual last and first frost, in the words of a date.
func (f *Facts) frostDates() string {
	spring, ok := f.usualDay(f.Usual.LastSpring.Sooner(0.5))
	autumn, also := f.usualDay(f.Usual.FirstAutumn.Sooner(0.5))
	if !ok || !also {
		return f.say("run.nofrost")
	}
	return f.say("run.frost", spring, autumn)
}

// usualDay words a day counted from 1 January.
func (f *Facts) usualDay(n float64) (string, bool) {
	if !(n > -366 && n < 732) {
		return "", false
	}
	return f.short(day.Of(f.Today.Year(), 1, 1) + day.Day(n) - 1), true
}

// mostPromised is how many gates are listed.
const mostPromised = 30

// promises are what was given one's word for: hours, a share, what is shut, the
// rules of the place.
func (f *Facts) promises() []Line {
	var out []Line
	for _, d := range Deals(f.Stead, f.Began, f.Today, f.Entries) {
		out = append(out, Line{upper(d.With) + ".", f.say("promise.hours", tenth(d.Term.Weekly)) + " " + f.balance(&d) + " " + f.share(&d)})
	}
	out = append(out, f.gated(mostPromised)...)
	for _, r := range f.Stead.Rules {
		out = append(out, Line{f.say("promise.rule"), r.Text + sourced(r.Source)})
	}
	return out
}

// drumRules are the rules that hold for what drums give.
func (f *Facts) drumRules() []Line {
	if f.Standing.Toilet == nil {
		return nil
	}
	return []Line{{f.say("promise.drums"), f.gate("drum") + " " + f.gate("drum-place")}}
}

func (f *Facts) stockTable() *Table {
	t := &Table{Head: []string{f.say("col.food"), f.say("col.place"), f.say("col.holds"), f.say("col.quarter")}, Right: []bool{false, false, true, false}}
	for _, l := range f.Shelves() {
		t.Rows = append(t.Rows, []string{f.lot(l.LotNow), l.Place, f.kg(l.Kg), f.orYears(l.Quarter != 0, f.date(l.Quarter))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (f *Facts) careLines() []Line {
	var out []Line
	for _, c := range f.Cautions {
		out = append(out, Line{"", c})
	}
	return out
}

// treeNames are the crops of trees, without the household's own names for them.
func treeNames(f *Facts) (names []string) {
	for _, t := range f.Stead.Trees {
		names = append(names, f.named("crop", t.Crop, spoken(t.Crop)))
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// standsOf are the names of what grows, by the crop tables alone.
func standsOf(f *Facts) (names []string) {
	for _, p := range f.Standing.Plots {
		for _, s := range p.Stands {
			if !s.Perennial {
				names = append(names, lower(f.named("crop", s.Crop, s.Name)))
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
