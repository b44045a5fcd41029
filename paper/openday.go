package paper

import (
	"fmt"
	"math"

	"evenstead/unit"
)

// OpenDay explains the place to visitors with its own numbers. It holds nothing
// that a household wrote in its own words and nothing of people: no name, no
// note, no weight or illness, no money, no hours, no place on the map. What it
// says is counted and summed from the description and the standing, in the words
// of the tables.
func OpenDay(f *Facts) *Sheet {
	s := &Sheet{ID: "openday", Over: f.say("openday.over"), Title: f.say("openday.title"), Lead: f.say("openday.lead"), Rest: f.say("openday.rest"), Foot: f.say("openday.foot")}
	s.add(Part{Title: f.say("openday.water"), Lines: f.openWater()},
		Part{Title: f.say("openday.ground"), Lines: f.openGround()},
		Part{Title: f.say("openday.larder"), Lines: f.openLarder()},
		Part{Title: f.say("openday.soil"), Lines: f.openSoil()},
		Part{Title: f.say("openday.heat"), Lines: f.openHeat()},
		Part{Title: f.say("openday.visit"), Lines: []Line{{f.say("openday.visit.lead"), f.say("openday.visit.rest")}}})
	return s
}

// openWater tells roofs, tanks and the usual rain, rounded so that it names no
// place on a map.
func (f *Facts) openWater() (out []Line) {
	roofs, holds, level := 0.0, 0.0, 0.0
	for _, r := range f.Stead.Roofs {
		roofs += r.Area
	}
	for _, g := range f.Standing.Tanks {
		holds, level = holds+g.Holds, level+g.Level
	}
	if roofs > 0 && holds > 0 {
		out = append(out, Line{f.say("openday.roofs"), f.say("openday.roofs.rest", f.amount(roofs, unit.Area), f.litres(holds), whole(100*level/holds))})
	}
	if f.Usual != nil {
		rain := 0.0
		for _, mm := range f.Usual.Rain {
			rain += mm
		}
		out = append(out, Line{f.say("openday.rain"), f.say("openday.rain.rest", f.amount(50*math.Round(rain/50), unit.Depth))})
	}
	if f.has("treated") {
		out = append(out, Line{f.say("openday.drink"), f.say("openday.drink.rest")})
	}
	for _, u := range f.Stead.Uses {
		if u.Returned > 0 {
			return append(out, Line{f.say("openday.grey"), f.say("openday.grey.rest")})
		}
	}
	return out
}

func (f *Facts) openGround() (out []Line) {
	beds, trees := 0.0, 0.0
	for _, b := range f.Stead.Beds {
		beds += b.Area
	}
	for _, t := range f.Stead.Trees {
		trees += t.Count
	}
	if beds > 0 {
		out = append(out, Line{f.say("openday.beds"), f.say("openday.beds.rest", fmt.Sprint(len(f.Stead.Beds)), f.amount(beds, unit.Area))})
	}
	if names := standsOf(f); len(names) > 0 {
		out = append(out, Line{f.say("openday.grows"), stop(upper(f.listed(names, 14)))})
	}
	if trees > 0 {
		out = append(out, Line{f.say("openday.trees"), f.say("openday.trees.rest", whole(trees), f.listed(treeNames(f), 10))})
	}
	hens, hives := 0.0, 0.0
	for _, x := range f.Standing.Flocks {
		hens += x.Count
	}
	for _, x := range f.Standing.Hives {
		hives += x.Count
	}
	if hens > 0 {
		out = append(out, Line{f.say("openday.hens"), f.say("openday.hens.rest", whole(hens))})
	}
	if hives > 0 {
		out = append(out, Line{f.say("openday.bees"), f.say("openday.bees.rest", whole(hives))})
	}
	return out
}

func (f *Facts) openLarder() (out []Line) {
	kg := map[string]float64{}
	all := 0.0
	for _, l := range f.Standing.Lots {
		kg[l.Form] += l.Kg
		all += l.Kg
	}
	if all == 0 {
		return nil
	}
	out = append(out, Line{f.say("openday.store"), f.say("openday.store.rest", f.kg(all))})
	for _, form := range []string{"fresh", "dry", "dried", "jarred", "frozen", "fermented"} {
		if kg[form] >= 0.5 {
			out = append(out, Line{f.say("openday.form." + form), f.say("openday.form."+form+".rest", f.kg(kg[form]))})
		}
	}
	return out
}

func (f *Facts) openSoil() (out []Line) {
	if t := f.Standing.Toilet; t != nil {
		out = append(out, Line{f.say("openday.toilet"), f.say("openday.toilet.rest", fmt.Sprint(len(t.Drums)), f.span(t.CureDays, false))})
		if t.Apart {
			out = append(out, Line{f.say("openday.urine"), f.say("openday.urine.rest", whole(t.Dilution))})
		}
	}
	if len(f.Stead.Composts) > 0 {
		out = append(out, Line{f.say("openday.compost"), f.say("openday.compost.rest", f.kg(f.Standing.Compost.Ripe+f.Standing.Compost.Fresh))})
	}
	return out
}

func (f *Facts) openHeat() (out []Line) {
	if d := f.Standing.Digester; d != nil {
		out = append(out, Line{f.say("openday.gas"), f.say("openday.gas.rest", f.litres(d.Liquid), f.kg(d.Feed), f.litres(d.GasDay))})
	}
	for _, c := range f.Stead.Cookers {
		if key := "openday.cook." + c.Kind; f.Say("paper."+key) != "paper."+key {
			out = append(out, Line{f.say(key), f.say(key + ".rest")})
		}
	}
	return out
}
