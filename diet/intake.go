package diet

import (
	"math"

	"evenstead/data"
)

// Intake adds up food eaten. A nutrient with no figure in the table is not
// counted as zero: the mass of food without a figure is kept beside the sum.
type Intake struct {
	Amount  []float64 // of each nutrient, in its unit
	Unknown []float64 // kg of food with no figure for it
	Mass    float64   // kg of food
}

// NewIntake returns an empty intake of n nutrients.
func NewIntake(n int) Intake {
	return Intake{Amount: make([]float64, n), Unknown: make([]float64, n)}
}

// Add eats kg of a food whose composition is per kg, in the order of the
// intake. It does not allocate.
func (in *Intake) Add(kg float64, composition []float64) {
	for i, c := range composition {
		if math.IsNaN(c) {
			in.Unknown[i] += kg
		} else {
			in.Amount[i] += kg * c
		}
	}
	in.Mass += kg
}

// Reset empties the intake.
func (in *Intake) Reset() {
	clear(in.Amount)
	clear(in.Unknown)
	in.Mass = 0
}

// Gap is what an intake leaves open of one need.
type Gap struct {
	Nutrient string  // Nutrient.ID
	Share    float64 // of the target met, 1 is enough; NaN without a target
	Unknown  float64 // share by mass of the food eaten that has no figure, 0 to 1
	Over     bool    // above the upper limit
}

// Assess compares an intake with a need over the same days, one gap for each
// nutrient in the order given. A share below 1 with much unknown is an open
// question, not a finding.
func Assess(in Intake, need Need, nutrients []data.Nutrient) []Gap {
	gaps := make([]Gap, len(nutrients))
	for i, n := range nutrients {
		g := Gap{Nutrient: n.ID, Share: in.Amount[i] / need.Target[i], Over: in.Amount[i] > need.Upper[i]}
		if need.Target[i] == 0 {
			g.Share = math.NaN()
		}
		if in.Mass > 0 {
			g.Unknown = in.Unknown[i] / in.Mass
		}
		gaps[i] = g
	}
	return gaps
}

// EnergyShares are shares of food energy, 0 to 1. With carbohydrate by
// difference, which counts fibre, they may add up to a little over 1.
type EnergyShares struct{ Protein, Fat, Carbohydrate float64 }

// Shares returns the shares of energy from g of protein, fat and carbohydrate
// in food of the given MJ, at 4, 9 and 4 kcal/g (Atwater general factors).
func Shares(mj, protein, fat, carbohydrate float64) EnergyShares {
	k := kcal / mj
	return EnergyShares{4 * k * protein, 9 * k * fat, 4 * k * carbohydrate}
}
