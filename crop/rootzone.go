package crop

import "math"

// Available returns TAW [mm] = 1000 (fc - wp) Zr, with water contents [m3/m3]
// and root depth [m]. Source: FAO-56 eq. 82.
func Available(fc, wp, roots float64) float64 { return 1000 * (fc - wp) * roots }

// AdjustDepletion moves the tabled share p that a crop draws without stress to
// the day's demand: p + 0.04 (5 - ETc), ETc [mm/d], held to 0.1..0.8 (limits from
// memory). Source: FAO-56 table 22 note; eq. 83 gives RAW = p TAW.
func AdjustDepletion(p, etc float64) float64 { return clamp(p+0.04*(5-etc), 0.1, 0.8) }

// Stress returns Ks, 1 while the depletion Dr is within RAW, then straight to 0
// at TAW [all mm]: (TAW - Dr)/(TAW - RAW). Source: FAO-56 eq. 84.
func Stress(dr, taw, raw float64) float64 {
	switch {
	case dr >= taw:
		return 0
	case dr <= raw:
		return 1
	}
	return (taw - dr) / (taw - raw)
}

// Uptake returns how much of ETc [mm] the root zone can give on a day, once the
// day's water has come in.
func Uptake(dr, taw, in, etc float64) float64 {
	return math.Max(0, math.Min(etc, taw-math.Max(dr-in, 0)))
}

// RootZone carries the depletion Dr [mm] through a day and returns it with the
// percolation. Order, as in FAO-56 example 38: the day's water comes in early and
// its surplus drains before the crop draws, so perc = max(0, in - Dr) and
// Dr2 = max(Dr - in, 0) + ETc. (Eq. 88 as printed lets the crop draw first.)
// What is drawn is Uptake, which is ETc unless the zone runs dry, and the balance
// closes on it: in - drawn - perc = dr - dr2. in is rain less run-off plus
// irrigation. Where roots reach less soil than before (TAW below Dr) nothing is
// drawn and Dr2 stays at Dr. Source: FAO-56 eq. 85.
func RootZone(dr, taw, in, etc float64) (dr2, perc float64) {
	perc = math.Max(in-dr, 0)
	return math.Max(dr-in, 0) + Uptake(dr, taw, in, etc), perc
}

// RootDepth returns the depth of roots [m], growing straight from least at
// planting (frac 0) to most at the start of mid-season (frac 1). frac is the
// season fraction over (shareIni + shareDev). Source: FAO-56 annex 8 (from memory).
func RootDepth(frac, least, most float64) float64 {
	return least + clamp(frac, 0, 1)*(most-least)
}

// EffectiveRain returns rain that counts [mm]: falls under 0.2 ET0 in a day
// evaporate. Source: FAO-56 p. 153 and 170.
func EffectiveRain(rain, et0 float64) float64 {
	if rain < 0.2*et0 {
		return 0
	}
	return rain
}
