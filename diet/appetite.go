package diet

// How appetite falls for a food that comes again and again. In a trial of army
// rations over five weeks meat, vegetables and sweet dishes were liked less the
// oftener they came, bread, grain, potatoes, milk and fat were not (Schutz and Pilgrim
// 1957, from memory); how much less is common practice.
const (
	tiresFrom = 0.5 // of what people like to eat of it in a day, in the mean of some weeks
	tiresTo   = 0.7 // of the liking is left where it was eaten in full every day
)

// Appetite returns the share, 0.7 to 1, of what people like to eat of a food in a day
// that they still like when they lately ate a share of it, 0 to 1, in the mean. Up to
// half it is all of it, then it falls straight. Shares outside 0 to 1 count as the
// nearer end; NaN is 1.
func Appetite(lately float64) float64 {
	if !(lately > tiresFrom) {
		return 1
	}
	return 1 - tiring*(min(1, lately)-tiresFrom)
}

// Settled is the share of what people like to eat of a food in a day to which eating it
// day after day comes down in the end: there Appetite of it is itself.
const Settled = (1 + tiring*tiresFrom) / (1 + tiring)

// tiring is how much of the liking goes for each share eaten beyond tiresFrom.
const tiring = (1 - tiresTo) / (1 - tiresFrom)

// Lately carries the mean of what was eaten on by a week: half of it is the week just
// over, the other half the weeks before.
func Lately(before, week float64) float64 { return (before + min(1, max(0, week))) / 2 }

// leastDish is the share of its cap that what goes with other food keeps however
// little else is eaten (common practice).
const leastDish = 2.0 / 3

// WithFood returns how much of a class that goes with other food people like in a
// day, kg: at most its own cap, and at most a share of the plate, kg of everything
// eaten in a day, but two thirds of the cap in any case. A share of 0 is a food that is
// eaten by itself, and a plate of 0 one that is not known yet: then it is the cap.
func WithFood(limit, share, plate float64) float64 {
	if share <= 0 || !(plate > 0) {
		return limit
	}
	return max(leastDish*limit, min(limit, share*plate))
}
