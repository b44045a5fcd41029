package diet

import "evenstead/data"

// Retained returns what cooking leaves of a composition: each nutrient times
// its true retention, 0 to 1. A nutrient without a published factor is kept
// whole, an unknown one stays unknown, and a nil row keeps everything. Source
// of the factors: USDA Table of Nutrient Retention Factors, Release 6 (2007).
func Retained(composition []float64, nutrients []data.Nutrient, ret *data.Retention) []float64 {
	out := append([]float64(nil), composition...)
	if ret == nil {
		return out
	}
	for i, n := range nutrients {
		if kept, ok := ret.Kept[n.ID]; ok {
			out[i] *= kept
		}
	}
	return out
}
