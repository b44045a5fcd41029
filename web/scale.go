package web

import (
	"math"
	"time"

	"evenstead/day"
)

// A ruler is the time scale that all drawings of a page share: today at the
// left, one step a week. A past of a quarter of its length may stand left of it,
// at negative shares, so that today is one fifth along the whole.
type ruler struct {
	today day.Day
	weeks int // at least 1
}

// x is the share of the width at which a day begins, not bounded to the drawing.
func (r ruler) x(d day.Day) float64 { return float64(d-r.today) / float64(7*r.weeks) }

// past is how many weeks stand left of today.
func (r ruler) past() int { return r.weeks / 4 }

// A monthSpan is the part of a month that lies on the ruler, as shares of the width.
type monthSpan struct {
	month    time.Month
	year     int
	from, to float64
	whole    bool // starts on the ruler
}

// months cuts the time ahead into months.
func (r ruler) months() []monthSpan { return r.spans(r.today, r.today+day.Day(7*r.weeks)) }

// pastMonths cuts the time left of today into months.
func (r ruler) pastMonths() []monthSpan { return r.spans(r.today-day.Day(7*r.past()), r.today) }

func (r ruler) spans(from, to day.Day) []monthSpan {
	var list []monthSpan
	for d := from; d < to; {
		y, m, dom := d.Date()
		next := day.Of(y, m+1, 1)
		list = append(list, monthSpan{m, y, r.x(d), r.x(min(next, to)), dom == 1})
		d = next
	}
	return list
}

// week is the day on which a week begins.
func (r ruler) week(i int) day.Day { return r.today + day.Day(7*i) }

// A coverRule is the square-root scale of days of cover: near days stand far
// apart, so that both six days and three hundred can be read.
type coverRule struct{ days int }

// x is the share of the width at a number of days, within 0 and 1.
func (c coverRule) x(days float64) float64 {
	return math.Sqrt(clamp(days/float64(max(c.days, 1)), 0, 1))
}

// A coverTick is a mark on the cover rule.
type coverTick struct {
	key  string // of its word: "tick.week"
	days int
}

// ticks are the marks that fit: the last stands at the end, or not at all.
func (c coverRule) ticks() []coverTick {
	all := []coverTick{{"tick.week", 7}, {"tick.month", 30}, {"tick.quarter", 91}, {"tick.half", 182}, {"tick.year", 365}, {"tick.two", 730}}
	var list []coverTick
	for _, t := range all {
		if t.days <= c.days {
			list = append(list, t)
		}
	}
	return list
}
