package reckon

import (
	"math"

	"evenstead/engine"
)

// A Share is how much of a use the place carried, and how well that is known.
type Share struct {
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

// SharesOf are the shares of an account's uses: food, then water.
func SharesOf(a *engine.Account) []Share {
	var out []Share
	for _, list := range [][]engine.Use{a.Food, a.Water} {
		for i := range list {
			out = append(out, shareOf(&list[i]))
		}
	}
	return out
}

func shareOf(u *engine.Use) Share {
	s := Share{ID: u.ID, Name: u.Name}
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
