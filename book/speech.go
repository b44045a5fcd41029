package book

import (
	"slices"
	"strings"

	"evenstead/data"
	"evenstead/stead"
)

// headroom is how far above the table's high yield a picking is believed. Common
// practice: the best gardens bring twice what tables call a high yield, and much
// is weighed with tops or soil on.
const headroom = 2

// eatables names crops, foods and wild foods. A food answers to the crops and
// wild foods it comes from as well.
func (l lexicon) eatables(st *stead.Stead, tab *data.Tables) {
	of := map[string][]string{}
	for _, c := range tab.Crops {
		also := cropWords(c)
		l.add(Crop, Name{ID: c.ID, Also: also, Yield: headroom * c.YieldHi})
		of[c.Food] = append(append(of[c.Food], c.ID), also...)
	}
	for _, w := range tab.Wild {
		also := append(wordings(w.Name), strings.TrimSuffix(strings.TrimSuffix(w.ID, "_wild"), "_feral"))
		l.add(Wild, Name{ID: w.ID, Also: also, Shunned: w.Rule == data.Excluded})
		if w.Rule == data.Excluded {
			continue
		}
		of[w.Food] = append(append(of[w.Food], w.ID), also...)
	}
	for food, words := range products(st, tab) {
		of[food] = append(of[food], words...)
	}
	for _, f := range tab.Foods {
		l.add(Food, Name{ID: f.ID, Also: append(append(wordings(f.Name), turned(f.ID, "_")), of[f.ID]...)})
	}
}

// cropWords are what people call a crop. The first word of "maize, dry grain"
// does for the crop, but not for one that is only cut green.
func cropWords(c data.Crop) []string {
	out := append(wordings(c.Name), turned(c.ID, "_"))
	if head, _, found := strings.Cut(bracketless(c.Name), ","); found && c.Form != "cover" {
		out = append(out, strings.TrimSpace(head))
	}
	return append(out, shortly[c.ID]...)
}

// shortly are words by which a crop is meant when nothing is said beside them. A
// butternut that is picked is a squash; the nut of that name is gathered.
var shortly = map[string][]string{"winter_squash": {"squash", "butternut"}}

// wordings are ways to say a name of the tables: "Beans, kidney, raw" is also
// "kidney Beans", and what stands in brackets is a name of its own.
func wordings(name string) []string {
	bare := bracketless(name)
	out := []string{bare, turned(bare, ",")}
	if _, in, found := strings.Cut(name, "("); found {
		in, _, _ = strings.Cut(in, ")")
		for _, w := range strings.Split(in, ",") {
			out = append(out, strings.TrimSpace(w))
		}
	}
	return out
}

func bracketless(s string) string {
	before, rest, found := strings.Cut(s, "(")
	if !found {
		return s
	}
	_, after, _ := strings.Cut(rest, ")")
	return strings.Join(strings.Fields(strings.ReplaceAll(before+after, " ,", ",")), " ")
}

// turned puts the second part of a name first: "bean_kidney" is "kidney bean".
func turned(name, sep string) string {
	p := strings.Split(name, sep)
	if len(p) < 2 {
		return name
	}
	return strings.TrimSpace(p[1]) + " " + strings.TrimSpace(p[0])
}

// products are the words for what the stead's own animals give, by food: eggs
// are hens' eggs where there are hens.
func products(st *stead.Stead, tab *data.Tables) map[string][]string {
	out := map[string][]string{}
	take := func(kind string) {
		if a, ok := tab.Animal(kind); ok {
			first, _, _ := strings.Cut(a.Product, ",")
			out[a.Food] = append(out[a.Food], first)
		}
	}
	for _, f := range st.Flocks {
		take(f.Kind)
	}
	for _, h := range st.Hives {
		take(h.Kind)
	}
	return out
}

// animals names flocks by what they are and hives by number.
func (l lexicon) animals(st *stead.Stead, tab *data.Tables) {
	for _, f := range st.Flocks {
		n := Name{ID: birds(f.Kind, tab), Also: []string{f.Kind}}
		if l.at(Flock, n.ID) >= 0 {
			n = Name{ID: n.ID + " " + f.Kind}
		}
		l.add(Flock, n)
	}
	l.alone(Flock, "flock", "birds", "poultry", "hens", "chickens", "chooks")
	if len(st.Hives) > 0 {
		l.add(Hive, Name{ID: "hives", Also: []string{"hive", "bees", "apiary"}})
	}
}

// birds is the everyday word for a kind of animal.
func birds(kind string, tab *data.Tables) string {
	a, ok := tab.Animal(kind)
	if !ok {
		return kind
	}
	species := strings.ToLower(a.Species)
	for _, w := range []string{"hen", "duck", "chicken", "quail", "goat", "rabbit", "guinea pig", "catfish", "tilapia"} {
		if strings.Contains(species, w) {
			return w + "s"
		}
	}
	return a.Species
}

