package diet

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"evenstead/data"
)

type check struct {
	source, name   string
	got, want, tol float64
}

func TestPublished(t *testing.T) {
	var all []check
	for _, of := range []func(*testing.T) []check{
		nasem2023, iom2005, iom2005Table, fao2001, mifflin1990, work, equivalents, rations, stigler, needs, aloneOnOneFood, cooked,
	} {
		all = append(all, of(t)...)
	}
	for _, c := range all {
		t.Run(c.source+"/"+c.name, func(t *testing.T) {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("got %.6g, printed %.6g ± %g", c.got, c.want, c.tol)
			}
		})
	}
}

// kcalOf returns kcal a day; a refused person is NaN, which no case accepts.
func kcalOf(eer func(Person) (float64, error), p Person) float64 {
	mj, err := eer(p)
	if err != nil {
		return math.NaN()
	}
	return mj / kcal
}

var levels = [4]string{Inactive, LowActive, Active, VeryActive}

// nasem2023 has a printed result for the first man and the third woman; the
// rest are computed from the published coefficients.
func nasem2023(*testing.T) []check {
	people := []struct {
		name string
		p    Person
		want [4]float64
	}{
		{"man 30 y 170 cm 70 kg", Person{Sex: "male", Age: 30, Height: 1.70, Mass: 70}, [4]float64{2520.17, 2713.37, 2902.02, 3148.62}},
		{"woman 30 y 170 cm 70 kg", Person{Sex: "female", Age: 30, Height: 1.70, Mass: 70}, [4]float64{2166.70, 2337.27, 2475.55, 2722.63}},
		{"boy 10 y 138 cm 32 kg", Person{Sex: "male", Age: 10, Height: 1.38, Mass: 32}, [4]float64{1830.47, 1919.44, 2075.41, 2256.49}},
		{"girl 7 y 121 cm 23 kg", Person{Sex: "female", Age: 7, Height: 1.21, Mass: 23}, [4]float64{1327.48, 1445.67, 1512.06, 1682.03}},
	}
	printed := map[string]bool{"man 30 y 170 cm 70 kg/inactive": true, "woman 30 y 170 cm 70 kg/active": true}
	var out []check
	for _, q := range people {
		for i, l := range levels {
			name := q.name + "/" + l
			source := "NASEM 2023, EER, computed"
			if printed[name] {
				source = "NASEM 2023, EER, worked example as transcribed"
			}
			p := q.p
			p.Activity = l
			out = append(out, check{source, name, kcalOf(EER2023, p), q.want[i], 0.0051})
		}
	}
	return out
}

func iom2005(*testing.T) []check {
	boy := Person{Sex: "male", Age: 16, Height: 1.74, Mass: 61, Activity: Active}
	man := Person{Sex: "male", Age: 40, Height: 1.74, Mass: 70, Activity: Inactive}
	woman := Person{Sex: "female", Age: 40, Height: 1.65, Mass: 60, Activity: Inactive}
	decade := func(p Person) float64 {
		old := p
		old.Age += 10
		return (kcalOf(EER2005, p) - kcalOf(EER2005, old)) / 10
	}
	return []check{
		// Printed for the whole group of 14-18 years; 3155 at 16.
		{"IOM 2005, reference boy 14-18", "active", kcalOf(EER2005, boy), 3152, 3.5},
		{"IOM 2005, computed", "boy of 16 active", kcalOf(EER2005, boy), 3155, 0.5},
		{"IOM 2005, note to the table by height", "men, kcal per year of age", decade(man), 10, 0.5},
		{"IOM 2005, note to the table by height", "women, kcal per year of age", decade(woman), 7, 0.5},
	}
}

