package sums

import (
	"fmt"
	"math"

	"evenstead/data"
	"evenstead/fuel"
	"evenstead/unit"
)

func fuelSums(t *data.Tables) []Sum {
	return []Sum{digesterSum(t), boilSum(t), sunOvenSum(), woodSum(), bottleSum(), panelSum(), cordSum()}
}

func digesterSum(t *data.Tables) Sum {
	return Sum{
		Name: "digester", Title: "Digester feed and burner minutes", Group: Fuel,
		About: "Gas of a stirred digester fed the same each day, long after its start, and the minutes of a household burner it feeds.",
		Inputs: []Input{
			choice("feed", "what goes in", "", ids(t.DigesterFeeds, func(f *data.DigesterFeed) string { return f.ID })...),
			amount("mass", "of it in a day", unit.Mass, "", 0.01, 2000),
			amount("water", "stirred in, in a day", unit.Volume, "", 0, 5000),
			amount("tank", "liquid in the digester", unit.Volume, "", 20, 1e5),
			amount("temperature", "of the slurry", unit.Temperature, "25 °C", 0, 45),
		},
		Source:   "first-order yield of a stirred tank, k 1.06 times for each °C to 35 (from memory, after Chen and Hashimoto); feeds of the digester table; retention Sasse 1988; burner 300 L/h, GTZ 1993",
		Cautions: append(fuel.Cautions(), "Effluent is not sanitised: never on roots or food eaten raw, and as unfinished faeces where toilet waste goes in."),
		Example: Example{
			Given:   []Pair{{"feed", "cattle_dung"}, {"mass", "30 kg"}, {"water", "30 L"}, {"tank", "4800 L"}},
			Printed: []Printed{{"stays", "80 days", 80, 0}},
			Source:  "Sasse 1988, Biogas Plants: 30 L of dung and 30 L of water a day, 4,800 L",
		},
		do: digester,
	}
}

func digester(s *sheet) error {
	var feed data.DigesterFeed
	for _, f := range s.tables.DigesterFeeds {
		if f.ID == s.text("feed") {
			feed = f
		}
	}
	temp, tank := s.num("temperature"), s.num("tank")
	vs := s.num("mass") * feed.TS * feed.VS
	days := fuel.Retention(tank, s.num("mass")+s.num("water")) // a kg of feed taken as a litre
	k := fuel.Rate(feed.K35, temp)
	gas, _ := fuel.GasOf(fuel.Mixed(vs, k, days), feed.B0, fuel.UsualCH4)
	s.over("gas", gas*1000, unit.Volume, "a day")
	burner := gas * 1000 / fuel.StoveFlow
	s.shown("burner", burner, unit.Time, "a day", s.number(60*burner)+" min a day")
	s.over("heat in the pot", gas*fuel.BiogasMJ(fuel.UsualCH4)*fuel.GasRing, unit.Energy, "a day")
	s.count("stays", days, "days")
	load, most := vs/(tank/1000), fuel.LoadLimit(temp)
	if most > 0 && load > 10*most {
		s.fault("mass", s.say(s.num("mass"), unit.Mass), fmt.Sprintf("is %s times what this digester takes in a day; feed at most %s", s.number(load/most), s.say(s.num("mass")*most/load, unit.Mass)))
	}
	s.count("load", load, "kg of volatile solids per m3 and day")
	if ok, why := fuel.LoadCheck(load, temp); !ok {
		s.warnf("Too much: %s. Most at this temperature: %s kg per m3 and day.", why, s.number(most))
		for _, sign := range fuel.SourSigns() {
			s.warnf("Sour sign: %s", sign)
		}
	}
	if least, _ := fuel.RetentionDays(temp); days < least {
		s.warnf("It should stay at least %s days at this temperature: feed less, or stir in less water.", s.number(least))
	}
	s.step("%s of %s hold %s of volatile solids; in %s at %s, with k %.3f a day, %s of them digest.", s.say(s.num("mass"), unit.Mass), feed.Name,
		s.say(vs, unit.Mass), s.things(days, "days"), s.say(temp, unit.Temperature), k, s.say(fuel.Mixed(1, k, days), unit.Share))
	return nil
}

