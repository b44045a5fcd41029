package work

import (
	"math"

	"evenstead/day"
)

// A Term is what is owed for the use of the land: hours a week through the months,
// and a share of the crop.
type Term struct {
	Weekly float64     // h
	Months [12]float64 // factors about 1, January first; all 0: even
	Share  float64     // kg a year
	From   day.Day     // first day it holds
}

// Hours returns the hours agreed from From to the end of the day through; a day is a
// seventh of its week's. None before From.
func (t Term) Hours(through day.Day) float64 {
	sum := 0.0
	for d := t.From; d <= through; d++ {
		sum += t.Weekly / 7 * t.factor(int(d.Month())-1)
	}
	return sum
}

// Kg returns the share of the crop agreed by the end of the day through, year by year
// in even parts.
func (t Term) Kg(through day.Day) float64 {
	return t.Share * math.Max(0, float64(through-t.From+1)) / 365.25
}

func (t Term) factor(month int) float64 {
	if t.Months == [12]float64{} {
		return 1
	}
	return t.Months[month]
}

// A Stint is work done for another on a day.
type Stint struct {
	Day   day.Day
	Hours float64
	What  string
	Who   string
}

// A MonthLine is one line of a statement.
type MonthLine struct {
	From          day.Day
	Agreed, Done  float64 // h in the month
	Balance       float64 // h owed at its end; below 0: ahead
	Stints        int
	AgreedThrough float64 // h from the start
}

// Statement draws up a term's account month by month to the end of the day through.
// Stints before the term or after the day are left out.
func Statement(t Term, stints []Stint, through day.Day) []MonthLine {
	var out []MonthLine
	owed, before := 0.0, 0.0
	for from := t.From; from <= through; {
		year, month, _ := from.Date()
		next := min(day.Of(year, month+1, 1), through+1)
		l := MonthLine{From: from, AgreedThrough: t.Hours(next - 1)}
		l.Agreed = l.AgreedThrough - before
		before = l.AgreedThrough
		for _, s := range stints {
			if s.Day >= from && s.Day < next {
				l.Done += s.Hours
				l.Stints++
			}
		}
		owed += l.Agreed - l.Done
		l.Balance = owed
		out = append(out, l)
		from = next
	}
	return out
}
