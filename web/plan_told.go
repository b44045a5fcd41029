package web

import (
	"math"
	"net/http"
	"slices"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/plan"
	"evenstead/unit"
)

// planDone puts a plan into words.
func (s *standing) planDone(p *plan.Plan) *planDone {
	d := &planDone{Short: s.planShort(p), Members: count(p.Measured.Members), Compare: s.planCompare(p), Before: p.Measured.Before.Verdict, After: p.Measured.After.Verdict,
		Used: s.say("plan.used", s.amount(p.Ground.Used, "m2"), s.amount(p.Ground.Beds, "m2"), percent(p.Ground.Rest))}
	if len(p.Unwatered) > 0 {
		d.Dry = s.say("plan.dry", s.words.list(p.Unwatered))
	}
	var rests []string
	for _, r := range p.Rests[:min(restsTold, len(p.Rests))] {
		rests = append(rests, s.say("plan.rest.one", r.Family, r.Bed, s.date(r.Until)))
	}
	if len(rests) > 0 {
		d.Dry += " " + s.say("plan.resting", s.words.list(rests))
	}
	if rows := s.planRows(p); len(rows) > 0 {
		d.Beds = s.bedYear(rows, "by", s.say("plan.beds"), s.say("plan.beds.desc", count(len(rows))))
	}
	d.Sowings, d.Why = s.planSowings(p), p.Why
	for _, x := range p.Seed {
		grams := "–"
		if x.Grams > 0 {
			grams = s.grams(x.Grams / 1000)
		}
		d.Seed = append(d.Seed, planSeed{s.date(x.By), upperFirst(s.words.crop(x.Crop, x.Name)), grams, s.words.count(int(x.Plants))})
	}
	var kept []string
	for _, k := range p.Keep {
		kept = append(kept, s.say("plan.keep.one", s.grams(k.Kg), s.words.crop(k.Crop, k.Name), s.date(k.From)))
	}
	if len(kept) > 0 {
		d.Keep = s.say("plan.keep", s.words.list(kept))
	}
	s.planTable(d, p)
	for _, x := range p.Rations {
		d.Rations = append(d.Rations, planRation{upperFirst(s.words.food("", x.Name)), s.grams(x.Most)})
	}
	s.planWorks(d, p)
	d.Round = s.planRound(p)
	for _, l := range p.Limits {
		d.Limits = append(d.Limits, planLimit{upperFirst(l.Name), s.say("plan.limit", s.step(l.More), decimals(l.Worth, 1))})
	}
	if len(p.Limits) == 0 {
		d.NoLimits = s.say("plan.limits.none")
	}
	return d
}

// step writes how much more of a limit is looked at: "22 lb a year".
func (s *standing) step(x plan.Step) string {
	said := s.words.marked(unit.Format(x.Amount, x.Measure, s.opt.Units))
	if x.Per == "" {
		return said
	}
	return s.say("plan.per."+x.Per, said)
}

// restsTold is how many resting families are told.
const restsTold = 8

// grams writes a mass that may be small: "17 g", "0.6 oz".
func (s *standing) grams(kg float64) string {
	return s.words.marked(unit.Format(kg, unit.Mass, s.opt.Units))
}

// planShort says what lacks in the year planned for.
func (s *standing) planShort(p *plan.Plan) string {
	year := s.say("plan.year", figure(100*p.Risk))
	switch {
	case p.Beside > 0:
		year = s.say("plan.beside.told", count(p.Beside)) + " " + year
	case p.Once != nil:
		year = s.say("plan.once.told", count(p.Once.Years)) + " " + year
	}
	if len(p.Short) == 0 {
		return year + " " + s.say("plan.short.none")
	}
	var said, rest []string
	for _, x := range p.Short {
		name, days := lowerFirst(s.words.nutrient(x.Nutrient, x.Name)), s.words.days(int(math.Ceil(x.Days)), false)
		switch x.Nutrient {
		case "energy_mj", "protein_g", "fat_g":
			said = append(said, s.say("plan.short.one", name, days, s.date(x.Worst)))
		default:
			rest = append(rest, name+" "+count(int(math.Ceil(x.Days))))
		}
	}
	if len(said) == 0 {
		year += " " + s.say("plan.short.mains")
	} else {
		year += " " + s.say("plan.short", s.words.list(said))
	}
	if len(rest) > 0 {
		year += " " + s.say("plan.short.rest", s.words.list(rest))
	}
	return year
}

