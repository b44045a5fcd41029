package engine

import (
	"fmt"
	"math"

	"evenstead/book"
	"evenstead/day"
)

// Days before and after an entry on which the book alone speaks of what it is
// about: the rhythm in which such things are done, doubled (common practice).
const (
	quietSeason = 21  // picking, foraging, eggs, honey, putting up, spreading
	quietDaily  = 7   // feeding, watering
	quietMonth  = 45  // buying
	quietYear   = 180 // wood and bottles
)

// hear makes the deeds of the entries that fall within the days of the model up
// to today. It never fails: an entry that moves nothing, or can't be reckoned,
// is remarked on.
func (b *builder) hear() error {
	m := b.m
	m.deedAt = nil
	if b.past == nil {
		return nil
	}
	var heard []understood
	first := b.past.firstFrom(m.start - quietYear) // what was done just before is still spoken of
	for i := first; i < len(b.past.entries) && b.past.entries[i].Day <= m.today+quietYear; i++ {
		e := &b.past.entries[i]
		if e.Day-ahead(e.Kind) > m.today {
			continue
		}
		b.entry = e
		do, err := b.understand(e)
		if err != nil {
			b.refuse(e, err)
		}
		if err == nil && do != nil && e.Day >= m.start && e.Day <= m.today && !b.past.done {
			heard = append(heard, understood{deed{i, do}, len(m.kinds)})
		}
	}
	m.deedAt = make([]int32, 1, m.skip+2)
	for _, u := range heard {
		e := &b.past.entries[u.deed.entry]
		if b.past.refused(e) {
			continue
		}
		for len(m.deedAt) <= int(e.Day-m.start) {
			m.deedAt = append(m.deedAt, int32(len(m.deeds)))
		}
		b.entry = e
		if u.kinds < len(m.kinds) {
			var err error
			if u.deed.do, err = b.understand(e); err != nil || u.deed.do == nil {
				continue
			}
		}
		m.deeds = append(m.deeds, u.deed)
	}
	for len(m.deedAt) < m.skip+2 {
		m.deedAt = append(m.deedAt, int32(len(m.deeds)))
	}
	return nil
}

// understood is what an entry does as long as there are no more kinds of food than
// when it was understood.
type understood struct {
	deed  deed
	kinds int
}

// ahead is how many days before an entry of a kind the replay knows of it: the book
// alone speaks on those days of what it is about, or a stand is not sown then because
// it was sown on this one.
func ahead(k book.Kind) day.Day {
	switch k {
	case book.FuelIn:
		return quietYear
	case book.Sown, book.SetOut:
		return nearSowing
	case book.Bought:
		return quietMonth
	case book.Picked, book.Foraged, book.Taken, book.PutUp, book.Spread, book.Emptied, book.Opened, book.Closed:
		return quietSeason
	case book.Fed, book.Watered, book.Hauled:
		return quietDaily
	}
	return 0
}

// refuse keeps why an entry up to today can't be reckoned with; a later one may fit
// what the stead is by then.
func (b *builder) refuse(e *book.Entry, err error) {
	if e.Day <= b.m.today {
		b.past.refuse(e, err)
	}
}

// understand is what an entry does; nil when it moves nothing that is reckoned.
// It is asked until every kind of food has its place.
func (b *builder) understand(e *book.Entry) (func(*runner), error) {
	switch e.Kind {
	case book.Picked:
		return b.pickedDeed(e)
	case book.Foraged, book.Taken, book.Received, book.Bought:
		return b.broughtDeed(e)
	case book.PutUp:
		return b.putUpDeed(e)
	case book.Eaten, book.Lost, book.Given:
		return b.takenDeed(e)
	case book.Counted:
		return b.countedDeed(e)
	case book.Dipped, book.Watered, book.Moved, book.Treated:
		return b.waterDeed(e)
	case book.Fed:
		return b.fedDeed(e)
	case book.Spread, book.Emptied, book.Opened, book.Closed:
		return b.wasteDeed(e)
	case book.Cooked, book.FuelIn:
		return b.fuelDeed(e)
	case book.Hauled:
		return b.hauledDeed(e)
	}
	return nil, nil
}

// quietly widens the spells of a thing by those about the entry at hand.
func (b *builder) quietly(t *spells, within int) {
	*t = t.about(int(b.entry.Day-b.m.start), within)
}

// plotOf finds a bed or stand by name.
func (b *builder) plotOf(name string) (int, error) {
	if p := b.plotNamed(name); p >= 0 {
		return p, nil
	}
	return 0, fmt.Errorf("there is no bed or stand %q", name)
}

// absent is a spell that the book says a person was away or ill.
type absent struct {
	who      string
	from, to day.Day // to is not in it
	ill      bool
}

// absences lists who was away or ill by the book, and for how long: a day when
// no time is written.
func (p *Past) absences() []absent {
	var out []absent
	for _, i := range p.list().absent {
		e := &p.entries[i]
		days := max(1, int(math.Round(e.Body.Amount/24)))
		who := e.Body.What
		if who == "" {
			who = e.Who
		}
		out = append(out, absent{who, e.Day, e.Day + day.Day(days), e.Kind == book.Ill})
	}
	return out
}
