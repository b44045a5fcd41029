package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"evenstead/hearth"
	"evenstead/plan"
	"evenstead/stead"
)

var planCommand = command{"plan", "[STEAD.toml] [flags]", "works out what to sow, eat and put up so that need is met in a poor year, and tries it over others", makePlan}

// planMembers is how many years a plan is tried over where nobody says.
const planMembers = 200

// planAsk is what plan is asked.
type planAsk struct {
	forecast
	risk   float64
	once   int
	poor   float64
	limits bool
	sizes  bool
	second bool
	toml   string
	wishes []plan.Wish // with the words as given, until the stead is read
}

func makePlan(ctx context.Context, a *args) error {
	q, words, err := readPlanAsk(a)
	if err != nil {
		return err
	}
	show := progress(a.err)
	step := func(s string) {
		if show.on {
			fmt.Fprintf(show.w, "\r\033[K%s ...", s)
		}
	}
	if q.sizes {
		z, err := q.size(ctx, words, step)
		show.clear()
		switch {
		case err != nil:
			return err
		case q.json:
			return writeJSON(a.out, z)
		}
		pr := &printer{w: a.out}
		pr.size(z, system(q.us))
		return pr.err
	}
	var p *plan.Plan
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	err = q.reckoned(ctx, words, func(r *hearth.Reckoning) error {
		now := q.garden(ctx, words, r)
		var ask *plan.Ask
		if p, ask, err = q.make(ctx, r, step); err != nil {
			return err
		}
		garden, err := now()
		if err != nil {
			return err
		}
		if err := p.Measure(ctx, ask, garden); err != nil || !q.second {
			return err
		}
		p.Then, err = q.after(ctx, p, r, step)
		return err
	})
	show.clear()
	if err != nil {
		return err
	}
	return q.print(a, p)
}

func readPlanAsk(a *args) (*planAsk, []string, error) {
	q := new(planAsk)
	q.flagsInto(a.flags)
	q.at.fileFlag(a.flags)
	q.members, a.flags.Lookup("members").DefValue = planMembers, fmt.Sprint(planMembers)
	a.flags.BoolVar(&q.json, "json", false, "print JSON (keys: docs/plan.md)")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.Float64Var(&q.risk, "risk", 0, "share of years poorer than the one planned for, 0.01 to 0.5 (default: the terms', else 0.2)")
	a.flags.IntVar(&q.once, "sow-once", plan.UsualYears, fmt.Sprintf("sow once for this many possible years, each with a table, stores and watering of its own, up to %d; 1: for the one poor year alone, which is quicker", plan.MostYears))
	a.flags.Float64Var(&q.poor, "weigh-poor", 0, "this share of the weight, 0 to 1, is that of the poorest of the possible years alone, as many as --risk says")
	a.flags.BoolVar(&q.limits, "limits", false, "also tell what more of each limit would be worth, by planning again with it (done unasked when food energy lacks)")
	a.flags.BoolVar(&q.sizes, "size", false, "tell how much land and water the people would need on a place of which only they and the climate are known")
	a.flags.BoolVar(&q.second, "second-year", false, "also plan the year after, from what the first leaves in the larder and the ground (of a description alone)")
	a.flags.StringVar(&q.toml, "toml", "", "write the description with the plan's plantings to this `file`; - prints it alone")
	for kind, help := range map[string]string{
		plan.Forbid:  "never sow this `crop`; may be given again, as may the other wishes",
		plan.AtMost:  "no more than so much, such as `\"30 m2 potato\"`",
		plan.AtLeast: "no less than so much, such as `\"4 m2 lettuce\"`",
		plan.Fallow:  "sow nothing on this `bed`",
		plan.Weigh:   "let a day's lack of a nutrient count so many days of food energy, such as `\"iron 0.3\"` (else protein 0.5, fat 0.3, any other 0.03)",
		plan.First:   "after need is met, keep `bought or work` least before the other (default bought)",
	} {
		a.flags.Func(strings.ReplaceAll(kind, " ", "-"), help, func(text string) error {
			q.wishes = append(q.wishes, plan.Wish{Kind: kind, What: text})
			return nil
		})
	}
	words, err := a.parse()
	switch {
	case err != nil:
		return nil, nil, err
	case len(words) > 1:
		return nil, nil, given(fmt.Errorf("one description at a time, not %d", len(words)))
	case q.risk != 0 && !(q.risk >= 0.01 && q.risk <= 0.5):
		return nil, nil, given(fmt.Errorf("--risk %g: give a share of years from 0.01 to 0.5", q.risk))
	case q.once < 1 || q.once > plan.MostYears:
		return nil, nil, given(fmt.Errorf("--sow-once %d: give 2 to %d possible years, or 1 for the one poor year", q.once, plan.MostYears))
	case !(q.poor >= 0 && q.poor <= 1):
		return nil, nil, given(fmt.Errorf("--weigh-poor %g: give a share of the weight from 0 to 1", q.poor))
	case q.poor > 0 && q.once < 2:
		return nil, nil, given(errors.New("--weigh-poor: there is but one year with --sow-once 1"))
	case q.days < 364:
		return nil, nil, given(fmt.Errorf("--days %d: a plan looks 364 days ahead", q.days))
	}
	return q, words, nil
}