func (s *standing) planCompare(p *plan.Plan) []planPair {
	b, a := &p.Measured.Before, &p.Measured.After
	return []planPair{
		{s.say("plan.covered"), percent(b.Covered), percent(a.Covered)},
		{s.say("plan.met"), percent(b.Met[1]), percent(a.Met[1])},
		{s.say("plan.met.low"), percent(b.Met[0]), percent(a.Met[0])},
		{s.say("plan.lean"), s.words.decimals(b.Lean, 1), s.words.decimals(a.Lean, 1)},
		{s.say("plan.lean.mains"), s.words.decimals(b.AnyLean, 1), s.words.decimals(a.AnyLean, 1)},
		{s.say("plan.lean.all"), s.words.decimals(b.Table, 1), s.words.decimals(a.Table, 1)},
		{s.say("plan.lean.hours"), s.words.decimals(b.Hours, 1), s.words.decimals(a.Hours, 1)},
	}
}

// planRows are the beds with what stands on them and what the plan sows.
func (s *standing) planRows(p *plan.Plan) []bedRow {
	var rows []bedRow
	at := map[string]int{}
	put := func(l *plan.Line, planned bool) {
		i, ok := at[l.Bed]
		if !ok {
			i, rows = len(rows), append(rows, bedRow{name: l.Bed})
			at[l.Bed] = i
		}
		rows[i].stands = append(rows[i].stands, engine.Growth{Plot: l.Bed, Crop: l.Crop, Name: s.words.crop(l.Crop, l.Name), Area: l.Area, Planned: planned,
			Sown: l.Sow, Full: l.Sow + (l.Free-l.Sow)/2, First: min(l.First, l.Free), Last: l.Free})
	}
	for i := range p.Stands {
		put(&p.Stands[i], false)
	}
	for i := range p.Sowings {
		put(&p.Sowings[i], true)
	}
	slices.SortStableFunc(rows, func(a, b bedRow) int { return s.bedOrder(a.name) - s.bedOrder(b.name) })
	return rows
}

// bedOrder is a bed's place in the description.
func (s *standing) bedOrder(name string) int {
	for i := range s.snap.Stead.Beds {
		if s.snap.Stead.Beds[i].Name == name {
			return i
		}
	}
	return len(s.snap.Stead.Beds)
}

// planSowings is the calendar, a line for a crop and day.
func (s *standing) planSowings(p *plan.Plan) []planSowing {
	var out []planSowing
	for from := 0; from < len(p.Sowings); {
		l := p.Sowings[from]
		area, plants, kg := 0.0, 0.0, 0.0
		var where []string
		to := from
		for ; to < len(p.Sowings) && p.Sowings[to].Crop == l.Crop && p.Sowings[to].Sow == l.Sow; to++ {
			x := &p.Sowings[to]
			area, plants, kg = area+x.Area, plants+x.Plants, kg+x.Kg
			where = append(where, x.Bed+nbsp+s.amount(x.Area, "m2"))
		}
		more := s.say("plan.sow.more", count(int(plants)), s.amount(kg, "kg"), s.date(l.First), s.date(l.Free))
		if l.Raise != nil {
			more = s.say("plan.sow.raise", s.date(*l.Raise)) + " " + more
		}
		out = append(out, planSowing{s.date(l.Sow), upperFirst(s.words.crop(l.Crop, l.Name)) + ", " + s.amount(area, "m2"), strings.Join(where, ", "), more})
		from = to
	}
	return out
}

// foodsTold is how many foods of a period are told.
const foodsTold = 6

func (s *standing) planTable(d *planDone, p *plan.Plan) {
	for i := range p.Periods {
		t := &p.Periods[i]
		row := planMeal{From: s.date(t.From)}
		if t.Need > 0 {
			row.Eaten, row.Stock = percent(t.Eaten/t.Need), s.words.days(int(math.Round(28*t.Stock/t.Need)), false)
			row.Bar = length(min(1, t.Eaten/t.Need), "g-food")
		}
		var foods []string
		for _, f := range t.Foods[:min(foodsTold, len(t.Foods))] {
			foods = append(foods, s.words.amountOf(s.amount(f.Kg, "kg"), s.formed(f.Form, f.Food)))
		}
		row.Foods = strings.Join(foods, ", ")
		d.Table = append(d.Table, row)
	}
	var bought []string
	for _, b := range p.Bought {
		bought = append(bought, s.words.amountOf(s.amount(b.Kg, "kg"), s.words.food("", b.Food)))
	}
	if len(bought) > 0 {
		d.Bought = s.say("plan.bought", s.words.list(bought))
	}
	var last day.Day
	for _, u := range p.PutUp {
		if len(d.PutUp) == 0 || u.From != last {
			d.PutUp = append(d.PutUp, planPut{From: s.date(u.From)})
		}
		last = u.From
		row := &d.PutUp[len(d.PutUp)-1]
		if row.What != "" {
			row.What += ", "
		}
		row.What += s.words.amountOf(s.amount(u.Kg, "kg"), s.words.food("", u.Food)) + nbsp + s.words.name("how", u.How, u.How)
		row.Hours = s.say("plan.hours", figure(putHours(p, u.From)))
	}
}

