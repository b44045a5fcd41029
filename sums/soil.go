package sums

import (
	"math"

	"evenstead/data"
	"evenstead/fertility"
	"evenstead/unit"
)

func soilSums(t *data.Tables) []Sum {
	return []Sum{compostSum(t), coverSum(t), drumsSum(), cureSum(), heatTimeSum(), urineSum(t), bucketSum(t), limeSum()}
}

func materialIDs(t *data.Tables) []string {
	return ids(t.CompostMaterials, func(m *data.CompostMaterial) string { return m.ID })
}

// row returns a row of the compost table; ok is false when the name is not there.
func (s *sheet) row(id string) (data.CompostMaterial, bool) {
	for _, m := range s.tables.CompostMaterials {
		if m.ID == id {
			return m, true
		}
	}
	return data.CompostMaterial{}, false
}

// material reads one of the materials of a mix: the table's row, or what was given for it.
func (s *sheet) material(key string) (fertility.Material, bool) {
	row, known := s.row(s.text(key))
	pick := func(of string, v float64) float64 {
		if s.has(key + "-" + of) {
			return s.num(key + "-" + of)
		}
		if !known {
			return math.NaN()
		}
		return v
	}
	n, cn, water := pick("n", row.N), pick("cn", row.CN), pick("moisture", row.Moisture)
	for i, v := range []float64{n, cn, water} {
		if of := []string{"n", "cn", "moisture"}[i]; math.IsNaN(v) && known {
			s.fault(key+"-"+of, "", "is missing; the table has none for "+row.Name)
		} else if math.IsNaN(v) {
			s.fault(key+"-"+of, "", "is missing; give it, or name the material in "+key)
		}
	}
	return fertility.Material{Mass: s.num(key + "-kg"), Moisture: water, N: n, C: fertility.CarbonOf(n, cn)}, len(s.faults) == 0
}

func materialInputs(key, label string, choices []string, mass Input) []Input {
	return []Input{
		maybe(choice(key, label, "", choices...)), mass,
		maybe(amount(key+"-n", "nitrogen, share of its dry mass, in place of the table's", unit.Share, "", 0.0001, 0.3)),
		maybe(amount(key+"-cn", "carbon to nitrogen, in place of the table's", unit.Number, "", 0.3, 1000)),
		maybe(amount(key+"-moisture", "share of water, in place of the table's", unit.Share, "", 0, 0.99)),
	}
}

func compostSum(t *data.Tables) Sum {
	kinds := materialIDs(t)
	mass := func(key string) Input { return amount(key, "its mass, wet", unit.Mass, "", 0.01, 1e5) }
	inputs := materialInputs("first", "what there is", kinds, mass("first-kg"))
	inputs = append(inputs, materialInputs("second", "what to add", kinds, maybe(mass("second-kg")))...)
	inputs = append(inputs, materialInputs("third", "a third, to meet both goals", kinds, maybe(mass("third-kg")))...)
	return Sum{
		Name: "compost-mix", Title: "Compost mix", Group: Soil,
		About: "With all masses given: what carbon to nitrogen and moisture a mix has. Without: how much of a second material meets one goal, or of a second and a third meet both.",
		Inputs: append(inputs,
			choice("goal", "which goal a second material alone is to meet", "cn", "cn", "moisture"),
			amount("cn", "carbon to nitrogen wanted, best 25 to 30", unit.Number, "30", 10, 60),
			amount("moisture", "share of water wanted, best 50 to 60 %", unit.Share, "55 %", 0.35, 0.7)),
		Source:   "Richard and Trautmann, Cornell composting; materials of Gotaas 1956 and Rynk 1992 (moistures from memory)",
		Cautions: []string{"Ratios are not averaged: carbon and nitrogen are summed.", "Hay and straw may carry persistent herbicide; sawdust only of untreated wood (common practice)."},
		Example: Example{
			Given: []Pair{{"first-kg", "10 kg"}, {"first-moisture", "77 %"}, {"first-n", "2.4 %"}, {"first-cn", "18.75"},
				{"second-moisture", "35 %"}, {"second-n", "0.75 %"}, {"second-cn", "66.667"}, {"goal", "moisture"}, {"moisture", "60 %"}},
			Printed: []Printed{{"add of the second", "6.8 kg", 6.8, 0.05}},
			Source:  "Richard and Trautmann, Cornell: leaves for 10 kg of grass clippings at a goal of 60 % moisture",
		},
		do: compost,
	}
}

