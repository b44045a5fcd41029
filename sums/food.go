package sums

import (
	"fmt"
	"math"
	"strings"

	"evenstead/data"
	"evenstead/diet"
	"evenstead/larder"
	"evenstead/unit"
)

func foodSums(t *data.Tables) []Sum {
	return []Sum{energySum(), servingsSum(t), jarsSum(), brineSum(), alcoholSum(), canningSum(), dryingSum(t),
		freezerSum(), thawSum()}
}

func foodIDs(t *data.Tables) []string {
	return ids(t.Foods, func(f *data.Food) string { return f.ID })
}

// said joins cautions and their sources.
func said(list []larder.Caution) []string {
	out := []string{larder.Advice}
	for _, c := range list {
		out = append(out, c.Text+" ("+c.Source+")")
	}
	return out
}

func energySum() Sum {
	return Sum{
		Name: "energy-need", Title: "Energy a person needs", Group: Food,
		About: "Food energy a day that holds the mass of a person of this size and activity, with growth, pregnancy and milk, by the equations of 2023 and those of 2005 that they replaced.",
		Inputs: []Input{
			choice("sex", "which the equations ask for", "", "female", "male"),
			amount("age", "years", unit.Number, "", 0, 120),
			amount("height", "without shoes", unit.Length, "", 0.4, 2.5),
			amount("mass", "of the body; before the pregnancy", unit.Mass, "", 2, 300),
			choice("activity", "level; hand farm work is active to very_active", diet.Active, diet.Inactive, diet.LowActive, diet.Active, diet.VeryActive),
			choice("state", "of a woman", diet.None, diet.None, diet.Pregnant, diet.Lactating),
			amount("week", "of pregnancy, or since the birth; 0 not known", unit.Number, "0", 0, 44),
		},
		Source:   "NASEM 2023, Dietary Reference Intakes for Energy; Institute of Medicine 2002/2005",
		Cautions: []string{diet.Advice, "The standard error for adults is about 340 (men) and 250 kcal (women) a day (NASEM 2023)."},
		Example: Example{
			Given:   []Pair{{"sex", "male"}, {"age", "30"}, {"height", "170 cm"}, {"mass", "70 kg"}, {"activity", "inactive"}},
			Printed: []Printed{{"need by NASEM 2023", "2520.17 kcal", 2520.17 * kcal, 0.005 * kcal}},
			Source:  "NASEM 2023, worked example: man of 30 years, 170 cm, 70 kg, inactive",
		},
		do: func(s *sheet) error {
			p := diet.Person{Sex: s.text("sex"), Age: s.num("age"), Height: s.num("height"), Mass: s.num("mass"),
				Activity: s.text("activity"), State: s.text("state"), Week: int(s.num("week"))}
			now, err := diet.EER2023(p)
			if err != nil {
				return err
			}
			before, err := diet.EER2005(p)
			if err != nil {
				return err
			}
			s.food("need by NASEM 2023", now, "a day")
			s.food("need by IOM 2005", before, "a day")
			s.step("For a %s of %s years, %s and %s, %s, the equations give %s and %s kcal a day.", p.Sex, s.number(p.Age), s.say(p.Height, unit.Length),
				s.say(p.Mass, unit.Mass), strings.ReplaceAll(p.Activity, "_", " "), s.number(now/kcal), s.number(before/kcal))
			return nil
		},
	}
}

