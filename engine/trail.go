package engine

import (
	"context"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"sync"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/weather"

	"github.com/google/uuid"
)

// A Trail is what a replay leaves behind for the next: where it stood at the end of
// each of its parts. A replay of a book that has changed goes on from the last part
// that ends before anything it would see otherwise, and comes to the same, bit for
// bit, as one from the beginning. The zero Trail is ready; replays may run at the
// same time.
type Trail struct {
	mu   sync.Mutex
	last *trod
}

// trod is a replay that was made, and the stops on its way. It never changes. Luck
// is middling, so that no seed tells.
type trod struct {
	tab      *data.Tables
	versions []Version
	today    day.Day
	climate  weather.Climate
	handbook bool
	entries  []book.Entry
	known    *weather.Record
	course   weather.Member
	parts    []part
	stops    []stop // by part, none for the last
}

// A stop is all that the rest of a replay goes on from: what it found, and the
// model and state at the end of a part, which nobody changes any more.
type stop struct {
	past Past
	kept *kept
}

// Replay is engine.Replay, from the last stop that still holds.
func (t *Trail) Replay(ctx context.Context, tab *data.Tables, h History, ens *weather.Ensemble, o Options) (*Past, error) {
	from, _, err := h.Start(o.Today)
	if err != nil {
		return nil, err
	}
	p := &Past{From: from, Today: o.Today, tab: tab, entries: h.Entries, refusals: map[uuid.UUID]error{}, places: newPlaceFactors(), gates: &gatesRead{}}
	p.some = p.list()
	p.Known = known(&h, o.Today)
	now := &trod{tab: tab, versions: h.Versions, today: o.Today, climate: o.Climate, handbook: h.Handbook,
		entries: h.Entries, known: p.Known, course: ens.Past(p.Known), parts: h.parts(from, o.Today)}
	k := newKept(&h, p)
	begin := 0
	if h.Span == nil {
		old := t.lastTrod()
		if begin = now.same(old, h.Tell); begin > 0 {
			now.stops = slices.Clone(old.stops[:begin])
			now.stops[begin-1].resume(p, k)
		}
	}
	for i := begin; i < len(now.parts); i++ {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("the replay was stopped: %w", err)
		}
		part := now.parts[i]
		if err := p.replay(tab, o, part, &now.course, k); err != nil {
			return nil, fmt.Errorf("replay from %s: %w", part.from, err)
		}
		if !part.last {
			now.stops = append(now.stops, stopAt(p, k))
		}
	}
	p.sum(k, &h)
	if h.Span == nil && h.Tell == nil && !h.Try && len(now.stops) > 0 {
		t.mu.Lock()
		t.last = now
		t.mu.Unlock()
	}
	return p, nil
}

func (t *Trail) lastTrod() *trod {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.last
}

// stopAt keeps where a replay stands.
func stopAt(p *Past, k *kept) stop {
	s := stop{past: Past{end: p.end, ended: p.ended, Beds: cloneLedgers(p.Beds), refusals: maps.Clone(p.refusals), places: p.places.clone()}}
	s.kept = k.clone()
	return s
}

// resume sets a replay to where a stop stands.
func (s *stop) resume(p *Past, k *kept) {
	p.end, p.ended = s.past.end, s.past.ended
	p.Beds, p.refusals, p.places = cloneLedgers(s.past.Beds), maps.Clone(s.past.refusals), s.past.places.clone()
	c := s.kept.clone()
	k.m, k.since, k.drifts, k.last, k.water, k.dips, k.yields, k.tracks = c.m, c.since, c.drifts, c.last, c.water, c.dips, c.yields, c.tracks
}

// clone is the same, which may go on by itself.
func (k *kept) clone() *kept {
	c := &kept{m: k.m, since: slices.Clone(k.since), drifts: slices.Clip(k.drifts), last: maps.Clone(k.last), dips: maps.Clone(k.dips),
		water: map[string]*pair{}, yields: map[string]*yieldEvidence{}, tracks: slices.Clone(k.tracks)}
	for name, p := range k.water {
		one := *p
		c.water[name] = &one
	}
	for id, y := range k.yields {
		c.yields[id] = y.clone()
	}
	for i := range c.tracks {
		t := &c.tracks[i]
		t.Days, t.Levels = slices.Clone(t.Days), slices.Clone(t.Levels)
	}
	return c
}

