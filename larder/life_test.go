package larder

import (
	"math"
	"slices"
	"testing"

	"evenstead/data"

	"pgregory.net/rapid"
)

func band(form string, lo, hi, daysLo, daysHi float64) data.Keeping {
	return data.Keeping{Form: form, TempLo: lo, TempHi: hi, DaysLo: daysLo, DaysHi: daysHi}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %g, want %g ± %g", what, got, want, tol)
	}
}

func TestLifeReadsRows(t *testing.T) {
	cabbage := []data.Keeping{band(Fresh, 0, 0, 84, 112), band(Fresh, 8, 14, 42, 56), band(Fresh, 18, 22, 16, 25)}
	near(t, "in a band, geometric mean", Life(cabbage, 10), math.Sqrt(42*56), 1e-9)
	near(t, "flat across a band", Life(cabbage, 8)-Life(cabbage, 14), 0, 1e-9)
	near(t, "between bands, log line", Life(cabbage, 16), math.Sqrt(math.Sqrt(42*56)*20), 1e-9)
	near(t, "warmer, Q10 2.5", Life(cabbage, 32), 20/2.5, 1e-9)
	near(t, "colder, no gain", Life(cabbage, -5), Life(cabbage, 0), 1e-9)
	near(t, "order of rows does not matter", Life([]data.Keeping{cabbage[2], cabbage[0], cabbage[1]}, 16), Life(cabbage, 16), 1e-12)
}

func TestLifeKeepsChillingInjury(t *testing.T) {
	cucumber := []data.Keeping{band(Fresh, 4, 4, 4, 6), band(Fresh, 10, 12.8, 14, 28)}
	if cold, mild := Life(cucumber, 4), Life(cucumber, 11); cold >= mild {
		t.Errorf("chilled %g days, mild %g: the cold row was lost", cold, mild)
	}
}

func TestLifeAverages(t *testing.T) {
	two := []data.Keeping{row(Dry, 10, 100), row(Dry, 10, 400)}
	near(t, "sources that overlap", Life(two, 10), 200, 1e-9)
	near(t, "sources that end together", Life(two, 20), 100, 1e-9)
}

func TestLifeFrozen(t *testing.T) {
	rows := []data.Keeping{row(Frozen, -18, 300)}
	near(t, "at the set point", Life(rows, -18), 300, 1e-9)
	near(t, "colder", Life(rows, -25), 300, 1e-9)
	near(t, "at -10", Life(rows, -10), 300*math.Pow(3, -0.8), 1e-9)
	if got := Life(rows, -9.9); got != 0 {
		t.Errorf("thawed food has a life of %g days", got)
	}
	near(t, "grain in a frosty shed", Life([]data.Keeping{band(Dry, 0, 20, 700, 700)}, -15), 700, 1e-9)
}

func TestLifeWithoutFigures(t *testing.T) {
	nan := math.NaN()
	if got := Life(nil, 10); got != 0 {
		t.Errorf("no rows: %g", got)
	}
	conditions := band(Fresh, 0, 4, nan, nan)
	if got := Life([]data.Keeping{conditions}, 2); got != 0 {
		t.Errorf("a row with conditions only: %g", got)
	}
	near(t, "no temperature is 20 °C", Life([]data.Keeping{band(Fresh, nan, nan, 10, 10)}, 30), 4, 1e-9)
	near(t, "no temperature, frozen is -18 °C", Life([]data.Keeping{band(Frozen, nan, nan, 90, 90)}, -18), 90, 1e-9)
	near(t, "half a range", Life([]data.Keeping{band(Fresh, 4, nan, 9, 9)}, 4), 9, 1e-9)
	near(t, "low days only", Life([]data.Keeping{band(Fresh, 4, 4, 9, nan)}, 4), 9, 1e-9)
}

