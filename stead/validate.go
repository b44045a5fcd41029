package stead

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/day"
)

// A checker looks for faults between the parts of a filled-in stead.
type checker struct {
	s     *Stead
	spots spots
	tab   *data.Tables
	told  map[string]bool // "part: key" that Read has found fault with already
	errs  Errors
}

// Check returns the faults between the parts of s, such as a roof that drains
// to a tank that is not there, or nil. It is what Read does last; lines are 0.
func (s *Stead) Check() error {
	c := &checker{s: s, spots: spots{}}
	c.all()
	return c.errs.asError()
}

func (c *checker) all() {
	tab, err := data.Load()
	if err != nil {
		c.errs = append(c.errs, Problem{Mend: err.Error()})
		return
	}
	c.tab = tab
	c.household()
	c.place()
	c.twins()
	c.water()
	c.ground()
	c.ownFoods()
	c.rations()
	c.pieces()
	c.poisons()
	c.stores()
	c.loops()
}

// A where is a part: its path among the spots, and its name in messages.
type where struct{ path, part string }

func at(kind string, i int, name string) where {
	return where{fmt.Sprintf("%s/%d", kind, i), label(kind, i, name)}
}

// bad notes a fault of a key, once: a value that could not be read is not
// judged for what stands in its place.
func (c *checker) bad(w where, key, format string, args ...any) {
	if c.told[w.part+": "+key] {
		return
	}
	p := Problem{Part: w.part, Key: key, Mend: fmt.Sprintf(format, args...)}
	if s, ok := c.spots[join(w.path, key)]; ok && key != "" {
		p.Line, p.Value = s.line, s.raw
	} else {
		p.Line = c.spots[w.path].line
	}
	c.errs = append(c.errs, p)
}

// refers checks that a name stands among those there are.
func (c *checker) refers(w where, key, name, what string, among []string) {
	if contains(among, name) {
		return
	}
	c.bad(w, key, "no %s %q; %s", what, name, offer(name, among))
}

// offer names the nearest of what there is, those with the same first letter
// before others, or all of it, or says there is none.
func offer(name string, among []string) string {
	var alike []string
	for _, a := range among {
		if name != "" && strings.HasPrefix(strings.ToLower(a), strings.ToLower(name[:1])) {
			alike = append(alike, a)
		}
	}
	for _, some := range [][]string{alike, among} {
		if near := data.Nearest(name, some); near != "" {
			return "meant " + near + "?"
		}
	}
	switch among = inside(name, among); {
	case len(among) == 0:
		return "none is described"
	case len(among) > 12:
		return fmt.Sprintf("there are %s and %d more", strings.Join(among[:12], ", "), len(among)-12)
	}
	return "there are " + strings.Join(among, ", ")
}

// inside keeps what holds the whole word, when anything does.
func inside(word string, among []string) []string {
	var out []string
	for _, a := range among {
		if word != "" && strings.Contains(a, strings.ToLower(word)) {
			out = append(out, a)
		}
	}
	if out == nil {
		return among
	}
	return out
}

func (c *checker) household() {
	if len(c.s.People) == 0 {
		c.errs = append(c.errs, Problem{Mend: "no person is described; write people = 2, or a [[person]] for each"})
	}
	if st := c.s.Stay; st.From != 0 && st.To != 0 && st.To < st.From {
		c.bad(where{"stay", "stay"}, "to", "before the stay begins; write a date after %s", st.From)
	}
	for i, b := range c.s.Terms.Bought {
		c.refers(where{fmt.Sprintf("terms/bought/%d", i), fmt.Sprintf("terms, bought %d", i+1)}, "food", b.Food, "food", c.foods())
	}
}

func (c *checker) place() {
	w := where{"place", "place"}
	c.refers(w, "soil", c.s.Place.Soil, "soil", ids(c.tab.Soils, func(s *data.SoilTexture) string { return s.ID }))
	ban := c.s.Place.FireBan
	if len(ban)%2 == 1 {
		c.bad(w, "fire_ban", `needs pairs of first and last day, such as ["15 Jun", "30 Sep"]`)
	}
	for _, d := range ban {
		if _, err := day.ParseWhen(d); err != nil {
			c.bad(w, "fire_ban", "%v", err)
		}
	}
	if n := len(c.s.Place.Normals); n > 1 {
		c.bad(where{"place/normals/1", "place, normals 2"}, "", "a place has one set of normals; leave out all but one")
	}
	for i := range c.s.Place.Normals {
		c.normals(where{fmt.Sprintf("place/normals/%d", i), fmt.Sprintf("place, normals %d", i+1)}, &c.s.Place.Normals[i])
	}
}

