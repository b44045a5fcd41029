package engine

import (
	"testing"

	"evenstead/day"
	"evenstead/fertility"
	"evenstead/stead"
)

// spreadDeed is the gate that stands before what the engine spreads.
var spreadDeed = [spreadings]fertility.Deed{ofUrine: fertility.SpreadUrine, ofDigestate: fertility.SpreadDigestate, ofCompost: fertility.SpreadCompost}

// gateSays asks the gate itself about a plot on a day of a run: what stands there,
// else what comes next.
func gateSays(t *testing.T, run *runner, rules fertility.Rulebook, r ready, p, what int) bool {
	t.Helper()
	m := run.m
	today := m.start + day.Day(run.day)
	ask := func(q int) bool {
		g := &m.plantings[q]
		a := fertility.Act{Deed: spreadDeed[what], Today: today, Kind: kindOf(r.tab, g.crop.ID), Harvest: today + day.Day(run.untilPicked(q)),
			Covered: true, Season: leastDose, Water: r.st.Toilets[0].Dilution, Rotted: -1}
		return rules.Gate(a).Allowed
	}
	standing := false
	for q := m.plots[p].first; q < m.plots[p].last; q++ {
		if run.stands(q) {
			standing = true
			if !ask(q) {
				return false
			}
		}
	}
	if standing {
		return true
	}
	for q := m.plots[p].first; q < m.plots[p].last; q++ {
		if m.plantings[q].sow > run.day {
			return ask(q)
		}
	}
	return true
}

// everySpreading steps two years of the demo and holds each thing that is spread to
// its gate, and urine to what is picked after it and to its season.
func everySpreading(t *testing.T, r ready) (urine float64) {
	m := r.model(t)
	rules, err := rulesOf(r.st, r.tab)
	if err != nil {
		t.Fatal(err)
	}
	wait, _ := rules.Limit("urine_withhold")
	most, _ := rules.Limit("urine_max")
	run := newRunner(m)
	run.begin(0, r.ens.Members[0])
	last := make([]int, len(m.plots)) // the day of the latest urine
	given := make([][]float64, len(m.plots))
	picked := make([]float64, len(m.plantings)) // each day before anything is spread
	for p := range last {
		last[p] = -1000
	}
	before := make([]float64, len(m.plots))
	for d := range m.days {
		for p := range m.plots {
			before[p] = 0
			if d%urineSpell != 0 {
				before[p] = run.s.poured[p][0]
			}
		}
		run.step(d)
		for p := range m.plots {
			dose := run.s.poured[p][0] - before[p]
			given[p] = append(given[p], dose/m.plots[p].area)
			sum := 0.0
			for i := max(0, d-season+1); i <= d; i++ {
				sum += given[p][i]
			}
			if sum > most.Value*(1+1e-9) {
				t.Fatalf("%s: %s had %.3g L/m2 of urine in a season, at most %g", m.start+day.Day(d), m.plots[p].name, sum, most.Value)
			}
			if dose > 0 {
				last[p] = d
				urine += dose
			}
			for what := range spreadings {
				if run.may(p, what) && !gateSays(t, run, rules, r, p, what) {
					t.Fatalf("%s: %s: %s is let through against its gate", m.start+day.Day(d), m.plots[p].name, spreadDeed[what])
				}
			}
		}
		for q := range m.plantings {
			p := m.plantings[q].plot
			if kg := run.s.crop[q].kg; kg > picked[q] {
				picked[q] = kg
				if ago := d - last[p]; ago > 0 && ago < int(wait.Value) && m.plantings[q].sow <= last[p] {
					t.Fatalf("%s: %s picked on %s %d days after urine, at least %g", m.start+day.Day(d), m.plantings[q].crop.Name, m.plots[p].name, ago, wait.Value)
				}
			}
		}
	}
	return urine
}

func TestSpreadingObeysItsGates(t *testing.T) {
	usual := everySpreading(t, readyDemo(t, 1, 730))
	if usual == 0 {
		t.Fatal("no urine is spread at all: nothing is tested")
	}
	strict := readyDemo(t, 1, 730)
	strict.st.Rules = []stead.Rule{{Kind: "urine_wait", Value: 60, Text: "two months here", Source: "county"}, {Kind: "urine_most", Value: 0.5, Text: "half", Source: "county"}}
	if got := everySpreading(t, strict); got >= usual {
		t.Errorf("a stricter rule let %.0f L go on the ground, the published one %.0f", got, usual)
	}
	none := readyDemo(t, 1, 400)
	none.st.Rules = []stead.Rule{{Kind: "no_urine", Text: "none", Source: "lease"}}
	if got := everySpreading(t, none); got != 0 {
		t.Errorf("%.0f L went on the ground where it is forbidden", got)
	}
}

// The wait of each thing is just what its gate asks: a day less is refused.
func TestWaitsAreTheGates(t *testing.T) {
	r := readyDemo(t, 1, 60)
	m := r.model(t)
	b := &builder{st: r.st, tab: r.tab, m: m}
	rules, err := rulesOf(r.st, r.tab)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range r.tab.Crops {
		w := b.waitsOf(rules, &c)
		for what, deed := range spreadDeed {
			on := day.Of(2027, 5, 1)
			for _, extra := range []int{-1, 0, 1} {
				a := fertility.Act{Deed: deed, Today: on, Kind: kindOf(r.tab, c.ID), Covered: true, Season: leastDose, Water: 10, Rotted: -1}
				a.Harvest = on + day.Day(int(w[what])+extra)
				want := extra >= 0
				switch {
				case w[what] == never:
					a.Harvest, want = on+5000, false
				case w[what] == 0:
					a.Harvest, want = on, true
				}
				if got := rules.Gate(a).Allowed; got != want {
					t.Errorf("%s, %s: wait %d, harvest in %d days: the gate says %v", c.ID, deed, w[what], a.Harvest-on, got)
				}
			}
		}
	}
}

// A drum is dug in on the day its gate opens, also over a leap year.
func TestDrumsWaitByTheCalendar(t *testing.T) {
	p := &toiletPlan{cureYears: 2}
	for _, closed := range []day.Day{day.Of(2026, 3, 1), day.Of(2027, 2, 28), day.Of(2027, 6, 1), day.Of(2028, 2, 29)} {
		r := &runner{m: &Model{toilet: p, start: day.Of(2026, 1, 1)}}
		d := &drumState{closed: int(closed - r.m.start)}
		free := fertility.DrumReady(closed, 2)
		for _, c := range []struct {
			on   day.Day
			want bool
		}{{free - 1, false}, {free, true}, {free + 1, true}} {
			r.day = int(c.on - r.m.start)
			if got := r.cured(d); got != c.want {
				t.Errorf("closed %s, on %s: open %v, the gate's first day is %s", closed, c.on, got, free)
			}
		}
	}
}
