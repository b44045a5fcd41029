package engine

import (
	"context"
	"fmt"

	"evenstead/day"
	"evenstead/weather"
)

// A WorkWeek is the hours of one week by task.
type WorkWeek struct {
	From  day.Day
	Have  float64 // that the household can give, absences and illness off
	Asked float64
	Done  float64 // of Asked, within Have
	Tasks []WorkTask
}

// A WorkTask is the hours one task asks in a week.
type WorkTask struct {
	Name  string
	Hours float64
	Slips bool // it gives way when hours run short; the rest can't
}

// WorkWeeks carries the stead through a course of weather with middling luck and
// tells each week's hours by task, from today. Chores follow the table of work; what
// stands apart from them is watering, picking, putting up and gathering, as that
// course of the year brings them.
func (m *Model) WorkWeeks(ctx context.Context, w weather.Member) ([]WorkWeek, error) {
	if len(w.Rain) < m.days {
		return nil, fmt.Errorf("hours by week: the weather lasts %d days and %d are asked", len(w.Rain), m.days)
	}
	r := newRunner(m)
	r.begin(0, w)
	r.luck.middle(m)
	need := m.after(needHours)
	var out []WorkWeek
	for d := range m.days {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("hours by week: %w", err)
		}
		asked, got := r.s.want[need], r.s.got[need]
		r.hear(d)
		r.step(d)
		if d < m.skip {
			continue
		}
		if (d-m.skip)%7 == 0 {
			out = append(out, WorkWeek{From: m.start + day.Day(d)})
		}
		out[len(out)-1].add(r, d, r.s.want[need]-asked, r.s.got[need]-got)
	}
	return out, nil
}

// add takes in a day.
func (w *WorkWeek) add(r *runner, d int, asked, done float64) {
	w.Have += r.handsOn(d)
	w.Asked += asked
	w.Done += done
	rest := asked
	for _, t := range r.m.chores(&r.m.cal[d]) {
		w.task(t.Name, t.Hours, t.Slips)
		rest -= t.Hours
	}
	w.task("watering, picking, putting up, gathering", max(0, rest), true)
}

func (w *WorkWeek) task(name string, hours float64, slips bool) {
	for i := range w.Tasks {
		if w.Tasks[i].Name == name {
			w.Tasks[i].Hours += hours
			return
		}
	}
	w.Tasks = append(w.Tasks, WorkTask{name, hours, slips})
}

// chores are the hours of a day that hands spends, by task in its order.
func (m *Model) chores(plan *dayPlan) []WorkTask {
	out := []WorkTask{{"owed for the land", plan.owed, false}, {"trips", m.haulHours, false}, {"kitchen", hoursKitchen * plan.heads, false}}
	flocks, hives := 0.0, 0.0
	for i := range m.flocks {
		flocks += m.flocks[i].hoursDay
	}
	for i := range m.hives {
		hives += m.hives[i].hoursWeek / 7
	}
	out = append(out, WorkTask{"birds", flocks, false}, WorkTask{"bees", hives, false})
	if m.dig != nil {
		out = append(out, WorkTask{"digester", m.dig.hoursDay, false}, WorkTask{"fetching scraps", m.dig.haulHours, false})
	}
	if m.toilet != nil {
		out = append(out, WorkTask{"toilet", hoursToilet, false})
	}
	return append(out, WorkTask{"garden", m.gardenDay[plan.month], true})
}
