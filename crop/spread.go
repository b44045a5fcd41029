package crop

import "math"

// Season to season scatter of one garden and crop, as coefficient of variation,
// middles of the ranges. Common practice (vegetables 0.25-0.35, grain 0.2-0.3,
// tree fruit 0.4-0.6).
const (
	CVVegetable = 0.30
	CVGrain     = 0.25
	CVTree      = 0.50
)

// Gross turns the area of beds into that of a garden with its paths, edges and
// compost, for checking against published whole gardens: times 1.3 to 1.6, here
// the middle. Common practice.
func Gross(beds float64) float64 { return 1.45 * beds }

// YieldFactor returns what a year and a bed make of a mean yield: log-normal of
// mean 1 and a coefficient of variation cv, from two standard normal draws, of
// which the year's takes a share of the variance.
func YieldFactor(cv, yearShare, year, bed float64) float64 {
	s2 := math.Log1p(cv * cv)
	z := math.Sqrt(clamp(yearShare, 0, 1))*year + math.Sqrt(1-clamp(yearShare, 0, 1))*bed
	return math.Exp(math.Sqrt(s2)*z - s2/2)
}

// YieldQuantile returns the factor that a share of years stay below when the
// standard normal quantile z of that share is given (-0.84 for one year in five).
func YieldQuantile(cv, z float64) float64 { return YieldFactor(cv, 1, z, 0) }

// TotalCV returns the coefficient of variation of the total of n beds alike,
// between which the year shares a part of the variance: what one bed loses
// another makes good, but not what the year takes from all.
func TotalCV(cv, yearShare float64, n int) float64 {
	if n < 1 {
		return 0
	}
	return cv * math.Sqrt(yearShare+(1-yearShare)/float64(n))
}

// PestLoss returns the mean share of a harvest left when a total loss comes with
// one chance a season and a partial one, of some share, with another.
func PestLoss(total, partial, share float64) float64 {
	total = clamp(total, 0, 1)
	return (1 - total) * (1 - clamp(partial, 0, 1)*clamp(share, 0, 1))
}
