package stead

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"evenstead/day"
	"evenstead/unit"

	"pgregory.net/rapid"
)

func TestValuesAreReadInSI(t *testing.T) {
	s, err := Read("values", []byte(`
name = "Test # place"
[place]
latitude = "33°54'S"
elevation = "590 ft"
soil_depth = 1
[stay]
from = 2026-11-01
to = "2028-10-31"
[[person]]
name = "A"
sex = "female"
age = 38
mass = "134 lb"
height = "5 ft 5 in"
away = [{ from = "2 Aug", to = 2027-08-07 }]
[[tank]]
holds = 1_000
level = 0
[[tank]]
holds = 0x100
[[shelf]]
kind = "cellar"
holds = "2.5 m3"
temps = 9.5
[[toilet]]
cover_months = [6, 11]
drums = 6
[[forage]]
food = "nettle"
most = "4 kg"
`))
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	near("latitude", s.Place.Latitude, -33.9)
	near("elevation", s.Place.Elevation, 590*0.3048)
	near("depth", s.Place.SoilDepth, 1)
	near("mass", s.People[0].Mass, 134*0.45359237)
	near("height", s.People[0].Height, 65*0.0254)
	near("given empty tank", s.Tanks[0].Level, 0)
	near("tank in hexadecimal, half full", s.Tanks[1].Level, 128)
	near("shelf", s.Shelves[0].Holds, 2500)
	if s.Name != "Test # place" || s.Stay.From != day.Of(2026, 11, 1) || s.Stay.To != day.Of(2028, 10, 31) {
		t.Errorf("name %q, stay %v", s.Name, s.Stay)
	}
	if a := s.People[0].Away[0]; a.From != (day.When{Month: time.August, Dom: 2}) || a.To != (day.When{Year: 2027, Month: time.August, Dom: 7}) {
		t.Errorf("away %v", a)
	}
	if !reflect.DeepEqual(s.Shelves[0].Temps, []float64{9.5}) || !reflect.DeepEqual(s.Toilets[0].CoverMonths, []int{6, 11}) {
		t.Errorf("lists %v, %v", s.Shelves[0].Temps, s.Toilets[0].CoverMonths)
	}
}

// Every default is named in Taken, and none that was given.
func TestTakenListsEveryDefaultAndNothingElse(t *testing.T) {
	s, err := Read("one", []byte(`
place.latitude = 5
people = 1
tank = [{ name = "butt", holds = "200 L", dead = "1 L", level = "20 L", open = 0, overflow = "away", reserve = 0 }]
shelf = [{ name = "s", kind = "dry", holds = 10 }]
`))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, d := range s.Taken {
		seen[d.Part+": "+d.Key]++
		if d.Value == "" || d.Why == "" {
			t.Errorf("%+v lacks a value or a reason", d)
		}
		if strings.HasPrefix(d.Part, `tank "butt"`) {
			t.Errorf("%+v was given", d)
		}
	}
	for key, n := range seen {
		if n > 1 {
			t.Errorf("%s is told %d times", key, n)
		}
	}
	for _, want := range []string{"place: soil", "terms: risk", "person 1: sex", "person 1: name", "person 1: mass", `use "shower": per_person`} {
		if seen[want] == 0 {
			t.Errorf("%s is not told", want)
		}
	}
}

// The tags of the types are themselves well formed.
func TestTagsHold(t *testing.T) {
	known := map[unit.Kind]bool{}
	for _, k := range unit.Kinds() {
		known[k] = true
	}
	var walk func(reflect.Type)
	walk = func(typ reflect.Type) {
		for i := range typ.NumField() {
			f := typ.Field(i)
			elem := f.Type
			if elem.Kind() == reflect.Slice {
				elem = elem.Elem()
			}
			switch key := f.Tag.Get("toml"); {
			case key == "":
				t.Errorf("%s.%s has no key", typ.Name(), f.Name)
			case key == "-" || isDate(elem):
			case elem.Kind() == reflect.Struct:
				walk(elem)
			case elem.Kind() == reflect.Float64 && !known[kindOf(f)]:
				t.Errorf("%s.%s has no kind of amount", typ.Name(), f.Name)
			default:
				checkDefault(t, typ, f)
			}
		}
	}
	walk(reflect.TypeFor[Stead]())
}

