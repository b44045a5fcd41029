package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Recent says how much less an old year of a record weighs than a new one, for
// climates that change. The zero value weighs all alike.
type Recent struct {
	HalfLife float64 // years in which the weight halves; 0: never
}

// shortestHalf is the least half-life in years: with less, a handful of years
// would speak for all that the weather can do.
const shortestHalf = 5

// thinning is the stream of chance by which real years are left out.
const thinning = -1

func (r Recent) check() error {
	if r.HalfLife != 0 && !(r.HalfLife >= shortestHalf && r.HalfLife <= 1000) {
		return fmt.Errorf("a half-life of %g years: give %d to 1,000, or 0 for none", r.HalfLife, shortestHalf)
	}
	return nil
}

// weight of a year so many years away: 2^(-age/half-life).
func (r Recent) weight(age int) float64 {
	if r.HalfLife == 0 {
		return 1
	}
	return math.Exp2(-float64(age) / r.HalfLife)
}

func (r Recent) notes() []string {
	if r.HalfLife == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Newer years weigh more: a year %g years older half as much.", r.HalfLife)}
}

// weights are those of years about the one that a horizon begins in.
type weights struct {
	Recent
	about int
}

// of is the weight of a year.
func (w weights) of(year int) float64 { return w.weight(max(w.about-year, year-w.about)) }

// thin leaves real years out by their weight against the greatest.
func (w weights) thin(members []Member, rng *rand.Rand) []Member {
	if w.HalfLife == 0 || len(members) == 0 {
		return members
	}
	most := 0.0
	for i := range members {
		most = max(most, w.of(members[i].year))
	}
	kept := members[:0]
	for _, m := range members {
		if rng.Float64()*most < w.of(m.year) {
			kept = append(kept, m)
		}
	}
	return kept
}
