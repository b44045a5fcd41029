package book

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/day"
	"evenstead/stead"
)

// Of returns a context with every name a note about the stead can speak of, by
// the words people use, and why there is none of what the stead lacks. Who,
// Today, From and System are left to the caller. A drum that was closed when the
// stead was described is shut for its years of cure, the longest of the table
// where none are written; Until sets what the engine knows better.
func Of(st *stead.Stead, tab *data.Tables) Context {
	l := lexicon{}
	l.ground(st, tab)
	l.water(st)
	l.larder(st)
	l.soil(st, tab)
	l.animals(st, tab)
	l.people(st)
	l.eatables(st, tab)
	l.matter(tab)
	return Context{Names: l.settle(), None: l.none(), Pieces: tab.PieceWords()}
}

// Until sets the day before which a drum must not be opened. Copies of the
// context share it.
func (c *Context) Until(drum string, d day.Day) {
	c.change(drum, []Sort{Drum}, func(n *Name) { n.Until = d })
}

// Gone marks the foods of which nothing is left by the reckoning. Copies of the
// context share it.
func (c *Context) Gone(foods map[string]bool) {
	for _, s := range edible {
		for i := range c.Names[s] {
			if n := &c.Names[s][i]; foods[n.ID] {
				n.Empty = true
			}
		}
	}
}

// Apart is the context with names of its own, which Until and Gone may mark.
func (c Context) Apart() Context {
	names := make(map[Sort][]Name, len(c.Names))
	for s, list := range c.Names {
		names[s] = slices.Clone(list)
	}
	c.Names = names
	return c
}

func (c *Context) change(id string, sorts []Sort, set func(*Name)) {
	for _, s := range sorts {
		for i := range c.Names[s] {
			if c.Names[s][i].ID == id {
				set(&c.Names[s][i])
			}
		}
	}
}

// Named returns the id of the thing of a sort that text names, or an error that
// lists what there is.
func (c Context) Named(text string, s Sort) (string, error) {
	if id, ok := c.exact(text, []Sort{s}); ok {
		return id, nil
	}
	return "", c.unknown(text, []Sort{s})
}

// A lexicon gathers names by sort.
type lexicon map[Sort][]Name

func (l lexicon) add(s Sort, n Name) { l[s] = append(l[s], n) }

// alone lets the words name the one thing of a sort, when there is just one.
func (l lexicon) alone(s Sort, words ...string) {
	if len(l[s]) == 1 {
		l[s][0].Also = append(l[s][0].Also, words...)
	}
}

// parts are the sorts of which a stead may have none, and what to write.
var parts = map[Sort]string{
	Bed: "[[bed]]", Tree: "[[tree]]", Tank: "[[tank]]", Freezer: "[[freezer]]", Digester: "[[digester]]", Compost: "[[compost]]",
	Drum: "[[toilet]]", Crock: `[[shelf]] with kind = "crocks"`, Flock: "[[flock]]", Hive: "[[hive]]", Trip: "[[haul]]", Shelf: "[[shelf]]",
}

// none tells why there are no names of a sort.
func (l lexicon) none() map[Sort]string {
	out := map[Sort]string{}
	for s, part := range parts {
		if len(l[s]) == 0 {
			out[s] = fmt.Sprintf("no %s is described: add %s to the description", s, part)
		}
	}
	return out
}

// settle drops words that two things of a sort claim, or that are the id of
// another, and works out the plain forms.
func (l lexicon) settle() map[Sort][]Name {
	for s, names := range l {
		claims := map[string]int{}
		for _, n := range names {
			for _, w := range distinct(n.plainForms(), math.MaxInt) {
				claims[w]++
			}
		}
		for i := range names {
			n := &l[s][i]
			forms := []string{plain(n.ID)}
			for _, w := range n.plainForms()[1:] {
				if claims[w] == 1 && w != "" {
					forms = append(forms, w)
				}
			}
			n.forms = distinct(forms, len(forms))
		}
	}
	return l
}