// Rows that do not overlap and fall with warmth give a life that never rises with warmth.
func TestLifeFallsWithWarmth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "rows")
		form := rapid.SampledFrom([]string{Fresh, Dry, Dried, Jarred, Fermented}).Draw(t, "form")
		temp, days := rapid.Float64Range(-5, 5).Draw(t, "coldest"), rapid.Float64Range(100, 1000).Draw(t, "longest")
		var rows []data.Keeping
		for range n {
			width := rapid.Float64Range(0, 6).Draw(t, "width")
			rows = append(rows, band(form, temp, temp+width, days, days))
			temp += width + rapid.Float64Range(0.5, 8).Draw(t, "gap")
			days *= rapid.Float64Range(0.2, 1).Draw(t, "fall")
		}
		slices.Reverse(rows)
		a := rapid.Float64Range(-20, 45).Draw(t, "a")
		b := a + rapid.Float64Range(0, 30).Draw(t, "warmer")
		if la, lb := Life(rows, a), Life(rows, b); lb > la*(1+1e-9) {
			t.Fatalf("%g days at %g °C, %g at %g", la, a, lb, b)
		}
	})
}

func TestLifeOfTheTable(t *testing.T) {
	tables, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	type lot struct{ food, form string }
	lots := map[lot][]data.Keeping{}
	for _, r := range tables.Keeping {
		lots[lot{r.Food, r.Form}] = append(lots[lot{r.Food, r.Form}], r)
	}
	for l, rows := range lots {
		temp := 12.0
		if l.form == Frozen {
			temp = -18
		}
		if d := Life(rows, temp); !(d > 0 && d < 40*365) {
			t.Errorf("%s %s at %g °C keeps %g days", l.food, l.form, temp, d)
		}
	}
}

func TestLifeDoesNotAllocate(t *testing.T) {
	rows := []data.Keeping{band(Fresh, 0, 0, 84, 112), band(Fresh, 8, 14, 42, 56), band(Fresh, 18, 22, 16, 25)}
	if n := testing.AllocsPerRun(100, func() { Life(rows, 16) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkLife(b *testing.B) {
	rows := []data.Keeping{band(Fresh, 0, 0, 84, 112), band(Fresh, 8, 14, 42, 56), band(Fresh, 18, 22, 16, 25)}
	b.ReportAllocs()
	for b.Loop() {
		Life(rows, 16)
	}
}

// airy is a fresh row that likes its air between two humidities.
func airy(lo, hi float64) []data.Keeping {
	r := band(Fresh, 0, 4, 90, 90)
	r.RHLo, r.RHHi = lo, hi
	return []data.Keeping{r}
}

func TestAirShortensLives(t *testing.T) {
	for _, c := range []struct {
		name         string
		lo, hi, rh   float64
		share, slack float64
	}{
		{"as it likes it", 0.85, 0.9, 0.87, 1, 0},
		{"at the dry end", 0.85, 0.9, 0.85, 1, 1e-12},
		{"at the damp end", 0.85, 0.9, 0.9, 1, 1e-12},
		{"twice the deficit", 0.9, 0.95, 0.8, 1 / 1.5, 1e-12},
		{"five times the deficit", 0.9, 0.95, 0.5, 1.0 / 3, 1e-12},
		{"roots in wet sand at 95 %, their heap keeps it", 0.98, 1, 0.95, 1, 1e-12},
		{"onions in a damp cellar", 0.65, 0.7, 0.85, 0.5, 1e-12},
		{"onions in a wet cellar", 0.65, 0.7, 1, 0.25, 1e-12},
		{"not measured", 0.9, 0.95, math.NaN(), 1, 0},
		{"a reading over 1 is as 1", 0.65, 0.7, 1.4, 0.25, 1e-12},
	} {
		t.Run(c.name, func(t *testing.T) {
			near(t, "share", Air(airy(c.lo, c.hi), c.rh), c.share, c.slack)
			near(t, "life", LifeIn(airy(c.lo, c.hi), 2, c.rh), 90*c.share, 90*c.slack)
		})
	}
	none := row(Dry, 10, 100)
	near(t, "a tin makes its own air", Air([]data.Keeping{none}, 0.99), 1, 0)
}

func TestAirNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(0, 1).Draw(t, "lo")
		hi := rapid.Float64Range(lo, 1).Draw(t, "hi")
		rh := rapid.Float64Range(-0.5, 1.5).Draw(t, "rh")
		more := rapid.Float64Range(-0.5, 1.5).Draw(t, "another")
		rows := airy(lo, hi)
		a, b := Air(rows, rh), Air(rows, more)
		if !(a > 0 && a <= 1) {
			t.Fatalf("share %g", a)
		}
		if (rh <= more && more <= lo || hi <= more && more <= rh) && a > b+1e-12 {
			t.Fatalf("%g lies farther out than %g and keeps better: %g over %g", rh, more, a, b)
		}
	})
}
