package paper

import (
	"cmp"
	"fmt"
	"slices"

	"evenstead/day"
	"evenstead/tasks"
	"evenstead/unit"
)

// helper is the sheet for who minds the place while the household is away for so
// many days: what is done every day, what falls due, where things stand, and what
// to leave alone.
func helper(f *Facts, days int) *Sheet {
	span := f.say("span.days", fmt.Sprint(days))
	if days == 1 {
		span = f.say("span.day")
	}
	s := f.sheet("helper", span)
	s.Over = f.Stead.Name + " · " + f.say("helper.from")
	s.Lead, s.Rest = f.say("helper.lead"), f.say("helper.rest", f.minutes(f.dailyMinutes()))
	s.add(Part{Title: f.say("helper.daily"), Note: f.say("helper.daily.note"), Rounds: f.helperRounds(days), Quoted: true},
		Part{Title: f.say("helper.due"), Ticks: f.due(days, minded), Quoted: true},
		Part{Title: f.say("helper.pick"), Dense: true, Ticks: f.due(days, picked), Quoted: true},
		Part{Title: f.say("helper.leave"), Shut: f.leaveAlone()},
		Part{Title: f.say("helper.stands"), Column: true, Table: f.whereWater()},
		Part{Title: f.say("helper.eat"), Note: f.say("helper.eat.note"), Column: true, Tally: f.eatFirst(6)},
		Part{Title: f.say("helper.wrong"), Lines: f.wrong()},
		Part{Title: f.say("helper.before"), Ticks: f.due(days, ours), Quoted: true},
		Part{Title: f.say("helper.care"), Dense: true, Lines: cautions(f.Plan.Weeks[0].Tasks, "birds", "pail", "freezer", "digester", "bees"), Quoted: true},
		Part{Title: f.say("helper.call"), Note: f.say("helper.call.note"), Blanks: []string{f.say("helper.us"), f.say("helper.near"), f.say("helper.owner"), f.say("helper.doctor"), f.say("helper.vet"), f.say("helper.keys")}})
	return s
}

// dailyMinutes is the time that a day's rounds take without the household's own
// cooking.
func (f *Facts) dailyMinutes() float64 {
	sum := 0.0
	for i := range f.Plan.Weeks[0].Tasks {
		if t := &f.Plan.Weeks[0].Tasks[i]; t.Daily && t.Kind != "kitchen" {
			sum += t.Minutes / 7
		}
	}
	return sum
}

func (f *Facts) helperRounds(days int) []Round {
	out := f.rounds(&f.Plan.Weeks[0])
	for i := range out {
		out[i].Boxes = nil
		for d := range days {
			out[i].Boxes = append(out[i].Boxes, fmt.Sprint(d+1))
		}
	}
	return out
}

// minded is work that a helper does because it can't wait.
func minded(t *tasks.Task) bool {
	return slices.Contains([]string{"frost", "freeze", "water", "gas"}, t.Kind)
}

func picked(t *tasks.Task) bool { return t.Kind == picking }

// ours is work of the days away that only the household does: before it leaves.
func ours(t *tasks.Task) bool {
	return slices.Contains([]string{"drum", "urine", "filter", "exchange", "put-up", "cover", "sow"}, t.Kind)
}

