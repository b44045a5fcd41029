package sums

import (
	"fmt"
	"math"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/fertility"
	"evenstead/unit"
)

// cropInput is a choice among all crops.
func cropInput(t *data.Tables) Input {
	return choice("crop", "what grows", "", ids(t.Crops, func(c *data.Crop) string { return c.ID })...)
}

func cropWaterSum(t *data.Tables) Sum {
	return Sum{
		Name: "crop-water", Title: "Water of a crop", Group: Growing,
		About: "What a well-watered crop draws in a day at a stage of its life, for a bed. Rain that falls counts against it; watering losses come on top.",
		Inputs: []Input{
			cropInput(t),
			choice("stage", "how far it is", "mid", "initial", "growing", "mid", "end"),
			amount("et0", "reference evaporation of a day (see et0)", unit.Depth, "", 0, 20),
			amount("area", "of the bed", unit.Area, "1 m2", 0.01, 1e6),
			maybe(amount("kc", "crop coefficient, in place of the table's", unit.Number, "", 0.05, 2)),
		},
		Source: "ETc = Kc ET0; Allen et al. 1998, FAO-56 eq. 58 and 66, Kc of its table 12",
		Example: Example{
			Given:   []Pair{{"crop", "tomato"}, {"kc", "1.2"}, {"et0", "5 mm"}, {"area", "10 m2"}},
			Printed: []Printed{{"crop water", "6.0 mm a day", 6, 0.05}},
			Source:  "Allen et al. 1998, FAO-56, example 37, p. 168, day 1 (tomato, Kc 1.2)",
		},
		do: func(s *sheet) error {
			c, _ := s.tables.Crop(s.text("crop"))
			kc := stageKc(c, s.text("stage"))
			if s.has("kc") {
				kc = s.num("kc")
			}
			if !(kc > 0) {
				s.fault("kc", "", "is missing; the table has none for "+c.Name)
				return nil
			}
			etc := kc * s.num("et0")
			s.over("crop water", etc, unit.Depth, "a day")
			s.line("for the bed", etc*s.num("area"), unit.Flow)
			s.line("for the bed in a week", 7*etc*s.num("area"), unit.Volume)
			s.step("A crop coefficient of %s times %s of reference evaporation is %s over %s.", s.number(kc),
				s.say(s.num("et0"), unit.Depth), s.say(etc, unit.Depth), s.say(s.num("area"), unit.Area))
			return nil
		},
	}
}

// stageKc is the crop coefficient in the middle of a stage, or at the end.
func stageKc(c *data.Crop, stage string) float64 {
	frac := map[string]float64{"initial": 0, "growing": c.ShareIni + c.ShareDev/2, "mid": c.ShareIni + c.ShareDev + c.ShareMid/2, "end": 1}[stage]
	return crop.Kc(frac, c.KcIni, c.KcMid, c.KcEnd, c.ShareIni, c.ShareDev, c.ShareMid)
}

func plantsSum(t *data.Tables) Sum {
	return Sum{
		Name: "plants", Title: "Plants and ground for a need", Group: Growing,
		About: "How much ground and how many plants bring a need of a crop in a year, as mass carried home or as food energy: give need or energy.",
		Inputs: []Input{
			cropInput(t),
			maybe(amount("need", "of the crop as carried home, in a year", unit.Mass, "", 0.01, 1e6)),
			maybe(amount("energy", "of food from it, in a year", unit.Energy, "", 0.1, 1e7)),
			choice("year", "which of the table's yields", "usual", "poor", "usual", "good"),
			maybe(amount("yield", "in place of the table's", unit.ArealMass, "", 0.001, 50)),
			amount("loss", "share lost to pests, keeping and seed", unit.Share, "25 %", 0, 0.95),
		},
		Source:   "need over yield, loss on top; yields of the crop table, food energy of USDA SR26-28",
		Cautions: []string{"Plan on the poor yield where the crop is a staple."},
		Example: Example{
			Given:   []Pair{{"crop", "potato"}, {"energy", "912500 kcal"}, {"loss", "25 %"}},
			Printed: []Printed{{"ground", "832 m2", 832, 0.5}},
			Source:  "a year at 2,500 kcal a day all from potato, typical yield, 25 % lost (computed)",
		},
		do: plants,
	}
}