func checkDefault(t *testing.T, typ reflect.Type, f reflect.StructField) {
	def, ok := f.Tag.Lookup("def")
	if !ok || def == "-" {
		return
	}
	if err := setText(reflect.New(f.Type).Elem(), def, f); err != nil {
		t.Errorf("%s.%s: default %q: %v", typ.Name(), f.Name, def, err)
	}
}

func TestGroupsAddUpJoinedTanks(t *testing.T) {
	s := &Stead{Tanks: []Tank{
		{Name: "cistern", Group: "barn", Holds: 26000, Dead: 800, Level: 8000, Reserve: 1500, Overflow: "away"},
		{Name: "butt", Holds: 200, Level: 50, Open: 0.3},
		{Name: "tall", Group: "barn", Holds: 4000, Dead: 100, Level: 1200, Reserve: 500, Overflow: "plums"},
	}}
	want := []Group{
		{"barn", 30000, 900, 9200, 2000, 0, "plums", []int{0, 2}, 0},
		{"butt", 200, 0, 50, 0, 0.3, "away", []int{1}, 0},
	}
	if got := s.Groups(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
	if got := new(Stead).Groups(); got != nil {
		t.Errorf("no tanks make %v", got)
	}
}

// drawn makes a stead with values anywhere in the ranges of the tags. Names
// are numbered, and references between parts are left out.
func drawn(t *rapid.T) *Stead {
	s := new(Stead)
	fill(t, reflect.ValueOf(s).Elem(), "")
	s.Name = rapid.StringN(1, 20, -1).Filter(func(s string) bool { return s == strings.ToValidUTF8(s, "") }).Draw(t, "name")
	s.Place.Soil, s.Place.FireBan = "clay", []string{"15 Jun", "30 Sep"}
	s.Place.Plot = 1e7 // the beds drawn fit it
	for i := range s.Place.Normals {
		n := &s.Place.Normals[i]
		for m := range 12 {
			n.Rain[m], n.WetDays[m] = math.Abs(n.Rain[m]), 1+math.Mod(math.Abs(n.WetDays[m]), 27)
			n.TMin[m], n.TMax[m] = min(n.TMin[m], n.TMax[m]), max(n.TMin[m], n.TMax[m])
		}
	}
	s.mendDrawn()
	return s
}

// mendDrawn settles what the tags alone cannot: ids, and limits between keys.
func (s *Stead) mendDrawn() {
	if s.Stay.To < s.Stay.From {
		s.Stay.From, s.Stay.To = s.Stay.To, s.Stay.From
	}
	for i := range s.Terms.Bought {
		s.Terms.Bought[i].Food = "salt"
	}
	for i := range s.Tanks {
		h := &s.Tanks[i]
		h.Dead, h.Level, h.Reserve = min(h.Dead, h.Holds), min(h.Level, h.Holds), min(h.Reserve, h.Holds)
		h.Overflow = "away"
	}
	for i := range s.Roofs {
		s.Roofs[i].Surface = "tile"
	}
	for i := range s.Uses {
		u := &s.Uses[i]
		u.PerPerson += 0.5
		u.Least = min(u.Least, u.PerPerson)
	}
	for i := range s.Treatment {
		s.Treatment[i].Left = min(s.Treatment[i].Left, s.Treatment[i].Litres)
	}
	for i := range s.Trees {
		s.Trees[i].Crop = "fig"
	}
	for i := range s.Plantings {
		p := &s.Plantings[i]
		p.Bed, p.Crop, p.Area = s.Beds[i%len(s.Beds)].Name, "radish", 0.01
		p.Sow = day.When{Month: time.Month(1 + i%12), Dom: 5}
	}
	for i := range s.Forage {
		s.Forage[i].Food, s.Forage[i].From, s.Forage[i].To = "nettle", day.When{}, day.When{}
	}
	for i := range s.Hives {
		s.Hives[i].Kind = "honey_bee_warm"
	}
	for i := range s.Flocks {
		s.Flocks[i].Kind = "duck_layer"
	}
	for i := range s.Foods {
		s.Foods[i].Like, s.Foods[i].Per100g = "oats", []string{"energy 300 kcal", "iron 2 mg"}
	}
	s.Rations = s.Rations[:min(1, len(s.Rations))]
	for i := range s.Rations {
		s.Rations[i].Food = "almond"
	}
	s.Pieces = s.Pieces[:min(1, len(s.Pieces))]
	for i := range s.Pieces {
		s.Pieces[i].Food = "almond"
	}
	for i := range s.Lots {
		s.Lots[i].Food, s.Lots[i].Born = "kale", min(s.Lots[i].Born, s.Stay.From)
		if s.Lots[i].Form == "frozen" {
			s.Lots[i].Form = "dried"
		}
	}
	s.Digesters, s.Toilets, s.Lights = s.Digesters[:min(1, len(s.Digesters))], s.Toilets[:min(1, len(s.Toilets))], s.Lights[:min(1, len(s.Lights))]
	for i := range s.Digesters {
		s.Digesters[i].Fetched = min(s.Digesters[i].Fetched, s.Digesters[i].Feed)
	}
	for i := range s.Toilets {
		s.Toilets[i].CoverMonths = []int{6, 11}
		s.Toilets[i].Drums = 3
	}
	for i := range s.Exchange {
		s.Exchange[i].With = "a neighbour"
	}
	for i := range s.Drums {
		s.Drums[i].Closed = min(s.Drums[i].Closed, s.Stay.From)
	}
	for i := range s.Rules {
		r := &s.Rules[i]
		r.Text, r.Source, r.Value = "as it is worded", "a lease", min(r.Value+0.5, 5)
		if r.bans() {
			r.Value = 0
		}
	}
	s.obey()
}

func fill(t *rapid.T, v reflect.Value, path string) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		key := f.Tag.Get("toml")
		at := path + "." + key
		switch x := v.Field(i); {
		case key == "-":
		case isDate(f.Type):
			x.Set(reflect.ValueOf(date(t, f.Type, at)))
		case f.Type.Kind() == reflect.Struct:
			fill(t, x, at)
		case isParts(f.Type):
			n := rapid.IntRange(1, 2).Draw(t, at)
			if key == "normals" {
				n = 1
			}
			x.Set(reflect.MakeSlice(f.Type, n, n))
			for j := range n {
				fill(t, x.Index(j), at)
				if name := x.Index(j).FieldByName("Name"); name.IsValid() {
					name.SetString(key + " \"" + strconv.Itoa(j))
				}
			}
		case f.Type == reflect.TypeFor[[]float64]():
			x.Set(reflect.ValueOf(rapid.SliceOfN(rapid.Float64Range(-40, 40), 12, 12).Draw(t, at)))
		case f.Type.Kind() == reflect.Float64:
			x.SetFloat(rapid.Float64Range(bound(f, "min", -50), min(bound(f, "max", 5000), 5000)).Draw(t, at))
		case f.Type.Kind() == reflect.Int:
			x.SetInt(int64(rapid.IntRange(1, 9).Draw(t, at)))
		case f.Type.Kind() == reflect.Bool:
			x.SetBool(rapid.Bool().Draw(t, at))
		case f.Tag.Get("oneof") != "":
			x.SetString(rapid.SampledFrom(strings.Fields(f.Tag.Get("oneof"))).Draw(t, at))
		}
	}
}

