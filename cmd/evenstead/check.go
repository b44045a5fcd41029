package main

import (
	"context"
	"fmt"
	"text/tabwriter"

	"evenstead/hearth"
	"evenstead/stead"
)

var checkCommand = command{"check", "STEAD.toml", "reads a description and lists every fault, or what was understood", check}

func check(_ context.Context, a *args) error {
	words, err := a.parse()
	if err != nil {
		return err
	}
	if len(words) != 1 {
		return given(fmt.Errorf("check wants one description, such as evenstead check evenstead.toml"))
	}
	text, err := readStead(words[0])
	if err != nil {
		return err
	}
	st, err := stead.Read(words[0], text)
	if err != nil {
		return given(err)
	}
	fmt.Fprintf(a.out, "%s reads well: %s.\n\n", words[0], st.Name)
	w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	for _, p := range parts(st) {
		if p.n > 0 {
			fmt.Fprintf(w, "  %s\t%d\n", p.name, p.n)
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	lines := hearth.Taken(st.Taken)
	list(a.out, "Taken for what was not written", len(lines), func(i int) string { return lines[i] })
	said := hearth.Cautions(st)
	list(a.out, "Cautions", len(said), func(i int) string { return said[i] })
	return nil
}

type part struct {
	name string
	n    int
}

func parts(s *stead.Stead) []part {
	return []part{{"people", len(s.People)}, {"roofs", len(s.Roofs)}, {"tanks", len(s.Tanks)}, {"uses of water", len(s.Uses)},
		{"beds", len(s.Beds)}, {"stands of trees", len(s.Trees)}, {"plantings", len(s.Plantings)}, {"wild foods", len(s.Forage)},
		{"apiaries", len(s.Hives)}, {"flocks", len(s.Flocks)}, {"shelves", len(s.Shelves)}, {"freezers", len(s.Freezers)},
		{"lots of food", len(s.Lots)}, {"digesters", len(s.Digesters)}, {"compost bins", len(s.Composts)}, {"toilets", len(s.Toilets)},
		{"cookers", len(s.Cookers)}, {"fuels", len(s.Fuels)}, {"lights", len(s.Lights)}, {"trips", len(s.Hauls)}, {"work exchanges", len(s.Exchange)}}
}
