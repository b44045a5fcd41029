package diet

// A plane is one regression of NASEM 2023, kcal a day:
// c0 + age*A [y] + height*H [cm] + mass*W [kg].
type plane struct{ c0, age, height, mass float64 }

func (e plane) at(p Person) float64 {
	return e.c0 + e.age*p.Age + e.height*100*p.Height + e.mass*p.Mass
}

// NASEM 2023, Dietary Reference Intakes for Energy, doi 10.17226/26818, in the
// rising order of activity. Five public transcriptions agree on every figure;
// two others print a wrong constant for very active men.
var (
	eerMen = [4]plane{
		{753.07, -10.83, 6.50, 14.10},
		{581.47, -10.83, 8.30, 14.94},
		{1004.82, -10.83, 6.52, 15.91},
		{-517.88, -10.83, 15.61, 19.11},
	}
	eerWomen = [4]plane{
		{584.90, -7.01, 5.72, 11.71},
		{575.77, -7.01, 6.60, 12.14},
		{710.25, -7.01, 6.54, 12.34},
		{511.83, -7.01, 9.07, 12.56},
	}
	eerBoys = [4]plane{
		{-447.51, 3.68, 13.01, 13.15},
		{19.12, 3.68, 8.62, 20.28},
		{-388.19, 3.68, 12.66, 20.46},
		{-671.75, 3.68, 15.38, 23.25},
	}
	eerGirls = [4]plane{
		{55.59, -22.25, 8.43, 17.07},
		{-297.54, -22.25, 12.77, 14.73},
		{-189.55, -22.25, 11.74, 18.34},
		{-709.59, -22.25, 18.22, 14.25},
	}
	eerPregnant = [4]plane{
		{1131.20, -2.04, 0.34, 12.15},
		{693.35, -2.04, 5.73, 10.20},
		{-223.84, -2.04, 13.23, 8.15},
		{-779.72, -2.04, 18.45, 8.73},
	}
	eerBabyBoys  = plane{-716.45, -1.00, 17.82, 15.06}
	eerBabyGirls = plane{-69.15, 80.0, 2.65, 54.15}
)

// EER2023 returns the estimated energy requirement in MJ a day: the energy that
// holds the mass of a person of this size and activity, with growth, pregnancy
// and milk. Source: NASEM 2023. The standard error for adults is about 340
// (men) and 250 kcal (women) a day. The error lists what is out of range.
//
// An unknown week (0) of pregnancy is taken as 27, the middle of the later two
// trimesters, and an unknown week since the birth as the first half year: a
// need set too high does less harm here than one set too low. The equation for
// pregnant women is used from 14 years.
func EER2023(p Person) (mj float64, err error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	l, err := level(p.Activity)
	if err != nil {
		return 0, err
	}
	switch {
	case p.State == Pregnant && p.gestation() >= 14:
		return kcal * (eerPregnant[l].at(p) + 9.16*float64(p.gestation()) + deposition(p)), nil
	case p.State == Lactating:
		return kcal * (alone2023(p, l) + milk2023(p.Week)), nil
	}
	return kcal * alone2023(p, l), nil
}

// alone2023 is the need without pregnancy or milk, kcal a day. A first
// trimester adds nothing to it (from memory).
func alone2023(p Person, level int) float64 {
	pick := func(male, female plane) float64 {
		if p.male() {
			return male.at(p)
		}
		return female.at(p)
	}
	switch {
	case p.Age < 3:
		return pick(eerBabyBoys, eerBabyGirls) + growth2023(p)
	case p.Age < 19:
		return pick(eerBoys[level], eerGirls[level]) + growth2023(p)
	}
	return pick(eerMen[level], eerWomen[level])
}

// growth2023 is the energy laid down in new tissue, kcal a day (NASEM 2023).
func growth2023(p Person) float64 {
	steps := [...]struct{ months, boys, girls float64 }{
		{3, 200, 180}, {6, 50, 60}, {12, 20, 20}, {48, 20, 15}, {108, 15, 15}, {168, 25, 30}, {228, 20, 20},
	}
	for _, s := range steps {
		if 12*p.Age < s.months {
			if p.male() {
				return s.boys
			}
			return s.girls
		}
	}
	return 0
}

func (p Person) gestation() int {
	if p.Week == 0 {
		return 27
	}
	return p.Week
}

// deposition is the energy laid down in pregnancy by body mass index before it,
// kcal a day: underweight as published in NASEM 2023, the others from memory.
func deposition(p Person) float64 {
	switch bmi := p.Mass / (p.Height * p.Height); {
	case bmi < 18.5:
		return 200
	case bmi < 25:
		return 150
	case bmi < 30:
		return 125
	}
	return -50
}

// milk2023 is the energy of milk less what the body gives up for it, kcal a
// day: 540 - 140 in the first half year (NASEM 2023), 380 after it (from memory).
func milk2023(week int) float64 {
	if week <= 26 {
		return 540 - 140
	}
	return 380
}
