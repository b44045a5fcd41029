package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/demo"
	"evenstead/stead"
	"evenstead/weather"
)

const seattleFile = "../../weather/testdata/seattle-weather.csv"

// waterStead is a house tank that spills into a garden tank.
const waterStead = `
place.latitude = 47.5
people = 2
stay.from = 2026-07-01

[[tank]]
name = "garden"
holds = "3000 L"
level = "2000 L"

[[tank]]
name = "east"
group = "house"
holds = "1000 L"
dead = "40 L"
level = "900 L"
overflow = "garden"

[[tank]]
name = "west"
group = "house"
holds = "1000 L"
dead = "40 L"
level = "900 L"
overflow = "garden"

[[roof]]
name = "shed"
area = "20 m2"
to = "garden"

[[roof]]
name = "house"
area = "60 m2"
coefficient = "90 %"
first_flush = "24 L"
to = "west"

[[use]]
name = "drinking"
kind = "drinking"
per_person = "3 L/day"
from = "house"

[[use]]
name = "washing"
per_person = "20 L/day"
least = "5 L/day"
from = "house"

[[use]]
name = "buckets"
kind = "soil"
per_day = "10 L/day"
from = "garden"
`

func waterJSON(t *testing.T, text string, words ...string) waterSheet {
	t.Helper()
	name := filepath.Join(t.TempDir(), "my.toml")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := said(t, append([]string{"water", name, "--json"}, words...)...)
	if status != ok {
		t.Fatalf("status %d: %s", status, errs)
	}
	var s waterSheet
	dec := json.NewDecoder(strings.NewReader(out))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&s); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestWaterKeepsEveryLitre: what comes in to a group is drawn or spilt, but for
// what the tanks hold over.
func TestWaterKeepsEveryLitre(t *testing.T) {
	s := waterJSON(t, waterStead, "--weather", seattleFile)
	if len(s.Groups) != 2 || s.Groups[0].Name != "garden" || s.Years != 4 || s.People != 2 {
		t.Fatalf("got %+v", s)
	}
	for _, g := range s.Groups {
		drawn := g.Asked * g.Rv * 365.25
		if d := math.Abs(g.Mean - drawn - g.Spilt); d > g.Holds/float64(s.Years) {
			t.Errorf("%s: %.0f L in, %.0f drawn, %.0f spilt", g.Name, g.Mean, drawn, g.Spilt)
		}
	}
	garden, house := s.Groups[0], s.Groups[1]
	if math.Abs(garden.Piped-house.Spilt) > 1e-6 || garden.Piped == 0 {
		t.Errorf("the house spills %.1f L a year and the garden is sent %.1f", house.Spilt, garden.Piped)
	}
	if house.Holds != 2000 || house.Dead != 80 || house.Level != 1800 || house.Asked != 46 || house.Roofs[0].Flush != 24 || garden.Roofs[0].Flush != 10 {
		t.Errorf("the house was read as %+v", house)
	}
}

// TestWaterSheetAgreesWithItself compares figures that are told twice.
func TestWaterSheetAgreesWithItself(t *testing.T) {
	for _, g := range waterJSON(t, waterStead, "--weather", seattleFile).Groups {
		if met := g.Met[2][stepsOfGroup-1]; met != g.Rt || g.Demands[2] != g.Asked || g.Volumes[stepsOfGroup-1] != g.Holds {
			t.Errorf("%s: %g of days in the table, %g as it stands", g.Name, met, g.Rt)
		}
		months := 0.0
		for _, d := range g.ByMonth {
			months += d
		}
		if math.Abs(months-(1-g.Rt)*365.25) > 0.01 {
			t.Errorf("%s: %.2f short days a year by month, %.2f by share", g.Name, months, (1-g.Rt)*365.25)
		}
		for _, n := range g.Needed {
			if n.For[0] == nil || n.For[1] == nil || n.For[2] == nil || *n.For[0] > *n.For[1] || *n.For[1] > *n.For[2] {
				t.Errorf("%s: volumes needed fall with the share: %v", g.Name, n)
			}
		}
		if *g.Needed[2].NoFail != *g.NoFail || g.RtBefore < g.Rt || g.RvBefore < g.Rv {
			t.Errorf("%s: %+v", g.Name, g)
		}
	}
}

