package sums

import (
	"fmt"
	"strings"
)

// ReadPairs reads words such as "area=60", "m2", "rain=14 mm" into values by
// key. A word without an equals sign goes on with the value before it, so that
// values with spaces need no quotes. The error tells of every word that can't be
// read and every key written twice.
func ReadPairs(args []string) (map[string]string, error) {
	values := map[string]string{}
	var faults Problems
	last := ""
	for _, word := range args {
		key, value, found := strings.Cut(word, "=")
		key = strings.TrimSpace(key)
		switch {
		case !found && last != "":
			values[last] = strings.TrimSpace(values[last] + " " + word)
			continue
		case !found:
			faults = append(faults, Problem{Mend: fmt.Sprintf("%q: write key=value, such as area=60", short(word))})
			continue
		case key == "":
			faults = append(faults, Problem{Mend: fmt.Sprintf("%q: has no key before the equals sign", short(word))})
			continue
		}
		if had, twice := values[key]; twice {
			faults = append(faults, Problem{key, value, fmt.Sprintf("given before as %q; write it once", short(had))})
			continue
		}
		last, values[key] = key, strings.TrimSpace(value)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return values, nil
}
