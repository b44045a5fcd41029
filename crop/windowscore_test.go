package crop

import (
	"testing"
	"time"

	"evenstead/day"
)

// A printed window of a chart; monthly charts name whole months.
type printed struct {
	place, crop string
	monthly     bool
	w           Window
}

func printedWindows(t testing.TB) []printed {
	var out []printed
	for _, r := range table(t, "windows.csv") {
		out = append(out, printed{r["place"], r["crop"], r["chart"] == "month",
			Window{yearDay(t, r["from"]), yearDay(t, r["to"])}})
	}
	return out
}

func yearDay(t testing.TB, mmdd string) int {
	t.Helper()
	d, err := day.Parse("2021-" + mmdd)
	if err != nil {
		t.Fatal(err)
	}
	return d.YearDay()
}

// passes takes an opening within 10 days (monthly charts: in the
// month or the one next to it), and two thirds of the printed span covered. Common practice: charts of
// neighbouring services differ by about as much.
func (p printed) passes(got []Window) bool {
	opens, covered := false, 0
	for _, w := range got {
		opens = opens || p.near(w.Open)
	}
	for k := range p.w.Days() {
		d := (p.w.Open-1+k)%365 + 1
		for _, w := range got {
			if w.Has(d) {
				covered++
				break
			}
		}
	}
	return opens && 3*covered >= 2*p.w.Days()
}

func (p printed) near(open int) bool {
	if p.monthly {
		d := (month(open) - month(p.w.Open) + 12) % 12
		return d <= 1 || d == 11
	}
	d := (open - p.w.Open + 365) % 365
	return d <= 10 || d >= 355
}

func month(yearday int) int { return int(day.Of(2021, time.January, yearday).Month()) }
