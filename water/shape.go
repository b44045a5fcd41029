package water

import "math"

// A Shape is the inside of a tank; its lengths are m. The zero Shape holds nothing.
type Shape struct {
	Kind          Kind
	Diameter      float64 // upright and lying
	Length, Width float64 // lying: Length; box: both
	Height        float64 // upright and box
}

// Kind is the form of a tank.
type Kind int

// The forms a tank is measured in.
const (
	Upright Kind = iota // a standing drum or round tank
	Lying               // a drum on its side
	Box                 // a tote, trough or cistern with straight walls
)

// Volume returns the water [L] at a dipped depth [m]; depth is held between the
// floor and the brim.
func (s Shape) Volume(depth float64) float64 {
	depth = math.Max(0, math.Min(depth, s.brim()))
	switch s.Kind {
	case Lying:
		return 1000 * s.Length * segment(s.Diameter/2, depth)
	case Box:
		return 1000 * s.Length * s.Width * depth
	}
	return 1000 * math.Pi * s.Diameter * s.Diameter / 4 * depth
}

// Full returns what the tank holds at the brim [L].
func (s Shape) Full() float64 { return s.Volume(s.brim()) }

// Depth returns the depth [m] at which the tank holds the given litres, held
// between empty and full.
func (s Shape) Depth(litres float64) float64 {
	return bisect(0, s.brim(), func(d float64) bool { return s.Volume(d) >= litres })
}

func (s Shape) brim() float64 {
	if s.Kind == Lying {
		return math.Max(s.Diameter, 0)
	}
	return math.Max(s.Height, 0)
}

// segment is the area [m2] of a circle of radius r filled to depth h:
// r^2 acos((r - h)/r) - (r - h) sqrt(2 r h - h^2).
func segment(r, h float64) float64 {
	if r <= 0 {
		return 0
	}
	c := math.Max(-1, math.Min(1, (r-h)/r))
	return r*r*math.Acos(c) - (r-h)*math.Sqrt(math.Max(2*r*h-h*h, 0))
}
