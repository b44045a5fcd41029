package paper

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/tasks"
	"evenstead/unit"
	"evenstead/weather"
)

// week is the sheet of the wall: seven days of work with boxes, what comes every
// day, cover, what is eaten first, what is shut, and blanks.
func week(f *Facts) *Sheet {
	w := &f.Plan.Weeks[0]
	s := f.sheet("week", f.weekday(w.From.Time().Weekday())+" "+f.short(w.From), f.weekday(w.To.Time().Weekday())+" "+f.long(w.To))
	s.Lead, s.Quote = f.pressing(w)
	s.Rest, s.Told = w.Said, true
	s.add(Part{Title: f.say("week.daily"), Rounds: f.rounds(w), Quoted: true},
		Part{Title: f.say("week.days"), Note: f.say("week.days.note"), Days: f.days(w), Quoted: true},
		Part{Title: f.say("week.pick"), Note: f.say("week.pick.note"), Dense: true, Ticks: f.picks(w), Quoted: true},
		Part{Title: f.say("week.cover"), Note: f.say("week.cover.note"), Column: true, Cover: f.cover()},
		Part{Title: f.say("week.first"), Note: f.say("week.first.note"), Column: true, Tally: f.eatFirst(5)},
		Part{Title: f.say("week.shut"), Column: true, Shut: f.shut()},
		Part{Title: f.say("week.write"), Note: f.say("week.write.note"), Blanks: f.blanks()},
		Part{Title: f.say("week.care"), Dense: true, Lines: cautions(w.Tasks), Quoted: true})
	return s
}

// pressing names the dearest work that is not done every day.
func (f *Facts) pressing(w *tasks.Week) (lead, quote string) {
	var list []*tasks.Task
	for i := range w.Tasks {
		if t := &w.Tasks[i]; !t.Daily && !t.Drop && t.Rank <= tasks.Spoils {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *tasks.Task) int { return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.Rank, b.Rank)) })
	if len(list) == 0 {
		return f.say("week.calm"), ""
	}
	t := list[0]
	quote = stop(lower(t.Title))
	return f.say("week.first.lead", upper(f.by(t.By, f.Today)+": "+quote)), quote
}

// by is the last good day of a task, in words.
func (f *Facts) by(d, today day.Day) string {
	if d <= today {
		return f.say("today")
	}
	return f.say("by", f.weekday(d.Time().Weekday())+" "+f.short(d))
}

// rounds are the daily work with the days over their boxes.
func (f *Facts) rounds(w *tasks.Week) []Round {
	var letters []string
	for i := range 7 {
		letters = append(letters, f.weekday((w.From + day.Day(i)).Time().Weekday()))
	}
	var out []Round
	for i := range w.Tasks {
		t := &w.Tasks[i]
		if !t.Daily || t.Drop || t.Kind == "kitchen" {
			continue
		}
		more := t.Amount
		if m := f.minutes(t.Minutes / 7); m != "" {
			more = joined(more, f.say("week.daily.each", m))
		}
		out = append(out, Round{t.Title, more, letters})
	}
	return out
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// days spreads the work over the week: each piece on a day it can be done on and
// by which it is due, so that the hours of the days are as even as that allows.
func (f *Facts) days(w *tasks.Week) []DayWork {
	out := make([]DayWork, 7)
	for i := range out {
		d := w.From + day.Day(i)
		_, _, dom := d.Date()
		out[i] = DayWork{Name: f.weekday(d.Time().Weekday()), Number: fmt.Sprint(dom), Weather: f.usually(d)}
	}
	for at, t := range spread(w) {
		for _, task := range t {
			out[at].Ticks = append(out[at].Ticks, f.tick(task, w.From+day.Day(at)))
		}
	}
	return out
}

// spread puts the tasks of a week on its days: what is due first is placed first,
// on the day with the fewest minutes among those it may be done on, the earlier of
// two alike.
func spread(w *tasks.Week) (days [7][]*tasks.Task) {
	var list []*tasks.Task
	for i := range w.Tasks {
		if t := &w.Tasks[i]; !t.Daily && !t.Drop && t.Kind != picking {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *tasks.Task) int {
		return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.Rank, b.Rank), cmp.Compare(b.Minutes, a.Minutes))
	})
	var load [7]float64
	for _, t := range list {
		from, to := int(max(t.From, w.From)-w.From), int(min(max(t.By, w.From), w.To)-w.From)
		best := min(from, to)
		for i := best; i <= to; i++ {
			if load[i] < load[best] {
				best = i
			}
		}
		load[best] += t.Minutes
		days[best] = append(days[best], t)
	}
	return days
}

// picking is the kind of the tasks that are picked through the week, as the
// kitchen wants it.
const picking = "pick"

func (f *Facts) picks(w *tasks.Week) (out []Tick) {
	for i := range w.Tasks {
		if t := &w.Tasks[i]; t.Kind == picking && !t.Drop {
			out = append(out, Tick{f.minutes(t.Minutes), t.Title, t.Amount})
		}
	}
	return out
}

