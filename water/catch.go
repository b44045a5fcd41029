package water

import "math"

// FlushDepth is the run-off a diverter should take, mm: 10 gal from 1,000 ft2
// (0.41 mm), rounded up to 0.5 mm a wet day. Source: common Texas guidance, and
// common practice for the rounding.
const FlushDepth = 0.5

// Catch returns the run-off of a surface [L]: V = A P C, with rain P [mm], plan
// area A [m2, eaves included, not along the slope] and run-off coefficient C (0..1).
// Negative or missing rain sheds nothing.
func Catch(rainMM, areaM2, coef float64) float64 {
	if !(rainMM > 0) {
		return 0
	}
	return rainMM * areaM2 * coef
}

// CatchAfterFlush splits the run-off of one day [L] between the tank and the
// first-flush diverter. Daily rule: the first flushL of the day's run-off are
// turned away, the rest is caught; caught + flushed is Catch. flushL is the room
// left in the diverter: pass its whole size each day for one that drains
// overnight, or carry the room with FlushReset for one that drains slowly.
func CatchAfterFlush(rainMM, areaM2, coef, flushL float64) (caught, flushed float64) {
	run := Catch(rainMM, areaM2, coef)
	flushed = math.Min(run, math.Max(flushL, 0))
	return run - flushed, flushed
}

// FlushReset returns the room left in a slow diverter of size L at the next
// morning: a day without rain empties it, a wet day fills it by what it took.
func FlushReset(room, flushed, size, rainMM float64) float64 {
	if !(rainMM > 0) {
		return size
	}
	return math.Max(room-flushed, 0)
}

// OpenEvaporation returns the loss of an open tank [L a day]: 1.05 ET0 times the
// water surface [m2], for water under 2 m deep. A lidded tank loses nothing.
// Source: Allen et al. (1998), FAO-56 Table 12, shallow open water.
func OpenEvaporation(et0, areaM2 float64) float64 {
	return 1.05 * max(et0, 0) * areaM2
}

// DaysOfWater returns how many days a store lasts: (level - dead) over what a
// day draws less what a day brings [L]. +Inf when it does not fall.
func DaysOfWater(level, dead, useL, inflowL float64) float64 {
	net := useL - inflowL
	if net <= 0 {
		return math.Inf(1)
	}
	return math.Max(level-dead, 0) / net
}
