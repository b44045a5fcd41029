package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"

	"pgregory.net/rapid"
)

// TestEveryNodeBalances walks the demo day by day: for every material and every
// store of the stead, what came in less what went out is what it gained.
func TestEveryNodeBalances(t *testing.T) {
	r := readyDemo(t, 3, 365)
	m := r.model(t)
	run := newRunner(m)
	for i, w := range r.ens.Members {
		run.begin(i, w)
		checkDays(t, run)
	}
}

// TestBalanceHoldsWithLoopsAway: taking a loop or limit away books its own flows.
func TestBalanceHoldsWithLoopsAway(t *testing.T) {
	r := readyDemo(t, 1, 200)
	for i, w := range withoutNames {
		t.Run(w.id, func(t *testing.T) {
			with := r
			with.opt.Without = 1 << i
			run := newRunner(with.model(t))
			run.begin(0, r.ens.Members[0])
			checkDays(t, run)
		})
	}
}

type failer interface {
	Fatalf(format string, args ...any)
}

// checkDays steps a runner to its end and checks the balance every day.
func checkDays(t failer, run *runner) {
	m := run.m
	before := m.stocks(run.s)
	for d := range m.days {
		run.step(d)
		if !run.s.sound() {
			t.Fatalf("%s: a stock is below zero or not a number", m.start+day.Day(d))
		}
		now := m.stocks(run.s)
		for mat := range materials {
			for n := node(0); n < nodes; n++ {
				if n.outside() {
					continue
				}
				gained := now[mat][n] - before[mat][n]
				scale := 1 + math.Abs(before[mat][n]) + run.s.led.through(mat, n)
				if diff := gained - run.s.led.net(mat, n); math.Abs(diff) > 1e-9*scale {
					t.Fatalf("%s: %s of %s is out by %g: gained %g, booked %g", m.start+day.Day(d),
						materialNames[mat], nodeNames[n], diff, gained, run.s.led.net(mat, n))
				}
			}
		}
		for g, level := range run.s.level {
			if level > m.groups[g].holds*(1+1e-12) {
				t.Fatalf("%s: tank group %s stands above its brim: %g of %g L", m.start+day.Day(d), m.groups[g].name, level, m.groups[g].holds)
			}
		}
		for i, p := range m.plots {
			if run.s.top[i] > p.t1+1e-9 || run.s.sub[i] > p.t2+1e-9 {
				t.Fatalf("%s: plot %s is drier than its available water", m.start+day.Day(d), p.name)
			}
		}
	}
}

// Parts that a drawn stead may have or not.
const (
	loopParts = `
[[digester]]
liquid = "700 L"
bag = "300 L"
feed = "2 kg/day"
fetched = "1 kg/day"
[[toilet]]
drums = 3
drum = "60 L"
urine_cans = "20 L"
[[cooker]]
kind = "sun"
[[cooker]]
kind = "biogas"
[[cooker]]
kind = "wood"
[[fuel]]
kind = "wood"
stock = "50 kg"
`
	henPart = `
[[flock]]
count = 4
`
	beePart = `
[[hive]]
count = 2
`
	storePart = `
[[freezer]]
name = "f"
holds = "60 L"
outages_year = 20
[[lot]]
food = "carrot"
form = "frozen"
mass = "10 kg"
[[lot]]
food = "apple"
mass = "40 kg"
`
)

// TestRandomSteadsBalance draws steads and weathers and checks that every
// material balances and that nothing is harvested from a dead stand.
func TestRandomSteadsBalance(t *testing.T) {
	tab := load(t)
	rapid.Check(t, func(t *rapid.T) {
		r := drawnStead(t, tab)
		m, err := Prepare(r.st, tab, r.opt)
		if err != nil {
			return // a sowing the frost kills is refused, and rightly
		}
		run := newRunner(m)
		run.beds = newBedBook(m)
		run.begin(0, r.ens.Members[0])
		ground := m.stocksOf(run.s)
		dead := make(map[int]float64)
		before := m.stocks(run.s)
		for d := range m.days {
			run.step(d)
			for q := range run.s.crop {
				if kg, was := dead[q]; was && run.s.crop[q].kg != kg {
					t.Fatalf("stand %d gave %g kg after its end", q, run.s.crop[q].kg-kg)
				}
				if c, g := &run.s.crop[q], &m.plantings[q]; c.seed > c.kg || c.seed > g.seed*(1+1e-12) || g.seed > 0 && !r.st.Terms.KeepSeed {
					t.Fatalf("stand %d set %g kg aside of %g, to sow %g", q, c.seed, c.kg, g.seed)
				}
				if run.s.crop[q].done {
					dead[q] = run.s.crop[q].kg
				}
			}
		}
		now := m.stocks(run.s)
		adds(t, m.ledgers(run.s, run.beds, ground, m.start, m.start+day.Day(m.days)))
		for mat := range materials {
			for n := atTanks; n < nodes; n++ {
				scale := 1 + run.s.led.through(mat, n) + math.Abs(before[mat][n])
				if diff := now[mat][n] - before[mat][n] - run.s.led.net(mat, n); math.Abs(diff) > 1e-9*scale {
					t.Fatalf("%s of %s is out by %g", materialNames[mat], nodeNames[n], diff)
				}
			}
		}
	})
}

