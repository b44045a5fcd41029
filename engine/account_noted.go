package engine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"evenstead/book"
	"evenstead/day"
	"evenstead/stead"
)

// Noted is what the book says that moves nothing the engine reckons.
type Noted struct {
	Spent   []Spending `json:"spent"`
	Rubbish []Waste    `json:"rubbish"`
	Outside []string   `json:"outside"` // bought foods that the terms don't name, by name
	Wood    float64    `json:"wood_kg"` // brought in
	Bottled float64    `json:"bottled_kg"`
	MeterMJ float64    `json:"meter_mj"`
	Hauled  int        `json:"hauled"` // trips noted
}

// A Spending is money that an entry names.
type Spending struct {
	Day    day.Day `json:"day"`
	What   string  `json:"what"`
	Price  string  `json:"price"`  // as written
	Amount float64 `json:"amount"` // the number in it; 0: none was found
}

// A Waste is something sent off the place, in its SI unit.
type Waste struct {
	What    string  `json:"what"`
	Amount  float64 `json:"amount"`
	Measure string  `json:"measure"`
}

func (n *Noted) take(e *book.Entry, p *Past) {
	if price := e.Body.Extra["price"]; price != "" {
		n.Spent = append(n.Spent, Spending{e.Day, e.Body.What, price, moneyIn(price)})
	}
	switch e.Kind {
	case book.Binned:
		n.bin(e)
	case book.Bought:
		if food := p.foodOf(e.Body.What); !p.allowed(food) && !slices.Contains(n.Outside, e.Body.What) {
			n.Outside = append(n.Outside, e.Body.What)
		}
	case book.FuelIn:
		switch e.Body.What {
		case "wood":
			n.Wood += e.Body.Amount
		case "bottle":
			n.Bottled += e.Body.Amount
		}
	case book.Meter:
		n.MeterMJ += e.Body.Amount
	case book.Hauled:
		n.Hauled++
	}
}

func (n *Noted) bin(e *book.Entry) {
	what := cmp.Or(e.Body.What, "rubbish")
	for i := range n.Rubbish {
		if w := &n.Rubbish[i]; w.What == what && w.Measure == string(e.Body.Measure) {
			w.Amount += e.Body.Amount
			return
		}
	}
	n.Rubbish = append(n.Rubbish, Waste{what, e.Body.Amount, string(e.Body.Measure)})
}

// allowed tells whether the terms name a food as bought.
func (p *Past) allowed(food string) bool {
	return slices.ContainsFunc(p.Stead.Terms.Bought, func(b stead.Bought) bool { return b.Food == food })
}

// moneyIn finds the first number in a price such as "$4.50" or "4,50". A comma
// before one or two digits is a decimal mark, since no coin asks for thousandths.
func moneyIn(price string) float64 {
	at := strings.IndexAny(price, "0123456789")
	if at < 0 {
		return 0
	}
	end := at
	for end < len(price) && strings.ContainsRune("0123456789.,", rune(price[end])) {
		end++
	}
	text := strings.TrimRight(price[at:end], ".,")
	if i := strings.LastIndex(text, ","); i >= 0 && len(text)-i <= 3 && !strings.Contains(text, ".") {
		text = text[:i] + "." + text[i+1:] // a decimal mark
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	if err != nil {
		return 0
	}
	return v
}
