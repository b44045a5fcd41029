package larder

import (
	"fmt"
	"slices"
	"strings"
)

// A Stage of a batch begins From days after the batch did, at the earliest, and
// at the latest To.
type Stage struct {
	Name     string
	From, To float64 // days
	Do       string
}

// A Sheet is a batch that takes its time.
type Sheet struct {
	Kind   string
	In     []Part // what goes in, kg
	Stages []Stage
	Source string
}

// sheets make the sheets of kg of the main thing at a temperature in °C.
var sheets = map[string]func(kg, temp float64) (Sheet, error){
	"kraut": krautSheet, "pickles": pickleSheet, "mixed": mixedSheet, "cider": ciderSheet, "mead": meadSheet,
	"vinegar": vinegarSheet, "tea": teaSheet, "acorns": acornSheet, "fruit": fruitSheet,
}

// SheetKinds lists what there are sheets for, and SheetOf what each is counted in.
func SheetKinds() []string {
	var kinds []string
	for k := range sheets {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	return kinds
}

// SheetOf returns the sheet of a batch: kraut of kg of cabbage, pickles of
// cucumbers, mixed of vegetables, cider of juice, mead of honey, vinegar of cider,
// tea (fermented) of water, acorns of kernels, fruit of fresh fruit to dry. The
// error tells what is out of range, and nothing is made of it.
func SheetOf(kind string, kg, tempC float64) (Sheet, error) {
	make, ok := sheets[kind]
	if !ok {
		return Sheet{}, fmt.Errorf("no batch sheet %q: there are %s", kind, strings.Join(SheetKinds(), ", "))
	}
	if !(kg > 0 && kg <= 10000) {
		return Sheet{}, fmt.Errorf("a batch of %g kg: give more than 0 and at most 10,000", kg)
	}
	s, err := make(kg, tempC)
	s.Kind = kind
	return s, err
}

// At returns the place of the stage that a batch stands in so many days on, and
// how many days are left until the next at the earliest; next is false in the last.
func (s Sheet) At(days float64) (stage int, left float64, next bool) {
	for i, st := range s.Stages {
		if st.From <= days {
			stage = i
		}
	}
	if stage+1 == len(s.Stages) {
		return stage, 0, false
	}
	return stage, s.Stages[stage+1].From - days, true
}

func between(what string, temp, lo, hi float64, why string) error {
	if !(temp >= lo && temp <= hi) {
		return fmt.Errorf("%s at %g °C: keep it at %g to %g; %s", what, temp, lo, hi, why)
	}
	return nil
}

func krautSheet(kg, temp float64) (Sheet, error) {
	lo, hi, err := KrautDays(temp)
	if err != nil {
		return Sheet{}, err
	}
	return Sheet{In: []Part{{"cabbage, shredded", kg}, {"salt", DrySalt(kg, 0.024)}}, Source: "North Dakota State University; salt USDA", Stages: []Stage{
		{"salted and pressed", 0, 0, "Weigh the salt, knead until juice stands above, weight it down by 2.5 to 5 cm."},
		{"brine looked at", 1, 1, "Not covered yet? Top up with 28 g of salt to a litre of boiled, cooled water."},
		{"working", 2, lo, "Skim any scum every second day; pink, slimy or furry means throw it out."},
		{"ready to taste", lo, hi, "Sour through and no more bubbles: pH 3.4 to 3.6. Then cold, or into jars by the tested time."},
		{"kept", hi, hi, "In the cold under its brine, or jarred."}}}, nil
}

func pickleSheet(kg, temp float64) (Sheet, error) {
	err := between("cucumbers in brine", temp, 16, 24, "colder they may not start, warmer they soften")
	water := 0.5 * kg
	return Sheet{In: []Part{{"cucumbers", kg}, {"water", water}, {"salt", BrineSalt(water, PickleBrine)}}, Source: "USDA, full sour, from memory", Stages: []Stage{
		{"covered", 0, 0, "Blossom ends off; brine of 5 % or more over them, weighted under."},
		{"working", 2, 21, "Skim daily."},
		{"ready to taste", 21, 28, "Olive through, no white inside."},
		{"kept", 28, 28, "In the cold under brine, or jarred as fermented dill by the tested time."}}}, err
}

func mixedSheet(kg, temp float64) (Sheet, error) {
	err := between("mixed vegetables", temp, 15, 24, "colder they may not start, warmer they soften")
	return Sheet{In: []Part{{"vegetables, cut", kg}, {"salt", DrySalt(kg, 0.025)}}, Source: "common practice, 2 to 3 % of salt", Stages: []Stage{
		{"salted", 0, 0, "Weigh 2 to 3 % of salt; press under the brine."},
		{"working", 1, 5, "Let gas out daily."},
		{"sour", 5, 14, "pH 4.0 or under within days; measure it, and throw out what is not."},
		{"kept", 14, 14, "In the cold."}}}, err
}

func ciderSheet(kg, temp float64) (Sheet, error) {
	err := between("cider", temp, 8, 24, "colder the yeast sleeps, warmer it tastes of solvent")
	return Sheet{In: []Part{{"juice", kg}}, Source: "common practice", Stages: []Stage{
		{"pitched", 0, 0, "Note the gravity (1.045 to 1.055); airlock."},
		{"working", 2, 21, "Gravity each week; no shut vessel."},
		{"racked", 21, 42, "Off its lees when it has fallen to 1.005; top up to the neck."},
		{"still", 42, 120, "The same gravity two weeks running before any bottle."},
		{"bottled", 120, 120, "Cool and dark. Alcohol by the hydrometer: sum alcohol."}}}, err
}

func meadSheet(kg, temp float64) (Sheet, error) {
	m, water, err := MeadMust(kg, 4)
	if err == nil {
		err = between("mead", temp, 12, 25, "colder the yeast sleeps, warmer it tastes of solvent")
	}
	return Sheet{In: []Part{{"honey", kg}, {"water", water}}, Source: "1 kg of honey made up to 4 L; steps of common practice", Stages: []Stage{
		{"pitched", 0, 0, fmt.Sprintf("%.1f L at a gravity near %.3f; airlock, yeast food.", m.Litres, m.Gravity)},
		{"working", 3, 60, "Stir the first days, then leave it shut under its airlock."},
		{"racked", 60, 120, "Off its lees near 1.000 to 1.010."},
		{"still", 120, 240, "The same gravity two weeks running."},
		{"bottled", 240, 365, "Best after a year."}}}, err
}

func vinegarSheet(kg, temp float64) (Sheet, error) {
	err := between("vinegar", temp, 18, 32, "colder the mother sleeps, warmer it dies")
	return Sheet{In: []Part{{"dry cider", kg}, {"live vinegar", kg / 5}}, Source: "common practice, one part of live vinegar to five", Stages: []Stage{
		{"seeded", 0, 0, "Wide vessel, cloth over it, half full."},
		{"souring", 7, 60, "Leave the skin on top unbroken."},
		{"sour", 60, 120, "Titrate: for pickling it must reach 5 % acetic acid, or it is for the table only."},
		{"kept", 120, 120, "Strained, full bottles, shut."}}}, err
}

func teaSheet(kg, temp float64) (Sheet, error) {
	err := between("fermented tea", temp, 20, 30, "24 to 29 is usual; colder mould wins")
	return Sheet{In: []Part{{"water", kg}, {"tea", 0.006 * kg}, {"sugar", 0.06 * kg}, {"starter", 0.15 * kg}}, Source: "Niagara Region Public Health; amounts of common practice", Stages: []Stage{
		{"started", 0, 0, "Steep above 73 °C, cool, add a tenth to a fifth of sour starter; glass, cloth over it."},
		{"working", 1, 7, "Mould on the skin means throw all of it out."},
		{"measured", 7, 14, "pH between 2.5 and 4.2 or it is thrown out."},
		{"kept", 14, 14, "Cold, or 82 °C and bottled: alcohol and gas go on rising in the bottle. About 120 mL a day; not for the pregnant, infants or weak immune systems."}}}, err
}

func acornSheet(kg, _ float64) (Sheet, error) {
	return Sheet{In: []Part{{"acorn kernels, ground", kg}, {"water, in changes", leachWater * kg}}, Source: "British note on leaching acorns (from memory); common practice", Stages: []Stage{
		{"soaking", 0, 0, "Cold water five times over; pour off and fill again morning and evening."},
		{"tasted", 3, 14, "When nothing puckers the mouth it is done; bitter means on."},
		{"dried", 4, 15, "At 49 to 66 °C, or into the freezer at once."}}}, nil
}

func fruitSheet(kg, _ float64) (Sheet, error) {
	return Sheet{In: []Part{{"fruit, cut", kg}}, Source: "University of Georgia; NCHFP", Stages: []Stage{
		{"on the trays", 0, 0, "60 °C, or the sun on days of 30 °C and dry air; taken in at night."},
		{"in loose jars", 1, 10, "Two thirds full, shaken daily; damp glass means back on the trays."},
		{"against insects", 8, 20, "Dried in the sun? 48 hours at -18 °C or 30 minutes at 71 °C."},
		{"kept", 9, 20, "Shut, dark: a year at 16 °C, half a year at 27 °C."}}}, nil
}
