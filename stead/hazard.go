package stead

import "fmt"

// poisons refuses what must not be eaten, wherever it is described.
func (c *checker) poisons() {
	for i, l := range c.s.Lots {
		c.poison(at("lot", i, ""), "food", l.Food)
	}
	for i, f := range c.s.Forage {
		c.poison(at("forage", i, ""), "food", f.Food)
	}
	for i, f := range c.s.Foods {
		c.poison(at("food", i, f.Name), "like", f.Like)
	}
	for i, b := range c.s.Terms.Bought {
		c.poison(where{fmt.Sprintf("terms/bought/%d", i), fmt.Sprintf("terms, bought %d", i+1)}, "food", b.Food)
	}
}

func (c *checker) poison(w where, key, food string) {
	for _, h := range c.tab.HazardsOf(food) {
		if h.Stop {
			c.bad(w, key, "%s; %s. Leave it out (%s)", h.Hazard, h.Rule, h.Source)
			return
		}
	}
}
