package engine

import (
	"fmt"
	"math"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/stead"
)

// tenthAcre is a household on one bed of 405 m2, in either hemisphere.
func tenthAcre(t *testing.T, latitude float64) []WorkWeek {
	t.Helper()
	text := fmt.Sprintf("place.latitude = %g\npeople = 2\nstay.from = 2027-01-01\nbed = [{ name = \"garden\", area = \"405 m2\" }]\n", latitude)
	text += "[[planting]]\nbed = \"garden\"\ncrop = \"kale\"\nsow = \"1 Apr\"\n"
	st, err := stead.Read("tenth", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return readyFor(t, st, 1, 365).weeks(t)
}

// gardenIn is the mean of the garden's hours over the weeks that lie in one month.
func gardenIn(weeks []WorkWeek, month time.Month) (h float64) {
	n := 0.0
	for _, w := range weeks {
		if w.From.Month() != month || (w.From+day.Day(6)).Month() != month {
			continue
		}
		for _, task := range w.Tasks {
			if task.Name == "garden" {
				h, n = h+task.Hours, n+1
			}
		}
	}
	return h / n
}

// TestPublishedLabour holds the hours by week of a tenth of an acre to the printed
// band, picking and preserving left out of both.
func TestPublishedLabour(t *testing.T) {
	north, south := tenthAcre(t, 41), tenthAcre(t, -41)
	year := 0.0
	for _, w := range north {
		for _, task := range w.Tasks {
			if task.Name == "garden" {
				year += task.Hours / 365 * 7
			}
		}
	}
	type published struct {
		source, name   string
		got, want, tol float64
	}
	const acre = "New Alchemy Institute 1976-77, a tenth of an acre, h a week"
	for _, c := range []published{
		{acre, "April", gardenIn(north, time.April), 4, 0.05},
		{acre, "May", gardenIn(north, time.May), 8, 0.05},
		{acre, "June, 15 to 20", gardenIn(north, time.June), 17.5, 2.5},
		{acre, "July", gardenIn(north, time.July), 20, 0.05},
		{acre, "August, 3 to 8", gardenIn(north, time.August), 5.5, 2.5},
		{acre, "October in the south, as April", gardenIn(south, time.October), 4, 0.05},
		{acre, "January in the south, as July", gardenIn(south, time.January), 20, 0.05},
		{acre, "April to August, h", 30.0 / 7 * (gardenIn(north, time.April) + 31.0/30*gardenIn(north, time.May) + gardenIn(north, time.June) + 31.0/30*(gardenIn(north, time.July)+gardenIn(north, time.August))), 241, 4},
		{"a household's log of garden hours with picking, h a week", "mean of the year, without it, 0.6 to 25", year, 12.8, 12.2},
	} {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.4g, printed %g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}
