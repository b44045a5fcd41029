package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenstead/data"
	"evenstead/engine"
	"evenstead/stead"
	"evenstead/unit"
	"evenstead/weather"
)

// An Ask is a stead to plan for. Nothing in it is changed.
type Ask struct {
	Stead   *stead.Stead
	Tables  *data.Tables
	Members *weather.Ensemble // possible years to learn from, from Options' first day
	Options engine.Options    // of a run from today, 364 days or more
	Risk    float64           // share of years poorer than the one planned for; 0: the terms' risk
	Years   int               // possible years that the sowings are decided for at once; 0 or 1: the one planned for
	Poor    float64           // of several years: share of the weight, 0 to 1, that only the poorest have, as many as the risk says
	Alone   bool              // of several years: don't try the poor year's own plan beside
	Wishes  []Wish
	Report  func(step string) // told what is being done; may be nil
}

// The kinds of wish.
const (
	Forbid  = "forbid"   // the crop is not sown
	AtMost  = "at most"  // no more than Area of the crop in all
	AtLeast = "at least" // no less than Area of it
	Fallow  = "fallow"   // nothing is sown on the bed
	Weigh   = "weigh"    // a day's lack of the nutrient counts Weight days of food energy
	First   = "first"    // after need is met, Bought or Work is kept least before the other
)

// What First names. Where nobody says, Bought comes first.
const (
	Bought = "bought"
	Work   = "work"
)

// A Wish is what the household asks of the plan itself.
type Wish struct {
	Kind string  `json:"kind"`
	What string  `json:"what"`    // crop id, name of a bed, nutrient id, Bought or Work
	Area float64 `json:"area_m2"` // of AtMost and AtLeast
	// Weight is of Weigh, 0 to mostWeight.
	Weight float64 `json:"weight"`
}

// mostWeight is the most that a day's lack of a nutrient may count, days of food
// energy.
const mostWeight = 2

// String says the wish as it is written: "at most 30 m2 potato".
func (w Wish) String() string {
	switch w.Kind {
	case AtMost, AtLeast:
		return fmt.Sprintf("%s %g m2 %s", w.Kind, w.Area, w.What)
	case Weigh:
		return fmt.Sprintf("%s %s %g", w.Kind, w.What, w.Weight)
	}
	return w.Kind + " " + w.What
}

// ParseWish reads the words of a wish of a kind: the name of a crop or bed,
// behind an area for AtMost and AtLeast ("30 m2 potato"), a nutrient and a number for
// Weigh ("iron 0.3"), bought or work for First. A crop is named by its
// id or its name; what no one has is an error that tells the nearest.
func ParseWish(kind, text string, st *stead.Stead, tab *data.Tables) (Wish, error) {
	w := Wish{Kind: kind, What: strings.TrimSpace(text)}
	switch kind {
	case Fallow:
		return w, bedNamed(&w, st)
	case First:
		return w, firstNamed(&w)
	case Weigh:
		return w, nutrientNamed(&w, tab)
	}
	if kind == AtMost || kind == AtLeast {
		area, rest, err := areaOf(w.What)
		if err != nil {
			return w, fmt.Errorf("%s %q: %w", kind, text, err)
		}
		w.Area, w.What = area, rest
	}
	return w, cropNamed(&w, tab)
}

// areaOf parts "30 m2 potato" into an area and the rest.
func areaOf(text string) (float64, string, error) {
	words := strings.Fields(text)
	for n := min(3, len(words)-1); n >= 1; n-- {
		if v, err := unit.Parse(strings.Join(words[:n], " "), unit.Area); err == nil {
			if v < 0 {
				return 0, "", fmt.Errorf("an area is not below nothing")
			}
			return v, strings.Join(words[n:], " "), nil
		}
	}
	return 0, "", fmt.Errorf("give an area, then a crop, such as 30 m2 potato")
}

func bedNamed(w *Wish, st *stead.Stead) error {
	var names []string
	for i := range st.Beds {
		if strings.EqualFold(st.Beds[i].Name, w.What) {
			w.What = st.Beds[i].Name
			return nil
		}
		names = append(names, st.Beds[i].Name)
	}
	return fmt.Errorf("%s %q: there is no such bed%s", w.Kind, w.What, near(w.What, names))
}

func firstNamed(w *Wish) error {
	if w.What = strings.ToLower(w.What); w.What != Bought && w.What != Work {
		return fmt.Errorf("%s %q: after need is met, %s or %s can come first", w.Kind, w.What, Bought, Work)
	}
	return nil
}

// nutrientNamed reads "vitamin C 0.2", the number before or behind.
func nutrientNamed(w *Wish, tab *data.Tables) error {
	words := strings.Fields(w.What)
	at := slices.IndexFunc(words, func(s string) bool { _, err := strconv.ParseFloat(s, 64); return err == nil })
	if at < 0 || len(words) < 2 {
		return fmt.Errorf("%s %q: give a nutrient and the days of food energy that a day's lack of it counts, such as iron 0.3", w.Kind, w.What)
	}
	v, _ := strconv.ParseFloat(words[at], 64)
	if !(v >= 0 && v <= mostWeight) {
		return fmt.Errorf("%s %q: a day's lack counts 0 to %d days of food energy", w.Kind, w.What, mostWeight)
	}
	name := strings.Join(slices.Delete(words, at, at+1), " ")
	var names []string
	for _, n := range tab.Nutrients {
		if strings.EqualFold(n.ID, name) || strings.EqualFold(n.Name, name) {
			if n.ID == "energy_mj" {
				return fmt.Errorf("%s %q: food energy counts one; the others are weighed beside it", w.Kind, w.What)
			}
			w.What, w.Weight = n.ID, v
			return nil
		}
		names = append(names, strings.ToLower(n.Name))
	}
	return fmt.Errorf("%s %q: there is no such nutrient%s", w.Kind, w.What, near(strings.ToLower(name), names))
}

func cropNamed(w *Wish, tab *data.Tables) error {
	var names []string
	plain := func(s string) string { return strings.ReplaceAll(strings.ToLower(s), "_", " ") }
	for i := range tab.Crops {
		c := &tab.Crops[i]
		if plain(c.ID) == plain(w.What) || plain(c.Name) == plain(w.What) || plain(c.ID)+"s" == plain(w.What) {
			w.What = c.ID
			return nil
		}
		names = append(names, plain(c.ID))
	}
	return fmt.Errorf("%s %q: there is no such crop%s", w.Kind, w.What, near(plain(w.What), names))
}

func near(word string, among []string) string {
	if n := unit.Nearest(word, among); n != "" {
		return fmt.Sprintf(": is it %s?", n)
	}
	slices.Sort(among)
	return ""
}

// Steps are what Report is told, in order; a plan that rations nothing passes
// over one, and the last is Measure's.
var Steps = [...]string{trying, weighing, laying, rationing, running}

const (
	trying    = "trying every sowing in the ground"
	weighing  = "weighing sowings against each other"
	laying    = "laying them on the beds"
	rationing = "finding what to ration"
	running   = "running the planned garden over years it has not seen"
)

func (a *Ask) tell(step string) {
	if a.Report != nil {
		a.Report(step)
	}
}

// risk is the share of years poorer than the one planned for.
func (a *Ask) risk() float64 {
	if a.Risk > 0 {
		return a.Risk
	}
	return a.Stead.Terms.Storage
}