// make plans for a reckoning.
func (q *planAsk) make(ctx context.Context, r *hearth.Reckoning, step func(string)) (*plan.Plan, *plan.Ask, error) {
	ask := plan.Of(r)
	ask.Risk, ask.Years, ask.Poor, ask.Report = q.risk, q.once, q.poor, step
	for _, w := range q.wishes {
		wish, err := plan.ParseWish(w.Kind, w.What, r.Stead, r.Tables)
		if err != nil {
			return nil, nil, given(fmt.Errorf("--%s: %w", strings.ReplaceAll(w.Kind, " ", "-"), err))
		}
		ask.Wishes = append(ask.Wishes, wish)
	}
	p, err := plan.Make(ctx, ask)
	switch {
	case errors.Is(err, context.Canceled):
		return nil, nil, err
	case err != nil:
		return nil, nil, given(err)
	}
	if q.limits || p.Hungry() {
		step("weighing the limits")
		err = p.Worth(ctx)
	}
	return p, ask, err
}

// after plans the year after a plan: its garden is run through the first year in
// every member, and what that leaves is what the second begins with.
func (q *planAsk) after(ctx context.Context, p *plan.Plan, r *hearth.Reckoning, step func(string)) (*plan.Plan, error) {
	if r.Past != nil {
		return nil, given(errors.New("--second-year: give a description; of a stead's file the first year alone is planned, and the next when it has come"))
	}
	text, err := p.Text()
	if err != nil {
		return nil, err
	}
	next := *q
	next.text, next.today, next.limits = text, (p.Today + 364).String(), false
	o, err := next.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	then, _, err := next.make(ctx, o, step)
	if err != nil {
		return nil, fmt.Errorf("the year after: %w", err)
	}
	return then, nil
}

// garden runs today's garden over members of another seed, and of those the later
// half: where there is a record the first are its years as they were, which the
// plan may have learned from. A description's runs beside the planning; the file
// of a stead is opened by one at a time, so that its garden waits to be asked for.
func (q *planAsk) garden(ctx context.Context, words []string, r *hearth.Reckoning) func() (*plan.Garden, error) {
	find := func() (g *plan.Garden, err error) {
		other := *q
		other.seed, other.members = q.seed+1, 2*q.members
		err = other.reckoned(ctx, words, func(o *hearth.Reckoning) error {
			g, err = plan.RunUnseen(ctx, r, o)
			return err
		})
		return g, err
	}
	if r.Past != nil {
		return find
	}
	type found struct {
		garden *plan.Garden
		err    error
	}
	done := make(chan found, 1)
	go func() {
		g, err := find()
		done <- found{g, err}
	}()
	return func() (*plan.Garden, error) {
		f := <-done
		return f.garden, f.err
	}
}

func (q *planAsk) print(a *args, p *plan.Plan) error {
	if q.toml != "" {
		text, err := p.Text()
		if err != nil {
			return err
		}
		if _, err := stead.Read(q.toml, text); err != nil {
			return fmt.Errorf("the planned description does not read: %w", err)
		}
		if q.toml == "-" {
			_, err = a.out.Write(text)
			return err
		}
		if err := os.WriteFile(q.toml, text, 0o600); err != nil {
			return err
		}
	}
	if q.json {
		return writeJSON(a.out, p)
	}
	pr := &printer{w: a.out}
	pr.plan(p, system(q.us))
	if p.Then != nil {
		pr.line("")
		pr.line("The year after")
		pr.line("")
		pr.plan(p.Then, system(q.us))
	}
	if q.toml != "" {
		pr.line("")
		pr.wrap("", "The description with these plantings is in "+q.toml+".")
	}
	return pr.err
}
