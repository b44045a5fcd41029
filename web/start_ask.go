package web

import (
	"fmt"
	"math"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenstead/unit"
	"evenstead/weather"
)

// A question is one page of the guided start.
type question struct {
	key    string
	fields []startField
}

// A startField is one thing a question asks. Answers are kept as they were typed,
// amounts with a unit.
type startField struct {
	name  string
	form  string // text, amount, count, choice, many, months
	usual string // taken by those who are not sure
	us    string // the same for those who read US units; "": no other
	kind  unit.Kind
	keys  []string // of choices
	least float64  // of an amount in SI that is not nothing
	most  float64  // of a count, or of an amount in SI
}

// startTrees and startFoods are what the start asks after by name; anything else
// is written into the text later.
var (
	startTrees = []string{"apple", "pear", "plum", "peach", "sour_cherry", "fig", "grape", "walnut", "hazelnut", "almond", "persimmon", "orange"}
	startFoods = []string{"wheat_hard_red_winter", "rice_white", "oats", "bean_pinto", "lentil", "potato", "sweet_potato", "squash_winter", "onion", "sunflower_oil", "honey", "salt"}
	startRoofs = []string{"metal", "tile", "slate", "shingle", "wood", "plastic", "flat_gravel", "thatch"}
)

// startQuestions are at most twelve. Weather comes early, since it lets the later
// ones tell something.
var startQuestions = []question{
	{"name", []startField{{name: "name", form: "text"}, {name: "units", form: "choice", usual: "metric", keys: []string{"metric", "us"}}}},
	{"place", []startField{{name: "lat", form: "text", kind: unit.Angle}, {name: "ns", form: "choice", usual: "N", keys: []string{"N", "S"}},
		{name: "elev", form: "amount", usual: "0 m", us: "0 ft", kind: unit.Length, most: 5500}}},
	{"weather", []startField{{name: "weather", form: "choice", usual: "none", keys: []string{"kept", "normals", "none"}},
		{name: "rain", form: "months"}, {name: "wet", form: "months"}, {name: "low", form: "months"}, {name: "high", form: "months"}}},
	{"people", []startField{{name: "people", form: "count", usual: "2", most: 50}, {name: "who", form: "text"}}},
	{"roof", []startField{{name: "roof", form: "amount", usual: "40 m2", us: "430 ft2", kind: unit.Area, least: 0.1, most: 10000},
		{name: "surface", form: "choice", usual: "metal", keys: startRoofs}}},
	{"tanks", []startField{{name: "tanks", form: "count", usual: "1", most: 20}, {name: "size", form: "amount", usual: "1000 L", us: "275 gal", kind: unit.Volume, least: 1, most: 1e6},
		{name: "joined", form: "choice", usual: "yes", keys: []string{"yes", "no"}},
		{name: "full", form: "choice", usual: "50", keys: []string{"0", "25", "50", "75", "100"}}}},
	{"beds", []startField{{name: "beds", form: "amount", usual: "50 m2", us: "540 ft2", kind: unit.Area, least: 0.1, most: 1e5}, {name: "crops", form: "many"}}},
	{"trees", namedFields("tree.", "count", startTrees, startField{most: 1000})},
	{"store", namedFields("lot.", "amount", startFoods, startField{kind: unit.Mass, most: 1e5})},
	{"toilet", []startField{{name: "toilet", form: "choice", usual: "other", keys: []string{"drums", "other"}},
		{name: "compost", form: "choice", usual: "yes", keys: []string{"yes", "no"}}}},
	{"cook", []startField{{name: "cook", form: "many", usual: "bottle", keys: []string{"sun", "wood", "bottle", "electric"}},
		{name: "wood", form: "amount", kind: unit.Mass, most: 1e5}, {name: "gas", form: "amount", kind: unit.Mass, most: 1e4}}},
	{"hours", []startField{{name: "hours", form: "count", usual: "30", most: 112}}},
}

func namedFields(prefix, form string, keys []string, like startField) (list []startField) {
	for _, k := range keys {
		f := like
		f.name, f.form = prefix+k, form
		list = append(list, f)
	}
	return list
}

// usualFor is what is taken by those who are not sure.
func (f *startField) usualFor(a url.Values) string {
	if f.us != "" && a.Get("units") == "us" {
		return f.us
	}
	return f.usual
}

// startState are the names of all that the start carries from page to page.
func startState() map[string]bool {
	all := map[string]bool{"kept": true}
	for _, q := range startQuestions {
		for _, f := range q.fields {
			all[f.name] = true
		}
	}
	return all
}

// mostAnswer is the most bytes of one answer.
const mostAnswer = 600