func servingsSum(t *data.Tables) Sum {
	return Sum{
		Name: "servings", Title: "Servings in a lot", Group: Food,
		About: "How many servings a lot of food makes and what is in one, before cooking. What the table does not know is said to be not known, never zero.",
		Inputs: []Input{
			choice("food", "what it is", "", foodIDs(t)...),
			amount("lot", "of the food", unit.Mass, "", 0.001, 1e5),
			amount("serving", "edible, raw", unit.Mass, "100 g", 0.001, 5),
			choice("weighed", "the lot whole, or edible part only", "whole", "whole", "edible"),
		},
		Source:   "edible part over serving; refuse and composition of USDA SR26-28",
		Cautions: []string{diet.Advice},
		Example: Example{
			Given:   []Pair{{"food", "potato"}, {"lot", "10 kg"}, {"serving", "100 g"}},
			Printed: []Printed{{"servings", "75", 75, 0.5}, {"energy in one", "77 kcal", 77 * kcal, 0.5 * kcal}},
			Source:  "USDA SR26, potato, refuse 25 %, 77 kcal in 100 g (servings computed)",
		},
		do: func(s *sheet) error {
			f, ok := s.tables.Food(s.text("food"))
			if !ok {
				return fmt.Errorf("no food %q in the table", s.text("food"))
			}
			refuse := f.Refuse
			if s.text("weighed") == "edible" {
				refuse = 0
			}
			serving := s.num("serving")
			s.count("servings", larder.Servings(s.num("lot"), refuse, serving), "")
			s.food("energy in one", f.Nutrient[0]*serving, "")
			s.line("protein in one", f.Nutrient[s.tables.NutrientIndex("protein_g")]*serving/1000, unit.Mass)
			s.line("fat in one", f.Nutrient[s.tables.NutrientIndex("fat_g")]*serving/1000, unit.Mass)
			for _, m := range s.tables.MeatYieldsOf(f.ID) {
				s.line("one "+m.How, m.Yield*serving, unit.Mass)
				s.step("%s, %s: %s of the raw is left (%s).", m.Item, m.How, s.say(m.Yield, unit.Share), m.Source)
			}
			s.step("%s of %s, %s of it thrown away, leave %s in servings of %s.", s.say(s.num("lot"), unit.Mass), f.Name, s.say(refuse, unit.Share),
				s.say(s.num("lot")*(1-refuse), unit.Mass), s.say(serving, unit.Mass))
			return nil
		},
	}
}

func jarsSum() Sum {
	return Sum{
		Name: "jars", Title: "Jars for the year", Group: Food,
		About: "Jars for a mass of food, or for eating so much a week until the next crop: give mass or eat.",
		Inputs: []Input{
			maybe(amount("mass", "of food to put up", unit.Mass, "", 0.01, 1e5)),
			maybe(amount("eat", "of the food, all eaters together", unit.MassRate, "", 0.001, 1000)),
			amount("for", "until the next crop", unit.Time, "52 weeks", 24, 24*800),
			amount("loss", "share lost in store, when told by eating", unit.Share, "5 %", 0, 0.9),
			amount("jar", "size of a jar", unit.Volume, "1 qt", 0.1, 4),
		},
		Source:   "0.91 kg of food to a quart of 0.946 L (USDA AIB 539, snap beans)",
		Cautions: said(larder.Cautions(larder.Jarred)),
		Example: Example{
			Given:   []Pair{{"mass", "14 lb"}, {"jar", "1 qt"}},
			Printed: []Printed{{"jars", "7", 7, 0}},
			Source:  "USDA AIB 539: 14 lb of snap beans to a canner load of seven quarts (from memory)",
		},
		do: func(s *sheet) error {
			if s.has("mass") == s.has("eat") {
				s.fault("mass", "", "or eat: give one of the two")
				return nil
			}
			kg := s.num("mass")
			if s.has("eat") {
				weeks := s.num("for") / 168
				kg = larder.YearOf(7*s.num("eat"), weeks, s.num("loss"))
				s.step("%s for %s weeks with %s lost is %s.", s.say(s.num("eat"), unit.MassRate), s.number(weeks), s.say(s.num("loss"), unit.Share), s.say(kg, unit.Mass))
			}
			if s.num("jar") > 0.9465 {
				s.warn("Tested canning times end at a quart (0.946 L): a larger jar is for dry food only.")
			}
			s.count("jars", float64(larder.JarCount(kg, s.num("jar"))), "")
			s.line("food", kg, unit.Mass)
			s.step("A jar of %s holds %s of food.", s.say(s.num("jar"), unit.Volume), s.say(s.num("jar")*larder.JarFill, unit.Mass))
			return nil
		},
	}
}

