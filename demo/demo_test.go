package demo

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
)

func read(t *testing.T, name string, text []byte) *stead.Stead {
	t.Helper()
	s, err := stead.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestQuernfoldIsWholeAndAddsUp(t *testing.T) {
	s := read(t, "quernfold.toml", Quernfold())
	sum := func(n int, f func(i int) float64) (v float64) {
		for i := range n {
			v += f(i)
		}
		return v
	}
	groups := s.Groups()
	crop := func(id string) float64 {
		return sum(len(s.Plantings), func(i int) float64 {
			p := s.Plantings[i]
			if p.Crop != id {
				return 0
			}
			if p.Area > 0 {
				return p.Area
			}
			return s.Beds[slices.IndexFunc(s.Beds, func(b stead.Bed) bool { return b.Name == p.Bed })].Area
		})
	}
	cases := []struct {
		name      string
		got, want float64
	}{
		{"groups", float64(len(groups)), 2},
		{"barn holds", groups[0].Holds, 34000},
		{"barn dead", groups[0].Dead, 1000},
		{"barn level", groups[0].Level, 10500},
		{"barn reserve for the house", groups[0].Reserve, 2000},
		{"cabin holds", groups[1].Holds, 4000},
		{"cabin dead", groups[1].Dead, 120},
		{"cabin level", groups[1].Level, 3400},
		{"rain of the year", sum(12, func(i int) float64 { return s.Place.Normals[0].Rain[i] }), 792},
		{"wet days of the year", sum(12, func(i int) float64 { return s.Place.Normals[0].WetDays[i] }), 90},
		{"strips, beds and edges", float64(len(s.Beds)), 14 + 34 + 2},
		{"ground", sum(len(s.Beds), func(i int) float64 { return s.Beds[i].Area }), 14*140 + 34*12 + 18 + 8},
		{"crowns", sum(len(s.Trees), func(i int) float64 { return s.Trees[i].Area }), 697},
		{"wheat", crop("wheat_winter"), 980},
		{"broad bean", crop("broad_bean"), 420},
		{"collards", crop("collards"), 60},
		{"cabbage", crop("cabbage"), 72},
		{"carrot", crop("carrot"), 48},
		{"larder kg", sum(len(s.Lots), func(i int) float64 { return s.Lots[i].Mass }), 526.1},
		{"kinds in the larder", float64(len(s.Lots)), 26},
		{"salt kg a day", s.Terms.Bought[0].Rate, 2 / 365.2425},
		{"battery MJ", s.Lights[0].Battery, 0.9216},
		{"burner L a day", s.Cookers[1].Burner, 7200},
		{"work by month", sum(12, func(i int) float64 { return s.Exchange[0].Year[i] }), 12},
		{"drums listed", float64(len(s.Drums)), 2},
		{"per person-day L", sum(len(s.Uses), func(i int) float64 { return s.Uses[i].PerPerson }), 38},
	}
	for _, c := range cases {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

func TestAwayDaysAreAsMany(t *testing.T) {
	s := read(t, "quernfold.toml", Quernfold())
	for i, want := range []day.Day{6, 9} {
		a := s.People[i].Away[0]
		if got := a.To.In(2027) - a.From.In(2027) + 1; got != want {
			t.Errorf("%s is away %d days, want %d", s.People[i].Name, got, want)
		}
	}
}

func TestQuernfoldReadsBackFromItsOwnPrint(t *testing.T) {
	s := read(t, "quernfold.toml", Quernfold())
	var first, second bytes.Buffer
	if err := s.Write(&first); err != nil {
		t.Fatal(err)
	}
	if err := read(t, "print", first.Bytes()).Write(&second); err != nil {
		t.Fatal(err)
	}
	if first.String() != second.String() {
		t.Error("the second print differs from the first")
	}
}

func TestFourLinesAreFourAndEnough(t *testing.T) {
	text := FourLines()
	if n := bytes.Count(text, []byte("\n")); n != 4 {
		t.Errorf("%d lines", n)
	}
	s := read(t, "four-lines.toml", text)
	if len(s.People) != 2 || len(s.Tanks) != 1 || s.Tanks[0].Level != 500 || len(s.Beds) != 1 || len(s.Uses) != 4 {
		t.Errorf("read as %+v", s)
	}
	if len(s.Taken) < 20 {
		t.Errorf("%d defaults are told", len(s.Taken))
	}
}

func TestCopiesAreTheCallers(t *testing.T) {
	b := Quernfold()
	copy(b, strings.Repeat("x", len(b)))
	read(t, "quernfold.toml", Quernfold())
}

// TestWeeksReadWithoutADoubt proves that the notes say what they mean of the stead.
func TestWeeksReadWithoutADoubt(t *testing.T) {
	s := read(t, "quernfold.toml", Quernfold())
	tab, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := book.Of(s, tab)
	c.Today, c.From = WeeksEnd(), s.Stay.From
	readings := book.Read(Weeks(), c)
	for _, r := range readings {
		if r.Err != nil || len(r.Doubts) > 0 {
			t.Errorf("line %d, %q: %v %v", r.Line, r.Text, r.Err, r.Doubts)
		}
	}
	if n := len(readings); n < 30 || readings[n-1].Entry.Day != WeeksEnd() && readings[n-2].Entry.Day != WeeksEnd() {
		t.Errorf("%d notes, the last of %s", n, readings[n-1].Entry.Day)
	}
}
