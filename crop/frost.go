package crop

import "math"

// Windows of running means, days (common practice; 7-10 days for soil).
const (
	HardenDays = 14
	SoilDays   = 10
	HeatDays   = 7
)

// Trail returns a running mean moved on by today's value: the exponential mean
// whose average age equals that of a plain mean over the given days.
func Trail(mean, today, days float64) float64 { return mean + 2/(days+1)*(today-mean) }

// Hardening returns how hardened a plant is (0..1) from the trailing mean of
// daily mean temperature over HardenDays: 0 at 10 °C and above, 1 at 7 °C and
// below, straight between. Common practice.
func Hardening(trail float64) float64 { return clamp((10-trail)/3, 0, 1) }

// KillLimit returns the temperature [°C] that kills, between the limits in
// growth and hardened. A plant that does not harden has NaN for the second.
func KillLimit(growing, hardened, share float64) float64 {
	if math.IsNaN(hardened) || hardened > growing {
		return growing
	}
	return growing + clamp(share, 0, 1)*(hardened-growing)
}

// Frost reports whether a night of tmin [°C] kills: at or below KillLimit.
func Frost(tmin, growing, hardened, hardenedShare float64) bool {
	return tmin <= KillLimit(growing, hardened, hardenedShare)
}

// HeatHarm returns the share of the day's flowers or heads that heat spoils,
// from the trailing mean of daily maxima over HeatDays [°C] and the crop's
// limit: none at the limit, all 5 °C above it, straight between. A NaN limit is
// no limit. Limits and slope are common practice.
func HeatHarm(trailMax, limit float64) float64 {
	if math.IsNaN(limit) {
		return 0
	}
	return clamp((trailMax-limit)/5, 0, 1)
}
