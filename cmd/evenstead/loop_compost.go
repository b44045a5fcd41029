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
	s.worms(p, air)
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

// worms tells what the worms of the heaps eat in the season's warmth, against what
// comes to the heaps in a day.
func (s *loopSheet) worms(p *printer, air float64) {
	kg := 0.0
	for _, c := range s.stead().Composts {
		kg += c.Worms
	}
	comes := s.between("mass", []string{"scraps", "digester", "hens and bees", "wild land"}, []string{"compost"}) / 365
	if kg == 0 {
		worms, bed := fertility.WormsFor(comes)
		p.wrap("- ", fmt.Sprintf("no worms are described: %s of them on %s would eat the %s that come in a day at 15 to 25 °C (worms under [[compost]]; from memory of US extension sheets)",
			s.say(worms, unit.Mass), s.say(bed, unit.Area), s.say(comes, unit.Mass)))
		return
	}
	eat := fertility.WormFeed(kg, air)
	line := fmt.Sprintf("worms: %s eat about %s a day at the season's %s, half their mass at 15 to 25 °C, none under 4 or over 35 (from memory of US extension sheets); %s a day comes to the heaps",
		s.say(kg, unit.Mass), s.say(eat, unit.Mass), s.say(air, unit.Temperature), s.say(comes, unit.Mass))
	if eat == 0 {
		line += "; keep them from frost and heat indoors or deep in straw"
	}
	p.wrap("- ", line)
}
