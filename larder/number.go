package larder

import (
	"hash/fnv"
	"strings"
)

// LotNumber is four letters and digits that a food, form and place always have, to
// be written on a label; no letter in it looks like a digit.
func LotNumber(food, form, place string) string {
	const marks = "ACDEFHJKMNPRTUVWXY34679"
	h := fnv.New32a()
	h.Write([]byte(strings.Join([]string{food, form, place}, "/")))
	n := h.Sum32()
	var out [4]byte
	for i := range out {
		out[i] = marks[n%uint32(len(marks))]
		n /= uint32(len(marks))
	}
	return string(out[:])
}