func plants(s *sheet) error {
	if s.has("need") == s.has("energy") {
		s.fault("need", "", "or energy: give one of the two")
		return nil
	}
	c, _ := s.tables.Crop(s.text("crop"))
	yield := map[string]float64{"poor": c.YieldLo, "usual": c.YieldTyp, "good": c.YieldHi}[s.text("year")]
	if s.has("yield") {
		yield = s.num("yield")
	}
	need := s.num("need")
	if s.has("energy") {
		f, ok := s.tables.Food(c.Food)
		if !ok || !(c.EdibleFraction > 0) || !(f.Nutrient[0] > 0) {
			s.fault("energy", "", "of "+c.Name+" is not in the food table; give need as a mass")
			return nil
		}
		need = s.num("energy") / (c.EdibleFraction * f.Nutrient[0])
		s.step("%s of food is %s of %s as carried home, %s of it edible at %s.", s.say(s.num("energy"), unit.Energy),
			s.say(need, unit.Mass), c.Name, s.say(c.EdibleFraction, unit.Share), s.each(f.Nutrient[0], unit.Energy, unit.Mass))
	}
	area := crop.GroundFor(need, yield, s.num("loss"))
	s.line("ground", area, unit.Area)
	s.line("with paths and edges", crop.Gross(area), unit.Area)
	s.count("plants", math.Ceil(area*c.PlantsM2-1e-9), "")
	s.line("carried home with nothing lost", area*yield, unit.Mass)
	s.step("%s with %s lost on the way, at %s, take %s; plants stand %s.", s.say(need, unit.Mass), s.say(s.num("loss"), unit.Share),
		s.say(yield, unit.ArealMass), s.say(area, unit.Area), s.each(c.PlantsM2, unit.Number, unit.Area))
	return nil
}

func seedSum(t *data.Tables) Sum {
	return Sum{
		Name: "seed", Title: "Seed to keep", Group: Growing,
		About: "Seed, tubers or sets to put aside for next year's ground, enough to sow again after a failure, with a margin for what age kills.",
		Inputs: []Input{
			cropInput(t),
			amount("area", "to sow next year", unit.Area, "", 0.01, 1e6),
			amount("failures", "sowings that may fail and be done again", unit.Number, "1", 0, 5),
			amount("age", "years of the seed by then; planting stock does not count", unit.Number, "1", 0, 10),
			maybe(amount("rate", "seed, in place of the table's", unit.ArealMass, "", 0.000001, 5)),
			maybe(amount("tested", "share that came up in your own test, in place of what age leaves", unit.Share, "", 0.05, 1)),
		},
		Source:   "area x rate x (1 + failures) over what still comes up; seed rates and lives of the crop table; deaths of seed after Ellis and Roberts 1980; two seasons' seed of a staple (common practice)",
		Cautions: []string{"Put seed aside before the eating store is counted. Test ten or twenty on damp cloth each spring.", "Potatoes, garlic, sweet potatoes and other sets keep no dry seed: they must live through the winter, and carry virus on."},
		Example: Example{
			Given:   []Pair{{"crop", "maize_dry"}, {"area", "1 ha"}, {"rate", "1.04 g/m2"}, {"failures", "0"}, {"age", "0"}},
			Printed: []Printed{{"seed", "10.4 kg", 10.4, 0.05}},
			Source:  "Pimentel, maize by hand in Mexico, 10.4 kg of seed a hectare",
		},
		do: seed,
	}
}

