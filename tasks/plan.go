package tasks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenstead/day"
	"evenstead/unit"
	"evenstead/weather"
)

// MostWeeks is how far the work can be seen.
const MostWeeks = 26

// Make lists the work of the weeks asked for. Only the first week knows what
// stands ripe, thirsty or spoiling today; the later ones go by the calendar of
// the usual year.
func Make(a Ask) (*Plan, error) {
	if a.Weeks < 1 || a.Weeks > MostWeeks {
		return nil, weeksAsked(a.Weeks)
	}
	if len(a.Chores.Hands) < 7*a.Weeks {
		return nil, fmt.Errorf("the chores reach %d days, %d are asked for", len(a.Chores.Hands), 7*a.Weeks)
	}
	p := &Plan{Stead: a.Stead.Name, Today: a.Today, Watch: watched(&a), Unknown: unknown(&a)}
	for i := range a.Weeks {
		w := &maker{Ask: &a, at: 7 * i, from: a.Today + day.Day(7*i)}
		w.to = w.from + 6
		p.Weeks = append(p.Weeks, w.week())
	}
	return p, nil
}

// maker makes the work of one week.
type maker struct {
	*Ask
	at       int // days from today
	from, to day.Day
	list     []Task
}

// first tells whether this is the week that begins today.
func (w *maker) first() bool { return w.at == 0 }

func (w *maker) week() Week {
	for _, more := range []func(){w.tend, w.birds, w.bees, w.pail, w.digester, w.freezer, w.owed,
		w.frost, w.freeze, w.water, w.sow, w.thin, w.pick, w.seed,
		w.putUp, w.eatFirst, w.goOver, w.count,
		w.urine, w.drums, w.cover, w.turn, w.dip, w.look, w.flush, w.filter, w.mosquitoes, w.haul, w.storm, w.papers} {
		more()
	}
	out := Week{From: w.from, To: w.to, Tasks: w.list}
	for i := range 7 {
		out.Hands += w.Chores.Hands[w.at+i]
	}
	slices.SortStableFunc(out.Tasks, func(a, b Task) int {
		return cmp.Or(order(a.Daily, b.Daily), cmp.Compare(a.By, b.By), cmp.Compare(a.Rank, b.Rank))
	})
	fit(&out)
	return out
}

func order(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// add puts a task on the list; one without days is done within the week, and one
// that was due before is due on the first day.
func (w *maker) add(t Task) {
	if t.From == 0 {
		t.From = w.from
	}
	if t.By == 0 {
		t.By = w.to
	}
	t.From, t.By = min(max(t.From, w.from), w.to), max(t.By, w.from)
	t.Since = w.since(&t)
	w.list = append(w.list, t)
}

// since is the day from which an entry counts for a task: today for a daily one,
// the month's first for one that comes every month, else the week's Monday.
func (w *maker) since(t *Task) day.Day {
	switch {
	case t.Daily:
		return w.from
	case strings.HasSuffix(t.ID, "-"+w.month()):
		return min(w.from, day.Of(w.to.Year(), w.to.Month(), 1))
	}
	return w.monday()
}

// monday is the Monday of the week that the week's first day lies in.
func (w *maker) monday() day.Day { return w.from - day.Day((int(w.from.Time().Weekday())+6)%7) }

// weekly is the id of work that comes every week: it holds the Monday of the
// week that the week's first day lies in.
func (w *maker) weekly(what string) string {
	return slug(what) + "-" + w.monday().String()
}

// within tells whether a day lies in this week.
func (w *maker) within(d day.Day) bool { return d >= w.from && d <= w.to }

// amount formats with plain blanks.
func (w *maker) amount(v float64, k unit.Kind) string { return plain(unit.Format(v, k, w.Units)) }

func (w *maker) litres(v float64) string { return w.amount(v, unit.Volume) }
func (w *maker) kg(v float64) string     { return w.amount(v, unit.Mass) }
func (w *maker) warm(v float64) string   { return w.amount(v, unit.Temperature) }

// can is what a watering can holds, L (common practice).
const can = 10

// cans words litres as cans too.
func (w *maker) cans(litres float64) string {
	n := max(1, int(litres/can+0.5))
	of := w.litres(can)
	if n == 1 {
		return fmt.Sprintf("%s, a can of %s", w.litres(litres), of)
	}
	return fmt.Sprintf("%s, %d cans of %s", w.litres(litres), n, of)
}

// noted writes an SI amount for a quick note: the reader takes these units in
// any system.
func noted(v float64, in string) string { return figures(v) + " " + in }

// hours a task takes a unit, by data/work.csv; absent where it is not there.
func (w *maker) hours(task string, absent float64) float64 {
	for i := range w.Tables.Work {
		if w.Tables.Work[i].Task == task {
			return w.Tables.Work[i].Hours
		}
	}
	return absent
}

// usually is the mean of a curve of the usual year over the week.
func (w *maker) usually(c weather.Curve) float64 {
	sum := 0.0
	for d := w.from; d <= w.to; d++ {
		sum += c[weather.Slot(d)]
	}
	return sum / 7
}

// watched lists the needs that an outlook sees run short soon.
func watched(a *Ask) []Watch {
	out := []Watch{}
	if a.Outlook == nil {
		return out
	}
	for i := range a.Outlook.Needs {
		if n := &a.Outlook.Needs[i]; n.Main && n.Tag() != "" {
			out = append(out, Watch{n.Name, n.Tag(), n.FirstShort})
		}
	}
	return out
}

// unknown says what the week does not know.
func unknown(a *Ask) []string {
	out := []string{"No forecast is read: frost and thirst go by the usual year. Look at the sky and at a local forecast."}
	if len(a.Chores.Written) == 0 {
		out = append(out, "The book is empty, so sowings, harvests and trips are taken to be as described.")
	}
	if len(a.Year) == 0 {
		out = append(out, "Nothing is described to grow, so no work in the beds is listed.")
	}
	return out
}
