package engine

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/weather"

	"github.com/google/uuid"
)

// A Version is a description of the stead and the first day it holds.
type Version struct {
	From  day.Day
	Stead *stead.Stead
}

// A History is what a household recorded.
type History struct {
	Versions []Version    // in order of their days; the first day of the stay is the first's stay.from
	Entries  []book.Entry // that stand (book.Live), in order
	Weather  *weather.Record
	Handbook bool                  // learn nothing: every factor stays at one
	Tell     func(book.Entry) bool // entries whose flows are wanted; nil: none
	Span     *Span                 // of which an Account is wanted; nil: none
	Try      bool                  // some of it is not in the book: no later replay goes on from it
}

// Lead is how many days before today are run again in every member, so that what
// was not counted lately stays as uncertain as it is.
const Lead = 120

// A Past is what a replay found: the stead as it stands today by description,
// weather and book. Prepare starts from it when it is in the Options.
type Past struct {
	From    day.Day         // the first day that members run
	Today   day.Day         // the outlook begins
	Stead   *stead.Stead    // the description that holds today
	Known   *weather.Record // the weather of the stay so far, NaN where nothing is known
	Drifts  []Drift         // every count and dip against the reckoning, in order
	Learned []Learned
	Seen    []Seen
	Told    []Told // of the entries asked for
	Tracks  []Track
	Account *Account    // of the span asked for; nil: none was
	Beds    []BedLedger // each plot's nutrients since the stay began

	tab      *data.Tables
	entries  []book.Entry
	some     *someEntries // nil: they are to be listed
	refusals map[uuid.UUID]error
	places   placeFactors
	at       *Model // as on the morning of From
	state    *state
	end      *Model // as on the morning of Today, with the book's entries of the day done
	ended    *state
	gates    *gatesRead
	done     bool // the entries of Today are in the state already
}

// Start is the first day that the members' weather must cover for an outlook
// from today, and how many days come before today.
func (h *History) Start(today day.Day) (from day.Day, lead int, err error) {
	if len(h.Versions) == 0 {
		return 0, 0, errors.New("no description is kept: begin with evenstead describe")
	}
	first := h.first()
	if today < first {
		return 0, 0, fmt.Errorf("today, %s, is before the stay began, %s", today, first)
	}
	from = max(first, today-Lead)
	for _, v := range h.Versions {
		if v.From <= today {
			from = max(from, v.From)
		}
	}
	return from, int(today - from), nil
}

// first is the first day of the stay.
func (h *History) first() day.Day {
	if f := h.Versions[0].Stead.Stay.From; f != 0 {
		return f
	}
	return h.Versions[0].From
}

// Replay carries the stead from the first day of the stay to today: each day the
// book's entries, then the rest as the engine would have it, with middling luck
// and the weather that is known, the usual year's where it is not. Counts and
// dips set stores to what was found; the difference is kept, and teaches.
func Replay(ctx context.Context, tab *data.Tables, h History, ens *weather.Ensemble, o Options) (*Past, error) {
	return new(Trail).Replay(ctx, tab, h, ens, o)
}

// part is a stretch of the past under one description.
type part struct {
	from, to day.Day
	stead    *stead.Stead
	last     bool
}

// stretch is the most days before the members begin that are replayed as one part.
const stretch = 52 * 7

