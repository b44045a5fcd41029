package weather

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenstead/day"
)

var nan = math.NaN()

// steady makes a record of whole days: rain on each third day, temperatures that follow the season.
func steady(start, end day.Day) *Record {
	r := &Record{Start: start}
	for d := start; d <= end; d++ {
		season := -math.Cos(2 * math.Pi * float64(Slot(d)) / YearSlots)
		rain := 0.0
		if d%3 == 0 {
			rain = 2 + float64(d%7+7)
		}
		r.Rain = append(r.Rain, rain)
		r.TMin = append(r.TMin, 6+8*season+float64(d%5))
		r.TMax = append(r.TMax, 16+9*season+float64(d%4))
	}
	return r
}

func TestRecordDays(t *testing.T) {
	r := steady(day.Of(2010, 3, 1), day.Of(2010, 3, 31))
	if r.Days() != 31 || r.End() != day.Of(2010, 3, 31) {
		t.Errorf("%d days to %s", r.Days(), r.End())
	}
	for d, want := range map[day.Day]int{r.Start: 0, r.End(): 30, r.Start - 1: -1, r.End() + 1: -1} {
		if got := r.At(d); got != want {
			t.Errorf("%s is at %d, want %d", d, got, want)
		}
	}
	r.TMin[4] = nan
	for _, c := range []struct {
		from, days int
		want       bool
	}{{0, 4, true}, {0, 5, false}, {5, 26, true}, {5, 27, false}, {-1, 2, false}, {5, 0, true}, {5, -1, false}} {
		if got := r.Whole(r.Start+day.Day(c.from), c.days); got != c.want {
			t.Errorf("%+v: %t", c, got)
		}
	}
}

func TestFillTemperature(t *testing.T) {
	r := steady(day.Of(2010, 3, 1), day.Of(2010, 3, 31))
	r.TMax[9], r.TMax[13] = 10, 18
	r.TMax[10], r.TMax[11], r.TMax[12] = nan, nan, nan
	r.TMin[0] = nan
	for i := 20; i < 26; i++ {
		r.TMin[i] = nan
	}
	r.Fill()
	if got := r.TMax[10:13]; !slices.Equal(got, []float64{12, 14, 16}) {
		t.Errorf("on the line: %v", got)
	}
	if !math.IsNaN(r.TMin[0]) || !math.IsNaN(r.TMin[20]) || !math.IsNaN(r.TMin[25]) {
		t.Error("a run of six, or one without a neighbour, was filled")
	}
	if r.Filled != 3 || !strings.HasPrefix(r.Notes[0], "3 days with something missing") {
		t.Errorf("%d filled, %q", r.Filled, r.Notes)
	}
}

func TestFillRainFromTheNearestYear(t *testing.T) {
	r := steady(day.Of(2008, 1, 1), day.Of(2012, 12, 31))
	at := func(y, dom int) int { return r.At(day.Of(y, 6, dom)) }
	for dom := 10; dom <= 12; dom++ {
		r.Rain[at(2010, dom)] = nan
		r.Rain[at(2009, dom)] = 1
		r.Rain[at(2011, dom)] = float64(dom)
	}
	r.Rain[at(2009, 11)] = nan // 2009 lacks one of the three, so 2011 gives them
	r.Fill()
	for dom := 10; dom <= 12; dom++ {
		near(t, "rain", r.Rain[at(2010, dom)], float64(dom), 0)
	}
	near(t, "rain of 2009", r.Rain[at(2009, 11)], r.Rain[at(2008, 11)], 0)
	near(t, "filled", float64(r.Filled), 4, 0)
	r.Fill()
	near(t, "filled again", float64(r.Filled), 4, 0)
}

// TestFillKeepsTotals takes days out of a real record and puts them back: rain
// filled from other years may differ by chance, but not be thinned out.
func TestFillKeepsTotals(t *testing.T) {
	r := gainesville(t)
	var lostDays []int
	var was, now float64
	for i := 40; i+400 < r.Days(); i += 29 {
		for k := i; k < i+3; k++ {
			if !math.IsNaN(r.Rain[k]) {
				was += r.Rain[k]
				r.Rain[k] = nan
				lostDays = append(lostDays, k)
			}
		}
	}
	r.Fill()
	for _, k := range lostDays {
		if math.IsNaN(r.Rain[k]) {
			t.Fatalf("%s not filled", r.Start+day.Day(k))
		}
		now += r.Rain[k]
	}
	// Rain of a day has a standard deviation of some 9.5 mm and neighbours hang together a little.
	sd := 9.5 * math.Sqrt(2*1.5*float64(len(lostDays)))
	near(t, "rain filled", now, was, 3*sd)
}

func TestFillProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := steady(day.Of(2009, 1, 1), day.Of(2011, 12, 31))
		whole := *steady(day.Of(2009, 1, 1), day.Of(2011, 12, 31))
		for range rapid.IntRange(0, 20).Draw(t, "gaps") {
			from, n := rapid.IntRange(0, r.Days()-1).Draw(t, "from"), rapid.IntRange(1, 8).Draw(t, "days")
			x := [][]float64{r.Rain, r.TMin, r.TMax}[rapid.IntRange(0, 2).Draw(t, "of")]
			for i := from; i < min(from+n, r.Days()); i++ {
				x[i] = nan
			}
		}
		before := [][]float64{slices.Clone(r.Rain), slices.Clone(r.TMin), slices.Clone(r.TMax)}
		r.Fill()
		for k, x := range [][]float64{r.Rain, r.TMin, r.TMax} {
			for i, v := range x {
				if !math.IsNaN(before[k][i]) && v != before[k][i] && r.TMin[i] != r.TMax[i] {
					t.Fatalf("an observed value moved: %g to %g", before[k][i], v)
				}
				if math.IsNaN(v) != (math.IsNaN(before[k][i]) && math.IsNaN(v)) {
					t.Fatal("a value was lost")
				}
			}
		}
		for i := range r.TMin {
			if r.TMin[i] > r.TMax[i] {
				t.Fatalf("day %d: tmin %g above tmax %g", i, r.TMin[i], r.TMax[i])
			}
		}
		if r.Days() != whole.Days() {
			t.Fatal("the record changed its length")
		}
	})
}