func brineSum() Sum {
	return Sum{
		Name: "brine", Title: "Brine and salting", Group: Food,
		About: "Salt for a brine (a share of the whole brine) or for dry salting (a share of the food), or the share that weighed salt makes: give salt or weighed.",
		Inputs: []Input{
			choice("way", "salt in water, or rubbed into the food", "brine", "brine", "dry"),
			maybe(amount("water", "for a brine", unit.Volume, "", 0.05, 1e4)),
			maybe(amount("food", "for dry salting", unit.Mass, "", 0.05, 1e4)),
			maybe(amount("salt", "share wanted", unit.Share, "", 0.001, larder.Saturated)),
			maybe(amount("weighed", "salt put in, to learn its share", unit.Mass, "", 0.0001, 1e4)),
		},
		Source:   "brine: water x share / (1 - share); dry: food x share; least shares of USDA guides (from memory)",
		Cautions: said(larder.Cautions(larder.Fermented)),
		Example: Example{
			Given:   []Pair{{"way", "dry"}, {"food", "5 lb"}, {"salt", "2.4 %"}},
			Printed: []Printed{{"salt", "54 g (3 Tbsp)", 0.054, 0.0012}},
			Source:  "North Dakota State University: 3 Tbsp of canning salt to 5 lb of cabbage, 2.4 % at 18 g a spoon (computed)",
		},
		do: brine,
	}
}

func brine(s *sheet) error {
	dry := s.text("way") == "dry"
	base := map[bool]string{true: "food", false: "water"}[dry]
	ok := s.need("for a "+map[bool]string{true: "dry salting", false: "brine"}[dry], base)
	if s.has("salt") == s.has("weighed") {
		s.fault("salt", "", "or weighed: give one of the two")
		ok = false
	}
	if !ok {
		return nil
	}
	share, kg := s.num("salt"), s.num("weighed")
	switch {
	case s.has("weighed") && dry:
		share = kg / larder.DrySalt(s.num(base), 1)
	case s.has("weighed"):
		share = larder.BrineShare(s.num(base), kg)
	case dry:
		kg = larder.DrySalt(s.num(base), share)
	default:
		kg = larder.BrineSalt(s.num(base), share)
	}
	if share > larder.Saturated {
		s.fault("weighed", s.say(kg, unit.Mass), fmt.Sprintf("is %s salt; water takes up no more than %s, so weigh again", s.say(share, unit.Share), s.say(larder.Saturated, unit.Share)))
		return nil
	}
	s.line("salt", kg, unit.Mass)
	s.line("share", share, unit.Share)
	least, of := larder.PickleBrine, "cucumbers ferment in a brine of"
	if dry {
		least, of = larder.KrautSalt, "cabbage ferments with"
	}
	if share < least {
		s.warnf("Under the least that %s: %s. For a ferment take more salt; for the table it does not matter.", of, s.say(least, unit.Share))
	}
	s.step("%s of salt %s is %s.", s.say(kg, unit.Mass), map[bool]string{
		true: "on " + s.say(s.num("food"), unit.Mass) + " of food", false: "in " + s.say(s.num("water"), unit.Volume) + " of water"}[dry], s.say(share, unit.Share))
	return nil
}

func alcoholSum() Sum {
	return Sum{
		Name: "alcohol", Title: "Alcohol by hydrometer", Group: Food,
		About: "Alcohol by volume from the specific gravity before and after fermenting, by three forms.",
		Inputs: []Input{
			amount("before", "specific gravity before", unit.Number, "", 1, 1.15),
			amount("after", "specific gravity after", unit.Number, "", 0.98, 1.15),
		},
		Source:   "131.25 (OG - FG), good to about 7 %; Hall 1995; Balling's real extract for strong drinks (from memory)",
		Cautions: said(larder.Cautions(larder.Fermented)),
		Example: Example{
			Given:   []Pair{{"before", "1.050"}, {"after", "1.010"}},
			Printed: []Printed{{"plain form", "5.25 %", 0.0525, 0.00005}, {"Hall 1995", "5.34 %", 0.0534, 0.00005}, {"Balling", "5.29 %", 0.0529, 0.00005}},
			Source:  "formulas (computed)",
		},
		do: func(s *sheet) error {
			og, fg := s.num("before"), s.num("after")
			if fg > og {
				s.fault("after", s.number(fg), "is above the gravity before; swap or mend them")
				return nil
			}
			s.line("plain form", larder.ABV(og, fg)/100, unit.Share)
			s.line("Hall 1995", larder.ABVHall(og, fg)/100, unit.Share)
			s.line("Balling", larder.ABVBalling(og, fg)/100, unit.Share)
			s.count("extract before", larder.Plato(og), "°P")
			s.step("131.25 x (%.3f - %.3f) = %.2f %%.", og, fg, larder.ABV(og, fg))
			return nil
		},
	}
}

