package work

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenstead/day"
)

func TestTermHours(t *testing.T) {
	from := day.Of(2026, time.November, 1)
	even := Term{Weekly: 7, Share: 36.525, From: from}
	near(t, "a day", even.Hours(from), 1, 1e-12)
	near(t, "November", even.Hours(from+29), 30, 1e-9)
	near(t, "before it", even.Hours(from-1), 0, 0)
	near(t, "ten days' share", even.Kg(from+9), 1, 1e-9)
	near(t, "share before it", even.Kg(from-30), 0, 0)
	byMonth := even
	byMonth.Months = [12]float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2, 0}
	near(t, "twice in November", byMonth.Hours(from+29), 60, 1e-9)
	near(t, "none in December", byMonth.Hours(from+60), 60, 1e-9)
}

func TestStatement(t *testing.T) {
	from := day.Of(2026, time.November, 15)
	term := Term{Weekly: 7, From: from}
	lines := Statement(term, []Stint{{Day: from, Hours: 5}, {Day: from - 1, Hours: 99}, {Day: day.Of(2026, time.December, 31), Hours: 20}, {Day: day.Of(2027, time.February, 1), Hours: 99}},
		day.Of(2027, time.January, 10))
	if len(lines) != 3 || lines[0].From != from || lines[1].From != day.Of(2026, time.December, 1) {
		t.Fatalf("%+v", lines)
	}
	for i, want := range [][3]float64{{16, 5, 11}, {31, 20, 22}, {10, 0, 32}} {
		near(t, "agreed", lines[i].Agreed, want[0], 1e-9)
		near(t, "done", lines[i].Done, want[1], 1e-9)
		near(t, "balance", lines[i].Balance, want[2], 1e-9)
	}
	if Statement(term, nil, from-1) != nil {
		t.Error("a statement before the term")
	}
}

// The last balance is what was agreed less what was done, however the months fall.
func TestStatementAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		term := Term{Weekly: rapid.Float64Range(0, 40).Draw(t, "weekly"), From: day.Day(rapid.IntRange(15000, 25000).Draw(t, "from"))}
		for m := range term.Months {
			term.Months[m] = rapid.Float64Range(0, 3).Draw(t, "month")
		}
		through := term.From + day.Day(rapid.IntRange(0, 800).Draw(t, "days"))
		var stints []Stint
		done := 0.0
		for range rapid.IntRange(0, 20).Draw(t, "stints") {
			s := Stint{Day: term.From + day.Day(rapid.IntRange(0, int(through-term.From)).Draw(t, "at")), Hours: rapid.Float64Range(0, 10).Draw(t, "hours")}
			stints = append(stints, s)
			done += s.Hours
		}
		lines := Statement(term, stints, through)
		count := 0
		for _, l := range lines {
			count += l.Stints
		}
		if last := lines[len(lines)-1]; count != len(stints) || last.Balance-(term.Hours(through)-done) > 1e-6 || last.Balance-(term.Hours(through)-done) < -1e-6 {
			t.Fatalf("%d of %d stints, balance %g, want %g", count, len(stints), last.Balance, term.Hours(through)-done)
		}
	})
}

func BenchmarkStatement(b *testing.B) {
	term := Term{Weekly: 6, From: 20000}
	for b.Loop() {
		Statement(term, []Stint{{Day: 20100, Hours: 6}}, 20700)
	}
}