func seed(s *sheet) error {
	row, _ := s.tables.Crop(s.text("crop"))
	c := *row
	if s.has("rate") {
		c.SeedGM2 = 1000 * s.num("rate")
	}
	if !(c.SeedGM2 > 0) {
		s.fault("rate", "", "is missing; the table has no seed rate for "+c.Name)
		return nil
	}
	age := s.num("age")
	fresh := crop.KeepBack(&c, s.num("area"), s.num("failures"), 0) / 1000
	kg := crop.KeepBack(&c, s.num("area"), s.num("failures"), age) / 1000
	left := fresh / kg
	if s.has("tested") {
		standard := 1.0
		if c.Seed.Germination > 0 {
			standard = c.Seed.Germination
		}
		left = min(1, s.num("tested")/standard)
		kg = fresh / left
	}
	s.line("seed", kg, unit.Mass)
	s.line("of a usual crop of that ground", kg/s.num("area")/c.YieldTyp, unit.Share)
	if c.Seed.Plants > 0 {
		s.count("save from at least", c.Seed.Plants, "plants")
	}
	if c.Seed.Isolation > 0 {
		s.line("from others of its kind in flower", c.Seed.Isolation, unit.Length)
	}
	s.step("%s at %s, sown %s, take %s of fresh seed, of whose vigour %s is left.", s.say(s.num("area"), unit.Area), s.say(c.SeedGM2/1000, unit.ArealMass),
		map[bool]string{true: "once", false: "up to " + s.number(1+s.num("failures")) + " times"}[s.num("failures") == 0], s.say(fresh, unit.Mass), s.say(left, unit.Share))
	return nil
}

// soilClasses are the soil-test classes as a sum names them.
var soilClasses = []string{"untested", "very low", "low", "medium", "optimum", "very high"}

func nitrogenSum(t *data.Tables) Sum {
	return Sum{
		Name: "nitrogen", Title: "Nitrogen a crop needs", Group: Growing,
		About: "What a harvest carries off and so asks back: nitrogen less what a legume fixes, phosphorus and potassium, and the urine that holds as much nitrogen.",
		Inputs: []Input{
			cropInput(t),
			amount("area", "of the bed", unit.Area, "1 m2", 0.01, 1e6),
			maybe(amount("yield", "in place of the table's usual", unit.ArealMass, "", 0.001, 50)),
			choice("soil", "soil-test class, for phosphorus and potassium", "untested", soilClasses...),
		},
		Source:   "yield x removal x index factor; removal of the crop table (USDA SR26, or field removal where larger); index factors common practice",
		Cautions: []string{"More than the need runs to the groundwater. Soil with compost or a legume before gives a part itself."},
		Example: Example{
			Given:   []Pair{{"crop", "cabbage"}, {"area", "250 m2"}, {"yield", "4 kg/m2"}},
			Printed: []Printed{{"nitrogen", "3.1 kg", 3.1, 0.05}},
			Source:  "New England Vegetable Management Guide, nutrient removal, table 4: 3.1 kg of nitrogen in a tonne of cabbage (converted)",
		},
		do: nitrogen,
	}
}

func nitrogen(s *sheet) error {
	c, _ := s.tables.Crop(s.text("crop"))
	yield := c.YieldTyp
	if s.has("yield") {
		yield = s.num("yield")
	}
	kg := yield * s.num("area")
	class := fertility.NoTest
	for i, name := range soilClasses {
		if name == s.text("soil") {
			class = fertility.Class(i)
		}
	}
	factor := fertility.IndexFactor(class)
	n := fertility.Need(kg, c.N/1000*(1-c.Fixed), 1)
	s.line("nitrogen", n, unit.Mass)
	s.line("phosphorus", fertility.Need(kg, c.P/1000, factor), unit.Mass)
	s.line("potassium", fertility.Need(kg, c.K/1000, factor), unit.Mass)
	s.line("urine with as much nitrogen", n/urineStrength(), unit.Volume)
	fixed := ""
	if c.Fixed > 0 {
		fixed = fmt.Sprintf(", %s of it from the air", s.say(c.Fixed, unit.Share))
	}
	s.step("%s of %s carry off %s of nitrogen%s.", s.say(kg, unit.Mass), c.Name, s.say(kg*c.N/1000, unit.Mass), fixed)
	return nil
}

// urineStrength is the nitrogen of an adult's urine [kg/L].
func urineStrength() float64 {
	return fertility.DefaultUrine.N / (365 * fertility.DailyOf(35).Urine)
}
