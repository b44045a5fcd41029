package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
	"evenstead/unit"
)

var flowsCommand = command{"flows", "[STEAD.toml] [flags]", "tells what comes in, goes round and is lost, and how toilet, digester, fires, cold, light and hours stand", showLoop}

// loopYears is the most possible years a loop is averaged over.
const loopYears = 100

// looping is what loop is asked.
type looping struct {
	at
	request
	parts  string
	us     bool
	prices cordPrices
}

// A loopSheet is what the parts of the command tell from.
type loopSheet struct {
	r      *hearth.Reckoning
	past   *engine.Past
	now    *engine.Standing
	ahead  *engine.Outlook
	model  *engine.Model
	prices *cordPrices // nil: none are asked about
	sys    unit.System
	kept   bool // a stead's file with its book, not a description alone
	ctx    context.Context
}

// loopParts are the parts in the order they are told.
var loopParts = []struct {
	name string
	tell func(*loopSheet, *printer) error
}{
	{"nutrients", (*loopSheet).nutrients}, {"beds", (*loopSheet).beds}, {"ledger", (*loopSheet).ledger}, {"toilet", (*loopSheet).toilet}, {"compost", (*loopSheet).compost}, {"digester", (*loopSheet).digester},
	{"cooking", (*loopSheet).cooking}, {"cold", (*loopSheet).cold}, {"light", (*loopSheet).light}, {"hours", (*loopSheet).hours},
}

func partNames() []string {
	var out []string
	for _, p := range loopParts {
		out = append(out, p.name)
	}
	return out
}

func showLoop(ctx context.Context, a *args) error {
	q := new(looping)
	q.flagsInto(a.flags)
	q.fileFlag(a.flags)
	a.flags.StringVar(&q.parts, "part", "", "only these `parts`, such as beds,digester: "+strings.Join(partNames(), ", "))
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	q.prices.flagsInto(a.flags)
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	for part := range strings.SplitSeq(q.parts, ",") {
		if part != "" && !slices.Contains(partNames(), part) {
			return given(fmt.Errorf("--part %q: one of %s", part, strings.Join(partNames(), ", ")))
		}
	}
	q.members = min(q.members, loopYears)
	if len(words) == 1 {
		s, err := q.described(ctx, words[0])
		if err != nil {
			return err
		}
		return q.tell(s, &printer{w: a.out})
	}
	return q.with(ctx, func(h *hearth.Home) error {
		s, err := q.keptSheet(ctx, h)
		if err != nil {
			return err
		}
		return q.tell(s, &printer{w: a.out})
	})
}

// described reads a description by itself, as it stands on its first day.
func (q *looping) described(ctx context.Context, name string) (*loopSheet, error) {
	var err error
	q.name = name
	if q.text, err = readStead(name); err != nil {
		return nil, err
	}
	r, err := q.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	if r.Options.Today < r.Stead.Stay.From {
		return nil, given(fmt.Errorf("--today %s is before the stay began on %s", r.Options.Today, r.Stead.Stay.From))
	}
	s := &loopSheet{r: r, sys: system(q.us), ctx: ctx}
	h := engine.History{Versions: []engine.Version{{From: r.Stead.Stay.From, Stead: r.Stead}}}
	if s.past, err = engine.Replay(ctx, r.Tables, h, r.Members, r.Options); err != nil {
		return nil, given(err)
	}
	return s, s.fill()
}

// keptSheet reads the stead's file: its book up to today, and the year ahead.
func (q *looping) keptSheet(ctx context.Context, h *hearth.Home) (*loopSheet, error) {
	a, err := q.request.ask(time.Now)
	if err != nil {
		return nil, err
	}
	a.Span = &engine.Span{From: 0, To: a.Today - 1}
	r, err := h.Reckon(ctx, a)
	if err != nil {
		return nil, blame(err)
	}
	s := &loopSheet{r: r, past: r.Past, sys: system(q.us), kept: true, ctx: ctx}
	return s, s.fill()
}

// fill runs the year ahead.
func (s *loopSheet) fill() (err error) {
	s.now = s.past.Standing()
	opt := s.r.Options
	opt.Report = nil
	if s.model, err = engine.Prepare(s.r.Stead, s.r.Tables, opt); err != nil {
		return given(err)
	}
	res, err := s.model.Run(s.ctx, s.r.Members, opt)
	if err != nil {
		return err
	}
	s.ahead = res.Outlook()
	return nil
}

func (q *looping) tell(s *loopSheet, p *printer) error {
	s.prices = &q.prices
	p.line("%s: loops on %s", s.r.Stead.Name, plain(s.today().Long()))
	var faults error
	for _, part := range loopParts {
		if q.parts == "" || slices.Contains(strings.Split(q.parts, ","), part.name) {
			faults = errors.Join(faults, part.tell(s, p))
		}
	}
	p.line("")
	p.wrap("", "Local codes and licensed practice come first. evenstead gate tells what may go where.")
	return errors.Join(faults, p.err)
}

func (s *loopSheet) today() day.Day { return s.past.Today }

func (s *loopSheet) stead() *stead.Stead { return s.r.Stead }

func (s *loopSheet) tables() *data.Tables { return s.r.Tables }

// say formats an amount in the units asked for.
func (s *loopSheet) say(v float64, k unit.Kind) string { return plain(unit.Format(v, k, s.sys)) }

// head begins a part.
func (p *printer) head(title string) {
	p.line("")
	p.line("%s", title)
}
