package larder

// Saturated is the share of salt in brine that can hold no more at 20 °C, 26.4 %
// or 359 g to a litre of water (from memory).
const Saturated = 0.264

// BrineShare returns the share of salt in a brine of kg of water and salt, the
// inverse of BrineSalt; 0 of nothing.
func BrineShare(water, salt float64) float64 {
	if water+salt <= 0 {
		return 0
	}
	return salt / (water + salt)
}

// Servings returns how many servings [kg edible] a lot holds, refuse (0 to 1) of
// it thrown away; 0 for servings of nothing.
func Servings(kg, refuse, serving float64) float64 {
	if !(serving > 0) {
		return 0
	}
	return kg * (1 - refuse) / serving
}

// YearOf returns the kg to put up for weeks of eating so much a week [kg], when a
// share (0 to under 1) is lost in store.
func YearOf(weekly, weeks, loss float64) float64 { return weekly * weeks / (1 - loss) }
