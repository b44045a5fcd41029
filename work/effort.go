package work

// Kcal returns the food energy of an activity [kcal]: MET x kg x h, rest
// included. 1 MET is close to 1 kcal/kg/h. Source: Compendium of Physical
// Activities (2011).
func Kcal(met, kg, hours float64) float64 { return met * kg * hours }

// NetKcal is Kcal above rest [kcal]: (MET - 1) x kg x h.
func NetKcal(met, kg, hours float64) float64 { return (met - 1) * kg * hours }

// A Spell is a stretch of one activity.
type Spell struct{ MET, Hours float64 }

// DayKcal sums the spells of a person's day [kcal, rest included].
func DayKcal(kg float64, day []Spell) float64 {
	sum := 0.0
	for _, s := range day {
		sum += Kcal(s.MET, kg, s.Hours)
	}
	return sum
}

// Efforts of common tasks, MET. Source: Compendium of Physical Activities (2011).
const (
	Sleeping     = 0.95
	Sitting      = 1.3
	Watering     = 1.5 // standing or walking
	Cooking      = 2.5
	Picking      = 3.5 // fruit or vegetables, moderate
	FeedingSmall = 3.5 // small animals
	Gardening    = 3.8 // general, moderate
	HaulingWater = 4.3
	Planting     = 4.3 // stooping
	Weeding      = 4.5
	Splitting    = 4.5 // wood, moderate
	Digging      = 5.0
	Hoeing       = 5.0
	Barrow       = 5.5 // pushing a cart or wheelbarrow
)