func canningSum() Sum {
	foods, _ := larder.CanningFoods() // an error of the table is told by Processing
	return Sum{
		Name: "canning", Title: "Canning time at an altitude", Group: Food,
		About: "The tested time and pressure for a food, pack, jar and altitude. Nothing outside the printed table is offered.",
		Inputs: []Input{
			choice("food", "as the table names it", "", foods...),
			choice("pack", "how it goes into the jar", "hot", "hot", "raw"),
			amount("jar", "size; up to a quart has tested times", unit.Volume, "1 qt", 0.05, 4),
			choice("method", "how it is heated", larder.BoilingWater, larder.BoilingWater, larder.DialGauge, larder.WeightedGauge),
			amount("altitude", "of the kitchen", unit.Length, "", -400, 6000),
		},
		Source:   "USDA Complete Guide to Home Canning, AIB 539, as carried by extension services",
		Cautions: said(larder.Cautions(larder.Jarred)),
		Example: Example{
			Given:   []Pair{{"food", "peaches, halved or sliced"}, {"pack", "raw"}, {"jar", "1 qt"}, {"altitude", "4600 ft"}},
			Printed: []Printed{{"time", "40 min", 40.0 / 60, 0}},
			Source:  "USDA AIB 539, peaches, raw pack, quarts, 3,001 to 6,000 ft",
		},
		do: canning,
	}
}

func canning(s *sheet) error {
	jar, err := larder.JarOf(s.num("jar"))
	if err != nil {
		return err
	}
	p, err := larder.Processing(larder.Batch{Food: s.text("food"), Pack: s.text("pack"), Jar: jar, Method: s.text("method"), Altitude: s.num("altitude")})
	if err != nil {
		return err
	}
	s.shown("time", p.Minutes/60, unit.Time, "", s.number(p.Minutes)+" min")
	if p.KPa > 0 {
		text := s.number(p.KPa) + " kPa"
		if s.sys == unit.US {
			text = s.number(math.Round(p.KPa/6.894757)) + " psi"
		}
		s.shown("pressure by gauge", p.KPa, unit.Number, "kPa", text)
	}
	s.word("jar", "taken as a "+jar)
	if p.Acidify {
		s.word("acid", larder.Acidify)
	}
	if p.Note != "" {
		s.word("note", p.Note)
	}
	s.step("%s, %s pack, %ss, %s at %s, from the table: %s.", s.text("food"), s.text("pack"), jar, s.text("method"), s.height(s.num("altitude")), p.Source)
	return nil
}

