package diet

import "fmt"

// BMRSchofield returns the basal metabolism in MJ a day by sex, age and mass.
// Source: Schofield 1985 as in FAO/WHO/UNU 2004, table 5.2. Times a physical
// activity level it is the need of an adult. The error lists what is out of range.
func BMRSchofield(p Person) (mj float64, err error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	bands := [...]struct{ below, maleW, male, femaleW, female float64 }{
		{3, 59.512, -30.4, 58.317, -31.1},
		{10, 22.706, 504.3, 20.315, 485.9},
		{18, 17.686, 658.2, 13.384, 692.6},
		{30, 15.057, 692.2, 14.818, 486.6},
		{60, 11.472, 873.1, 8.126, 845.6},
	}
	for _, b := range bands {
		if p.Age >= b.below {
			continue
		}
		if p.male() {
			return kcal * (b.maleW*p.Mass + b.male), nil
		}
		return kcal * (b.femaleW*p.Mass + b.female), nil
	}
	if p.male() {
		return kcal * (11.711*p.Mass + 587.7), nil
	}
	return kcal * (9.082*p.Mass + 658.5), nil
}

// RestingMifflin returns the resting energy of an adult in MJ a day:
// 10 W + 6.25 H [cm] - 5 A, +5 for men, -161 for women. Source: Mifflin and
// St Jeor 1990, Am J Clin Nutr 51:241, simplified form; 498 people of 19-78
// years. Younger people are an error.
func RestingMifflin(p Person) (mj float64, err error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	if p.Age < 19 {
		return 0, fmt.Errorf("age %g: the equation holds from 19 years; use BMRSchofield for younger people", p.Age)
	}
	c := -161.0
	if p.male() {
		c = 5
	}
	return kcal * (10*p.Mass + 6.25*100*p.Height - 5*p.Age + c), nil
}

// PAL returns the band of physical activity level, total over basal energy,
// that an activity stands for at an age: from lo up to, not including, hi.
// Source: NASEM 2023. Below 3 years there are no bands and it is an error.
func PAL(age float64, activity string) (lo, hi float64, err error) {
	l, err := level(activity)
	if err != nil {
		return 0, 0, err
	}
	if err := within("age", age, 3, 120, "years"); err != nil {
		return 0, 0, err
	}
	b := [5]float64{1, 1.53, 1.68, 1.85, 2.5}
	switch {
	case age < 9:
		b = [5]float64{1, 1.31, 1.44, 1.59, 2.5}
	case age < 14:
		b = [5]float64{1, 1.44, 1.59, 1.77, 2.5}
	case age < 19:
		b = [5]float64{1, 1.56, 1.73, 1.92, 2.5}
	}
	return b[l], b[l+1], nil
}

// Lifestyle returns the band of physical activity level of a way of life:
// sedentary (1.40-1.69, from memory), moderate (1.70-1.99) or vigorous
// (2.00-2.40, from memory). Source: FAO/WHO/UNU 2004, table 5.1.
func Lifestyle(name string) (lo, hi float64, err error) {
	switch name {
	case "sedentary":
		return 1.40, 1.69, nil
	case "moderate":
		return 1.70, 1.99, nil
	case "vigorous":
		return 2.00, 2.40, nil
	}
	return 0, 0, fmt.Errorf("way of life %q: write sedentary, moderate or vigorous", name)
}

// Exertion returns the whole energy of work in MJ: 1 MET is close to 1 kcal per
// kg of body and hour (Compendium of Physical Activities, 2011).
func Exertion(met, kg, hours float64) float64 { return kcal * met * kg * hours }

// Extra returns the energy of work above rest in MJ, which is what work adds to
// a day: one MET would have been spent at rest.
func Extra(met, kg, hours float64) float64 { return Exertion(max(met-1, 0), kg, hours) }
