package data

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Tables holds every embedded table. It is read once and shared: callers must
// not change it.
type Tables struct {
	Crops            []Crop
	Foods            []Food
	Nutrients        []Nutrient // energy_mj first; Food.Nutrient has the same order
	Requirements     []Requirement
	Keeping          []Keeping
	PutUp            []PutUp
	Eating           []Eating
	Wild             []Wild
	Livestock        []Livestock
	CompostMaterials []CompostMaterial
	DigesterFeeds    []DigesterFeed
	Fuels            []FuelRow
	Roofs            []Roofing
	Soils            []SoilTexture
	Retentions       []Retention
	Work             []Work
	Gates            []Gate
	EatenParts       []EatenPart
	Pairs            []Pair
	Rests            []Rest
	Activities       []Activity
	Hazards          []Hazard
	Scarce           []Scarce
	MeatYields       []MeatYield
	Pieces           []Piece

	found *index // nil: every row is searched for
}

var load = sync.OnceValues(readAll)

// Load returns the embedded tables. An error names the file, line and column
// of every bad cell; it can only come from a faulty build.
func Load() (*Tables, error) { return load() }

func readAll() (*Tables, error) {
	nutrients, err := loadNutrients()
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	t := &Tables{Nutrients: nutrients}
	err = errors.Join(
		into(&t.Foods, func() ([]Food, error) { return loadFoods(nutrients) }),
		into(&t.Retentions, func() ([]Retention, error) { return loadRetentions(nutrients) }),
		into(&t.Requirements, loadRequirements),
		into(&t.Keeping, loadKeeping),
		into(&t.PutUp, loadPutUp),
		into(&t.Eating, loadEating),
		into(&t.Crops, loadCrops),
		into(&t.Wild, loadWild),
		into(&t.Livestock, loadLivestock),
		into(&t.CompostMaterials, loadCompostMaterials),
		into(&t.DigesterFeeds, loadDigesterFeeds),
		into(&t.Fuels, loadFuels),
		into(&t.Roofs, loadRoofings),
		into(&t.Soils, loadSoils),
		into(&t.Work, loadWork),
		into(&t.Gates, loadGates),
		into(&t.EatenParts, loadEatenParts),
		into(&t.Pairs, loadPairs),
		into(&t.Rests, loadRests),
		into(&t.Activities, loadActivities),
		into(&t.Hazards, loadHazards),
		into(&t.Scarce, loadScarce),
		into(&t.MeatYields, loadMeatYields),
		into(&t.Pieces, loadPieces),
	)
	if err != nil {
		return nil, fmt.Errorf("load tables: %w", err)
	}
	t.found = indexOf(t)
	return t, nil
}

func into[T any](rows *[]T, read func() ([]T, error)) error {
	var err error
	*rows, err = read()
	return err
}

// Crop returns the crop of an id.
func (t *Tables) Crop(id string) (*Crop, bool) {
	return find(t.Crops, func(c *Crop) bool { return c.ID == id })
}

// Food returns the food of an id.
func (t *Tables) Food(id string) (*Food, bool) {
	return find(t.Foods, func(f *Food) bool { return f.ID == id })
}

// WildFood returns the wild food of an id.
func (t *Tables) WildFood(id string) (*Wild, bool) {
	return find(t.Wild, func(w *Wild) bool { return w.ID == id })
}

// Animal returns the livestock of an id.
func (t *Tables) Animal(id string) (*Livestock, bool) {
	return find(t.Livestock, func(l *Livestock) bool { return l.ID == id })
}

// Fuel returns the fuel of an id.
func (t *Tables) Fuel(id string) (*FuelRow, bool) {
	return find(t.Fuels, func(f *FuelRow) bool { return f.ID == id })
}

// Roof returns the roof surface of an id.
func (t *Tables) Roof(id string) (*Roofing, bool) {
	return find(t.Roofs, func(r *Roofing) bool { return r.ID == id })
}

// Soil returns the soil texture of an id.
func (t *Tables) Soil(id string) (*SoilTexture, bool) {
	return find(t.Soils, func(s *SoilTexture) bool { return s.ID == id })
}

// Eaten returns how foods of a category are eaten.
func (t *Tables) Eaten(category string) (*Eating, bool) {
	return find(t.Eating, func(e *Eating) bool { return e.Category == category })
}

// Retention returns the cooking losses named "group/method", as Eating.Retain
// names them.
func (t *Tables) Retention(name string) (*Retention, bool) {
	if t.found != nil && rows(t.Retentions, t.found.retentions) {
		r, ok := t.found.retained[name]
		return r, ok
	}
	return find(t.Retentions, func(r *Retention) bool {
		method, ok := strings.CutPrefix(name, r.Group)
		return ok && len(method) == len(r.Method)+1 && method[0] == '/' && method[1:] == r.Method
	})
}

// NutrientIndex returns the place of a nutrient in Food.Nutrient, -1 when unknown.
func (t *Tables) NutrientIndex(id string) int {
	return slices.IndexFunc(t.Nutrients, func(n Nutrient) bool { return n.ID == id })
}

func find[T any](rows []T, is func(*T) bool) (*T, bool) {
	for i := range rows {
		if is(&rows[i]) {
			return &rows[i], true
		}
	}
	return nil, false
}

// Nearest returns the name most like a word, for "did you mean" in errors: the
// least edit distance to the whole name or, one step dearer, to a part of it
// ("kidney" finds "bean_kidney"). It returns "" when nothing is within half
// the word's length.
func Nearest(word string, among []string) string {
	word = strings.ToLower(strings.TrimSpace(word))
	best, least := "", len([]rune(word))/2+1
	for _, name := range among {
		if d := likeness(word, strings.ToLower(name)); d < least {
			best, least = name, d
		}
	}
	return best
}

func likeness(word, name string) int {
	d := edits(word, name)
	parts := strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune("_- ", r) })
	if len(parts) < 2 {
		return d
	}
	for _, p := range parts {
		d = min(d, edits(word, p)+1)
	}
	return d
}

// edits is the least number of letters put in, left out or changed between
// two words (Levenshtein 1966).
func edits(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range from {
		corner := row[0]
		row[0] = i + 1
		for j, y := range to {
			change := corner
			if x != y {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, corner+1, row[j]+1)
		}
	}
	return row[len(to)]
}