func compost(s *sheet) error {
	first, ok1 := s.material("first")
	second, ok2 := s.material("second")
	if !ok1 || !ok2 {
		return nil
	}
	mix := []fertility.Material{first, second}
	three := s.text("third") != "" || s.has("third-n")
	if three {
		third, ok := s.material("third")
		if !ok {
			return nil
		}
		mix = append(mix, third)
	}
	if err := s.fill(mix, three); err != nil || len(s.faults) > 0 {
		return err
	}
	cn, water := fertility.MixCN(mix...), fertility.MixMoisture(mix...)
	s.count("carbon to nitrogen", cn, ": 1")
	s.line("moisture", water, unit.Share)
	var whole float64
	for _, m := range mix {
		whole += m.Mass
	}
	s.line("whole mix", whole, unit.Mass)
	if cn < 20 {
		s.warn("Under 20 : 1 it smells and sheds nitrogen as ammonia: add more of what is rich in carbon.")
	}
	if water > 0.65 {
		s.warn("Over 65 % water it goes airless: add something dry.")
	}
	s.step("%s of the first, %s of the second%s come to %s : 1 and %s of water.", s.say(mix[0].Mass, unit.Mass), s.say(mix[1].Mass, unit.Mass),
		map[bool]string{true: " and " + s.say(mix[len(mix)-1].Mass, unit.Mass) + " of the third", false: ""}[three], s.number(cn), s.say(water, unit.Share))
	return nil
}

// fill solves for the masses that were not given.
func (s *sheet) fill(mix []fertility.Material, three bool) error {
	missing := math.IsNaN(mix[1].Mass)
	switch {
	case !missing && three && math.IsNaN(mix[2].Mass):
		s.need("when second-kg is given", "third-kg")
		return nil
	case !missing:
		return nil
	case three:
		added, err := fertility.SolveMix(mix[0], mix[1:], s.num("moisture"), s.num("cn"))
		if err != nil {
			return err
		}
		mix[1].Mass, mix[2].Mass = added[0], added[1]
		s.line("add of the second", added[0], unit.Mass)
		s.line("add of the third", added[1], unit.Mass)
		return nil
	}
	kg, err := fertility.SecondForCN(mix[0], mix[1], s.num("cn"))
	if s.text("goal") == "moisture" {
		kg, err = fertility.SecondForMoisture(mix[0].Mass, mix[0].Moisture, mix[1].Moisture, s.num("moisture"))
	}
	if err != nil {
		return err
	}
	mix[1].Mass = kg
	s.line("add of the second", kg, unit.Mass)
	return nil
}