func TestWaterLadder(t *testing.T) {
	s := waterJSON(t, waterStead, "--weather", seattleFile)
	garden, house := s.Groups[0].Ladder, s.Groups[1].Ladder
	if len(house) != 2 || house[0].Asks != 46 || house[1].Cut != "washing" || house[1].To != 10 || house[1].Asks != 16 {
		t.Errorf("the house: %+v", house)
	}
	if got, want := *house[0].Dry, 1720./46; math.Abs(got-want) > 1e-9 {
		t.Errorf("the house lasts %.2f days without rain, want %.2f", got, want)
	}
	if house[0].Poor < *house[0].Dry-1 || house[1].Poor < house[0].Poor {
		t.Errorf("with rain it lasts no longer: %+v", house)
	}
	if last := garden[len(garden)-1]; last.Cut != "buckets" || last.Asks != 0 || last.Dry != nil || last.Poor != 365 {
		t.Errorf("the garden with nothing asked: %+v", last)
	}
}

func TestWaterWorth(t *testing.T) {
	g := waterJSON(t, waterStead, "--weather", seattleFile).Groups[1]
	if len(g.Worth) != 4 {
		t.Fatalf("%+v", g.Worth)
	}
	for _, w := range g.Worth {
		if w.Days <= 0 || w.Litres <= 0 {
			t.Errorf("%s is worth nothing to a tank that fails: %+v", w.Change, w)
		}
	}
	if barrel, tote := g.Worth[0], g.Worth[1]; tote.Days < barrel.Days || tote.Litres < barrel.Litres {
		t.Errorf("a tote is worth less than a barrel: %+v, %+v", tote, barrel)
	}
}

// TestWaterOfTheDemo reads the demo's two groups with its monthly means.
func TestWaterOfTheDemo(t *testing.T) {
	status, out, errs := said(t, "water", demoFile(t))
	if status != ok {
		t.Fatalf("status %d: %s", status, errs)
	}
	for _, want := range []string{"barn: 3 tanks", "cabin: 4 tanks", "another group's overflow", "never short in the record", "laundry stopped", "shower to 10 L/day",
		"hands, face, teeth to 4 L/day", "100 years made from the monthly means"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q in:\n%s", want, out)
		}
	}
	for _, never := range []string{"drinking stopped", "cooking stopped", "hens, hives, crocks stopped", "NaN", "Inf", "compost"} {
		if strings.Contains(out, never) {
			t.Errorf("the sheet says %q", never)
		}
	}
	if _, again, _ := said(t, "water", demoFile(t)); again != out {
		t.Error("the same seed gives another sheet")
	}
	if _, other, _ := said(t, "water", demoFile(t), "--seed", "2"); other == out {
		t.Error("another seed gives the same sheet")
	}
}

// TestWaterOfAGroupWithoutUses tells what comes and stops there; one that asks more
// than falls is told that no volume will do.
func TestWaterOfAGroupWithoutUses(t *testing.T) {
	text := strings.NewReplacer(`from = "garden"`, `from = "house"`, `"20 L/day"`, `"200 L/day"`).Replace(waterStead)
	s := waterJSON(t, text, "--weather", seattleFile)
	if g := s.Groups[0]; g.Asked != 0 || g.Mean == 0 || g.Met != nil || g.Ladder != nil {
		t.Errorf("the garden: %+v", g)
	}
	if g := s.Groups[1]; g.NoFail != nil || g.Needed[2].For[0] != nil || g.Rt > 0.5 {
		t.Errorf("the house, asked for three times its rain: %+v", g)
	}
	name := filepath.Join(t.TempDir(), "my.toml")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	_, out, _ := said(t, "water", name, "--weather", seattleFile)
	for _, want := range []string{"no use draws on it", "no volume would: less comes in than is asked"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q in:\n%s", want, out)
		}
	}
}

