package crop

import (
	"cmp"
	"math"
	"slices"

	"evenstead/data"
)

// NearestFit returns up to n annual crops that have a window in a climate, those
// most like a crop first: of its family, kept the same way, of like warmth.
// Distances are common practice: a family counts 3, a way of keeping 2, each 3 °C
// of the middle optimum 1.
func NearestFit(c *data.Crop, among []data.Crop, clim *Climate, risk float64, n int) []*data.Crop {
	var like []*data.Crop
	for i := range among {
		if o := &among[i]; o.ID != c.ID && o.Food != "" && annual(o) {
			like = append(like, o)
		}
	}
	slices.SortStableFunc(like, func(a, b *data.Crop) int { return cmp.Compare(unlike(c, a), unlike(c, b)) })
	var fit []*data.Crop
	for _, o := range like {
		if len(fit) == n {
			break
		}
		if len(Windows(o, clim, risk)) > 0 {
			fit = append(fit, o)
		}
	}
	return fit
}

func unlike(a, b *data.Crop) float64 {
	d := math.Abs((a.TOptLo+a.TOptHi)-(b.TOptLo+b.TOptHi)) / 2 / 3
	if a.Family != b.Family {
		d += 3
	}
	if a.Keeps != b.Keeps {
		d += 2
	}
	return d
}

// GreywaterYield returns the share of full yield of a crop watered with water of
// a salinity [dS/m] at a leaching fraction; 1 where its tolerance is not known.
// Source: SaltYield of SoilSalt (FAO-56 eq. 89 and 93).
func GreywaterYield(c *data.Crop, eciw, leaching float64) float64 {
	if c.Salt.Threshold == 0 || !(leaching > 0) {
		return 1
	}
	return SaltYield(SoilSalt(eciw, leaching), c.Salt.Threshold, c.Salt.Slope)
}
