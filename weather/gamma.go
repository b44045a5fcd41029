package weather

import (
	"math"
	"math/rand/v2"
)

// ThomGamma fits a gamma distribution to amounts above 0: A = ln(mean) -
// mean(ln x), shape α = [1 + √(1 + 4A/3)]/(4A), scale β = mean/α. Thom (1958, from
// memory). All are NaN when fewer than two amounts differ.
func ThomGamma(x []float64) (a, shape, scale float64) {
	sum, logs := 0.0, 0.0
	for _, v := range x {
		sum += v
		logs += math.Log(v)
	}
	n := float64(len(x))
	a = math.Log(sum/n) - logs/n
	if !(a > 1e-9) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	shape = (1 + math.Sqrt(1+4*a/3)) / (4 * a)
	return a, shape, sum / n / shape
}

// MomentShape returns the shape of a gamma distribution from its mean and
// standard deviation, (m/s)².
func MomentShape(mean, sd float64) float64 { return mean / sd * (mean / sd) }

// A gamma draws from a gamma distribution of scale 1, by Marsaglia and Tsang
// (2000), ACM Transactions on Mathematical Software 26: 363-372 (from memory).
type gamma struct {
	d, c  float64
	boost float64 // 1/shape for shapes below 1, else 0
}

func newGamma(shape float64) gamma {
	g := gamma{}
	if shape < 1 {
		g.boost = 1 / shape
		shape++
	}
	g.d = shape - 1.0/3
	g.c = 1 / math.Sqrt(9*g.d)
	return g
}

func (g gamma) draw(rng *rand.Rand) float64 {
	v := g.core(rng)
	if g.boost > 0 {
		v *= math.Pow(1-rng.Float64(), g.boost)
	}
	return v
}

func (g gamma) core(rng *rand.Rand) float64 {
	for {
		x := rng.NormFloat64()
		t := 1 + g.c*x
		if t <= 0 {
			continue
		}
		v := t * t * t
		u := 1 - rng.Float64()
		if u < 1-0.0331*x*x*x*x || math.Log(u) < 0.5*x*x+g.d*(1-v+math.Log(v)) {
			return g.d * v
		}
	}
}
