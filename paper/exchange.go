package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/work"
)

// A Deal is one exchange of a description with what the book says of it.
type Deal struct {
	With   string
	Term   work.Term
	Stints []work.Stint
	Given  float64 // kg of food given to them
	Loose  int     // gifts to them that were not weighed
}

// Deals reads the exchanges of a description that holds since a day against the
// entries up to today.
func Deals(st *stead.Stead, since, today day.Day, entries []book.Entry) (out []Deal) {
	for _, e := range st.Exchange {
		d := Deal{With: e.With, Term: work.Term{Weekly: e.Hours, Share: e.Share, From: since}}
		copy(d.Term.Months[:], e.Year)
		for i := range entries {
			if entries[i].Day <= today {
				d.take(&entries[i])
			}
		}
		out = append(out, d)
	}
	return out
}

func (d *Deal) take(e *book.Entry) {
	switch {
	case e.Kind == book.Worked && alike(e.Body.Extra["for"], d.With):
		d.Stints = append(d.Stints, work.Stint{Day: e.Day, Hours: e.Body.Amount, What: e.Body.What, Who: e.Who})
	case e.Kind == book.Given && alike(e.Body.Extra["to"], d.With) && e.Body.Measure == unit.Mass:
		d.Given += e.Body.Amount
	case e.Kind == book.Given && alike(e.Body.Extra["to"], d.With):
		d.Loose++
	}
}

// alike tells that a name in the book means one of the description.
func alike(said, named string) bool {
	bare := func(t string) string { return strings.TrimPrefix(strings.ToLower(strings.TrimSpace(t)), "the ") }
	return said != "" && bare(said) == bare(named)
}

// exchange is the statement of hours owed and done, with room for initials.
func exchange(f *Facts) *Sheet {
	s := f.sheet("exchange")
	deals := Deals(f.Stead, f.Began, f.Today, f.Entries)
	if len(deals) == 0 {
		s.Lead, s.Rest = f.say("exchange.none"), f.say("exchange.none.rest")
		return s
	}
	s.Lead, s.Rest = f.balance(&deals[0]), f.say("exchange.rest", f.long(f.Began), f.long(f.Today))
	for i := range deals {
		d := &deals[i]
		s.add(Part{Title: f.say("exchange.with", d.With), Note: f.balance(d) + " " + f.share(d), Table: f.account(d)})
		if t := f.stints(d); len(t.Rows) > 0 {
			s.add(Part{Title: f.say("exchange.stints"), Table: t})
		}
		s.add(Part{Title: f.say("exchange.seen"), Note: f.say("exchange.seen.note"), Blanks: []string{d.With, f.say("exchange.us"), f.say("exchange.date")}})
	}
	return s
}

// balance says what is owed, or done ahead.
func (f *Facts) balance(d *Deal) string {
	lines := work.Statement(d.Term, d.Stints, f.Today)
	if len(lines) == 0 {
		return f.say("exchange.even")
	}
	owed := lines[len(lines)-1].Balance
	switch {
	case math.Abs(owed) < 0.05:
		return f.say("exchange.even")
	case owed < 0:
		return f.say("exchange.ahead", tenth(-owed), d.With)
	}
	return f.say("exchange.owed", tenth(owed), d.With)
}

func tenth(v float64) string { return fmt.Sprintf("%.1f", v) }

func (f *Facts) share(d *Deal) string {
	if d.Term.Share == 0 && d.Given == 0 && d.Loose == 0 {
		return f.say("exchange.noshare")
	}
	said := f.say("exchange.share", f.kg(d.Term.Share), f.kg(d.Term.Kg(f.Today)), f.kg(d.Given))
	if d.Loose > 0 {
		said += " " + f.say("exchange.loose", fmt.Sprint(d.Loose))
	}
	return said
}

// account is a deal month by month, and its sum.
func (f *Facts) account(d *Deal) *Table {
	t := &Table{Head: []string{f.say("col.month"), f.say("col.agreed"), f.say("col.done"), f.say("col.owed")}, Right: []bool{false, true, true, true}}
	agreed, done, owed := 0.0, 0.0, 0.0
	for _, l := range work.Statement(d.Term, d.Stints, f.Today) {
		t.Rows = append(t.Rows, []string{f.Say(fmt.Sprintf("month.%d", l.From.Month())) + fmt.Sprintf("\u00a0%d", l.From.Year()), tenth(l.Agreed), tenth(l.Done), tenth(l.Balance)})
		agreed, done, owed = agreed+l.Agreed, done+l.Done, l.Balance
	}
	t.Rows = append(t.Rows, []string{f.say("exchange.all"), tenth(agreed), tenth(done), tenth(owed)})
	return t
}

// mostStints is how many stretches of work are listed, the latest first.
const mostStints = 24

func (f *Facts) stints(d *Deal) *Table {
	t := &Table{Head: []string{f.say("col.day"), f.say("col.hours"), f.say("col.what"), f.say("col.who")}, Right: []bool{false, true, false, false}}
	for _, x := range slices.Backward(d.Stints) {
		if len(t.Rows) < mostStints {
			t.Rows = append(t.Rows, []string{f.date(x.Day), tenth(x.Hours), x.What, x.Who})
		}
	}
	return t
}