// parts cuts the stay so far where the description changes, where members begin, and
// in whole weeks before that.
func (h *History) parts(from, today day.Day) []part {
	cuts := []day.Day{h.first(), from}
	for d := from - stretch; d > h.first(); d -= stretch {
		cuts = append(cuts, d)
	}
	for _, v := range h.Versions {
		if v.From > h.first() && v.From < today {
			cuts = append(cuts, v.From)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []part
	for i, c := range cuts {
		to := today
		if i+1 < len(cuts) {
			to = cuts[i+1]
		}
		out = append(out, part{c, to, h.on(c), i+1 == len(cuts)})
	}
	return out
}

// on is the description that holds on a day: of those begun the last.
func (h *History) on(d day.Day) *stead.Stead {
	st := h.Versions[0].Stead
	for _, v := range h.Versions[1:] {
		if v.From <= d {
			st = v.Stead
		}
	}
	return st
}

// replay runs one part, from where the last one ended.
func (p *Past) replay(tab *data.Tables, o Options, part part, course *weather.Member, k *kept) error {
	start := p.Known.Start
	step := *p
	step.From = part.from
	step.at, step.state = p.end, p.ended
	opt := Options{Today: part.to, Days: leastHorizon, Seed: o.Seed, Climate: o.Climate, Past: &step}
	m, err := Prepare(part.stead, tab, opt)
	if err != nil {
		return err
	}
	if part.last {
		p.at, p.state, p.Stead = step.at, step.state, part.stead
	}
	r := newRunner(m)
	r.begin(0, course.From(int(part.from-start)))
	r.luck.middle(m)
	k.turn(m)
	r.kept = k
	r.beds = newBedBook(m)
	before := m.stocksOf(r.s)
	k.account.turn(r)
	for d := range m.skip {
		k.account.morning(d)
		r.hear(d)
		k.account.heard(d)
		if (o.Today-m.start-day.Day(d))%7 == 0 {
			k.look(r, m.start+day.Day(d))
		}
		r.step(d)
		k.account.evening(d)
	}
	if part.last {
		k.account.done()
		r.hear(m.skip)
		k.look(r, o.Today)
		k.underWay(r)
	}
	k.leave(r)
	p.Beds = joinLedgers(p.Beds, m.ledgers(r.s, r.beds, before, part.from, part.to))
	p.end, p.ended = m, r.s
	if !part.last {
		m.deeds, m.deedAt = nil, nil // done, and much of what a stop would hold
	}
	return nil
}

// leastHorizon is the fewest days a model looks ahead.
const leastHorizon = 7

// gaugeDays is how far apart two readings of a rain gauge may lie so that between
// them no entry means no rain; a lone reading tells of its own day only.
const gaugeDays = 21

// known is the weather of the stay so far: as measured, and by the book's rain.
func known(h *History, today day.Day) *weather.Record {
	first := h.first()
	rec := weather.Unknown(first, int(today-first)+1)
	if h.Weather != nil {
		rec.Take(h.Weather)
	}
	sums := map[int]float64{}
	for i := range h.Entries {
		e := &h.Entries[i]
		at := int(e.Day - first)
		if e.Kind == book.Rain && at >= 0 && at < len(rec.Rain) {
			sums[at] += e.Body.Amount
		}
	}
	last := -gaugeDays - 1
	for at := range rec.Rain {
		mm, told := sums[at]
		if !told {
			continue
		}
		for dry := last + 1; dry < at && at-last <= gaugeDays; dry++ {
			if math.IsNaN(rec.Rain[dry]) {
				rec.Rain[dry] = 0
			}
		}
		rec.Rain[at], last = mm, at
	}
	return rec
}

// refuse keeps why an entry can't be reckoned with.
func (p *Past) refuse(e *book.Entry, err error) {
	if p.refusals[e.ID] == nil {
		p.refusals[e.ID] = err
	}
}

func (p *Past) refused(e *book.Entry) bool { return p.refusals[e.ID] != nil }

// sum closes the replay: what was learned, seen and told.
func (p *Past) sum(k *kept, h *History) {
	p.Drifts = k.drifts
	p.Account = k.account.close()
	p.Tracks = k.tracks
	p.Learned = k.learned()
	p.Seen = k.seenAll(p.end, p.ended)
	for i := range h.Entries {
		if h.Tell != nil && h.Tell(h.Entries[i]) {
			p.Told = append(p.Told, p.tell(i, k))
		}
	}
}

// Found sums up what the book shows.
func (p *Past) Found() *Found {
	f := &Found{Entries: len(p.entries), Learned: p.Learned, Seen: p.Seen, Refused: p.Refused()}
	last := map[string]int{}
	for i, d := range p.Drifts {
		last[d.Store] = i
	}
	for i, d := range p.Drifts {
		if last[d.Store] == i {
			f.Drifts = append(f.Drifts, d)
		}
	}
	return f
}

// foodOf is the food that a crop, a wild food or a food is eaten as.
func (p *Past) foodOf(id string) string {
	if c, ok := p.tab.Crop(id); ok && c.Food != "" {
		return c.Food
	}
	if w, ok := p.tab.WildFood(id); ok && w.Food != "" {
		return w.Food
	}
	return id
}

// Fill tells a context for reading notes what the reckoning knows: which foods
// should be gone, and until when drums must stay shut.
func (p *Past) Fill(c *book.Context) {
	m, s := p.end, p.ended
	left := map[string]float64{}
	for k := range m.kinds {
		left[m.kinds[k].food] += s.kg[k]
	}
	gone := map[string]bool{}
	for _, sort := range []book.Sort{book.Food, book.Crop, book.Wild} {
		for _, n := range c.Names[sort] {
			if left[p.foodOf(n.ID)] < lastBite {
				gone[n.ID] = true
			}
		}
	}
	c.Gone(gone)
	for i := range s.drums {
		if d := &s.drums[i]; d.closed != notClosed {
			c.Until(fmt.Sprintf("drum %d", i+1), m.toilet.opens(m.start+day.Day(d.closed)))
		}
	}
}
