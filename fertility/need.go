package fertility

import (
	"fmt"
	"math"
)

// Mass of oxide per mass of element (from atomic masses).
const (
	P2O5PerP = 2.2914
	K2OPerK  = 1.2046
)

// PFromP2O5 returns phosphorus from its oxide, in the same unit.
func PFromP2O5(p2o5 float64) float64 { return p2o5 / P2O5PerP }

// KFromK2O returns potassium from its oxide, in the same unit.
func KFromK2O(k2o float64) float64 { return k2o / K2OPerK }

// Class is a soil-test class.
type Class uint8

// Soil-test classes, poorest first. The zero Class is an unknown test.
const (
	NoTest Class = iota
	VeryLow
	BelowOptimum
	Medium
	Optimum
	VeryHigh
)

// PClass returns the class of Mehlich-3 phosphorus [mg/kg] (Rutgers soil testing laboratory).
func PClass(mgKg float64) Class { return classOf(mgKg, 12.5, 23, 36, 68.5) }

// KClass returns the class of Mehlich-3 potassium [mg/kg] (Rutgers soil testing laboratory).
func KClass(mgKg float64) Class { return classOf(mgKg, 20.5, 41, 73, 138.5) }

func classOf(v, low, medium, optimum, top float64) Class {
	switch {
	case !(v >= 0):
		return NoTest
	case v < low:
		return VeryLow
	case v < medium:
		return BelowOptimum
	case v < optimum:
		return Medium
	case v <= top:
		return Optimum
	}
	return VeryHigh
}

// IndexFactor returns what removal is multiplied by on soil of a class: 1.5 very low, 1.35
// low, 1.2 medium, 1.0 optimum or untested, 0 very high (common practice).
func IndexFactor(c Class) float64 {
	switch c {
	case VeryLow:
		return 1.5
	case BelowOptimum:
		return 1.35
	case Medium:
		return 1.2
	case VeryHigh:
		return 0
	}
	return 1
}

// Need returns the nutrient to return for a harvest, in the unit of removal times yield:
// yield × removal × index factor. For legumes count nitrogen less the fixed share.
func Need(yield, removal, factor float64) float64 { return max(0, yield*removal*factor) }

// Texture is a soil texture of the lime table.
type Texture uint8

// Textures of the lime table.
const (
	SandyLoam Texture = iota
	Loam
	ClayLoam
)

// limeTable is limestone [kg/m2] to bring soil from pH 4.0, 4.5 ... 6.5 to 6.5, by texture
// (grower sheet, converted from lb per 100 square feet).
var limeTable = [...][6]float64{
	SandyLoam: {0.56, 0.46, 0.39, 0.29, 0.15, 0},
	Loam:      {0.78, 0.66, 0.51, 0.39, 0.20, 0},
	ClayLoam:  {1.12, 0.95, 0.73, 0.51, 0.27, 0},
}

// LimeNeed returns the ground limestone [kg/m2] that brings soil of the given pH to 6.5,
// straight between the lines of the table. It is 0 at pH 6.5 and above. Under pH 4, at
// NaN and for another texture it returns an error.
func LimeNeed(t Texture, pH float64) (float64, error) {
	if int(t) >= len(limeTable) || !(pH >= 4 && pH <= 14) {
		return 0, fmt.Errorf("lime need: the table covers sandy loam, loam and clay loam from pH 4 up, not pH %g; ask for a buffer test", pH)
	}
	if pH >= 6.5 {
		return 0, nil
	}
	i, f := math.Modf((pH - 4) * 2)
	row := &limeTable[t]
	return row[int(i)] + f*(row[int(i)+1]-row[int(i)]), nil
}

// Wood ash. Potassium and phosphorus are middles of K2O 3-8 % and P2O5 1-2 %; ash of
// clean stove wood is 0.5-1.5 % of its mass (from memory).
const (
	AshPerLime = 1.5 // kg of ash that lime as one kg of limestone
	AshK       = 0.055 / K2OPerK
	AshP       = 0.015 / P2O5PerP
	AshOfWood  = 0.01
)

// AshForLime returns the kg of wood ash worth the given kg of limestone.
func AshForLime(lime float64) float64 { return AshPerLime * lime }
