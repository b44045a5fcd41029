package web

import (
	"html/template"
	"strings"

	"evenstead/plan"
)

// planRound is what is fetched, spread and burned.
type planRound struct {
	Fetch  string
	Spread []planSpread
	Kinds  []string // of fire
	Heat   []planHeat
}

type planSpread struct{ What, Where, Brings string }

type planHeat struct {
	From, Asked string
	Bar         template.HTML
	Fires       []string
	Lacks       string
}

// planRound puts a plan's loops into words; nil: the stead has none.
func (s *standing) planRound(p *plan.Plan) *planRound {
	if p.Fetch == nil && len(p.Spread) == 0 && len(p.Heat) == 0 {
		return nil
	}
	d := new(planRound)
	if f := p.Fetch; f != nil {
		kg := s.amount(f.Kg, "kg")
		d.Fetch = s.say("plan.fetch.now", kg, count(int(f.Trips+0.5)), figure(f.Hours))
		if f.Kg != f.Now {
			d.Fetch = s.say("plan.fetch", kg, s.amount(f.Now, "kg"), count(int(f.Trips+0.5)), figure(f.Hours))
		}
	}
	for _, x := range p.Spread {
		where := s.say("plan.spread.now")
		if x.Other {
			where = s.words.list(x.Places())
		}
		d.Spread = append(d.Spread, planSpread{upperFirst(s.words.or("plan.carrier."+x.What, x.What)), where,
			s.say("plan.spread.brings", s.grams(x.Kg[0]), s.grams(x.Kg[1]), s.grams(x.Kg[2]))})
	}
	s.planHeat(d, p)
	return d
}

func (s *standing) planHeat(d *planRound, p *plan.Plan) {
	most := 1.0
	for _, h := range p.Heat {
		most = max(most, h.Asked)
	}
	for _, h := range p.Heat {
		row := planHeat{From: s.date(h.From), Asked: s.mj(h.Asked), Bar: length(h.Asked/most, "g-heat")}
		for i, f := range h.Fires {
			if len(d.Kinds) == i {
				d.Kinds = append(d.Kinds, upperFirst(s.words.or("reck.heat."+f.Kind, f.Kind)))
			}
			said := "–"
			switch {
			case f.MJ < plan.LeastHeat:
			case f.Kg > 0:
				said = s.grams(f.Kg)
			default:
				said = s.mj(f.MJ)
			}
			row.Fires = append(row.Fires, said)
		}
		if h.Lacks >= plan.LeastHeat {
			row.Lacks = s.say("plan.heat.lacks", s.mj(h.Lacks))
		}
		d.Heat = append(d.Heat, row)
	}
}

// mj writes an amount of heat.
func (s *standing) mj(v float64) string { return s.amount(v, "MJ") }

// roundLines are the lines of plan.csv for what is fetched, spread and burned.
func roundLines(p *plan.Plan) (rows [][]string) {
	if f := p.Fetch; f != nil {
		rows = append(rows, []string{"fetch", "", "", "", "scraps for the digester", "", "", "", si(f.Kg * 365), "", si(f.Hours), "", si(f.Kg * 1000)})
	}
	for _, x := range p.Spread {
		for k, name := range [...]string{"nitrogen", "phosphorus", "potassium"} {
			rows = append(rows, []string{"spread", "", "", strings.Join(x.To, "; "), name, x.What, "", "", si(x.Kg[k]), "", "", "", ""})
		}
	}
	for _, h := range p.Heat {
		for _, f := range h.Fires {
			rows = append(rows, []string{"heat", iso(h.From), iso(h.From + 27), "", f.Kind, "", "", "", si(f.Kg), si(f.MJ), "", "", ""})
		}
	}
	return rows
}
