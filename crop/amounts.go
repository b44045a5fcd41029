package crop

// GroundFor returns the ground [m2] that brings a need [kg as carried home] at a
// yield [kg/m2] when a share (0 to under 1) of the harvest is lost:
// need / ((1 - loss) yield). +Inf where nothing grows or all is lost.
func GroundFor(need, yield, loss float64) float64 { return need / ((1 - loss) * yield) }

// SeedToKeep returns the seed [kg] to put aside for an area [m2] at a rate
// [kg/m2], for one sowing and as many failures as may be sown again, when a share
// of the seed (above 0 to 1) comes up: area rate (1 + failures) / viability.
// Holding two seasons' seed of a staple, one failure, is common practice.
func SeedToKeep(area, rate, failures, viability float64) float64 {
	return area * rate * (1 + failures) / viability
}