// answersOf takes the answers out of a form: known names, one line each.
func answersOf(form url.Values) url.Values {
	a := url.Values{}
	known := startState()
	for name, list := range form {
		if value := typedLine(strings.Join(list, ",")); known[name] && len(value) <= mostAnswer && value != "" {
			a.Set(name, value)
		}
	}
	return a
}

// unsure puts the usual answers in the place of those of a question.
func unsure(q *question, a url.Values) {
	for i := range q.fields {
		a.Del(q.fields[i].name)
		if usual := q.fields[i].usualFor(a); usual != "" {
			a.Set(q.fields[i].name, usual)
		}
	}
}

// faultsIn checks the answers to a question, and writes amounts with their units.
// Faults are by the field's name.
func (s *site) faultsIn(q *question, a url.Values) map[string]string {
	faults := map[string]string{}
	for i := range q.fields {
		f := &q.fields[i]
		value, said := a.Get(f.name), ""
		switch f.form {
		case "text":
			value, said = s.textAnswer(f, value)
		case "months":
			var err error
			if value, err = s.words.plainList(value); err != nil {
				said = upperFirst(err.Error()) + "."
			}
		case "amount":
			value, said = s.amountAnswer(f, value, a)
		case "count":
			value, said = s.countAnswer(f, value)
		case "choice":
			if !slices.Contains(f.keys, value) {
				said = s.words.say("start.choose")
			}
		}
		if said != "" {
			faults[f.name] = said
		} else if value != "" {
			a.Set(f.name, value)
		}
	}
	s.faultsTogether(q.key, a, faults)
	return faults
}

// bareUnits are meant by an amount without a unit.
var bareUnits = map[unit.Kind][2]string{unit.Length: {"m", "ft"}, unit.Area: {"m2", "ft2"}, unit.Volume: {"L", "gal"}, unit.Mass: {"kg", "lb"}}

func bareUnit(k unit.Kind, a url.Values) string {
	if a.Get("units") == "us" {
		return bareUnits[k][1]
	}
	return bareUnits[k][0]
}

// amountAnswer is an amount with its unit; none is nothing.
func (s *site) amountAnswer(f *startField, value string, a url.Values) (with, said string) {
	if value == "" {
		return "", ""
	}
	value, err := s.words.plain(value, f.kind)
	if err != nil {
		return "", upperFirst(err.Error()) + "."
	}
	value = withUnit(value, bareUnit(f.kind, a))
	v, err := unit.Parse(value, f.kind)
	switch {
	case err != nil:
		return "", upperFirst(err.Error())
	case v < 0 || v > f.most || v > 0 && v < f.least:
		return "", s.words.say("start.range", s.words.marked(unit.Format(f.least, f.kind, unit.Metric)), s.words.marked(unit.Format(f.most, f.kind, unit.Metric)))
	}
	return value, ""
}

// textAnswer is a text as it stands, but for the numbers in it.
func (s *site) textAnswer(f *startField, value string) (with, said string) {
	if f.kind == "" && f.name != "who" {
		return value, ""
	}
	plain, err := s.words.plain(value, f.kind)
	if err == nil && f.name == "who" {
		err = s.words.twoAges(value)
	}
	if err != nil {
		return "", upperFirst(err.Error()) + "."
	}
	return plain, ""
}

// agesTouch are two ages, or one with a decimal mark.
var agesTouch = regexp.MustCompile(`[1-9][0-9]*,[0-9]+`)

// twoAges refuses "38,41" where the comma is the decimal mark: it may be two people.
func (w words) twoAges(who string) error {
	if at := agesTouch.FindString(who); at != "" && w.marks().Point == ',' {
		return w.twofold(&unit.Twofold{Text: at, Whole: strings.Replace(at, ",", ", ", 1), Decimal: strings.Replace(at, ",", ".", 1)})
	}
	return nil
}

func (s *site) countAnswer(f *startField, value string) (with, said string) {
	if value == "" {
		return "", ""
	}
	n, err := s.words.parse(value, unit.Number, "")
	if err != nil || n != math.Trunc(n) || n < 0 || n > f.most {
		return "", s.words.say("start.count", count(int(f.most)))
	}
	return strconv.Itoa(int(n)), ""
}

