package crop

import "math"

// Kc returns the crop coefficient at a fraction of the season (0 planting, 1
// harvest): flat in the initial and mid stages, straight between them and to the
// end. The shares are those of the initial, development and mid stages; the late
// stage is the rest. Source: FAO-56 eq. 66 and figure 34.
func Kc(frac, ini, mid, end, shareIni, shareDev, shareMid float64) float64 {
	dev, late := frac-shareIni, frac-shareIni-shareDev-shareMid
	switch {
	case dev <= 0:
		return ini
	case dev < shareDev:
		return ini + dev/shareDev*(mid-ini)
	case late <= 0:
		return mid
	}
	return mid + math.Min(late/(1-shareIni-shareDev-shareMid), 1)*(end-mid)
}

// AdjustKc moves a tabled mid-season Kc or Kcb to a climate:
// K + [0.04 (u2 - 2) - 0.004 (RHmin - 45)] (h/3)^0.3, with wind u2 [m/s, held to
// 1-6], least humidity [%, held to 20-80] and height h [m, held to 0.1-10].
// Source: FAO-56 eq. 62 and 70.
func AdjustKc(k, u2, rhMin, height float64) float64 {
	return k + climateTerm(u2, rhMin, height)
}

// AdjustKcEnd is AdjustKc for the end of the season: values under 0.45 stay as
// they are. Source: FAO-56 eq. 65 and 70.
func AdjustKcEnd(k, u2, rhMin, height float64) float64 {
	if k < 0.45 {
		return k
	}
	return AdjustKc(k, u2, rhMin, height)
}

func climateTerm(u2, rhMin, height float64) float64 {
	u2, rhMin, height = clamp(u2, 1, 6), clamp(rhMin, 20, 80), clamp(height, 0.1, 10)
	return (0.04*(u2-2) - 0.004*(rhMin-45)) * math.Pow(height/3, 0.3)
}

// RHMin estimates the least relative humidity of a day [%] when none is
// measured: 100 e(Tmin)/e(Tmax). Source: FAO-56 eq. 64 and 11.
func RHMin(tmin, tmax float64) float64 {
	e := func(t float64) float64 { return math.Exp(17.27 * t / (t + 237.3)) }
	return 100 * e(tmin) / e(tmax)
}
