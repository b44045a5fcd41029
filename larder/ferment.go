package larder

import (
	"fmt"
	"math"
)

// Shares of salt by mass.
const (
	KrautSalt   = 0.0225 // least for cabbage, of its mass; 2.25-2.5 % (USDA, from memory; 54 g to 2.27 kg is 2.4 %)
	PickleBrine = 0.05   // least for cucumbers, of the brine; 5-8 % (USDA, from memory)
	MixedSalt   = 0.02   // least for mixed vegetables, of their mass; 2-3 % (common practice)
)

// DrySalt returns the kg of salt for kg of food at a share of the food's mass.
func DrySalt(kg, share float64) float64 { return kg * share }

// BrineSalt returns the kg of salt to dissolve in kg of water for a brine of so
// great a share of salt, 0 to under 1, of the whole brine.
func BrineSalt(water, share float64) float64 { return water * share / (1 - share) }

// KrautDays returns the days that cabbage takes to ferment at a steady °C: 21-28
// at 21-24, 35-42 at 16-18, in line between. Below 16 it may not start and above
// 24 it softens: both are an error. Source: North Dakota State University.
func KrautDays(tempC float64) (lo, hi float64, err error) {
	if math.IsNaN(tempC) || tempC < 16 || tempC > 24 {
		return 0, 0, fmt.Errorf("kraut at %g °C: keep it at 16 to 24; colder it may not start, warmer it softens", tempC)
	}
	share := min(max((tempC-18)/(21-18), 0), 1)
	return 35 - 14*share, 42 - 14*share, nil
}

// ABV returns alcohol as a percentage by volume from specific gravities before
// and after fermenting: 131.25 (og - fg), the plain form, good below about 7 %.
func ABV(og, fg float64) float64 { return 131.25 * (og - fg) }

// ABVHall returns alcohol by the form of Hall 1995. It overshoots above about 9 %.
func ABVHall(og, fg float64) float64 {
	return 76.08 * (og - fg) / (1.775 - og) * fg / 0.794
}

// ABVBalling returns alcohol by Balling's real extract, the form to take for
// mead and other strong drinks (from memory).
func ABVBalling(og, fg float64) float64 {
	oe, ae := Plato(og), Plato(fg)
	re := 0.1808*oe + 0.8192*ae
	return (oe - re) / (2.0665 - 0.010665*oe) * fg / 0.794
}

// ABVWine returns alcohol by the wine maker's form, 1000 (og - fg) / 7.36.
func ABVWine(og, fg float64) float64 { return 1000 * (og - fg) / 7.36 }

// Plato returns the extract in degrees Plato (g in 100 g) of a specific gravity,
// 1.000 to 1.150 (cubic fit to the ASBC tables, from memory).
func Plato(sg float64) float64 {
	return -616.868 + sg*(1111.14+sg*(-630.272+sg*135.997))
}
