package main

import (
	"context"
	"fmt"
	"math"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/unit"
)

var reckonCommand = command{"reckon", "[flags]", "adds up what share of life the place carried over a span, and how much of that is written", runReckon}

// accounting is what reckon is asked.
type accounting struct {
	at
	from, to   string
	us, asJSON bool
}

// A reckoning is what the reckon command tells.
type reckoning struct {
	Stead string `json:"stead"`
	*engine.Account
	Shares []share    `json:"shares"` // of Food, then Water
	Loops  []closure  `json:"loops"`
	Book   book.Proof `json:"book"` // of every entry at the time of the reckoning
}

// A share is how much of a use the place carried, and how well that is known.
type share struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	OfNeed  *float64 `json:"of_need"` // used over need; absent where none is stated
	Carried *float64 `json:"carried"` // absent where nothing was used
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Life    *float64 `json:"life"`    // carried, of the need or the use, whichever is greater
	Written *float64 `json:"written"` // share of the use that the book tells
	Came    *float64 `json:"came"`    // share whose coming the book or description tells
}

func runReckon(ctx context.Context, a *args) error {
	q := new(accounting)
	q.fileFlag(a.flags)
	q.todayFlag(a.flags)
	a.flags.StringVar(&q.from, "from", "", "first `date` reckoned (default: the first day of the stay)")
	a.flags.StringVar(&q.to, "to", "", "last `date` reckoned (default: yesterday)")
	a.flags.BoolVar(&q.us, "us", false, "print US units")
	a.flags.BoolVar(&q.asJSON, "json", false, "print JSON")
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) > 0 {
		return given(fmt.Errorf("reckon takes no words; for another file: evenstead reckon --stead %s", words[0]))
	}
	return q.with(ctx, func(h *hearth.Home) error {
		r, err := q.reckon(ctx, h)
		if err != nil {
			return err
		}
		if !q.asJSON {
			return writeReckoning(a.out, r, system(q.us))
		}
		return writeJSON(a.out, r)
	})
}

// reckon replays the stead with an account of the span.
func (q *accounting) reckon(ctx context.Context, h *hearth.Home) (*reckoning, error) {
	today, err := q.day()
	if err != nil {
		return nil, err
	}
	span, err := q.span(today)
	if err != nil {
		return nil, err
	}
	ready, err := h.Reckon(ctx, hearth.Ask{Today: today, Span: &span, Members: usualYears})
	if err != nil {
		return nil, blame(err)
	}
	past := ready.Past
	if acc := past.Account; acc.From > acc.To {
		return nil, given(fmt.Errorf("there is no day to reckon from %s to %s: the stay began on %s, and today, %s, is not over", span.From, span.To, past.Known.Start, today))
	}
	r := &reckoning{Stead: past.Stead.Name, Account: past.Account, Shares: sharesOf(past.Account)}
	for i := range r.Balances {
		r.Loops = append(r.Loops, closureOf(&r.Balances[i]))
	}
	r.Book, err = proof(ctx, h)
	return r, err
}

func (q *accounting) span(today day.Day) (engine.Span, error) {
	from, err := dayNamed("from", q.from, math.MinInt32)
	if err != nil {
		return engine.Span{}, err
	}
	to, err := dayNamed("to", q.to, today-1)
	if err == nil && q.from != "" && from > to {
		err = given(fmt.Errorf("--from %s is after --to %s: turn them round", from, to))
	}
	return engine.Span{From: from, To: to}, err
}

func sharesOf(a *engine.Account) []share {
	var out []share
	for _, list := range [][]engine.Use{a.Food, a.Water} {
		for i := range list {
			out = append(out, shareOf(&list[i]))
		}
	}
	return out
}

func shareOf(u *engine.Use) share {
	s := share{ID: u.ID, Name: u.Name}
	used := u.Used.All()
	if u.Need > 0 {
		s.OfNeed = stated(used / u.Need)
	}
	if used <= 0 {
		return s
	}
	carried, low, high := u.Carried()
	s.Life = stated(carried * used / max(used, u.Need))
	s.Carried, s.Low, s.High, s.Written = stated(carried), stated(low), stated(high), stated(u.Used.Told/used)
	came := 0.0
	for o, p := range u.By {
		if engine.Origin(o) != engine.NotRecorded {
			came += p.Told
		}
	}
	s.Came = stated(came / used)
	return s
}

// stated points at a share, nil where it is not a number.
func stated(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	return &v
}

// used prints an amount in the unit a nutrient or a use is counted in.
func used(v float64, in string, sys unit.System) string {
	if in == "g" {
		return unit.Format(v/1000, unit.Mass, sys)
	}
	if _, ok := kindOf[in]; ok {
		return amount(v, in, sys)
	}
	return unit.Format(v, unit.Number, sys) + " " + in
}
