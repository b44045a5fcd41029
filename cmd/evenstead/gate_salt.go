package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/crop"
	"evenstead/data"
	"evenstead/engine"
	"evenstead/fertility"
	"evenstead/stead"
)

// drains is the share of washing water taken to drain past the roots: the 15 to
// 20 in 100 that FAO 29 counts on (from memory), the low end.
const drains = 0.15

// usualEC are salinities told where none was measured, dS/m: the ends of "slight to
// moderate" in FAO 29 (Ayers and Westcot 1985) and the middle between.
var usualEC = []float64{0.7, 1.5, 3}

// greyGround tells of every plot that washing water is led to what its salt leaves
// of the crops there, by the salinity measured [dS/m; 0: not measured].
func greyGround(p *engine.Past, tab *data.Tables, ec float64) (lines []string) {
	st := p.Stead
	var told []string
	for _, u := range st.Uses {
		if u.Returned <= 0 || u.To == "" || u.To == "away" || slices.Contains(told, u.To) {
			continue
		}
		told = append(told, u.To)
		for _, id := range growsOn(st, u.To) {
			if c, ok := tab.Crop(id); ok {
				lines = append(lines, saltLine(u.To, c, ec))
			}
		}
	}
	if len(lines) == 0 {
		return nil
	}
	if ec > 0 {
		lines = append(lines, fmt.Sprintf("%.3g dS/m is %s (FAO 29, Ayers and Westcot 1985)", ec, restricted(fertility.RateEC(ec))))
	} else {
		lines = append(lines, "how salty your washing water is was not said: measure it with a conductivity pen and give --ec; under 0.7 dS/m is free to use, over 3.0 severely restricted (FAO 29, Ayers and Westcot 1985)")
	}
	return append(lines, "powder detergents are mostly sodium salts and some hold boron: liquid, potassium-based and boron-free ones spare the ground (common practice); turn it to other ground when growth flags")
}

// growsOn are the crops of a bed or stand of trees, each once.
func growsOn(st *stead.Stead, plot string) (ids []string) {
	add := func(id string) {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	for _, t := range st.Trees {
		if t.Name == plot {
			add(t.Crop)
		}
	}
	for _, x := range st.Plantings {
		if x.Bed == plot {
			add(x.Crop)
		}
	}
	return ids
}

func saltLine(plot string, c *data.Crop, ec float64) string {
	if c.Salt.Threshold == 0 || math.IsNaN(c.Salt.Threshold) {
		return fmt.Sprintf("%s, %s: how it bears salt is not known", plot, c.Name)
	}
	list := usualEC
	if ec > 0 {
		list = []float64{ec}
	}
	var said []string
	for _, e := range list {
		said = append(said, fmt.Sprintf("%.0f in 100 of its yield at %.3g dS/m", 100*crop.GreywaterYield(c, e, drains), e))
	}
	return fmt.Sprintf("%s, %s: %s, %.0f in 100 of the water draining (Maas 1990; FAO-56 eq. 89 and 93)", plot, c.Name, strings.Join(said, ", "), 100*drains)
}

func restricted(r fertility.Restriction) string {
	switch r {
	case fertility.None:
		return "free to use"
	case fertility.Moderate:
		return "slightly to moderately restricted"
	case fertility.Severe:
		return "severely restricted: lead it to ground that feeds nobody"
	}
	return "not known"
}
