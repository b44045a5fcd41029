package stead

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// complete fills in what no single key's default can: names, levels that
// depend on sizes, and whole parts that are left out.
func (r *reader) complete(s *Stead) {
	r.nameParts(s)
	r.levels(s)
	r.uses(s)
	r.shelves(s)
	s.obey()
}

// nameParts numbers the parts that have no name: "roof 1", "tank 2".
func (r *reader) nameParts(s *Stead) {
	v := reflect.ValueOf(s).Elem()
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !isParts(f.Type) || f.Tag.Get("toml") == "-" {
			continue
		}
		for j := range v.Field(i).Len() {
			name := v.Field(i).Index(j).FieldByName("Name")
			if name.IsValid() && name.String() == "" {
				part := fmt.Sprintf("%s %d", f.Tag.Get("toml"), j+1)
				name.SetString(part)
				r.take(part, "name", part)
			}
		}
	}
}

func (r *reader) levels(s *Stead) {
	for i := range s.Tanks {
		t := &s.Tanks[i]
		if _, given := r.spots[fmt.Sprintf("tank/%d/level", i)]; !given {
			t.Level = t.Holds / 2
			r.take(label("tank", i, t.Name), "level", litres(t.Level))
		}
	}
	for i := range s.Treatment {
		t := &s.Treatment[i]
		if _, given := r.spots[fmt.Sprintf("treatment/%d/left", i)]; !given && t.Litres > 0 {
			t.Left = t.Litres
			r.take(label("treatment", i, ""), "left", litres(t.Left))
		}
	}
}

func litres(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " L" }

// usualUses are taken where tanks but no uses are described, each with the
// reason for its litres.
func usualUses() ([]Use, []string) {
	return []Use{
			{Name: "drinking", Kind: "drinking", PerPerson: 3, Least: 2.5, Class: "treated"},
			{Name: "cooking", Kind: "cooking", PerPerson: 4, Least: 3, Class: "treated"},
			{Name: "washing up and hands", Kind: "washing", PerPerson: 8, Least: 2, Class: "clean"},
			{Name: "shower", Kind: "washing", PerPerson: 10, Class: "clean"},
		}, []string{
			"drinking and food 2.5 to 3 L (Sphere 2011)",
			"basic cooking 3 to 6 L (Sphere 2011)",
			"basic hygiene 2 to 6 L (Sphere 2011), and a share of the washing up (common practice)",
			"a sparing bucket wash (common practice; a wet-down and rinse takes 15 L)",
		}
}

func (r *reader) uses(s *Stead) {
	if len(s.Tanks) == 0 || len(s.Uses) > 0 || r.broken {
		return
	}
	uses, why := usualUses()
	s.Uses = uses
	for i, u := range uses {
		part := label("use", i, u.Name)
		amount := strconv.FormatFloat(u.PerPerson, 'f', -1, 64) + " L/day"
		r.taken = append(r.taken, Default{part, "per_person", amount, why[i]})
		r.take(part, "class", u.Class)
	}
}

// UsualUses are the uses of water taken where a stead with tanks writes none.
func UsualUses() []Use {
	uses, _ := usualUses()
	return uses
}

// shelves are taken where none is described: a room's worth and sixty jars.
func (r *reader) shelves(s *Stead) {
	if len(s.Shelves) > 0 || r.broken {
		return
	}
	s.Shelves = []Shelf{
		{Name: "shelf", Kind: "room", Holds: 500},
		{Name: "jars", Kind: "jars", Holds: 60},
	}
	for i, h := range s.Shelves {
		r.take(label("shelf", i, h.Name), "holds", litres(h.Holds))
	}
}

// label is a part as messages name it.
func label(part string, i int, name string) string {
	numbered := fmt.Sprintf("%s %d", part, i+1)
	if name == "" || name == numbered {
		return numbered
	}
	return fmt.Sprintf("%s %q", part, name)
}

// reasons say where a default comes from, by part and key; what is not listed
// is common practice.
var reasons = map[string]string{
	"place longitude":      "not used in the reckoning; for the map only",
	"place elevation":      "sea level",
	"place coastal":        "inland radiation coefficient 0.16 (Allen and others 1998, FAO-56 eq. 50)",
	"place soil":           "the middle of the textures (Allen and others 1998, FAO-56 table 19)",
	"terms risk":           "one poor year in five",
	"person sex":           "women and men in turn; give each person's own",
	"person age":           "an adult of middle age; give each person's own",
	"person height":        "an adult of middle size; give each person's own",
	"person mass":          "an adult of middle size; give each person's own",
	"person activity":      "a day of garden work",
	"tank level":           "half full; dip the tank and write what it holds",
	"treatment left":       "a new cartridge",
	"roof surface":         "metal sheet, the commonest catching roof",
	"use class":            "treated where it is drunk or cooked with, else clean",
	"hive leave":           "18 to 27 kg in mild winters (beekeeping guides in the livestock table)",
	"toilet drum":          "the 55 US gal drum",
	"toilet dilution":      "1:3 to 1:10 is usual on beds; the weaker is taken",
	"freezer daily":        "a small chest in a warm place",
	"freezer outages_year": "three cuts a year",
	"shelf holds":          "no shelf described: half a cubic metre in a room, and sixty jars of a litre",
	"haul speed":           "a loaded bicycle on the flat",
	"cooker aperture":      "a sun box of half a metre square",
	"fuel moisture":        "wood dried for a summer under cover",
	"tree age":             "in full bearing",
	"flock kind":           "the egg hybrid of the livestock table",
	"hive kind":            "the mild-winter colony of the livestock table",
	"tank overflow":        "led away from the house",
	"bed irrigated":        "watered when a tank allows",
	"digester fetched":     "all scraps are the household's own",
	"light hours":          "an evening",
	"lot form":             "as lifted",
	"place organic_matter": "a garden soil in fair heart, common practice",
	"place soil_depth":     "a deep garden soil, common practice",
	"place soil_ph":        "fit for most crops, common practice",
}

func reason(part, key string) string {
	word, _, _ := strings.Cut(part, " ")
	if key == "name" && part != "" {
		return "numbered as written"
	}
	if why := reasons[word+" "+key]; why != "" {
		return why
	}
	return "common practice"
}
