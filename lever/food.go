package lever

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenstead/engine"
	"evenstead/stead"
)

// Hive adds a colony of the kind there is, or of the mild-winter kind, in its
// first year. Next year's honey is not this year's: a first year brings little.
func (k Kit) Hive() (Lever, error) {
	more := stead.Hive{Kind: "honey_bee_mild", Count: 1, Leave: 18}
	if n := len(k.st.Hives); n > 0 {
		more.Kind, more.Leave = k.st.Hives[n-1].Kind, k.st.Hives[n-1].Leave
	}
	row, ok := k.r.Tables.Animal(more.Kind)
	if !ok {
		return Lever{}, fmt.Errorf("the table of livestock has no %q", more.Kind)
	}
	return Lever{ID: "hive", Part: "hive", Name: "one more hive", Cost: Cost{Once: 4, Week: row.HoursWeek, Needs: "a hive and a colony"}, Care: care(row.Cautions),
		Apply: func(st *stead.Stead) error {
			st.Hives = append(st.Hives, more)
			return nil
		}}, nil
}

// Hens adds birds to the first flock of layers, their feed with them, or begins one.
func (k Kit) Hens(n float64) (Lever, error) {
	laying := func(f stead.Flock) bool { return strings.HasPrefix(f.Kind, "hen_") }
	kind, week := "hen_layer", 0.0
	if i := slices.IndexFunc(k.st.Flocks, laying); i >= 0 {
		kind = k.st.Flocks[i].Kind
	}
	row, ok := k.r.Tables.Animal(kind)
	if !ok {
		return Lever{}, fmt.Errorf("the table of livestock has no %q", kind)
	}
	if !slices.ContainsFunc(k.st.Flocks, laying) {
		week = row.HoursWeek
	}
	return Lever{ID: "hens", Part: "flock", Name: fmt.Sprintf("%.0f more hens", n), Care: care(row.Cautions),
		Cost: Cost{Once: 1, Week: week, Needs: fmt.Sprintf("%s of feed a year", k.mass(n*row.FeedKg))},
		Apply: func(st *stead.Stead) error {
			i := slices.IndexFunc(st.Flocks, laying)
			if i < 0 {
				st.Flocks = append(st.Flocks, stead.Flock{Kind: kind, Count: n})
				return nil
			}
			f := &st.Flocks[i]
			f.Feed *= (f.Count + n) / f.Count
			f.Count += n
			return nil
		}}, nil
}

// Freezer adds room to the first freezer, or a chest of its own.
func (k Kit) Freezer(litres float64) (Lever, error) {
	name := fmt.Sprintf("%s more in the freezer", k.litres(litres))
	if len(k.st.Freezers) == 0 {
		name = fmt.Sprintf("a freezer of %s", k.litres(litres))
	}
	return Lever{ID: "freezer", Part: "freezer", Name: name, Cost: Cost{Once: 1, Needs: "a freezer and current for it"},
		Apply: func(st *stead.Stead) error {
			if len(st.Freezers) == 0 {
				st.Freezers = append(st.Freezers, stead.Freezer{Name: "freezer", Holds: litres, Daily: 2.16, Outages: 3, LongCut: 0.33})
				return nil
			}
			f := &st.Freezers[0]
			f.Daily *= (f.Holds + litres) / f.Holds
			f.Holds += litres
			return nil
		}}, nil
}

// Shelf adds room to a shelf, L.
func (k Kit) Shelf(name string, litres float64) (Lever, error) {
	at := func(st *stead.Stead) int {
		return slices.IndexFunc(st.Shelves, func(s stead.Shelf) bool { return s.Name == name })
	}
	if at(k.st) < 0 {
		return Lever{}, fmt.Errorf("there is no shelf %q", name)
	}
	return Lever{ID: "shelf:" + name, Part: "shelf", Name: fmt.Sprintf("%s more room in %s", k.litres(litres), name), Cost: Cost{Once: 4, Needs: "boards, bins or jars"},
		Apply: func(st *stead.Stead) error {
			i := at(st)
			if i < 0 {
				return fmt.Errorf("there is no shelf %q", name)
			}
			st.Shelves[i].Holds += litres
			return nil
		}}, nil
}

// Buy allows a food from outside in the terms, kg a person-day.
func (k Kit) Buy(food string, rate float64) (Lever, error) {
	row, ok := k.r.Tables.Food(food)
	if !ok {
		return Lever{}, fmt.Errorf("the table of foods has no %q", food)
	}
	name := plainName(row.Name)
	month := k.mass(rate * 365 / 12)
	return Lever{ID: "buy:" + food, Part: "terms", Name: fmt.Sprintf("%s of %s a person-month bought", month, name),
		Cost: Cost{Needs: fmt.Sprintf("the terms to allow it, and %s a person-month of it", month)},
		Apply: func(st *stead.Stead) error {
			st.Terms.Bought = append(st.Terms.Bought, stead.Bought{Food: food, Rate: rate, PerPerson: true})
			return nil
		}}, nil
}

// plainName is a food's or a crop's name as it is said.
func plainName(name string) string {
	parts := strings.Split(strings.ToLower(name), ", ")
	if len(parts) > 1 && parts[0] == "oil" {
		return parts[1] + " oil"
	}
	return parts[0]
}

// shop are foods that keep and are sold everywhere.
var shop = []string{"sunflower_oil", "canola_oil", "lentil", "oats", "rice_brown", "wheat_flour_whole", "sunflower", "flax", "sardine_canned", "salt_iodised"}

// BuyFor allows the food of a plain shop that brings most of a nutrient in a
// hundred grams, 33 g a person-day (1 kg a month).
func (k Kit) BuyFor(nutrient string) (Lever, error) {
	at := k.r.Tables.NutrientIndex(nutrient)
	if nutrient == "energy" {
		at = 0
	}
	best, most := "", 0.0
	for _, id := range shop {
		if f, ok := k.r.Tables.Food(id); ok && at >= 0 && f.Nutrient[at] > most {
			best, most = id, f.Nutrient[at]
		}
	}
	if best == "" {
		return Lever{}, errors.New("no food of a plain shop brings it")
	}
	return k.Buy(best, 1.0*12/365)
}

// firstFood is the first food need that falls short, with figures; nil when none does.
func firstFood(o *engine.Outlook) *engine.NeedOutlook {
	for _, n := range o.Shortfalls() {
		if n.Group == engine.Food {
			return n
		}
	}
	return nil
}

// care makes a sentence of a table's cautions.
func care(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}
