package fertility

// Compost worms (Eisenia fetida): what they eat, and the warmth they do it in.
// Figures from memory of US extension sheets on worm bins: red worms eat about half
// their mass of soft scraps a day; 15 to 25 °C suits them best, they slow outside it
// and die frozen or above some 35 °C; 5 kg on a m2 of bed (a pound a square foot).
const (
	WormAppetite = 0.5 // kg of scraps a kg of worms and day, at its best
	WormDensity  = 5.0 // kg/m2 of bed

	wormCold, wormCool, wormWarm, wormHot = 4.0, 15.0, 25.0, 35.0 // °C
)

// WormFeed returns the scraps [kg/d] that a mass of compost worms [kg] eats at tempC:
// all of WormAppetite from 15 to 25 °C, none at or under 4 and at or above 35,
// straight between. NaN and masses below nought eat nothing.
func WormFeed(worms, tempC float64) float64 {
	share := 0.0
	switch {
	case tempC > wormCold && tempC < wormCool:
		share = (tempC - wormCold) / (wormCool - wormCold)
	case tempC >= wormCool && tempC <= wormWarm:
		share = 1
	case tempC > wormWarm && tempC < wormHot:
		share = (wormHot - tempC) / (wormHot - wormWarm)
	}
	return max(0, worms) * WormAppetite * share
}

// WormsFor returns the worms [kg] that eat scraps [kg/d] at their best, and the bed
// [m2] they want.
func WormsFor(scraps float64) (worms, bed float64) {
	worms = max(0, scraps) / WormAppetite
	return worms, worms / WormDensity
}
