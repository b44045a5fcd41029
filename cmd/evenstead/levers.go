package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"time"

	"evenstead/hearth"
	"evenstead/lever"
)

var leversCommand = command{"levers", "[STEAD.toml] [flags]", "tries changes to the stead and ranks them by what they do to the first shortfalls", levers}

func levers(ctx context.Context, a *args) error {
	var q forecast
	q.flagsInto(a.flags)
	q.at.fileFlag(a.flags)
	q.members, a.flags.Lookup("members").DefValue = lever.Members, fmt.Sprint(lever.Members)
	a.flags.BoolVar(&q.json, "json", false, "print JSON (keys: docs/api.md)")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	pairs := a.flags.Bool("pairs", false, fmt.Sprintf("try the best %d two and two as well", lever.Best))
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	var rank *lever.Ranking
	var p *lever.Present
	show := progress(a.err)
	err = q.reckoned(ctx, words, func(r *hearth.Reckoning) (err error) {
		if p, err = lever.Run(ctx, r, system(q.us), q.members); err != nil {
			return blame(err)
		}
		if rank, err = p.Rank(ctx, show.report); err != nil || !*pairs {
			return err
		}
		return p.Pairs(ctx, rank, show.report)
	})
	show.clear()
	switch {
	case err != nil:
		return err
	case q.json:
		return writeJSON(a.out, rank)
	}
	pr := &printer{w: a.out}
	pr.line("%s, %s, %d days ahead", p.Outlook.Stead, plain(p.Outlook.Today.Long()), p.Outlook.Days)
	pr.levers(rank)
	return pr.err
}

// reckoned readies the description named, or the stead's file, as ahead does.
func (q *forecast) reckoned(ctx context.Context, words []string, do func(*hearth.Reckoning) error) error {
	_, missing := os.Stat(q.at.path)
	if len(words) == 0 && (missing == nil || q.at.path != steadFile) {
		return q.at.with(ctx, func(h *hearth.Home) error {
			ask, err := q.request.ask(time.Now)
			if err != nil {
				return err
			}
			r, err := h.Reckon(ctx, ask)
			if err != nil {
				return blame(err)
			}
			return do(r)
		})
	}
	var err error
	q.name = "evenstead.toml"
	if len(words) == 1 {
		q.name = words[0]
	}
	if q.text, err = readStead(q.name); err != nil {
		return err
	}
	r, err := q.prepare(time.Now)
	if err != nil {
		return err
	}
	return do(r)
}

func (p *printer) levers(rank *lever.Ranking) {
	p.line("")
	p.wrap("", rank.Before.Lead+" "+rank.Before.Rest)
	p.line("")
	p.wrap("", fmt.Sprintf("Each change alone, the most helpful first. %d possible years, the same for all, with the same luck.", rank.Members))
	p.line("")
	p.line("     %-46s %12s %12s", "change", "hours once", "hours a week")
	for i, t := range rank.Trials {
		if t.Fate {
			p.line("")
			p.line("Not for you to choose:")
		}
		p.line("%3d. %s %12s %12s", i+1, fill(t.Name, 46), cost(t.Cost.Once), cost(t.Cost.Week))
		p.wrap("     ", did(t))
		if t.Cost.Needs != "" {
			p.wrap("     ", "Takes "+t.Cost.Needs+".")
		}
		if t.Care != "" && !t.Harms() {
			p.wrap("     ", t.Care)
		}
	}
	if rank.Pairs != nil {
		p.pairs(rank.Pairs)
	}
	p.line("")
	p.wrap("", "Hours are those of the table of work, or common practice. A change that helps one need may take from another: both are told.")
}

// pairs tells what two changes together do.
func (p *printer) pairs(list []*lever.Pair) {
	p.line("")
	p.wrap("", "The best of them two and two. Relief is the share of the first shortfalls that is gone, the first counting most.")
	if len(list) == 0 {
		p.wrap("", "There are no two that help.")
		return
	}
	p.line("")
	for _, x := range list {
		p.wrap("  ", fmt.Sprintf("%s, with %s: %.0f and %.0f in 100 alone, %.0f together: they %s.",
			upper(x.Names[0]), x.Names[1], 100*x.Alone[0], 100*x.Alone[1], 100*x.Relief, x.How))
	}
}

// mostSaid is how many needs are told of each change.
const mostSaid = 4

// did tells what a change does, the first shortfalls first.
func did(t *lever.Trial) string {
	var said []string
	for _, c := range t.Changes {
		if s := movedBy(c); s != "" && len(said) < mostSaid {
			said = append(said, lowerFirst(c.Name)+" "+s)
		}
	}
	if len(said) == 0 {
		return "Nothing that shows."
	}
	return upper(strings.Join(said, "; ")) + "."
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// movedBy words a change by the figure that moves: weeks short, days of cover, or
// the share of the need that is met.
func movedBy(c lever.Change) string {
	b, a := c.Before, c.After
	switch {
	case math.Abs(b.Weeks-a.Weeks) >= 0.1:
		return fmt.Sprintf("short in %.1f weeks, now %.1f", b.Weeks, a.Weeks)
	case b.Days != a.Days:
		return fmt.Sprintf("covered %s days, now %s", days(b.Days, b.Open), days(a.Days, a.Open))
	case math.Abs(b.Met-a.Met) >= 0.005:
		return fmt.Sprintf("met to %.0f in 100, now %.0f", 100*b.Met, 100*a.Met)
	}
	return ""
}

// cost writes hours; a dash for none that count.
func cost(hours float64) string {
	switch {
	case hours < 0.05:
		return "-"
	case hours < 9.95:
		return fmt.Sprintf("%.1f", hours)
	}
	return fmt.Sprintf("%.0f", hours)
}