// iom2005Table is the printed table at age 30 for body mass indices of 18.5 and
// 24.99. Its masses are rounded in print, which moves a cell by up to 1.4 kcal.
func iom2005Table(*testing.T) []check {
	blocks := []struct {
		height, low, high float64
		cells             [4][4]float64 // by activity: men low, men high, women low, women high
	}{
		{1.50, 41.6, 56.2, [4][4]float64{
			{1848, 2080, 1625, 1762}, {2009, 2267, 1803, 1956}, {2215, 2506, 2025, 2198}, {2554, 2898, 2291, 2489}}},
		{1.65, 50.4, 68.0, [4][4]float64{
			{2068, 2349, 1816, 1982}, {2254, 2566, 2016, 2202}, {2490, 2842, 2267, 2477}, {2880, 3296, 2567, 2807}}},
	}
	var out []check
	for _, b := range blocks {
		for l, row := range b.cells {
			for i, want := range row {
				p := Person{Sex: []string{"male", "female"}[i/2], Age: 30, Height: b.height, Mass: []float64{b.low, b.high}[i%2], Activity: levels[l]}
				name := fmt.Sprintf("%s %.2f m %.1f kg %s", p.Sex, p.Height, p.Mass, p.Activity)
				out = append(out, check{"IOM 2005, table at 30 years by height", name, kcalOf(EER2005, p), want, 1.4})
			}
		}
	}
	return out
}

func fao2001(*testing.T) []check {
	bmr := func(sex string, age, kg float64) float64 {
		mj, err := BMRSchofield(Person{Sex: sex, Age: age, Height: 1.7, Mass: kg, Activity: Active})
		if err != nil {
			return math.NaN()
		}
		return mj
	}
	woman := bmr("female", 25, 55)
	return []check{
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, BMR MJ", woman, 5.45, 0.005},
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, BMR kcal", woman / kcal, 1302, 0.5},
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, need at 1.85, MJ", 1.85 * woman, 10.08, 0.01},
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, need at 1.85, kcal", 1.85 * woman / kcal, 2410, 5},
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, need in kJ/kg", 1000 * 1.85 * woman / 55, 183, 0.5},
		{"FAO/WHO/UNU 2004, 5.4 example", "woman 55 kg, need in kcal/kg", 1.85 * woman / 55 / kcal, 44, 0.5},
		// The example rounds 15.057 to 15.1 per kg.
		{"FAO/WHO/UNU 2004 as worked by others", "man 20 y 60 kg, BMR kcal", bmr("male", 20, 60) / kcal, 1598, 60 * 0.043},
		// The report multiplies a rounded BMR of 7.30 MJ.
		{"FAO/WHO/UNU 2004, vigorous farm day", "man 70 kg at 2.25, MJ", 2.25 * bmr("male", 22, 70), 16.42, 0.02},
	}
}

func mifflin1990(*testing.T) []check {
	woman := kcalOf(RestingMifflin, Person{Sex: "female", Age: 45, Height: 1.651, Mass: 75, Activity: Inactive})
	return []check{
		{"Mifflin and St Jeor 1990, example", "woman 45 y 75 kg 165.1 cm", woman, 1396, 0.5},
		{"Mifflin and St Jeor 1990, example", "times 1.2", 1.2 * woman, 1675, 0.5},
		{"Mifflin and St Jeor 1990, example", "times 1.375", 1.375 * woman, 1920, 1},
	}
}

func work(*testing.T) []check {
	return []check{
		{"Compendium 2011, computed", "digging 5.0 MET 70 kg 2 h, gross kcal", Exertion(5, 70, 2) / kcal, 700, 1e-9},
		{"Compendium 2011, computed", "digging 5.0 MET 70 kg 2 h, above rest kcal", Extra(5, 70, 2) / kcal, 560, 1e-9},
	}
}

func equivalents(*testing.T) []check {
	return []check{
		{"IOM 1998; USDA SR27, computed", "lentil, NE mg/100 g", data.NiacinEquivalents(2.605, 0.232), 6.5, 0.05},
		{"IOM 1998; USDA SR27, computed", "egg, NE mg/100 g", data.NiacinEquivalents(0.075, 0.167), 2.9, 0.05},
		{"IOM 1998, p. 28", "60 mg of tryptophan, NE mg", data.NiacinEquivalents(0, 0.060), 1, 1e-12},
	}
}

