package reckon

import (
	"slices"

	"evenstead/book"
	"evenstead/data"
	"evenstead/day"
	"evenstead/engine"
)

// A Report is the reckoning of a span: what was used and where it came from, how far
// loops close, what stands out, and what was planned and forecast beforehand.
type Report struct {
	Stead string `json:"stead"`
	*engine.Account
	Shares     []Share     `json:"shares"` // of Food, then Water
	Loops      []Closure   `json:"loops"`  // of Balances
	Exceptions []Exception `json:"exceptions"`
	Lessons    []Lesson    `json:"lessons"`  // next year's defaults, by the book
	Then       *Then       `json:"then"`     // null when it was not asked for, or can't be told
	ThenWhy    string      `json:"then_why"` // why it can't be told; empty when it can
	Book       book.Proof  `json:"book"`     // of every entry at the time of the reckoning
}

// An Exception is something done against the terms or a gate, or an entry that can't
// be reckoned with.
type Exception struct {
	Day  day.Day `json:"day,omitzero"` // 0: of no one day
	What string  `json:"what"`         // the entry in words, or the food
	Why  string  `json:"why"`          // the reason kept with it, or what is wrong
	Kind string  `json:"kind"`         // terms, gate or refused
}

// Of reckons up a replay that was asked for an account, carbon with the materials
// that the engine balances.
func Of(past *engine.Past, tab *data.Tables) *Report {
	acc := *past.Account
	acc.Balances = slices.Clone(acc.Balances)
	if c, ok := Carbon(acc.Balances, MixOf(&acc)); ok {
		acc.Balances = append(acc.Balances, c)
	}
	r := &Report{Stead: past.Stead.Name, Account: &acc, Shares: SharesOf(&acc), Exceptions: exceptions(past), Lessons: Learn(past, tab, &acc)}
	for i := range acc.Balances {
		r.Loops = append(r.Loops, ClosureOf(&acc.Balances[i]))
	}
	return r
}

func exceptions(past *engine.Past) []Exception {
	out := []Exception{}
	acc := past.Account
	for _, food := range acc.Noted.Outside {
		out = append(out, Exception{What: food, Why: "bought, and the terms do not name it", Kind: "terms"})
	}
	for _, e := range past.Entries() {
		if why := e.Body.Extra["reason"]; why != "" && e.Day >= acc.From && e.Day <= acc.To {
			out = append(out, Exception{Day: e.Day, What: e.Undated(0), Why: why, Kind: "gate"})
		}
	}
	for _, why := range past.Refused() {
		out = append(out, Exception{What: "an entry is not reckoned with", Why: why, Kind: "refused"})
	}
	return out
}