func coverSum(t *data.Tables) Sum {
	return Sum{
		Name: "cover", Title: "Cover material for the toilet", Group: Soil,
		About: "Sawdust or other cover for so many adults and days, so that the drum stands at a good ratio of carbon to nitrogen.",
		Inputs: []Input{
			amount("people", "adults using it", unit.Number, "", 0.1, 100),
			amount("for", "time", unit.Time, "365 days", 24, 24*3660),
			choice("toilet", "urine apart or with the rest", "apart", "apart", "together"),
			choice("cover", "what is thrown over", "sawdust_raw", materialIDs(t)...),
			amount("cn", "carbon to nitrogen wanted", unit.Number, "30", 15, 60),
		},
		Source:   "Jönsson et al. 2004, Table 1 (what adults pass); Gotaas 1956 (C:N); Richard and Trautmann (mixing)",
		Cautions: append([]string{"Keep four weeks of cover in the dry: without it the toilet stops (common practice)."}, fertility.Cautions()...),
		Example: Example{
			Given:   []Pair{{"people", "1"}, {"toilet", "apart"}},
			Printed: []Printed{{"cover", "37 kg", 37, 0.5}, {"loose volume", "154 L", 154, 0.5}},
			Source:  "Gotaas 1956, one adult-year with sawdust (computed)",
		},
		do: func(s *sheet) error {
			row, _ := s.row(s.text("cover"))
			if math.IsNaN(row.Moisture) {
				s.fault("cover", row.ID, "has no moisture in the table; take another, such as sawdust_raw")
				return nil
			}
			waste := map[string]fertility.Material{"apart": fertility.AdultFaeces, "together": fertility.AdultToilet}[s.text("toilet")]
			years := s.num("people") * s.num("for") / 24 / 365
			kg, err := fertility.Cover(waste, years, fertility.Material{Moisture: row.Moisture, N: row.N, C: fertility.CarbonOf(row.N, row.CN)}, s.num("cn"))
			if err != nil {
				return err
			}
			s.line("cover", kg, unit.Mass)
			if row.Bulk > 0 {
				s.line("loose volume", kg/row.Bulk*1000, unit.Volume)
			}
			s.step("%s with urine %s, brought to %s : 1 with %s of %s : 1, take %s.", s.things(years, "adult-years"), s.text("toilet"), s.number(s.num("cn")),
				row.Name, s.number(row.CN), s.say(kg, unit.Mass))
			return nil
		},
	}
}

func drumsSum() Sum {
	return Sum{
		Name: "drums", Title: "Toilet drums needed", Group: Soil,
		About: "How many drums let each full one rest while another fills, and how long one takes to fill.",
		Inputs: []Input{
			amount("people", "adults using it", unit.Number, "", 0.1, 100),
			amount("volume", "a person in a year, cover included: about 200 L with urine apart, 890 L together for 68 kg of body", unit.Volume, "200 L", 20, 3000),
			amount("drum", "what a drum holds to the brim", unit.Volume, "208.2 L", 20, 2000),
			amount("usable", "share that is filled", unit.Share, "90 %", 0.3, 1),
			maybe(amount("mean", "mean temperature of the year; left out counts as cool", unit.Temperature, "", -20, 40)),
		},
		Source:   "1 + ceil(fills a year x years of rest); Tilley et al.; rest within WHO 2006 vol. 4: one year, two under 20 °C",
		Cautions: append([]string{"Keep one spare beyond these."}, fertility.Cautions()...),
		Example: Example{
			Given:   []Pair{{"people", "2"}, {"volume", "443 L"}, {"drum", "208.2 L"}, {"mean", "21 °C"}},
			Printed: []Printed{{"drums", "6", 6, 0}, {"one fills in", "77 days", 77, 0.5}},
			Source:  "bucket toilet handbook's volumes, drums of 55 gal filled to 90 %, a year of rest (computed)",
		},
		do: func(s *sheet) error {
			usable := s.num("drum") * s.num("usable")
			years, _ := fertility.CureYears(s.num("mean"))
			n, err := fertility.DrumsNeeded(s.num("people"), s.num("volume"), usable, years)
			if err != nil {
				return err
			}
			days, err := fertility.DaysToFill(s.num("people"), s.num("volume"), usable)
			if err != nil {
				return err
			}
			s.count("drums", float64(n), "")
			s.count("one fills in", days, "days")
			s.count("rest", years, "years")
			s.step("%s people at %s a year fill %s in %s; each rests %s.", s.number(s.num("people")), s.say(s.num("volume"), unit.Volume),
				s.say(usable, unit.Volume), s.things(days, "days"), s.things(years, "years"))
			return nil
		},
	}
}

