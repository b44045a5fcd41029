package stead

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// sound is five lines that read without fault; the cases go on from line 6.
const sound = `place.latitude = 29.7
people = 2
roof = [{ area = "60 m2", to = "tote 1" }]
tank = [{ name = "tote 1", holds = "1000 L" }, { name = "tote 2", holds = "1000 L" }]
bed = [{ name = "north", area = "50 m2" }]
`

// A fault is a text and every line its error must print.
type fault struct{ name, text, want string }

func checkFaults(t *testing.T, faults []fault) {
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			s, err := Read("my.toml", []byte(f.text))
			if err == nil {
				t.Fatalf("no error; read as %+v", s)
			}
			want := "my.toml:\n" + strings.TrimPrefix(f.want, "\n")
			if err.Error() != want {
				t.Errorf("got\n%s\nwant\n%s", err, want)
			}
		})
	}
}

func TestSoundTextReads(t *testing.T) {
	if _, err := Read("sound", []byte(sound)); err != nil {
		t.Fatal(err)
	}
}

func TestFaultsOfTheText(t *testing.T) {
	checkFaults(t, []fault{
		{"empty", "", `nothing is described; four lines are enough: place.latitude, people, roof and bed`},
		{"only a comment", "# nothing yet\n", `nothing is described; four lines are enough: place.latitude, people, roof and bed`},
		{"value without quotes", sound + "[[tank]]\nholds = 275 gal\n",
			`line 7: column 13: expected newline but got U+0067 'g'; put the value in quotes: holds = "275 gal"`},
		{"no equals sign", sound + "[[tank]]\nholds \"275 gal\"\n",
			`line 7: column 7: expected '=' after key; write key = value, such as holds = "1000 L"`},
		{"two faults in one text", sound + "[[tank]]\nholds = 275 gal\n[[bed]]\narea = \"x\"\n", `
line 7: column 13: expected newline but got U+0067 'g'; put the value in quotes: holds = "275 gal"
line 9, bed 2: area = "x": does not start with a number; write 2.5 m2 or 6 acre`},
		{"quotes left open", sound + "[[tank]]\nholds = \"275 gal\n",
			`line 7: column 17: basic strings cannot have new lines; close the quotes`},
		{"key given twice", sound + "people = 3\n", `line 6: people: already given on line 2; keep one of the two`},
		{"list begun two ways", sound + "[roof]\narea = 5\n",
			`line 6, roof: already begun on line 3; write [[roof]] in double brackets at the head of each`},
		{"unknown part", sound + "[[tnak]]\nholds = 1\n", `line 6, tnak: no such part; meant tank?`},
		{"unknown key", sound + "[[tank]]\nhods = 1\n", `
line 6, tank 3: holds: missing; write holds = "1000 L"
line 7, tank 3: hods = 1: no such key in tank 3; meant holds?`},
		{"a number for a part", sound + "freezer = 3\n",
			`line 6: freezer = 3: must be a table; write [[freezer]] on a line of its own and the keys under it`},
		{"text over a megabyte", strings.Repeat("# long\n", 1<<18), `the text is 1.8 MB; a description holds at most 1 MB, so leave records to the book`},
	})
}