// rations are published day plans whose shares of energy are known or bounded.
func rations(*testing.T) []check {
	dash := Shares(2193*kcal, 95, 70, 324)
	unhcr := Shares(2113*kcal, 58, 43, 0)
	return []check{
		{"DASH menu, day 2; IOM 2005 AMDR", "fat between 20 and 35 %", dash.Fat, 0.275, 0.075},
		{"DASH menu, day 2; IOM 2005 AMDR", "protein between 10 and 35 %", dash.Protein, 0.225, 0.125},
		{"DASH menu, day 2; IOM 2005 AMDR", "carbohydrate between 45 and 65 %", dash.Carbohydrate, 0.55, 0.10},
		// Fibre, 38 g, stands in the carbohydrate and gives about 2 of its 4 kcal/g.
		{"DASH menu, day 2", "shares add to the printed energy", dash.Fat + dash.Protein + dash.Carbohydrate - 2*38/2193., 1, 0.02},
		{"UNHCR/WFP 1997, ration from memory", "protein 10 to 12 %", unhcr.Protein, 0.11, 0.01},
		{"UNHCR/WFP 1997, ration from memory", "fat at least 17 %", math.Min(unhcr.Fat, 0.17), 0.17, 1e-12},
	}
}

// stigler eats the optimum diet of 1939, one dollar's worth as a kg, and asks
// the ordinary code whether it meets the nine minima.
func stigler(t *testing.T) []check {
	s := readStigler(t)
	in := NewIntake(len(s.names))
	year := map[string]float64{}
	for _, f := range s.foods {
		in.Add(f.dollars, f.content)
		if f.dollars > 0 {
			year[f.name] = f.dollars * 365.25 / (f.cents / 100)
		}
	}
	const source = "Stigler 1945, table A"
	out := []check{
		{source, "cost of 365 days, dollars", 365 * in.Mass, 39.66, 0.005},
		{source, "cost of 365.25 days, dollars", 365.25 * in.Mass, 39.69, 0.005},
		{source, "wheat flour, units of 10 lb a year", year["Wheat Flour (Enriched)"], 29.95, 0.005},
		{source, "beef liver, lb a year", year["Liver (Beef)"], 2.58, 0.005},
		{source, "cabbage, lb a year", year["Cabbage"], 110.70, 0.005},
		{source, "spinach, lb a year", year["Spinach"], 22.58, 0.005},
		{source, "navy beans, lb a year", year["Navy Beans, Dried"], 377.81, 0.01},
	}
	slack := map[string]float64{"protein_g": 147.41, "iron_mg": 60.47, "thiamin_mg": 4.120, "niacin_mg": 27.32}
	tol := map[string]float64{"thiamin_mg": 0.0005}
	for i, name := range s.names {
		want, tolerance := s.minimum[i], 2e-5*s.minimum[i] // dollars are printed to 1e-8
		if v, loose := slack[name]; loose {
			want, tolerance = v, 0.005
			if tt, ok := tol[name]; ok {
				tolerance = tt
			}
		}
		out = append(out, check{source, "intake of " + name, in.Amount[i], want, tolerance})
	}
	return out
}

type stiglerFood struct {
	name           string
	cents, dollars float64
	content        []float64 // per dollar
}

type stiglerTable struct {
	names   []string
	minimum []float64
	foods   []stiglerFood
}

func readStigler(t *testing.T) stiglerTable {
	t.Helper()
	f, err := os.Open("testdata/stigler.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	num := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	table := stiglerTable{names: []string{
		"energy_mcal", "protein_g", "calcium_g", "iron_mg", "vit_a_kiu", "thiamin_mg", "riboflavin_mg", "niacin_mg", "vit_c_mg"}}
	for _, r := range rows {
		var v []float64
		if r[0] == "food" || r[0] == "minimum" {
			for _, cell := range r[5:14] {
				v = append(v, num(cell))
			}
		}
		switch r[0] {
		case "food":
			table.foods = append(table.foods, stiglerFood{r[1], num(r[3]), num(r[14]), v})
		case "minimum":
			table.minimum = v
		}
	}
	return table
}