// faultsTogether checks what one field alone can't tell.
func (s *site) faultsTogether(key string, a url.Values, faults map[string]string) {
	switch key {
	case "place":
		if v, err := unit.Parse(a.Get("lat"), unit.Angle); a.Get("lat") == "" || err != nil || math.Abs(v) > 90 {
			faults["lat"] = s.words.say("start.lat.wrong")
		} else if v < 0 {
			a.Set("lat", strconv.FormatFloat(-v, 'f', -1, 64))
			a.Set("ns", "S")
		}
	case "weather":
		if typed := a.Get("rain") + a.Get("low") + a.Get("high"); a.Get("weather") == "none" && typed != "" {
			a.Set("weather", "normals") // what was typed counts, whatever was ticked
		}
		if a.Get("weather") == "normals" {
			s.faultsInNormals(a, faults)
		}
	case "people":
		listed, err := peopleOf(a.Get("who"))
		n, _ := strconv.Atoi(a.Get("people"))
		switch {
		case err != nil:
			faults["who"] = s.words.say("start.who.wrong", err.Error())
		case n == 0 && faults["people"] == "":
			faults["people"] = s.words.say("start.people.none")
		case len(listed) > n:
			faults["who"] = s.words.say("start.who.many", count(len(listed)), count(n))
		}
	case "tanks":
		size, _ := unit.Parse(a.Get("size"), unit.Volume)
		if a.Get("tanks") != "" && a.Get("tanks") != "0" && size == 0 && faults["size"] == "" {
			faults["size"] = s.words.say("start.size.none")
		}
	}
}

// faultsInNormals checks the four rows of monthly means.
func (s *site) faultsInNormals(a url.Values, faults map[string]string) {
	for _, name := range []string{"rain", "wet", "low", "high"} {
		if _, err := monthly(a.Get(name)); err != nil {
			faults[name] = s.words.say("start.months.wrong", err.Error())
		}
	}
	if len(faults) > 0 {
		return
	}
	site := weather.Site{Lat: 45}
	if _, err := weather.FromNormals(normalsOf(a), site, 0, 7, 1, 1); err != nil {
		faults["rain"] = upperFirst(err.Error())
	}
}

// monthly reads twelve numbers, parted by blanks, commas or semicolons.
func monthly(text string) (v [12]float64, err error) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;\t", r) })
	if len(parts) != 12 {
		return v, fmt.Errorf("%d numbers", len(parts))
	}
	for i, p := range parts {
		if v[i], err = strconv.ParseFloat(strings.Replace(p, "−", "-", 1), 64); err != nil || math.Abs(v[i]) > 1e5 || math.IsNaN(v[i]) {
			return v, fmt.Errorf("%q in the place of %s", shorten(p, 12), time.Month(i+1))
		}
	}
	return v, nil
}

// normalsOf are the typed monthly means in mm and °C. Spreads are the usual ones
// of a description.
func normalsOf(a url.Values) weather.Normals {
	n := weather.Normals{TMinSD: 3, TMaxSD: 3.5, Persistence: 0.25, RainCV: 0.2}
	n.Rain, _ = monthly(a.Get("rain"))
	n.WetDays, _ = monthly(a.Get("wet"))
	n.TMin, _ = monthly(a.Get("low"))
	n.TMax, _ = monthly(a.Get("high"))
	if a.Get("units") != "us" {
		return n
	}
	for i := range 12 {
		n.Rain[i] = round(n.Rain[i]*25.4, 1) // inches
		n.TMin[i], n.TMax[i] = round((n.TMin[i]-32)*5/9, 1), round((n.TMax[i]-32)*5/9, 1)
	}
	return n
}

// A startPerson is one who was named or whose age was given.
type startPerson struct {
	name, sex string // "": not told
	age       float64
	told      bool // the age was given
}

// peopleOf reads "Ada f 38, Bo m 41, f 9": in any order within the commas.
func peopleOf(text string) (list []startPerson, err error) {
	for part := range strings.SplitSeq(text, ",") {
		var p startPerson
		var name []string
		for word := range strings.FieldsSeq(part) {
			age, wrong := strconv.ParseFloat(word, 64)
			switch lower := strings.ToLower(word); {
			case wrong == nil && (age < 0 || age > 120 || p.told):
				return nil, fmt.Errorf("%q is not one age", shorten(part, 40))
			case wrong == nil:
				p.age, p.told = age, true
			case lower == "f" || lower == "female" || lower == "woman" || lower == "girl":
				p.sex = "female"
			case lower == "m" || lower == "male" || lower == "man" || lower == "boy":
				p.sex = "male"
			default:
				name = append(name, word)
			}
		}
		p.name = strings.Join(name, " ")
		if p.name != "" && slices.ContainsFunc(list, func(o startPerson) bool { return o.name == p.name }) {
			return nil, fmt.Errorf("%q is there twice", shorten(p.name, 40))
		}
		if p.name != "" || p.sex != "" || p.told {
			list = append(list, p)
		}
	}
	return list, nil
}
