package fuel

import (
	"math"
	"strconv"
)

// itoa prints a whole number for a case name.
func itoa(v float64) string { return strconv.Itoa(int(math.Round(v))) }

// near tells that a and b agree to rel of the larger, or of one.
func near(a, b, rel float64) bool {
	return math.Abs(a-b) <= rel*(1+math.Max(math.Abs(a), math.Abs(b)))
}
