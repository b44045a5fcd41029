package plan

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenstead/engine"
	"evenstead/stead"
)

func loopsAsk(t testing.TB, swap ...string) *Ask {
	t.Helper()
	return ask(reckoning(t, []byte(strings.NewReplacer(swap...).Replace(string(text(t, "testdata/loops.toml")))), "", "", 24, 3))
}

// heats recomputes the heat of each four weeks from what is eaten and put up.
func heats(t failer, p *Plan) {
	t.Helper()
	if !p.years.cooked() {
		return
	}
	x, f, year := p.x(), p.years.frame, p.years.rounds[0].year
	wood, bottle := 0.0, 0.0
	for i, h := range p.Heat {
		asked := year.Other[2*i] + year.Other[2*i+1]
		for k, c := range p.prog.eat {
			if c[i] >= 0 {
				asked += x[c[i]] * f.Foods[k].Heat
			}
		}
		for _, put := range p.prog.put {
			if put.period == i {
				asked += x[put.col] * p.years.ways(put.food)[put.way].Heat
			}
		}
		given := h.Lacks
		for _, fire := range h.Fires {
			given += fire.MJ
			switch fire.Kind {
			case "wood":
				wood += fire.Kg
			case "bottle":
				bottle += fire.Kg
			}
		}
		if math.Abs(asked-h.Asked) > 1e-3 || math.Abs(given-asked) > 1e-3 {
			t.Errorf("period %d: %.4f MJ asked by hand, %.4f told, %.4f given", i, asked, h.Asked, given)
		}
	}
	for _, c := range year.Cookers {
		if burnt := map[string]float64{"wood": wood, "bottle": bottle}[c.Kind]; c.MJ > 0 && burnt > c.Stock+c.PerYear+1e-3 {
			t.Errorf("%.2f kg of %s burned of %.2f", burnt, c.Kind, c.Stock+c.PerYear)
		}
	}
}

// fed recomputes what the chosen sowings are brought, and that the carriers bring it.
func fed(t failer, g *programme, x []float64) {
	t.Helper()
	given := 0.0
	for c, cols := range g.spread {
		share, most := 0.0, 1.0
		for _, col := range cols {
			if col >= 0 {
				share += x[col]
			}
		}
		if g.rounds != nil {
			most = 0
			for i, col := range g.rounds {
				most += x[col] * g.y.brings(&g.y.rounds[i], c)
			}
		}
		if share > most+1e-6 {
			t.Errorf("%s: %.4f of %.4f is spread", engine.Carriers[c], share, most)
		}
		given += share
	}
	for i := range g.y.grounds {
		for k := range nutrients {
			asked, has := -g.y.soil[k]*g.y.grounds[i].area, 0.0
			for j, col := range g.sow {
				if w := &g.y.sowings[j]; w.on == i {
					asked += x[col] * w.own[k]
				}
			}
			asked = max(0, asked)
			for j, col := range g.sow {
				if w := &g.y.sowings[j]; w.on == i && w.fed {
					asked += x[col] * w.gap[k]
				}
			}
			for c, cols := range g.spread {
				if cols[i] >= 0 {
					has += x[cols[i]] * g.y.supply[c][k]
				}
			}
			if asked > has+1e-6 {
				t.Errorf("ground %d asks %.5f kg of %s and is brought %.5f", i, asked, nutrients[k], has)
			}
		}
	}
}

// TestLoopsBalance: what is cooked has its heat, what is fed its feed, by hand, in the
// choice and in the plan as told.
func TestLoopsBalance(t *testing.T) {
	a := loopsAsk(t)
	p := choice(t, a)
	fed(t, p.prog, p.x())
	told := made(t, a)
	balanced(t, told)
	heats(t, told)
	if len(told.Heat) != periods || told.Fetch == nil || len(told.Spread) == 0 {
		t.Errorf("%d periods of heat, fetching %v, %d carriers", len(told.Heat), told.Fetch, len(told.Spread))
	}
}

// TestFetchingIsWorthItsRoad: scraps from next door are fetched, gas being the only
// heat beside a bottle; scraps from far away are not, where wood is plenty and hours are not.
func TestFetchingIsWorthItsRoad(t *testing.T) {
	near := choice(t, loopsAsk(t, `kind = "wood"`+"\nopen_fire = true", `kind = "sun"`, `stock = "100 kg"`, `stock = "0 kg"`, "distance = \"2 km\"", `distance = "0.1 km"`))
	if kg := near.prog.fetch(near.x()); kg != 1.2 {
		t.Errorf("%.1f kg a day are fetched from next door", kg)
	}
	far := choice(t, loopsAsk(t, `stock = "100 kg"`, `stock = "2000 kg"`, `per_year = "60 kg"`, `per_year = "1500 kg"`, "open_fire = true\n", "",
		"distance = \"2 km\"", `distance = "150 km"`, "hours_week = 30", "hours_week = 12"))
	if kg := far.prog.fetch(far.x()); kg != 0 {
		t.Errorf("%.1f kg a day are fetched from 150 km away", kg)
	}
}

