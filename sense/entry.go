package sense

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"time"

	"evenstead/book"
	"evenstead/day"
	"evenstead/unit"
)

// How far apart entries of the slow measures lie, days: a dry rain gauge, so that
// the book still says that it is read, and the weight of hives.
const (
	dryDays  = 14
	hiveDays = 7
)

// dip is the entry of a tank's first level of a day: the book takes a day's
// entries as of its morning.
func (g *Gauge) dip(r Reading) (book.Entry, bool) {
	if g.Measure != Level {
		return book.Entry{}, false
	}
	if r.Kind == unit.Share {
		r.Value = min(r.Value, 1) // a brimful tank reads a little over
	}
	e := book.Entry{Day: g.Day, Time: r.At.Format("15:04"), Kind: book.Dipped, Note: "by sensor",
		Body: book.Body{Where: g.Store, Amount: r.Value, Measure: r.Kind}}
	return g.named(e)
}

// sum is the entry that a day's readings come to when it is over: of a freezer
// the warmest, of a heap or drum the coolest, since that is what their rules ask
// for, of other places the mean.
func (g *Gauge) sum() (book.Entry, bool) {
	e := book.Entry{Day: g.Day}
	switch g.Measure {
	case Temperature:
		v, how := g.Sum/float64(g.N), "mean"
		switch g.Sort {
		case book.Freezer:
			v, how = g.Most, "warmest"
		case book.Compost, book.Drum:
			v, how = g.Least, "coolest"
		}
		e.Kind, e.Body = book.Heat, book.Body{Where: g.Store, Amount: tenth(v), Measure: unit.Temperature}
		e.Note = fmt.Sprintf("by sensor, the %s of %d readings", how, g.N)
	case Rain:
		if tenth(g.Sum) == 0 && g.Day-g.Wrote < dryDays {
			return e, false
		}
		e.Kind, e.Body, e.Note = book.Rain, book.Body{Amount: tenth(g.Sum), Measure: unit.Depth}, "by sensor, "+g.Store
	case Weight:
		if g.Day-g.Wrote < hiveDays {
			return e, false
		}
		e.Kind, e.Note = book.Noted, fmt.Sprintf("%s: %.1f kg by sensor, the mean of %d readings", g.Store, g.Sum/float64(g.N), g.N)
	default:
		return e, false
	}
	return g.named(e)
}

// named gives an entry the id that this gauge's entry of this day always has, so
// that it stands once however often it is made. Days that are written are not
// gone back to.
func (g *Gauge) named(e book.Entry) (book.Entry, bool) {
	if e.Day <= g.Wrote {
		return e, false
	}
	key := sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%s", g.Store, g.Measure, e.Day))
	id, err := book.NewID(e.Day.Time(), bytes.NewReader(key[:]))
	if err != nil {
		return e, false
	}
	e.ID, g.Wrote = id, e.Day
	return e, true
}

func tenth(v float64) float64 {
	const tenths = 10
	if v < 0 {
		return -tenth(-v)
	}
	return float64(int(v*tenths+0.5)) / tenths
}

// localDay is the day of a moment in the zone that now is in.
func localDay(at, now time.Time) day.Day { return day.Today(at.In(now.Location())) }