// matter names what is fed, spread, burnt and done.
func (l lexicon) matter(tab *data.Tables) {
	for _, f := range tab.DigesterFeeds {
		l.add(Feed, Name{ID: f.ID, Also: append([]string{f.Name}, feedWords[f.ID]...)})
	}
	for _, m := range tab.CompostMaterials {
		if !slices.ContainsFunc(l[Feed], func(n Name) bool { return n.is(plain(m.ID)) }) {
			l.add(Feed, Name{ID: m.ID, Also: append(wordings(m.Name), turned(m.Name, " "))})
		}
	}
	l.add(Feed, Name{ID: "hen_feed", Also: []string{"feed", "chicken feed", "layers feed", "pellets", "mash", "bought feed"}})
	for _, s := range []struct {
		sort Sort
		said []Name
	}{{Fertiliser, fertilisers}, {Fuel, fuels}, {Treatment, treatments}, {Task, jobs}} {
		for _, n := range s.said {
			l.add(s.sort, n)
		}
	}
}

// feedWords are everyday words for rows of the table of digester feeds.
var feedWords = map[string][]string{
	"kitchen_scraps":    {"scraps", "kitchen waste", "peelings", "slops"},
	"vegetable_residue": {"garden waste", "weeds", "greens", "thinnings"},
	"fruit_waste":       {"windfalls", "pomace", "peel"},
	"cattle_dung":       {"cow dung", "cow manure"},
	"poultry":           {"hen droppings", "chicken droppings", "chicken manure"},
	"grass_fresh":       {"grass"},
	"leaves":            {"leaf"},
	"straw_wheat":       {"straw"},
}

var fertilisers = []Name{
	{ID: "urine", Also: []string{"diluted urine"}},
	{ID: "compost", Also: []string{"garden compost", "finished compost"}},
	{ID: "digestate", Also: []string{"effluent", "digester effluent", "slurry"}},
	{ID: "hen_litter", Also: []string{"hen droppings", "hen manure", "chicken manure", "litter"}},
	{ID: "manure", Also: []string{"dung", "cow manure", "horse manure"}},
	{ID: "ash", Also: []string{"wood ash", "ashes"}},
	{ID: "mulch", Also: []string{"straw", "leaves", "wood chips"}},
	{ID: "lime", Also: []string{"ground limestone", "chalk"}},
	{ID: "greywater", Also: []string{"washing water", "grey water", "graywater"}},
}

var fuels = []Name{
	{ID: "wood", Also: []string{"firewood", "logs", "sticks", "wood stove", "rocket stove"}},
	{ID: "bottle", Also: []string{"bottled gas", "propane", "butane", "gas bottle", "lpg"}},
	{ID: "biogas", Also: []string{"digester gas", "methane"}},
	{ID: "sun", Also: []string{"solar", "solar oven", "sun oven", "solar cooker", "sun box"}},
	{ID: "electric", Also: []string{"electricity", "electric ring", "current", "power"}},
}

var treatments = []Name{
	{ID: "filter", Also: []string{"filtered", "filtering", "cartridge"}},
	{ID: "boil", Also: []string{"boiled", "boiling"}},
	{ID: "chlorine", Also: []string{"bleach", "chlorinated", "drops"}},
	{ID: "sun", Also: []string{"sunlight", "sun bottles", "solar"}},
}

// jobs are tasks of the work table in the words people use for them, and others
// a household does.
var jobs = []Name{
	{ID: "garden", Also: []string{"gardening", "beds"}}, {ID: "weed", Also: []string{"weeding"}}, {ID: "hoe", Also: []string{"hoeing"}},
	{ID: "dig", Also: []string{"digging", "forking"}}, {ID: "sow", Also: []string{"sowing"}}, {ID: "transplant", Also: []string{"transplanting", "planting"}},
	{ID: "mulch", Also: []string{"mulching"}}, {ID: "reap", Also: []string{"reaping"}}, {ID: "thresh", Also: []string{"threshing"}},
	{ID: "picking", Also: []string{"harvesting", "harvest"}}, {ID: "pruning", Also: []string{"prune"}}, {ID: "watering", Also: []string{"irrigating"}},
	{ID: "hens", Also: []string{"chickens", "henhouse"}}, {ID: "hive", Also: []string{"bees", "beekeeping", "hives"}},
	{ID: "digester"}, {ID: "compost", Also: []string{"composting"}}, {ID: "toilet"}, {ID: "drum", Also: []string{"drums"}},
	{ID: "cook", Also: []string{"cooking"}}, {ID: "wash_up", Also: []string{"washing up", "dishes"}}, {ID: "laundry", Also: []string{"washing"}},
	{ID: "putting up", Also: []string{"canning", "preserving", "drying"}}, {ID: "foraging", Also: []string{"gathering"}},
	{ID: "split_wood", Also: []string{"splitting wood", "chopping wood"}}, {ID: "firewood_trip", Also: []string{"firewood", "fetching wood"}},
	{ID: "hauling", Also: []string{"haul", "trailer"}}, {ID: "mending", Also: []string{"repairs", "fixing"}}, {ID: "building"},
	{ID: "fencing", Also: []string{"fence", "fences"}}, {ID: "mowing"}, {ID: "cleaning"},
}