func boilSum(t *data.Tables) Sum {
	return Sum{
		Name: "boil", Title: "Fuel to boil water", Group: Fuel,
		About: "Gas, wood or current that brings water to the boil, lid on, at the altitude. Digester gas is counted as it comes, warm and wet.",
		Inputs: []Input{
			amount("water", "to boil", unit.Volume, "1 L", 0.05, 1000),
			amount("from", "temperature of the water", unit.Temperature, "20 °C", 0, 95),
			amount("altitude", "of the kitchen", unit.Length, "0 m", -400, 5500),
			choice("fuel", "what burns", "biogas", ids(t.Fuels, func(f *data.FuelRow) string { return f.ID })...),
			amount("gas", "temperature of digester gas", unit.Temperature, "25 °C", 0, 50),
			maybe(amount("efficiency", "share of heat that reaches the pot, in place of the table's", unit.Share, "", 0.02, 1)),
		},
		Source:   "heat of water 4.186 kJ/kg K over heat value and efficiency of the fuel table; boiling point by FAO-56 eq. 7 and Antoine (from memory)",
		Cautions: fuel.Cautions(),
		Example: Example{
			Given:   []Pair{{"water", "1 L"}, {"from", "20 °C"}, {"fuel", "biogas"}},
			Printed: []Printed{{"fuel", "30 to 40 L of gas", 35, 5}},
			Source:  "gas use table after GTZ 1993 and Estoppey 2010",
		},
		do: boil,
	}
}

func boil(s *sheet) error {
	f, ok := s.tables.Fuel(s.text("fuel"))
	if !ok {
		return fmt.Errorf("no fuel %q in the table", s.text("fuel"))
	}
	eff, per := f.Efficiency, f.MJ
	if s.has("efficiency") {
		eff = s.num("efficiency")
	}
	if f.ID == "biogas" {
		per = fuel.BiogasMJ(fuel.UsualCH4) * fuel.AsMet(s.num("gas"))
	}
	top := fuel.BoilingPoint(s.num("altitude"))
	if s.num("from") >= top {
		s.fault("from", s.say(s.num("from"), unit.Temperature), "is at the boil already at this altitude, "+s.say(top, unit.Temperature))
		return nil
	}
	heat := fuel.BoilMJ(s.num("water"), s.num("from"), top)
	amount := fuel.FuelFor(heat, eff, per)
	kind, scale := map[string]unit.Kind{"kg": unit.Mass, "m3": unit.Volume, "kWh": unit.Energy, "L": unit.Volume, "MJ": unit.Energy}[f.Unit], 1.0
	switch f.Unit {
	case "m3":
		scale = 1000
	case "kWh":
		scale = 3.6
	}
	s.line("fuel", amount*scale, kind)
	s.line("heat in the water", heat, unit.Energy)
	s.line("boils at", top, unit.Temperature)
	s.step("%s from %s to %s takes %s; %s gives %s MJ a %s, of which %s reaches the pot.", s.say(s.num("water"), unit.Volume), s.say(s.num("from"), unit.Temperature),
		s.say(top, unit.Temperature), s.say(heat, unit.Energy), f.Name, s.number(per), f.Unit, s.say(eff, unit.Share))
	return nil
}

