package stead

import (
	"fmt"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/day"
)

func (c *checker) ground() {
	tanks := c.s.tankNames()
	for i, b := range c.s.Beds {
		c.optional(at("bed", i, b.Name), "from", b.From, "tank", tanks)
	}
	for i, t := range c.s.Trees {
		c.refers(at("tree", i, t.Name), "crop", t.Crop, "crop", c.crops())
	}
	for i := range c.s.Plantings {
		c.planting(at("planting", i, ""), &c.s.Plantings[i])
	}
	for i := range c.s.Beds {
		c.crowded(i, &c.s.Beds[i])
	}
	c.plotHolds()
	for i, f := range c.s.Forage {
		w := at("forage", i, "")
		c.refers(w, "food", f.Food, "wild food", c.wild())
		if f.From.IsZero() != f.To.IsZero() {
			c.bad(w, "from", "a season has a first and a last day; write both from and to, or neither")
		}
	}
	for i, h := range c.s.Hives {
		c.refers(at("hive", i, ""), "kind", h.Kind, "animal", c.animals())
	}
	for i, f := range c.s.Flocks {
		w := at("flock", i, "")
		c.refers(w, "kind", f.Kind, "animal", c.animals())
		c.optional(w, "run", f.Run, "bed or tree", c.s.plots())
	}
}

// plotHolds reports the bed or stand with which the ground laid out is more than
// the plot.
func (c *checker) plotHolds() {
	sum, plot := 0.0, c.s.Place.Plot
	if plot == 0 {
		return
	}
	lay := func(w where, area float64) bool {
		sum += area
		if sum <= plot*1.001 {
			return false
		}
		c.bad(w, "area", "with it the beds and trees cover %.6g m2, and the plot is %.6g m2; write less, or correct place.plot", sum, plot)
		return true
	}
	for i, b := range c.s.Beds {
		if lay(at("bed", i, b.Name), b.Area) {
			return
		}
	}
	for i, t := range c.s.Trees {
		area := t.Area
		if crop, ok := c.tab.Crop(t.Crop); ok && area == 0 && crop.PlantsM2 > 0 {
			area = t.Count / crop.PlantsM2
		}
		if lay(at("tree", i, t.Name), area) {
			return
		}
	}
}

func (c *checker) planting(w where, p *Planting) {
	c.refers(w, "bed", p.Bed, "bed", c.s.names()["bed"])
	c.refers(w, "crop", p.Crop, "crop", c.crops())
	if b := c.s.bed(p.Bed); b != nil && p.Area > b.Area*1.001 {
		c.bad(w, "area", "more than the bed's %g m2; write less, or correct the bed", b.Area)
	}
	if crop, ok := c.tab.Crop(p.Crop); ok && p.Sow.IsZero() && !perennial(crop) {
		c.bad(w, "sow", `missing; write sow = "10 Apr" for every year, or a whole date for one`)
	}
}

func perennial(c *data.Crop) bool { return c.HarvestFrom != 0 }

func (s *Stead) bed(name string) *Bed {
	i := slices.IndexFunc(s.Beds, func(b Bed) bool { return b.Name == name })
	if i < 0 {
		return nil
	}
	return &s.Beds[i]
}

// A stand is a spell of days in which a planting fills part of a bed.
type stand struct {
	from, to day.Day // to is the first day after
	area     float64
	planting int
}

// crowded finds a day on which a bed's plantings want more ground than it has.
// A crop is counted from its sowing to the earliest first harvest of the crop
// table, so a bed is called too full only when it surely is.
func (c *checker) crowded(i int, b *Bed) {
	stands := c.stands(b)
	for _, at0 := range stands {
		sum := 0.0
		for _, s := range stands {
			if s.from <= at0.from && at0.from < s.to {
				sum += s.area
			}
		}
		if sum > b.Area*1.001 {
			c.bad(at("planting", at0.planting, ""), "area", "%s: on %s its crops want %s m2 of its %s; sow less, or later",
				label("bed", i, b.Name), strings.ReplaceAll(at0.from.Short(), "\u00a0", " "), trimmed(sum), trimmed(b.Area))
			return
		}
	}
}

func trimmed(v float64) string { return fmt.Sprintf("%.4g", v) }

func (c *checker) stands(b *Bed) []stand {
	first, last := c.s.years()
	var out []stand
	for i, p := range c.s.Plantings {
		crop, ok := c.tab.Crop(p.Crop)
		if p.Bed != b.Name || !ok || p.Area > b.Area { // too large alone is told of already
			continue
		}
		area := p.Area
		if area == 0 {
			area = b.Area
		}
		if perennial(crop) {
			out = append(out, stand{day.Of(first, 1, 1), day.Of(last+1, 1, 1), area, i})
			continue
		}
		for year := first; year <= last; year++ {
			if from := p.Sow.In(year); !p.Sow.IsZero() && from.Year() == year {
				out = append(out, stand{from, from + day.Day(crop.DaysFirst), area, i})
			}
		}
	}
	return out
}

// years are the first and last year that stay and sowings speak of, and one
// more on either side, so that what recurs meets itself; at most twenty.
func (s *Stead) years() (first, last int) {
	first, last = 2026, 2026
	if s.Stay.From != 0 {
		first, last = s.Stay.From.Year(), s.Stay.From.Year()
	}
	for _, p := range s.Plantings {
		if p.Sow.Year != 0 {
			first, last = min(first, p.Sow.Year), max(last, p.Sow.Year)
		}
	}
	return max(first-1, last-18), last + 1
}
