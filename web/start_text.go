package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"evenstead/day"
	"evenstead/engine"
	"evenstead/unit"
)

// A startText is the description that answers make: TOML that a person can read
// on and change.
type startText struct {
	strings.Builder
	words words
	a     url.Values
	upTo  int // so many questions have been answered
	sown  []engine.Opening
}

// describe writes the answers to the first so many questions. What was not asked
// yet is left to the defaults of a description.
func (s *site) describe(a url.Values, upTo int, today day.Day, sown []engine.Opening) string {
	t := &startText{words: s.words, a: a, upTo: upTo, sown: sown}
	t.say(t.words.say("start.toml.head", t.words.long(today)))
	t.key("name", quoted(orElse(a.Get("name"), t.words.say("start.name.usual"))), "")
	t.place()
	t.line("")
	t.line("[stay]")
	t.key("from", today.String(), t.words.say("start.toml.from"))
	t.people()
	for _, part := range []struct {
		after int
		write func()
	}{{4, t.water}, {6, t.beds}, {7, t.trees}, {8, t.lots}, {9, t.wastes}, {10, t.cooking}} {
		if upTo > part.after {
			part.write()
		}
	}
	return t.String()
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// quoted is a basic string of TOML; answers hold no control characters.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

func (t *startText) line(text string) { t.WriteString(text + "\n") }

// say writes a comment, a line for each sentence of the words.
func (t *startText) say(text string) {
	for l := range strings.SplitSeq(text, " | ") {
		t.line("# " + strings.ReplaceAll(l, nbsp, " "))
	}
}

// part begins a part with a comment above it; "" leaves it out.
func (t *startText) part(name, comment string) {
	t.line("")
	if comment != "" {
		t.say(comment)
	}
	t.line("[[" + name + "]]")
}

// key writes a key, and why its value is what it is.
func (t *startText) key(name, value, why string) {
	line := name + " = " + value
	if why != "" {
		line = fmt.Sprintf("%-28s # %s", line, strings.ReplaceAll(why, nbsp, " "))
	}
	t.line(line)
}

func (t *startText) place() {
	t.line("")
	t.line("[place]")
	t.key("latitude", quoted(t.a.Get("lat")+" "+t.a.Get("ns")), "")
	if elev := t.a.Get("elev"); elev != "" {
		t.key("elevation", quoted(elev), "")
	}
	if t.a.Get("weather") != "normals" || t.upTo <= 2 {
		t.say(t.words.say("start.toml.weather." + orElse(t.a.Get("weather"), "none")))
		return
	}
	n := normalsOf(t.a)
	t.line("")
	t.say(t.words.say("start.toml.normals." + orElse(t.a.Get("units"), "metric")))
	t.line("[place.normals]")
	for _, row := range []struct {
		key    string
		months [12]float64
		unit   string
	}{{"rain", n.Rain, "mm"}, {"wet_days", n.WetDays, t.words.say("start.toml.wet")}, {"tmin", n.TMin, "°C"}, {"tmax", n.TMax, "°C"}} {
		var list []string
		for _, v := range row.months {
			list = append(list, strconv.FormatFloat(v, 'f', -1, 64))
		}
		t.key(row.key, "["+strings.Join(list, ", ")+"]", row.unit)
	}
}

// referenceSize is the height, m, and mass, kg, that stand for an age: the
// reference sizes of Institute of Medicine 2002/2005, table 1-1 (from memory).
func referenceSize(sex string, age float64) (height, mass float64) {
	male := sex == "male"
	switch {
	case age < 1:
		return 0.71, 9
	case age < 4:
		return 0.86, 12
	case age < 9:
		return 1.15, 20
	case age < 14 && male:
		return 1.44, 36
	case age < 14:
		return 1.44, 37
	case age < 19 && male:
		return 1.74, 61
	case age < 19:
		return 1.63, 54
	case male:
		return 1.77, 70
	}
	return 1.63, 57
}

// people writes everyone, those not told of as women and men in turn.
func (t *startText) people() {
	n, _ := strconv.Atoi(t.a.Get("people"))
	listed, _ := peopleOf(t.a.Get("who"))
	if t.upTo <= 3 || n < 1 {
		n, listed = 2, nil
	}
	for i := range max(n, len(listed)) {
		p := startPerson{}
		if i < len(listed) {
			p = listed[i]
		}
		t.part("person", "")
		t.key("name", quoted(orElse(p.name, t.words.say("start.toml.person", count(i+1)))), "")
		t.person(p, i)
	}
}

func (t *startText) person(p startPerson, i int) {
	taken := t.words.say("start.toml.taken")
	why := ""
	if p.sex == "" {
		p.sex, why = []string{"female", "male"}[i%2], taken
	}
	t.key("sex", quoted(p.sex), why)
	if p.told {
		t.key("age", strconv.FormatFloat(p.age, 'f', -1, 64), "")
		height, mass := referenceSize(p.sex, p.age)
		t.key("height", quoted(strconv.FormatFloat(height*100, 'f', 0, 64)+" cm"), t.words.say("start.toml.size"))
		t.key("mass", quoted(strconv.FormatFloat(mass, 'f', -1, 64)+" kg"), t.words.say("start.toml.size"))
	} else {
		t.key("age", "35", taken)
	}
	if hours := t.a.Get("hours"); hours != "" && t.upTo > 11 {
		if p.told && p.age < leastWorker {
			hours = "0"
		}
		t.key("hours_week", hours, "")
	}
}

// leastWorker is the age in years from which the hours told count for a person
// (common practice).
const leastWorker = 14

// water writes the roof and the tanks it sheds to.
func (t *startText) water() {
	tanks, _ := strconv.Atoi(t.a.Get("tanks"))
	if t.upTo <= 5 {
		tanks = 1
	}
	roof, _ := unit.Parse(t.a.Get("roof"), unit.Area)
	switch {
	case roof == 0 && tanks == 0:
		return
	case tanks == 0:
		t.line("")
		t.say(t.words.say("start.toml.notank", t.a.Get("roof")))
		return
	case roof > 0:
		t.part("roof", "")
		t.key("name", quoted("roof"), "")
		t.key("area", quoted(t.a.Get("roof")), t.words.say("start.toml.plan"))
		t.key("surface", quoted(orElse(t.a.Get("surface"), "metal")), "")
		t.key("to", quoted("tank 1"), "")
	}
	t.tanks(tanks)
}

func (t *startText) tanks(n int) {
	size := t.a.Get("size")
	if t.upTo <= 5 {
		size = (&startField{usual: "1000 L", us: "275 gal"}).usualFor(t.a)
	}
	share, err := strconv.ParseFloat(t.a.Get("full"), 64)
	if err != nil || t.upTo <= 5 {
		share = 50
	}
	joined := t.a.Get("joined") != "no" || t.upTo <= 5
	for i := range n {
		comment := ""
		if i == 0 {
			comment = t.words.say(map[bool]string{true: "start.toml.joined", false: "start.toml.apart"}[joined || n == 1])
		}
		t.part("tank", comment)
		t.key("name", quoted(fmt.Sprintf("tank %d", i+1)), "")
		if joined && n > 1 {
			t.key("group", quoted("tanks"), "")
		}
		t.key("holds", quoted(size), "")
		t.key("level", quoted(shareOf(size, share/100)), t.words.say("start.toml.level", figure(share)))
		if !joined && i+1 < n {
			t.key("overflow", quoted(fmt.Sprintf("tank %d", i+2)), "")
		}
	}
}

// shareOf is a share of an amount, in the amount's own unit.
func shareOf(amount string, share float64) string {
	v, word, _, ok := unit.Split(amount)
	if !ok {
		return amount
	}
	return strings.TrimSpace(strconv.FormatFloat(round(v*share, 3), 'f', -1, 64) + " " + word)
}

// beds writes one bed for all the ground, parted among what grows there.
func (t *startText) beds() {
	area, _ := unit.Parse(t.a.Get("beds"), unit.Area)
	if area == 0 {
		return
	}
	t.part("bed", t.words.say("start.toml.bed"))
	t.key("name", quoted("beds"), "")
	t.key("area", quoted(t.a.Get("beds")), "")
	grown := t.grown()
	for i, c := range grown {
		comment := ""
		if i == 0 {
			comment = t.words.say("start.toml.planting")
		}
		t.part("planting", comment)
		t.key("bed", quoted("beds"), "")
		t.key("crop", quoted(c.ID), "")
		t.key("area", quoted(shareOf(t.a.Get("beds"), 1/float64(len(grown)))), "")
		t.key("sow", quoted(c.Sow.String()), t.words.say("start.toml.window", c.Open.String(), c.Close.String()))
	}
}

// grown are the crops that were picked, of those with a window here.
func (t *startText) grown() (list []engine.Opening) {
	picked := strings.Split(t.a.Get("crops"), ",")
	for _, o := range t.sown {
		if slices.Contains(picked, o.ID) {
			list = append(list, o)
		}
	}
	return list
}

func (t *startText) trees() {
	comment := t.words.say("start.toml.tree")
	for _, k := range startTrees {
		if n := t.a.Get("tree." + k); n != "" && n != "0" {
			t.part("tree", comment)
			t.key("name", quoted(t.words.say("start.ask.trees."+k)), "")
			t.key("crop", quoted(k), "")
			t.key("count", n, "")
			comment = ""
		}
	}
}

// freshKept are the foods of the start that keep as they were lifted; the others
// are dry.
var freshKept = []string{"potato", "sweet_potato", "squash_winter", "onion"}

func (t *startText) lots() {
	comment := t.words.say("start.toml.lot")
	for _, k := range startFoods {
		mass := t.a.Get("lot." + k)
		if kg, err := unit.Parse(mass, unit.Mass); err != nil || kg == 0 {
			continue
		}
		t.part("lot", comment)
		t.key("food", quoted(k), "")
		if !slices.Contains(freshKept, k) {
			t.key("form", quoted("dry"), "")
		}
		t.key("mass", quoted(mass), "")
		comment = ""
	}
}

func (t *startText) wastes() {
	if t.a.Get("toilet") == "drums" {
		t.part("toilet", t.words.say("start.toml.toilet"))
		t.key("name", quoted("toilet"), "")
	}
	if t.a.Get("compost") == "yes" {
		t.part("compost", "")
		t.key("name", quoted("compost"), "")
	}
}

func (t *startText) cooking() {
	ways := strings.Split(t.a.Get("cook"), ",")
	comment := t.words.say("start.toml.cooker")
	for _, k := range []string{"sun", "wood", "bottle", "electric"} {
		if slices.Contains(ways, k) {
			t.part("cooker", comment)
			t.key("kind", quoted(k), "")
			comment = ""
		}
	}
	for _, f := range [][2]string{{"wood", "wood"}, {"gas", "bottle"}} {
		if mass := t.a.Get(f[0]); mass != "" && slices.Contains(ways, f[1]) {
			t.part("fuel", "")
			t.key("kind", quoted(f[1]), "")
			t.key("stock", quoted(mass), "")
		}
	}
}
