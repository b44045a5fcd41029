package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/data"
	"evenstead/hearth"
	"evenstead/skill"
	"evenstead/stead"
)

var skillCommand = command{"skill", "[STEAD.toml] --weather FILE [flags]", "tells how often outlooks like these would have been right in the past", showSkill}

// proving is what skill is asked.
type proving struct {
	at
	kept           *hearth.Described // of the stead's file; nil: a description and a record were named
	weather, units string
	held, learn    string
	ask            skill.Ask
	json, markdown bool
}

func (q *proving) flagsInto(a *args) {
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.weather, "weather", "", "daily weather `file`, of ten years or more (default, without a description: that of the stead's file)")
	a.flags.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	a.flags.StringVar(&q.held, "held", "", "`years` that hindcasts begin in, such as 2016-2020 (default: all)")
	a.flags.StringVar(&q.learn, "learn", "", "`years` that possible years are made of, such as 1985-2015 (default: all but those about each start)")
	recentFlag(a.flags, &q.ask.Recent)
	a.flags.IntVar(&q.ask.Every, "every", 3, "months between starts")
	a.flags.IntVar(&q.ask.Members, "members", 100, "possible years of each hindcast")
	a.flags.Uint64Var(&q.ask.Seed, "seed", 1, "seed of chance")
	a.flags.BoolVar(&q.json, "json", false, "print JSON")
	a.flags.BoolVar(&q.markdown, "markdown", false, "print tables for a document")
}

func showSkill(ctx context.Context, a *args) error {
	var q proving
	q.flagsInto(a)
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) == 0 && q.weather == "" {
		return q.with(ctx, func(h *hearth.Home) error {
			if err := q.readKept(ctx, h); err != nil {
				return err
			}
			r, err := q.prove(ctx, a)
			if err != nil {
				return err
			}
			return q.keep(ctx, h, r)
		})
	}
	if err := q.read(words); err != nil {
		return given(err)
	}
	_, err = q.prove(ctx, a)
	return err
}

// prove runs the hindcasts and prints how they fared.
func (q *proving) prove(ctx context.Context, a *args) (*skill.Report, error) {
	show := progress(a.err)
	show.what = "hindcast %d of %d"
	q.ask.Report = show.report
	r, err := skill.Hindcast(ctx, q.ask)
	show.clear()
	if err != nil {
		return nil, blame(err)
	}
	if q.json {
		return r, writeJSON(a.out, r)
	}
	p := &printer{w: a.out}
	p.skill(r, q.markdown)
	return r, p.err
}

// readKept reads the description that holds today and the record of the stead's file.
func (q *proving) readKept(ctx context.Context, h *hearth.Home) error {
	today, err := q.day()
	if err != nil {
		return err
	}
	held, err := h.On(ctx, today)
	if err != nil {
		return blame(err)
	}
	q.kept, q.ask.Stead = &held, held.Stead
	if q.ask.Record, err = h.Record(ctx); err != nil {
		return err
	}
	if q.ask.Record == nil {
		return given(errors.New("skill wants a long daily record and none is kept: give --weather FILE with a description, or keep one with evenstead describe --weather FILE"))
	}
	if err := q.ready(); err != nil {
		return given(err)
	}
	return nil
}

// keep keeps what was found, for the pages.
func (q *proving) keep(ctx context.Context, h *hearth.Home, r *skill.Report) error {
	weeks, held := r.Sure()
	return h.KeepSkill(ctx, hearth.Skill{Of: hearth.SkillOf(q.kept.Text, q.ask.Record.Days()), Weeks: weeks, Held: held, Starts: r.Starts, Years: r.Years, Last: q.ask.Record.End()})
}

// read reads the description and the weather.
func (q *proving) read(words []string) error {
	name := "evenstead.toml"
	switch {
	case len(words) > 1:
		return fmt.Errorf("one description at a time, not %d", len(words))
	case len(words) == 1:
		name = words[0]
	}
	if q.weather == "" {
		return errors.New("skill wants a long daily record: give --weather FILE")
	}
	text, err := readStead(name)
	if err != nil {
		return err
	}
	if q.ask.Stead, err = stead.Read(name, text); err != nil {
		return err
	}
	if q.ask.Record, err = readWeather(q.weather, q.units); err != nil {
		return err
	}
	return q.ready()
}

