package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/tasks"
	"evenstead/unit"
)

var weekCommand = command{"week", "[STEAD.toml] [flags]", "prints this week's work for the wall, fitted to the hours there are", runWeek}

// weeking is what week is asked.
type weeking struct {
	at
	weather, units string
	weeks, members int
	us, asJSON     bool
	ics            string
}

func runWeek(ctx context.Context, a *args) error {
	q := new(weeking)
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.weather, "weather", "", "daily weather `file`: GHCN-Daily .dly, its CSV forms, or date,rain,tmin,tmax; .gz too")
	a.flags.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	a.flags.IntVar(&q.weeks, "weeks", 1, "weeks of work, 1 to 26")
	a.flags.IntVar(&q.members, "members", 100, "possible years to run for the needs to watch; 0: none")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.BoolVar(&q.asJSON, "json", false, "print JSON")
	a.flags.StringVar(&q.ics, "ics", "", "also write a calendar (iCalendar) into this `file`, over one that is there")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	plan, err := q.plan(ctx, a, words)
	if err != nil {
		return err
	}
	if err := q.write(a.out, plan); err != nil || q.ics == "" {
		return err
	}
	return q.calendar(a.err, plan)
}

func (q *weeking) write(w io.Writer, plan *tasks.Plan) error {
	if !q.asJSON {
		return writeWall(w, plan)
	}
	return writeJSON(w, plan)
}

// calendar writes the file whole or not at all.
func (q *weeking) calendar(says io.Writer, plan *tasks.Plan) error {
	f, err := os.CreateTemp(dirOf(q.ics), ".week-*.ics")
	if err != nil {
		return given(fmt.Errorf("--ics: %w", err))
	}
	err = errors.Join(tasks.WriteCalendar(f, plan, time.Now()), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), q.ics)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("--ics: %w", err), os.Remove(f.Name()))
	}
	p := &printer{w: says}
	p.line("The calendar is in %s.", q.ics)
	return p.err
}

// plan makes the work from the stead's file, or from a description by itself.
func (q *weeking) plan(ctx context.Context, a *args, words []string) (*tasks.Plan, error) {
	if len(words) == 1 {
		return q.described(ctx, words[0])
	}
	if _, err := os.Stat(q.path); errors.Is(err, fs.ErrNotExist) {
		return nil, given(fmt.Errorf("there is no %s here: name a description, such as evenstead week STEAD.toml, or make the file with evenstead describe", q.path))
	}
	var plan *tasks.Plan
	err := q.with(ctx, func(h *hearth.Home) (err error) {
		plan, err = q.of(ctx, h)
		return err
	})
	return plan, err
}

// described keeps a description for the while it takes.
func (q *weeking) described(ctx context.Context, name string) (plan *tasks.Plan, err error) {
	text, err := readStead(name)
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "evenstead")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	q.path = dir + "/" + steadFile
	err = q.withNew(ctx, func(h *hearth.Home) error {
		from, err := q.beginning(name, text)
		if err != nil {
			return err
		}
		if err := h.Describe(ctx, from, name, text); err != nil {
			return given(err)
		}
		plan, err = q.of(ctx, h)
		return err
	})
	return plan, err
}

// usualYears is how many possible years the usual year is read from.
const usualYears = 60

// of draws the usual year, replays to today and makes the plan.
func (q *weeking) of(ctx context.Context, h *hearth.Home) (*tasks.Plan, error) {
	ask := hearth.Ask{Members: max(usualYears, q.members)}
	var err error
	if ask.Today, err = q.day(); err != nil {
		return nil, err
	}
	if q.weather != "" {
		if ask.Weather, err = readWeather(q.weather, q.units); err != nil {
			return nil, err
		}
	}
	r, err := h.Reckon(ctx, ask)
	if err != nil {
		return nil, blame(err)
	}
	var o *engine.Outlook
	if q.members > 0 {
		if o, err = r.Outlook(ctx); err != nil {
			return nil, blame(err)
		}
	}
	return planOf(r, q.weeks, o, system(q.us))
}

func planOf(r *hearth.Reckoning, weeks int, o *engine.Outlook, sys unit.System) (*tasks.Plan, error) {
	ask, err := tasks.Of(r.Past, r.Tables, r.Options.Climate, weeks)
	switch {
	case errors.Is(err, tasks.ErrWeeks):
		return nil, given(fmt.Errorf("--weeks: %w", err))
	case err != nil:
		return nil, given(err)
	}
	ask.Outlook, ask.Units = o, sys
	return tasks.Make(ask)
}

// beginning is the day a described stay began; today without one. Today is the
// first day of the stay where none is asked for.
func (q *weeking) beginning(name string, text []byte) (day.Day, error) {
	from, err := stayFrom(name, text)
	if err != nil {
		return 0, err
	}
	today, err := q.day()
	if err != nil {
		return 0, err
	}
	if from == 0 {
		return today, nil
	}
	if q.today == "" {
		q.today = from.String()
	}
	return from, nil
}
