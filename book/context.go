package book

import (
	"strings"

	"evenstead/day"
	"evenstead/unit"
)

// A Sort is a family of names, such as the beds or the tanks.
type Sort string

// The sorts; a sort without names in the Context takes any text, unless the
// Context says that there is none of it.
const (
	Food       Sort = "food"
	Crop       Sort = "crop"
	Wild       Sort = "wild food"
	Feed       Sort = "feed"
	Fertiliser Sort = "fertiliser"
	Fuel       Sort = "fuel"
	Treatment  Sort = "treatment"
	Waste      Sort = "waste"
	Load       Sort = "thing"
	Task       Sort = "task"
	MeterOf    Sort = "meter"
	Bed        Sort = "bed"
	Tree       Sort = "tree"
	Spot       Sort = "spot"
	Supply     Sort = "supply"
	Tank       Sort = "tank"
	Shelf      Sort = "shelf"
	Freezer    Sort = "freezer"
	Digester   Sort = "digester"
	Compost    Sort = "compost"
	Drum       Sort = "drum"
	Crock      Sort = "crock"
	Flock      Sort = "flock"
	Hive       Sort = "hive"
	Trip       Sort = "trip"
	Person     Sort = "person"
)

// A Name is one thing an entry may speak of, with what is known of it.
type Name struct {
	ID    string   // as entries hold it
	Also  []string // other words for it
	Area  float64  // m2 of a bed or stand; 0: not known
	Holds float64  // L of a tank; 0: not known
	Yield float64  // kg/m2, the most a crop gives in a picking; 0: not known
	Until day.Day  // a drum must not be opened for spreading before; 0: free
	Empty bool     // nothing of this food is left by the reckoning

	Shunned bool // listed only to be left alone: never offered, and stopped when named

	forms []string // all its names in plain form; nil: not worked out yet
}

// A Context is what a note is read against.
type Context struct {
	Today  day.Day
	From   day.Day         // first day of the stay; 0: not known
	Who    string          // taken when the note names nobody
	System unit.System     // of the sentences that are shown
	Marks  unit.Marks      // how the note writes numbers
	Pieces []string        // words for one of a food: "head", "clove"
	Names  map[Sort][]Name // known names
	None   map[Sort]string // sorts the stead has none of, each with the reason and the mend
	Bars   []Bar           // rules of safety that stand against entries

	Guards func(Entry) []Guard // what can harm in an entry's food; nil: nothing is known
}

// find returns the name with this id among the sorts.
func (c Context) find(id string, sorts []Sort) (Name, bool) {
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			if n.ID == id {
				return n, true
			}
		}
	}
	return Name{}, false
}

// knows reports whether the first of the sorts has names or is known to be
// missing; else any text is taken, since what is not listed cannot be told from
// a slip.
func (c Context) knows(sorts []Sort) bool {
	return len(sorts) > 0 && (len(c.Names[sorts[0]]) > 0 || c.None[sorts[0]] != "")
}

// area is all the ground of the sorts, m2.
func (c Context) area(sorts []Sort) (sum float64) {
	for _, s := range sorts {
		for _, n := range c.Names[s] {
			sum += n.Area
		}
	}
	return sum
}

// plain brings a name to the form names are compared in: small letters, single
// blanks, no plural ends.
func plain(s string) string {
	f := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" _-\t\u00a0.'’\"", r) })
	for i, w := range f {
		f[i] = singular(w)
	}
	return strings.Join(f, " ")
}

func singular(w string) string {
	switch {
	case w == "leaves":
		return "leaf"
	case len(w) > 4 && strings.HasSuffix(w, "ies"):
		return w[:len(w)-3] + "y"
	case len(w) > 4 && (strings.HasSuffix(w, "oes") || strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "ches")):
		return w[:len(w)-2]
	case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss"):
		return w[:len(w)-1]
	}
	return w
}