var monthDays = [12]float64{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

func (c *checker) normals(w where, n *Normals) {
	whole := true
	for _, row := range []struct {
		key string
		v   []float64
	}{{"rain", n.Rain}, {"wet_days", n.WetDays}, {"tmin", n.TMin}, {"tmax", n.TMax}} {
		if len(row.v) != 12 {
			whole = false
		}
		if len(row.v) != 12 && row.v != nil { // a missing row is told of already
			c.bad(w, row.key, "has %d values; write twelve, January first", len(row.v))
		}
	}
	for i := 0; whole && i < 12; i++ {
		m := monthNames[i]
		switch {
		case n.TMin[i] > n.TMax[i]:
			c.bad(w, "tmin", "%s: minimum %g above maximum %g; check that the two rows are not swapped", m, n.TMin[i], n.TMax[i])
		case n.WetDays[i] < 0 || n.WetDays[i] > monthDays[i]:
			c.bad(w, "wet_days", "%s: %g wet days; the month has %g", m, n.WetDays[i], monthDays[i])
		case n.Rain[i] < 0:
			c.bad(w, "rain", "%s: %g mm; rain is nought or more", m, n.Rain[i])
		case n.Rain[i] > 0 && n.WetDays[i] == 0:
			c.bad(w, "wet_days", "%s: rain on no wet day; write the days, or no rain", m)
		}
	}
}

var monthNames = [12]string{"January", "February", "March", "April", "May", "June", "July",
	"August", "September", "October", "November", "December"}

// ids lists the keys of a table.
func ids[T any](rows []T, id func(*T) string) []string {
	out := make([]string, len(rows))
	for i := range rows {
		out[i] = id(&rows[i])
	}
	return out
}

func (c *checker) foods() []string {
	return append(ids(c.tab.Foods, func(f *data.Food) string { return f.ID }), ids(c.s.Foods, func(f *OwnFood) string { return f.Name })...)
}

func (c *checker) crops() []string {
	return ids(c.tab.Crops, func(f *data.Crop) string { return f.ID })
}

func (c *checker) wild() []string {
	return ids(c.tab.Wild, func(w *data.Wild) string { return w.ID })
}

func (c *checker) animals() []string {
	return ids(c.tab.Livestock, func(l *data.Livestock) string { return l.ID })
}

// twins finds names given twice in a part, and names that a reference could
// mean two ways.
func (c *checker) twins() {
	named := c.s.names()
	for _, kind := range slices.Sorted(maps.Keys(named)) {
		list := named[kind]
		for i, name := range list {
			if j := slices.Index(list, name); j < i {
				c.bad(at(kind, i, name), "name", "already the name of %s %d; names in a part must differ", kind, j+1)
			}
		}
	}
	for i, t := range c.s.Trees {
		if contains(named["bed"], t.Name) {
			c.bad(at("tree", i, t.Name), "name", "also the name of a bed; give them different names")
		}
	}
}

// names are the names in each part that others may refer to.
func (s *Stead) names() map[string][]string {
	return map[string][]string{
		"person":   ids(s.People, func(p *Person) string { return p.Name }),
		"roof":     ids(s.Roofs, func(p *Roof) string { return p.Name }),
		"tank":     ids(s.Tanks, func(p *Tank) string { return p.Name }),
		"use":      ids(s.Uses, func(p *Use) string { return p.Name }),
		"bed":      ids(s.Beds, func(p *Bed) string { return p.Name }),
		"tree":     ids(s.Trees, func(p *Tree) string { return p.Name }),
		"shelf":    ids(s.Shelves, func(p *Shelf) string { return p.Name }),
		"freezer":  ids(s.Freezers, func(p *Freezer) string { return p.Name }),
		"digester": ids(s.Digesters, func(p *Digester) string { return p.Name }),
		"compost":  ids(s.Composts, func(p *Compost) string { return p.Name }),
		"toilet":   ids(s.Toilets, func(p *Toilet) string { return p.Name }),
		"haul":     ids(s.Hauls, func(p *Haul) string { return p.Name }),
	}
}

// plots are the names greywater, effluent and compost can go to.
func (s *Stead) plots() []string {
	n := s.names()
	return append(n["bed"], n["tree"]...)
}
