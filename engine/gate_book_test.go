package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/day"

	"pgregory.net/rapid"
)

// gateLines are entries that some gate asks the book of.
var gateLines = []string{"spread 4 L urine on salad", "spread 6 L urine on grain", "spread 1 kg ash on grain", "spread 5 kg compost on bare", "picked 1 kg lettuce, salad",
	"picked 2 kg figs, figs", "fed bin 3 kg leaves", "closed bin", "closed drum 2", "heat 58 C in bin", "heat 61 C in bin", "worked 1 h turned the compost", "note: turned the bin", "note: frost"}

// TestGatesReadTheBook holds what the gates find in one reading of the book to
// plain searches of it, on books at random.
func TestGatesReadTheBook(t *testing.T) {
	r := gated(t, "40", "2026-11-03", "")
	today := r.st.Stay.From + 500
	rapid.Check(t, func(rt *rapid.T) {
		var text []string
		for range rapid.IntRange(0, 25).Draw(rt, "entries") {
			back := rapid.IntRange(0, 40).Draw(rt, "day") * rapid.SampledFrom([]int{1, 12}).Draw(rt, "pace")
			text = append(text, fmt.Sprintf("%s on %s", rapid.SampledFrom(gateLines).Draw(rt, "line"), today-day.Day(back)))
		}
		p := r.replay(t, today, notes(t, r, today, strings.Join(text, "\n")))
		g, err := p.gatekeeper()
		if err != nil {
			rt.Fatal(err)
		}
		for i := range p.end.plots {
			for _, what := range []string{"urine", "ash", "compost"} {
				for _, days := range []day.Day{season, 365} {
					if got, want := g.given(i, what, days), plainGiven(g, i, what, days); got != want {
						rt.Errorf("%s on %s: %g, want %g", what, p.end.plots[i].name, got, want)
					}
				}
			}
		}
		if got, want := g.book.rotted, plainRotted(g); got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			rt.Errorf("rotted %g days, want %g", got, want)
		}
		spots := g.spots("bin")
		for i := 1; i < len(spots); i++ {
			turned := slices.ContainsFunc(p.entries, func(e book.Entry) bool {
				return turns(&e, "bin") && moment(&e) > spots[i-1].At && moment(&e) <= spots[i].At
			})
			if spots[i].Turned != turned {
				rt.Errorf("reading %d: turned %v, want %v", i, spots[i].Turned, turned)
			}
		}
		for _, h := range g.heldAll() {
			early := 0
			for _, e := range p.entries {
				if e.Kind == book.Picked && e.Body.Where == h.Plot && e.Day >= h.On && e.Day < h.Free {
					early++
				}
			}
			if len(h.Early) != early {
				rt.Errorf("%s: %d pickings too soon, want %d", h.Plot, len(h.Early), early)
			}
		}
	})
}

func plainGiven(g *gatekeeper, i int, what string, days day.Day) (sum float64) {
	p := &g.p.end.plots[i]
	for _, e := range g.p.entries {
		if m := book.Moves(e); m.What == what && m.To == p.name && e.Day > g.p.Today-days {
			sum += e.Body.Amount / p.area
		}
	}
	return sum
}

func plainRotted(g *gatekeeper) float64 {
	last := math.NaN()
	for _, e := range g.p.entries {
		if (e.Kind == book.Fed || e.Kind == book.Closed) && g.isHeap(e.Body.Where) {
			last = float64(g.p.Today - e.Day)
		}
	}
	return last
}