func TestFaultsOfValues(t *testing.T) {
	checkFaults(t, []fault{
		{"misspelt unit", strings.Repeat("\n", 6) + sound + "[[tank]]\nname = \"tote 3\"\nholds = \"275 gsl\"\n",
			`line 14, tank "tote 3": holds = "275 gsl": not a unit of volume; meant 275 gal (1,041 L)?`},
		{"negative tank", sound + "[[tank]]\nholds = \"-20 L\"\n", `line 7, tank 3: holds = "-20 L": too small; write 1 L or more`},
		{"latitude 95", "place.latitude = 95\npeople = 1\n", `line 1, place: latitude = 95: too large; write 90° or less`},
		{"latitude west", "place.latitude = \"21 W\"\npeople = 1\n",
			`line 1, place: latitude = "21 W": a latitude is north or south, a longitude east or west; check the letter`},
		{"no latitude", "people = 1\n", `place: latitude: missing; write latitude = 40.1`},
		{"person without age", "place.latitude = 5\nperson = [{ sex = \"female\" }]\n", `line 2, person 1: age: missing; write age = 35`},
		{"unknown sex", "place.latitude = 5\nperson = [{ sex = \"femal\", age = 3 }]\n",
			`line 2, person 1: sex = "femal": not one of female, male; meant "female"?`},
		{"no people", "place.latitude = 5\npeople = 0\n", `line 2: people = 0: must be a whole number from 1 to 50, without quotes`},
		{"people two ways", "place.latitude = 5\npeople = 1\nperson = [{ sex = \"female\", age = 3 }]\n",
			`line 2: people = 1: described one by one as well; leave out people, or every person`},
		{"nobody", "place.latitude = 5\n", `no person is described; write people = 2, or a [[person]] for each`},
		{"truth in quotes", sound + "[[bed]]\narea = 5\nirrigated = \"yes\"\n",
			`line 8, bed 2: irrigated = "yes": must be true or false, without quotes`},
		{"truth for an amount", sound + "[[bed]]\narea = true\n", `line 7, bed 2: area = true: must be an amount, such as "12 m2"`},
		{"not a number", sound + "[[bed]]\narea = nan\n", `line 7, bed 2: area = nan: must be a plain number, such as "12 m2"`},
		{"a part of a drum", sound + "[[toilet]]\ndrums = 1.5\n", `line 7, toilet 1: drums = 1.5: must be a whole number, without quotes`},
		{"no such day", sound + "[stay]\nfrom = 2026-02-30\n",
			`line 7, stay: from = 2026-02-30: "2026-02-30" is not a date: write year-month-day, such as 2026-11-01`},
		{"form of a lot", sound + "[[lot]]\nfood = \"carrot\"\nform = \"frozn\"\nmass = 1\n",
			`line 8, lot 1: form = "frozn": not one of fresh, dry, dried, jarred, frozen, fermented; meant "frozen"?`},
	})
}

