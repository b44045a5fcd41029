package stead

import (
	"slices"

	"evenstead/data"
)

func (c *checker) water() {
	tanks := c.s.tankNames()
	surfaces := ids(c.tab.Roofs, func(r *data.Roofing) string { return r.ID })
	for i, r := range c.s.Roofs {
		w := at("roof", i, r.Name)
		c.refers(w, "surface", r.Surface, "roof surface", surfaces)
		c.optional(w, "to", r.To, "tank", tanks)
		if len(c.s.Tanks) == 0 {
			c.bad(w, "", `sheds to no tank; write tank = "1000 L" in it, or a [[tank]]`)
		}
	}
	for i := range c.s.Tanks {
		c.tank(i, &c.s.Tanks[i])
	}
	c.overflows()
	for i, u := range c.s.Uses {
		c.use(at("use", i, u.Name), &u, tanks)
	}
	for i, t := range c.s.Treatment {
		if t.Left > t.Litres {
			c.bad(at("treatment", i, ""), "left", "more than the cartridge's %g L; write what is left of it", t.Litres)
		}
	}
}

// optional checks a reference that may be left out.
func (c *checker) optional(w where, key, name, what string, among []string) {
	if name != "" {
		c.refers(w, key, name, what, among)
	}
}

func (c *checker) use(w where, u *Use, tanks []string) {
	c.optional(w, "from", u.From, "tank", tanks)
	if len(tanks) == 0 {
		c.bad(w, "", "draws on a tank, and none is described; write a [[tank]]")
	}
	c.optional(w, "to", u.To, "bed or tree", append(c.s.plots(), "away"))
	if u.PerPerson == 0 && u.PerDay == 0 {
		c.bad(w, "per_person", `missing; write per_person = "4 L/day", or per_day for all together`)
	}
	if u.Least > u.PerPerson && u.PerPerson > 0 {
		c.bad(w, "least", "more than the usual %g L a person-day; write less, or leave it out", u.PerPerson)
	}
}

func (c *checker) tank(i int, t *Tank) {
	w := at("tank", i, t.Name)
	for _, part := range []struct {
		key string
		v   float64
	}{{"level", t.Level}, {"dead", t.Dead}, {"reserve", t.Reserve}} {
		if part.v > t.Holds && !c.told[w.part+": holds"] {
			c.bad(w, part.key, "more than the tank holds, %g L; write less, or correct holds", t.Holds)
		}
	}
	for j, other := range c.s.Tanks {
		if j != i && other.Group == t.Name && t.group() != t.Name {
			c.bad(w, "name", "also the name of another group; give the tank a different name")
			break
		}
	}
}

// tankNames are what a roof, use or bed may name: groups and single tanks.
func (s *Stead) tankNames() []string {
	var out []string
	for _, g := range s.Groups() {
		out = append(out, g.Name)
	}
	for _, t := range s.Tanks {
		if !contains(out, t.Name) {
			out = append(out, t.Name)
		}
	}
	return out
}

// overflows checks where each group spills: to something that is there, the
// same for all its tanks, and never round to itself.
func (c *checker) overflows() {
	among := append(append(c.s.tankNames(), c.s.plots()...), "away")
	groups := c.s.Groups()
	next := make([]int, len(groups))
	for i, g := range groups {
		for _, j := range g.Tanks {
			t := c.s.Tanks[j]
			c.refers(at("tank", j, t.Name), "overflow", t.Overflow, "tank, bed or tree", among)
			if t.Overflow != "away" && t.Overflow != g.Overflow {
				c.bad(at("tank", j, t.Name), "overflow", "joined tanks spill to one place, and another of this group spills to %s; write that", g.Overflow)
			}
		}
		next[i] = c.s.groupOf(g.Overflow)
	}
	for i, g := range groups {
		c.circle(i, g, groups, next)
	}
}

// circle reports a ring of overflows once, at the group of it written first.
func (c *checker) circle(i int, g Group, groups []Group, next []int) {
	w := at("tank", g.Tanks[0], c.s.Tanks[g.Tanks[0]].Name)
	if next[i] == i {
		c.bad(w, "overflow", `spills into itself; write another tank, a bed, a tree or "away"`)
		return
	}
	ring := g.Name
	for j, steps := next[i], 0; j >= i && steps <= len(groups); j, steps = next[j], steps+1 {
		ring += ", " + groups[j].Name
		if j == i {
			c.bad(w, "overflow", `goes round in a ring (%s); let one of them spill to a bed, a tree or "away"`, ring)
			return
		}
	}
}

// groupOf is the index of the group that a tank or group name means, -1 for none.
func (s *Stead) groupOf(name string) int {
	groups := s.Groups()
	if i := slices.IndexFunc(groups, func(g Group) bool { return g.Name == name }); i >= 0 {
		return i
	}
	return slices.IndexFunc(groups, func(g Group) bool {
		return slices.ContainsFunc(g.Tanks, func(t int) bool { return s.Tanks[t].Name == name })
	})
}