// drawnStead draws a stead of a few beds, with or without its loops, and a weather.
func drawnStead(t *rapid.T, tab *data.Tables) ready {
	crops := []string{"potato", "kale", "wheat_winter", "tomato", "dry_bean", "carrot", "winter_squash", "sweet_potato", "peanut", "chickpea"}
	text := fmt.Sprintf("[place]\nlatitude = %d\n[stay]\nfrom = 2026-%02d-01\n", rapid.IntRange(-55, 55).Draw(t, "latitude"), rapid.IntRange(1, 12).Draw(t, "month"))
	text += fmt.Sprintf("[terms]\nkeep_seed = %t\n", rapid.Bool().Draw(t, "keep seed"))
	text += fmt.Sprintf("[[person]]\nname = \"A\"\nsex = \"female\"\nage = %d\n", rapid.IntRange(2, 80).Draw(t, "age"))
	text += fmt.Sprintf("[[roof]]\nname = \"r\"\narea = \"%d m2\"\n", rapid.IntRange(5, 200).Draw(t, "roof"))
	text += fmt.Sprintf("[[tank]]\nname = \"t\"\nholds = \"%d L\"\n", rapid.IntRange(50, 20000).Draw(t, "tank"))
	for i := range rapid.IntRange(1, 4).Draw(t, "beds") {
		text += fmt.Sprintf("[[bed]]\nname = \"b%d\"\narea = \"%d m2\"\n", i, rapid.IntRange(2, 80).Draw(t, "area"))
		text += fmt.Sprintf("[[planting]]\nbed = \"b%d\"\ncrop = %q\nsow = \"%d May\"\n", i, rapid.SampledFrom(crops).Draw(t, "crop"), rapid.IntRange(1, 28).Draw(t, "dom"))
	}
	for _, part := range []string{loopParts, henPart, beePart, storePart} {
		if rapid.Bool().Draw(t, "part") {
			text += part
		}
	}
	st, err := stead.Read("drawn", []byte(text))
	if err != nil {
		t.Fatalf("read: %v\n%s", err, text)
	}
	r := drawnReady(t, st, tab, rapid.Uint64().Draw(t, "seed"))
	r.opt.Climate = r.ens.Climate()
	return r
}

// TestSameSeedSameBytes: one worker or many, the outlook is the same to the byte.
func TestSameSeedSameBytes(t *testing.T) {
	r := readyDemo(t, 24, 120)
	var first []byte
	for _, workers := range []int{1, 2, 7} {
		r.opt.Workers = workers
		text, err := json.Marshal(r.run(t))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = text
		} else if string(first) != string(text) {
			t.Fatalf("%d workers gave another outlook than one", workers)
		}
	}
}

// TestStepAllocatesNothing: a day of the demo makes no garbage.
func TestStepAllocatesNothing(t *testing.T) {
	r := readyDemo(t, 1, 60)
	run := newRunner(r.model(t))
	run.begin(0, r.ens.Members[0])
	d := 0
	if n := testing.AllocsPerRun(40, func() { run.step(d); d++ }); n != 0 {
		t.Fatalf("a step allocates %g times", n)
	}
}

// TestLongerStopIsAnError: a run whose context ends gives no half outlook.
func TestLongerStopIsAnError(t *testing.T) {
	r := readyDemo(t, 8, 60)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.model(t).Run(ctx, r.ens, r.opt); err == nil {
		t.Fatal("a stopped run gave a result")
	}
}