func choice(t testing.TB, a *Ask) *Plan {
	t.Helper()
	y, err := a.look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	p := &Plan{years: y.without(nil), Risk: y.risk}
	if err := p.choose(context.Background(), y, nil); err != nil {
		t.Fatal(err)
	}
	return p
}

// TestColdPots: where nothing burns and the sun is all there is, heat is told to lack,
// and more of a fuel that there is a cooker for is worth something.
func TestColdPots(t *testing.T) {
	a := loopsAsk(t, `stock = "100 kg"`, `stock = "1 kg"`, `per_year = "60 kg"`, `per_year = "0 kg"`, `stock = "6 kg"`, `stock = "0 kg"`,
		`kind = "biogas"`, `kind = "sun"`)
	p := made(t, a)
	lacks := 0.0
	for _, h := range p.Heat {
		lacks += h.Lacks
	}
	if lacks < 100 {
		t.Errorf("%.0f MJ of heat lack in a year", lacks)
	}
	heats(t, p)
	if err := p.Worth(context.Background()); err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(p.Limits, func(l Limit) bool { return l.Name == "firewood" && l.Worth > 1 }) {
		t.Errorf("no firewood among %v", p.Limits)
	}
}

// TestPlannedLoopsAreDescribed: what a plan runs otherwise stands in its description,
// which reads back and runs as the plan was realised.
func TestPlannedLoopsAreDescribed(t *testing.T) {
	a := loopsAsk(t)
	p := made(t, a)
	p.loops = loops{0.6, []Spreading{{What: "urine", To: []string{"west 2"}, Other: true}, {What: "digestate", To: []string{"apples", "west 1"}, Other: true},
		{What: "compost", To: []string{"east"}, Other: true}}}
	p.st = p.withPlantings(a.Stead, a.Tables)
	text, err := p.Text()
	if err != nil {
		t.Fatal(err)
	}
	st, err := stead.Read("planned.toml", text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	d, h := st.Digesters[0], st.Hauls[0]
	if d.Fetched != 0.6 || math.Abs(d.Feed-1.4) > 1e-9 || math.Abs(h.Trips-52) > 1e-9 {
		t.Errorf("fed %g kg, fetched %g in %g trips", d.Feed, d.Fetched, h.Trips)
	}
	if got := fmt.Sprint(st.Toilets[0].UrineTo, d.To, st.Composts[0].To); got != "[west 2] [apples west 1] [east]" {
		t.Errorf("spread to %s", got)
	}
	if a.Stead.Digesters[0].Fetched != 1.2 || bytes.Contains(text, []byte("NaN")) {
		t.Error("the stead asked for was changed")
	}
}

// TestHungriest: the beds chosen have most of what is lacking, and none of them could
// be left out.
func TestHungriest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st, lacks, all := &stead.Stead{}, map[int]float64{}, 0.0
		var beds []int
		for b := range rapid.IntRange(1, 20).Draw(t, "beds") {
			st.Beds = append(st.Beds, stead.Bed{Area: rapid.Float64Range(1, 50).Draw(t, "area")})
			lacks[b] = rapid.Float64Range(0, 3).Draw(t, "lacks")
			beds, all = append(beds, b), all+lacks[b]
		}
		had, least := 0.0, math.Inf(1)
		chosen := hungriest(beds, st, lacks)
		for _, b := range chosen {
			had, least = had+lacks[b], min(least, lacks[b]/st.Beds[b].Area)
		}
		if had < mostLack*all*(1-1e-9) {
			t.Fatalf("%v have %g of %g", chosen, had, all)
		}
		for b := range st.Beds {
			if !slices.Contains(chosen, b) && lacks[b]/st.Beds[b].Area > least {
				t.Fatalf("bed %d lacks more a square metre than one that was chosen", b)
			}
		}
	})
}

func TestPlacesAreToldShort(t *testing.T) {
	for _, c := range []struct{ to, want string }{
		{"B1 B2 B3 B4 B7", "B1 – B4, B7"},
		{"B1 B2 C3", "B1, B2, C3"},
		{"apples east B9 B10 B11", "apples, east, B9 – B11"},
		{"", ""},
	} {
		s := Spreading{To: strings.Fields(c.to)}
		if got := strings.Join(s.Places(), ", "); got != c.want {
			t.Errorf("%s: %s, want %s", c.to, got, c.want)
		}
	}
}
