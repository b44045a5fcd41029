package engine

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"sync"

	"evenstead/book"
	"evenstead/day"
	"evenstead/fertility"
)

// heldDays is for how long after something was spread a plot is told of, days.
const heldDays = 400

// A gateBook is what the gates ask of the book, found in one reading of it.
type gateBook struct {
	given  map[given][]*book.Entry // what went on a plot within heldDays, in order
	moved  []*book.Entry           // all of that, on any plot, in order
	picks  map[string][]day.Day    // pickings from a plot within heldDays, in order
	rotted float64                 // days since anything was put on the compost, or a bin shut; NaN: not known
	proved bool                    // the readings of every heap meet a rule of heat
	grey   float64                 // L of greywater a day
}

// gatesRead is what a past's gates ask of its book, read when it is first asked for.
type gatesRead struct {
	once sync.Once
	book gateBook
}

// given is a thing on a plot.
type given struct{ plot, what string }

func (g *gatekeeper) read() gateBook {
	b := gateBook{given: map[given][]*book.Entry{}, picks: map[string][]day.Day{}, rotted: g.rotted(), proved: g.heapProved(), grey: g.greyLitres()}
	for i := g.p.firstFrom(g.p.Today - heldDays + 1); i < len(g.p.entries); i++ {
		e := &g.p.entries[i]
		if e.Day > g.p.Today {
			break
		}
		switch m := book.Moves(*e); {
		case e.Kind == book.Picked:
			b.picks[e.Body.Where] = append(b.picks[e.Body.Where], e.Day)
		case m.What != "" && m.To != "":
			at := given{m.To, m.What}
			b.given[at] = append(b.given[at], e)
			b.moved = append(b.moved, e)
		}
	}
	return b
}

// firstFrom is the place of the first entry of a day or a later one.
func (p *Past) firstFrom(d day.Day) int {
	at, _ := slices.BinarySearchFunc(p.entries, d, func(e book.Entry, d day.Day) int { return cmp.Compare(e.Day, d) })
	return at
}

// given is what the book says went on a plot in the last days, at most heldDays,
// L or kg a m2.
func (g *gatekeeper) given(i int, what string, days day.Day) float64 {
	sum := 0.0
	p := &g.p.end.plots[i]
	for _, e := range g.book.given[given{p.name, what}] {
		if e.Day > g.p.Today-days {
			sum += e.Body.Amount / p.area
		}
	}
	return sum
}

// early lists the pickings from a plot from one day until before another.
func (b *gateBook) early(plot string, from, free day.Day) []day.Day {
	all := b.picks[plot]
	lo, _ := slices.BinarySearch(all, from)
	hi, _ := slices.BinarySearch(all, free)
	if lo == hi {
		return nil
	}
	return slices.Clone(all[lo:hi])
}

// rotted is how many days ago the book last has anything put on the compost, or a
// bin shut.
func (g *gatekeeper) rotted() float64 {
	if g.p.end.compost == nil {
		return math.NaN()
	}
	for i := len(g.p.entries) - 1; i >= 0; i-- {
		if e := &g.p.entries[i]; (e.Kind == book.Fed || e.Kind == book.Closed) && g.isHeap(e.Body.Where) {
			return float64(g.p.Today - e.Day)
		}
	}
	return math.NaN()
}

func (g *gatekeeper) heapProved() bool {
	for _, c := range g.p.Stead.Composts {
		if !fertility.Proved(fertility.Spans(g.spots(c.Name))) {
			return false
		}
	}
	return len(g.p.Stead.Composts) > 0
}

// spots are the readings of a heap in order; one taken at no said hour is noon's.
// A turn is work whose words say so on a day between two readings.
func (g *gatekeeper) spots(name string) []fertility.Spot {
	var out []fertility.Spot
	for i := range g.p.entries {
		if e := &g.p.entries[i]; e.Kind == book.Heat && e.Body.Where == name && e.Day <= g.p.Today {
			out = append(out, fertility.Spot{At: moment(e), TempC: e.Body.Amount})
		}
	}
	if len(out) < 2 {
		return out
	}
	byMoment := func(a fertility.Spot, at float64) int { return cmp.Compare(a.At, at) }
	slices.SortStableFunc(out, func(a, b fertility.Spot) int { return byMoment(a, b.At) })
	for i := g.p.firstFrom(day.Day(out[0].At)); i < len(g.p.entries); i++ {
		e := &g.p.entries[i]
		if float64(e.Day) > out[len(out)-1].At {
			break
		}
		if at := moment(e); turns(e, name) && at > out[0].At {
			if n, _ := slices.BinarySearchFunc(out, at, byMoment); n < len(out) {
				out[n].Turned = true
			}
		}
	}
	return out
}

// moment is when an entry was, in days.
func moment(e *book.Entry) float64 { return float64(e.Day) + hourOf(e.Time)/24 }

// turns tells an entry that a heap was turned: work at compost, or a note, with
// the word, that names no other heap.
func turns(e *book.Entry, heap string) bool {
	if e.Kind != book.Worked && e.Kind != book.Noted {
		return false
	}
	text := strings.ToLower(e.Note + " " + e.Body.What + " " + e.Body.Where)
	return strings.Contains(text, "turned") && (strings.Contains(text, strings.ToLower(heap)) || strings.Contains(text, "compost") || strings.Contains(text, "heap"))
}