func load(t *testing.T) *data.Tables {
	t.Helper()
	tables, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// at returns the place of a nutrient in the tables.
func at(t *testing.T, tables *data.Tables, id string) int {
	t.Helper()
	i := slices.IndexFunc(tables.Nutrients, func(n data.Nutrient) bool { return n.ID == id })
	if i < 0 {
		t.Fatalf("no nutrient %s", id)
	}
	return i
}

// needs are cells of the Dietary Reference Intakes, reached through a person.
func needs(t *testing.T) []check {
	tables := load(t)
	person := func(sex string, age, kg float64, state string) Person {
		return Person{Sex: sex, Age: age, Height: 1.65, Mass: kg, Activity: Active, State: state}
	}
	man, woman := person("male", 25, 70, None), person("female", 25, 57.5, None)
	var out []check
	for _, c := range []struct {
		source, who, nutrient string
		p                     Person
		want                  float64
	}{
		{"IOM 2000", "man 25", "vit_c_mg", man, 90},
		{"IOM 2001", "man 25", "vit_a_rae_ug", man, 900},
		{"IOM 2001", "man 25", "iron_mg", man, 8},
		{"IOM 2011", "man 25", "calcium_mg", man, 1000},
		{"IOM 2011", "man 25", "vit_d_ug", man, 15},
		{"NASEM 2019", "man 25", "sodium_mg", man, 1500},
		{"NASEM 2019", "man 25", "potassium_mg", man, 3400},
		{"IOM 1998", "man 25", "niacin_ne_mg", man, 16},
		{"IOM 2002/2005", "man 25, 70 kg", "protein_g", man, 56},
		{"IOM 2001", "woman 25", "iron_mg", woman, 18},
		{"IOM 1998", "woman 25", "choline_mg", woman, 425},
		{"IOM 2002/2005", "woman 25, 57.5 kg", "protein_g", woman, 46},
		{"NASEM 2019", "woman 25", "potassium_mg", woman, 2600},
		{"IOM 1998", "pregnant 25", "folate_dfe_ug", person("female", 25, 57.5, Pregnant), 600},
		{"IOM 2001", "pregnant 25", "iron_mg", person("female", 25, 57.5, Pregnant), 27},
		{"IOM 2001", "pregnant 25", "iodine_ug", person("female", 25, 57.5, Pregnant), 220},
		{"IOM 2002/2005", "pregnant 25, 57.5 kg", "protein_g", person("female", 25, 57.5, Pregnant), 71},
		{"IOM 2001", "lactating 25", "iodine_ug", person("female", 25, 57.5, Lactating), 290},
		{"IOM 2001", "lactating 25", "iron_mg", person("female", 25, 57.5, Lactating), 9},
		{"IOM 1998", "lactating 25", "folate_dfe_ug", person("female", 25, 57.5, Lactating), 500},
		{"IOM 2001", "girl 16", "iron_mg", person("female", 16.5, 55, None), 15},
		{"IOM 2011", "girl 16", "calcium_mg", person("female", 16.5, 55, None), 1300},
		{"IOM 2002/2005", "boy 16", "protein_g", person("male", 16.5, 61, None), 52},
		{"IOM 2002/2005", "child 2", "protein_g", person("male", 2, 12, None), 13},
		{"IOM 2002/2005", "child 2", "fibre_g", person("female", 2, 12, None), 19},
	} {
		need, err := NeedOf(c.p, tables.Nutrients, tables.Requirements)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, check{c.source, c.who + " " + c.nutrient, need.Target[at(t, tables, c.nutrient)], c.want, 1e-9})
	}
	need, err := NeedOf(man, tables.Nutrients, tables.Requirements)
	if err != nil {
		t.Fatal(err)
	}
	return append(out,
		check{"NASEM 2019", "man 25 sodium, lower risk of disease", need.Upper[at(t, tables, "sodium_mg")], 2300, 0},
		check{"IOM 2001", "man 25 iron, upper", need.Upper[at(t, tables, "iron_mg")], 45, 0},
		check{"IOM 2001", "man 25 manganese, upper", need.Upper[at(t, tables, "manganese_mg")], 11, 0})
}