func (l lexicon) ground(st *stead.Stead, tab *data.Tables) {
	for _, b := range st.Beds {
		l.add(Bed, Name{ID: b.Name, Area: b.Area})
	}
	l.alone(Bed, "bed", "garden")
	for _, t := range st.Trees {
		l.add(Tree, Name{ID: t.Name, Area: standArea(t, tab), Also: []string{t.Crop, t.Crop + " tree"}})
	}
}

// standArea is the ground of a stand, m2.
func standArea(t stead.Tree, tab *data.Tables) float64 {
	if t.Area > 0 {
		return t.Area
	}
	if c, ok := tab.Crop(t.Crop); ok && c.PlantsM2 > 0 {
		return t.Count / c.PlantsM2
	}
	return 0
}

// water names tanks, and groups of more than one by what they hold together.
func (l lexicon) water(st *stead.Stead) {
	for _, t := range st.Tanks {
		l.add(Tank, Name{ID: t.Name, Holds: t.Holds})
	}
	for _, g := range st.Groups() {
		switch at := l.at(Tank, g.Name); {
		case at < 0:
			l.add(Tank, Name{ID: g.Name, Holds: g.Holds, Also: []string{g.Name + " tanks", g.Name + " group"}})
		case len(g.Tanks) > 1: // a tank that lends its name to the group
			l[Tank][at].Holds = g.Holds
		}
	}
	l.alone(Tank, "tank", "barrel", "tote", "cistern", "water tank", "rain tank")
}

func (l lexicon) at(s Sort, id string) int {
	for i, n := range l[s] {
		if n.ID == id {
			return i
		}
	}
	return -1
}

var shelfWords = map[string][]string{
	"cellar": {"cellar", "root cellar"}, "dry": {"dry store", "dry shelf"}, "room": {"pantry", "larder"},
	"jars": {"jars", "jar shelf"}, "crocks": {"crock", "crock shelf"},
}

func (l lexicon) larder(st *stead.Stead) {
	for _, s := range st.Shelves {
		n := Name{ID: s.Name, Also: shelfWords[s.Kind]}
		l.add(Shelf, n)
		if s.Kind == "crocks" {
			l.add(Crock, n)
		}
	}
	for _, f := range st.Freezers {
		l.add(Freezer, Name{ID: f.Name})
	}
	l.alone(Freezer, "freezer", "chest freezer")
	for _, h := range st.Hauls {
		l.add(Trip, Name{ID: h.Name})
	}
	l.alone(Trip, "trip", "bicycle", "bike", "trailer")
}

func (l lexicon) soil(st *stead.Stead, tab *data.Tables) {
	for _, d := range st.Digesters {
		l.add(Digester, Name{ID: d.Name})
	}
	l.alone(Digester, "digester", "biogas digester")
	for _, c := range st.Composts {
		l.add(Compost, Name{ID: c.Name, Also: []string{c.Name + " bin", c.Name + " heap"}})
	}
	l.alone(Compost, "compost", "bin", "heap", "compost bin", "compost heap")
	l.drums(st, tab)
}

// drums numbers the drums of all toilets on: "drum 1", "drum 2". Those listed in
// the stead come first.
func (l lexicon) drums(st *stead.Stead, tab *data.Tables) {
	n := 0
	for _, t := range st.Toilets {
		for range t.Drums {
			drum := Name{ID: fmt.Sprintf("drum %d", n+1)}
			if n < len(st.Drums) {
				drum.Until = opens(st.Drums[n], t, tab)
			}
			l.add(Drum, drum)
			n++
		}
	}
	l.alone(Drum, "drum", "toilet drum")
	if n > 0 {
		l.add(Supply, Name{ID: "cover", Also: []string{"cover material", "sawdust", "toilet cover"}})
	}
}

// opens is the day a closed drum may be opened; 0 when it is not closed.
func opens(d stead.Drum, t stead.Toilet, tab *data.Tables) day.Day {
	if d.Closed == 0 {
		return 0
	}
	years := t.Cure
	for _, g := range tab.Gates {
		if g.Unit == "year" && strings.HasPrefix(g.ID, "drum_years") {
			years = max(years, g.Value)
		}
	}
	return d.Closed + day.Day(math.Ceil(years*365.25))
}

func (l lexicon) people(st *stead.Stead) {
	for _, p := range st.People {
		l.add(Person, Name{ID: p.Name})
	}
}