func cureSum() Sum {
	return Sum{
		Name: "cure-date", Title: "Day a drum may be opened", Group: Soil,
		About: "From the day nothing more went in. One year of rest, two where the mean temperature of the year is under 20 °C or not known, in either hemisphere.",
		Inputs: []Input{
			dated("closed", "day it was shut"),
			maybe(amount("mean", "mean temperature of the year there", unit.Temperature, "", -20, 40)),
		},
		Source:   "common practice, within WHO 2006 vol. 4 and Schönning and Stenström 2004 (1.5-2 years at 2-20 °C, over 1 year above)",
		Cautions: append([]string{"Only under soil or mulch at trees, bushes and ornamentals, never on vegetables (WHO 2006, from memory)."}, fertility.Cautions()...),
		Example: Example{
			Given:   []Pair{{"closed", "2026-11-05"}, {"mean", "12 °C"}},
			Printed: []Printed{{Label: "not before", Text: "5 Nov 2028"}},
			Source:  "two years under 20 °C (common practice)",
		},
		do: func(s *sheet) error {
			years, _ := fertility.CureYears(s.num("mean"))
			ready := fertility.DrumReady(s.day("closed"), years)
			s.word("not before", ready.Long())
			s.count("rest", years, "years")
			mean := "a mean that is not known"
			if s.has("mean") {
				mean = "a mean of " + s.say(s.num("mean"), unit.Temperature)
			}
			s.step("Shut on %s under %s it rests %s.", s.day("closed").Long(), mean, s.things(years, "years"))
			return nil
		},
	}
}

func heatTimeSum() Sum {
	return Sum{
		Name: "heat-time", Title: "Time at a heat (503 equation)", Group: Soil,
		About: "How long sludge must be held at a heat for Class A by the US rule. It gives no time under 50 °C, and a household heap seldom proves it.",
		Inputs: []Input{
			amount("temperature", "of all of it, in its coldest place", unit.Temperature, "", -20, 100),
			choice("solids", "thick is 7 % solids or more", "thick", "thick", "thin"),
		},
		Source:   "40 CFR 503.32(a)(3)(ii): D = 131,700,000 / 10^(0.14 t), thin 50,070,000",
		Cautions: append([]string{"The rule is for a steady heat of the whole mass. A yardstick, not a permit: rested compost still waits its time."}, fertility.Cautions()...),
		Example: Example{
			Given:   []Pair{{"temperature", "55 °C"}},
			Printed: []Printed{{"held for", "63.07 h", 63.07, 0.005}},
			Source:  "40 CFR 503 equation at 55 °C, 2.628 days (computed)",
		},
		do: func(s *sheet) error {
			t := s.num("temperature")
			of := fertility.ClassADays
			if s.text("solids") == "thin" {
				of = fertility.ClassAThinDays
			}
			days, ok := of(t)
			if !ok {
				s.fault("temperature", s.say(t, unit.Temperature), "is under "+s.say(50, unit.Temperature)+", where the rule gives no time; rest it instead (see cure-date)")
				return nil
			}
			s.line("held for", 24*days, unit.Time)
			s.count("which is", days, "days")
			s.step("At %s, for %s material, the equation gives %s days.", s.say(t, unit.Temperature), s.text("solids"), s.number(days))
			return nil
		},
	}
}

// eaten names the kinds of crop as the urine gate parts them.
var eaten = []string{"not eaten", "tree", "high", "low", "raw", "root"}

func urineSum(t *data.Tables) Sum {
	return Sum{
		Name: "urine-dose", Title: "Urine for a bed", Group: Soil,
		About: "Litres of urine that give a bed its nitrogen, diluted, and the last day before a harvest: give nitrogen or crop.",
		Inputs: []Input{
			amount("area", "of the bed", unit.Area, "", 0.01, 1e5),
			maybe(cropInput(t)),
			maybe(amount("nitrogen", "wanted, in place of what a usual crop carries off", unit.ArealMass, "", 0.0001, 0.05)),
			amount("strength", "nitrogen in the urine, g/L", unit.Number, "7.3", 1, 12),
			amount("parts", "water to one of urine", unit.Number, "10", 3, 30),
			amount("loss", "nitrogen lost as ammonia; 5 % watered in at once", unit.Share, "5 %", 0, 0.6),
			choice("eaten", "how the eaten part stands to the soil", "low", eaten...),
			maybe(dated("today", "day it is given")),
			maybe(dated("harvest", "next harvest")),
		},
		Source:   "Jönsson et al. 2004 (7.3 g of nitrogen a litre); Tilley et al. (dilution, one month before harvest); WHO 2006 Table 4.6 (from memory)",
		Cautions: fertility.Cautions(),
		Example: Example{
			Given:   []Pair{{"area", "1 m2"}, {"nitrogen", "10.95 g/m2"}, {"loss", "0 %"}, {"parts", "10"}},
			Printed: []Printed{{"urine", "1.5 L", 1.5, 0.05}, {"feed, diluted", "16.5 L", 16.5, 0.05}},
			Source:  "10 parts of water to 1.5 L (computed)",
		},
		do: urine,
	}
}

