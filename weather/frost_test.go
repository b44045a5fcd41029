package weather

import (
	"math"
	"testing"
	"time"

	"evenstead/day"
)

func TestFrostQuantiles(t *testing.T) {
	f := Frosts{Dates: []int{100, 80, 90, 110, 120}, Seasons: 10}
	near(t, "share", f.Share(), 0.5, 0)
	near(t, "middle of the frosted", f.Later(0.25), 100, 1e-9)
	near(t, "middle by order", f.LaterByOrder(0.25), 100, 1e-9)
	near(t, "sooner by order", f.SoonerByOrder(0.05), 80, 1e-9)
	if !math.IsInf(f.Later(0.6), -1) || !math.IsInf(f.Sooner(0.5), 1) || !math.IsInf(f.SoonerByOrder(0.9), 1) {
		t.Error("a chance beyond the share of frosted seasons has a date")
	}
	if f.Later(0.1) <= f.Later(0.2) || f.Sooner(0.1) >= f.Sooner(0.2) {
		t.Error("dates do not follow chances")
	}
	none := Frosts{Seasons: 12}
	if !math.IsInf(none.Later(0.1), -1) || !math.IsInf(none.Sooner(0.1), 1) || !math.IsInf(none.SoonerByOrder(0.1), 1) {
		t.Error("no frost has a date")
	}
	near(t, "a single date", Frosts{Dates: []int{33}, Seasons: 1}.Later(0.1), 33, 0)
}

// warm makes years without frost, to which a test adds some.
func warm(from, to int) *Record {
	r := steady(day.Of(from, 1, 1), day.Of(to, 12, 31))
	for i := range r.TMin {
		r.TMin[i] = 5
	}
	return r
}

func TestFrostSeasons(t *testing.T) {
	r := warm(2010, 2013)
	frost := func(y int, m time.Month, d int) { r.TMin[r.At(day.Of(y, m, d))] = -1 }
	frost(2011, 3, 10)
	frost(2011, 2, 1)
	frost(2011, 10, 20)
	frost(2011, 11, 5)
	frost(2012, 4, 1) // a leap year: day 91 of the 365-day calendar
	last, first := FrostDates(r, 0, false)
	if last.Seasons != 4 || len(last.Dates) != 2 || last.Dates[0] != 69 || last.Dates[1] != 91 {
		t.Errorf("last %+v", last)
	}
	if first.Seasons != 4 || len(first.Dates) != 1 || first.Dates[0] != 293 {
		t.Errorf("first %+v", first)
	}
	for i := range 11 {
		r.TMin[r.At(day.Of(2011, 6, 1))+i] = nan
	}
	if last, _ = FrostDates(r, 0, false); last.Seasons != 3 {
		t.Errorf("a spring with 11 missing days counts: %+v", last)
	}
	if last, _ = FrostDates(r, -1.5, false); len(last.Dates) != 0 {
		t.Errorf("at -1.5: %+v", last)
	}
}

func TestFrostSouth(t *testing.T) {
	r := warm(2010, 2013)
	for _, d := range []day.Day{day.Of(2011, 5, 20), day.Of(2011, 7, 2), day.Of(2011, 9, 12), day.Of(2013, 1, 3)} {
		r.TMin[r.At(d)] = -1
	}
	last, first := FrostDates(r, 0, true)
	if first.Seasons != 4 || len(first.Dates) != 1 || first.Dates[0] != 140 {
		t.Errorf("first %+v", first)
	}
	if last.Seasons != 3 || len(last.Dates) != 2 || last.Dates[0] != 255 || last.Dates[1] != 368 {
		t.Errorf("last %+v", last)
	}
}
