package engine

import (
	"context"
	"slices"

	"evenstead/day"
	"evenstead/fertility"
	"evenstead/weather"
)

// Ways by which nutrients come to a plot and leave it.
const (
	byUrine = iota
	byDigestate
	byCompost
	byDrum
	byDroppings
	byBrought // mulch, ash and the like that the book tells of
	byFixing
	bySeed
	byHarvest // the last two go out
	byLeaching
	bedWays
)

var bedWayNames = [bedWays]string{"urine", "digestate", "compost", "toilet compost", "droppings", "brought", "fixed from the air", "seed", "harvest", "below the roots"}

// bedIn tells whether a way brings to the plot.
func bedIn(way int) bool { return way < byHarvest }

// A bedBook writes down what moves to and from each plot of a run; a runner has
// none unless somebody asks.
type bedBook struct {
	moved  [][bedWays]npk
	sodium []sodium
}

// sodium of a plot, kg, since the writing began.
type sodium struct{ in, held, gone float64 }

func newBedBook(m *Model) *bedBook {
	return &bedBook{make([][bedWays]npk, len(m.plots)), make([]sodium, len(m.plots))}
}

// clear begins anew.
func (b *bedBook) clear() {
	clear(b.moved)
	clear(b.sodium)
}

// book writes down what moved by a way.
func (r *runner) book(p, way int, has npk) {
	if r.beds != nil {
		r.beds.moved[p][way] = r.beds.moved[p][way].add(has)
	}
}

// bookUrine writes down a dose, with its salt.
func (r *runner) bookUrine(p int, litres float64, has npk) {
	if r.beds == nil {
		return
	}
	r.book(p, byUrine, has)
	kg := litres * fertility.UrineSodium / 1000
	r.beds.sodium[p].in += kg
	r.beds.sodium[p].held += kg
}

// bookDrained writes down what drainage takes below the roots: nitrogen, and sodium
// as far as the water carries it, which is as nitrate.
func (r *runner) bookDrained(p int, nitrogen, drained, held float64) {
	if r.beds == nil {
		return
	}
	r.book(p, byLeaching, npk{n: nitrogen})
	na := &r.beds.sodium[p]
	gone := fertility.Leached(na.held, drained, held)
	na.held -= gone
	na.gone += gone
}

// inGround is what a plot's soil and plants hold; the slow store with them.
func (m *Model) inGround(s *state, p int) npk {
	sum := s.mineral[p].add(s.organic[p])
	sum.n += s.humus[p]
	for q := m.plots[p].first; q < m.plots[p].last; q++ {
		sum = sum.add(s.crop[q].pool)
	}
	return sum
}

// A BedMove is what came to a plot, or left it, by one way, kg.
type BedMove struct {
	Way string
	In  bool
	Has npkKg
}

// npkKg is nitrogen, phosphorus and potassium in kg.
type npkKg struct{ N, P, K float64 }

func kgOf(v npk) npkKg { return npkKg{v.n, v.p, v.k} }

// A BedLedger is a plot's nutrients over a span of days: what was in ground and
// plants, what came and left, and what is there now. Before + in - out is after.
type BedLedger struct {
	Plot          string
	Area          float64 // m2
	From, To      day.Day // the first day and the day after the last
	Before, After npkKg   // kg in ground and plants
	Moves         []BedMove
	SodiumIn      float64 // kg, by urine
	SodiumGone    float64 // kg of it, below the roots
}

// ledgers closes a book over plots whose stocks were before.
func (m *Model) ledgers(s *state, b *bedBook, before []npk, from, to day.Day) []BedLedger {
	out := make([]BedLedger, len(m.plots))
	for p := range m.plots {
		l := BedLedger{Plot: m.plots[p].name, Area: m.plots[p].area, From: from, To: to, Before: kgOf(before[p]), After: kgOf(m.inGround(s, p)),
			SodiumIn: b.sodium[p].in, SodiumGone: b.sodium[p].gone}
		for way, has := range b.moved[p] {
			if has != (npk{}) {
				l.Moves = append(l.Moves, BedMove{bedWayNames[way], bedIn(way), kgOf(has)})
			}
		}
		out[p] = l
	}
	return out
}

// stocksOf is what the ground of each plot holds.
func (m *Model) stocksOf(s *state) []npk {
	out := make([]npk, len(m.plots))
	for p := range out {
		out[p] = m.inGround(s, p)
	}
	return out
}

// BedsAhead is the ledger of each plot over the horizon, the mean of the first n
// possible years.
func (m *Model) BedsAhead(ctx context.Context, ens *weather.Ensemble, n int) ([]BedLedger, error) {
	var sum []BedLedger
	n = min(n, len(ens.Members))
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		sum = addLedgers(sum, m.bedsOf(i, ens.Members[i]), 1/float64(n))
	}
	return sum, nil
}

// bedsOf runs one member with a book of its beds.
func (m *Model) bedsOf(i int, w weather.Member) []BedLedger {
	r := newRunner(m)
	r.beds = newBedBook(m)
	r.begin(i, w)
	var before []npk
	for d := range m.days {
		r.hear(d)
		if d == m.skip {
			r.beds.clear()
			before = m.stocksOf(r.s)
		}
		r.step(d)
	}
	return m.ledgers(r.s, r.beds, before, m.today, m.start+day.Day(m.days))
}

// addLedgers adds a share of one list of ledgers to another of the same plots.
func addLedgers(sum, more []BedLedger, share float64) []BedLedger {
	if sum == nil {
		sum = make([]BedLedger, len(more))
		for i := range more {
			sum[i] = BedLedger{Plot: more[i].Plot, Area: more[i].Area, From: more[i].From, To: more[i].To}
		}
	}
	for i := range more {
		sum[i].add(&more[i], share)
	}
	return sum
}

func (l *BedLedger) add(o *BedLedger, share float64) {
	l.Before, l.After = l.Before.plus(o.Before, share), l.After.plus(o.After, share)
	l.SodiumIn += share * o.SodiumIn
	l.SodiumGone += share * o.SodiumGone
	for _, mv := range o.Moves {
		at := slices.IndexFunc(l.Moves, func(x BedMove) bool { return x.Way == mv.Way })
		if at < 0 {
			at = len(l.Moves)
			l.Moves = append(l.Moves, BedMove{Way: mv.Way, In: mv.In})
		}
		l.Moves[at].Has = l.Moves[at].Has.plus(mv.Has, share)
	}
}

func (v npkKg) plus(o npkKg, share float64) npkKg {
	return npkKg{v.N + share*o.N, v.P + share*o.P, v.K + share*o.K}
}

// Times returns v times f.
func (v npkKg) Times(f float64) npkKg { return npkKg{f * v.N, f * v.P, f * v.K} }

// Sum is what came in, or what left.
func (l *BedLedger) Sum(in bool) (sum npkKg) {
	for _, mv := range l.Moves {
		if mv.In == in {
			sum = sum.plus(mv.Has, 1)
		}
	}
	return sum
}

// joinLedgers lays a later span's ledgers to earlier ones by the plots' names; a
// plot that is no longer described stays as it was left.
func joinLedgers(first, later []BedLedger) []BedLedger {
	for _, l := range later {
		at := slices.IndexFunc(first, func(f BedLedger) bool { return f.Plot == l.Plot })
		if at < 0 {
			first = append(first, l)
			continue
		}
		f := &first[at]
		before := f.Before
		f.add(&l, 1)
		f.Before, f.After, f.To, f.Area = before, l.After, l.To, l.Area
	}
	return first
}
