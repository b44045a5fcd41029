package crop

// GroundFor returns the ground [m2] that brings a need [kg as carried home] at a
// yield [kg/m2] when a share (0 to under 1) of the harvest is lost:
// need / ((1 - loss) yield). +Inf where nothing grows or all is lost.
func GroundFor(need, yield, loss float64) float64 { return need / ((1 - loss) * yield) }