func TestFaultsBetweenParts(t *testing.T) {
	months := func(v string) string { return "[" + strings.TrimSuffix(strings.Repeat(v+", ", 12), ", ") + "]" }
	checkFaults(t, []fault{
		{"name given twice", sound + "[[tank]]\nname = \"tote 2\"\nholds = \"275 gal\"\n",
			`line 7, tank "tote 2": name = "tote 2": already the name of tank 2; names in a part must differ`},
		{"beds larger than the plot", sound + "place.plot = \"60 m2\"\n[[bed]]\nname = \"south\"\narea = \"20 m2\"\n",
			`line 9, bed "south": area = "20 m2": with it the beds and trees cover 70 m2, and the plot is 60 m2; write less, or correct place.plot`},
		{"roof to no tank", sound + "[[roof]]\narea = \"10 m2\"\nto = \"toat 1\"\n", `line 8, roof 2: to = "toat 1": no tank "toat 1"; meant tote 1?`},
		{"roof and no tank at all", "place.latitude = 5\npeople = 1\nroof = [{ area = 60 }]\n",
			`line 3, roof 1: sheds to no tank; write tank = "1000 L" in it, or a [[tank]]`},
		{"use from no tank", sound + "[[use]]\nname = \"drinking\"\nper_person = 3\nfrom = \"well\"\n",
			`line 9, use "drinking": from = "well": no tank "well"; there are tote 1, tote 2`},
		{"bed from no tank", sound + "[[bed]]\narea = 5\nfrom = \"tote\"\n", `line 8, bed 2: from = "tote": no tank "tote"; meant tote 1?`},
		{"use without litres", sound + "[[use]]\nname = \"shower\"\n",
			`line 6, use "shower": per_person: missing; write per_person = "4 L/day", or per_day for all together`},
		{"overflow to nothing", sound + "[[tank]]\nholds = \"100 L\"\noverflow = \"pond\"\n",
			`line 8, tank 3: overflow = "pond": no tank, bed or tree "pond"; there are tote 1, tote 2, tank 3, north, away`},
		{"overflow to itself", sound + "[[tank]]\nname = \"a\"\nholds = \"100 L\"\noverflow = \"a\"\n",
			`line 9, tank "a": overflow = "a": spills into itself; write another tank, a bed, a tree or "away"`},
		{"overflow in a ring", sound + "[[tank]]\nname = \"a\"\nholds = 100\noverflow = \"b\"\n[[tank]]\nname = \"b\"\nholds = 100\noverflow = \"a\"\n",
			`line 9, tank "a": overflow = "b": goes round in a ring (a, b, a); let one of them spill to a bed, a tree or "away"`},
		{"joined tanks spill two ways", sound + "[[tank]]\ngroup = \"g\"\nholds = 10\noverflow = \"north\"\n[[tank]]\ngroup = \"g\"\nholds = 10\noverflow = \"tote 1\"\n",
			`line 13, tank 4: overflow = "tote 1": joined tanks spill to one place, and another of this group spills to north; write that`},
		{"level and dead above holds", sound + "[[tank]]\nholds = \"100 L\"\nlevel = \"150 L\"\ndead = \"200 L\"\n", `
line 8, tank 3: level = "150 L": more than the tank holds, 100 L; write less, or correct holds
line 9, tank 3: dead = "200 L": more than the tank holds, 100 L; write less, or correct holds`},
		{"planting on no bed", sound + "[[planting]]\nbed = \"nroth\"\ncrop = \"kale\"\nsow = \"1 Aug\"\n",
			`line 7, planting 1: bed = "nroth": no bed "nroth"; meant north?`},
		{"unknown crop", sound + "[[planting]]\nbed = \"north\"\ncrop = \"kail\"\nsow = \"1 Aug\"\n",
			`line 8, planting 1: crop = "kail": no crop "kail"; meant kale?`},
		{"no sowing date", sound + "[[planting]]\nbed = \"north\"\ncrop = \"kale\"\n",
			`line 6, planting 1: sow: missing; write sow = "10 Apr" for every year, or a whole date for one`},
		{"no such recurring day", sound + "[[planting]]\nbed = \"north\"\ncrop = \"kale\"\nsow = \"32 Aug\"\n",
			`line 9, planting 1: sow = "32 Aug": "32 Aug" is not a date: write 2026-11-05, or 5 Nov for every year`},
		{"more than the bed", sound + "[[planting]]\nbed = \"north\"\ncrop = \"kale\"\nsow = \"1 Aug\"\narea = \"70 m2\"\n",
			`
line 10, planting 1: area = "70 m2": more than the bed's 50 m2; write less, or correct the bed`},
		{"bed too full at one time", sound + "[[planting]]\nbed = \"north\"\ncrop = \"kale\"\nsow = \"1 Aug\"\narea = \"30 m2\"\n[[planting]]\nbed = \"north\"\ncrop = \"carrot\"\nsow = \"10 Aug\"\narea = \"30 m2\"\n",
			`line 15, planting 2: area = "30 m2": bed "north": on 10 Aug its crops want 60 m2 of its 50; sow less, or later`},
		{"normals of two months", sound + "[[place.normals]]\nrain = [1, 2]\nwet_days = " + months("1") + "\ntmin = " + months("1") + "\ntmax = " + months("2") + "\n",
			`line 7, place, normals 1: rain = [1, 2]: has 2 values; write twelve, January first`},
		{"minimum above maximum", sound + "[place.normals]\nrain = " + months("1") + "\nwet_days = " + months("1") + "\ntmin = [1, 1, 1, 1, 9, 1, 1, 1, 1, 1, 1, 1]\ntmax = " + months("2") + "\n",
			`line 9, place, normals 1: tmin = [1, 1, 1, 1, 9, 1, 1, 1, 1, 1, 1, 1]: May: minimum 9 above maximum 2; check that the two rows are not swapped`},
		{"wet days over the month", sound + "[place.normals]\nrain = " + months("1") + "\nwet_days = [1, 30, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]\ntmin = " + months("1") + "\ntmax = " + months("2") + "\n",
			`line 8, place, normals 1: wet_days = [1, 30, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]: February: 30 wet days; the month has 29`},
		{"half a fire ban", "place.fire_ban = [\"15 Jun\"]\n" + sound,
			`line 1, place: fire_ban = ["15 Jun"]: needs pairs of first and last day, such as ["15 Jun", "30 Sep"]`},
		{"unknown soil", "place.soil = \"lome\"\n" + sound, `line 1, place: soil = "lome": no soil "lome"; meant loam?`},
		{"own food like none", sound + "[[food]]\nname = \"bread\"\nlike = \"oat\"\n", `line 8, food "bread": like = "oat": no food "oat"; meant oats?`},
		{"own food of a table's name", sound + "[[food]]\nname = \"oats\"\nlike = \"rye\"\n", `line 7, food "oats": name = "oats": the tables have it already; give yours another name`},
		{"own food with no unit", sound + "[[food]]\nname = \"bread\"\nlike = \"oats\"\nper_100g = [\"energy 230\"]\n", `line 9, food "bread": per_100g = ["energy 230"]: "energy 230": write a nutrient, an amount and its unit, such as "iron 2 mg"`},
		{"own food in a wrong unit", sound + "[[food]]\nname = \"bread\"\nlike = \"oats\"\nper_100g = [\"energy 230 g\"]\n", `line 9, food "bread": per_100g = ["energy 230 g"]: "energy 230 g": energy is counted in kcal, kJ or MJ`},
		{"own food of a misspelt nutrient", sound + "[[food]]\nname = \"bread\"\nlike = \"oats\"\nper_100g = [\"protien 8 g\"]\n", `line 9, food "bread": per_100g = ["protien 8 g"]: "protien 8 g": no nutrient "protien"; meant protein?`},
		{"piece of no food", sound + "[[piece]]\nfood = \"walnut\"\nweighs = \"30 g\"\n", `line 7, piece 1: food = "walnut": no food "walnut"; meant walnut_black?`},
		{"two pieces of a food", sound + "[[piece]]\nfood = \"garlic\"\nweighs = \"60 g\"\n[[piece]]\nfood = \"garlic\"\nweighs = \"50 g\"\n",
			`line 10, piece 2: food = "garlic": piece 1 is of it already; write one for a food, or say what each is called`},
		{"ration of no food", sound + "[[ration]]\nfood = \"walnut\"\nmost = \"30 g/day\"\n", `line 7, ration 1: food = "walnut": no food "walnut"; meant walnut_black?`},
		{"two rations of a food", sound + "[[ration]]\nfood = \"almond\"\nmost = \"30 g/day\"\n[[ration]]\nfood = \"almond\"\nmost = \"20 g/day\"\n",
			`line 10, ration 2: food = "almond": ration 1 is of it already; write one for a food`},
		{"own food of more than itself", sound + "[[food]]\nname = \"bread\"\nlike = \"oats\"\nper_100g = [\"protein 80 g\"]\n", `line 9, food "bread": per_100g = ["protein 80 g"]: 153 g of protein, fat and carbohydrate in 100 g: they can't be more than the food; write all three`},
		{"own food beyond fat", sound + "[[food]]\nname = \"bread\"\nlike = \"oats\"\nper_100g = [\"energy 2000 kcal\"]\n", `line 9, food "bread": per_100g = ["energy 2000 kcal"]: 2000 kcal in 100 g: pure fat has 900`},
		{"poison in store", sound + "[[lot]]\nfood = \"poke_shoots\"\nmass = \"2 kg\"\n",
			`line 7, lot 1: food = "poke_shoots": root, berry and grown leaf poison; even the boiled shoot has harmed; not eaten: no home way of boiling is sure. Leave it out (University of Pennsylvania on Phytolacca; Canadian poisonous plants system)`},
		{"own food like poison", sound + "[[food]]\nname = \"greens\"\nlike = \"poke_shoots\"\n",
			`line 8, food "greens": like = "poke_shoots": root, berry and grown leaf poison; even the boiled shoot has harmed; not eaten: no home way of boiling is sure. Leave it out (University of Pennsylvania on Phytolacca; Canadian poisonous plants system)`},
		{"unknown lot", sound + "[[lot]]\nfood = \"carot\"\nmass = \"2 kg\"\n", `line 7, lot 1: food = "carot": no food "carot"; meant carrot?`},
		{"frozen and no freezer", sound + "[[lot]]\nfood = \"carrot\"\nform = \"frozen\"\nmass = \"2 kg\"\n",
			`line 8, lot 1: form = "frozen": frozen, and no freezer is described; write a [[freezer]]`},
		{"unknown wild food and animal", sound + "[[forage]]\nfood = \"netle\"\nmost = \"4 kg\"\n[[flock]]\nkind = \"hen_layr\"\ncount = 2\n", `
line 7, forage 1: food = "netle": no wild food "netle"; meant nettle?
line 10, flock 1: kind = "hen_layr": no animal "hen_layr"; meant hen_layer?`},
		{"more drums than drums", sound + "[[toilet]]\ndrums = 1\n[[drum]]\n[[drum]]\n",
			`line 9, drum 2: one more than the toilet's 1 drum; raise drums in [[toilet]], or list fewer`},
		{"a second toilet", sound + "[[toilet]]\ndrums = 1\n[[toilet]]\ndrums = 2\n",
			`line 8, toilet 2: a second one is not reckoned with; describe one [[toilet]] with the drums, cover and cans of all together`},
		{"a second lamp", sound + "[[light]]\npanel = \"5 W\"\nbattery = \"20 Wh\"\nload = \"2 W\"\n[[light]]\npanel = \"5 W\"\nbattery = \"20 Wh\"\nload = \"2 W\"\n",
			`line 10, light 2: a second one is not reckoned with; describe one [[light]] with the panels, batteries and lamps of all together`},
		{"drums to a bed", sound + "[[toilet]]\ndrum_to = [\"north\"]\n",
			`line 7, toilet 1: drum_to = ["north"]: "north" is a bed; toilet compost goes to trees only`},
		{"stay ends before it begins", sound + "[stay]\nfrom = 2026-11-01\nto = 2025-11-01\n",
			`line 8, stay: to = 2025-11-01: before the stay begins; write a date after 2026-11-01`},
		{"fetched above feed", sound + "[[digester]]\nliquid = 700\nbag = 400\nfeed = \"2 kg/day\"\nfetched = \"3 kg/day\"\n",
			`line 10, digester 1: fetched = "3 kg/day": more than the whole feed, 2 kg a day; feed counts own and fetched together`},
	})
}

