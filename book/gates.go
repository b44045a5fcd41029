package book

import (
	"fmt"
	"strings"

	"evenstead/day"
	"evenstead/unit"
)

// A Bar is a rule of safety that stands against entries of one thing at one place.
type Bar struct {
	What string  // as Move has it: "urine", "drum 1", "feed", "picking"
	At   string  // bed, tree or digester; "": wherever it goes
	Last day.Day // entries of later days are barred; 0: those of every day
	From day.Day // with Free, only entries from this day on are barred
	Free day.Day // entries of this day and later are free; 0: none is
	Most float64 // kg; larger entries are barred, smaller ones are not; 0: whatever the amount
	Why  string  // why, in a clause

	Rule, Source string
}

// A Move is what an entry takes to the ground or opens.
type Move struct {
	What string // "urine", "compost", "digestate", "manure", "ash", "greywater", a drum's id, "feed", "picking"; "": nothing
	To   string // bed, tree or digester; "": not said
}

// Moves tells what an entry takes to the ground, opens or picks, and where. A drum
// that is only opened counts, for it is then no longer shut.
func Moves(e Entry) Move {
	b := e.Body
	switch e.Kind {
	case Spread:
		return Move{thing(b.What), b.Where}
	case Emptied:
		return Move{thing(b.Where), b.Extra["to"]}
	case Opened:
		if t := thing(b.Where); strings.HasPrefix(t, "drum ") {
			return Move{t, b.Extra["to"]}
		}
	case Picked:
		return Move{"picking", b.Where}
	case Fed:
		if b.Measure == unit.Mass {
			return Move{"feed", b.Where}
		}
	}
	return Move{}
}

// things are the words that name what goes to the ground, the first that fits.
var groundThings = []struct{ what, words string }{
	{"urine", "urine"}, {"digestate", "digest effluent slurry"}, {"manure", "manure litter droppings dung"},
	{"ash", "ash"}, {"greywater", "greywater"}, {"compost", "compost bin heap"},
}

// thing is the class of a name, a drum's own id, or "".
func thing(name string) string {
	low := strings.ToLower(name)
	if strings.HasPrefix(low, "drum ") {
		return low
	}
	words := strings.FieldsFunc(low, func(r rune) bool { return r == ' ' || r == '_' || r == '-' })
	for _, t := range groundThings {
		for begin := range strings.FieldsSeq(t.words) {
			for _, w := range words {
				if strings.HasPrefix(w, begin) {
					return t.what
				}
			}
		}
	}
	return ""
}

// barred tells the first bar that stands against an entry.
func (c Context) barred(e Entry) error {
	m := Moves(e)
	if m.What == "" {
		return nil
	}
	for _, b := range c.Bars {
		if !b.stands(m, e) {
			continue
		}
		return fmt.Errorf("%s: %s (%s; %s): %w", b.about(m), b.Why, b.Rule, b.Source, ErrGate)
	}
	return nil
}

// stands tells whether a bar is against an entry that moves m.
func (b Bar) stands(m Move, e Entry) bool {
	switch {
	case b.What != m.What || b.At != "" && b.At != m.To:
		return false
	case b.Free != 0:
		return e.Day >= b.From && e.Day < b.Free
	case b.Last != 0 && e.Day <= b.Last:
		return false
	}
	return b.Most == 0 || e.Body.Amount > b.Most
}

func (b Bar) about(m Move) string {
	if m.To == "" {
		return m.What
	}
	prep := map[string]string{"feed": " to ", "picking": " from "}[m.What]
	if prep == "" {
		prep = " on "
	}
	return m.What + prep + m.To
}
