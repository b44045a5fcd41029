package weather

import (
	"errors"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"evenstead/day"
)

var rain42 = Site{Lat: 47.6, Elev: 132}

func fromSeattle(t *testing.T, start day.Day, days, n int) *Ensemble {
	t.Helper()
	e, err := FromRecord(seattle(t), rain42, start, days, n, 42)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func labels(e *Ensemble) (l []string) {
	for i := range e.Members {
		l = append(l, e.Members[i].Label)
	}
	return l
}

func TestRealYears(t *testing.T) {
	e := fromSeattle(t, november, 365, 3)
	if got := labels(e); !slices.Equal(got, []string{"2014-15", "2013-14", "2012-13"}) {
		t.Fatal(got)
	}
	r := seattle(t)
	at := r.At(day.Of(2013, 11, 1))
	for k := range 365 {
		m := &e.Members[1]
		if m.Rain[k] != r.Rain[at+k] || m.TMin[k] != r.TMin[at+k] || m.TMax[k] != r.TMax[at+k] {
			t.Fatalf("day %d differs from the record", k)
		}
		j := (r.Start + day.Day(at+k)).YearDay()
		near(t, "ET0", m.ET0[k], Hargreaves(m.TMin[k], m.TMax[k], Extraterrestrial(47.6, j)), 1e-12)
		if m.Sun[k] <= 0 || m.Sun[k] > ClearSky(Extraterrestrial(47.6, j), 132) {
			t.Fatalf("sun %g", m.Sun[k])
		}
	}
	if !strings.HasPrefix(e.Notes[0], "3 real years of the record") || !strings.Contains(e.Notes[0], "left out as not whole: 2015") {
		t.Errorf("%q", e.Notes)
	}
	if got := labels(fromSeattle(t, day.Of(2026, 3, 1), 90, 9))[:4]; !slices.Equal(got, []string{"2015", "2014", "2013", "2012"}) {
		t.Error(got)
	}
}

// TestLeapDays lays common years on a horizon with a 29 February and the other way round.
func TestLeapDays(t *testing.T) {
	r := steady(day.Of(2010, 1, 1), day.Of(2014, 12, 31))
	for i := range r.Rain {
		d := r.Start + day.Day(i)
		r.Rain[i] = float64(Slot(d)) // rain tells the date
		if _, m, dom := d.Date(); m == time.February && dom == 29 {
			r.Rain[i] = 2912
		}
	}
	for _, c := range []struct {
		name  string
		start day.Day
		days  int
	}{{"common", day.Of(2027, 1, 1), 365}, {"leap", day.Of(2028, 1, 1), 366}, {"two years", november, 730}} {
		e, err := FromRecord(r, inland, c.start, c.days, 3, 1)
		if err != nil {
			t.Fatal(err)
		}
		for i := range e.Members[:3] {
			for k, v := range e.Members[i].Rain {
				d := c.start + day.Day(k)
				want := float64(Slot(d))
				if _, m, dom := d.Date(); m == time.February && dom == 29 {
					want = 2912
				}
				if v != want {
					t.Fatalf("%s, member %d, %s: day %g", c.name, i, d, v)
				}
			}
		}
	}
	e, err := FromRecord(r, inland, day.Of(2028, 2, 29), 10, 4, 1)
	if err != nil || e.Members[0].Rain[0] != 2912 || e.Members[0].Rain[1] != 59 {
		t.Errorf("%v: %v", err, e.Members[0].Rain)
	}
	r.Rain[r.At(day.Of(2012, 2, 29))] = nan
	e, err = FromRecord(r, inland, day.Of(2028, 2, 29), 10, 3, 1)
	if err != nil || e.Members[0].Rain[0] != 58 {
		t.Errorf("no 29 February: %v: %v", err, e)
	}
}

// TestSameSeedSameBytes runs each way of making members on one processor and on
// four, in a greater ensemble and with another seed.
func TestSameSeedSameBytes(t *testing.T) {
	r := seattle(t)
	for name, make := range map[string]func(n int, seed uint64) (*Ensemble, error){
		"record":  func(n int, seed uint64) (*Ensemble, error) { return FromRecord(r, rain42, november, 200, n, seed) },
		"normals": func(n int, seed uint64) (*Ensemble, error) { return FromNormals(mild, rain42, november, 200, n, seed) },
	} {
		t.Run(name, func(t *testing.T) {
			run := func(procs, n int, seed uint64) []Member {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
				e, err := make(n, seed)
				if err != nil {
					t.Fatal(err)
				}
				return e.Members
			}
			one := run(1, 60, 9)
			if !equalMembers(one, run(4, 60, 9)) {
				t.Error("processors change the members")
			}
			if !equalMembers(one, run(3, 90, 9)[:60]) {
				t.Error("the number of members changes them")
			}
			if equalMembers(one[50:], run(1, 60, 10)[50:]) {
				t.Error("another seed gives the same members")
			}
			if equalMembers(one[50:51], one[51:52]) {
				t.Error("two members are the same")
			}
		})
	}
}

func equalMembers(a, b []Member) bool {
	return slices.EqualFunc(a, b, func(x, y Member) bool {
		return slices.Equal(x.Rain, y.Rain) && slices.Equal(x.TMin, y.TMin) && slices.Equal(x.TMax, y.TMax) &&
			slices.Equal(x.ET0, y.ET0) && slices.Equal(x.Sun, y.Sun)
	})
}

// TestMixedYears holds mixed years beside the real ones they are made of: yearly
// rain, heat and evaporation within 2 %, their spread within a third, wet spells
// and lag as in the record.
func TestMixedYears(t *testing.T) {
	r := gainesville(t)
	e, err := FromRecord(r, Site{Lat: 29.69, Elev: 38}, november, 365, 1050, 4)
	if err != nil {
		t.Fatal(err)
	}
	split := slices.IndexFunc(e.Members, func(m Member) bool { return strings.HasPrefix(m.Label, "mixed") })
	real, mixed := *e, *e
	real.Members, mixed.Members = e.Members[:split], e.Members[split:]
	if split != 50 {
		t.Fatalf("%d real years", split)
	}
	for name, of := range map[string]func(m *Member) float64{
		"rain":     func(m *Member) float64 { return sum(m.Rain) },
		"wet days": func(m *Member) float64 { return over(indices(365), m.Rain, wetOne) },
		"tmin":     func(m *Member) float64 { return sum(m.TMin) / 365 },
		"tmax":     func(m *Member) float64 { return sum(m.TMax) / 365 },
		"ET0":      func(m *Member) float64 { return sum(m.ET0) },
		"sun":      func(m *Member) float64 { return sum(m.Sun) },
	} {
		a, _, _ := sample(&real, of)
		b, _, _ := sample(&mixed, of)
		near(t, name, b, a, 0.02*a)
	}
	_, a, _ := sample(&real, func(m *Member) float64 { return sum(m.Rain) })
	_, b, _ := sample(&mixed, func(m *Member) float64 { return sum(m.Rain) })
	near(t, "spread of yearly rain", b, a, a/3)
	lag := func(m *Member) float64 { return lagged(anomaly(m.TMax), anomaly(m.TMax), 1) }
	x, _, _ := sample(&real, lag)
	y, _, _ := sample(&mixed, lag)
	near(t, "tmax with itself the day before", y, x, 0.02)
	for i := range mixed.Members {
		for k := range 365 {
			if m := &mixed.Members[i]; m.TMin[k] > m.TMax[k] || math.IsNaN(m.Rain[k]+m.ET0[k]+m.Sun[k]) {
				t.Fatalf("member %d day %d: %g %g %g", i, k, m.Rain[k], m.TMin[k], m.TMax[k])
			}
		}
	}
}

func indices(n int) []int {
	x := make([]int, n)
	for i := range x {
		x[i] = i
	}
	return x
}

func anomaly(x []float64) []float64 {
	m, _ := meanSD(x)
	out := slices.Clone(x)
	for i := range out {
		out[i] -= m
	}
	return out
}

func TestEnsembleRefused(t *testing.T) {
	r := steady(day.Of(2010, 1, 1), day.Of(2011, 6, 30))
	if _, err := FromRecord(r, inland, november, 365, 10, 1); !errors.Is(err, errShortRecord) {
		t.Error(err)
	}
	if _, err := FromRecord(&Record{}, inland, november, 365, 10, 1); !errors.Is(err, errShortRecord) {
		t.Error(err)
	}
	for want, f := range map[string]func() (*Ensemble, error){
		"at least one of each": func() (*Ensemble, error) { return FromRecord(r, inland, november, 0, 10, 1) },
		"give fewer members":   func() (*Ensemble, error) { return FromNormals(mild, inland, november, 3650, 100_000, 1) },
		"latitude 91":          func() (*Ensemble, error) { return FromNormals(mild, Site{Lat: 91}, november, 10, 10, 1) },
		"elevation NaN m":      func() (*Ensemble, error) { return FromNormals(mild, Site{Elev: nan}, november, 10, 10, 1) },
		"June has 3 wet days": func() (*Ensemble, error) {
			n := mild
			n.Rain[5] = 0
			return FromNormals(n, inland, november, 10, 10, 1)
		},
	} {
		if _, err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
	if e, err := FromRecord(steady(day.Of(2010, 1, 1), day.Of(2012, 12, 31)), inland, november, 365, 10, 1); err != nil || len(e.Members) != 10 {
		t.Errorf("three years are enough: %v", err)
	}
}

func TestClimate(t *testing.T) {
	short, err := FromNormals(mild, inland, november, 100, 5, 1)
	if err != nil {
		t.Fatal(err)
	}
	c := short.Climate()
	long := make1000(t, mild, november, 365)
	d := long.Climate()
	months, want := c.TMin.Months(), mild.TMin
	for m := range 12 {
		near(t, "tmin", months[m], want[m], 0.5)
		got := d.Rain.Months()[m] * float64(monthDays[m])
		near(t, "rain", got, mild.Rain[m], 15)
	}
	near(t, "last frost", c.LastSpring.Later(0.5), d.LastSpring.Later(0.5), 6)
	// The invented place is said to have its middle last frost on 14 March and its first on 30 November.
	near(t, "middle last frost", d.LastSpring.LaterByOrder(0.5), 73, 5)
	near(t, "middle first frost", d.FirstAutumn.SoonerByOrder(0.5), 334, 8)
	if c.ET0[190] < 5 || c.ET0[190] > 9 || c.ET0[10] > 2 {
		t.Errorf("ET0 %g in July, %g in January", c.ET0[190], c.ET0[10])
	}
}

func TestClimateOfRecordAndOfMembers(t *testing.T) {
	e := fromSeattle(t, november, 30, 3)
	c := e.Climate()
	last, first := FrostDates(seattle(t), 0, false)
	if !slices.Equal(c.LastSpring.Dates, last.Dates) || !slices.Equal(c.FirstAutumn.Dates, first.Dates) {
		t.Errorf("%v, %v", c.LastSpring, c.FirstAutumn)
	}
	near(t, "yearly rain", sum(c.Rain[:]), 4425.5/4, 8)
	own := &Ensemble{Start: e.Start, Days: e.Days, Members: e.Members, Lat: e.Lat}
	d := own.Climate()
	if d.LastSpring.Seasons != 0 || !math.IsNaN(d.TMin[180]) || math.IsNaN(d.TMin[Slot(november)]) {
		t.Errorf("30 days give %v, %g, %g", d.LastSpring, d.TMin[180], d.TMin[Slot(november)])
	}
}

// TestMemberFrostsOverLeapDay: the day that a 29 February pushes out of 365 is no frost.
func TestMemberFrostsOverLeapDay(t *testing.T) {
	m := Member{TMin: slices.Repeat([]float64{5}, 365), TMax: slices.Repeat([]float64{9}, 365),
		Rain: make([]float64, 365), ET0: make([]float64, 365)}
	e := &Ensemble{Start: day.Of(2028, 1, 1), Days: 365, Members: []Member{m}, Lat: 40}
	last, first := e.Frosts(0)
	if last.Seasons != 1 || len(last.Dates) != 0 || len(first.Dates) != 0 {
		t.Errorf("%v %v", last, first)
	}
	m.TMin[5], m.TMin[320] = -1, -1
	last, first = e.Frosts(0)
	if !slices.Equal(last.Dates, []int{6}) || !slices.Equal(first.Dates, []int{320}) {
		t.Errorf("%v %v", last, first)
	}
	e.Lat = -40
	last, first = e.Frosts(0)
	if !slices.Equal(last.Dates, []int{371}) || len(first.Dates) != 0 {
		t.Errorf("south: %v %v", last, first)
	}
}
