package stead

import "fmt"

// poisons refuses what must not be eaten, wherever it is described.
func (c *checker) poisons() {
	for i, l := range c.s.Lots {
		c.poison(at("lot", i, ""), l.Food)
	}
	for i, f := range c.s.Forage {
		c.poison(at("forage", i, ""), f.Food)
	}
	for i, b := range c.s.Terms.Bought {
		c.poison(where{fmt.Sprintf("terms/bought/%d", i), fmt.Sprintf("terms, bought %d", i+1)}, b.Food)
	}
}

func (c *checker) poison(w where, food string) {
	for _, h := range c.tab.HazardsOf(food) {
		if h.Stop {
			c.bad(w, "food", "%s; %s. Leave it out (%s)", h.Hazard, h.Rule, h.Source)
			return
		}
	}
}
