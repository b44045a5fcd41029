package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/reckon"
	"evenstead/unit"
)

var reckonCommand = command{"reckon", "[flags]", "adds up what share of life the place carried over a span, and how much of that is written", runReckon}

// accounting is what reckon is asked.
type accounting struct {
	at
	from, to   string
	us, asJSON bool
	members    int
	seed       uint64
}

func runReckon(ctx context.Context, a *args) error {
	q := new(accounting)
	q.spanFlags(a)
	a.flags.IntVar(&q.members, "members", 200, "possible years of what was forecast as the span began; 0: it is left out")
	a.flags.Uint64Var(&q.seed, "seed", 1, "seed of chance of these")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.BoolVar(&q.asJSON, "json", false, "print JSON")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(fmt.Errorf("reckon takes no words; for another file: evenstead reckon --stead %s", words[0]))
	}
	return q.with(ctx, func(h *hearth.Home) error {
		r, err := q.reckon(ctx, h)
		if err != nil {
			return err
		}
		if !q.asJSON {
			return writeReckoning(a.out, r, system(q.us))
		}
		return writeJSON(a.out, r)
	})
}

// spanFlags ties the flags that name a file and a span.
func (q *accounting) spanFlags(a *args) {
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.from, "from", "", "first `date` reckoned (default: the first day of the stay)")
	a.flags.StringVar(&q.to, "to", "", "last `date` reckoned (default: yesterday)")
}

// reckon reckons up the span, with what was forecast for it.
func (q *accounting) reckon(ctx context.Context, h *hearth.Home) (*reckon.Report, error) {
	today, err := q.day()
	if err != nil {
		return nil, err
	}
	span, err := q.span(today)
	if err != nil {
		return nil, err
	}
	if q.members < 0 || q.members > 2000 {
		return nil, given(fmt.Errorf("--members %d: give 1 to 2,000 possible years, or 0 to leave out what was forecast", q.members))
	}
	r, err := h.Audit(ctx, hearth.AuditAsk{Today: today, Span: span, Members: q.members, Seed: q.seed})
	if errors.Is(err, hearth.ErrNoDays) {
		return nil, given(err)
	}
	return r, blame(err)
}

func (q *accounting) span(today day.Day) (engine.Span, error) {
	from, err := dayNamed("from", q.from, math.MinInt32)
	if err != nil {
		return engine.Span{}, err
	}
	to, err := dayNamed("to", q.to, today-1)
	if err == nil && q.from != "" && from > to {
		err = given(fmt.Errorf("--from %s is after --to %s: turn them round", from, to))
	}
	return engine.Span{From: from, To: to}, err
}

// used prints an amount in the unit a nutrient or a use is counted in.
func used(v float64, in string, sys unit.System) string {
	if in == "g" {
		return unit.Format(v/1000, unit.Mass, sys)
	}
	if _, ok := kindOf[in]; ok {
		return amount(v, in, sys)
	}
	return unit.Format(v, unit.Number, sys) + " " + in
}
