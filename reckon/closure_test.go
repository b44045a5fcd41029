package reckon

import (
	"math"
	"testing"

	"evenstead/engine"
)

// TestClosureByHand: 10 come in to the first store and, with the 10 that come back,
// 20 go on to the second, which sends half of them back. Each unit is in either
// store 1 / (1 - 1/2) = 2 times, so half of the throughflow of 20 + 20 is cycled,
// and each of the 10 that come in passes 4 stores.
func TestClosureByHand(t *testing.T) {
	told := func(v float64) engine.Part { return engine.Part{Told: v} }
	b := engine.Balance{Material: "nitrogen", Unit: "kg", Flows: []engine.AccountFlow{
		{From: "trade", To: "soil", Part: told(10)}, {From: "soil", To: "plants", Part: told(20)}, {From: "plants", To: "soil", Part: told(10)},
		{From: "plants", To: "air", Part: told(4)}, {From: "plants", To: "trade", Part: told(5)},
	}, Stores: []engine.StoreChange{{Node: "soil"}, {Node: "plants", Before: 2, After: 3}, {Node: "larder", Before: 7, After: 7}}}
	c := ClosureOf(&b)
	if c.Why != "" || c.Through != 40 || math.Abs(c.Cycling-0.5) > 1e-12 || math.Abs(c.Path-4) > 1e-12 || c.Stored != 1 {
		t.Errorf("%+v", c)
	}
	if len(c.Brought) != 1 || len(c.Left) != 2 || c.Left[0].Node != "trade" || c.Left[1].All() != 4 {
		t.Errorf("brought %+v, left %+v", c.Brought, c.Left)
	}
	if c := ClosureOf(&engine.Balance{}); c.Why != "nothing moved" {
		t.Errorf("%+v", c)
	}
}
