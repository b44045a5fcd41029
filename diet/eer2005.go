package diet

// A curve is one equation of IOM 2002/2005, kcal a day with height in metres:
// c0 - age*A + PA (mass*W + height*H), PA by activity.
type curve struct {
	c0, age, mass, height float64
	pa                    [4]float64
}

func (c curve) at(p Person, level int) float64 {
	return c.c0 - c.age*p.Age + c.pa[level]*(c.mass*p.Mass+c.height*p.Height)
}

var (
	iomMen   = curve{662, 9.53, 15.91, 539.6, [4]float64{1.00, 1.11, 1.25, 1.48}}
	iomWomen = curve{354, 6.91, 9.36, 726, [4]float64{1.00, 1.12, 1.27, 1.45}}
	iomBoys  = curve{88.5, 61.9, 26.7, 903, [4]float64{1.00, 1.13, 1.26, 1.42}}
	iomGirls = curve{135.3, 30.8, 10.0, 934, [4]float64{1.00, 1.16, 1.31, 1.56}}
)

// EER2005 returns the estimated energy requirement in MJ a day by the equations
// that NASEM 2023 replaced, kept for comparison with older work. Source:
// Institute of Medicine 2002/2005, Dietary Reference Intakes for Energy. Weeks
// are taken as in EER2023, but a pregnancy of unknown week as the third
// trimester. The error lists what is out of range.
func EER2005(p Person) (mj float64, err error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	l, err := level(p.Activity)
	if err != nil {
		return 0, err
	}
	return kcal * (alone2005(p, l) + bearing2005(p)), nil
}

func alone2005(p Person, level int) float64 {
	child, adult := iomGirls, iomWomen
	if p.male() {
		child, adult = iomBoys, iomMen
	}
	switch {
	case p.Age < 3:
		return 89*p.Mass - 100 + infant2005(p.Age)
	case p.Age < 9:
		return child.at(p, level) + 20
	case p.Age < 19:
		return child.at(p, level) + 25
	}
	return adult.at(p, level)
}

// infant2005 is the growth of 0-3, 4-6, 7-12 and 13-35 months, kcal a day.
func infant2005(age float64) float64 {
	switch months := 12 * age; {
	case months < 4:
		return 175
	case months < 7:
		return 56
	case months < 13:
		return 22
	}
	return 20
}

// bearing2005 is what pregnancy (by trimester) or milk adds, kcal a day.
func bearing2005(p Person) float64 {
	switch {
	case p.State == Pregnant && p.gestation() < 14:
		return 0
	case p.State == Pregnant && p.gestation() < 27:
		return 340
	case p.State == Pregnant:
		return 452
	case p.State == Lactating && p.Week <= 26:
		return 500 - 170
	case p.State == Lactating:
		return 400
	}
	return 0
}