// due is the work of a kind that falls due in the days away, each piece once.
func (f *Facts) due(days int, which func(*tasks.Task) bool) []Tick {
	last := f.Today + day.Day(days)
	seen := map[string]bool{}
	var list []*tasks.Task
	for i := range f.Plan.Weeks {
		for j := range f.Plan.Weeks[i].Tasks {
			t := &f.Plan.Weeks[i].Tasks[j]
			if which(t) && !t.Daily && !t.Drop && f.Plan.Weeks[i].From < last && (t.By <= last || i == 0) && !seen[deed(t)] && !seen[t.ID] {
				seen[deed(t)], seen[t.ID] = true, true
				list = append(list, t)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b *tasks.Task) int { return cmp.Compare(a.By, b.By) })
	var out []Tick
	for _, t := range list {
		out = append(out, Tick{f.minutes(t.Minutes), t.Title, joined(t.Amount, f.by(t.By, f.Today))})
	}
	return out
}

// leaveAlone is what a helper does not touch.
func (f *Facts) leaveAlone() []Line {
	out := f.shut()
	if len(f.drums()) > 0 {
		out = append(out, Line{f.say("helper.drums"), f.say("helper.drums.rest")})
	}
	if len(f.Stead.Digesters) > 0 {
		out = append(out, Line{f.say("helper.gas"), f.say("helper.gas.rest")})
	}
	if len(f.Stead.Hives) > 0 {
		out = append(out, Line{f.say("helper.hives"), f.say("helper.hives.rest")})
	}
	return out
}

func (f *Facts) whereWater() *Table {
	t := &Table{Head: []string{f.say("col.tank"), f.say("col.level"), f.say("col.use")}, Right: []bool{false, true, true}}
	for i := range f.Standing.Tanks {
		g := &f.Standing.Tanks[i]
		t.Rows = append(t.Rows, []string{upper(g.Name), f.say("of", f.litres(g.Level), f.litres(g.Holds)), f.say("aday", f.litres(g.Use))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// wrong is what to do when something fails, as far as the place has it.
func (f *Facts) wrong() []Line {
	out := []Line{}
	add := func(key string, args ...any) { out = append(out, Line{f.say(key), f.say(key+".rest", args...)}) }
	for _, p := range f.Standing.Places {
		if p.Hold > 0 {
			add("wrong.current", p.Name, whole(p.Hold))
			break
		}
	}
	if len(f.Standing.Tanks) > 0 {
		add("wrong.leak")
	}
	if len(f.Stead.Digesters) > 0 {
		add("wrong.gas")
	}
	if len(f.Standing.Flocks) > 0 {
		add("wrong.hens")
	}
	if len(f.Standing.Hives) > 0 {
		add("wrong.bees")
	}
	return append(out, Line{f.say("wrong.unsure"), f.say("wrong.unsure.rest")})
}

// storm is the list for wind, flood and hard frost: before, during, after.
func storm(f *Facts) *Sheet {
	s := f.sheet("storm")
	s.Lead, s.Rest = f.say("storm.lead"), f.say("storm.rest")
	s.add(Part{Title: f.say("storm.before"), Ticks: f.ticks(f.beforeStorm())},
		Part{Title: f.say("storm.frost"), Ticks: f.ticks(f.beforeFrost())},
		Part{Title: f.say("storm.during"), Ticks: f.ticks([]Line{{f.say("storm.in"), f.say("storm.in.rest")}, {f.say("storm.lid"), f.say("storm.lid.rest")}, {f.say("storm.wires"), f.say("storm.wires.rest")}})},
		Part{Title: f.say("storm.after"), Ticks: f.ticks(f.afterStorm())},
		Part{Title: f.say("storm.call"), Blanks: []string{f.say("helper.near"), f.say("helper.owner"), f.say("storm.radio")}})
	return s
}

func (f *Facts) ticks(lines []Line) []Tick {
	var out []Tick
	for _, l := range lines {
		out = append(out, Tick{Title: l.Lead, More: l.Rest})
	}
	return out
}

// threeDays is how long drinking water is laid by for (common practice).
const threeDays = 3

func (f *Facts) beforeStorm() []Line {
	var out []Line
	add := func(key string, args ...any) { out = append(out, Line{f.say(key), f.say(key+".rest", args...)}) }
	if drink := f.Chores.Drinks; drink > 0 {
		add("storm.water", f.litres(drink*threeDays))
	} else {
		add("storm.water", f.litres(4*threeDays*float64(max(1, f.Standing.People))))
	}
	if len(f.Stead.Roofs) > 0 {
		add("storm.gutters")
	}
	for i := range f.Standing.Tanks {
		if g := &f.Standing.Tanks[i]; g.Level < 0.3*g.Holds {
			add("storm.light", g.Name, f.say("of", f.litres(g.Level), f.litres(g.Holds)))
		}
	}
	for _, p := range f.Standing.Places {
		if p.Hold > 0 {
			add("storm.freezer", p.Name, whole(p.Hold))
		}
	}
	if len(f.Standing.Flocks) > 0 {
		add("storm.hens", f.kg(threeDays*f.feed()))
	}
	if len(f.Standing.Hives) > 0 {
		add("storm.hives")
	}
	if len(f.Stead.Digesters) > 0 {
		add("storm.gas")
	}
	if f.Standing.Toilet != nil {
		add("storm.toilet")
	}
	add("storm.cook")
	add("storm.loose")
	return out
}

func (f *Facts) feed() (kg float64) {
	for _, x := range f.Standing.Flocks {
		kg += x.Feed
	}
	return kg
}

// tender is the temperature at which a crop counts as one that frost takes, °C.
const tender = -2.0

func (f *Facts) beforeFrost() []Line {
	var out []Line
	add := func(key string, args ...any) { out = append(out, Line{f.say(key), f.say(key+".rest", args...)}) }
	var names []string
	for _, p := range f.Standing.Plots {
		for _, st := range p.Stands {
			if !st.Perennial && st.Kills >= tender {
				names = append(names, lower(f.named("crop", st.Crop, st.Name))+" ("+p.Name+")")
			}
		}
	}
	if len(names) > 0 {
		out = append(out, Line{f.say("frost.cover"), f.say("frost.cover.rest", f.listed(names, 8))})
	}
	if len(f.Standing.Tanks) > 0 {
		add("frost.taps")
	}
	if len(f.Stead.Treatment) > 0 {
		add("frost.filter")
	}
	return out
}

func (f *Facts) afterStorm() []Line {
	var out []Line
	add := func(key string, args ...any) { out = append(out, Line{f.say(key), f.say(key+".rest", args...)}) }
	if len(f.Stead.Roofs) > 0 {
		add("after.flush")
	}
	for _, p := range f.Standing.Places {
		if p.Hold > 0 {
			add("after.freezer")
			break
		}
	}
	if len(f.Stead.Digesters) > 0 {
		add("after.gas")
	}
	if f.Standing.Toilet != nil {
		add("after.drums")
	}
	add("after.dip", f.unitOf(unit.Depth))
	return out
}
