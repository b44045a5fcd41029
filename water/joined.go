package water

import "math"

// A Stood tank is a shape and the height of its floor above the lowest floor of
// those it is joined to, m.
type Stood struct {
	Shape
	Floor float64
}

// Joined are tanks whose water stands at one height, piped together at the foot.
// They hold water up to the lowest brim among them.
type Joined []Stood

// Volume returns the water [L] when it stands at a height [m] above the lowest
// floor, held between the floor and the lowest brim.
func (j Joined) Volume(height float64) float64 {
	height = math.Min(height, j.brim())
	sum := 0.0
	for _, t := range j {
		sum += t.Shape.Volume(height - t.Floor)
	}
	return sum
}

// Full returns what they hold at the lowest brim [L].
func (j Joined) Full() float64 { return j.Volume(j.brim()) }

// Height returns where the water stands [m] when they hold the given litres,
// held between the lowest floor and the lowest brim.
func (j Joined) Height(litres float64) float64 {
	return bisect(0, j.brim(), func(h float64) bool { return j.Volume(h) >= litres })
}

// Dead returns what stands below a tap at a height [m] above the lowest floor,
// and in tanks that end below it [L].
func (j Joined) Dead(tap float64) float64 { return j.Volume(math.Max(tap, 0)) }

func (j Joined) brim() float64 {
	if len(j) == 0 {
		return 0
	}
	low := math.Inf(1)
	for _, t := range j {
		low = math.Min(low, t.Floor+t.Shape.brim())
	}
	return math.Max(low, 0)
}

// bisect returns the least x from lo to hi for which reached holds, which once
// true stays so; hi when it never does.
func bisect(lo, hi float64, reached func(float64) bool) float64 {
	for range 60 {
		mid := (lo + hi) / 2
		if reached(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