func sunOvenSum() Sum {
	return Sum{
		Name: "sun-oven", Title: "A day of the sun oven", Group: Fuel,
		About: "Sun of a day from its extremes of temperature, and the heat a box cooker brings into the pot. Under 10 MJ/m2 it cooks nothing safely.",
		Inputs: append(extremes(),
			amount("latitude", "north positive", unit.Angle, "", -66, 66),
			yearly("date", "day of the year"),
			choice("place", "how far from the sea", "inland", "inland", "coast"),
			amount("aperture", "of the box with its reflectors, facing the sun", unit.Area, "0.25 m2", 0.02, 20),
			amount("efficiency", "share of the sun that reaches the pot, 15-35 %", unit.Share, "25 %", 0.02, 0.7)),
		Source:   "Hargreaves; Allen et al. 1998, FAO-56 eq. 21 and 50; box efficiency from memory",
		Cautions: []string{"Food stays out of 4 to 60 °C for no more than two hours: what the sun does not bring to the boil is finished on a fire (US food-safety advice).", "Dark glasses and gloves: the pot burns and the reflector blinds."},
		Example: Example{
			Given:   []Pair{{"tmin", "14.8 °C"}, {"tmax", "26.6 °C"}, {"latitude", "45.7167 N"}, {"date", "15 Jul"}, {"aperture", "1 m2"}},
			Printed: []Printed{{"sun on the flat", "22.3 MJ/m2 a day", 22.3, 0.05}},
			Source:  "Allen et al. 1998, FAO-56, example 15, p. 61 (Lyon, July)",
		},
		do: func(s *sheet) error {
			if !s.rising() {
				return nil
			}
			krs := map[string]float64{"inland": 0.16, "coast": 0.19}[s.text("place")] // FAO-56 p. 60
			sun := fuel.ByTemperature(s.num("tmax"), s.num("tmin"), fuel.AboveAir(s.num("latitude"), s.day("date").YearDay()), krs)
			heat := fuel.BoxCooker(s.num("aperture"), s.num("efficiency"), sun)
			s.count("sun on the flat", sun, "MJ/m2 a day")
			s.over("heat in the pot", heat, unit.Energy, "a day")
			s.over("water it could boil", heat/fuel.BoilMJ(1, 20, 100), unit.Volume, "a day")
			if heat == 0 {
				s.warnf("Under %s MJ/m2 a box cooker brings nothing to a safe heat: cook otherwise.", s.number(fuel.LeastSun))
			}
			s.step("%s MJ/m2 on %s at %s is %s.", s.number(sun), s.say(s.num("aperture"), unit.Area), s.say(s.num("efficiency"), unit.Share), s.say(heat, unit.Energy))
			return nil
		},
	}
}

var hearths = map[string]float64{"three-stone": fuel.ThreeStone, "rocket": fuel.Rocket, "rocket with skirt": fuel.RocketSkirt}

func woodSum() Sum {
	return Sum{
		Name: "wood-store", Title: "Wood to lay in", Group: Fuel,
		About: "Wood for a time of cooking, from the heat that goes into the pot each day.",
		Inputs: []Input{
			amount("heat", "into the pot in a day; about 2.7 MJ a person and hot meal (computed from GTZ gas use)", unit.Energy, "5.4 MJ", 0.05, 500),
			amount("for", "time", unit.Time, "365 days", 24, 24*3660),
			amount("moisture", "share of water in the wood", unit.Share, "20 %", 0, 0.7),
			choice("hearth", "what it burns in", "rocket", "three-stone", "rocket", "rocket with skirt"),
			maybe(amount("stacked", "kg in a stacked m3, to tell the volume", unit.Number, "", 100, 900)),
		},
		Source:   "19.0 (1 - M) - 2.44 M MJ/kg, after a printed table; hearths: stove review (three-stone), from memory (rocket), Aprovecho (skirt)",
		Cautions: []string{"Open windows when anything burns; carbon monoxide has no smell. Keep fire bans, and ash and sparks from dry ground.", "Wood over 25 % water smokes and tars the flue: stack it split and covered a summer (common practice)."},
		Example: Example{
			Given:   []Pair{{"moisture", "20 %"}},
			Printed: []Printed{{"heat of the wood", "14.72 MJ/kg", 14.72, 0.03}},
			Source:  "wood heat value by moisture, printed table",
		},
		do: func(s *sheet) error {
			mj := fuel.WoodMJ(s.num("moisture"))
			daily := fuel.FuelFor(s.num("heat"), hearths[s.text("hearth")], mj)
			days := s.num("for") / 24
			s.line("wood", daily*days, unit.Mass)
			s.line("wood in a day", daily, unit.Mass)
			s.count("heat of the wood", mj, "MJ/kg")
			if s.has("stacked") {
				s.line("stacked", daily*days/s.num("stacked")*1000, unit.Volume)
			}
			s.step("%s a day over %s of the heat of wood at %s, for %s days, is %s.", s.say(s.num("heat"), unit.Energy), s.say(hearths[s.text("hearth")], unit.Share),
				s.say(s.num("moisture"), unit.Share), s.number(days), s.say(daily*days, unit.Mass))
			return nil
		},
	}
}