func urine(s *sheet) error {
	want := s.num("nitrogen")
	if c, ok := s.tables.Crop(s.text("crop")); ok && !s.has("nitrogen") {
		want = fertility.Need(c.YieldTyp, c.N/1000*(1-c.Fixed), 1)
		s.step("A usual crop of %s carries off %s of nitrogen.", c.Name, s.say(want, unit.ArealMass))
	}
	if math.IsNaN(want) {
		s.fault("nitrogen", "", "or crop is missing; give one of them")
		return nil
	}
	litres := want * s.num("area") * 1000 / (s.num("strength") * (1 - s.num("loss")))
	s.line("urine", litres, unit.Volume)
	s.line("feed, diluted", fertility.DilutedVolume(litres, s.num("parts")), unit.Volume)
	s.count("feed, nitrogen", fertility.Diluted(s.num("strength"), s.num("parts")), "g/L")
	s.gate("urine_max", litres/s.num("area"), "L/m2")
	s.step("%s of nitrogen for %s at %s g/L with %s lost take %s of urine.", s.say(want*s.num("area"), unit.Mass), s.say(s.num("area"), unit.Area),
		s.number(s.num("strength")), s.say(s.num("loss"), unit.Share), s.say(litres, unit.Volume))
	if s.dateGiven("harvest") {
		s.urineDay()
	}
	return nil
}

// gate warns where an amount passes the value of a row of the gate table.
func (s *sheet) gate(id string, v float64, of string) {
	for _, g := range s.tables.Gates {
		if g.ID == id && v > g.Value {
			s.warnf("This is %s %s in one go; %s: %s (%s). Give it in parts.", s.number(v), of, g.Rule, s.number(g.Value), g.Source)
		}
	}
}

// urineDay tells what the gate says of the day it is given and the harvest.
func (s *sheet) urineDay() {
	dose := fertility.UrineDose{Today: s.day("harvest") - 365, Harvest: s.day("harvest"), Covered: true}
	for i, name := range eaten {
		if name == s.text("eaten") {
			dose.Kind = fertility.Kind(i + 1)
		}
	}
	if s.dateGiven("today") {
		dose.Today = s.day("today")
	}
	r := fertility.UrineGate(dose)
	if r.Until != 0 {
		s.word("last day before the harvest", r.Until.Long())
	}
	if !r.Allowed {
		s.warnf("Not now: %s. Rule: %s (%s).", r.Why, r.Rule, r.Source)
	}
	if dose.Kind == fertility.Raw {
		s.warn("On a crop eaten raw it goes under the soil.")
	}
}

func bucketSum(t *data.Tables) Sum {
	return Sum{
		Name: "bucket", Title: "Nutrient in a bucket", Group: Soil,
		About: "What a bucket of a compost material weighs and the nitrogen and carbon in it; of urine phosphorus and potassium too. Little of a material's nitrogen is free in its first year.",
		Inputs: []Input{
			choice("material", "what is in it", "", materialIDs(t)...),
			amount("bucket", "volume", unit.Volume, "10 L", 0.1, 2000),
			maybe(amount("mass", "weighed, in place of volume and the table's density", unit.Mass, "", 0.01, 2000)),
			maybe(amount("moisture", "share of water, in place of the table's", unit.Share, "", 0, 0.99)),
		},
		Source:   "mass x (1 - moisture) x nitrogen of dry mass; Gotaas 1956 and Rynk 1992 (moistures and densities partly from memory)",
		Cautions: fertility.Cautions(),
		Example: Example{
			Given:   []Pair{{"material", "hen_manure"}, {"bucket", "10 L"}},
			Printed: []Printed{{"nitrogen", "217 g", 0.2175, 0.0005}},
			Source:  "Rynk 1992 Table A.1, 877 kg/m3, 69 % moist, 8 % of dry mass (computed)",
		},
		do: bucket,
	}
}