// formed names a food with its form where that is not fresh or dry.
func (s *standing) formed(form, food string) string {
	name := s.words.food("", food)
	switch {
	case form == "fresh" || form == "dry":
		return name
	case s.words.foreign() != "":
		return name + " " + s.words.name("form", form, form)
	}
	return form + " " + name
}

func putHours(p *plan.Plan, from day.Day) (h float64) {
	for _, u := range p.PutUp {
		if u.From == from {
			h += u.Hours
		}
	}
	return h
}

func (s *standing) planWorks(d *planDone, p *plan.Plan) {
	most := 1.0
	for _, w := range p.Works {
		most = max(most, w.Hours, w.Free)
	}
	for _, w := range p.Works {
		litres := 0.0
		for _, l := range w.Water {
			litres += l
		}
		row := planWork{From: s.date(w.From), Hours: s.words.figure(w.Hours), Free: s.words.figure(max(0, w.Free)), Water: s.amount(litres, "L"), Bar: length(w.Hours/most, "g-hours")}
		if litres < 0.5 {
			row.Water = "–"
		}
		d.Works = append(d.Works, row)
	}
}

// planHead names the columns of plan.csv.
var planHead = []string{"what", "from", "until", "bed", "name", "form", "area_m2", "plants", "kg", "mj", "hours", "litres", "g_a_day"}

// planCSV is the plan that an address asks for, in SI units; 303 to its page while
// it is under way.
func (s *site) planCSV(w http.ResponseWriter, r *http.Request) {
	s.withStanding(w, r, func(st *standing) {
		ask, bad := readPlan(r.URL.Query(), st.snap, s.words)
		if len(bad) > 0 {
			s.seeOther(w, r, "/ground/plan?"+planQuery(r.URL.Query()).Encode())
			return
		}
		got, err := s.desk.Plan(r.Context(), ask)
		switch {
		case err != nil:
			s.sayStopped(w, err)
		case !got.done || got.err != nil:
			s.seeOther(w, r, "/ground/plan?"+planQuery(r.URL.Query()).Encode())
		default:
			s.csv(w, "plan.csv", planLines(got.plan))
		}
	})
}

func planLines(p *plan.Plan) [][]string {
	rows := [][]string{slices.Clone(planHead)}
	sow := func(what string, list []plan.Line) {
		for _, l := range list {
			rows = append(rows, []string{what, iso(l.Sow), iso(l.Free), l.Bed, l.Name, "", si(l.Area), si(l.Plants), si(l.Kg), "", "", "", ""})
		}
	}
	sow("stands", p.Stands)
	sow("sow", p.Sowings)
	for _, x := range p.Seed {
		rows = append(rows, []string{"seed", iso(x.By), "", "", x.Name, "", si(x.Area), si(x.Plants), si(x.Grams / 1000), "", "", "", ""})
	}
	for _, k := range p.Keep {
		rows = append(rows, []string{"keep for seed", iso(k.From), "", "", k.Name, "", si(k.Area), "", si(k.Kg), "", "", "", ""})
	}
	for _, t := range p.Periods {
		for _, f := range t.Foods {
			rows = append(rows, []string{"eat", iso(t.From), iso(t.From + 27), "", f.Food, f.Form, "", "", si(f.Kg), si(f.MJ), "", "", ""})
		}
	}
	for _, x := range p.Rations {
		rows = append(rows, []string{"ration", "", "", "", x.Name, "", "", "", "", "", "", "", si(1000 * x.Most)})
	}
	for _, u := range p.PutUp {
		rows = append(rows, []string{"put up", iso(u.From), iso(u.From + 27), "", u.Food, u.How, "", "", si(u.Kg), "", si(u.Hours), "", ""})
	}
	for _, w := range p.Works {
		litres := 0.0
		for _, l := range w.Water {
			litres += l
		}
		rows = append(rows, []string{"fortnight", iso(w.From), iso(w.From + 13), "", "", "", "", "", "", "", si(w.Hours), si(litres), ""})
	}
	return append(rows, roundLines(p)...)
}
