package sums

import (
	"fmt"

	"evenstead/data"
	"evenstead/unit"
	"evenstead/work"
)

func workSums(t *data.Tables) []Sum { return []Sum{tripSum(t), exchangeSum()} }

func tripSum(t *data.Tables) Sum {
	return Sum{
		Name: "trip", Title: "Is a trip worth it", Group: Work,
		About: "Minutes and food energy of fetching a load by bicycle and trailer, out empty and home loaded, and what it brings if it is food. Loading and talk are not counted.",
		Inputs: []Input{
			amount("distance", "one way", unit.Length, "", 10, 1e5),
			amount("load", "brought home on a trip", unit.Mass, "", 0.1, 300),
			amount("climb", "risen on the way home", unit.Length, "0 m", 0, 2000),
			amount("rider", "mass", unit.Mass, "70 kg", 20, 200),
			amount("speed", "loaded, on the flat", unit.Speed, "12 km/h", 0.5, 12),
			maybe(amount("amount", "to fetch in all", unit.Mass, "", 0.1, 1e5)),
			maybe(choice("food", "what is fetched, if it is food", "", foodIDs(t)...)),
		},
		Source:   "rolling, air and climb against muscle at 24 % (constants from memory)",
		Cautions: []string{"Keep the load within what the hitch and brakes are made for, low and tied; walk it down steep hills."},
		Example: Example{
			Given:   []Pair{{"distance", "10 km"}, {"load", "45 kg"}, {"rider", "70 kg"}, {"speed", "15 km/h"}},
			Printed: []Printed{{"riding", "80 min", 80.0 / 60, 1e-9}, {"power on the way home", "88.2 W", 88.2, 0.05}},
			Source:  "150 kg all up at 15 km/h, rolling 0.008, CdA 0.8 m2 (computed)",
		},
		do: trip,
	}
}

func trip(s *sheet) error {
	h := work.Haul{Distance: s.num("distance"), Climb: s.num("climb"), Load: s.num("load"), Rider: s.num("rider"), Speed: s.num("speed")}
	spent := h.Kcal() * kcal
	s.line("riding", h.Minutes()/60, unit.Time)
	s.food("spent above rest", spent, "a trip")
	s.line("power on the way home", h.Watts(), unit.Power)
	s.count("spent for a kilogram", h.Kcal()/h.Load, "kcal")
	if s.has("amount") {
		n := float64(work.Trips(s.num("amount"), h.Load))
		s.count("trips", n, "")
		s.line("riding in all", n*h.Minutes()/60, unit.Time)
	}
	if f, ok := s.tables.Food(s.text("food")); ok {
		brought := h.Load * (1 - f.Refuse) * f.Nutrient[0]
		s.food("food brought", brought, "a trip")
		s.count("brought for each kcal spent", brought/spent, "kcal")
	}
	if h.Load > 140 {
		s.warn("A flatbed trailer takes 100 to 140 kg, a light one 45 to 70 (common practice).")
	}
	s.step("%s out and home at %s, %s loaded, is %s and %s kcal.", s.say(h.Distance, unit.Length), s.say(h.Speed, unit.Speed), s.say(h.Load, unit.Mass),
		s.say(h.Minutes()/60, unit.Time), s.number(h.Kcal()))
	return nil
}

func exchangeSum() Sum {
	return Sum{
		Name: "exchange", Title: "Balance of an exchange", Group: Work,
		About: "Hours agreed with the owner of the land, hours done, and what is still owed.",
		Inputs: []Input{
			amount("weekly", "agreed a week", unit.Time, "", 0.1, 80),
			amount("weeks", "so far", unit.Number, "", 0.1, 600),
			list("done", "hours done, entry by entry", unit.Time, 1, 1000, 0, 200),
		},
		Source:   "hours agreed less hours done",
		Cautions: []string{"Write it down and have both initial it; work for land may be counted as pay where you are: ask (common practice)."},
		Example: Example{
			Given:   []Pair{{"weekly", "6 h"}, {"weeks", "4"}, {"done", "5, 7, 6.5"}},
			Printed: []Printed{{"still owed", "5.5 h", 5.5, 1e-9}},
			Source:  "arithmetic (computed)",
		},
		do: func(s *sheet) error {
			a, done := work.Agreed{Weekly: s.num("weekly"), Weeks: s.num("weeks")}, s.list("done")
			left := a.Left(done...)
			s.line("agreed", a.Hours(), unit.Time)
			s.line("done", a.Hours()-left, unit.Time)
			if left >= 0 {
				s.line("still owed", left, unit.Time)
			} else {
				s.line("done beyond what was agreed", -left, unit.Time)
			}
			s.step("%s a week for %s less %s done in %s.", s.say(a.Weekly, unit.Time), s.things(a.Weeks, "weeks"), s.say(a.Hours()-left, unit.Time), map[bool]string{true: "one entry", false: fmt.Sprintf("%d entries", len(done))}[len(done) == 1])
			return nil
		},
	}
}
