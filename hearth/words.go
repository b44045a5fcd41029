package hearth

import (
	"fmt"
	"strings"

	"evenstead/stead"
)

// Cautions are the safety sentences a description calls for, each with its source.
func Cautions(st *stead.Stead) []string {
	var said []string
	for _, c := range stead.Cautions(st) {
		about := ""
		if c.Part != "" {
			about = c.Part + ": "
		}
		said = append(said, about+c.Text+" ("+c.Source+")")
	}
	return said
}

// Taken tells the defaults taken, those alike in one line.
func Taken(taken []stead.Default) []string {
	parts := map[string][]string{}
	var order []string
	for _, d := range taken {
		said := d.Key + " = " + d.Value
		if d.Why != "" {
			said += " (" + d.Why + ")"
		}
		if parts[said] == nil {
			order = append(order, said)
		}
		parts[said] = append(parts[said], d.Part)
	}
	for i, said := range order {
		if who := names(parts[said]); who != "" {
			order[i] = who + ": " + said
		}
	}
	return order
}

// names lists a few names and counts the rest.
func names(list []string) string {
	const few = 3
	if len(list) > few+1 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:few], ", "), len(list)-few)
	}
	return strings.Join(list, ", ")
}
