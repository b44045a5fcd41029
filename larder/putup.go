package larder

import (
	"fmt"
	"math"

	"evenstead/data"
)

// Made is one batch put up. What goes in comes out, in kg:
//
//	Food + Salt + Water = Product + Off
//
// and water alone: the food's water + Water = the product's water + Off. Off is
// all water: driven off in drying, or washed, cooled and drained away. Solids
// that leave with the drained water are not counted.
type Made struct {
	Food, Salt, Water float64 // kg in
	Product, Off      float64 // kg out
	ProductWater      float64 // kg of water in the product
	Hours, Heat       float64 // h, MJ in the pot
	Litres            float64 // of store
}

// PutUp returns the balance of putting up kg of edible food whose share of water
// is given, by a row of the table. The error tells when the row's product would
// hold less than the food's own solids.
func PutUp(row data.PutUp, kg, water float64) (Made, error) {
	if !(kg >= 0) || math.IsInf(kg, 0) || !(water >= 0 && water <= 1) {
		return Made{}, fmt.Errorf("put up %s %s: %g kg of food with %g of water: mass must be 0 or more, the share 0 to 1", row.Class, row.Method, kg, water)
	}
	m := Made{Food: kg, Salt: kg * row.Salt, Product: kg * row.MassOut, Hours: kg * row.Hours, Heat: kg * row.Heat}
	m.Litres = m.Product * row.Litres
	solids := kg*(1-water) + m.Salt
	m.ProductWater = m.Product - solids
	if m.ProductWater < -1e-12*solids {
		return Made{}, fmt.Errorf("put up %s %s: %g kg of product cannot hold %g kg of solids: raise the product or give the true water", row.Class, row.Method, m.Product, solids)
	}
	m.ProductWater = max(m.ProductWater, 0) // bone dry to the last digit
	taken := m.Product - kg - m.Salt        // water that must come in with the product
	m.Water = max(kg*row.Water, taken, 0)
	m.Off = kg + m.Salt + m.Water - m.Product
	return m, nil
}

// DryRatio returns kg dried per kg fresh when water goes from one share of the
// mass to another and solids stay: (1 - before) / (1 - after). Both run from 0
// to under 1. Usual end points are 0.20 for fruit and 0.10 for vegetables.
func DryRatio(before, after float64) float64 { return (1 - before) / (1 - after) }

// JarFill is the kg of food in a litre of jar, 0.91 kg of snap beans to a quart
// (USDA AIB 539).
const JarFill = 0.91 / 0.946

// JarCount returns how many jars of so many litres hold kg of food.
func JarCount(kg, litres float64) int {
	if !(kg > 0) || !(litres > 0) {
		return 0
	}
	return int(math.Ceil(kg/(litres*JarFill) - 1e-9))
}

// FreezerSpace returns the litres of freezer that kg of packed food takes.
func FreezerSpace(kg float64) float64 { return kg / FreezerPacking }