func bottleSum() Sum {
	return Sum{
		Name: "bottle-days", Title: "Days a gas bottle lasts", Group: Fuel,
		About: "Days of cooking in a bottle of propane, from the heat that goes into the pot each day.",
		Inputs: []Input{
			amount("gas", "left in the bottle, net", unit.Mass, "", 0.05, 500),
			amount("heat", "into the pot in a day; about 2.7 MJ a person and hot meal (computed from GTZ gas use)", unit.Energy, "5.4 MJ", 0.05, 500),
			amount("efficiency", "share of heat that reaches the pot", unit.Share, "50 %", 0.1, 0.95),
		},
		Source:   "propane 46.35 MJ/kg, lower heat value (from memory); ring 50-60 %, stove review",
		Cautions: []string{"Bottles stand upright and outdoors or aired at the floor: the gas is heavy and pools. Test joints with soap, never a flame.", "Local gas codes and a licensed fitter come first."},
		Example: Example{
			Given:   []Pair{{"gas", "1 lb"}},
			Printed: []Printed{{"water it would boil", "31 L", 31, 0.5}},
			Source:  "one-pound bottle at 50 %, water from 20 °C (computed)",
		},
		do: func(s *sheet) error {
			daily := fuel.FuelFor(s.num("heat"), s.num("efficiency"), fuel.BottleMJ)
			s.count("lasts", s.num("gas")/daily, "days")
			s.line("gas in a day", daily, unit.Mass)
			s.line("water it would boil", s.num("gas")/fuel.FuelFor(fuel.BoilMJ(1, 20, 100), s.num("efficiency"), fuel.BottleMJ), unit.Volume)
			s.step("%s a day at %s take %s of gas; %s are left.", s.say(s.num("heat"), unit.Energy), s.say(s.num("efficiency"), unit.Share), s.say(daily, unit.Mass), s.say(s.num("gas"), unit.Mass))
			return nil
		},
	}
}

func panelSum() Sum {
	return Sum{
		Name: "panel", Title: "Panel and battery", Group: Fuel,
		About: "The panel that makes a day's current, and the bank that carries it through days without sun.",
		Inputs: []Input{
			amount("load", "drawn in a day", unit.Energy, "", 0.001, 500),
			amount("inverter", "efficiency; 100 % without one", unit.Share, "100 %", 0.5, 1),
			amount("sun", "hours of full sun in the poorest month", unit.Time, "", 0.2, 9),
			amount("derate", "share of rated power that reaches the battery", unit.Share, "75 %", 0.3, 1),
			amount("dark", "days without sun to carry", unit.Time, "3 days", 0, 24*30),
			amount("volts", "of the bank", unit.Number, "12", 1, 100),
			choice("battery", "what kind", "lead", "lead", "lithium"),
			amount("temperature", "where the bank stands in winter, for lead", unit.Temperature, "15.6 °C", -30, 45),
		},
		Source:   "E / (sun x derate); E days / (V x depth x inverter) x cold factor; battery sizing worksheets; depth 50 % lead, 80 % lithium iron phosphate (common practice)",
		Cautions: []string{"Fuse the battery at its pole. Lead batteries gas: air them, no flame. Lithium is not charged below 0 °C.", "Wiring at mains voltage is for a licensed person; local codes come first."},
		Example: Example{
			Given:   []Pair{{"load", "900 Wh"}, {"inverter", "90 %"}, {"sun", "2.5 h"}, {"volts", "24"}},
			Printed: []Printed{{"panel", "533 W", 533, 0.5}, {"battery", "277.5 Ah", 277.5, 0.05}},
			Source:  "sizing formulas: 2.5 h, derate 0.75, three days, half depth, 24 V at 15.6 °C (computed)",
		},
		do: panel,
	}
}