// aloneOnOneFood eats 2,400 kcal of one staple: what it gives of fat and sodium.
func aloneOnOneFood(t *testing.T) []check {
	tables := load(t)
	amount := func(in Intake, id string) float64 { return in.Amount[at(t, tables, id)] }
	var out []check
	for _, c := range []struct {
		food                        string
		fatPct, protein, sodium, mg float64
	}{
		{"potato", 1, 63, 187, 24.3}, {"wheat_hard_red_winter", 4, 93, 15, 23.4}, {"rice_brown", 7, 52, 45, 9.5},
		{"lentil", 3, 168, 41, 44.4}, {"cassava", 2, 20, 210, 4.0}, {"oats", 16, 104, 12, 29.1},
	} {
		food, ok := tables.Food(c.food)
		if !ok {
			t.Fatalf("no food %s", c.food)
		}
		in := NewIntake(len(tables.Nutrients))
		in.Add(2400*kcal/food.Nutrient[at(t, tables, "energy_mj")], food.Nutrient)
		s := Shares(amount(in, "energy_mj"), amount(in, "protein_g"), amount(in, "fat_g"), amount(in, "carbohydrate_g"))
		const source = "USDA SR27, one staple at 2,400 kcal, computed"
		out = append(out,
			check{source, c.food + ", fat % of energy", 100 * s.Fat, c.fatPct, 0.5},
			check{source, c.food + ", protein g", amount(in, "protein_g"), c.protein, 0.5},
			check{source, c.food + ", sodium mg", amount(in, "sodium_mg"), c.sodium, 0.5},
			check{source, c.food + ", iron mg", amount(in, "iron_mg"), c.mg, 0.0501}) // 4.05 is printed as 4.0
	}
	return out
}

// cooked runs true retention of USDA release 6 through Retained.
func cooked(t *testing.T) []check {
	tables := load(t)
	var out []check
	for _, c := range []struct {
		group, method, nutrient string
		kept                    float64
	}{
		{"potato", "boiled_in_skin", "vit_c_mg", 0.75}, {"potato", "boiled_in_skin", "folate_dfe_ug", 0.90},
		{"pulse", "boiled_drained", "thiamin_mg", 0.60}, {"pulse", "boiled_drained", "folate_dfe_ug", 0.45},
		{"roots", "baked", "vit_c_mg", 0.75}, {"greens", "boiled_covered", "vit_c_mg", 0.55},
		{"greens", "boiled_water_used", "iron_mg", 1}, {"egg", "hard_cooked", "vit_b6_mg", 0.95},
		{"fruit", "stewed", "folate_dfe_ug", 0.50}, {"meal", "baked", "thiamin_mg", 0.80},
	} {
		i := slices.IndexFunc(tables.Retentions, func(r data.Retention) bool { return r.Group == c.group && r.Method == c.method })
		if i < 0 {
			t.Fatalf("no retention of %s %s", c.group, c.method)
		}
		raw := slices.Repeat([]float64{200}, len(tables.Nutrients))
		left := Retained(raw, tables.Nutrients, &tables.Retentions[i])
		out = append(out, check{"USDA retention factors release 6 (2007)", c.group + " " + c.method + " " + c.nutrient, left[at(t, tables, c.nutrient)] / 200, c.kept, 1e-12})
	}
	return out
}