// TestPastLeavesOutBrokenYears keeps whole calendar years, and evaporation only
// where a tank is open.
func TestPastLeavesOutBrokenYears(t *testing.T) {
	rec := &weather.Record{Start: day.Of(2019, 12, 1), Lat: 40}
	for range 31 + 366 + 365 + 365 + 10 {
		rec.Rain, rec.TMin, rec.TMax = append(rec.Rain, 1), append(rec.TMin, 5), append(rec.TMax, 15)
	}
	rec.Rain[31+366+100] = math.NaN() // in 2021
	p, err := pastOf(rec, weather.Site{Lat: 40}, false)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.first) != 2 || p.first[1] != 366 || len(p.rain) != 366+365 || p.et0 != nil {
		t.Errorf("years begin at %v of %d days", p.first, len(p.rain))
	}
	if sums := p.years(p.rain); sums[0] != 366 || sums[1] != 365 {
		t.Errorf("years of %v mm", sums)
	}
	rec.TMin[40] = math.NaN() // in 2020
	if p, err = pastOf(rec, weather.Site{Lat: 40}, true); err != nil || len(p.first) != 1 || len(p.et0) != 365 || p.et0[180] < 2 {
		t.Errorf("with an open tank: %v, %v", p, err)
	}
	rec.Rain = rec.Rain[:300]
	rec.TMin, rec.TMax = rec.TMin[:300], rec.TMax[:300]
	if _, err := pastOf(rec, weather.Site{}, false); err == nil || !strings.Contains(err.Error(), "no whole calendar year") {
		t.Errorf("ten months: %v", err)
	}
}

// TestWaterOpensToTheAir: an open tank serves fewer days than a lidded one.
func TestWaterOpensToTheAir(t *testing.T) {
	open := strings.Replace(waterStead, `dead = "40 L"`, "dead = \"40 L\"\nopen = \"1 m2\"", 1)
	lidded, aired := waterJSON(t, waterStead, "--weather", seattleFile).Groups[1], waterJSON(t, open, "--weather", seattleFile).Groups[1]
	if aired.Rt >= lidded.Rt || *aired.NoFail <= *lidded.NoFail || *aired.FromFull >= *lidded.FromFull {
		t.Errorf("open %+v, lidded %+v", aired, lidded)
	}
}

func TestWaterCautionsAreAboutWater(t *testing.T) {
	st, err := stead.Read("my.toml", []byte(waterStead))
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(waterCautions(st), "\n")
	for _, want := range []string{"Local codes", "not fit to drink as caught", "lead flashing", "1.6 mm", "light", "first half millimetre", "overflow"} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing is said of %q", want)
		}
	}
	if n := strings.Count(all, "1.6 mm"); n != 1 {
		t.Errorf("the mesh is told %d times", n)
	}
	open, err := stead.Read("my.toml", []byte(strings.Replace(waterStead, `dead = "40 L"`, `open = "1 m2"`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(strings.Join(waterCautions(open), "\n"), "1.6 mm"); n != 1 {
		t.Errorf("with an open tank the mesh is told %d times", n)
	}
}

func TestBlocks(t *testing.T) {
	if got := blocks([]float64{0, 0.49, 0.5, 0.69, 0.7, 0.8, 0.9, 0.95, 0.98, 0.999, 1}); got != "  ▁▂▃▄▅▆▇▇█" {
		t.Errorf("drawn as %q", got)
	}
	if percent(0.99999) != "99.9 %" || percent(1) != "100 %" || percent(0.5) != "50.0 %" {
		t.Error("shares near whole are told as whole")
	}
}

// TestBedsAskAfterTheHouse: with the beds the barn serves fewer days than without,
// more store serves more, and the beds of the dry months ask most.
func TestBedsAskAfterTheHouse(t *testing.T) {
	q := request{name: "quernfold.toml", text: demo.Quernfold(), members: madeYears, days: 365, seed: 1}
	sheet, err := q.sizing(time.Now)
	if err != nil {
		t.Fatal(err)
	}
	barn, cabin := sheet.Groups[0], sheet.Groups[1]
	if barn.Beds == nil || cabin.Beds != nil {
		t.Fatalf("beds draw on the barn alone: %+v, %+v", barn.Beds, cabin.Beds)
	}
	b := barn.Beds
	if b.Asked < 20_000 || b.Asked > 300_000 || b.Month < 5 || b.Month > 9 {
		t.Errorf("the beds ask %.0f L a year, most in month %d", b.Asked, b.Month)
	}
	if b.Rt >= barn.Rt {
		t.Errorf("house and beds are met on %.3f of the days, the house alone on %.3f", b.Rt, barn.Rt)
	}
	for _, w := range b.Worth {
		if !(w.Litres > 0) {
			t.Errorf("%s brings %.1f L", w.Change, w.Litres)
		}
	}
}
