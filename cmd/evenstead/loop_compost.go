package main

import (
	"fmt"
	"math"

	"evenstead/fertility"
	"evenstead/unit"
)

// moistHeap is the moisture at which a heap works well (Cornell: 50-60 %).
const moistHeap = 0.55

// compost tells the heaps: what is on them, how soon it is ripe, and their readings.
func (s *loopSheet) compost(p *printer) error {
	c := s.now.Compost
	p.head("Compost, all heaps together")
	p.wrap("- ", fmt.Sprintf("fresh %s with %.0f g of nitrogen, ripe %s with %.0f g", s.say(c.Fresh, unit.Mass), 1000*c.FreshN, s.say(c.Ripe, unit.Mass), 1000*c.RipeN))
	clim := s.r.Options.Climate
	at := min(364, s.today().Time().YearDay()-1)
	air := (clim.TMin[at] + clim.TMax[at]) / 2
	ripe := func(temp float64) string {
		d := fertility.RipeDays(temp, moistHeap)
		if math.IsInf(d, 1) {
			return "never"
		}
		return daysSaid(d)
	}
	p.wrap("- ", fmt.Sprintf("half of a heap's mass goes in %s at the season's %s, in %s at %s: stable by then (%.0f %% moist; Karnchanawong and Suriyanon 2011, Haug 1993 from memory)",
		ripe(air), s.say(air, unit.Temperature), ripe(45), s.say(45, unit.Temperature), 100*moistHeap))
	heaps, err := s.past.HeapGates()
	if err != nil {
		return blame(err)
	}
	for _, h := range heaps {
		met := ""
		for _, r := range h.Rules {
			if r.Allowed {
				met += ", " + r.ID
			}
		}
		if met == "" {
			met = ", none of the rules of heat"
		}
		p.wrap("- ", fmt.Sprintf("%s: %s, the highest %s; they meet %s", h.Name, counted(h.Readings, "reading", "readings"), s.say(h.Highest, unit.Temperature), met[2:]))
	}
	return nil
}
