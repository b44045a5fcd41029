package work

const (
	canPair = 20. // L in two cans
	fill    = 0.5 // L/s at the tap
	pour    = 60. // s for two cans
)

// CanMinutes returns the time to water by hand [min]: two 10 L cans a turn,
// walked there and back at 1.1 m/s, filled at 0.5 L/s, poured in a minute. metres
// is the way from tap to bed. Part turns count in part. Rates are common practice.
func CanMinutes(litres, metres float64) float64 {
	turn := 2*metres/walking + canPair/fill + pour
	return litres / canPair * turn / 60
}

// CanKcal returns the food energy of it [kcal, rest included] for a person of
// the given mass, at the effort of hauling water.
func CanKcal(litres, metres, kg float64) float64 {
	return Kcal(HaulingWater, kg, CanMinutes(litres, metres)/60)
}
