package diet

import (
	"fmt"
	"math"
	"strings"

	"evenstead/data"
)

// Names of nutrients that a need reckons from the person rather than a table.
const (
	energyID   = "energy_mj"
	proteinID  = "protein_g"
	fatID      = "fat_g"
	fatShareID = "fat_energy_pct" // row of the acceptable range of fat, share of energy
)

// proteinPerKg is the adult allowance, g per kg of body a day: the RDA of
// Institute of Medicine 2002/2005 (the average need is 0.66).
const proteinPerKg = 0.8

// MJ per g of fat, Atwater general factor of 9 kcal.
const fatMJ = 9 * kcal

// Need is what is wanted in a day, indexed as the nutrients it was made for and
// in their units. Target is NaN where no target is published, Upper where no
// limit binds on whole food.
type Need struct{ Target, Upper []float64 }

// NeedOf returns the daily need of a person. Energy is EER2023. Protein is
// 0.8 g/kg for adults plus what the table adds in pregnancy and lactation; for
// children it is the table's. Fat is the low end of the acceptable share of
// energy. All else is the row of the life stage (Dietary Reference Intakes).
//
// Upper limits that are published for supplements, synthetic forms or retinol
// alone do not bind on whole food and are left out. Under one year only energy
// has a target: infants live on milk, and their feeding belongs to a clinician.
// The error tells what is out of range, or that no row fits the person.
func NeedOf(p Person, nutrients []data.Nutrient, reqs []data.Requirement) (Need, error) {
	mj, err := EER2023(p)
	if err != nil {
		return Need{}, fmt.Errorf("need of a person: %w", err)
	}
	n := blank(len(nutrients))
	rows := stage(p, reqs)
	if len(rows) == 0 && p.Age >= 1 {
		return Need{}, fmt.Errorf("need of a person: no published row for %s, %g years, %s", p.Sex, p.Age, p.state())
	}
	for i, nu := range nutrients {
		if r, ok := find(rows, nu.ID); ok {
			n.Target[i], n.Upper[i] = r.Target, binding(r)
		}
		switch nu.ID {
		case energyID:
			n.Target[i] = mj
		case proteinID:
			n.Target[i] = protein(p, n.Target[i], reqs)
		case fatID:
			n.Target[i], n.Upper[i] = fat(mj, rows)
		}
	}
	return n, nil
}

// blank returns a need of n nutrients without any target.
func blank(n int) Need {
	v := Need{make([]float64, n), make([]float64, n)}
	for i := range n {
		v.Target[i], v.Upper[i] = math.NaN(), math.NaN()
	}
	return v
}

func (p Person) state() string {
	if p.State == "" {
		return None
	}
	return p.State
}

// stage returns the rows of a person's life stage; ages count in whole years.
func stage(p Person, reqs []data.Requirement) []data.Requirement {
	var rows []data.Requirement
	age := math.Floor(p.Age)
	for _, r := range reqs {
		if (r.Sex == "both" || r.Sex == p.Sex) && r.State == p.state() && r.AgeMin <= age && age <= r.AgeMax {
			rows = append(rows, r)
		}
	}
	return rows
}

func find(rows []data.Requirement, nutrient string) (data.Requirement, bool) {
	for _, r := range rows {
		if r.Nutrient == nutrient {
			return r, true
		}
	}
	return data.Requirement{}, false
}

// binding returns the upper limit of a row when it holds for whole food: a
// limit for all sources, or the sodium level for lower risk of disease (CDRR).
func binding(r data.Requirement) float64 {
	if r.UpperScope == "all sources" || strings.HasPrefix(r.UpperScope, "CDRR") {
		return r.Upper
	}
	return math.NaN()
}

// protein scales the adult allowance by mass and keeps the table's addition for
// pregnancy and lactation; row is the table's figure for the person.
func protein(p Person, row float64, reqs []data.Requirement) float64 {
	if p.Age < 19 {
		return row
	}
	need := proteinPerKg * p.Mass
	p.State = None
	if base, ok := find(stage(p, reqs), proteinID); ok {
		need += row - base.Target
	}
	return need
}

// fat returns g a day at the low and high ends of the acceptable share of energy.
func fat(mj float64, rows []data.Requirement) (low, high float64) {
	r, ok := find(rows, fatShareID)
	if !ok {
		return math.NaN(), math.NaN()
	}
	g := mj / fatMJ
	if strings.HasPrefix(r.Unit, "%") {
		g /= 100
	}
	return g * r.Target, g * r.Upper
}

// Sum adds the needs of a household, all made for the same nutrients. A target
// counts those who have one; a limit holds only when each of them has one.
// No needs give the zero Need.
func Sum(needs ...Need) Need {
	if len(needs) == 0 {
		return Need{}
	}
	s := blank(len(needs[0].Target))
	for i := range s.Target {
		upper := 0.0
		for _, n := range needs {
			s.Target[i] = plus(s.Target[i], n.Target[i])
			upper += n.Upper[i]
		}
		s.Upper[i] = upper
	}
	return s
}

// plus adds two figures of which either may be unknown.
func plus(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return a + b
}
