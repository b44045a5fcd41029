package stead

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/unit"
)

// Tables returns the tables with the foods of s added, each a copy of the food it
// is like with what is written of it, and with its rations and pieces. The error names the
// first that can't be read; Check finds them all.
func (s *Stead) Tables(tab *data.Tables) (*data.Tables, error) {
	var more []data.Food
	for i := range s.Foods {
		f, err := s.Foods[i].food(tab)
		if err != nil {
			return nil, fmt.Errorf("food %q: %w", s.Foods[i].Name, err)
		}
		more = append(more, f)
	}
	own := tab.With(more...)
	var held []data.Food
	for _, r := range s.Rations {
		f, ok := own.Food(r.Food)
		if !ok {
			return nil, fmt.Errorf("ration: no food %q", r.Food)
		}
		less := *f
		less.Most = r.Most
		held = append(held, less)
	}
	var pieces []data.Piece
	for _, p := range s.Pieces {
		if _, ok := own.Food(p.Food); !ok {
			return nil, fmt.Errorf("piece: no food %q", p.Food)
		}
		pieces = append(pieces, p.data())
	}
	return own.With(held...).Weighing(pieces...), nil
}

// data is a piece as a row of the table. What has a name of its own is meant by a
// bare number too, since that is why it was written.
func (p *Piece) data() data.Piece {
	out := data.Piece{Food: p.Food, Bare: true, Kg: p.Weighs, Source: "the household"}
	if p.Called != "" {
		out.Words = []string{strings.ToLower(p.Called)}
	}
	return out
}

// food is an own food as a row of the table.
func (o *OwnFood) food(tab *data.Tables) (data.Food, error) {
	like, ok := tab.Food(o.Like)
	if !ok {
		return data.Food{}, fmt.Errorf("no food %q to be like", o.Like)
	}
	f := *like
	f.ID, f.Name, f.NDB, f.Like = o.Name, o.Name, "", like.ID
	f.Source = "the household; what is not written is that of " + like.ID + " (" + like.Source + ")"
	f.Nutrient = slices.Clone(like.Nutrient)
	for _, line := range o.Per100g {
		j, v, err := figure(line, tab.Nutrients)
		if err != nil {
			return data.Food{}, err
		}
		f.Nutrient[j] = 10 * v
	}
	return f, sane(&f, tab)
}

// energies are the units that an energy is written in, MJ.
var energies = map[string]float64{"kcal": 0.004184, "kJ": 0.001, "MJ": 1}

// figure reads "iron 2 mg" as the place of a nutrient and an amount in its unit.
func figure(line string, nutrients []data.Nutrient) (j int, amount float64, err error) {
	words := strings.Fields(line)
	at := slices.IndexFunc(words, func(w string) bool {
		_, err := unit.Parse(w, unit.Number)
		return err == nil
	})
	if at < 1 || at+1 >= len(words) {
		return 0, 0, fmt.Errorf(`%q: write a nutrient, an amount and its unit, such as "iron 2 mg"`, line)
	}
	name, in := strings.ToLower(strings.Join(words[:at], " ")), strings.Join(words[at+1:], " ")
	var names []string
	j = slices.IndexFunc(nutrients, func(n data.Nutrient) bool {
		names = append(names, strings.ToLower(n.Name))
		return strings.EqualFold(n.Name, name) || n.ID == name
	})
	if j < 0 {
		return 0, 0, fmt.Errorf("%q: no nutrient %q; %s", line, name, offer(name, names))
	}
	if amount, err = unit.Parse(words[at], unit.Number); err != nil || amount < 0 {
		return 0, 0, fmt.Errorf("%q: give 0 or more", line)
	}
	factor, ok := scale(in, &nutrients[j])
	if !ok {
		units := strings.Replace(nutrients[j].Unit, "MJ", "kcal, kJ or MJ", 1)
		return 0, 0, fmt.Errorf("%q: %s is counted in %s", line, nutrients[j].Name, units)
	}
	return j, amount * factor, nil
}

// scale is how many of a nutrient's unit a written unit is.
func scale(in string, n *data.Nutrient) (float64, bool) {
	if n.Unit == "MJ" {
		f, ok := energies[in]
		return f, ok
	}
	mass := map[string]float64{"g": 1, "mg": 1e-3, "µg": 1e-6, "ug": 1e-6, "mcg": 1e-6}
	base, _, _ := strings.Cut(n.Unit, " ") // "µg RAE"
	from, ok := mass[strings.Fields(in + " ")[0]]
	return from / mass[base], ok
}

// sane refuses what no food can hold: more than 100 g of protein, fat and
// carbohydrate in 100 g, or more energy than fat has (9 kcal a gram).
func sane(f *data.Food, tab *data.Tables) error {
	sum := 0.0
	for _, id := range []string{"protein_g", "fat_g", "carbohydrate_g"} {
		if v := f.Nutrient[tab.NutrientIndex(id)] / 10; !math.IsNaN(v) {
			sum += v
		}
	}
	if sum > 101 {
		return fmt.Errorf("%.0f g of protein, fat and carbohydrate in 100 g: they can't be more than the food; write all three", sum)
	}
	if kcal := f.Nutrient[0] / 10 / energies["kcal"]; kcal > 905 {
		return fmt.Errorf("%.0f kcal in 100 g: pure fat has 900", kcal)
	}
	return nil
}

func (c *checker) rations() {
	for i, r := range c.s.Rations {
		w := at("ration", i, "")
		c.refers(w, "food", r.Food, "food", c.foods())
		for j := range i {
			if c.s.Rations[j].Food == r.Food {
				c.bad(w, "food", "ration %d is of it already; write one for a food", j+1)
			}
		}
	}
}

func (c *checker) pieces() {
	for i, p := range c.s.Pieces {
		w := at("piece", i, "")
		c.refers(w, "food", p.Food, "food", c.foods())
		for j := range i {
			if o := &c.s.Pieces[j]; o.Food == p.Food && o.Called == p.Called {
				c.bad(w, "food", "piece %d is of it already; write one for a food, or say what each is called", j+1)
			}
		}
	}
}

func (c *checker) ownFoods() {
	for i := range c.s.Foods {
		f := &c.s.Foods[i]
		w := at("food", i, f.Name)
		c.refers(w, "like", f.Like, "food", ids(c.tab.Foods, func(f *data.Food) string { return f.ID }))
		_, food := c.tab.Food(f.Name)
		_, crop := c.tab.Crop(f.Name)
		_, wild := c.tab.WildFood(f.Name)
		switch {
		case strings.TrimSpace(f.Name) != f.Name || f.Name == "":
			c.bad(w, "name", "write a name without blanks at its ends")
		case food || crop || wild:
			c.bad(w, "name", "the tables have it already; give yours another name")
		}
		for j := range i {
			if c.s.Foods[j].Name == f.Name {
				c.bad(w, "name", "already the name of food %d; names in a part must differ", j+1)
			}
		}
		if _, err := f.food(c.tab); err != nil && contains(ids(c.tab.Foods, func(f *data.Food) string { return f.ID }), f.Like) {
			c.bad(w, "per_100g", "%v", err)
		}
	}
}
