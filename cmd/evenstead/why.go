package main

import (
	"context"
	"fmt"
	"strings"
	"text/tabwriter"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
)

var whyCommand = command{"why", "NEED [STEAD.toml] [flags]", "follows one need through one possible year, week by week, to the day it falls short", why}

func why(ctx context.Context, a *args) error {
	var q forecast
	q.flagsInto(a.flags)
	q.at.fileFlag(a.flags)
	q.members, a.flags.Lookup("members").DefValue = hardshipMembers, fmt.Sprint(hardshipMembers)
	a.flags.BoolVar(&q.json, "json", false, "print JSON")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) < 1 || len(words) > 2 {
		return given(fmt.Errorf("why wants a need, such as evenstead why drinking; evenstead ahead --json lists the ids"))
	}
	var t *engine.Trace
	err = q.reckoned(ctx, words[1:], func(r *hearth.Reckoning) error {
		m, err := r.Model()
		if err != nil {
			return blame(err)
		}
		r.Options.Report = nil
		t, err = m.Trace(ctx, r.Members, r.Options, words[0])
		return blame(err)
	})
	switch {
	case err != nil:
		return err
	case q.json:
		return writeJSON(a.out, t)
	}
	p := &printer{w: a.out}
	p.trace(t, system(q.us))
	return p.err
}

func (p *printer) trace(t *engine.Trace, sys unit.System) {
	if t.Short == nil {
		p.wrap("", fmt.Sprintf("%s holds in all of %d possible years; this follows it through the weather of %s.", t.Name, t.Members, t.Weather))
	} else {
		p.wrap("", fmt.Sprintf("%s falls short in %d of %d possible years. This is the one in the middle of them, with the weather of %s: short on %s.",
			t.Name, t.Of, t.Members, t.Weather, plain(t.Short.Long())))
	}
	p.line("")
	tw := tabwriter.NewWriter(p, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(tw, "week from\t%s\tmet\t  in\t  out\n", t.Store)
	for _, w := range t.Weeks {
		met := "-"
		if w.Want > 0 {
			met = fmt.Sprintf("%.0f in 100", 100*w.Got/w.Want)
		}
		in := flows(w.In, t.FlowUnit, sys, true)
		if w.Seed > 0 {
			in += " (and " + amount(w.Seed, t.FlowUnit, sys) + " kept for seed)"
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t  %s\t  %s\n", plain(w.From.Short()), amount(w.Level, t.Unit, sys), met, in, flows(w.Out, t.FlowUnit, sys, false))
	}
	if err := tw.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

// flows writes a week's flows by the other end.
func flows(list []engine.Flow, in string, sys unit.System, into bool) string {
	var said []string
	for _, f := range list {
		other := f.To
		if into {
			other = f.From
		}
		said = append(said, amount(f.Amount, in, sys)+" "+other)
	}
	return strings.Join(said, ", ")
}