func TestErrorsCanBeTakenApart(t *testing.T) {
	_, err := Read("my.toml", []byte(sound+"[[tank]]\nholds = \"275 gsl\"\n"))
	var errs Errors
	if !errors.As(err, &errs) || len(errs) != 1 {
		t.Fatalf("%v is not one problem", err)
	}
	want := Problem{7, "tank 3", "holds", `"275 gsl"`, "not a unit of volume; meant 275 gal (1,041 L)?"}
	if errs[0] != want {
		t.Errorf("got %+v, want %+v", errs[0], want)
	}
}

func TestCheckFindsFaultsOfASteadInHand(t *testing.T) {
	s, err := Read("sound", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Check(); err != nil {
		t.Errorf("sound: %v", err)
	}
	s.Roofs[0].To = "tote 9"
	if err := s.Check(); err == nil || err.Error() != `roof 1: to: no tank "tote 9"; meant tote 1?` {
		t.Errorf("got %v", err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(sound))
	for _, s := range []string{"a = [[[{b=1}]]]", "[a.b]\n[[a.b]]", "place = 3", "a.b = 1\na = 2", "people = 99999999999", "roof = [{tank=[1]}]", "roof = 3\ntank = {}", "x = 1979-05-27T07:32:00Z", "\xff", "[[place.normals]]\nrain=1"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Read("fuzz", text)
		var errs Errors
		switch {
		case err == nil && s == nil, err != nil && (s != nil || !errors.As(err, &errs)):
			t.Fatalf("s %v, err %v", s, err)
		case err == nil:
			var b bytes.Buffer
			if err := s.Write(&b); err != nil {
				t.Fatal(err)
			}
			if _, err := Read("print", b.Bytes()); err != nil {
				t.Fatalf("its own print does not read: %v\n%s", err, b.String())
			}
		}
		for _, p := range errs {
			if p.Mend == "" {
				t.Errorf("no mend in %+v", p)
			}
		}
	})
}
