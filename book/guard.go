package book

import (
	"fmt"
	"strings"
)

// A Guard is what can harm in the food or the work an entry speaks of, told where it
// is used.
type Guard struct {
	What   string // the food, plant or part in words
	Why    string // what harms, and what guards against it
	Source string
	Stop   bool // it is not eaten or put up so; a reason given is kept
}

// A gateError says what stands against an entry, and may be answered with a
// reason as any gate.
type gateError string

func (e gateError) Error() string { return string(e) }

// Is makes a gateError count as ErrGate.
func (e gateError) Is(target error) bool { return target == ErrGate }

// guards are what the context knows to be told of an entry; nil when nothing is
// asked of it.
func (c Context) guards(e Entry) []Guard {
	if c.Guards == nil {
		return nil
	}
	return c.Guards(e)
}

// stopped tells the first guard that an entry must not pass without a reason. A
// plant that is listed only to be left alone is stopped even where nothing more
// is known of it.
func (c Context) stopped(e Entry) error {
	for _, g := range c.guards(e) {
		if g.Stop {
			return gateError(fmt.Sprintf("%s: %s (%s): leave it, or give a reason that is kept", g.What, g.Why, g.Source))
		}
	}
	if n, ok := c.find(e.Body.What, edible); ok && n.Shunned && uses(e.Kind) {
		return gateError(spoken(n.ID) + " is listed as one to leave alone: leave it, or give a reason that is kept")
	}
	return nil
}

// uses tells whether an entry of a kind brings food to hand or to the table.
func uses(k Kind) bool {
	switch k {
	case Picked, Foraged, Taken, PutUp, Eaten, Received, Bought:
		return true
	}
	return false
}

// care fills in the cautions of a reading that may be saved, and those that a
// reason overrules.
func (r *Reading) care(c Context) {
	if r.Cautions = nil; r.Err == nil {
		r.Cautions = c.Cautions(r.Entry)
	}
}

// Cautions are what is to be told of an entry, each with its source; none is nil.
func (c Context) Cautions(e Entry) (said []string) {
	for _, g := range c.guards(e) {
		said = append(said, strings.TrimSuffix(g.What+": "+g.Why, ".")+" ("+g.Source+")")
	}
	return said
}