// tick is a task as a row to tick; on is the day it stands under.
func (f *Facts) tick(t *tasks.Task, on day.Day) Tick {
	more := t.Amount
	if t.By != on && t.Rank <= tasks.Season {
		more = joined(more, f.by(t.By, on))
	}
	return Tick{f.minutes(t.Minutes), t.Title, more}
}

// usually is a day of the usual year: its warmth, and its rain in a week.
func (f *Facts) usually(d day.Day) string {
	if f.Usual == nil {
		return ""
	}
	at := weather.Slot(d)
	return f.say("week.usual", degrees(f.Usual.TMin[at], f.Units), f.warmth(f.Usual.TMax[at]))
}

// degrees is a whole temperature without its unit.
func degrees(c float64, u unit.System) string {
	if u == unit.US {
		c = c*9/5 + 32
	}
	return whole(c)
}

// cover are the main needs that are known, on a square-root rule of a year.
func (f *Facts) cover() []Cover {
	if f.Outlook == nil {
		return nil
	}
	var out []Cover
	for i := range f.Outlook.Needs {
		n := &f.Outlook.Needs[i]
		if !n.Main || !n.Known {
			continue
		}
		out = append(out, Cover{Name: upper(f.named("need", n.ID, n.Name)), Sure: f.span(n.Sure, n.Open[0]), Middle: f.span(n.Middle, n.Open[1]),
			SureAt: rooted(n.Sure), MiddleAt: rooted(n.Middle)})
	}
	return out
}

func (f *Facts) span(days int, open bool) string {
	years := int(math.Round(float64(days) / 365.25))
	whole := years > 0 && math.Abs(float64(days)-365.25*float64(years)) < 2
	switch {
	case open && days >= 360 || whole && years == 1:
		return f.say("span.year")
	case whole:
		return f.say("span.years", fmt.Sprint(years))
	}
	return f.say("span.days", fmt.Sprint(days))
}

// rooted is a number of days as a share of a year on a square-root rule.
func rooted(days int) float64 { return math.Sqrt(math.Min(1, math.Max(0, float64(days))/365)) }

// soon is within how many days of losing a quarter a lot is eaten first.
const soon = 21

// eatFirst are the lots that lose most soonest, with boxes to strike.
func (f *Facts) eatFirst(most int) []Tally {
	var out []Tally
	for i := range f.Standing.Lots {
		l := &f.Standing.Lots[i]
		if l.Quarter == 0 || l.Quarter > f.Today+soon || len(out) == most || l.Kg < 0.05 {
			continue
		}
		t := f.tally(l)
		t.Boxes = min(t.Boxes, 12)
		out = append(out, t)
	}
	return out
}

// mostShut is how many drums and beds are named before the rest is left to the
// screen.
const mostShut = 4

// shut is what stays closed, and until when.
func (f *Facts) shut() []Line {
	out := f.gated(mostShut)
	if f.has("treated") {
		out = append(out, Line{f.say("shut.tank"), f.say("shut.tank.rest")})
	}
	return out
}

// gated are the drums that rest and the ground that may have no urine yet, beds
// only until there are so many lines.
func (f *Facts) gated(most int) []Line {
	var out []Line
	for _, d := range f.drums() {
		if d.Opens > f.Today {
			out = append(out, Line{f.say("drum", fmt.Sprint(d.Number)), f.say("shut.drum", f.date(d.Opens))})
		}
	}
	if f.Chores != nil {
		seen := map[string]bool{}
		for i := range f.Chores.Doses {
			d := &f.Chores.Doses[i]
			if !d.Open && d.Until > f.Today && len(out) < most && !seen[d.Plot] {
				seen[d.Plot] = true
				out = append(out, Line{upper(d.Plot), f.say("shut.urine", f.date(d.Until))})
			}
		}
	}
	return out
}

// has tells whether a class of water is used.
func (f *Facts) has(class string) bool {
	return slices.ContainsFunc(f.Stead.Uses, func(u stead.Use) bool { return u.Class == class })
}

func (f *Facts) drums() []engine.DrumNow {
	if f.Standing.Toilet == nil {
		return nil
	}
	return f.Standing.Toilet.Drums
}

// blanks are what the week is likely to bring to be written down.
func (f *Facts) blanks() []string {
	var out []string
	for i := range f.Standing.Tanks {
		if i < 3 {
			out = append(out, f.say("blank.dip", f.Standing.Tanks[i].Name, f.unitOf(unit.Volume)))
		}
	}
	out = append(out, f.say("blank.rain", f.unitOf(unit.Depth)))
	if len(f.Standing.Flocks) > 0 {
		out = append(out, f.say("blank.eggs"))
	}
	for i := range f.Year {
		g := &f.Year[i]
		w := &f.Plan.Weeks[0]
		if !g.Feeds && !g.Done && g.First <= w.To && g.Last >= w.From && len(out) < 8 {
			out = append(out, f.say("blank.pick", lower(f.named("crop", g.Crop, g.Name)), g.Plot))
		}
	}
	for _, x := range f.Stead.Exchange {
		if len(out) < 10 {
			out = append(out, f.say("blank.hours", x.With))
		}
	}
	for len(out) < 12 {
		out = append(out, f.say("blank.else"))
		if len(out)%3 == 0 {
			break
		}
	}
	return out
}