func panel(s *sheet) error {
	const wattHour = 0.0036 // MJ
	wh, inv := s.num("load")/wattHour, s.num("inverter")
	watts, err := fuel.PanelW(wh/inv, s.num("sun"), s.num("derate"))
	if err != nil {
		return err
	}
	depth, cold := fuel.LeadDepth, fuel.ColdFactor(s.num("temperature"))
	if s.text("battery") == "lithium" {
		depth, cold = fuel.LithiumDeep, 1
	}
	ah, err := fuel.Battery{Wh: wh, Days: s.num("dark") / 24, Volts: s.num("volts"), Depth: depth, Inverter: inv, Cold: cold}.AmpHours()
	if err != nil {
		return err
	}
	s.line("panel", watts, unit.Power)
	s.count("battery", ah, "Ah")
	s.line("battery holds", ah*s.num("volts")*wattHour, unit.Energy)
	s.step("%s Wh a day over %s of full sun and %s is %s; %s days at %s V, %s deep, times %s for cold, is %s Ah.", s.number(wh/inv), s.say(s.num("sun"), unit.Time),
		s.say(s.num("derate"), unit.Share), s.say(watts, unit.Power), s.number(s.num("dark")/24), s.number(s.num("volts")), s.say(depth, unit.Share), s.number(cold), s.number(ah))
	return nil
}

func cordSum() Sum {
	price := func(key, label, def string) Input { return amount(key, label, unit.Number, def, 0, 1e7) }
	return Sum{
		Name: "cord-or-sun", Title: "A cord or a sun system", Group: Fuel,
		About: "What each costs over the length of the stay, by the prices you type, in your own coin. It advises nothing: noise, ties and worth at the end are yours to weigh.",
		Inputs: []Input{
			price("panel", "panel, charger and mounting", ""),
			price("battery", "battery", ""),
			amount("battery-years", "years a battery lasts; 0 lasts throughout", unit.Number, "5", 0, 40),
			price("cord", "cord and its fitting", ""),
			price("price", "of a kWh", ""),
			amount("use", "of current in a day", unit.Energy, "", 0, 500),
			amount("years", "of the stay", unit.Number, "", 0.1, 60),
		},
		Source:   "sum of prices over the stay, no interest",
		Cautions: []string{"A cord across land wants the right cable, a residual-current device and the leave of its owner: ask a licensed electrician."},
		Example: Example{
			Given:   []Pair{{"panel", "300"}, {"battery", "150"}, {"battery-years", "4"}, {"cord", "60"}, {"price", "0.15"}, {"use", "0.9 kWh"}, {"years", "10"}},
			Printed: []Printed{{"sun", "750", 750, 0}, {"cord", "553.1", 553.1, 0.05}},
			Source:  "arithmetic (computed)",
		},
		do: func(s *sheet) error {
			kwh, years := s.num("use")/3.6, s.num("years")
			sun := fuel.SunCost(s.num("panel"), s.num("battery"), s.num("battery-years"), years)
			cord := fuel.CordCost(s.num("cord"), s.num("price"), kwh, years)
			s.count("sun", sun, "")
			s.count("cord", cord, "")
			s.count("sun over cord", sun-cord, "")
			s.step("Over %s years the cord is %s and %s kWh a day at %s; the sun is %s and batteries of %s.", s.number(years), s.number(s.num("cord")), s.number(kwh),
				s.number(s.num("price")), s.number(s.num("panel")), s.number(s.num("battery")))
			if even := s.breakEven(kwh); !math.IsInf(even, 0) && even > 0 {
				s.count("a first battery and panel are paid back in", even, "years")
			}
			return nil
		},
	}
}

// breakEven is the years after which the current would have paid panel and first battery.
func (s *sheet) breakEven(kwh float64) float64 {
	yearly := fuel.CordCost(0, s.num("price"), kwh, 1)
	return (fuel.SunCost(s.num("panel"), s.num("battery"), 0, 0) - s.num("cord")) / yearly
}
