package work

import "time"

// gardenWeek holds h a week for 405 m2 of mixed vegetable beds, January first, in
// the north. April to August: New Alchemy Institute (1976-77), a tenth of an acre,
// picking and preserving not counted, middles of its ranges. The other months
// are common practice, for gardens that do not rest.
var gardenWeek = [12]float64{1, 1, 3, 4, 8, 17.5, 20, 5.5, 3, 3, 1, 1}

const gardenArea = 405 // m2

// GardenHours returns the tending of beds [h a day] in a month: sowing, weeding,
// tying, mulching; not picking, putting up or carrying water. south shifts the
// months by half a year.
func GardenHours(areaM2 float64, m time.Month, south bool) float64 {
	i := int(m) - 1
	if south {
		i += 6
	}
	return areaM2 / gardenArea * gardenWeek[(i%12+12)%12] / 7
}

// PickHours returns the time to pick an amount [h] at a rate [minutes a kg].
func PickHours(kg, minPerKg float64) float64 { return kg * minPerKg / 60 }
