package stead

import (
	"fmt"
	"strings"
)

// mostCure is the longest rest that a rule may ask of a drum, years: that of Toilet.Cure.
const mostCure = 5

// obey lets a rule of the place lengthen the rest of the drums.
func (s *Stead) obey() {
	for _, rule := range s.Rules {
		if rule.Kind != "drum_cure" || rule.Value > mostCure {
			continue
		}
		for i := range s.Toilets {
			s.Toilets[i].Cure = max(s.Toilets[i].Cure, rule.Value)
		}
	}
}

// bans tells a rule that forbids, and so has no value.
func (r Rule) bans() bool { return strings.HasPrefix(r.Kind, "no_") }

func (c *checker) rules() {
	for i, r := range c.s.Rules {
		w := at("rule", i, "")
		_, given := c.spots[fmt.Sprintf("rule/%d/value", i)]
		switch {
		case r.bans() && r.Value != 0:
			c.bad(w, "value", "%s forbids, and has no value; leave it out", r.Kind)
		case !r.bans() && r.Value == 0 && !given:
			c.bad(w, "value", `missing; write what the rule asks, such as value = 30`)
		case r.Kind == "drum_cure" && r.Value > mostCure:
			c.bad(w, "value", "more than %d years; where a drum may not be used at all write kind = \"no_drum\"", mostCure)
		}
		for _, t := range []struct{ key, text string }{{"text", r.Text}, {"source", r.Source}} {
			if strings.TrimSpace(t.text) == "" {
				c.bad(w, t.key, "empty; write the rule as it is worded, and whose it is")
			}
		}
	}
}
