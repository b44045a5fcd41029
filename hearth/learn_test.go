package hearth

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/reckon"
	"evenstead/stead"
	"evenstead/unit"
)

// lessons are what a book of notes teaches by a day.
func lessons(t *testing.T, text, notes, who string, begun, today day.Day) ([]reckon.Lesson, *Home) {
	t.Helper()
	now := today.Time().Add(9 * time.Hour)
	h, err := Open(t.Context(), filepath.Join(t.TempDir(), "l.stead"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.Close() })
	if err := h.Describe(t.Context(), begun, "l.toml", []byte(text)); err != nil {
		t.Fatal(err)
	}
	c, err := h.Context(t.Context(), today, who, unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := h.Add(t.Context(), book.Read(notes, c)); err != nil {
		t.Fatal(err)
	}
	r, err := h.Audit(t.Context(), AuditAsk{Today: today, Span: engine.Span{From: begun, To: today - 1}})
	if err != nil {
		t.Fatal(err)
	}
	return r.Lessons, h
}

const alone = `name = "Tenfold"
stay.from = 2027-03-01
place.latitude = 50
[[person]]
name = "Wren"
sex = "female"
age = 40
hours_week = 20
[[terms.bought]]
food = "oats"
rate = "50 g/day"
[[place.normals]]
rain = [50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50]
wet_days = [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]
tmin = [2, 2, 3, 5, 8, 11, 13, 13, 11, 8, 5, 3]
tmax = [7, 8, 10, 13, 17, 20, 22, 22, 19, 15, 10, 8]
`

// TestLessonsByHand: four weeks with 6, 9, 4 and 12 h make 7.75; 1.5 kg of oats, half a
// kilogram in March, none in April and one in May, are 1,500 g over 92 days.
func TestLessonsByHand(t *testing.T) {
	got, _ := lessons(t, alone, `worked 4 h weeding on 2027-03-01
worked 2 h weeding on 2027-03-07
worked 9 h weeding on 2027-03-08
worked 4 h weeding on 2027-04-20
worked 12 h weeding on 2027-05-20
bought 0.5 kg oats on 2027-03-10
bought 0.4 kg oats on 2027-05-10
bought 0.6 kg oats on 2027-05-11
bought 1 kg sugar on 2027-05-11`, "Wren", day.Of(2027, 3, 1), day.Of(2027, 6, 1))
	by := map[string]reckon.Lesson{}
	for _, l := range got {
		by[l.Kind] = l
	}
	near := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("%s: %g, by hand %g", name, got, want)
		}
	}
	h, b := by["hours"], by["bought"]
	near("hours a week", h.New, 7.75)
	near("least", h.Low, 4)
	near("most", h.High, 12)
	near("oats a day", b.New, 1500.0/92)
	near("least month", b.Low, 0)
	near("most month", b.High, 1000.0/31)
	if len(got) != 2 || h.N != 4 || h.Old != 20 || b.N != 3 || math.Abs(b.Old-50) > 1e-9 {
		t.Errorf("%+v", got)
	}
}

// TestLessonsFollowWhatWasLearned: factors are the engine's own, a harvest under the
// handbook lowers the yield, and every line can be put into a description.
func TestLessonsFollowWhatWasLearned(t *testing.T) {
	begun, today := day.Of(2026, time.November, 1), day.Of(2027, time.October, 20)
	var notes strings.Builder
	for i := range 40 {
		fmt.Fprintf(&notes, "picked 1 kg potatoes, F13 on %s\n", day.Of(2027, time.June, 20)+day.Day(i))
		fmt.Fprintf(&notes, "dipped barn at %d L on %s\n", 9000-100*i, begun+day.Day(3*i+5))
	}
	notes.WriteString("counted potatoes 40 kg on 2027-08-10\ncounted potatoes 20 kg on 2027-09-10\ncounted potatoes 10 kg on 2027-10-10\n")
	got, h := lessons(t, string(demo.Quernfold()), notes.String(), "Sorrel", begun, today)
	past, err := h.Replay(t.Context(), Ask{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	for _, l := range got {
		kinds[l.Kind]++
		if !(l.Low <= l.New+1e-9 && l.New <= l.High+1e-9) && l.Kind != "catch" || l.N < 1 || l.New <= 0 {
			t.Errorf("%+v", l)
		}
		for _, f := range past.Learned {
			if f.What == "water drawn from barn" && l.Kind == "use" && math.Abs(l.New/l.Old-max(0.2, f.Result[1])) > 1e-9 && strings.Contains(l.Why, "barn") {
				t.Errorf("%s by %g, the engine has learned %g", l.What, l.New/l.Old, f.Result[1])
			}
		}
		if len(l.Lines) > 0 {
			pasted(t, l)
		}
	}
	for _, k := range []string{"use", "catch", "yield"} {
		if kinds[k] == 0 {
			t.Errorf("no lesson of %s: %v", k, kinds)
		}
	}
}

// pasted reads a lesson's lines as part of a description.
func pasted(t *testing.T, l reckon.Lesson) {
	t.Helper()
	head := map[string]string{
		"yield": "[[bed]]\nname = \"B\"\narea = \"9 m2\"\n[[planting]]\nbed = \"B\"\ncrop = \"potato\"\nsow = \"25 Feb\"\n",
		"catch": "[[tank]]\nname = \"t\"\nholds = \"900 L\"\n[[roof]]\narea = \"30 m2\"\nto = \"t\"\n",
		"use":   "[[tank]]\nname = \"t\"\nholds = \"900 L\"\n[[use]]\nname = \"u\"\nfrom = \"t\"\n",
		"hours": "",
	}[l.Kind]
	text := "place.latitude = 50\npeople = 2\n" + head + strings.Join(l.Lines, "\n")
	if l.Kind == "hours" {
		text = strings.Replace(alone, "hours_week = 20", l.Lines[0], 1)
	}
	if l.Kind == "bought" {
		text = strings.Replace(alone, `rate = "50 g/day"`, l.Lines[len(l.Lines)-1], 1)
	}
	if _, err := stead.Read("pasted.toml", []byte(text)); err != nil {
		t.Errorf("the lines of %s can't be put into a description: %v\n%s", l.What, err, text)
	}
}