func (f placeFactors) clone() placeFactors {
	return placeFactors{maps.Clone(f.catch), maps.Clone(f.use), maps.Clone(f.yield)}
}

func cloneLedgers(list []BedLedger) []BedLedger {
	list = slices.Clone(list)
	for i := range list {
		list[i].Moves = slices.Clone(list[i].Moves)
	}
	return list
}

// same counts the parts, from the first on, that come out as they did in an earlier
// replay because all that they see is the same; none of the entries asked for is
// done in them.
func (t *trod) same(old *trod, asked func(book.Entry) bool) int {
	if old == nil || t.tab != old.tab || t.today != old.today || t.handbook != old.handbook ||
		!reflect.DeepEqual(t.climate, old.climate) || !sameVersions(t.versions, old.versions) {
		return 0
	}
	other := t.unlike(old)
	n := 0
	for n < len(old.stops) && n < len(t.parts)-1 && t.parts[n].like(&old.parts[n]) && t.sameWeather(old, t.parts[n].to) && t.parts[n].to < other {
		n++
	}
	if asked != nil {
		for i := range t.entries {
			if e := &t.entries[i]; n > 0 && e.Day < t.parts[n-1].to && asked(*e) {
				return 0
			}
		}
	}
	return n
}

func sameVersions(a, b []Version) bool {
	return slices.EqualFunc(a, b, func(x, y Version) bool {
		return x.From == y.From && (x.Stead == y.Stead || reflect.DeepEqual(x.Stead, y.Stead))
	})
}

// like tells whether two parts are the same stretch, of one description.
func (p *part) like(o *part) bool {
	return p.from == o.from && p.to == o.to && p.last == o.last
}

// unlike is the first day on which a replay knows of an entry that the other has
// not, or that differs; later than any when there is none.
func (t *trod) unlike(old *trod) day.Day {
	a, b := t.entries, old.entries
	same := func(x, y *book.Entry) bool { return x == y || x.ID == y.ID }
	for len(a) > 0 && len(b) > 0 && same(&a[0], &b[0]) {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && same(&a[len(a)-1], &b[len(b)-1]) {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	first := day.Day(math.MaxInt32)
	for _, list := range [][]book.Entry{a, b} {
		for i := range list {
			first = min(first, list[i].Day-ahead(list[i].Kind))
		}
	}
	return first
}

// sameWeather tells whether all days before one had the same weather, as known and
// as reckoned with, and the day itself.
func (t *trod) sameWeather(old *trod, to day.Day) bool {
	n := min(int(to-t.known.Start)+1, t.known.Days(), old.known.Days())
	return t.known.Start == old.known.Start && sameFigures(t.known.Rain[:n], old.known.Rain[:n]) && sameFigures(t.course.Rain[:n], old.course.Rain[:n]) &&
		sameFigures(t.course.TMin[:n], old.course.TMin[:n]) && sameFigures(t.course.TMax[:n], old.course.TMax[:n]) &&
		sameFigures(t.course.ET0[:n], old.course.ET0[:n]) && sameFigures(t.course.Sun[:n], old.course.Sun[:n])
}

func sameFigures(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}

// someEntries are the places of entries that every part of a replay asks for, in
// order.
type someEntries struct{ absent, weighed, sown []int }

// list finds them.
func (p *Past) list() *someEntries {
	if p.some != nil {
		return p.some
	}
	l := &someEntries{}
	for i := range p.entries {
		switch p.entries[i].Kind {
		case book.Away, book.Ill:
			l.absent = append(l.absent, i)
		case book.Weighed:
			l.weighed = append(l.weighed, i)
		case book.Sown, book.SetOut:
			l.sown = append(l.sown, i)
		}
	}
	return l
}
