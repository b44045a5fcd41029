package larder

import "math"

// Food ages by the share of its life it lives through: a day at a temperature
// where it keeps n days adds 1/n to its age x. The share of a lot still good at
// age x is taken as Weibull survival of shape 3,
//
//	S(x) = exp(-k x^3),  k = ln(4/3),
//
// so that a quarter is lost by x = 1, the end of its published life (common
// practice: the tables print no loss), little before half of it, and nearly all
// by x = 2.5. Losses compose: what is lost from a to b and then from b to c is
// what is lost from a to c, whatever steps were taken.
const k = 0.28768207245178085 // ln(4/3)

// Hazard returns the rate of loss at age x, share of what is left per unit of
// age: 3 k x^2. Over a day of 1/life of age it is the daily share lost.
func Hazard(x float64) float64 { return 3 * k * x * x }

// Lost returns the share, 0 to 1, of what was good at age x0 that is lost by age
// x1. It is 0 when x1 is not above x0, and does not allocate.
func Lost(x0, x1 float64) float64 {
	if !(x1 > x0) {
		return 0
	}
	y := k * (x1*x1*x1 - x0*x0*x0)
	if y < 1.0/32 { // a day's worth: 1 - exp(-y) by its series, to the last digit and quicker
		return y * (1 - y*(1.0/2)*(1-y*(1.0/3)*(1-y*(1.0/4)*(1-y*(1.0/5)*(1-y*(1.0/6)*(1-y*(1.0/7)))))))
	}
	return -math.Expm1(-y)
}

// MeanAge returns the age of two lots put together, kg a of age xa and kg b of
// age xb: the root mean square by mass, at which the pool spoils as fast as its
// parts do together. It is 0 for no food.
func MeanAge(a, xa, b, xb float64) float64 {
	if a+b <= 0 {
		return 0
	}
	return math.Sqrt((a*xa*xa + b*xb*xb) / (a + b))
}

// Soonest returns the days until age 1 of food aged x with a life of so many
// days as it is kept now; 0 when it is past it.
func Soonest(x, life float64) float64 { return max(0, (1-x)*life) }