// ready loads the tables, fills the record's gaps and reads the years asked for.
func (q *proving) ready() (err error) {
	if q.ask.Every < 1 || q.ask.Every > 12 || q.ask.Members < 20 || q.ask.Members > 2000 {
		return fmt.Errorf("--every %d, --members %d: give 1 to 12 months, and 20 to 2,000 possible years", q.ask.Every, q.ask.Members)
	}
	if q.ask.Tables, err = data.Load(); err != nil {
		return err
	}
	if q.ask.Tables, err = q.ask.Stead.Tables(q.ask.Tables); err != nil {
		return err
	}
	q.ask.Record.Fill()
	if q.held != "" {
		if q.ask.From, q.ask.To, err = yearSpan("held", q.held); err != nil {
			return err
		}
	}
	if q.learn != "" {
		first, last, err := yearSpan("learn", q.learn)
		if err != nil {
			return err
		}
		q.ask.Learn = []int{first, last}
	}
	return nil
}

// yearSpan reads "1985-2015".
func yearSpan(flag, text string) (first, last int, err error) {
	if n, err := fmt.Sscanf(text, "%d-%d", &first, &last); n != 2 || err != nil || first > last {
		return 0, 0, fmt.Errorf("--%s %q: write the first and last year, such as 1984-2019", flag, text)
	}
	return first, last, nil
}

func (p *printer) skill(r *skill.Report, markdown bool) {
	p.wrap("", fmt.Sprintf("%d hindcasts that begin in %d years, %d possible years each. %s", r.Starts, r.Years, r.Members, r.Said))
	p.line("")
	p.line("Levels: share of what was found that lay within the middle 50, 80 and 95 in 100, and the gain over the usual of the date")
	p.line("")
	rows := [][]string{{"store", "weeks ahead", "n", "50", "80", "95", "CRPS", "gain"}}
	for _, s := range r.Stores {
		for _, l := range s.Leads {
			rows = append(rows, []string{s.Name, fmt.Sprint(l.Weeks), fmt.Sprint(l.N), hundredths(l.In[0]), hundredths(l.In[1]), hundredths(l.In[2]),
				fmt.Sprintf("%.3g %s", l.CRPS, s.Unit), fmt.Sprintf("%.2f", l.Gain)})
		}
	}
	p.table(rows, markdown)
	least, most := skill.Bounds(0.8, r.Starts, r.Years)
	p.line("")
	p.wrap("", fmt.Sprintf("A right forecast's 80 holds between %s and %s in 100 of so many years (two standard errors of the binomial, the starts of a year counted as one).", hundredths(least), hundredths(most)))
	p.line("")
	p.line("Told once at each start: dates in days from it, and the share of each need met over the whole look ahead")
	p.line("")
	rows = [][]string{{"what", "n", "50", "80", "95", "CRPS", "gain"}}
	for _, o := range r.Once {
		rows = append(rows, []string{o.Name, fmt.Sprint(o.N), hundredths(o.In[0]), hundredths(o.In[1]), hundredths(o.In[2]), fmt.Sprintf("%.3g %s", o.CRPS, o.Unit), fmt.Sprintf("%.2f", o.Gain)})
	}
	p.table(rows, markdown)
	p.line("")
	p.line("Chances of falling short in a week: stated, and how often it came so")
	p.line("")
	rows = [][]string{{"need", "weeks ahead", "stated", "n", "mean stated", "came", "Brier", "of the usual"}}
	for _, n := range r.Needs {
		for _, l := range n.Leads {
			for i, b := range l.Bins {
				row := []string{n.Name, fmt.Sprint(l.Weeks), hundredths(b.From) + "-" + hundredths(b.To), fmt.Sprint(b.N), hundredths(b.Stated), hundredths(b.Came), "", ""}
				if i == 0 {
					row[6], row[7] = fmt.Sprintf("%.3f", l.Brier), fmt.Sprintf("%.3f", l.Usual)
				}
				rows = append(rows, row)
			}
		}
	}
	p.table(rows, markdown)
}

func hundredths(v float64) string { return fmt.Sprintf("%.0f", v*100) }

// table prints rows under their heads.
func (p *printer) table(rows [][]string, markdown bool) {
	if markdown {
		for i, r := range rows {
			p.line("%s", "| "+strings.Join(r, " | ")+" |")
			if i == 0 {
				p.line("%s", "|---|"+strings.Repeat("---:|", len(r)-1))
			}
		}
		return
	}
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	for _, r := range rows {
		fmt.Fprintln(tw, fill(r[0], 34)+"\t"+strings.Join(r[1:], "\t")+"\t")
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}
