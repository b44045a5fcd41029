package main

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/lever"
	"evenstead/stead"
	"evenstead/unit"
)

var larderCommand = command{"larder", "[STEAD.toml] [flags]", "tells what is in store and how long it keeps, what to do with a glut, and when food runs lean", showLarder}

// lardering is what larder is asked.
type lardering struct {
	forecast
	glut, outage        string
	sheet               string
	amount, began, temp string
	gap, labels         bool
}

func showLarder(ctx context.Context, a *args) error {
	var q lardering
	f := a.flags
	q.flagsInto(f)
	q.at.fileFlag(f)
	q.members, f.Lookup("members").DefValue = lever.Members, fmt.Sprint(lever.Members)
	f.StringVar(&q.glut, "glut", "", "tell what can be done with this much of a `food`, such as \"tomato 20 kg\"")
	f.BoolVar(&q.gap, "gap", false, "find the lean weeks, and try the sowings and jars that would fill them")
	f.StringVar(&q.outage, "outage", "", "the current has been off this `long`, such as 30h: what to keep and what to throw")
	f.BoolVar(&q.labels, "labels", false, "print a label for every lot")
	f.StringVar(&q.sheet, "sheet", "", "print the batch sheet of a `kind`: acorns, cider, fruit, kraut, mead, mixed, pickles, tea, vinegar")
	f.StringVar(&q.amount, "amount", "10 kg", "of the batch: `mass` of its main part")
	f.StringVar(&q.began, "began", "", "`date` the batch began (default: today)")
	f.StringVar(&q.temp, "temp", "20 °C", "`temperature` where the batch stands")
	f.BoolVar(&q.json, "json", false, "print JSON, in SI units")
	f.BoolVar(&q.us, "us", false, "print US units")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 1 {
		return given(fmt.Errorf("one description at a time, not %d", len(words)))
	}
	if q.sheet != "" {
		return q.showSheet(a)
	}
	show := progress(a.err)
	q.request.report = nil
	b, err := q.open(ctx, words, show.report)
	show.clear()
	switch {
	case err != nil:
		return err
	case q.json:
		return writeAny(a, b)
	case q.labels:
		return writeLabels(a.out, b, system(q.us))
	}
	return writeLarder(a.out, b, system(q.us))
}

func writeAny(a *args, v any) error {
	enc := json.NewEncoder(a.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// A larderBook is what the larder command tells, in SI units.
type larderBook struct {
	Stead    string         `json:"stead"`
	Today    day.Day        `json:"today"`
	Lots     []larderLot    `json:"lots"` // soonest to go first
	Places   []larderPlace  `json:"places"`
	Gluts    []larderGlut   `json:"gluts"`
	Gap      *larderGap     `json:"gap,omitempty"`
	Freezers []larderFreeze `json:"freezers"`
	Outage   *larderOutage  `json:"outage,omitempty"`
	Batches  []larderBatch  `json:"batches,omitempty"`
	Labels   []larderLabel  `json:"labels"`
	Guards   []string       `json:"guards"` // hazards of what is here
	From     []string       `json:"reckoned_from"`
	Defaults []string       `json:"defaults,omitempty"`
}

// pantry is what the command works with: the reckoning, its standing, the book.
type pantry struct {
	q       *lardering
	r       *hearth.Reckoning
	now     *engine.Standing
	entries []book.Entry
	again   func(context.Context, []book.Entry) (*hearth.Reckoning, error) // with entries more; nil without a book
	b       *larderBook
	report  func(done, total int)
	sys     unit.System
}

// open reckons the stead to today and fills in what is asked.
func (q *lardering) open(ctx context.Context, words []string, report func(done, total int)) (*larderBook, error) {
	if name, alone := q.at.described(words); alone {
		return q.plain(ctx, name, report)
	}
	var b *larderBook
	err := q.at.with(ctx, func(h *hearth.Home) error {
		ask, err := q.request.ask(time.Now)
		if err != nil {
			return err
		}
		r, err := h.Reckon(ctx, ask)
		if err != nil {
			return blame(err)
		}
		p := &pantry{q: q, r: r, now: r.Past.Standing(), report: report}
		if p.entries, err = h.Entries(ctx); err != nil {
			return err
		}
		p.again = func(ctx context.Context, also []book.Entry) (*hearth.Reckoning, error) {
			more := ask
			more.Also = also
			return h.Reckon(ctx, more)
		}
		b, err = p.fill(ctx)
		return err
	})
	return b, err
}

// plain is the larder of a description by itself, as its lots would be today.
func (q *lardering) plain(ctx context.Context, name string, report func(done, total int)) (*larderBook, error) {
	q.name = name
	var err error
	if q.text, err = readStead(name); err != nil {
		return nil, err
	}
	r, err := q.prepare(time.Now)
	if err != nil {
		return nil, err
	}
	return q.over(ctx, r, report)
}

// over is the larder of a reckoning without a book.
func (q *lardering) over(ctx context.Context, r *hearth.Reckoning, report func(done, total int)) (*larderBook, error) {
	past, err := engine.Replay(ctx, r.Tables, engine.History{Versions: []engine.Version{{From: r.Stead.Stay.From, Stead: r.Stead}}}, r.Members, r.Options)
	if err != nil {
		return nil, blame(err)
	}
	p := &pantry{q: q, r: r, now: past.Standing(), report: report}
	return p.fill(ctx)
}

func (p *pantry) fill(ctx context.Context) (*larderBook, error) {
	p.sys = system(p.q.us)
	p.b = &larderBook{Stead: p.r.Stead.Name, Today: p.now.Today, From: p.r.How, Defaults: hearth.Taken(larderTaken(p.r.Stead.Taken))}
	p.lots()
	p.places()
	p.freezers()
	if err := p.gluts(); err != nil {
		return nil, err
	}
	p.batches()
	p.labels()
	p.guards()
	if p.q.outage != "" {
		if err := p.outage(); err != nil {
			return nil, err
		}
	}
	if p.q.gap {
		if err := p.gap(ctx); err != nil {
			return nil, err
		}
	}
	return p.b, nil
}

// larderTaken keeps the defaults that keeping is reckoned from.
func larderTaken(taken []stead.Default) (out []stead.Default) {
	for _, d := range taken {
		for _, part := range []string{"lot", "shelf", "freezer"} {
			if len(d.Part) >= len(part) && d.Part[:len(part)] == part {
				out = append(out, d)
			}
		}
	}
	return out
}