func bucket(s *sheet) error {
	row, _ := s.row(s.text("material"))
	m := fertility.Material{Mass: row.Bulk / 1000 * s.num("bucket"), Moisture: row.Moisture, N: row.N, C: fertility.CarbonOf(row.N, row.CN)}
	if s.has("mass") {
		m.Mass = s.num("mass")
	}
	if s.has("moisture") {
		m.Moisture = s.num("moisture")
	}
	if math.IsNaN(m.Mass) {
		s.fault("mass", "", "is missing; the table has no density for "+row.Name)
	}
	if math.IsNaN(m.Moisture) {
		s.fault("moisture", "", "is missing; the table has none for "+row.Name)
	}
	if len(s.faults) > 0 {
		return nil
	}
	s.line("nitrogen", m.Dry()*m.N, unit.Mass)
	s.line("carbon", m.Dry()*m.C, unit.Mass)
	if row.ID == "urine" {
		year := 365 * fertility.DailyOf(35).Urine // kg taken as L
		s.line("phosphorus", m.Mass*fertility.DefaultUrine.P/year, unit.Mass)
		s.line("potassium", m.Mass*fertility.DefaultUrine.K/year, unit.Mass)
	}
	s.line("mass", m.Mass, unit.Mass)
	s.step("%s of %s, %s of it dry at %s nitrogen, hold %s.", s.say(m.Mass, unit.Mass), row.Name, s.say(m.Dry(), unit.Mass), s.say(m.N, unit.Share), s.say(m.Dry()*m.N, unit.Mass))
	return nil
}

func limeSum() Sum {
	return Sum{
		Name: "lime", Title: "Lime or wood ash", Group: Soil,
		About: "Ground limestone that brings a bed to pH 6.5, and the wood ash worth as much, within the year's limit.",
		Inputs: []Input{
			choice("texture", "of the soil", "loam", "sandy loam", "loam", "clay loam"),
			amount("ph", "of the soil, measured", unit.Number, "", 3, 9.5),
			amount("area", "of the bed", unit.Area, "1 m2", 0.01, 1e5),
		},
		Source:   "grower sheet, limestone by texture and pH (converted from lb per 100 square feet); 1.5 kg of ash for 1 kg of limestone, extension column",
		Cautions: []string{"Clean wood ash only: no coal, paint or treated wood. Wear gloves and keep it off seedlings.", "A soil test of your own extension service comes first; potatoes, blueberries and the like want no lime (common practice)."},
		Example: Example{
			Given:   []Pair{{"texture", "loam"}, {"ph", "5.5"}, {"area", "10 m2"}},
			Printed: []Printed{{"limestone", "3.9 kg", 3.9, 0.05}},
			Source:  "grower sheet: loam from pH 5.5, 0.39 kg/m2",
		},
		do: func(s *sheet) error {
			texture := map[string]fertility.Texture{"sandy loam": fertility.SandyLoam, "loam": fertility.Loam, "clay loam": fertility.ClayLoam}[s.text("texture")]
			rate, err := fertility.LimeNeed(texture, s.num("ph"))
			if err != nil {
				return err
			}
			ash := fertility.AshForLime(rate)
			s.line("limestone", rate*s.num("area"), unit.Mass)
			s.line("wood ash worth as much", ash*s.num("area"), unit.Mass)
			s.line("most ash in a year", fertility.AshYear*s.num("area"), unit.Mass)
			if r := fertility.AshGate(s.num("ph"), ash, true); !r.Allowed {
				s.warnf("Not that much ash: %s. Rule: %s (%s).", r.Why, r.Rule, r.Source)
			}
			s.step("%s from pH %s takes %s of limestone on %s.", s.text("texture"), s.number(s.num("ph")), s.say(rate, unit.ArealMass), s.say(s.num("area"), unit.Area))
			return nil
		},
	}
}