func bound(f reflect.StructField, tag string, other float64) float64 {
	if v, err := strconv.ParseFloat(f.Tag.Get(tag), 64); err == nil {
		return v
	}
	return other
}

func date(t *rapid.T, typ reflect.Type, at string) any {
	d := day.Day(rapid.Int32Range(10000, 30000).Draw(t, at))
	if typ == dayType {
		return d
	}
	year, month, dom := d.Date()
	if rapid.Bool().Draw(t, at+" each year") {
		year = 0
	}
	return day.When{Year: year, Month: month, Dom: dom}
}

func TestWhatIsWrittenReadsBackEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawn(t)
		var b bytes.Buffer
		if err := want.Write(&b); err != nil {
			t.Fatal(err)
		}
		got, err := Read("print", b.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		got.Taken = nil
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("differs\ngot  %+v\nwant %+v\n%s", got, want, b.String())
		}
	})
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteTellsOfTheWritersError(t *testing.T) {
	err := (&Stead{}).Write(full{})
	if err == nil || err.Error() != "write stead: disk full" {
		t.Errorf("got %v", err)
	}
}

func BenchmarkRead(b *testing.B) {
	text := []byte(sound + strings.Repeat("[[bed]]\narea = \"12 m2\"\n", 50))
	for b.Loop() {
		if _, err := Read("bench", text); err != nil {
			b.Fatal(err)
		}
	}
}
