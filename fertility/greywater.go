package fertility

// Design flows of washing water [L a person-day]: California and Uniform Plumbing Code.
const (
	BathFlow    = 95.0 // bath, shower and basin
	LaundryFlow = 57.0
)

// DesignFlow returns the washing water [L/d] a code counts on from a house with the given
// bedrooms: two people for the first and one for each further.
func DesignFlow(bedrooms int) float64 {
	if bedrooms < 1 {
		return 0
	}
	return float64(bedrooms+1) * (BathFlow + LaundryFlow)
}

// BasinUptake returns the water [L/d] that plants on area [m2] take up at crop factor kc
// and reference evapotranspiration et0 [mm/d] (common practice).
func BasinUptake(area, kc, et0 float64) float64 { return area * kc * et0 }

// Ground is a soil class of the acceptance table.
type Ground uint8

// Soil classes by what they soak up, freest first.
const (
	CoarseSand Ground = iota
	FineSand
	SandyLoamGround
	SandyClay
	ClaySomeSand
	Clay
)

var acceptance = [...]float64{204, 163, 102, 68, 45, 33}

// Acceptance returns the washing water that ground soaks up [L/m2 a day] (Uniform Plumbing
// Code table, from memory). An unknown class counts as clay.
func Acceptance(g Ground) float64 {
	if int(g) < len(acceptance) {
		return acceptance[g]
	}
	return acceptance[Clay]
}

// BasinArea returns the m2 that soak up flow [L/d] on the given ground.
func BasinArea(flow float64, g Ground) float64 { return max(0, flow) / Acceptance(g) }
