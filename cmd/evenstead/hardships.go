package main

import (
	"context"
	"fmt"
	"strings"

	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
)

var hardshipsCommand = command{"hardships", "[STEAD.toml] [flags]", "lays a dry year, illness, a lost staple and the like over the outlook, and tells what carries the household through", hardships}

// hardshipMembers is how many possible years hardships are tried over.
const hardshipMembers = 200

func hardships(ctx context.Context, a *args) error {
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
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	show := progress(a.err)
	show.what = "hardship %d of %d"
	var list []hearth.Befallen
	err = q.reckoned(ctx, words, func(r *hearth.Reckoning) (err error) {
		r.Options.Report = show.report
		list, err = r.Hardships(ctx)
		return blame(err)
	})
	show.clear()
	switch {
	case err != nil:
		return err
	case q.json:
		return writeJSON(a.out, list)
	}
	p := &printer{w: a.out}
	if len(list) > 0 {
		p.line("%s, %s, %d days ahead: the same years and luck, one hardship at a time", list[0].Base.Stead, plain(list[0].Base.Today.Long()), list[0].Base.Days)
	}
	for i := range list {
		p.befallen(&list[i], system(q.us))
	}
	return p.err
}

// mostLeans is how many stores are named that carry a household through.
const mostLeans = 3

func (p *printer) befallen(b *hearth.Befallen, sys unit.System) {
	p.line("")
	p.line("%s", capital(b.Name))
	if len(b.Needs) == 0 {
		p.wrap("  ", "No main need falls further short.")
	}
	for _, n := range b.Needs {
		p.wrap("  ", fmt.Sprintf("%s: short in %s, was %s; middle days of cover %s, was %s; %.0f in 100 met, was %.0f.", n.Name,
			engine.Years(n.ShortAfter), engine.Years(n.ShortBefore), open(n.DaysAfter, b.Base.Days), open(n.DaysBefore, b.Base.Days), n.MetAfter*100, n.MetBefore*100))
	}
	var said []string
	for _, l := range b.Leans[:min(mostLeans, len(b.Leans))] {
		said = append(said, fmt.Sprintf("%s, down to %s instead of %s", l.Store, amount(l.After, l.Unit, sys), amount(l.Before, l.Unit, sys)))
	}
	if len(said) > 0 {
		p.wrap("  ", "What carries it: "+strings.Join(said, "; ")+".")
	}
}

func open(days, horizon int) string {
	if days >= horizon {
		return fmt.Sprintf("%d+", horizon)
	}
	return fmt.Sprint(days)
}