func dryingSum(t *data.Tables) Sum {
	return Sum{
		Name: "drying", Title: "Drying ratio", Group: Food,
		About: "What is left when food dries: its solids stay, its water goes.",
		Inputs: []Input{
			maybe(choice("food", "to take its water from the table", "", foodIDs(t)...)),
			maybe(amount("before", "share of water, fresh", unit.Share, "", 0.05, 0.99)),
			amount("after", "share of water, dried: 20 % for fruit, 10 % for vegetables", unit.Share, "20 %", 0.005, 0.6),
			amount("fresh", "edible part, fresh", unit.Mass, "1 kg", 0.001, 1e5),
		},
		Source:   "(1 - before) / (1 - after); water of USDA SR26-28",
		Cautions: said(larder.Cautions(larder.Dried)),
		Example: Example{
			Given:   []Pair{{"before", "85.56 %"}, {"after", "31.76 %"}, {"fresh", "1 kg"}},
			Printed: []Printed{{"dried", "0.212 kg", 0.212, 0.0005}},
			Source:  "USDA SR26, apple fresh and dried (computed)",
		},
		do: func(s *sheet) error {
			before := s.num("before")
			if f, ok := s.tables.Food(s.text("food")); ok && !s.has("before") {
				before = f.Water
			}
			if math.IsNaN(before) {
				s.fault("before", "", "is missing; give it, or a food whose water the table knows")
				return nil
			}
			if s.num("after") >= before {
				s.fault("after", s.say(s.num("after"), unit.Share), "is not drier than fresh, "+s.say(before, unit.Share)+"; give less")
				return nil
			}
			ratio := larder.DryRatio(before, s.num("after"))
			s.line("dried", ratio*s.num("fresh"), unit.Mass)
			s.line("ratio", ratio, unit.Share)
			s.line("water driven off", s.num("fresh")*(1-ratio), unit.Mass)
			s.step("(1 - %s) / (1 - %s) = %s.", s.say(before, unit.Share), s.say(s.num("after"), unit.Share), s.say(ratio, unit.Share))
			return nil
		},
	}
}

func freezerSum() Sum {
	return Sum{
		Name: "freezer-hours", Title: "Hours a freezer holds", Group: Food,
		About: "By when to act after the current stops, lid shut.",
		Inputs: []Input{
			amount("fill", "share filled with frozen food", unit.Share, "", 0, 1),
			amount("size", "of the freezer", unit.Volume, "300 L", 20, 2000),
			amount("room", "temperature about it", unit.Temperature, "25 °C", -20, 50),
		},
		Source:   "USDA: 48 hours full, 24 half full; less for a small freezer or a warm room (common practice)",
		Cautions: said(larder.Cautions(larder.Frozen)),
		Example: Example{
			Given:   []Pair{{"fill", "50 %"}, {"size", "420 L"}, {"room", "25 °C"}},
			Printed: []Printed{{"holds", "24 h", 24, 0}},
			Source:  "USDA, a half-full freezer with its door shut",
		},
		do: func(s *sheet) error {
			h := larder.FreezerHold(s.num("fill"), s.num("size"), s.num("room"))
			s.line("holds", h, unit.Time)
			s.step("48 h for a full one times %s filled, in %s at %s, is %s.", s.say(s.num("fill"), unit.Share), s.say(s.num("size"), unit.Volume),
				s.say(s.num("room"), unit.Temperature), s.say(h, unit.Time))
			return nil
		},
	}
}

func thawSum() Sum {
	return Sum{
		Name: "thaw", Title: "Keep or throw after a thaw", Group: Food,
		About: "What to do with meat, dishes, milk and other perishable food after the freezer stood still. Nobody measured means it goes.",
		Inputs: []Input{
			choice("ice", "crystals still in the food", "", "yes", "no"),
			maybe(amount("temperature", "in the food now", unit.Temperature, "", -40, 50)),
			maybe(amount("above", "time it was above 4 °C (40 °F)", unit.Time, "", 0, 24*60)),
		},
		Source:   "USDA list for frozen food after a power cut; cook at once between the two (common practice)",
		Cautions: said(larder.Cautions(larder.Frozen)),
		Example: Example{
			Given:   []Pair{{"ice", "no"}, {"temperature", "5 °C"}, {"above", "2 h"}},
			Printed: []Printed{{Label: "do", Text: "discard"}},
			Source:  "USDA, thawed and held above 40 °F for over 2 hours: discard",
		},
		do: func(s *sheet) error {
			now, above := s.num("temperature"), s.num("above")
			if s.text("ice") == "yes" && now > 10 {
				s.fault("temperature", s.say(now, unit.Temperature), "is too warm for food with ice in it; measure in the middle, or write ice=no")
				return nil
			}
			if above >= 2 && now <= 4 {
				now = math.NaN() // cold again says nothing of the hours it was warm
			}
			s.word("do", string(larder.Thaw(s.text("ice") == "yes", now, above)))
			s.step("With ice left, or never over two hours above %s and that cold now, it is frozen again; two hours above it, or not measured, it is thrown out untasted.", s.say(4, unit.Temperature))
			return nil
		},
	}
}
