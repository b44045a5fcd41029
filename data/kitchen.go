package data

import (
	"slices"
	"strings"
)

// Activity is one row of met.csv: what a kind of work costs.
type Activity struct {
	Name, Task string  // Task is a short word for it, "" where there is none
	MET        float64 // multiples of resting, 1 kcal/kg h
	Source     string
}

// Hazard is one row of hazards.csv: how a food can harm, and what guards against it.
type Hazard struct {
	Foods        []string // ids of foods, crops or wild foods
	Name, When   string   // when: see the constants
	Hazard, Rule string
	Stop         bool // not to be eaten or put up at all
	Source       string
}

// When a hazard is told.
const (
	Always    = "always"
	RawFood   = "raw"
	InStore   = "stored"
	InJars    = "jarred"
	InOil     = "oil"
	ToInfant  = "infant"
	Expecting = "pregnant"
)

func loadActivities() ([]Activity, error) {
	t, err := open("met.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Activity, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Activity{r.must("activity"), r.str("task"), r.num("met"), r.must("source")})
	}
	return out, t.err()
}

func loadHazards() ([]Hazard, error) {
	t, err := open("hazards.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Hazard, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Hazard{strings.Split(r.must("foods"), ";"), r.must("name"), r.must("when"), r.must("hazard"), r.must("rule"),
			r.str("stop") == "yes", r.must("source")})
	}
	return out, t.err()
}

// Activity returns the work of a task's short word, such as "weed".
func (t *Tables) Activity(task string) (*Activity, bool) {
	return find(t.Activities, func(a *Activity) bool { return a.Task != "" && a.Task == task })
}

// HazardsOf returns the hazards of a food, crop or wild food, in the table's
// order. A wild food that its table keeps out of plans is among them, as one
// that stops, and so is what shares a food's composition with it.
func (t *Tables) HazardsOf(id string) []Hazard {
	ids := []string{id}
	if c, ok := t.Crop(id); ok {
		ids = append(ids, c.Food)
	}
	if w, ok := t.WildFood(id); ok && w.Food != "" {
		ids = append(ids, w.Food)
	}
	if f, ok := t.Food(id); ok && f.Like != "" {
		ids = append(ids, f.Like)
	}
	var out []Hazard
	for _, h := range t.Hazards {
		if slices.ContainsFunc(ids, func(id string) bool { return slices.Contains(h.Foods, id) }) {
			out = append(out, h)
		}
	}
	if w, ok := t.WildFood(id); ok && w.Rule == "exclude from plans" {
		out = append(out, Hazard{[]string{id}, w.Name, Always, w.Hazard, "not eaten: " + w.Rule, true, w.Source})
	}
	return out
}

// With returns tables that hold more foods, in place of any of the same id; the
// receiver stays as it is and shares its rows.
func (t *Tables) With(more ...Food) *Tables {
	if len(more) == 0 {
		return t
	}
	c := *t
	c.Foods = slices.Clone(t.Foods)
	for _, m := range more {
		i := slices.IndexFunc(c.Foods, func(f Food) bool { return f.ID == m.ID })
		if i < 0 {
			i, c.Foods = len(c.Foods), append(c.Foods, m)
		}
		c.Foods[i] = m
	}
	return &c
}

// Scarce is one row of scarce.csv: a source of a nutrient that home-grown food
// is short of, or has no figures for.
type Scarce struct {
	Nutrient, Food string
	Amount         float64 // in the nutrient's unit
	Of             string  // "100 g", "a cup"
	Source, Note   string
}

func loadScarce() ([]Scarce, error) {
	t, err := open("scarce.csv")
	if err != nil {
		return nil, err
	}
	out := make([]Scarce, 0, len(t.rows))
	for _, r := range t.rows {
		out = append(out, Scarce{r.must("nutrient"), r.must("food"), r.num("amount"), r.must("of"), r.must("source"), r.str("note")})
	}
	return out, t.err()
}
