package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"evenstead/day"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/weather"
)

var describeCommand = command{"describe", "[STEAD.toml] [flags]", "keeps a description, or weather, in the stead's file; makes the file when there is none", describe}

// description is what describe is asked to keep.
type description struct {
	at
	from, weather, units string
	name                 string // "": weather alone
	text                 []byte
	stead                *stead.Stead
	record               *weather.Record // nil: none given
	before               int             // descriptions kept until now
}

func describe(ctx context.Context, a *args) error {
	q, err := readDescription(a)
	if err != nil {
		return err
	}
	if q.name == "" {
		return q.with(ctx, func(h *hearth.Home) error { return q.keep(ctx, h, a) })
	}
	return q.withNew(ctx, func(h *hearth.Home) error { return q.keep(ctx, h, a) })
}

// readDescription reads all that is given before the stead's file is touched.
func readDescription(a *args) (*description, error) {
	q := new(description)
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.from, "from", "", "`date` the description holds from (default: its stay.from at first, later today)")
	a.flags.StringVar(&q.weather, "weather", "", "daily weather `file` to keep: GHCN-Daily .dly, its CSV forms, or date,rain,tmin,tmax; .gz too")
	a.flags.StringVar(&q.units, "units", "auto", "units of the weather file: auto, metric, tenths or us")
	words, err := a.parse()
	if err != nil {
		return nil, err
	}
	switch {
	case len(words) > 1:
		return nil, given(fmt.Errorf("one description at a time, not %d", len(words)))
	case len(words) == 0 && q.weather == "":
		return nil, given(errors.New("describe wants a description, such as evenstead describe my.toml, or --weather FILE, or both"))
	case len(words) == 1:
		q.name = words[0]
	}
	if q.name != "" {
		if q.text, err = readStead(q.name); err != nil {
			return nil, err
		}
		if q.stead, err = stead.Read(q.name, q.text); err != nil {
			return nil, given(err)
		}
	}
	if q.weather != "" {
		if q.record, err = readWeather(q.weather, q.units); err != nil {
			return nil, given(err)
		}
	}
	return q, nil
}

// keep saves what was given and tells what it is.
func (q *description) keep(ctx context.Context, h *hearth.Home, a *args) error {
	p := &printer{w: a.out}
	if q.stead != nil {
		from, err := q.begins(ctx, h)
		if err != nil {
			return err
		}
		if err := h.Describe(ctx, from, q.name, q.text); err != nil {
			return blame(err)
		}
		q.tell(p, from)
	}
	if q.record != nil {
		n, err := h.KeepWeather(ctx, q.record)
		if err != nil {
			return err
		}
		p.line("Weather: %s kept, %s to %s.", counted(n, "day", "days"), plain(q.record.Start.Long()), plain(q.record.End().Long()))
		for _, s := range q.record.Notes {
			p.wrap("- ", s)
		}
	}
	q.next(p)
	return p.err
}

// begins is the day the description holds from.
func (q *description) begins(ctx context.Context, h *hearth.Home) (day.Day, error) {
	from, err := q.day()
	if err != nil {
		return 0, err
	}
	before, err := h.Steads(ctx)
	if err != nil {
		return 0, err
	}
	q.before = len(before)
	if q.before == 0 && q.stead.Stay.From != 0 {
		from = q.stead.Stay.From
	}
	return dayNamed("from", q.from, from)
}

func (q *description) tell(p *printer, from day.Day) {
	var has []string
	for _, part := range parts(q.stead) {
		if part.n > 0 {
			has = append(has, fmt.Sprintf("%s %d", part.name, part.n))
		}
	}
	p.line("%s is kept in %s and holds from %s.", q.stead.Name, q.path, plain(from.Long()))
	if q.before > 0 {
		p.wrap("", "Before that day the earlier description holds. If it was wrong from the start, give this one again with --from and that day.")
	}
	p.wrap("Understood: ", strings.Join(has, ", ")+".")
	if n := len(q.stead.Taken); n > 0 {
		p.wrap("", fmt.Sprintf("Not written, so taken as usual: %s. evenstead check %s lists them, and the cautions.", counted(n, "value", "values"), q.name))
	}
}

func (q *description) next(p *printer) {
	file := ""
	if filepath.Clean(q.path) != steadFile {
		file = " --stead " + q.path
	}
	p.line("")
	p.line("What you can do next:")
	tw := tabwriter.NewWriter(p, 0, 4, 3, ' ', 0)
	if q.record == nil {
		fmt.Fprintf(tw, "  evenstead describe%s --weather FILE\tkeeps the daily weather\n", file)
	}
	fmt.Fprintf(tw, "  evenstead note%s rain 14 mm yesterday\trecords what happens\n", file)
	fmt.Fprintf(tw, "  evenstead count%s potatoes 18 kg\trecords what is on a shelf\n", file)
	fmt.Fprintf(tw, "  evenstead book%s\treads it all back\n", file)
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}
