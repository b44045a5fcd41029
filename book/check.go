package book

import (
	"errors"
	"fmt"

	"evenstead/unit"
)

// heaviest is the most food in kg a square metre may give in one picking when
// the crop is not known. Common practice: a whole season of outdoor tomatoes or
// cabbages seldom passes 15 kg/m2.
const heaviest = 20

// Check reports why an entry cannot be true of this stead: Valid, and dates
// outside the stay, names not known, more than a bed, tank or crop can give,
// and a drum spread before its date, which needs Extra["reason"].
func Check(e Entry, c Context) error {
	return errors.Join(e.Valid(), c.inStay(e), c.named(e), c.ends(e), c.tankHolds(e), c.groundGives(e), c.gate(e))
}

func (c Context) inStay(e Entry) error {
	switch {
	case e.Day > c.Today:
		return fmt.Errorf("%s is in the future: today is %s", e.Day, c.Today)
	case c.From != 0 && e.Day < c.From:
		return fmt.Errorf("%s is before the stay, which began %s", e.Day, c.From)
	}
	return nil
}

func (c Context) named(e Entry) error {
	r, _ := RuleOf(e.Kind)
	return errors.Join(c.known(e.Body.What, r.What), c.known(e.Body.Where, r.Where))
}

func (c Context) known(id string, sorts []Sort) error {
	if id == "" || !c.knows(sorts) {
		return nil
	}
	if _, ok := c.find(id, sorts); ok {
		return nil
	}
	return c.unknown(id, sorts)
}

// ends checks the other end of water that is moved or poured.
func (c Context) ends(e Entry) error {
	switch e.Kind {
	case Moved:
		return c.known(e.Body.Extra["to"], []Sort{Tank, Bed, Tree})
	case Watered:
		return c.known(e.Body.Extra["from"], []Sort{Tank})
	}
	return nil
}

func (c Context) tankHolds(e Entry) error {
	tank, ok := c.find(e.Body.Where, []Sort{Tank})
	if !ok || tank.Holds == 0 || e.Body.Measure != unit.Volume || e.Kind != Dipped && e.Kind != Moved {
		return nil
	}
	if e.Body.Amount > tank.Holds*1.02 { // a brimful tank and a coarse stick
		return fmt.Errorf("%s cannot hold %s: it holds %s", tank.ID, c.show(e.Body), show(tank.Holds, unit.Volume))
	}
	return nil
}

// groundGives bounds a picking by the bed it came from, or by all the beds and stands.
func (c Context) groundGives(e Entry) error {
	if e.Kind != Picked || e.Body.Measure != unit.Mass {
		return nil
	}
	rate := float64(heaviest)
	if crop, ok := c.find(e.Body.What, []Sort{Crop}); ok && crop.Yield > 0 {
		rate = crop.Yield
	}
	where, area := "all the ground", c.area(ground)
	if place, ok := c.find(e.Body.Where, ground); ok && place.Area > 0 {
		where, area = place.ID, place.Area
	}
	if most := rate * area; area > 0 && e.Body.Amount > most {
		return fmt.Errorf("%s of %s is more than %s (%s) can give: at most %s; check the unit",
			c.show(e.Body), e.Body.What, where, show(area, unit.Area), show(most, unit.Mass))
	}
	return nil
}

// ErrGate says that a rule of safety stands against an entry; Because answers it.
var ErrGate = errors.New("wait, or give a reason that is kept")

func (c Context) gate(e Entry) error {
	if e.Body.Extra["reason"] != "" {
		return nil
	}
	drum, ok := c.find(Moves(e).What, []Sort{Drum})
	if ok && e.Day < drum.Until {
		return fmt.Errorf("%s must stay closed until %s: %w", drum.ID, drum.Until, ErrGate)
	}
	return errors.Join(c.barred(e), c.stopped(e))
}

func (c Context) show(b Body) string {
	return unit.Format(b.Amount, b.Measure, c.System)
}
